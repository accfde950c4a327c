package road

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// even returns readings of a smooth road every step.
func even(step float64, n int) Readings {
	var r Readings
	for i := range n {
		x := 12.5 + float64(i)*step
		r.Distance = append(r.Distance, x)
		r.Left = append(r.Left, 0.01*math.Sin(0.8*x))
		r.Right = append(r.Right, 0.01*math.Cos(0.7*x))
	}
	return r
}

func kinds(w []Warning) map[WarningKind]Warning {
	out := map[WarningKind]Warning{}
	for _, one := range w {
		out[one.Kind] = one
	}
	return out
}

func TestReadingsAsTheyAre(t *testing.T) {
	r := even(0.05, 400)
	p, w, err := FromReadings(r)
	if err != nil || len(w) != 0 {
		t.Fatalf("clean readings: %v, %v", w, err)
	}
	if p.Start != 12.5 || math.Abs(p.Step-0.05) > 1e-12 || p.Left[123] != r.Left[123] || p.Right[399] != r.Right[399] {
		t.Errorf("profile differs from the readings: start %g, step %g", p.Start, p.Step)
	}
	r.Left[0] = 99
	if p.Left[0] == 99 {
		t.Error("the profile shares the reader's slice")
	}
}

func TestReadingsWarnings(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(r *Readings)
		want   []WarningKind
	}{
		{"one track", func(r *Readings) { r.Right = nil }, []WarningKind{SingleTrack}},
		{"the other track", func(r *Readings) { r.Left = nil }, []WarningKind{SingleTrack}},
		{"uneven", func(r *Readings) { r.Distance[7] += 0.01 }, []WarningKind{UnevenSpacing}},
		{"gap", func(r *Readings) {
			for i := 200; i < 400; i++ {
				r.Distance[i] += 1.3
			}
		}, []WarningKind{GapBridged}},
		{"step", func(r *Readings) {
			for i := 200; i < 400; i++ {
				r.Right[i] += 0.06
			}
		}, []WarningKind{VerticalStep}},
		{"one millimetre", func(r *Readings) { *r = even(0.001, 400) }, []WarningKind{CloseSpacing}},
		{"half a metre", func(r *Readings) { *r = even(0.5, 400) }, []WarningKind{WideSpacing}},
		{"millimetres for metres", func(r *Readings) {
			for i := range r.Left {
				r.Left[i] *= 1000
				r.Right[i] *= 1000
			}
		}, []WarningKind{HeightsDoubtful, VerticalStep}},
	} {
		r := even(0.05, 400)
		c.change(&r)
		p, w, err := FromReadings(r)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		got := kinds(w)
		if len(got) != len(c.want) {
			t.Errorf("%s: warnings %v; want %v", c.name, w, c.want)
		}
		for _, k := range c.want {
			if one, ok := got[k]; !ok || one.Count == 0 || one.String() == "" {
				t.Errorf("%s: warnings %v; want %v", c.name, w, k)
			}
		}
		if err := p.Check(); err != nil {
			t.Errorf("%s: profile %v", c.name, err)
		}
	}
	r := even(0.05, 400)
	r.Right = nil
	p, _, _ := FromReadings(r)
	if p.Right[11] != p.Left[11] {
		t.Error("one track is not used for both")
	}
	r = even(0.05, 400)
	for i := 200; i < 400; i++ {
		r.Right[i] += 0.06
	}
	_, w, _ := FromReadings(r)
	if s := kinds(w)[VerticalStep]; math.Abs(s.At-(12.5+199*0.05)) > 1e-9 || s.Count != 1 || math.Abs(s.Value-0.06) > 0.001 {
		t.Errorf("step of 60 mm at %g m is told as %v", 12.5+199*0.05, s)
	}
}

// A straight slope read at uneven distances stays that slope.
func TestReadingsLaidOnGrid(t *testing.T) {
	var r Readings
	x := 3.0
	for i := range 300 {
		r.Distance = append(r.Distance, x)
		r.Left = append(r.Left, 0.1+0.03*x)
		x += 0.05 * (1 + 0.3*math.Sin(float64(i)))
	}
	p, w, err := FromReadings(r)
	if err != nil {
		t.Fatal(err)
	}
	if _, ok := kinds(w)[UnevenSpacing]; !ok {
		t.Errorf("uneven spacing is not told: %v", w)
	}
	for i, z := range p.Left {
		if want := 0.1 + 0.03*(p.Start+float64(i)*p.Step); math.Abs(z-want) > 1e-12 {
			t.Errorf("grid point %d is %.12f m; want %.12f", i, z, want)
		}
	}
	if _, to := p.Extent(); math.Abs(to-r.Distance[299]) > 1e-9 {
		t.Errorf("profile ends at %g m; readings at %g", to, r.Distance[299])
	}
}

func TestReadingsFaults(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(r *Readings)
		want   []FaultKind
	}{
		{"nothing", func(r *Readings) { *r = Readings{} }, []FaultKind{TooFewReadings, NoHeights}},
		{"no heights", func(r *Readings) { r.Left, r.Right = nil, nil }, []FaultKind{NoHeights}},
		{"lengths", func(r *Readings) { r.Left = r.Left[:50] }, []FaultKind{LengthsDiffer}},
		{"backwards", func(r *Readings) { r.Distance[9] = 2 }, []FaultKind{GoesBackwards}},
		{"standing", func(r *Readings) { r.Distance[9] = r.Distance[8] }, []FaultKind{GoesBackwards}},
		{"not a number", func(r *Readings) { r.Left[3] = math.NaN() }, []FaultKind{NotFinite}},
		{"distance not a number", func(r *Readings) { r.Distance[3] = math.Inf(1) }, []FaultKind{NotFinite}},
		{"all at once", func(r *Readings) {
			r.Left[3] = math.NaN()
			r.Distance[9] = 2
			r.Right = r.Right[:7]
		}, []FaultKind{LengthsDiffer, NotFinite, GoesBackwards}},
		{"five metres", func(r *Readings) { *r = even(5, 100) }, []FaultKind{SpacingTooWide}},
		{"a tenth of a millimetre", func(r *Readings) { *r = even(0.0001, 100) }, []FaultKind{SpacingTooClose}},
		{"a long gap", func(r *Readings) {
			for i := 50; i < 100; i++ {
				r.Distance[i] += 20
			}
		}, []FaultKind{GapTooLong}},
		{"mountain", func(r *Readings) { r.Left[9] = 1e5 }, []FaultKind{HeightTooGreat}},
	} {
		r := even(0.05, 100)
		c.change(&r)
		_, _, err := FromReadings(r)
		var faults Faults
		if !errors.As(err, &faults) {
			t.Errorf("%s: got %v; want Faults", c.name, err)
			continue
		}
		ok := len(faults) == len(c.want) && faults.Error() != ""
		for i := range faults {
			ok = ok && faults[i].Kind == c.want[i] && faults[i].Count > 0
		}
		if !ok {
			t.Errorf("%s: %v; want kinds %v", c.name, err, c.want)
		}
	}
	r := even(0.05, 100)
	r.Distance[9] = 2
	_, _, err := FromReadings(r)
	var faults Faults
	if errors.As(err, &faults); len(faults) != 1 || faults[0].First != 9 || faults[0].Value != 2 {
		t.Errorf("distance 2 m at reading 9 is told as %v", err)
	}
}

// Whatever is read, the answer is faults or a profile of finite heights.
func TestReadingsNeverBreak(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		number := rapid.OneOf(rapid.Float64(), rapid.Float64Range(0, 10), rapid.SampledFrom([]float64{math.NaN(), math.Inf(1), 0, 1e308}))
		var r Readings
		if rapid.Bool().Draw(t, "rising") {
			x := 0.0
			for range rapid.IntRange(0, 40).Draw(t, "n") {
				x += rapid.Float64Range(1e-3, 2).Draw(t, "by")
				r.Distance = append(r.Distance, x)
				r.Left = append(r.Left, rapid.Float64Range(-1, 1).Draw(t, "z"))
			}
		} else {
			r.Distance = rapid.SliceOfN(number, 0, 20).Draw(t, "distance")
			r.Left = rapid.SliceOfN(number, 0, 20).Draw(t, "left")
			r.Right = rapid.SliceOfN(number, 0, 20).Draw(t, "right")
		}
		p, _, err := FromReadings(r)
		if err != nil {
			var faults Faults
			if !errors.As(err, &faults) || len(faults) == 0 {
				t.Fatalf("untyped error %v", err)
			}
			return
		}
		if err := p.Check(); err != nil {
			t.Fatal(err)
		}
		if w, err := p.Enveloped(0.3); err != nil || w.Check() != nil {
			t.Fatal(err)
		}
	})
}
