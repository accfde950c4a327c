package intake

import (
	"regexp"
	"strings"

	"trunnion/chassis/scales"
	"trunnion/shop/quantity"
)

// written is a figure as it is typed: its digits and what stands behind them.
var written = regexp.MustCompile(`^([0-9]+)([.,][0-9]+)?(.*)$`)

// otherUnit are the units that one is mistaken for.
var otherUnit = map[string]string{"kg": "lb", "lb": "kg", "mm": "in", "in": "mm"}

// typosOf are what could have been meant by one figure: two neighbouring digits the
// other way about, the point a place off, the other unit, and one digit read as
// another. Which of them would go with the other readings is for the scales to say.
func typosOf(text string, kind quantity.Kind, corner int) []scales.Typo {
	text = strings.TrimSpace(text)
	was, err := quantity.Parse(text, kind)
	if meant, minus := strings.CutPrefix(strings.Replace(text, "−", "-", 1), "-"); err == nil && minus && len(text) <= 60 {
		meant = strings.TrimSpace(meant)
		if v, err := quantity.Parse(meant, kind); err == nil && v.Value > 0 {
			return []scales.Typo{{Code: "sign-slipped", Corner: corner, Height: kind == quantity.Length, Typed: was.Value, Meant: v.Value, Text: meant}}
		}
	}
	parts := written.FindStringSubmatch(text)
	if err != nil || parts == nil || len(text) > 60 {
		return nil
	}
	var list []scales.Typo
	add := func(code, meant string) {
		if v, err := quantity.Parse(meant, kind); err == nil && v.Value != was.Value {
			list = append(list, scales.Typo{Code: code, Corner: corner, Height: kind == quantity.Length, Typed: was.Value, Meant: v.Value, Text: meant})
		}
	}
	whole, part, unit := parts[1], parts[2], parts[3]
	digits := whole + strings.TrimLeft(part, ".,")
	point := len(whole)
	put := func(digits string, point int) string {
		for len(digits) < point {
			digits += "0"
		}
		if point >= len(digits) {
			return digits + unit
		}
		if point < 1 {
			return "0." + strings.Repeat("0", -point) + digits + unit
		}
		return digits[:point] + "." + digits[point:] + unit
	}
	add("point-moved", put(digits, point+1))
	add("point-moved", put(digits, point-1))
	for k := range len(digits) - 1 {
		if k == 0 && digits[1] == '0' && point > 1 {
			continue // nobody begins with a nought
		}
		add("digits-transposed", put(digits[:k]+digits[k+1:k+2]+digits[k:k+1]+digits[k+2:], point))
	}
	if other, ok := otherUnit[was.Unit]; ok {
		add("other-unit", digitsOf(whole, part)+" "+other)
	}
	for k := range min(point, len(digits)) { // behind the point a digit is a millimetre's tenth
		for d := byte('0'); d <= '9'; d++ {
			if d != digits[k] && !(k == 0 && d == '0') {
				add("digit-misread", put(digits[:k]+string(d)+digits[k+1:], point))
			}
		}
	}
	return list
}

func digitsOf(whole, part string) string {
	return whole + strings.Replace(part, ",", ".", 1)
}
