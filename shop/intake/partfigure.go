package intake

import (
	"errors"
	"regexp"
	"strconv"
	"strings"

	"trunnion/shop/quantity"
)

var (
	withComma     = regexp.MustCompile(`\d,\d`)
	withPoint     = regexp.MustCompile(`\d\.\d`)
	thousandsOnly = regexp.MustCompile(`^\D*\d{1,3}(,\d{3})+\D*$`)
	plainOnly     = regexp.MustCompile(`^[+\-−]?[\d.,]+$`)
)

// origins are the words that may stand before a figure that was read: a catalogue that was
// written out says of each where it is from.
var origins = map[string]bool{"measured": true, "maker": true, "est": true}

// decimal finds the decimal sign of the figures: a comma where figures have one and none
// has a point, and asks where every comma may part thousands.
func (r *partReader) decimal(table []row) {
	switch r.m.Decimal {
	case "comma", "point":
		r.comma = r.m.Decimal == "comma"
		return
	}
	commas, points, sure, seen := 0, 0, false, ""
	line := 0
	for _, one := range table {
		for i, c := range r.columns {
			if k, ok := r.keys[c.role]; !ok || !k.Figure || i >= len(one.cells) {
				continue
			}
			cell := one.cells[i]
			switch comma, point := withComma.MatchString(cell), withPoint.MatchString(cell); {
			case comma && point:
				r.comma = strings.LastIndexByte(cell, ',') > strings.LastIndexByte(cell, '.')
				r.assumed("decimal", "", map[bool]string{true: "comma", false: "point"}[r.comma], one.line)
				return
			case comma:
				commas++
				if !thousandsOnly.MatchString(strings.TrimSpace(cell)) {
					sure = true
				}
				if seen == "" {
					seen, line = cell, one.line
				}
			case point:
				points++
			}
		}
	}
	switch {
	case commas == 0:
	case points > 0 && !sure: // 1,250 beside 12.5
	case sure && points == 0:
		r.comma = true
		r.assumed("decimal", "", "comma", line)
	case sure:
		r.fault(line, "writes “"+cutShort(seen)+"” with a comma, other figures with a point", "say which is the decimal sign")
		r.ask("decimal", "", seen, line, "point", "comma")
	default:
		r.ask("decimal", "", seen, line, "point", "comma")
	}
}

// partUnits are those that a question offers.
var partUnits = map[quantity.Kind][]string{
	quantity.Stiffness: {"N/mm", "lbf/in", "kgf/mm", "N/m"}, quantity.Length: {"mm", "in", "cm", "m"}, quantity.Mass: {"kg", "lb", "g"},
	quantity.Force: {"N", "kgf", "lbf"}, quantity.Pressure: {"bar", "psi", "kPa"}, quantity.Volume: {"cm3", "ml", "l"},
}

// units finds the unit of every column of figures, and asks where neither heading nor
// cells name one.
func (r *partReader) units(table []row) {
	for i := range r.columns {
		c := &r.columns[i]
		k, ok := r.keys[c.role]
		if !ok || !k.Figure || k.Kind == quantity.Ratio || k.Kind == quantity.Count {
			continue
		}
		price := k.Kind == quantity.Price
		if unit := r.m.Units[c.role]; unit != "" && !price {
			if !r.fits(c.role, unit) {
				r.fault(0, "cannot have “"+cutShort(c.heading)+"” in “"+cutShort(unit)+"”", "write "+r.example(c.role))
			}
			c.unit = unit
		}
		if price {
			if code := currencyOf(strings.ToUpper(r.m.Currency)); code != "" {
				c.unit = code
			}
			c.unit = currencyOf(c.unit)
		}
		if c.unit != "" {
			if r.m.Units[c.role] == "" {
				r.assumed("unit", c.role, c.unit, 0)
			}
			continue
		}
		for _, one := range table {
			if i < len(one.cells) && plainOnly.MatchString(strings.TrimSpace(one.cells[i])) {
				code, choices := "unit", partUnits[k.Kind]
				if price {
					code, choices = "currency", nil
				} else if choices == nil {
					choices = []string{quantity.Units(k.Kind, quantity.Metric)}
				}
				r.ask(code, c.role, one.cells[i], one.line, choices...)
				break
			}
		}
	}
}

// figure is what a cell says of a key, as a job has it.
func (r *partReader) figure(c partColumn, cell string) (string, error) {
	k := r.keys[c.role]
	if k.Words != nil {
		return cell, nil
	}
	if !k.Figure {
		return strconv.Quote(strings.ReplaceAll(cell, `"`, "'")), nil
	}
	from := ""
	if k.Read {
		from = "maker "
		if word, rest, found := strings.Cut(cell, " "); found && origins[word] {
			from, cell = word+" ", rest
		}
	}
	cell = r.pointed(cell)
	if k.Kind == quantity.Price {
		return r.price(c, cell)
	}
	text := cell
	if plainOnly.MatchString(cell) && c.unit != "" {
		text = cell + " " + c.unit
	} else if low, high, found := strings.Cut(cell, "-"); found && plainOnly.MatchString(strings.TrimSpace(low)) && plainOnly.MatchString(strings.TrimSpace(high)) && c.unit != "" {
		text = strings.TrimSpace(low) + "-" + strings.TrimSpace(high) + " " + c.unit
		if _, _, err := quantity.ParseRange(text, k.Kind); err != nil {
			return "", err
		}
		return from + text, nil
	}
	if _, err := quantity.Parse(text, k.Kind); err != nil {
		return "", err
	}
	return from + text, nil
}

// pointed writes figures with a decimal point and without separators of thousands.
func (r *partReader) pointed(cell string) string {
	cell = strings.ReplaceAll(cell, "−", "-")
	if r.comma {
		return strings.ReplaceAll(strings.ReplaceAll(cell, ".", ""), ",", ".")
	}
	return strings.ReplaceAll(cell, ",", "")
}

var amount = regexp.MustCompile(`[\d.]+`)

// price is an amount with its currency, from the cell or the column.
func (r *partReader) price(c partColumn, cell string) (string, error) {
	number := amount.FindString(cell)
	v, err := strconv.ParseFloat(strings.TrimSuffix(number, "."), 64)
	if err != nil {
		return "", errors.New("a price is wanted")
	}
	code := c.unit
	if rest := strings.Trim(strings.Replace(cell, number, " ", 1), " -.–"); rest != "" {
		if code = currencyOf(rest); code == "" {
			return "", errors.New("several currencies have that sign")
		}
	}
	text := strconv.FormatFloat(v, 'f', -1, 64) + " " + code
	_, err = quantity.Parse(text, quantity.Price)
	return text, err
}
