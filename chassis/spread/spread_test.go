package spread

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"sort"
	"sync/atomic"
	"testing"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"
)

func TestEveryStratumIsDrawnOnce(t *testing.T) {
	const samples, dims = 500, 40
	tab := NewTable(99, samples, dims, 2)
	for d := range dims {
		seen := make([]bool, samples)
		for k := range samples {
			v := tab.Draw(k)[d]
			u := 0.5 * (1 + v.Uniform)
			if !(u > 0 && u < 1) {
				t.Fatalf("draw %d of dimension %d lies at %g of its range", k, d, u)
			}
			if s := int(u * samples); seen[s] {
				t.Fatalf("stratum %d of dimension %d is drawn twice", s, d)
			} else {
				seen[s] = true
			}
			// Both shapes are the same place of their distributions.
			if p := distuv.UnitNormal.CDF(v.Normal95 * Normal95); math.Abs(p-u) > 1e-9 {
				t.Fatalf("draw %d of dimension %d: normal at %.12g, uniform at %.12g of the distribution", k, d, p, u)
			}
		}
	}
}

func TestDrawsHaveTheShapesTheyClaim(t *testing.T) {
	const samples = 2000
	tab := NewTable(5, samples, 3, 2)
	for d := range 3 {
		n, u := make([]float64, samples), make([]float64, samples)
		for k := range samples {
			n[k], u[k] = tab.Draw(k)[d].Normal95, tab.Draw(k)[d].Uniform
		}
		// ±1 is 95 % of the normal; a uniform from −1 to 1 has deviation 1/√3.
		low, high, ok := Band(n, 0.95, nil)
		if !ok || math.Abs(low+1) > 0.005 || math.Abs(high-1) > 0.005 {
			t.Errorf("dimension %d: 95 %% of the normal draws lie in %g…%g, want ±1", d, low, high)
		}
		if s := stat.StdDev(n, nil); math.Abs(s*Normal95-1) > 0.005 {
			t.Errorf("dimension %d: the normal draws have deviation %g, want %g", d, s, 1/Normal95)
		}
		if s := stat.StdDev(u, nil); math.Abs(s*math.Sqrt(3)-1) > 0.002 || math.Abs(stat.Mean(u, nil)) > 1e-3 {
			t.Errorf("dimension %d: the uniform draws have mean %g and deviation %g", d, stat.Mean(u, nil), s)
		}
	}
}

func TestDimensionsAreNearlyUncorrelated(t *testing.T) {
	const samples, dims = 2000, 30
	tab := NewTable(17, samples, dims, 2)
	cols := make([][]float64, dims)
	for d := range cols {
		cols[d] = make([]float64, samples)
		for k := range samples {
			cols[d][k] = tab.Draw(k)[d].Normal95
		}
	}
	sum, pairs := 0.0, 0
	for a := range dims {
		for b := range a {
			r := stat.Correlation(cols[a], cols[b], nil)
			// Five standard errors of a correlation of independent draws.
			if math.Abs(r) > 5/math.Sqrt(samples) {
				t.Errorf("dimensions %d and %d are correlated by %g", a, b, r)
			}
			sum += r * r
			pairs++
		}
	}
	if mean := sum / float64(pairs) * samples; mean < 0.7 || mean > 1.3 {
		t.Errorf("the squared correlations are %g times those of independent draws", mean)
	}
}

func TestDrawsStayWhenAnInputIsAdded(t *testing.T) {
	few, many, other := NewTable(3, 300, 7, 2), NewTable(3, 300, 19, 2), NewTable(4, 300, 7, 2)
	differ := false
	for k := range 300 {
		for d := range 7 {
			if few.Draw(k)[d] != many.Draw(k)[d] {
				t.Fatalf("draw %d of dimension %d changes when dimensions are added", k, d)
			}
			differ = differ || few.Draw(k)[d] != other.Draw(k)[d]
		}
	}
	if !differ {
		t.Error("another seed gives the same draws")
	}
}

// McKay, Beckman and Conover 1979: of a sum of functions of one input each, the
// stratified mean scatters far less than that of simple random draws.
func TestStratifiedMeanIsCloser(t *testing.T) {
	const samples, rounds = 100, 200
	squares := 0.0
	for seed := range uint64(rounds) {
		tab := NewTable(seed, samples, 3, 2)
		m := 0.0
		for k := range samples {
			z := tab.Draw(k)
			m += math.Exp(z[0].Uniform) + 2*z[1].Uniform - z[2].Uniform*z[2].Uniform
		}
		m = m/samples - (math.Sinh(1) - 1.0/3)
		squares += m * m
	}
	// Variance of one draw: e^u has (sinh 2)/2 − sinh²1, 2u 4/3, u² 4/45.
	simple := (math.Sinh(2)/2 - math.Pow(math.Sinh(1), 2) + 4.0/3 + 4.0/45) / samples
	if ratio := squares / rounds / simple; ratio > 1e-3 {
		t.Errorf("the stratified mean has %g of the variance of simple draws", ratio)
	}
}

func TestBandAgainstSorting(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.SliceOfN(rapid.Float64Range(-1e3, 1e3), 20, 300).Draw(t, "values")
		if rapid.Bool().Draw(t, "ties") {
			for i := range v {
				v[i] = math.Round(v[i] / 300)
			}
		}
		share := rapid.Float64Range(0, 1).Draw(t, "share")
		kept := append([]float64(nil), v...)
		low, high, ok := Band(append(v, math.NaN(), math.NaN()), share, nil)
		if !ok {
			t.Fatal("no band")
		}
		sort.Float64s(kept)
		at := func(p float64) float64 {
			x := p * float64(len(kept)-1)
			i := min(int(x), len(kept)-2)
			return kept[i] + (x-float64(i))*(kept[i+1]-kept[i])
		}
		wl, wh := at(0.5*(1-share)), at(0.5*(1+share))
		if math.Abs(low-wl) > 1e-9 || math.Abs(high-wh) > 1e-9 || low > high+1e-9 {
			t.Fatalf("band %g…%g, sorted %g…%g", low, high, wl, wh)
		}
	})
	if _, _, ok := Band(make([]float64, 19), 0.95, nil); ok {
		t.Error("19 values have a band")
	}
	if _, _, ok := Band(make([]float64, 50), 1.1, nil); ok {
		t.Error("110 % of the values have a band")
	}
}

func TestShares(t *testing.T) {
	v := []float64{1, 2, math.NaN(), 3, 6}
	if s := ShareBelow(v, 2); s != 0.25 {
		t.Errorf("share below 2 is %g, want 0.25", s)
	}
	none := []float64{math.NaN()}
	if !math.IsNaN(ShareBelow(none, 0)) {
		t.Error("no values have a share")
	}
}

// y = 4z₀ + 2z₃ + z₇: shares 16, 4 and 1 of 21, by hand.
func TestSharesOfASum(t *testing.T) {
	tab := NewTable(21, 2000, 60, 2)
	y := make([]float64, tab.Samples)
	for k := range y {
		z := tab.Draw(k)
		y[k] = 11 + 4*z[0].Normal95 + 2*z[3].Normal95 + z[7].Normal95
	}
	want := map[int]float64{0: 16.0 / 21, 3: 4.0 / 21, 7: 1.0 / 21}
	reg := tab.Regression()
	slopes, ok := reg.Slopes(y)
	if !ok {
		t.Fatal("no slopes")
	}
	for d := range tab.Dims {
		slope := map[int]float64{0: 4, 3: 2, 7: 1}[d]
		if math.Abs(slopes[d]-slope) > 1e-11 {
			t.Errorf("slope of dimension %d is %.14g, want %g", d, slopes[d], slope)
		}
		// The shares differ from the ideal by the correlations of the draws:
		// a standard error is √(2/n)·…, 0.03 is four of them.
		for name, in := range map[string]Influence{"correlation": tab.Influences(y)[d], "regression": reg.Influences(y)[d]} {
			if in.Dim != d || math.Abs(in.Share-want[d]) > 0.03 {
				t.Errorf("%s: dimension %d has %g of the variance, want %g", name, in.Dim, in.Share, want[d])
			}
		}
	}
	// Some draws have no answer: the rest still gives the slopes.
	for k := 0; k < len(y); k += 9 {
		y[k] = math.NaN()
	}
	if slopes, ok = reg.Slopes(y); !ok || math.Abs(slopes[3]-2) > 1e-11 || math.Abs(slopes[4]) > 1e-11 {
		t.Errorf("with draws left out the slopes are %v (%t)", slopes, ok)
	}
	if s := reg.Influences(y)[0].Share; math.Abs(s-16.0/21) > 0.03 {
		t.Errorf("with draws left out dimension 0 has %g of the variance", s)
	}
}

// Idle dimensions add up: this is what Regression is for.
func TestIdleDimensionsHaveNoShare(t *testing.T) {
	for seed := range uint64(10) {
		tab := NewTable(seed, 256, 120, 2)
		rng := rand.New(rand.NewPCG(seed, 1))
		y := make([]float64, tab.Samples)
		for k := range y {
			z := tab.Draw(k)
			y[k] = z[0].Normal95 + 0.5*z[1].Normal95 + 0.05*z[0].Normal95*z[1].Normal95 + 0.01*rng.NormFloat64()
		}
		idle := func(in []Influence) (sum float64) {
			for _, i := range in[2:] {
				sum += i.Share
			}
			return sum
		}
		byRegression, byCorrelation := idle(tab.Regression().Influences(y)), idle(tab.Influences(y))
		if byRegression > 0.02 {
			t.Errorf("seed %d: 118 idle dimensions have %g of the variance by regression", seed, byRegression)
		}
		// By correlation each would have 1/255, 0.46 in all, were chance not
		// taken off; half of its scatter stays.
		if byCorrelation < 0.05 || byCorrelation > 0.35 {
			t.Errorf("seed %d: 118 idle dimensions have %g of the variance by correlation", seed, byCorrelation)
		}
		if seed == 0 {
			t.Logf("118 idle dimensions: %.4f by regression, %.4f by correlation", byRegression, byCorrelation)
		}
	}
}

func TestFewDrawsFallBackOnCorrelation(t *testing.T) {
	tab := NewTable(2, 60, 50, 2)
	y := sampleOf(tab)
	if _, ok := tab.Regression().Slopes(y); ok {
		t.Error("60 draws fix 50 slopes")
	}
	got, want := tab.Regression().Influences(y), tab.Influences(y)
	for d := range got {
		if got[d] != want[d] {
			t.Fatalf("dimension %d: %v, by correlation %v", d, got[d], want[d])
		}
	}
	for _, in := range tab.Influences(make([]float64, 60)) {
		if in.Share != 0 {
			t.Errorf("a constant has a share %g from dimension %d", in.Share, in.Dim)
		}
	}
}

// y = 3z₀ + 4z₁ has the band ±5; with z₀ exact ±4, with z₁ exact ±3. By hand.
func TestBandIfExact(t *testing.T) {
	tab := NewTable(8, 2000, 5, 2)
	y := make([]float64, tab.Samples)
	for k := range y {
		y[k] = 100 + 3*tab.Draw(k)[0].Normal95 + 4*tab.Draw(k)[1].Normal95
	}
	reg := tab.Regression()
	slopes, _ := reg.Slopes(y)
	for d, want := range []float64{4, 3, 5} {
		low, high, ok := reg.BandIfExact(y, slopes, d, 0.95, nil)
		if !ok || math.Abs(0.5*(high-low)-want) > 0.05*want || math.Abs(0.5*(high+low)-100) > 0.2 {
			t.Errorf("with input %d exact the band is %g…%g, want 100 ± %g", d, low, high, want)
		}
	}
	if _, _, ok := reg.BandIfExact(y, slopes, 5, 0.95, nil); ok {
		t.Error("an input that is not there was held")
	}
}

func TestEachAtOnce(t *testing.T) {
	for _, n := range []int{0, 1, 3, 17, 1000} {
		for _, workers := range []int{-1, 1, 2, 7} {
			count := make([]atomic.Int32, n)
			err := Each(context.Background(), n, workers, func(w, i int) {
				if w < 0 || w >= max(1, workers) {
					t.Errorf("worker %d of %d", w, workers)
				}
				count[i].Add(1)
			})
			if err != nil {
				t.Fatal(err)
			}
			for i := range count {
				if c := count[i].Load(); c != 1 {
					t.Fatalf("%d items, %d workers: item %d was done %d times", n, workers, i, c)
				}
			}
		}
	}
}

func TestEachStopsAtOnceWhenTold(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	const workers = 2
	var done, late atomic.Int32
	err := Each(ctx, 1_000_000, workers, func(_, _ int) {
		if ctx.Err() != nil {
			late.Add(1)
		}
		if done.Add(1) == 50 {
			cancel()
		}
	})
	if !errors.Is(err, context.Canceled) {
		t.Errorf("error %v, want %v", err, context.Canceled)
	}
	// Each worker ends with the item it is at, not with its handful. How many it does
	// before it is told hangs on the machine; what it begins after that does not.
	if n := late.Load(); n > workers || done.Load() < 50 {
		t.Errorf("%d items were begun after the stop, %d done in all", n, done.Load())
	}
}
