package comfort

import "math"

// The sum over axes is for the comfort index of a road test by telephone (issue 16), which does not ask yet.

// Axis is one place and direction at a seated person, with its weighting and
// multiplying factor for comfort.
type Axis struct {
	Name       string
	Weighting  Weighting
	Multiplier float64 // k [-]; for rotation [m/rad]
}

// Seated lists the twelve axes of a seated person for comfort.
//
// Source: ISO 2631-1:1997 clause 8.2.2.1, from memory.
func Seated() []Axis {
	return []Axis{
		{"seat x", Wd, 1},
		{"seat y", Wd, 1},
		{"seat z", Wk, 1},
		{"back x", Wc, 0.8},
		{"back y", Wd, 0.5},
		{"back z", Wd, 0.4},
		{"feet x", Wk, 0.25},
		{"feet y", Wk, 0.25},
		{"feet z", Wk, 0.4},
		{"seat roll", We, 0.63},
		{"seat pitch", We, 0.4},
		{"seat yaw", We, 0.2},
	}
}

// Part is one axis' share of a total.
type Part struct {
	RMS        float64 // weighted root mean square [m/s²] or [rad/s²]
	Multiplier float64 // k [-] or [m/rad]
}

// Total returns a_v = √Σ(k·a_w)² [m/s²], the vibration total value of several
// axes.
//
// Source: ISO 2631-1:1997 clause 6.5.
func Total(parts ...Part) (float64, error) {
	sum := 0.0
	for _, p := range parts {
		if !(p.RMS >= 0) || math.IsInf(p.RMS, 0) {
			return 0, &InputError{"weighted root mean square", p.RMS, "zero or more"}
		}
		if !(p.Multiplier >= 0) || math.IsInf(p.Multiplier, 0) {
			return 0, &InputError{"multiplying factor", p.Multiplier, "zero or more"}
		}
		sum += p.Multiplier * p.RMS * p.Multiplier * p.RMS
	}
	return math.Sqrt(sum), nil
}
