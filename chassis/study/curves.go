package study

import (
	"math"

	"trunnion/chassis/figure"
	"trunnion/chassis/travel"
)

// lowering names the margins that a lowering curve follows.
var lowering = []struct {
	code string
	of   func(*travel.Budget) float64
}{
	{"travel-to-stop", func(b *travel.Budget) float64 { return b.ToStop }},
	{"travel-to-stop-firm", func(b *travel.Budget) float64 { return b.ToFirm }},
	{"travel-to-solid", func(b *travel.Budget) float64 { return b.ToSolid }},
	{"travel-to-open", func(b *travel.Budget) float64 { return b.ToOpen }},
	{"travel-to-block", func(b *travel.Budget) float64 { return b.ToBlock }},
	{"spring-gap-open", func(b *travel.Budget) float64 { return b.GapOpen }},
	{"catch-speed", func(b *travel.Budget) float64 { return b.CatchSpeed }},
}

// curves adds what every margin becomes as the car is lowered, for both kinds
// of adjuster.
func (s *setup) curves(a *Answer, b, l int, place figure.Place) {
	c := &a.Cases[b][l]
	for i := range 4 {
		arch := s.arches(s.designs[b].Build, nil)[i]
		for _, how := range []travel.Adjuster{travel.BySeat, travel.ByBody} {
			steps := travel.Lower(&c.System, &c.State, i, how, s.opt.Lowering)
			add := func(code string, of func(*travel.Lowered) float64) {
				cv := Curve{
					Code: "margin-by-lowering-" + string(how), Build: place.Build, Load: place.Load, Corner: i,
					XName: "lowered", YName: code, XUnit: "m", YUnit: "m",
				}
				if code == "catch-speed" {
					cv.YUnit = "m/s"
				}
				for k := range steps {
					y := of(&steps[k])
					if math.IsNaN(y) {
						return
					}
					cv.X, cv.Y = append(cv.X, steps[k].By), append(cv.Y, y)
				}
				a.Curves = append(a.Curves, cv)
			}
			for _, m := range lowering {
				add(m.code, func(lo *travel.Lowered) float64 { return m.of(&lo.Budget) })
			}
			add("travel-to-arch", func(lo *travel.Lowered) float64 { return arch - lo.Budget.Rest })
		}
	}
}
