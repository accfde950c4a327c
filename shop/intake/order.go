package intake

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"trunnion/chassis/dyno"
	"trunnion/chassis/valving"
	"trunnion/shop/quantity"
)

// orderColumns are those an order needs, as it was written.
var orderColumns = []string{"damper", "click", "stroke", "speed mm/s", "force N", "least N", "most N"}

// Order reads an order's CSV back.
func Order(r io.Reader) ([]valving.Line, error) {
	speed, err := quantity.Find("mm/s", quantity.SpeedDamper)
	if err != nil {
		return nil, err
	}
	c := csv.NewReader(r)
	head, err := c.Read()
	if err != nil {
		return nil, fmt.Errorf("it has no heading: %w", err)
	}
	at := map[string]int{}
	for _, name := range orderColumns {
		i := slices.Index(head, name)
		if i < 0 {
			return nil, fmt.Errorf("line 1: the column %q is missing; an order has %s", name, strings.Join(orderColumns, ", "))
		}
		at[name] = i
	}
	var out []valving.Line
	for {
		row, err := c.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return nil, err
		}
		line, _ := c.FieldPos(0)
		l := valving.Line{Damper: row[at["damper"]], Stroke: dyno.Stroke(row[at["stroke"]])}
		if l.Stroke != dyno.Bump && l.Stroke != dyno.Rebound {
			return nil, fmt.Errorf("line %d: the stroke is %q; it is bump or rebound", line, l.Stroke)
		}
		if l.Click, err = strconv.Atoi(row[at["click"]]); err != nil || l.Click < 0 {
			return nil, fmt.Errorf("line %d: the click is %q; enter a number from closed", line, row[at["click"]])
		}
		for _, one := range []struct {
			name string
			into *float64
		}{{"speed mm/s", &l.Speed}, {"force N", &l.Force}, {"least N", &l.Least}, {"most N", &l.Most}} {
			v, err := strconv.ParseFloat(row[at[one.name]], 64)
			if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
				return nil, fmt.Errorf("line %d: %s is %q; enter a number", line, one.name, row[at[one.name]])
			}
			*one.into = v
		}
		if l.Speed = speed.ToSI(l.Speed); !(l.Speed > 0) || l.Least > l.Most {
			return nil, fmt.Errorf("line %d: a speed is above 0, and the least force not above the most", line)
		}
		out = append(out, l)
	}
	if len(out) == 0 {
		return nil, errors.New("it has no lines below its heading")
	}
	return out, nil
}
