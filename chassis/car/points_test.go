package car_test

import (
	"math"
	"testing"

	"trunnion/chassis/car"
	"trunnion/chassis/corner"
	"trunnion/chassis/figure"
	"trunnion/chassis/geom"
	"trunnion/chassis/linkage"
	"trunnion/chassis/part"
	"trunnion/reference/validation"
)

func mm(x, y, z float64) geom.Vec { return geom.Vec{X: x / 1e3, Y: y / 1e3, Z: z / 1e3} }

// axles are three linkages, uneven in everything.
func axles() map[string]linkage.Hardpoints {
	front := linkage.Wheel{Centre: mm(0, 750, 310), Radius: 0.31, Camber: -0.01, Toe: 0.001}
	return map[string]linkage.Hardpoints{
		"strut": {Corner: &linkage.Corner{
			Kind: linkage.Strut, Wheel: front,
			Arms:  []linkage.Arm{{Name: "lower arm", Front: mm(-15, 360, 235), Rear: mm(-310, 380, 245), Ball: mm(5, 700, 220)}},
			Rods:  []linkage.Rod{{Name: "tie rod", Inner: mm(-130, 340, 300), Outer: mm(-135, 690, 290), Steered: true}},
			Strut: &linkage.Axis{Top: mm(-45, 580, 820), Low: mm(-14, 655, 420)},
		}},
		"wishbone": {Corner: &linkage.Corner{
			Kind: linkage.DoubleWishbone, Wheel: front,
			Arms: []linkage.Arm{
				{Name: "lower arm", Front: mm(160, 330, 205), Rear: mm(-140, 345, 212), Ball: mm(12, 705, 190)},
				{Name: "upper arm", Front: mm(90, 430, 470), Rear: mm(-110, 420, 455), Ball: mm(-20, 660, 505)},
			},
			Rods:   []linkage.Rod{{Name: "tie rod", Inner: mm(110, 330, 240), Outer: mm(125, 690, 232), Steered: true}},
			Spring: &linkage.Element{Top: mm(-20, 470, 700), Low: mm(0, 600, 205), On: "lower arm"},
			Damper: &linkage.Element{Top: mm(-24, 465, 712), Low: mm(4, 604, 198), On: "lower arm"},
		}},
		"twist beam": {Beam: &linkage.Beam{
			Wheel: linkage.Wheel{Centre: mm(-2650, 740, 305), Radius: 0.305, Camber: -0.018, Toe: 0.003},
			Bush:  mm(-2210, 560, 330), Shear: mm(-2330, 0, 368),
			Spring: &linkage.Element{Top: mm(-2540, 510, 502), Low: mm(-2550, 515, 280)},
			Damper: &linkage.Element{Top: mm(-2590, 590, 733), Low: mm(-2648, 600, 257)},
		}},
	}
}

// The wheel rate that hardpoints give is that of the linkage: the second derivative
// over wheel travel of what its spring stores, from the spring's length alone. A
// parabola through the same points was 3.0 % low at 50 mm of bump and 6.4 % at 80.
func TestWheelRateOfPoints(t *testing.T) {
	validation.Against(t, "Wheel rate from hardpoints", validation.Derived, "second derivative of what the spring stores, from its length alone", "wheel-rate")
	const k, pressed = 28e3, 0.12
	for name, points := range axles() {
		l, err := points.New()
		if err != nil {
			t.Fatal(name, err)
		}
		spring, damper := car.MotionsOf(&points, l, "points", 1)
		if !spring.Known() || !damper.Known() {
			t.Fatal(name, "no motion")
		}
		m := corner.Model{SpringTravel: spring.At(nil), DamperTravel: damper.At(nil), Spring: part.Spring{Rate: k, Free: 0.5, Block: 0.05}, Compressed0: pressed}
		stored := func(w float64) float64 {
			f, err := l.Figures(linkage.Parallel, w, 0)
			if err != nil {
				t.Fatal(name, err)
			}
			c := pressed + f.Spring.Travel
			return 0.5 * k * c * c
		}
		for _, w := range []float64{-0.0973, -0.0511, -0.0037, 0, 0.0183, 0.05, 0.0649, 0.08, 0.1026, 0.1187} {
			const h = 1e-3
			// Five points: good to h⁴.
			want := (-stored(w+2*h) + 16*stored(w+h) - 30*stored(w) + 16*stored(w-h) - stored(w-2*h)) / (12 * h * h)
			if _, got := m.Force(w); validation.Share(t, got, want, 1e-3) {
				t.Errorf("%s: wheel rate at %.1f mm of travel is %.0f N/m, %+.2f %% from the linkage's %.0f", name, w*1e3, got, 100*(got/want-1), want)
			}
			f, _ := l.Figures(linkage.Parallel, w, 0)
			for _, row := range []struct {
				what string
				m    *car.Motion
				of   linkage.Motion
			}{{"spring", &spring, f.Spring}, {"damper", &damper, f.Damper}} {
				s := row.m.At(nil)
				y, r, _ := s.At(w)
				if math.Abs(y-row.of.Travel) > 1e-9 || math.Abs(r-row.of.Ratio) > 1e-7 {
					t.Errorf("%s: %s at %.1f mm moves %.9g m at %.9g, the linkage %.9g m at %.9g", name, row.what, w*1e3, y, r, row.of.Travel, row.of.Ratio)
				}
			}
		}
	}
}

// What the points are not known to makes all of a curve larger, and a strut's
// spring and damper, on one line, the same.
func TestPointsShiftTheWholeCurve(t *testing.T) {
	for name, points := range axles() {
		l, err := points.New()
		if err != nil {
			t.Fatal(err)
		}
		spring, damper := car.MotionsOf(&points, l, "points", 1)
		var holder struct{ Spring, Damper car.Motion }
		holder.Spring, holder.Damper = spring, damper
		banded := figure.Number(&holder, nil)
		if want := map[string]int{"strut": 1, "wishbone": 2, "twist beam": 2}[name]; len(banded) != want {
			t.Errorf("%s: %d inputs with a band, want %d", name, len(banded), want)
		}
		ends := make([]figure.Variate, len(banded))
		for i := range ends {
			ends[i] = figure.Variate{Normal95: 1, Uniform: 1}
		}
		draw := figure.DrawOf(ends)
		nominal, off := spring.At(nil), spring.At(draw)
		for _, w := range []float64{-0.09, -0.02, 0.035, 0.11} {
			y, r, _ := nominal.At(w)
			yo, ro, _ := off.At(w)
			if want := 1 + spring.Off.Half; math.Abs(yo/y-want) > 1e-12 || math.Abs(ro/r-want) > 1e-12 {
				t.Errorf("%s: at %.0f mm the draw has %.6f times the travel and %.6f times the ratio, want %.6f", name, w*1e3, yo/y, ro/r, want)
			}
		}
		if spring.Off.Half < 0.002 || spring.Off.Half > 0.03 {
			t.Errorf("%s: spring travel known to %.2f %%", name, 100*spring.Off.Half)
		}
	}
}
