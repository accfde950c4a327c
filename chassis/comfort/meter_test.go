package comfort

import (
	"errors"
	"math"
	"math/cmplx"
	"testing"

	"pgregory.net/rapid"
)

// The digital filter is the analogue one: magnitude where the band is, within
// the errors its comment states.
func TestFilterGain(t *testing.T) {
	for _, r := range []struct{ step, most31, most80 float64 }{
		{1e-4, 1e-4, 1e-4}, {5e-4, 4e-4, 2.1e-3}, {1e-3, 1.3e-3, 8e-3}, {1.5e-3, 2.5e-3, 1.75e-2}, {2e-3, 4e-3, 2.9e-2},
	} {
		for _, w := range []Weighting{Wk, Wd, Wc, We, BandLimit} {
			f, err := NewFilter(w, r.step)
			if err != nil {
				t.Fatal(err)
			}
			if e := f.GainError(0.1, 31.5); e > r.most31 {
				t.Errorf("%s at step %g s: gain %.4f %% off up to 31.5 Hz; stated %.4f %%", w.Name, r.step, 100*e, 100*r.most31)
			}
			if e := f.GainError(0.1, 80); e > r.most80 {
				t.Errorf("%s at step %g s: gain %.4f %% off up to 80 Hz; stated %.4f %%", w.Name, r.step, 100*e, 100*r.most80)
			}
		}
	}
}

// A sine through Next comes out with the magnitude and phase of Response.
func TestFilterRunsAsItsResponse(t *testing.T) {
	for _, freq := range []float64{0.73, 3.1, 17.9, 61} {
		const step = 7.3e-4
		f, err := NewFilter(Wk, step)
		if err != nil {
			t.Fatal(err)
		}
		var re, im float64
		const run = 60000
		window := 0.0
		for i := range run {
			phase := 2 * math.Pi * freq * step * float64(i)
			y := f.Next(math.Sin(phase))
			if i > run/3 {
				// A Hann window keeps the ends from counting.
				u := float64(i-run/3) / float64(run-run/3)
				w := 1 - math.Cos(2*math.Pi*u)
				re += w * y * math.Sin(phase)
				im += w * y * math.Cos(phase)
				window += w / 2
			}
		}
		got, want := complex(re/window, im/window), f.Response(freq)
		if d := cmplx.Abs(got - want); d > 1e-5 {
			t.Errorf("at %g Hz the filter runs as %.6f; its response says %.6f", freq, got, want)
		}
	}
}

// Twice the acceleration is twice every figure, at any level.
func TestMeterScales(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		scale := rapid.Float64Range(1e-3, 1e3).Draw(t, "scale")
		samples := rapid.SliceOfN(rapid.Float64Range(-20, 20), 2, 400).Draw(t, "samples")
		one, err := NewMeter(Wk, 1.3e-3)
		if err != nil {
			t.Fatal(err)
		}
		two, _ := NewMeter(Wk, 1.3e-3)
		for _, a := range samples {
			one.Add(a)
			two.Add(scale * a)
		}
		s1, err1 := one.Result()
		s2, err2 := two.Result()
		if err1 != nil || err2 != nil {
			t.Fatal(err1, err2)
		}
		for _, pair := range [][2]float64{
			{s1.RMS, s2.RMS},
			{s1.VDV, s2.VDV},
			{s1.MTVV, s2.MTVV},
			{s1.MTVVSlow, s2.MTVVSlow},
			{s1.Peak, s2.Peak},
			{s1.RawRMS, s2.RawRMS},
		} {
			if math.Abs(pair[1]-scale*pair[0]) > 1e-9*scale*math.Max(s1.RawPeak, 1e-9) {
				t.Fatalf("%g times the acceleration gave %g for %g", scale, pair[1], pair[0])
			}
		}
		if s1.RMS > s1.Peak*(1+1e-12) || s1.MTVV*math.Sqrt(RunningTime) < 0 {
			t.Fatalf("mean %g above peak %g", s1.RMS, s1.Peak)
		}
	})
}

// The running maximum is that of a plain window sum, also after the ring has
// turned many times.
func TestRunningMaximum(t *testing.T) {
	const step = 2.7e-3
	m, err := NewMeter(Unweighted, step)
	if err != nil {
		t.Fatal(err)
	}
	n := int(math.Round(RunningTime / step))
	var all []float64
	for i := range 5000 {
		a := math.Sin(float64(i)*0.11)*math.Exp(-math.Pow(float64(i-3100)/700, 2)) + 1e-3*float64(i%7)
		m.Add(a)
		all = append(all, a)
	}
	want := 0.0
	for end := range all {
		sum := 0.0
		for i := max(0, end-n+1); i <= end; i++ {
			sum += all[i] * all[i]
		}
		want = math.Max(want, math.Sqrt(sum/float64(n)))
	}
	s, err := m.Result()
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(s.MTVV/want-1) > 1e-12 {
		t.Errorf("running maximum is %.15g; a plain window gives %.15g", s.MTVV, want)
	}
}

// Begin leaves a run-in out; Reset makes the meter as new.
func TestBeginAndReset(t *testing.T) {
	m, _ := NewMeter(Wk, 1e-3)
	fresh, _ := NewMeter(Wk, 1e-3)
	for range 500 {
		m.Add(40)
	}
	m.Begin()
	for range 20000 {
		m.Add(0)
	}
	if s, err := m.Result(); err != nil || s.Duration != 20 || s.RawPeak != 0 {
		t.Errorf("after Begin: %+v, %v", s, err)
	}
	m.Reset()
	for i := range 3000 {
		a := math.Sin(0.02 * float64(i))
		m.Add(a)
		fresh.Add(a)
	}
	a, _ := m.Result()
	b, _ := fresh.Result()
	if a != b {
		t.Errorf("after Reset %+v; a new meter gives %+v", a, b)
	}
}

func TestDoubts(t *testing.T) {
	m, _ := NewMeter(BandLimit, 1e-3)
	for i := range 60000 {
		a := 0.01 * math.Sin(0.1*float64(i))
		if i == 30000 {
			a = 500
		}
		m.Add(a)
	}
	s, err := m.Result()
	if err != nil {
		t.Fatal(err)
	}
	if got := s.Doubts(); len(got) != 3 {
		t.Errorf("one blow in a minute of calm raises %v; want all three doubts", got)
	}
	m.Reset()
	for i := range 60000 {
		m.Add(math.Sin(0.1 * float64(i)))
	}
	if s, _ := m.Result(); len(s.Doubts()) != 0 {
		t.Errorf("a steady sine raises %v; want none", s.Doubts())
	}
}

func TestBadInputIsRefused(t *testing.T) {
	var bad *InputError
	for _, step := range []float64{0, -1, math.NaN(), math.Inf(1), 1, 0.01, 1e-9} {
		if _, err := NewFilter(Wk, step); !errors.As(err, &bad) {
			t.Errorf("step %g s: got %v; want an *InputError", step, err)
		}
		if _, err := NewMeter(Wd, step); !errors.As(err, &bad) {
			t.Errorf("step %g s: got %v; want an *InputError", step, err)
		}
	}
	for _, w := range []Weighting{
		{HighPass: math.NaN()},
		{HighPass: -1},
		{LowPass: 450},
		{Transition: 8, Zero: 8},
		{StepLow: 2, StepHigh: 3, QuStepLow: math.NaN(), QuStepHigh: 1},
		{HighPass: 300},
	} {
		if _, err := NewFilter(w, 1e-3); !errors.As(err, &bad) {
			t.Errorf("weighting %+v: got %v; want an *InputError", w, err)
		}
	}
	m, _ := NewMeter(Wk, 1e-3)
	if _, err := m.Result(); !errors.As(err, &bad) {
		t.Errorf("nothing added: got %v; want an *InputError", err)
	}
	m.Add(1)
	m.Add(math.NaN())
	m.Add(math.Inf(-1))
	if _, err := m.Result(); !errors.As(err, &bad) || bad.Value != 2 {
		t.Errorf("two bad samples: got %v; want an *InputError that counts 2", err)
	}
	m.Reset()
	m.Add(1e200)
	if _, err := m.Result(); !errors.As(err, &bad) {
		t.Errorf("a square past the largest number: got %v; want an *InputError", err)
	}
	if _, err := Total(Part{RMS: -1, Multiplier: 1}); !errors.As(err, &bad) {
		t.Errorf("negative mean: got %v; want an *InputError", err)
	}
	for _, x := range []float64{-1, math.NaN(), math.Inf(1)} {
		if got := Reactions(x); got != nil {
			t.Errorf("reactions to %g: %v; want none", x, got)
		}
		if got := Wk.Gain(x); got != 0 {
			t.Errorf("gain at %g Hz: %v; want 0", x, got)
		}
	}
}

func TestTotal(t *testing.T) {
	got, err := Total(Part{0.3, 1}, Part{0.5, 0.8}, Part{0.2, 0.63})
	want := math.Sqrt(0.09 + 0.16 + 0.126*0.126)
	if err != nil || math.Abs(got-want) > 1e-15 {
		t.Errorf("total is %g, %v; want %g", got, err, want)
	}
	if n := len(Seated()); n != 12 {
		t.Errorf("%d axes of a seated person; want 12", n)
	}
}

func TestAddAllocatesNothing(t *testing.T) {
	m, _ := NewMeter(Wk, 1e-3)
	if n := testing.AllocsPerRun(1000, func() { m.Add(0.3) }); n != 0 {
		t.Errorf("Add allocates %g times", n)
	}
}

func BenchmarkAdd(b *testing.B) {
	m, err := NewMeter(Wk, 1e-3)
	if err != nil {
		b.Fatal(err)
	}
	for i := range b.N {
		m.Add(float64(i&15) - 7.5)
	}
}
