package quantity

import (
	"math"
	"strconv"
	"strings"
)

// System is the set of units a reader wants.
type System uint8

// The systems of units.
const (
	Metric   System = iota
	Imperial        // inches, pounds, lbf/in, psi, mph
	Mixed           // metric, but springs in lbf/in and pressures in psi
)

// Auto asks for the usual number of decimals of a kind and unit.
const Auto = -1

// Nothing is shown for a value that is not a finite number.
const Nothing = "–"

// Shown is the unit a kind is shown in. A kind that does not exist is shown as
// a bare number.
func Shown(kind Kind, system System) Unit {
	if !kind.valid() || int(system) >= len(shown[0]) {
		return Unit{mul: 1, div: 1}
	}
	return *shown[kind][system]
}

// Units is the label of the unit a kind is shown in: "N/mm". It is empty for
// ratios, counts and prices.
func Units(kind Kind, system System) string { return Shown(kind, system).label }

var shown = buildShown()

func buildShown() (out [kinds][3]*Unit) {
	for i := range units {
		u := &units[i]
		for s, label := range abouts[u.kind].shown {
			if u.label == label {
				out[u.kind][s] = u
			}
		}
	}
	return out
}

// Format shows a value [SI] with its unit in a system: "45.0 N/mm". Digits is
// the number of decimals, or Auto.
//
// The last digit is the nearest; a value exactly halfway between two goes to
// the even one, as strconv.FormatFloat does. Zero has no sign.
func Format(value float64, kind Kind, system System, digits int) string {
	return Shown(kind, system).Format(value, digits)
}

// FormatPrice shows an amount [currency] with the code of its currency: "1250.00 EUR".
func FormatPrice(amount float64, code string, digits int) string {
	out := Shown(Price, Metric).Number(amount, digits)
	if code == "" || out == Nothing {
		return out
	}
	return out + " " + code
}

// Format shows a value [SI] in the unit, with its label.
func (u Unit) Format(value float64, digits int) string {
	out := u.Number(value, digits)
	if out == Nothing || u.label == "" {
		return out
	}
	return out + " " + u.label
}

// Number shows a value [SI] in the unit, without its label.
func (u Unit) Number(value float64, digits int) string {
	x := u.FromSI(value)
	if !finite(x) {
		return Nothing
	}
	if digits < 0 {
		digits = u.digits
	}
	out := strconv.FormatFloat(x, 'f', min(digits, 17), 64)
	if out[0] == '-' && !strings.ContainsAny(out, "123456789") {
		return out[1:]
	}
	return out
}

// Short is a number with at most so many decimals, and no zeros at its end.
func (u Unit) Short(value float64, most int) string {
	out := u.Number(value, most)
	if strings.Contains(out, ".") {
		out = strings.TrimRight(strings.TrimRight(out, "0"), ".")
	}
	return out
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }
