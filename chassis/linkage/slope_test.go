package linkage

import (
	"math"
	"testing"

	"trunnion/chassis/numeric"
)

// uneven travels of the left and the right wheel, and rack travel [m].
var uneven = []struct {
	travel [2]float64
	rack   float64
}{
	{[2]float64{0.0013, -0.0071}, 0.0031},
	{[2]float64{-0.0537, 0.0239}, -0.0179},
	{[2]float64{0.0411, 0.0173}, 0.0287},
	{[2]float64{0.0239, -0.0419}, 0},
	{[2]float64{-0.0313, -0.0089}, -0.0061},
}

func each(t *testing.T, check func(t *testing.T, l *Linkage, at *position)) {
	t.Helper()
	n := 0
	for name, build := range kinds() {
		t.Run(name, func(t *testing.T) {
			l, err := build()
			if err != nil {
				t.Fatal(err)
			}
			for _, u := range uneven {
				rack := u.rack
				if !l.steers {
					rack = 0
				}
				at, err := l.at(u.travel, rack)
				if err != nil {
					t.Fatalf("travel %v, rack %g m: %v", u.travel, rack, err)
				}
				check(t, l, &at)
				n++
			}
		})
	}
	if n < 30 {
		t.Errorf("only %d positions were looked at", n)
	}
}

// Every hand-written gradient is the slope of its row.
func TestGradientsAreSlopes(t *testing.T) {
	each(t, func(t *testing.T, l *Linkage, at *position) {
		rows := append([]row(nil), l.rows...)
		for i := range l.sides {
			for _, r := range []*row{l.sides[i].spring, l.sides[i].damper} {
				if r != nil {
					rows = append(rows, *r)
				}
			}
		}
		// Off the solution too: Newton passes through such places.
		var off [numeric.MaxUnknowns]float64
		for k := range 6 * l.bodies {
			off[k] = 0.003 * math.Sin(float64(3*k+1))
		}
		q := l.moved(&at.q, &off, 1)
		for i := range rows {
			var g, scratch gradient
			l.eval(&rows[i], &q, at.rack, &g)
			for k := range 6 * l.bodies {
				const h = 1e-6
				var step [numeric.MaxUnknowns]float64
				step[k] = h
				up, down := l.moved(&q, &step, 1), l.moved(&q, &step, -1)
				want := (l.eval(&rows[i], &up, at.rack, &scratch) - l.eval(&rows[i], &down, at.rack, &scratch)) / (2 * h)
				if math.Abs(g[k]-want) > 1e-8*(1+math.Abs(want)) {
					t.Errorf("%s by movement %d: gradient %.10g, difference %.10g", rows[i].name, k, g[k], want)
				}
			}
		}
	})
}

// Every slope over travel is the difference of its figure, at uneven travels in
// every mode.
func TestSlopesOverTravel(t *testing.T) {
	each(t, func(t *testing.T, l *Linkage, at *position) {
		for _, mode := range []Mode{Parallel, Opposite, Single} {
			d := mode.direction()
			// Five points: the error is of the fourth order.
			const h = 5e-4
			var f [4]Figures
			for k, s := range []float64{h, -h, 2 * h, -2 * h} {
				p, err := l.reach(at, [2]float64{at.travel[0] + s*d[0], at.travel[1] + s*d[1]}, at.rack)
				if err != nil {
					t.Fatal(err)
				}
				f[k] = l.read(&p, mode)
			}
			here := l.read(at, mode)
			slope := func(of func(*Figures) float64) float64 {
				return (8*(of(&f[0])-of(&f[1])) - (of(&f[2]) - of(&f[3]))) / (12 * h)
			}
			check := func(what string, got, want float64) {
				if math.Abs(got-want) > 1e-7*(1+math.Abs(want)) {
					t.Errorf("%s, mode %d at %v: slope %.9g, difference %.9g", what, mode, at.travel, got, want)
				}
			}
			for _, m := range []struct {
				name string
				of   func(*Figures) *Motion
			}{
				{"spring", func(f *Figures) *Motion { return &f.Spring }},
				{"damper", func(f *Figures) *Motion { return &f.Damper }},
				{"bar", func(f *Figures) *Motion { return &f.Bar }},
			} {
				if !m.of(&here).Known {
					continue
				}
				check(m.name+" travel", m.of(&here).Ratio, slope(func(f *Figures) float64 { return m.of(f).Travel }))
				check(m.name+" ratio", m.of(&here).Slope, slope(func(f *Figures) float64 { return m.of(f).Ratio }))
			}
			check("camber", here.CamberGain, slope(func(f *Figures) float64 { return f.Camber }))
			check("toe", here.BumpSteer, slope(func(f *Figures) float64 { return f.Toe }))
		}
	})
}

// Link lengths stay, and the wheel is where its travel says.
func TestLengthsStay(t *testing.T) {
	each(t, func(t *testing.T, l *Linkage, at *position) {
		for i := range l.rows {
			r := &l.rows[i]
			if r.rule != apart {
				continue
			}
			d := norm(sub(l.place(&r.a, &at.q), l.far(r, &at.q, at.rack)))
			if math.Abs(d-r.c) > 1e-12 {
				t.Errorf("%s is %.12g m long, drawn %.12g", r.name, d, r.c)
			}
		}
		for i := range l.wheels {
			w := &l.wheels[i]
			_, r := carried(&at.q[w.body], &twist{}, w.centre)
			if z := at.q[w.body].p.Z + r.Z - w.height; math.Abs(z-at.travel[i]) > 1e-12 {
				t.Errorf("wheel %d has risen by %.12g m, asked were %.12g", i, z, at.travel[i])
			}
		}
	})
}

// Going there by another way, or in one sweep, ends in the same place.
func TestPathDoesNotMatter(t *testing.T) {
	for name, build := range kinds() {
		l, err := build()
		if err != nil {
			t.Fatal(name, err)
		}
		c, err := l.Sweep(Parallel, Travels(-0.06, 0.061, 23), 0)
		if err != nil || c.Low != nil || c.High != nil || len(c.Points) != 23 {
			t.Fatalf("%s: %d points, %v %v %v", name, len(c.Points), err, c.Low, c.High)
		}
		for i := range c.Points {
			p := &c.Points[i]
			f, err := l.Figures(Parallel, p.Travel, 0)
			if err != nil {
				t.Fatal(name, err)
			}
			if math.Abs(f.Camber-p.Camber) > 1e-10 || math.Abs(f.Spring.Travel-p.Spring.Travel) > 1e-10 {
				t.Errorf("%s at %g m: camber %g or %g, spring %g or %g", name, p.Travel, f.Camber, p.Camber, f.Spring.Travel, p.Spring.Travel)
			}
		}
	}
}

// A symmetrical axle leans about the middle plane: parallel travel moves both
// sides alike, and opposite travel is the same seen in a mirror.
func TestMirroredBeam(t *testing.T) {
	l, err := NewBeam(twistBeam())
	if err != nil {
		t.Fatal(err)
	}
	for _, w := range []float64{-0.041, 0.013, 0.0239} {
		at, err := l.at([2]float64{w, 0.4 * w}, 0)
		if err != nil {
			t.Fatal(err)
		}
		back, err := l.at([2]float64{0.4 * w, w}, 0)
		if err != nil {
			t.Fatal(err)
		}
		for side := range 2 {
			a, b := at.q[side].p, back.q[1-side].p
			b.Y = -b.Y
			if norm(sub(a, b)) > 1e-11 {
				t.Errorf("at %g m wheel %d is at %v, its mirror image at %v", w, side, a, b)
			}
		}
	}
	roll, err := l.Figures(Opposite, 0, 0)
	if err != nil {
		t.Fatal(err)
	}
	// In roll either half turns about the line from its bush to the shear centre,
	// to first order.
	bush, shear := twistBeam().Bush, twistBeam().Shear
	for _, p := range []vec{bush, shear} {
		if d := roll.Instant.Distance(p); d > 1e-9 {
			t.Errorf("the roll axis of the left half passes %.3g m from %v", d, p)
		}
	}
}
