package road

import (
	"errors"
	"math"
	"slices"
	"sync"
	"testing"
)

// The same seed gives the same road for any number of workers, another seed
// another road.
func TestGenerateRepeats(t *testing.T) {
	r := UsualRoad(ClassB.Spectrum(), 137.31)
	make1 := func() *Generator {
		g, err := NewGenerator(r)
		if err != nil {
			t.Fatal(err)
		}
		return g
	}
	one := make1()
	var want []Profile
	for seed := range uint64(8) {
		want = append(want, one.Generate(seed))
	}
	for _, workers := range []int{1, 2, 3, 8} {
		got := make([]Profile, 8)
		var wait sync.WaitGroup
		for w := range workers {
			wait.Add(1)
			go func() {
				defer wait.Done()
				g, err := NewGenerator(r)
				if err != nil {
					return
				}
				for seed := 7 - w; seed >= 0; seed -= workers {
					got[seed] = g.Generate(uint64(seed))
				}
			}()
		}
		wait.Wait()
		for seed := range got {
			if !slices.Equal(got[seed].Left, want[seed].Left) || !slices.Equal(got[seed].Right, want[seed].Right) {
				t.Errorf("%d workers: seed %d gives another road", workers, seed)
			}
		}
	}
	if slices.Equal(want[0].Left, want[1].Left) {
		t.Error("two seeds give the same road")
	}
	if n := len(want[0].Left); n != 5494 || float64(n-1)*r.Step < r.Length {
		t.Errorf("%d points of 25 mm for 137.31 m", n)
	}
}

// A rougher road of one seed is the same road scaled; one track only makes both
// the same; a narrower band is the same road with waves taken out.
func TestGenerateKeepsPhases(t *testing.T) {
	generate := func(change func(r *Random)) Profile {
		r := UsualRoad(Spectrum{64e-6, 2}, 500)
		change(&r)
		g, err := NewGenerator(r)
		if err != nil {
			t.Fatal(err)
		}
		return g.Generate(11)
	}
	base := generate(func(*Random) {})
	rough := generate(func(r *Random) { r.Spectrum.Roughness = 256e-6 })
	single := generate(func(r *Random) { r.TrackDistance = 0 })
	for _, i := range []int{3, 777, 15001} {
		if math.Abs(rough.Left[i]-2*base.Left[i]) > 1e-12 || math.Abs(rough.Right[i]-2*base.Right[i]) > 1e-12 {
			t.Errorf("point %d of a road of four times the density is not twice as high", i)
		}
		if math.Abs(single.Left[i]-single.Right[i]) > 1e-12 {
			t.Errorf("point %d of a single track differs between the sides", i)
		}
	}
	// Waves from 0.05 to 2 cycle/m plus those outside are the whole.
	inner := generate(func(r *Random) { r.Longest, r.Shortest = 0.05, 2 })
	low := generate(func(r *Random) { r.Shortest = 0.05 - 0.001 })
	high := generate(func(r *Random) { r.Longest = 2 + 0.001 })
	if len(inner.Left) != len(base.Left) {
		t.Fatal("the band changes the length")
	}
	for _, i := range []int{12, 4321, 19000} {
		if sum := inner.Left[i] + low.Left[i] + high.Left[i]; math.Abs(sum-base.Left[i]) > 1e-9 {
			t.Errorf("point %d: parts give %.9f m; the whole is %.9f", i, sum, base.Left[i])
		}
	}
}

// The heights are near Gaussian: the fourth moment of slopes, which many
// harmonics make up, is three times the square of the second.
func TestGenerateGaussian(t *testing.T) {
	g, err := NewGenerator(UsualRoad(ClassC.Spectrum(), 5000))
	if err != nil {
		t.Fatal(err)
	}
	p := g.Generate(3)
	for side, z := range [][]float64{p.Left, p.Right} {
		var two, four float64
		for i := 1; i < len(z); i++ {
			s := (z[i] - z[i-1]) / p.Step
			two += s * s
			four += s * s * s * s
		}
		n := float64(len(z) - 1)
		if kurtosis := four / n / (two / n * two / n); math.Abs(kurtosis-3) > 0.1 {
			t.Errorf("side %d: kurtosis of the slope is %.3f; a Gaussian has 3", side, kurtosis)
		}
	}
}

func TestGenerateRefusals(t *testing.T) {
	nan := math.NaN()
	var bad *InputError
	for i, change := range []func(r *Random){
		func(r *Random) { r.Spectrum.Roughness = nan },
		func(r *Random) { r.Spectrum.Roughness = -1 },
		func(r *Random) { r.Spectrum.Waviness = 0.5 },
		func(r *Random) { r.Length = 0 },
		func(r *Random) { r.Length = nan },
		func(r *Random) { r.Length = 1e9 },
		func(r *Random) { r.Step = 0 },
		func(r *Random) { r.Step = 0.1 },
		func(r *Random) { r.TrackDistance = -1 },
		func(r *Random) { r.Longest = 0 },
		func(r *Random) { r.Longest = nan },
		func(r *Random) { r.Shortest = nan },
		func(r *Random) { r.Shortest = 0.005 },
		func(r *Random) { r.Longest, r.Shortest = 0.01001, 0.01002 },
		func(r *Random) { r.Longest, r.Step, r.Shortest = 1e-4, 1e-3, 100; r.Length = 1e6 },
	} {
		r := UsualRoad(ClassA.Spectrum(), 100)
		change(&r)
		if _, err := NewGenerator(r); !errors.As(err, &bad) {
			t.Errorf("change %d: got %v; want an *InputError", i, err)
		}
	}
	if _, ok := ClassOf(nan); ok {
		t.Error("NaN has a class")
	}
	if c := ClassH + 1; c.Roughness() != 0 || c.String() != "no class" {
		t.Error("a class that is none has a roughness")
	}
}

// The Bessel function of half orders has a closed form: K½(x) = √(π/2x)·e^−x,
// K_{3/2} the same times (1 + 1/x).
func TestBesselHalfOrders(t *testing.T) {
	for _, x := range []float64{1e-6, 3.1e-3, 0.17, 1.3, 2.7, 9.1, 33, 140, 600} {
		half := math.Sqrt(math.Pi/(2*x)) * math.Exp(-x)
		for _, r := range []struct{ nu, want float64 }{{0.5, half}, {1.5, half * (1 + 1/x)}} {
			if got := besselK(r.nu, x); math.Abs(got/r.want-1) > 2e-13 {
				t.Errorf("K_%g(%g) is %.16g; want %.16g", r.nu, x, got, r.want)
			}
		}
	}
	// Abramowitz and Stegun, table 9.8.
	if got := besselK(0, 1); math.Abs(got-0.4210244382) > 0.5e-10 {
		t.Errorf("K0(1) is %.12g; want 0.4210244382", got)
	}
}

func TestFitFindsWhatWasPutIn(t *testing.T) {
	for _, s := range []Spectrum{{30e-6, 1.7}, {200e-6, 2.3}} {
		r := UsualRoad(s, 4000)
		g, err := NewGenerator(r)
		if err != nil {
			t.Fatal(err)
		}
		free, _, err := Fit(g.Generate(5).Right, r.Step)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(free.Roughness/s.Roughness-1) > 0.06 || math.Abs(free.Waviness-s.Waviness) > 0.05 {
			t.Errorf("put in %+v; found %+v", s, free)
		}
	}
	var bad *InputError
	if _, _, err := Fit(make([]float64, 3), 0.05); !errors.As(err, &bad) {
		t.Errorf("three heights: got %v; want an *InputError", err)
	}
	if _, _, err := Fit(make([]float64, 5000), 0.05); !errors.As(err, &bad) {
		t.Errorf("a flat road: got %v; want an *InputError", err)
	}
	if _, _, err := Fit([]float64{15: math.NaN()}, 0.05); !errors.As(err, &bad) {
		t.Errorf("not a number: got %v; want an *InputError", err)
	}
}

func TestIndexRefusals(t *testing.T) {
	var bad *InputError
	for _, step := range []float64{0, -1, 5, math.NaN()} {
		if _, err := Index(make([]float64, 1000), step, true); !errors.As(err, &bad) {
			t.Errorf("step %g: got %v; want an *InputError", step, err)
		}
	}
	if _, err := Index(make([]float64, 100), 0.1, true); !errors.As(err, &bad) {
		t.Errorf("ten metres: got %v; want an *InputError", err)
	}
	if _, err := Index([]float64{900: math.NaN()}, 0.1, true); !errors.As(err, &bad) {
		t.Errorf("not a number: got %v; want an *InputError", err)
	}
	// A plane, however steep, has no roughness.
	z := make([]float64, 900)
	for i := range z {
		z[i] = 0.07 * float64(i) * 0.1
	}
	if got, err := Index(z, 0.1, true); err != nil || got > 1e-12 {
		t.Errorf("an even slope has an index of %g, %v; want 0", got, err)
	}
}

// thousandMetres is 30 s at 120 km/h.
func thousandMetres(b *testing.B) *Generator {
	b.Helper()
	g, err := NewGenerator(UsualRoad(ClassB.Spectrum(), 1000))
	if err != nil {
		b.Fatal(err)
	}
	return g
}

func BenchmarkNewGenerator(b *testing.B) {
	for range b.N {
		thousandMetres(b)
	}
}

func BenchmarkGenerate(b *testing.B) {
	g := thousandMetres(b)
	for i := range b.N {
		g.Generate(uint64(i))
	}
}

func BenchmarkSample(b *testing.B) {
	p := thousandMetres(b).Generate(1)
	dst := make([]float64, 30000)
	for range b.N {
		p.Sample(LeftTrack, dst, 0, 0.033333)
	}
}

func BenchmarkAveraged(b *testing.B) {
	p := thousandMetres(b).Generate(1)
	for range b.N {
		if _, err := p.Averaged(0.15); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkEnveloped(b *testing.B) {
	p := thousandMetres(b).Generate(1)
	for range b.N {
		if _, err := p.Enveloped(0.31); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkIndex(b *testing.B) {
	p := thousandMetres(b).Generate(1)
	for range b.N {
		if _, err := Index(p.Left, p.Step, true); err != nil {
			b.Fatal(err)
		}
	}
}
