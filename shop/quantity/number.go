package quantity

import (
	"math"
	"strconv"
	"strings"
)

// number is a figure without its unit.
type number struct {
	text     string  // the part of the cleaned text it was read from
	value    float64 // in the unit that follows
	decimals int     // digits after the point, less the power of ten
	step     float64 // one of the last digit, or of the fraction's parts
	parts    bool    // written as a fraction
}

// A figure of a car lies between these; beyond them conversions could
// overflow or vanish. Chosen.
const (
	most  = 1e18
	least = 1e-18
)

// scan reads a number at the start of s and returns what follows it.
//
//	[+-] digits [. or , digits] [e digits | × 10^digits]
//	[+-] [digits blank] digits/digits
//
// A comma is a decimal comma unless the number could also be thousands.
func scan(s, whole string, kind Kind) (n number, rest string, fault *Error) {
	fail := func(f Fault, got, want string) (number, string, *Error) {
		return number{}, "", &Error{Fault: f, Text: whole, Got: got, Want: want}
	}
	i := 0
	if i < len(s) && (s[i] == '-' || s[i] == '+') {
		i++
	}
	first := i
	i += digits(s[i:])
	before := i - first
	if before > 0 {
		if n, rest, ok := fraction(s, first, i); ok {
			if math.IsNaN(n.value) {
				return fail(NoNumber, show(n.text)+" is no fraction", "write it like 7/8 or 13 7/8")
			}
			return n, rest, nil
		}
	}
	after, comma := 0, false
	if i < len(s) && (s[i] == '.' || s[i] == ',') && !strings.HasPrefix(s[i:], "..") {
		comma = s[i] == ','
		after = digits(s[i+1:])
		if before+after > 0 && (after > 0 || !comma) {
			i += 1 + after
		}
	}
	if before+after == 0 {
		return fail(NoNumber, show(s)+" does not start with a number", due(kind))
	}
	mantissa := s[:i]
	if i < len(s) && (s[i] == ',' || s[i] == '.' && !strings.HasPrefix(s[i:], "..")) {
		return fail(Ambiguous, show(s)+" has more than one point or comma",
			"write one figure with one decimal point and no separators between thousands")
	}
	if comma {
		// 1,234 can be either; 0,123 and 1234,567 and 12,5 cannot be thousands.
		if after == 3 && before >= 1 && before <= 3 && s[first] != '0' {
			plain := strings.Replace(mantissa, ",", "", 1)
			point := strings.Replace(mantissa, ",", ".", 1)
			return fail(Ambiguous, show(mantissa)+" can mean "+plain+" or "+point, "write "+plain+" or "+point)
		}
		mantissa = strings.Replace(mantissa, ",", ".", 1)
	}
	exponent, used := power(s[i:])
	i += used
	value, err := strconv.ParseFloat(mantissa+exponent, 64)
	n = number{text: s[:i], value: value, decimals: after}
	shift := 0
	if exponent != "" {
		// An exponent that is too long for an int is far out of reach as well.
		shift, _ = strconv.Atoi(exponent[1:])
	}
	if err != nil || !within(value) || value == 0 && strings.ContainsAny(mantissa, "123456789") || shift > 99 || shift < -99 {
		return fail(OutOfReach, show(n.text)+" is far beyond any figure of a car", due(kind))
	}
	n.step = math.Pow10(shift - after)
	n.decimals = max(0, after-shift)
	return n, s[i:], nil
}

func within(x float64) bool {
	a := math.Abs(x)
	return a == 0 || a >= least && a <= most
}

func digits(s string) int {
	i := 0
	for i < len(s) && s[i] >= '0' && s[i] <= '9' {
		i++
	}
	return i
}

// fraction reads 7/8 or 13 7/8, whose first digits are s[first:end]. A value
// that is not a number marks a fraction that is none.
func fraction(s string, first, end int) (n number, rest string, ok bool) {
	whole, top, at := "", s[first:end], end
	if at+1 < len(s) && s[at] == ' ' {
		if more := digits(s[at+1:]); more > 0 {
			whole, top = top, s[at+1:at+1+more]
			at += 1 + more
		}
	}
	if at >= len(s) || s[at] != '/' {
		return number{}, "", false
	}
	under := digits(s[at+1:])
	if under == 0 {
		return number{}, "", false
	}
	bottom := s[at+1 : at+1+under]
	at += 1 + under
	n = number{text: s[:at], value: math.NaN(), parts: true}
	if len(whole) > 6 || len(top) > 4 || len(bottom) > 4 {
		return n, s[at:], true
	}
	w, _ := strconv.Atoi(whole) // digits only, and few; empty is none
	t, _ := strconv.Atoi(top)
	b, _ := strconv.Atoi(bottom)
	if b == 0 || whole != "" && t >= b {
		return n, s[at:], true
	}
	n.value = float64(w*b+t) / float64(b)
	if s[0] == '-' {
		n.value = -n.value
	}
	n.step = 1 / float64(b)
	return n, s[at:], true
}

// power reads e-6, E3 or × 10^-6 at the start of s, as "e-6", and how many
// bytes it took.
func power(s string) (exponent string, used int) {
	sign := func(at int) int {
		if at < len(s) && (s[at] == '-' || s[at] == '+') {
			return at + 1
		}
		return at
	}
	if s != "" && (s[0] == 'e' || s[0] == 'E') {
		at := sign(1)
		if d := digits(s[at:]); d > 0 {
			return "e" + s[1:at+d], at + d
		}
		return "", 0
	}
	t := strings.TrimPrefix(s, " ")
	for _, times := range []string{"×", "x", "*", "·"} {
		if u, ok := strings.CutPrefix(t, times); ok {
			if u, ok = strings.CutPrefix(strings.TrimPrefix(u, " "), "10^"); ok {
				from := len(s) - len(u)
				at := sign(from)
				if d := digits(s[at:]); d > 0 {
					return "e" + s[from:at+d], at + d
				}
			}
		}
	}
	return "", 0
}
