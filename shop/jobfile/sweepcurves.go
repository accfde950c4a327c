package jobfile

import (
	"fmt"
	"slices"
	"strings"

	"trunnion/chassis/car"
	"trunnion/chassis/dyno"
	"trunnion/shop/quantity"
)

// CurvesPiece writes curves of clicks as a job holds them at parts.dampers.ID.curves:
// on one line, as Insert takes it, or with a line a click to be pasted. Speeds [m/s] and
// forces [N] are written in mm/s and N, to what a machine reads.
func CurvesPiece(curves []car.ClickCurve, adjustable bool) (piece string, lines []string, err error) {
	speed, err := quantity.Find("mm/s", quantity.SpeedDamper)
	if err != nil {
		return "", nil, err
	}
	force, err := quantity.Find("N", quantity.Force)
	if err != nil {
		return "", nil, err
	}
	row := func(points []car.Point, u quantity.Unit, digits int, of func(car.Point) float64) string {
		var list []string
		for _, p := range points {
			text := fmt.Sprintf("%.*f", digits, u.FromSI(of(p)))
			if strings.Contains(text, ".") {
				text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
			}
			list = append(list, text)
		}
		return "[" + strings.Join(list, ", ") + " " + u.Label() + "]"
	}
	x, y := func(p car.Point) float64 { return p.X }, func(p car.Point) float64 { return p.F }
	sorted := slices.Clone(curves)
	slices.SortFunc(sorted, func(a, b car.ClickCurve) int { return b.Click - a.Click })
	for _, c := range sorted {
		name, click := "measured", ""
		if adjustable {
			name, click = fmt.Sprintf("click-%d", c.Click), fmt.Sprintf("click: %d, ", c.Click)
		}
		lines = append(lines, fmt.Sprintf("%s: {%sspeed: %s, bump: %s, rebound: %s}", name, click, row(c.Bump, speed, 1, x), row(c.Bump, force, 1, y), row(c.Rebound, force, 1, y)))
	}
	return "{" + strings.Join(lines, ", ") + "}", lines, nil
}

// SweptPiece writes the curves of a set as CurvesPiece does.
func SweptPiece(set *dyno.Set) (piece string, lines []string, err error) {
	var list []car.ClickCurve
	for i := range set.Curves {
		c := &set.Curves[i]
		one := car.ClickCurve{Click: c.Setting[0]}
		for k, v := range c.Bump.Speed {
			r, _ := c.Rebound.At(v)
			one.Bump, one.Rebound = append(one.Bump, car.Point{X: v, F: c.Bump.Force[k]}), append(one.Rebound, car.Point{X: v, F: r.Value})
		}
		list = append(list, one)
	}
	return CurvesPiece(list, len(set.Adjusters) > 0)
}
