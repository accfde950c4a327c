package numeric

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"
)

var wheelTravel = []float64{-0.09, -0.061, -0.03, 0, 0.032, 0.06, 0.088}

func readTable(x []float64, coefficients ...float64) []float64 {
	y := make([]float64, len(x))
	for i := range x {
		for j := len(coefficients) - 1; j >= 0; j-- {
			y[i] = (y[i] + coefficients[j]) * x[i]
		}
	}
	return y
}

func TestExactTableIsReproduced(t *testing.T) {
	x := []float64{-0.08, -0.033, 0.021, 0.047, 0.09} // five places, degree 4, none at zero
	y := readTable(x, 0.93, 0.4, -3.1, 21)
	for _, c := range []struct {
		name string
		x, y []float64
	}{
		{"five away from the origin", x, y},
		{"four and the origin", append(x[:4:4], 0), append(y[:4:4], 0)},
	} {
		for _, sigma := range []float64{1e-9, 0} {
			f, err := FitThroughZero(c.x, c.y, sigma, 4)
			if err != nil {
				t.Fatal(err)
			}
			if f.N != 4 || f.Misread != -1 || !f.Curved {
				t.Errorf("%s, reading error %g: degree %d, misread %d, curved %t; want 4, -1, true", c.name, sigma, f.N, f.Misread, f.Curved)
			}
			for i, want := range []float64{0.93, 0.4, -3.1, 21} {
				if math.Abs(f.C[i]-want) > 1e-10*math.Pow(20, float64(i+1)) {
					t.Errorf("%s, reading error %g: coefficient %d is %.12g, want %g", c.name, sigma, i+1, f.C[i], want)
				}
			}
			for i, res := range f.Residual {
				if math.Abs(res) > 1e-15 {
					t.Errorf("%s: reading %d is missed by %g m", c.name, i, res)
				}
			}
		}
	}
}

func TestFewReadings(t *testing.T) {
	f, err := FitThroughZero([]float64{0, 0.05}, []float64{0, 0.045}, 1e-4, 4)
	if err != nil || f.N != 1 || f.Curved || math.Abs(f.C[0]-0.9) > 1e-15 {
		t.Errorf("the origin and one reading: degree %d, curved %t, rate %g, %v", f.N, f.Curved, f.C[0], err)
	}
	// σ of the rate is σ/x.
	if want := 1e-4 / 0.05; math.Abs(f.Root[0][0]/want-1) > 1e-13 {
		t.Errorf("standard error of the rate %g, want %g", f.Root[0][0], want)
	}
	f, err = FitThroughZero([]float64{-0.05, 0.05}, []float64{-0.045, 0.0451}, 1e-4, 4)
	if err != nil || f.N != 1 || f.Curved {
		t.Errorf("two readings on a line: degree %d, curved %t, %v", f.N, f.Curved, err)
	}
	// Read twice at one place: two places, never degree 3.
	f, err = FitThroughZero([]float64{0.03, 0.03, 0.06}, []float64{0.03, 0.02, 0.09}, 1e-5, 4)
	if err != nil || f.N > 2 || f.Spread < 1e-3 {
		t.Errorf("a place read twice with 10 mm between: degree %d, spread %g m, %v", f.N, f.Spread, err)
	}
	f, err = FitThroughZero(wheelTravel, readTable(wheelTravel, 0.9, 2), 1e-4, 1)
	if err != nil || f.N != 1 || f.Spread < 1e-3 {
		t.Errorf("curved readings held to a line: degree %d, spread %g m, %v", f.N, f.Spread, err)
	}
	for name, bad := range map[string]func() (Fit, error){
		"nothing":        func() (Fit, error) { return FitThroughZero(nil, nil, 1, 4) },
		"zero only":      func() (Fit, error) { return FitThroughZero([]float64{0, 0}, []float64{0, 0}, 1, 4) },
		"uneven":         func() (Fit, error) { return FitThroughZero([]float64{1, 2}, []float64{1}, 1, 4) },
		"not a number":   func() (Fit, error) { return FitThroughZero([]float64{1}, []float64{math.NaN()}, 1, 4) },
		"no degree":      func() (Fit, error) { return FitThroughZero(wheelTravel, wheelTravel, 1, 0) },
		"error unknown":  func() (Fit, error) { return FitThroughZero(wheelTravel, wheelTravel, math.NaN(), 2) },
		"endless places": func() (Fit, error) { return FitThroughZero([]float64{math.Inf(1)}, []float64{1}, 1, 1) },
	} {
		if _, err := bad(); !errors.Is(err, ErrTable) {
			t.Errorf("%s: error %v, want %v", name, err, ErrTable)
		}
	}
}

func TestMisreadReadingIsFound(t *testing.T) {
	const sigma = 0.0005
	for _, c := range [][]float64{{0.9}, {0.9, 0.4}, {0.9, 2.1}} {
		for at := range wheelTravel {
			y := readTable(wheelTravel, c...)
			y[at] += 0.01
			f, err := FitThroughZero(wheelTravel, y, sigma, 4)
			if err != nil {
				t.Fatal(err)
			}
			if f.Misread != at {
				t.Errorf("%v: reading %d is 10 mm off, %d is called misread (degree %d)", c, at, f.Misread, f.N)
				continue
			}
			if wheelTravel[at] == 0 {
				continue
			}
			// It does not bend the curve, and the band shows that something is off.
			if f.N > 2 || f.Spread < 4*sigma {
				t.Errorf("%v: reading %d is 10 mm off: degree %d, spread %g m", c, at, f.N, f.Spread)
			}
		}
	}
}

// Sound tables: the drawn coefficients must hold the truth as often as they say,
// and a sound reading must seldom be called misread.
func TestFitBandHoldsTheTruth(t *testing.T) {
	const n, sigma, rate, bend = 4000, 0.0005, 0.9, 1.3
	rng := rand.New(rand.NewPCG(11, 7))
	inside, misread, high := 0, 0, 0
	for range n {
		y := readTable(wheelTravel, rate, bend)
		for i := range y {
			if wheelTravel[i] != 0 {
				y[i] += sigma * rng.NormFloat64()
			}
		}
		f, err := FitThroughZero(wheelTravel, y, sigma, 4)
		if err != nil {
			t.Fatal(err)
		}
		if f.Misread >= 0 {
			misread++
		}
		if f.N > 2 {
			high++
		}
		_, slope, _ := f.At(0)
		if math.Abs(slope-rate) <= 1.96*f.Root[0][0] {
			inside++
		}
	}
	// Binomial standard error of a share of 0.95 in 4000 is 0.0034.
	if share := float64(inside) / n; share < 0.93 || share > 0.98 {
		t.Errorf("the 95 %% band of the motion ratio holds the truth in %.1f %%", 100*share)
	}
	if share := float64(misread) / n; share > 0.02 {
		t.Errorf("%.1f %% of sound tables are said to hold a misread reading", 100*share)
	}
	if share := float64(high) / n; share > 0.06 {
		t.Errorf("%.1f %% of quadratic tables get a higher degree; the χ² test lets 5 %%", 100*share)
	}
	t.Logf("inside %.4f, misread %.4f, higher degree %.4f", float64(inside)/n, float64(misread)/n, float64(high)/n)
}

// A sound table that takes another degree is curved, not misread at its ends.
func TestCurvedTableIsNotMisread(t *testing.T) {
	const n, sigma = 1000, 0.0002
	uneven := []float64{-0.04, 0, 0.03, 0.06, 0.09}
	for _, c := range []struct{ x, coefficients []float64 }{
		{wheelTravel, []float64{0.9, 1.3, 8}},
		{uneven, []float64{0.9, 0.3}}, // 21 % are called misread when one more degree is enough
		{uneven, []float64{0.9, 1.3, 8}},
	} {
		rng := rand.New(rand.NewPCG(2, 9))
		misread := 0
		for range n {
			y := readTable(c.x, c.coefficients...)
			for i := range y {
				if c.x[i] != 0 {
					y[i] += sigma * rng.NormFloat64()
				}
			}
			f, err := FitThroughZero(c.x, y, sigma, 4)
			if err != nil {
				t.Fatal(err)
			}
			if f.Misread >= 0 {
				misread++
			}
		}
		if share := float64(misread) / n; share > 0.03 {
			t.Errorf("%.1f %% of sound tables of %d rows with %v are said to hold a misread reading", 100*share, len(c.x), c.coefficients)
		}
	}
}

// The reading error is understated fivefold: the band must tell.
func TestFitWidensItsBand(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 5))
	x := make([]float64, 25)
	for i := range x {
		x[i] = -0.09 + 0.0076*float64(i)
	}
	y := readTable(x, 0.9, 1.3)
	for i := range y {
		y[i] += 0.001 * rng.NormFloat64()
	}
	f, err := FitThroughZero(x, y, 0.0002, 4)
	if err != nil {
		t.Fatal(err)
	}
	if f.N > 2 {
		t.Errorf("degree %d, though the terms above 2 better nothing", f.N)
	}
	if f.Spread < 0.0007 || f.Spread > 0.0013 {
		t.Errorf("spread of a reading %g m, want about 0.001", f.Spread)
	}
}

// Root·Rootᵀ against the covariance of the normal equations, solved by hand for
// two coefficients.
func TestFitCovariance(t *testing.T) {
	const sigma = 0.0004
	f, err := FitThroughZero(wheelTravel, readTable(wheelTravel, 0.9, 1.3), sigma, 2)
	if err != nil {
		t.Fatal(err)
	}
	var s2, s3, s4 float64
	for _, x := range wheelTravel {
		s2, s3, s4 = s2+x*x, s3+x*x*x, s4+x*x*x*x
	}
	det := s2*s4 - s3*s3
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"variance of the rate", f.Root[0][0] * f.Root[0][0], sigma * sigma * s4 / det},
		{"covariance", f.Root[0][0] * f.Root[1][0], -sigma * sigma * s3 / det},
		{"variance of the bend", f.Root[1][0]*f.Root[1][0] + f.Root[1][1]*f.Root[1][1], sigma * sigma * s2 / det},
	} {
		if math.Abs(c.got/c.want-1) > 1e-11 {
			t.Errorf("%s %g, want %g", c.name, c.got, c.want)
		}
	}
	if f.Root[0][1] != 0 || f.Root[0][0] <= 0 || f.Root[1][1] <= 0 {
		t.Errorf("not a lower factor with a positive diagonal: %v", f.Root)
	}
}
