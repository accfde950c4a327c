package numeric

import (
	"errors"
	"math"
	"testing"

	"gonum.org/v1/gonum/interp"
	"pgregory.net/rapid"
)

// risingTable draws a table of 2 to 30 uneven rows that rises or stands still.
func risingTable(t *rapid.T, strictly bool) (x, y []float64) {
	n := rapid.IntRange(2, 30).Draw(t, "rows")
	least := 0.0
	if strictly {
		least = 1e-3
	}
	x, y = make([]float64, n), make([]float64, n)
	x[0] = rapid.Float64Range(-1, 1).Draw(t, "first place")
	y[0] = rapid.Float64Range(-50, 50).Draw(t, "first value")
	for i := 1; i < n; i++ {
		x[i] = x[i-1] + rapid.Float64Range(1e-3, 0.3).Draw(t, "step")
		y[i] = y[i-1] + rapid.Float64Range(least, 1000).Draw(t, "rise")
	}
	return x, y
}

func TestCurveAgainstGonum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x, y := risingTable(t, false)
		if rapid.Bool().Draw(t, "turning") {
			for i := range y {
				y[i] *= math.Cos(float64(i))
			}
		}
		c, err := NewCurve(x, y)
		if err != nil {
			t.Fatal(err)
		}
		var want interp.FritschButland
		if err := want.Fit(x, y); err != nil {
			t.Fatal(err)
		}
		high, steep := 0.0, 0.0
		for i := range y {
			high = math.Max(high, math.Abs(y[i]))
			if i > 0 {
				steep = math.Max(steep, math.Abs((y[i]-y[i-1])/(x[i]-x[i-1])))
			}
		}
		for i := 1; i < len(x); i++ {
			for _, share := range []float64{0, 0.013, 0.31, 0.5, 0.77, 0.999, 1} {
				at := x[i-1] + share*(x[i]-x[i-1])
				at = math.Min(at, x[len(x)-1])
				got, slope := c.At(at)
				// A place is rounded to 2e-16 of its size, the slopes take part
				// in the value: some tens of roundings in all.
				if w := want.Predict(at); math.Abs(got-w) > 1e-14*(high+steep*(1+math.Abs(at))) {
					t.Fatalf("value %.17g at %g, gonum has %.17g", got, at, w)
				}
				if w := want.PredictDerivative(at); math.Abs(slope-w) > 1e-11*steep {
					t.Fatalf("slope %.17g at %g, gonum has %.17g", slope, at, w)
				}
			}
		}
	})
}

func TestCurveNeverTurnsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x, y := risingTable(t, false)
		c, err := NewCurve(x, y)
		if err != nil {
			t.Fatal(err)
		}
		from, to := x[0]-0.1, x[len(x)-1]+0.1
		before, _ := c.At(from)
		for i := 1; i <= 500; i++ {
			at := from + (to-from)*float64(i)/500
			v, slope := c.At(at)
			if room := 1e-12 * (1 + math.Abs(v)); v < before-room || slope < -1e-9*(y[len(y)-1]-y[0])-1e-300 {
				t.Fatalf("falls to %g with slope %g at %g in a table that never falls", v, slope, at)
			}
			before = v
		}
	})
}

// The slope is that of the value, and the value is the slope of the integral:
// at uneven places inside, at the rows and outside.
func TestCurveSlopeAndIntegral(t *testing.T) {
	c, err := NewCurve([]float64{-0.02, 0, 0.013, 0.05, 0.061}, []float64{-300, 0, 410, 900, 2600})
	if err != nil {
		t.Fatal(err)
	}
	const h = 1e-6
	for _, x := range []float64{-0.05, -0.0211, -0.011, 0.0017, 0.0071, 0.0239, 0.0411, 0.0571, 0.07, 0.2} {
		v, slope := c.At(x)
		up, _ := c.At(x + h)
		down, _ := c.At(x - h)
		if d := (up - down) / (2 * h); math.Abs(d-slope) > 1e-5*math.Abs(slope) {
			t.Errorf("slope %g at %g m, differences give %g", slope, x, d)
		}
		if d := (c.Integral(x+h) - c.Integral(x-h)) / (2 * h); math.Abs(d-v) > 1e-6*(1+math.Abs(v)) {
			t.Errorf("the integral rises by %g at %g m, the value is %g", d, x, v)
		}
	}
	if c.Integral(-0.02) != 0 {
		t.Errorf("integral to the first row %g, want 0", c.Integral(-0.02))
	}
	// Simpson's rule is exact for cubics: the sum over the pieces is the integral.
	sum := 0.0
	for i := 1; i < len(c.x); i++ {
		mid, _ := c.At(0.5 * (c.x[i] + c.x[i-1]))
		sum += (c.x[i] - c.x[i-1]) / 6 * (c.y[i-1] + 4*mid + c.y[i])
		if got := c.Integral(c.x[i]); math.Abs(got-sum) > 1e-13 {
			t.Errorf("integral to row %d is %.15g J, Simpson's rule gives %.15g J", i, got, sum)
		}
	}
	for x, want := range map[float64]bool{-0.021: true, -0.02: false, 0.03: false, 0.061: false, 0.0611: true} {
		if c.Outside(x) != want {
			t.Errorf("Outside(%g) is %t", x, !want)
		}
	}
	if c.First() != -0.02 || c.Last() != 0.061 {
		t.Errorf("ends %g and %g", c.First(), c.Last())
	}
}

func TestCurveInverse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x, y := risingTable(t, true)
		c, err := NewCurve(x, y)
		if err != nil {
			t.Fatal(err)
		}
		want := y[0] + rapid.Float64Range(0, 1.2).Draw(t, "share")*(y[len(y)-1]-y[0])
		at, ok := c.Inverse(want)
		_, end := c.At(x[len(x)-1])
		if !ok {
			if want > y[len(y)-1] && end == 0 {
				return // goes on level: never gets there
			}
			t.Fatalf("no place for %g", want)
		}
		if got, slope := c.At(at); math.Abs(got-want) > 1e-13*(1+math.Abs(want))+4e-16*slope*(1+math.Abs(at)) {
			t.Fatalf("%g at %g, want %g", got, at, want)
		}
	})
	c, _ := NewCurve([]float64{0, 1, 2}, []float64{5, 5, 5})
	if _, ok := c.Inverse(5.1); ok {
		t.Error("a level table reaches a value above it")
	}
	c, _ = NewCurve([]float64{0, 1, 2}, []float64{0, 2, 3})
	if _, ok := c.Inverse(math.NaN()); ok {
		t.Error("a place was found for what is not a number")
	}
}

func TestNewCurveRefuses(t *testing.T) {
	for name, c := range map[string]struct{ x, y []float64 }{
		"one row":        {[]float64{1}, []float64{1}},
		"nothing":        {nil, nil},
		"uneven":         {[]float64{1, 2}, []float64{1}},
		"backwards":      {[]float64{1, 0}, []float64{1, 2}},
		"a place twice":  {[]float64{1, 1}, []float64{1, 2}},
		"not a number":   {[]float64{0, 1}, []float64{1, math.NaN()}},
		"endless":        {[]float64{0, math.Inf(1)}, []float64{1, 2}},
		"unnumbered row": {[]float64{math.NaN(), 1}, []float64{1, 2}},
	} {
		if _, err := NewCurve(c.x, c.y); !errors.Is(err, ErrTable) {
			t.Errorf("%s: error %v, want %v", name, err, ErrTable)
		}
	}
}

func TestCurveReadsWithoutAllocation(t *testing.T) {
	c, _ := NewCurve([]float64{0, 1, 2}, []float64{0, 2, 3})
	if n := testing.AllocsPerRun(100, func() {
		c.At(1.3)
		c.Inverse(2.2)
		c.Integral(0.4)
	}); n != 0 {
		t.Errorf("%g allocations", n)
	}
}

func benchmarkCurve(b *testing.B, rows int) {
	x, y := make([]float64, rows), make([]float64, rows)
	for i := range x {
		x[i] = float64(i) + 0.3*math.Sin(float64(i))
		y[i] = x[i] * x[i]
	}
	c, err := NewCurve(x, y)
	if err != nil {
		b.Fatal(err)
	}
	places := make([]float64, 1024)
	for i := range places {
		places[i] = float64(rows-1) * math.Abs(math.Sin(1.7*float64(i)))
	}
	sum, i := 0.0, 0
	for b.Loop() {
		v, s := c.At(places[i&1023])
		sum += v + s
		i++
	}
	_ = sum
}

func BenchmarkCurveOf5(b *testing.B)  { benchmarkCurve(b, 5) }
func BenchmarkCurveOf12(b *testing.B) { benchmarkCurve(b, 12) }
func BenchmarkCurveOf40(b *testing.B) { benchmarkCurve(b, 40) }
