package comfort

import (
	"math"
	"math/cmplx"
)

// Weighting is one frequency weighting of ISO 2631-1, as the corner
// frequencies of its analogue filter.
//
//	H(s)  = Hh(s)·Hl(s)·Ht(s)·Hs(s),  s = j·2π·f,  w_i = 2π·f_i
//	Hh(s) = s²/(s² + √2·w1·s + w1²)
//	Hl(s) = 1/(1 + √2·s/w2 + (s/w2)²)
//	Ht(s) = (1 + s/w3)/(1 + s/(Q4·w4) + (s/w4)²)
//	Hs(s) = (1 + s/(Q5·w5) + (s/w5)²)/(1 + s/(Q6·w6) + (s/w6)²)·(w5/w6)²
//
// Hh and Hl limit the band, Ht goes from acceleration to velocity, Hs is an
// upward step. A corner of zero leaves its section out, so the zero value
// changes nothing (an unweighted channel).
//
// Source: ISO 2631-1:1997 annex A, table A.1; ISO 8041-1:2017 table 3.
type Weighting struct {
	Name string // as the standard writes it

	HighPass   float64 // f1, lower limit of the band [Hz]
	LowPass    float64 // f2, upper limit of the band [Hz]
	Zero       float64 // f3, acceleration to velocity, numerator [Hz]
	Transition float64 // f4, acceleration to velocity, denominator [Hz]
	QuTrans    float64 // Q4, resonance quality at f4 [-]
	StepLow    float64 // f5, upward step, numerator [Hz]
	QuStepLow  float64 // Q5, resonance quality at f5 [-]
	StepHigh   float64 // f6, upward step, denominator [Hz]
	QuStepHigh float64 // Q6, resonance quality at f6 [-]
}

// The weightings of ISO 2631-1:1997 table A.1 used for a seated person.
var (
	// Wk is for vertical acceleration at the seat surface.
	Wk = Weighting{
		Name: "Wk", HighPass: 0.4, LowPass: 100, Zero: 12.5, Transition: 12.5, QuTrans: 0.63,
		StepLow: 2.37, QuStepLow: 0.91, StepHigh: 3.35, QuStepHigh: 0.91,
	}
	// Wd is for fore-and-aft and lateral acceleration at the seat surface.
	Wd = Weighting{Name: "Wd", HighPass: 0.4, LowPass: 100, Zero: 2, Transition: 2, QuTrans: 0.63}
	// Wc is for fore-and-aft acceleration at the seat back.
	Wc = Weighting{Name: "Wc", HighPass: 0.4, LowPass: 100, Zero: 8, Transition: 8, QuTrans: 0.63}
	// We is for angular acceleration at the seat.
	We = Weighting{Name: "We", HighPass: 0.4, LowPass: 100, Zero: 1, Transition: 1, QuTrans: 0.63}
	// BandLimit keeps 0.4 to 100 Hz and weights nothing.
	BandLimit = Weighting{Name: "band limit", HighPass: 0.4, LowPass: 100}
	// Unweighted passes everything.
	Unweighted = Weighting{Name: "unweighted"}
)

// Response returns the complex response [-] of the analogue weighting at a
// frequency [Hz]. A negative or non-finite frequency answers zero.
//
// Source: ISO 2631-1:1997 annex A; see Weighting.
func (w Weighting) Response(frequency float64) complex128 {
	if !(frequency >= 0) || math.IsInf(frequency, 1) {
		return 0
	}
	h := complex(1, 0)
	if w.HighPass > 0 {
		r := frequency / w.HighPass
		h *= complex(-r*r, 0) / complex(1-r*r, math.Sqrt2*r)
	}
	if w.LowPass > 0 {
		r := frequency / w.LowPass
		h /= complex(1-r*r, math.Sqrt2*r)
	}
	if w.Transition > 0 && w.Zero > 0 {
		h *= complex(1, frequency/w.Zero) / second(frequency/w.Transition, w.QuTrans)
	}
	if w.StepLow > 0 && w.StepHigh > 0 {
		ratio := w.StepLow / w.StepHigh
		h *= second(frequency/w.StepLow, w.QuStepLow) / second(frequency/w.StepHigh, w.QuStepHigh) *
			complex(ratio*ratio, 0)
	}
	return h
}

// second is 1 + j·r/Q − r², a second-order factor at r times its corner.
func second(r, q float64) complex128 { return complex(1-r*r, r/q) }

// Gain returns the magnitude [-] of the analogue weighting at a frequency
// [Hz].
func (w Weighting) Gain(frequency float64) float64 { return cmplx.Abs(w.Response(frequency)) }

// Phase returns the phase [rad] of the analogue weighting at a frequency [Hz],
// unwrapped so that it falls steadily from +π at standstill to −3π/2 far above
// the band where the weighting has all its sections.
func (w Weighting) Phase(frequency float64) float64 {
	if !(frequency >= 0) || math.IsInf(frequency, 1) {
		return 0
	}
	// Each factor stays within one branch of the arctangent, so the sum of
	// the factors is unwrapped where the phase of the product would jump.
	phase := 0.0
	angle := func(r, q float64) float64 { return math.Atan2(r/q, 1-r*r) }
	if w.HighPass > 0 {
		phase += math.Pi - angle(frequency/w.HighPass, math.Sqrt2/2)
	}
	if w.LowPass > 0 {
		phase -= angle(frequency/w.LowPass, math.Sqrt2/2)
	}
	if w.Transition > 0 && w.Zero > 0 {
		phase += math.Atan(frequency/w.Zero) - angle(frequency/w.Transition, w.QuTrans)
	}
	if w.StepLow > 0 && w.StepHigh > 0 {
		phase += angle(frequency/w.StepLow, w.QuStepLow) - angle(frequency/w.StepHigh, w.QuStepHigh)
	}
	return phase
}

// check refuses a weighting whose corners or qualities make no filter.
func (w Weighting) check() error {
	for _, c := range []struct {
		what  string
		value float64
	}{
		{"high-pass corner", w.HighPass},
		{"low-pass corner", w.LowPass},
		{"transition numerator corner", w.Zero},
		{"transition corner", w.Transition},
		{"step lower corner", w.StepLow},
		{"step upper corner", w.StepHigh},
	} {
		if !(c.value >= 0) || c.value > 1e4 {
			return &InputError{c.what, c.value, "between 0 (left out) and 10000 Hz"}
		}
	}
	qualities := []struct {
		what  string
		value float64
		used  bool
	}{
		{"transition quality", w.QuTrans, w.Transition > 0 && w.Zero > 0},
		{"step lower quality", w.QuStepLow, w.StepLow > 0 && w.StepHigh > 0},
		{"step upper quality", w.QuStepHigh, w.StepLow > 0 && w.StepHigh > 0},
	}
	for _, q := range qualities {
		if q.used && (!(q.value >= 0.05) || q.value > 100) {
			return &InputError{q.what, q.value, "between 0.05 and 100"}
		}
	}
	return nil
}
