package road

import "math"

// ReferenceWaveNumber is n0, the wave number [cycle/m] at which ISO 8608 states
// the roughness of a road.
const ReferenceWaveNumber = 0.1

// Spectrum is the displacement power spectral density of a road, one-sided,
// over wave number.
//
//	Gd(n) = Gd(n0)·(n/n0)^−w,  n0 = 0.1 cycle/m
//
// Source: ISO 8608:2016 annex B.
type Spectrum struct {
	Roughness float64 // Gd(n0) [m³]
	Waviness  float64 // w [-]; 2 for the classes of the standard
}

// At returns the displacement spectral density [m³] at a wave number
// [cycle/m]; zero where there is none.
func (s Spectrum) At(n float64) float64 {
	if !(n > 0) {
		return 0
	}
	r := ReferenceWaveNumber / n
	if s.Waviness == 2 {
		return s.Roughness * r * r
	}
	return s.Roughness * math.Pow(r, s.Waviness)
}

// PerRadian returns the density [m³] over angular wave number at Ω0 = 1
// rad/m, Gd(Ω0) = Gd(n)/(2·π) at n = Ω0/(2·π). For w = 2 it is Gd(n0)/15.915.
//
// Source: change of variable, derived here; the standard rounds the result (1
// for class A).
func (s Spectrum) PerRadian() float64 { return s.At(1/(2*math.Pi)) / (2 * math.Pi) }

// Slope returns the spectral density of the slope [m] at a wave number
// [cycle/m], (2·π·n)²·Gd(n): the same at all wave numbers for w = 2.
//
// Source: derived here.
func (s Spectrum) Slope(n float64) float64 { return 4 * math.Pi * math.Pi * n * n * s.At(n) }

// Displacement returns the density over frequency [m²/Hz] that a wheel sees at
// a frequency [Hz] and a speed [m/s], Gd(f/v)/v.
//
// Source: f = v·n, derived here.
func (s Spectrum) Displacement(frequency, speed float64) float64 {
	if !(speed > 0) {
		return 0
	}
	return s.At(frequency/speed) / speed
}

// Velocity returns the density of the road's vertical velocity [(m/s)²/Hz] at
// a frequency [Hz] and a speed [m/s]. For w = 2 it is white: (2·π·n0)²·Gd(n0)·v.
//
// Source: derived here.
func (s Spectrum) Velocity(frequency, speed float64) float64 {
	w := 2 * math.Pi * frequency
	return w * w * s.Displacement(frequency, speed)
}

// Deviation returns the standard deviation [m] of the height between two wave
// numbers [cycle/m], √∫Gd dn.
//
// Source: integral, derived here.
func (s Spectrum) Deviation(from, to float64) float64 {
	if !(from > 0) || !(to >= from) {
		return 0
	}
	return math.Sqrt(s.Roughness * ReferenceWaveNumber * powerIntegral(from/ReferenceWaveNumber, to/ReferenceWaveNumber, s.Waviness))
}

// SlopeDeviation returns the standard deviation of the slope [-] between two
// wave numbers [cycle/m].
//
// Source: integral, derived here.
func (s Spectrum) SlopeDeviation(from, to float64) float64 {
	if !(from >= 0) || !(to >= from) {
		return 0
	}
	n0 := ReferenceWaveNumber
	return 2 * math.Pi * math.Sqrt(s.Roughness*n0*n0*n0*powerIntegral(from/n0, to/n0, s.Waviness-2))
}

// powerIntegral is ∫ x^−w dx between two limits.
func powerIntegral(from, to, w float64) float64 {
	if w == 1 {
		return math.Log(to / from)
	}
	return (math.Pow(to, 1-w) - math.Pow(from, 1-w)) / (1 - w)
}

// check refuses a spectrum that is none.
func (s Spectrum) check() error {
	if err := need("roughness Gd(n0)", s.Roughness, 0, 1, "m³"); err != nil {
		return err
	}
	return need("waviness", s.Waviness, 1, 4, "")
}

// Class is a roughness class of ISO 8608.
type Class int

// The classes, smoothest first.
const (
	ClassA Class = iota
	ClassB
	ClassC
	ClassD
	ClassE
	ClassF
	ClassG
	ClassH
)

func (c Class) String() string {
	if c < ClassA || c > ClassH {
		return "no class"
	}
	return string("ABCDEFGH"[c])
}

// Roughness returns Gd(n0) [m³] at the geometric mean of the class, 16e-6 for
// class A and four times as much for each class after it; zero for no class.
//
// Source: ISO 8608:2016 table C.1.
func (c Class) Roughness() float64 {
	if c < ClassA || c > ClassH {
		return 0
	}
	return math.Ldexp(16e-6, 2*int(c))
}

// Limits returns the lower and upper limit of Gd(n0) [m³] of the class: half
// and twice its geometric mean. The standard gives no lower limit for class A
// (0 here) and no upper one for class H (infinite).
//
// Source: ISO 8608:2016 table C.1 (limits from memory).
func (c Class) Limits() (lower, upper float64) {
	g := c.Roughness()
	lower, upper = g/2, 2*g
	if c == ClassA {
		lower = 0
	}
	if c == ClassH {
		upper = math.Inf(1)
	}
	return lower, upper
}

// Spectrum returns the spectrum at the geometric mean of the class, w = 2.
func (c Class) Spectrum() Spectrum { return Spectrum{Roughness: c.Roughness(), Waviness: 2} }

// ClassOf returns the class a roughness Gd(n0) [m³] falls into; the upper limit
// belongs to the smoother class. ok is false for a value that is no roughness.
func ClassOf(roughness float64) (c Class, ok bool) {
	if !(roughness >= 0) || math.IsInf(roughness, 1) {
		return 0, false
	}
	for c = ClassA; c < ClassH; c++ {
		if _, upper := c.Limits(); roughness <= upper {
			return c, true
		}
	}
	return ClassH, true
}
