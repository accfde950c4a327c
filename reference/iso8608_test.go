package reference

import (
	"math"
	"testing"

	"trunnion/chassis/road"
	"trunnion/reference/validation"
)

// ISO 8608:2016 table C.1: Gd(n0) of the classes, geometric mean and limits (the
// limits from memory; they are the mean times ½ and 2).
func TestRoadClasses(t *testing.T) {
	validation.Against(t, "Road classes", validation.Printed, "ISO 8608:2016, table C.1")
	for i, r := range []struct {
		name               string
		lower, mean, upper float64 // 1e-6 m³
	}{
		{"A", 0, 16, 32},
		{"B", 32, 64, 128},
		{"C", 128, 256, 512},
		{"D", 512, 1024, 2048},
		{"E", 2048, 4096, 8192},
		{"F", 8192, 16384, 32768},
		{"G", 32768, 65536, 131072},
		{"H", 131072, 262144, math.Inf(1)},
	} {
		c := road.Class(i)
		lower, upper := c.Limits()
		near := func(got, want float64) bool { return got == want*1e-6 || !validation.Share(t, got, want*1e-6, 1e-15) }
		if c.String() != r.name || !near(c.Roughness(), r.mean) || !near(lower, r.lower) || !near(upper, r.upper) {
			t.Errorf("class %v: %g %g %g m³; table C.1 says %v", c, lower, c.Roughness(), upper, r)
		}
		if got, ok := road.ClassOf(r.mean * 1e-6); !ok || !validation.Same(t, got, c) {
			t.Errorf("%g e-6 m³ is class %v; want %s", r.mean, got, r.name)
		}
	}
}

// The classes at 1 rad/m, and the slope density, derived here; the standard
// rounds 1.0053 to 1. Taking 16e-6 at 1 rad/m makes a road 15.9 times too rough.
func TestRoadClassesPerRadian(t *testing.T) {
	validation.Against(t, "Road spectra by wave number and slope", validation.Derived, "ISO 8608:2016, change of variable")
	for i, r := range []struct{ perRadian, slope float64 }{
		{1.00530965, 6.31654682},
		{4.02123860, 25.2661873},
		{16.0849544, 101.064749},
		{64.3398178, 404.258996},
		{257.359270, 1617.03599},
		{1029.43708, 6468.14394},
		{4117.74832, 25872.5758},
		{16470.9933, 103490.303},
	} {
		s := road.Class(i).Spectrum()
		if got := s.PerRadian() * 1e6; validation.Share(t, got, r.perRadian, 5e-9) {
			t.Errorf("class %v at 1 rad/m: %.9g e-6 m³; want %.9g", road.Class(i), got, r.perRadian)
		}
		for _, n := range []float64{0.013, 0.37, 5.1} {
			if got := s.Slope(n) * 1e6; validation.Share(t, got, r.slope, 5e-9) {
				t.Errorf("class %v slope density at %g cycle/m: %.9g e-6 m; want %.9g", road.Class(i), n, got, r.slope)
			}
		}
	}
	a := road.ClassA.Spectrum()
	if got := a.Roughness / a.PerRadian(); validation.Share(t, got, 15.9154943, 1e-8) {
		t.Errorf("Gd(n0)/Gd(Ω0) is %.9g; want 15.9154943", got)
	}
}

// Standard deviation of a band-limited class profile, derived here from the
// integral of the spectrum.
func TestRoadDeviation(t *testing.T) {
	validation.Against(t, "Height of a band-limited road", validation.Derived, "integral of the spectrum")
	for _, r := range []struct {
		class         road.Class
		from, to      float64
		height, slope float64 // mm, mm/m
	}{
		{road.ClassA, 0.011, 2.83, 3.80643106, 4.21975657},
		{road.ClassB, 0.011, 2.83, 7.61286213, 8.43951313},
		{road.ClassC, 0.011, 2.83, 15.2257243, 16.8790263},
		{road.ClassA, 0.01, 10, 3.99799950, 0},
	} {
		s := r.class.Spectrum()
		if got := 1000 * s.Deviation(r.from, r.to); validation.Share(t, got, r.height, 1e-8) {
			t.Errorf("class %v %g–%g cycle/m: %.9g mm; want %.9g", r.class, r.from, r.to, got, r.height)
		}
		if got := 1000 * s.SlopeDeviation(r.from, r.to); r.slope > 0 && validation.Share(t, got, r.slope, 1e-8) {
			t.Errorf("class %v %g–%g cycle/m: slope %.9g mm/m; want %.9g", r.class, r.from, r.to, got, r.slope)
		}
	}
}

// The sum of harmonics of one period: its standard deviation does not depend on
// the phases. L = 1000 m, harmonics 11 to 2830, class A: 3.89487954 mm; L = 100
// m, harmonics 2 to 283: 3.20351490 mm. Derived here.
func TestGeneratedDeviation(t *testing.T) {
	validation.Against(t, "Generated roads: height", validation.Derived, "sum of harmonics")
	for _, r := range []struct {
		length, from, to, step, want float64
	}{
		{1000, 0.011, 2.83, 0.025, 3.89487954},
		{1000, 0.011, 2.83, 0.1, 3.89487954},
		{100, 0.02, 2.83, 0.05, 3.20351490},
	} {
		g, err := road.NewGenerator(road.Random{
			Spectrum: road.ClassA.Spectrum(), Length: r.length, Step: r.step,
			TrackDistance: 1.5, Longest: r.from, Shortest: r.to,
		})
		if err != nil {
			t.Fatal(err)
		}
		if r.length == 1000 && g.Period() != r.length {
			t.Fatalf("period %g m; this check needs %g m", g.Period(), r.length)
		}
		for seed := range uint64(4) {
			p := g.Generate(seed)
			for side, z := range [][]float64{p.Left, p.Right} {
				sum := 0.0
				z = z[:len(z)-1]
				for _, h := range z {
					sum += h * h
				}
				got := 1000 * math.Sqrt(sum/float64(len(z)))
				want := r.want
				if g.Period() != r.length {
					// A short road is cut from a period of at least four of
					// the longest waves; compare with the same sum over that.
					want = harmonicSum(g.Period(), r.from, r.to)
					z := wholePeriod(t, r.length, r.from, r.to, r.step, seed, side)
					sum = 0
					for _, h := range z {
						sum += h * h
					}
					got = 1000 * math.Sqrt(sum/float64(len(z)))
				}
				if validation.Share(t, got, want, 1e-6) {
					t.Errorf("length %g m, step %g m, seed %d, side %d: %.9g mm; want %.9g", r.length, r.step, seed, side, got, want)
				}
			}
		}
	}
	if got := harmonicSum(100, 0.02, 2.83); validation.Share(t, got, 3.20351490, 1e-8) {
		t.Errorf("sum of harmonics 2 to 283 of 100 m: %.9g mm; want 3.20351490", got)
	}
}

// harmonicSum is √(Gd(n0)·n0²·L·Σ1/k²) of class A in millimetres.
func harmonicSum(length, from, to float64) float64 {
	sum := 0.0
	for k := math.Ceil(from*length - 1e-6); k <= to*length+1e-6; k++ {
		sum += 1 / (k * k)
	}
	return 1000 * math.Sqrt(16e-6*0.01*length*sum)
}

// wholePeriod returns one whole period of the road that a shorter one is cut
// from.
func wholePeriod(t *testing.T, length, from, to, step float64, seed uint64, side int) []float64 {
	t.Helper()
	r := road.Random{
		Spectrum: road.ClassA.Spectrum(), Length: length, Step: step, TrackDistance: 1.5, Longest: from, Shortest: to,
	}
	g, err := road.NewGenerator(r)
	if err != nil {
		t.Fatal(err)
	}
	r.Length = g.Period()
	if g, err = road.NewGenerator(r); err != nil {
		t.Fatal(err)
	}
	p := g.Generate(seed)
	if side == 0 {
		return p.Left[:len(p.Left)-1]
	}
	return p.Right[:len(p.Right)-1]
}

// From wave number to frequency at 20 m/s, derived here: f = v·n.
func TestRoadInTime(t *testing.T) {
	validation.Against(t, "From wave number to frequency", validation.Derived, "f = v·n")
	for _, r := range []struct {
		name            string
		got, want, most float64
	}{
		{"class A, 1 Hz", road.ClassA.Spectrum().Displacement(1, 20), 3.2e-6, 1e-9},
		{"class A velocity", road.ClassA.Spectrum().Velocity(3.7, 20), 1.26330936e-4, 5e-9},
		{"class A W = G/2", road.ClassA.Spectrum().Velocity(0.9, 20) / 2, 6.31654682e-5, 1e-9},
		{"class B W = G/2", road.ClassB.Spectrum().Velocity(0.9, 20) / 2, 2.52661873e-4, 2e-9},
		{"class C, 1 Hz", road.ClassC.Spectrum().Displacement(1, 20), 5.12e-5, 1e-9},
		{"class C velocity", road.ClassC.Spectrum().Velocity(11, 20), 2.02129498e-3, 2e-9},
		{"class C W = G/2", road.ClassC.Spectrum().Velocity(11, 20) / 2, 1.01064749e-3, 5e-9},
	} {
		if validation.Share(t, r.got, r.want, r.most) {
			t.Errorf("%s: %.10g; want %.9g", r.name, r.got, r.want)
		}
	}
}

// Smoothing bands of ISO 8608 (from memory: octaves to the centre 0.0312, thirds
// to 0.25, twelfths above); what they do to n^−w is derived here.
func TestSmoothingBands(t *testing.T) {
	validation.Against(t, "Smoothing bands of a measured spectrum", validation.Derived, "ISO 8608:2016 (bands from memory)")
	bands := road.Bands(0.011, 2.83)
	kinds := map[float64]int{}
	for i, b := range bands {
		width := math.Round(12*math.Log2(b.Upper/b.Lower)*1e6) / 1e6
		kinds[width]++
		want := map[float64][2]float64{
			12: {0.985171431, 1.02501188}, 4: {0.998334076, 1.00278025}, 1: {0.999895744, 1.00017377},
		}[width]
		if validation.Off(t, b.Mean(2), 1, 1e-9) {
			t.Errorf("band %v: mean of n⁻² is %.12g of its centre; want 1", b, b.Mean(2))
		}
		if validation.Off(t, b.Mean(1.5), want[0], 1e-9) || validation.Share(t, b.Mean(2.5), want[1], 5e-9) {
			t.Errorf("band %v: means %.10g and %.10g; want %v", b, b.Mean(1.5), b.Mean(2.5), want)
		}
		if i > 0 && validation.Share(t, b.Lower, bands[i-1].Upper, 1e-12) {
			t.Errorf("band %v does not follow %v", b, bands[i-1])
		}
		switch {
		case b.Centre < 0.032 && width != 12, b.Centre > 0.033 && b.Centre < 0.251 && width != 4, b.Centre > 0.251 && width != 1:
			t.Errorf("band at %g cycle/m is %g twelfths of an octave wide", b.Centre, width)
		}
	}
	if len(kinds) != 3 {
		t.Errorf("widths met: %v; want octaves, thirds and twelfths", kinds)
	}
	found := false
	for _, b := range bands {
		found = found || math.Abs(b.Centre-0.03125) < 1e-9
	}
	if !found {
		t.Error("no octave at 0.0312 cycle/m")
	}
}

// Coherence of two tracks 1.5 m apart on an isotropic road (Dodds and Robson
// 1973 for isotropy; formula and numbers derived here, closed form and direct
// integration agreeing to 1e-9).
func TestCoherence(t *testing.T) {
	validation.Against(t, "Coherence of two tracks", validation.Derived, "isotropic road, Dodds and Robson 1973; closed form and direct integration")
	for _, r := range []struct{ n, w, want float64 }{
		{0.01, 2, 0.986756421},
		{0.05, 2, 0.841469566},
		{0.1, 2, 0.626418602},
		{0.2, 2, 0.307057069},
		{0.5, 2, 0.0262755630},
		{1, 2, 0.000322481640},
		{0.05, 2.5, 0.889113363},
		{0.1, 2.5, 0.701411502},
		{0.2, 2.5, 0.376191476},
		{0, 2, 1},
		{1000, 2, 0},
	} {
		if got := road.Coherence(r.n, 1.5, r.w); validation.Off(t, got, r.want, 1e-9) {
			t.Errorf("γ(%g), w = %g: %.10g; want %.9g", r.n, r.w, got, r.want)
		}
	}
	// K1 through γ = x·K1(x), Abramowitz and Stegun table 9.8.
	for _, r := range []struct{ x, k1 float64 }{{1, 0.6019072302}, {2, 0.1398658818}} {
		if got := road.Coherence(r.x/(2*math.Pi), 1, 2) / r.x; validation.Off(t, got, r.k1, 0.5e-10) {
			t.Errorf("K1(%g) is %.11g; the table says %.10g", r.x, got, r.k1)
		}
	}
}

// A synthetic pair of 10 km must show the spectrum of its class and the
// coherence it was made with.
func TestGeneratedSpectrum(t *testing.T) {
	validation.Against(t, "Generated roads: spectrum and coherence", validation.Derived, "the class and coherence asked for")
	const length, step = 10000.0, 0.05
	g, err := road.NewGenerator(road.Random{
		Spectrum: road.ClassB.Spectrum(), Length: length, Step: step, TrackDistance: 1.5, Longest: 0.004, Shortest: 8,
	})
	if err != nil {
		t.Fatal(err)
	}
	p := g.Generate(20)
	for side, z := range [][]float64{p.Left, p.Right} {
		free, class, err := road.Fit(z, step)
		if err != nil {
			t.Fatal(err)
		}
		if validation.Share(t, class.Roughness, 64e-6, 0.05) || validation.Off(t, free.Waviness, 2, 0.03) {
			t.Errorf("side %d fits Gd(n0) = %.4g m³, w = %.4f; made with 64e-6 and 2", side, class.Roughness, free.Waviness)
		}
		if c, _ := road.ClassOf(class.Roughness); c != road.ClassB {
			t.Errorf("side %d reads as class %v; made as B", side, c)
		}
	}
	// Mean and difference carry (1 ± γ)/2: their densities give γ back.
	n := len(p.Left)
	mean, half := make([]float64, n), make([]float64, n)
	for i := range n {
		mean[i], half[i] = (p.Left[i]+p.Right[i])/2, (p.Left[i]-p.Right[i])/2
	}
	heave, err := road.Density(mean, step)
	if err != nil {
		t.Fatal(err)
	}
	roll, err := road.Density(half, step)
	if err != nil {
		t.Fatal(err)
	}
	// Whole octaves, so that a band holds enough lines to estimate to 0.05.
	checked := 0
	for from := 0.0125; from < 1.7; from *= 2 {
		var h, r, want float64
		for i, l := range heave {
			if l.WaveNumber >= from && l.WaveNumber < 2*from {
				// Weighted by the density, as the estimate is.
				h += l.Density
				r += roll[i].Density
				want += (l.Density + roll[i].Density) * road.Coherence(l.WaveNumber, 1.5, 2)
			}
		}
		checked++
		want /= h + r
		if got := (h - r) / (h + r); validation.Off(t, got, want, 0.05) {
			t.Errorf("coherence from %.4g to %.4g cycle/m is %.3f; made with %.3f", from, 2*from, got, want)
		}
	}
	if checked < 7 {
		t.Errorf("only %d octaves compared", checked)
	}
}
