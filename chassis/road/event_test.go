package road

import (
	"errors"
	"math"
	"testing"
)

// each returns every shape once, at uneven sizes.
func each(t testing.TB) []Event {
	t.Helper()
	var out []Event
	add := func(e Event, err error) {
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, e)
	}
	add(Pothole(0.047, 0.73, 0.061, RightSide))
	add(Pothole(0.03, 0.4, 0.2, LeftSide))
	add(RoundHump(0.083, 3.61))
	add(FlatHump(0.075, 6.1))
	add(Dip(0.06, 1.2, BothSides))
	add(Dip(0.15, 20, BothSides))
	add(Crest(0.08, 12))
	add(Kerb(0.04, 0.37, 0.91, LeftSide))
	add(StepUp(0.05, 0.31, BothSides))
	add(StepUp(-0.02, 0.11, RightSide))
	add(JointGap(0.06, 0.03))
	add(JointLip(0.011, 0.29, 0.023))
	return out
}

// The slope of an obstacle is the derivative of its height, and its height
// stays between nothing and its size.
func TestEventSlope(t *testing.T) {
	const h = 1e-6
	for _, e := range each(t) {
		for _, part := range []float64{0.0131, 0.071, 0.237, 0.491, 0.513, 0.77, 0.937, 0.9913} {
			x := part * e.Length
			got, want := e.Slope(x), (e.Height(x+h)-e.Height(x-h))/(2*h)
			if math.Abs(got-want) > 1e-6*math.Max(1, math.Abs(want)) {
				t.Errorf("%s at %.4f of %g m: slope %.9f; heights give %.9f", e.Name, x, e.Length, got, want)
			}
			if z := e.Height(x) / e.Size(); z < 0 || z > 1+1e-12 {
				t.Errorf("%s at %.4f m is %g of its size", e.Name, x, z)
			}
		}
		for _, x := range []float64{-1, 0, math.NaN(), math.Inf(-1)} {
			if z := e.Height(x); z != 0 {
				t.Errorf("%s has height %g at %g m before it begins", e.Name, z, x)
			}
		}
		if z := e.Height(math.Inf(1)); z != e.after {
			t.Errorf("%s leaves %g m; want %g", e.Name, z, e.after)
		}
	}
}

// TestFlatHump: 75 mm rise in 0.9 m at 1 in 12, the top is level, and a short one
// is all ramps.
func TestFlatHump(t *testing.T) {
	e, err := FlatHump(0.075, 6)
	if err != nil {
		t.Fatal(err)
	}
	for x, want := range map[float64]float64{0.12: 0.01, 0.45: 0.0375, 0.9: 0.075, 3: 0.075, 5.1: 0.075, 5.4: 0.05} {
		if got := e.Height(x); math.Abs(got-want) > 1e-12 {
			t.Errorf("%g m along it is %g m high, want %g", x, got, want)
		}
	}
	if e, err = FlatHump(0.1, 1); err != nil || math.Abs(e.Slope(0.2)-0.2) > 1e-12 {
		t.Errorf("a short one: %v, slope %g, want 0.2", err, e.Slope(0.2))
	}
}

func TestEventSides(t *testing.T) {
	hole, err := Pothole(0.05, 0.6, 0.05, RightSide)
	if err != nil {
		t.Fatal(err)
	}
	p := Profile{}.With(hole, 10)
	if l, r := p.Height(LeftTrack, 10.3), p.Height(RightTrack, 10.3); l != 0 || r != -0.05 {
		t.Errorf("a hole on the right: left %g, right %g m", l, r)
	}
	if hole.On(LeftTrack) || !hole.On(RightTrack) {
		t.Error("a hole on the right says it is on the left")
	}
}

func TestEventsRefuseBadSizes(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	var bad *InputError
	for i, make := range []func(x float64) (Event, error){
		func(x float64) (Event, error) { return Pothole(x, 0.6, 0.05, BothSides) },
		func(x float64) (Event, error) { return Pothole(0.05, x, 0.05, BothSides) },
		func(x float64) (Event, error) { return RoundHump(x, 3.7) },
		func(x float64) (Event, error) { return RoundHump(0.1, x) },
		func(x float64) (Event, error) { return Dip(0.1, x, LeftSide) },
		func(x float64) (Event, error) { return Dip(x, 20, BothSides) },
		func(x float64) (Event, error) { return Crest(0.1, x) },
		func(x float64) (Event, error) { return Kerb(x, 0.4, 1, BothSides) },
		func(x float64) (Event, error) { return StepUp(x, 0.3, BothSides) },
		func(x float64) (Event, error) { return JointGap(x, 0.03) },
		func(x float64) (Event, error) { return JointLip(x, 0.3, 0.02) },
	} {
		for _, x := range []float64{nan, inf, -inf, 0, 1e9} {
			if _, err := make(x); !errors.As(err, &bad) {
				t.Errorf("constructor %d with %g: got %v; want an *InputError", i, x, err)
			}
		}
	}
	for _, edge := range []float64{nan, -0.1, 0.31} {
		if _, err := Pothole(0.05, 0.6, edge, BothSides); !errors.As(err, &bad) {
			t.Errorf("edge %g: got %v; want an *InputError", edge, err)
		}
	}
	if _, err := Pothole(0.05, 0.6, 0, Sides(7)); !errors.As(err, &bad) {
		t.Errorf("sides 7: got %v; want an *InputError", err)
	}
	if _, err := RoundHump(1.9, 3.7); !errors.As(err, &bad) {
		t.Errorf("a hump higher than half its length: got %v; want an *InputError", err)
	}
	if _, err := Kerb(0.1, nan, nan, BothSides); !errors.As(err, &bad) {
		t.Errorf("a kerb of no length: got %v; want an *InputError", err)
	}
	if z := (Event{}).Height(1); z != 0 {
		t.Errorf("no obstacle has height %g", z)
	}
}

func TestNamed(t *testing.T) {
	before := 0.0
	for _, n := range NamedRoads() {
		if n.Spectrum.check() != nil || n.Basis == "" || n.Spectrum.Roughness < before {
			t.Errorf("road %q: %+v", n.Name, n)
		}
		before = n.Spectrum.Roughness
		if found, ok := FindRoad(n.Name); !ok || found != n {
			t.Errorf("road %q is not found by its name", n.Name)
		}
	}
	for name, want := range map[string]Class{
		"main road": ClassA, "town street": ClassB, "village lane": ClassB, "patched B road": ClassB, "broken lane": ClassC,
	} {
		if n, ok := FindRoad(name); !ok || n.Class() != want {
			t.Errorf("%s is class %v; want %v", name, n.Class(), want)
		}
	}
	if _, ok := FindRoad("moon"); ok {
		t.Error("a road that is none was found")
	}
}
