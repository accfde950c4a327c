package quantity

import (
	"math"
	"strings"
)

// Shape is what a typed band stands for.
type Shape uint8

// The shapes of a band.
const (
	None     Shape = iota // no band was typed
	Normal95              // "±": half of a 95 % interval of a normal distribution
	Limit                 // "tol ±": a maker's tolerance, anything between its ends
)

func badBand(text, got string) *Error {
	return &Error{Fault: BadBand, Text: text, Got: got, Want: "enter a band like ± 1 mm, ± 3 % or tol ± 3 %"}
}

// cutBand splits a cleaned text at its ±. Shape is None when there is no band.
func cutBand(s, text string) (head, tail string, shape Shape, fault *Error) {
	head, tail, found := strings.Cut(s, "±")
	if !found {
		return s, "", None, nil
	}
	head, tail = strings.TrimSuffix(head, " "), strings.TrimPrefix(tail, " ")
	shape = Normal95
	for _, word := range []string{"tolerance", "tol.", "tol"} {
		if at := len(head) - len(word); at > 0 && strings.EqualFold(head[at:], word) {
			head, shape = strings.TrimSuffix(head[:at], " "), Limit
			break
		}
	}
	switch {
	case strings.Contains(tail, "±"):
		return "", "", None, badBand(text, show(text)+" has more than one band")
	case tail == "":
		return "", "", None, badBand(text, "nothing stands behind ±")
	case head == "":
		return "", "", None, badBand(text, "nothing stands before ±")
	case tail[0] == '-' || tail[0] == '+':
		return "", "", None, badBand(text, show("± "+tail)+" has a sign of its own")
	}
	return head, tail, shape, nil
}

// band puts the half-width h, typed in a unit, on a value that was read from n.
func band(t *Typed, n, h number, unit string, shape Shape) *Error {
	t.Shape = shape
	switch {
	case h.value < 0: // behind the code of a currency, where cutBand does not look
		return badBand(t.Text, show(h.text)+" is negative")
	case unit == "%" && t.Unit != "%":
		return t.relative(h)
	case unit == "" && t.Unit != "":
		return badBand(t.Text, show("± "+h.text)+" has no unit: ± "+h.text+" "+t.Unit+" or ± "+h.text+" %")
	case t.Kind == Price:
		if unit != t.Unit {
			return badBand(t.Text, show(unit)+" is another currency than "+t.Unit)
		}
		t.Half = h.value
		return nil
	}
	u, ok := find(unit, t.Kind)
	switch {
	case !ok:
		return wrongUnit(t.Text, unit, t.Kind, h.value)
	case h.parts && !u.parts:
		return badBand(t.Text, show(h.text)+" is a fraction: those are read in inches and feet only")
	}
	if own, _ := find(clean(t.Unit), t.Kind); own != nil && own.inverse || u.inverse {
		if own != u {
			return badBand(t.Text, "a band of turns per length fits only a value in the same unit")
		}
		// dp = p·dn/n for p = 1/n
		t.Half = t.Value * h.value / n.value
		return nil
	}
	t.Half = u.differenceToSI(h.value)
	return nil
}

// relative sets a band in % of the value.
func (t *Typed) relative(h number) *Error {
	switch {
	case h.parts:
		return badBand(t.Text, show(h.text)+" is a fraction of a percent")
	case t.Kind == Temperature:
		return badBand(t.Text, "a percentage of a temperature depends on where its scale begins")
	case t.Value == 0 && h.value > 0:
		return badBand(t.Text, "a percentage of nothing is no band")
	}
	t.Relative = true
	t.Half = math.Abs(t.Value) * h.value / 100
	return nil
}

// ParseRange reads a range such as "25-38 N/mm", "25..38 N/mm", "25 to 38 N/mm"
// or "250 mm to 10 in" into its ends, the lower one first. The unit may stand
// once, at the end. The Text of both is the whole text. The error is an *Error.
func ParseRange(text string, kind Kind) (low, high Typed, err error) {
	low, high, fault := parseRange(text, kind)
	if fault != nil {
		return Typed{}, Typed{}, fault
	}
	return low, high, nil
}

func parseRange(text string, kind Kind) (low, high Typed, fault *Error) {
	fail := func(got string) (Typed, Typed, *Error) {
		return Typed{}, Typed{}, &Error{
			Fault: BadRange, Text: text, Got: got,
			Want: "enter a range of " + kind.String() + ", its lower end first, like 25-38 or 25..38 with a unit behind",
		}
	}
	if !kind.valid() {
		return Typed{}, Typed{}, &Error{Fault: NoKind, Text: text, Got: "no such kind of quantity", Want: "enter a kind of this package"}
	}
	s, fault := prepare(text)
	if fault != nil {
		fault.Want = due(kind)
		return Typed{}, Typed{}, fault
	}
	if strings.Contains(s, "±") {
		return fail("a range has no band")
	}
	// The first number is read before the separator is looked for, so that its
	// own sign and exponent are not taken for one.
	from, rest, fault := scan(s, text, kind)
	if fault != nil {
		return Typed{}, Typed{}, fault
	}
	rest = strings.TrimPrefix(rest, " ")
	at, width := separator(rest)
	if at < 0 {
		return fail(show(text) + " has one end only")
	}
	unit := strings.TrimSuffix(rest[:at], " ")
	to, lastUnit, fault := figure(strings.TrimPrefix(rest[at+width:], " "), text, kind)
	if fault != nil {
		return Typed{}, Typed{}, fault
	}
	if unit == "" {
		unit = lastUnit
	}
	if low, fault = resolve(text, from, unit, kind); fault != nil {
		return Typed{}, Typed{}, fault
	}
	if high, fault = resolve(text, to, lastUnit, kind); fault != nil {
		return Typed{}, Typed{}, fault
	}
	if kind == Price && low.Unit != high.Unit {
		return fail("the ends are in two currencies")
	}
	if u, ok := find(clean(low.Unit), kind); ok && u.inverse && low.Unit == high.Unit {
		low, high = high, low
	}
	if low.Value > high.Value {
		return fail(show(text) + " goes down")
	}
	return low, high, nil
}

// separator finds the sign between the ends of a range: "..", " to " or a dash
// in front of a number; at is -1 without one.
func separator(s string) (at, width int) {
	at = -1
	note := func(i, w int) {
		if i >= 0 && (at < 0 || i < at) {
			at, width = i, w
		}
	}
	if i := strings.Index(s, ".."); i >= 0 {
		w := 2
		if strings.HasPrefix(s[i+2:], ".") {
			w = 3
		}
		note(i, w)
	}
	if strings.HasPrefix(s, "to ") {
		note(0, 3)
	}
	if i := strings.Index(s, " to "); i >= 0 {
		note(i, 4)
	}
	for i := range len(s) {
		if s[i] != '-' || i > 0 && s[i-1] == '^' {
			continue
		}
		next := strings.TrimLeft(s[i+1:], " +-.")
		if digits(next) > 0 {
			note(i, 1)
			break
		}
	}
	return at, width
}
