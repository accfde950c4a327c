package part_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"trunnion/chassis/numeric"
	"trunnion/chassis/part"
)

// table draws a table from the origin in uneven steps: stiffening as foam and
// coils do, or with a slope of its own in every step as a damper may have.
func table(t *rapid.T, what string, reach, force float64, stiffening bool) *numeric.Curve {
	x, y := []float64{0}, []float64{0}
	slope := force / reach * rapid.Float64Range(0.1, 1).Draw(t, what+" slope")
	for range rapid.IntRange(2, 9).Draw(t, what+" rows") {
		step := reach * rapid.Float64Range(0.03, 0.3).Draw(t, what+" step")
		x, y = append(x, x[len(x)-1]+step), append(y, y[len(y)-1]+slope*step)
		least := 0.2
		if stiffening {
			least = 1
		}
		slope *= rapid.Float64Range(least, 1.8).Draw(t, what+" stiffer by")
	}
	c, err := numeric.NewCurve(x, y)
	if err != nil {
		t.Fatal(err)
	}
	return &c
}

// spring draws a spring of any kind the package knows.
func spring(t *rapid.T) part.Spring {
	draw := func(name string, low, high float64) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
	s := part.Spring{
		Rate: draw("rate", 10e3, 120e3), Free: draw("free", 0.2, 0.4), TableScale: 1,
	}
	s.Block = s.Free * draw("block", 0.3, 0.5)
	switch rapid.SampledFrom([]string{"constant", "progressive", "table"}).Draw(t, "kind") {
	case "progressive":
		s.Growth = draw("growth", 0, 1) * s.Rate / (s.Free - s.Block)
	case "table":
		s.Table = table(t, "spring", 0.2, 4000, true)
		s.TableScale = draw("scale", 0.8, 1.2)
	}
	if rapid.Bool().Draw(t, "helper") {
		s.HelperRate = draw("helper rate", 2e3, 60e3)
		s.HelperFree = draw("helper free", 0.04, 0.1)
		s.HelperBlock = s.HelperFree * draw("helper block", 0.2, 0.6)
	}
	if err := s.Check(); err != nil {
		t.Fatal(err)
	}
	return s
}

// slopeOf compares a rate with the central difference of its force, on both
// sides of kinks only: at a kink either side's slope will do.
func slopeOf(t *rapid.T, what string, force func(float64) (float64, float64), at float64) {
	const h = 1e-7
	up, kUp := force(at + h)
	down, kDown := force(at - h)
	_, k := force(at)
	got := (up - down) / (2 * h)
	low, high := min(k, kUp, kDown), max(k, kUp, kDown)
	room := 1e-4*math.Abs(k) + 1e-2 + 1e-9*math.Abs(up)/h
	if got < low-room || got > high+room {
		t.Fatalf("%s at %.6f m: slope of the force %.4f N/m, rate %.4f N/m", what, at, got, k)
	}
}

// A spring's rate is the slope of its force from loose to past block, force
// and compression undo each other, and force never falls as it is pressed.
func TestSpring(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := spring(t)
		room := s.StackFree() - s.StackBlock()
		at := rapid.Float64Range(-0.02, 1.05*room).Draw(t, "compression")
		slopeOf(t, "spring", s.Force, at)
		f, _ := s.Force(at)
		further, _ := s.Force(at + 1e-4)
		if further < f {
			t.Fatalf("pressed from %.4f m on, the force falls from %.4f N to %.4f N", at, f, further)
		}
		switch {
		case at <= 0 && f != 0:
			t.Fatalf("a loose spring pushes %.3f N", f)
		case at > 0 && at < room:
			if back := s.Compression(f); math.Abs(back-at) > 1e-8 {
				t.Fatalf("%.4f N at %.9f m, but the compression at that force is %.9f m", f, at, back)
			}
		}
	})
}

// Two springs on each other carry the same force: what the stack gives way is
// what both give way, until the helper is flat.
func TestHelperShares(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := spring(t)
		if s.HelperRate == 0 {
			s.HelperRate, s.HelperFree, s.HelperBlock = 17e3, 0.07, 0.023
		}
		alone := s
		alone.HelperRate = 0
		travel := s.HelperFree - s.HelperBlock
		room := min(s.StackFree()-s.StackBlock(), alone.StackFree()-alone.StackBlock())
		at := room * rapid.Float64Range(0.01, 0.97).Draw(t, "compression")
		f, _ := s.Force(at)
		main := alone.Compression(f)
		if got := main + min(f/s.HelperRate, travel); math.Abs(got-at) > 1e-8 {
			t.Fatalf("%.3f N presses the springs %.9f m together, the stack %.9f m", f, got, at)
		}
	})
}

// Gas: rate is slope; warm or cold, line or charge.
func TestGas(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string, low, high float64) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
		g := part.Gas{
			Pressure: draw("pressure", 3e5, 30e5), Volume: draw("volume", 30e-6, 120e-6),
			Area: draw("area", 80e-6, 500e-6), Exponent: draw("exponent", 1, 1.4),
		}
		if rapid.Bool().Draw(t, "line") {
			g = part.Gas{Force: draw("force", 20, 400), Rate: draw("rate", 0, 2000)}
		}
		at, in := draw("travel", -0.08, 0.055), draw("rod further in", -0.02, 0.02)
		slopeOf(t, "gas", g.At, at)
		// A reference that has moved is the same gas from somewhere else.
		moved := g.Pushed(in)
		here, _ := moved.At(at)
		there, _ := g.At(at + in)
		if math.Abs(here-there) > 1e-9*math.Abs(there) {
			t.Fatalf("%.4f m further in, the gas pushes %.6f N at %.4f m; it should push %.6f N", in, here, at, there)
		}
	})
}

// A stop's rate is the slope of its force, its work the integral, its crush
// the inverse; a force past the table is marked.
func TestBumpStop(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := table(t, "stop", 0.04, 5000, true)
		b := part.BumpStop{Table: c, End: c.Last(), Scale: rapid.Float64Range(0.6, 1.5).Draw(t, "scale")}
		at := b.End * rapid.Float64Range(-0.2, 1.2).Draw(t, "crush")
		slopeOf(t, "stop", func(x float64) (float64, float64) { f, k, _ := b.Force(x); return f, k }, at)
		f, _, outside := b.Force(at)
		if outside != (at > b.End) {
			t.Fatalf("crush %.5f m of %.5f m is called outside: %v", at, b.End, outside)
		}
		const h = 1e-6
		if work := (b.Energy(at+h) - b.Energy(at-h)) / (2 * h); at > h && math.Abs(work-f) > 1e-5*f+1e-3 {
			t.Fatalf("the work grows by %.5f N at %.6f m where the force is %.5f N", work, at, f)
		}
		x, ok := b.Crush(f)
		end, _, _ := b.Force(b.End)
		if ok == (f > end) && f != end && f > 0 {
			t.Fatalf("%.3f N where the table ends at %.3f N is found: %v", f, end, ok)
		}
		if ok && at > 0 && at < b.End && math.Abs(x-at) > 1e-8 {
			t.Fatalf("%.4f N at %.8f m comes back as %.8f m", f, at, x)
		}
	})
}

// A damper only takes energy, its secant is the mean of both ways, and a speed
// that was not measured is marked.
func TestDamperCurve(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bump, rebound := table(t, "bump", 0.5, 1000, false), table(t, "rebound", 0.5, 2000, false)
		c := part.DamperCurve{Bump: bump, Rebound: rebound, TopSpeed: min(bump.Last(), rebound.Last())}
		v := rapid.Float64Range(0.001, 2).Draw(t, "speed")
		b, outside := c.Force(v)
		r, _ := c.Force(-v)
		if b*v <= 0 || r*-v <= 0 {
			t.Fatalf("at %.4f m/s the damper gives energy: bump %.3f N, rebound %.3f N", v, b, r)
		}
		if outside != (v > c.TopSpeed) {
			t.Fatalf("%.4f m/s of %.4f m/s measured is called outside: %v", v, c.TopSpeed, outside)
		}
		if s := c.Secant(v); math.Abs(s-(b-r)/(2*v)) > 1e-9*s {
			t.Fatalf("secant %.6f N s/m at %.4f m/s, forces %.4f N and %.4f N", s, v, b, r)
		}
	})
}

// A bar in another hole is the bar made with the other length of arm.
func TestBarAtHole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
		d, length, one, other := size("diameter", 0.01, 0.04), size("length", 0.3, 1.4), size("arm", 0.1, 0.4), size("other arm", 0.1, 0.4)
		const shear = 79.5e9
		got := part.AtHole(part.TorsionBarEndRate(shear, d, 0, length, one), one, other)
		want := part.TorsionBarEndRate(shear, d, 0, length, other)
		if math.Abs(got-want) > 1e-9*want {
			t.Fatalf("%.6f N/m in the other hole, %.6f N/m by the size of the bar", got, want)
		}
	})
}
