package linkage

import (
	"math"
	"testing"
)

func figuresOf(t *testing.T, c Corner, travel float64) Figures {
	t.Helper()
	l, err := NewCorner(c)
	if err != nil {
		t.Fatal(err)
	}
	f, err := l.Figures(Parallel, travel, 0)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func TestChanges(t *testing.T) {
	base := strutCorner()
	was := figuresOf(t, base, 0)
	// A wheel further out: scrub grows by as much, across the car.
	f := figuresOf(t, base.With(Change{Offset: 0.012, Spacer: 0.008}), 0)
	if d := f.HalfTrack - was.HalfTrack; math.Abs(d-0.020) > 1e-5 {
		t.Errorf("20 mm of offset moved the contact by %g m", d)
	}
	if d := f.Scrub - was.Scrub; math.Abs(d-0.020) > 1e-3 {
		t.Errorf("20 mm of offset moved the scrub radius by %g m", d)
	}
	if !(f.Spring.Ratio < was.Spring.Ratio) {
		t.Errorf("a wheel further out has a spring ratio of %g, before %g", f.Spring.Ratio, was.Spring.Ratio)
	}
	// A plate that brings the top in by 10 mm: camber goes negative by about that
	// over the height of the strut, and the wheel stays at its height.
	f = figuresOf(t, base.With(Change{Plate: mm(0, -10, 0)}), 0)
	drop := 0.010 / 0.6
	if d := f.Camber - was.Camber; !(d < -0.7*drop && d > -1.4*drop) {
		t.Errorf("10 mm of camber plate turned the wheel by %g rad", d)
	}
	if math.Abs(f.Centre.Z-was.Centre.Z) > 1e-12 {
		t.Errorf("the wheel centre moved by %g m", f.Centre.Z-was.Centre.Z)
	}
	// A longer arm: camber goes negative, half-track grows.
	f = figuresOf(t, base.With(Change{Extension: 0.008}), 0)
	if !(f.Camber < was.Camber && f.HalfTrack > was.HalfTrack+0.007) {
		t.Errorf("8 mm of arm: camber %g rad, half-track %g m", f.Camber-was.Camber, f.HalfTrack-was.HalfTrack)
	}
	if base.Arms[0].Extension != 0 || base.Strut.Shift != (vec{}) {
		t.Error("the corner that was changed is not as it was")
	}
}

// After a change of height the toe is set again by the tie rod.
func TestRealigned(t *testing.T) {
	for _, base := range []Corner{strutCorner(), wishboneCorner(), fiveLinkCorner()} {
		for _, low := range []float64{0.027, -0.011} {
			set, longer, err := base.Realigned(low, 0.0017)
			if err != nil {
				t.Fatal(err)
			}
			f := figuresOf(t, set, low)
			if math.Abs(f.Toe-0.0017) > 1e-9 || longer == 0 {
				t.Errorf("%s lowered by %g m stands at %g rad of toe with %g m of rod", base.Kind, low, f.Toe, longer)
			}
		}
	}
	if _, _, err := trailingCorner().Realigned(0.01, 0); err == nil {
		t.Error("a trailing arm is aligned by a tie rod")
	}
}

// Extreme changes end in an error, never in a panic or a number.
func TestWildChanges(t *testing.T) {
	for _, ch := range []Change{{Extension: 2}, {Plate: mm(0, 0, -900)}, {Plate: mm(5000, 0, 0)}, {Offset: math.NaN()}, {Extension: math.Inf(1)}} {
		l, err := NewCorner(strutCorner().With(ch))
		if err == nil {
			f, err := l.Figures(Parallel, 0, 0)
			if err == nil && (math.IsNaN(f.Camber) || math.IsInf(f.Camber, 0)) {
				t.Errorf("%+v gives a camber of %g", ch, f.Camber)
			}
		}
	}
}

// The steering axis of links that meet in two joints is the line through them,
// and a rack turns the wheel as far either way that its slope says.
func TestSteering(t *testing.T) {
	c := wishboneCorner()
	f := figuresOf(t, c, 0)
	for _, a := range c.Arms {
		if d := f.Steering.Distance(a.Ball); d > 1e-9 {
			t.Errorf("the steering axis passes %g m from the %s's ball joint", d, a.Name)
		}
	}
	l, err := NewCorner(c)
	if err != nil {
		t.Fatal(err)
	}
	left, err := l.Figures(Parallel, 0, 1e-4)
	if err != nil {
		t.Fatal(err)
	}
	right, err := l.Figures(Parallel, 0, -1e-4)
	if err != nil {
		t.Fatal(err)
	}
	// Toe-in is a turn to the right on the left wheel. The axis is that of a held
	// spring, the sweep that of a held wheel centre: they differ by the bump steer
	// of what caster lifts.
	got := -(left.Toe - right.Toe) / 2e-4
	if math.Abs(got-f.SteerRate) > 0.03*math.Abs(f.SteerRate) {
		t.Errorf("the rack turns the wheel by %g rad/m, the axis says %g", got, f.SteerRate)
	}
}

// What two makers of numbers say is laid side by side.
func TestDisagree(t *testing.T) {
	l, err := NewCorner(strutCorner())
	if err != nil {
		t.Fatal(err)
	}
	c, err := l.Sweep(Parallel, Travels(-0.06, 0.06, 5), 0)
	if err != nil {
		t.Fatal(err)
	}
	wheel, spring, damper := c.Rows()
	if len(wheel) != 5 || len(damper) != 5 {
		t.Fatalf("%d rows", len(wheel))
	}
	spring[1] += 0.003
	for i, d := range l.Disagree(wheel, spring, func(f *Figures) Motion { return f.Spring }) {
		want := 0.0
		if i == 1 {
			want = 0.003
		}
		if math.Abs(d.Measured-d.Computed-want) > 1e-10 {
			t.Errorf("at %g m the table and the points differ by %g m", d.Travel, d.Measured-d.Computed)
		}
	}
}
