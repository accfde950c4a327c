package intake

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strings"

	"trunnion/chassis/road"
	"trunnion/shop/quantity"
)

// mostReadings is how many lines are read at most: 200 km at a reading each
// 0.1 m is a survey, more is a slip.
const mostReadings = 2_000_000

// Profile reads a measured road: a first line that names the columns, distance
// and left or right or both, each with its length unit behind an underscore,
// as in distance_m, left_mm, right_mm; then a line a reading.
func Profile(r io.Reader) (road.Readings, error) {
	var out road.Readings
	c := csv.NewReader(r)
	c.ReuseRecord, c.TrimLeadingSpace = true, true
	head, err := c.Read()
	if err != nil {
		return out, fmt.Errorf("there is no first line that names the columns: %w", err)
	}
	columns := make([]column, len(head))
	seen := make(map[string]bool)
	for i, name := range head {
		if columns[i], err = columnOf(name, &out); err != nil {
			return out, err
		}
		word := strings.SplitN(strings.ToLower(strings.TrimSpace(name)), "_", 2)[0]
		if seen[word] {
			return out, fmt.Errorf("the column %q stands there twice", word)
		}
		seen[word] = true
	}
	if !seen["distance"] || !seen["left"] && !seen["right"] {
		return out, errors.New("enter distance and left or right, such as distance_m,left_mm,right_mm")
	}
	for n := 0; ; n++ {
		row, err := c.Read()
		if errors.Is(err, io.EOF) {
			return out, nil
		}
		if err != nil {
			return out, err
		}
		if n == mostReadings {
			return out, fmt.Errorf("more than %d readings", mostReadings)
		}
		for i, text := range row {
			if columns[i].into == nil {
				continue
			}
			v, err := quantity.Parse(text+" "+columns[i].unit, quantity.Length)
			if err != nil {
				line, _ := c.FieldPos(i)
				return out, fmt.Errorf("line %d, %s: %w", line, columns[i].name, err)
			}
			*columns[i].into = append(*columns[i].into, v.Value)
		}
	}
}

// column is where a column's readings go; nowhere when nobody asked for it.
type column struct {
	name, unit string
	into       *[]float64
}

func columnOf(name string, out *road.Readings) (column, error) {
	name = strings.TrimPrefix(strings.TrimSpace(name), "\ufeff")
	word, unit, _ := strings.Cut(name, "_")
	c := column{name: name, unit: unit}
	switch strings.ToLower(word) {
	case "distance":
		c.into = &out.Distance
	case "left":
		c.into = &out.Left
	case "right":
		c.into = &out.Right
	default:
		return c, nil
	}
	if _, err := quantity.Find(unit, quantity.Length); err != nil {
		return c, fmt.Errorf("the column %q needs a unit of length behind an underscore, such as %s_m: %w", name, word, err)
	}
	return c, nil
}
