package quantity

import (
	"math"
	"strings"
)

// Typed is a figure as a person wrote it, and what it is in SI.
type Typed struct {
	Text     string  // as typed, unchanged; for an end of a range the whole range
	Kind     Kind    //
	Unit     string  // as shown: "lbf/in" for "lb/in"; the currency's code for a Price
	Value    float64 // in the unit of Kind [SI]
	Half     float64 // half-width of the band; 0 without one [SI]
	Shape    Shape   // what the band means
	Relative bool    // the band was typed in % of the value
	Decimals int     // digits after the point as typed, less the power of ten [-]
	Step     float64 // resolution of the reading: one of the last digit typed [SI]
}

// Low is the lower end of the band [SI].
func (t Typed) Low() float64 { return t.Value - t.Half }

// High is the upper end of the band [SI].
func (t Typed) High() float64 { return t.Value + t.Half }

// Parse reads a figure with its unit and, where there is one, its band. See the
// package comment for what a band means. The error is an *Error.
//
// A figure and its unit may stand with or without a blank. Decimal commas are
// read where they cannot be thousands. Fractions are read in inches and feet.
// A unit at the end of the band serves the value as well: "352 ± 1 mm".
func Parse(text string, kind Kind) (Typed, error) {
	t, fault := parse(text, kind)
	if fault != nil {
		return Typed{}, fault
	}
	return t, nil
}

func parse(text string, kind Kind) (Typed, *Error) {
	if !kind.valid() {
		return Typed{}, &Error{Fault: NoKind, Text: text, Got: "no such kind of quantity", Want: "enter a kind of this package"}
	}
	s, fault := prepare(text)
	if fault != nil {
		fault.Want = due(kind)
		return Typed{}, fault
	}
	head, tail, shape, fault := cutBand(s, text)
	if fault != nil {
		return Typed{}, fault
	}
	n, unit, fault := figure(head, text, kind)
	if fault != nil {
		return Typed{}, fault
	}
	if shape == None {
		return resolve(text, n, unit, kind)
	}
	half, bandUnit, fault := figure(tail, text, kind)
	if fault != nil {
		return Typed{}, fault
	}
	if _, bare := find("", kind); unit == "" && bandUnit != "" && (!bare || kind == Price) &&
		(bandUnit != "%" || kind == Share) {
		unit = bandUnit
	}
	t, fault := resolve(text, n, unit, kind)
	if fault != nil {
		return Typed{}, fault
	}
	return t, band(&t, n, half, bandUnit, shape)
}

// figure splits a cleaned text into a number and its unit. The code of a
// currency may come first.
func figure(s, whole string, kind Kind) (n number, unit string, fault *Error) {
	code := ""
	if kind == Price && len(s) > 3 && isCode(s[:3]) {
		code, s = s[:3], strings.TrimPrefix(s[3:], " ")
	}
	n, rest, fault := scan(s, whole, kind)
	if fault != nil {
		return number{}, "", fault
	}
	unit = strings.TrimPrefix(rest, " ")
	if at, _ := separator(unit); at >= 0 {
		want := "enter one value, such as " + kind.about().examples
		if n.decimals == 0 && strings.Contains(unit, "/") && strings.HasPrefix(unit, "-") {
			want += "; a mixed fraction has a blank: 13 7/8 in"
		}
		return number{}, "", &Error{Fault: BadRange, Text: whole, Got: show(s) + " looks like a range", Want: want}
	}
	// "8 1/m" is eight per metre, not two numbers.
	if digits(unit) > 0 && !(strings.HasPrefix(unit, "1/") && digits(unit[2:]) == 0) {
		return number{}, "", &Error{
			Fault: Ambiguous, Text: whole, Got: show(s) + " has two numbers in a row",
			Want: "write one figure without blanks in it",
		}
	}
	if code != "" {
		if unit != "" {
			return number{}, "", &Error{Fault: UnknownUnit, Text: whole, Got: show(unit) + " stands behind a price in " + code, Want: due(kind)}
		}
		unit = code
	}
	return n, unit, nil
}

// isCode reports three capital letters, as ISO 4217 writes currencies.
func isCode(s string) bool {
	return len(s) == 3 && strings.IndexFunc(s, func(r rune) bool { return r < 'A' || r > 'Z' }) < 0
}

// resolve finds the unit of a number and converts it.
func resolve(text string, n number, unit string, kind Kind) (Typed, *Error) {
	t := Typed{Text: text, Kind: kind, Decimals: n.decimals}
	if kind == Price {
		switch {
		case unit == "":
			return Typed{}, missingUnit(text, n.text, kind)
		case !isCode(unit):
			return Typed{}, &Error{
				Fault: UnknownUnit, Text: text, Got: show(unit) + " is not the code of a currency",
				Want: "enter a price with the three capital letters of its currency, such as 1250 EUR",
			}
		}
		t.Unit, t.Value, t.Step = unit, n.value, n.step
		return t, nil
	}
	u, ok := find(unit, kind)
	switch {
	case !ok && unit == "":
		return Typed{}, missingUnit(text, n.text, kind)
	case !ok:
		return Typed{}, wrongUnit(text, unit, kind, n.value)
	case n.parts && !u.parts:
		return Typed{}, &Error{
			Fault: NoNumber, Text: text, Got: show(n.text) + " is a fraction",
			Want: "fractions are read in inches and feet only; write a decimal number, such as " + kind.about().examples,
		}
	case kind == Count && n.value != math.Trunc(n.value):
		return Typed{}, &Error{Fault: NotWhole, Text: text, Got: show(n.text) + " is not whole", Want: "enter a whole number, such as 9"}
	case u.inverse && n.value <= 0:
		return Typed{}, &Error{Fault: OutOfReach, Text: text, Got: show(n.text) + " " + u.label + " is no pitch", Want: due(kind)}
	}
	t.Unit, t.Value = u.label, u.ToSI(n.value)
	t.Step = u.differenceToSI(n.step)
	if u.inverse {
		// dp = p·dn/n for p = 1/n
		t.Step = t.Value * n.step / n.value
	}
	if t.Value == 0 {
		t.Value = 0 // -0 has no meaning in a workshop
	}
	return t, nil
}
