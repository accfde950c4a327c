package dyno

import (
	"errors"
	"math"
)

// Oil is how viscosity falls with temperature, from two temperatures at which it is
// known.
//
//	lg lg(ν + 0.7) = A − B·lg T
//
// ν in millionths of m²/s, T in kelvin. Source: ASTM D341 (the equation from memory),
// which holds from about 2 of them up.
type Oil struct{ a, b float64 }

// ErrOil is returned for two viscosities that make no oil.
var ErrOil = errors.New("two viscosities of at least 2e-6, at two temperatures, the warmer one lower")

// thin is the unit that D341 is written in [m^2/s].
const thin = 1e-6

// NewOil takes two temperatures [K] and the kinematic viscosities there [m^2/s].
func NewOil(cold, thick, warm, runny float64) (Oil, error) {
	if !(cold > 0) || !(warm > cold) || !(runny >= 2*thin) || !(thick > runny) || math.IsInf(thick, 0) {
		return Oil{}, ErrOil
	}
	double := func(v float64) float64 { return math.Log10(math.Log10(v/thin + 0.7)) }
	b := (double(thick) - double(runny)) / (math.Log10(warm) - math.Log10(cold))
	return Oil{double(thick) + b*math.Log10(cold), b}, nil
}

// At is the kinematic viscosity [m^2/s] at a temperature [K].
func (o Oil) At(temperature float64) float64 {
	return thin * (math.Pow(10, math.Pow(10, o.a-o.b*math.Log10(temperature))) - 0.7)
}

// Laminar is the share of a force at one temperature that falls with viscosity, from
// the force at another [-]; the rest goes through orifices and does not. ok is false
// when no share from 0 to 1 explains the two.
//
//	F₂/F₁ = λ·ν₂/ν₁ + 1 − λ
//
// Source: derived here: flow through a gap goes with viscosity, through an orifice with
// density, which is taken as constant.
func (o Oil) Laminar(force, at, otherForce, otherAt float64) (share float64, ok bool) {
	share = (otherForce/force - 1) / (o.At(otherAt)/o.At(at) - 1)
	return share, share >= 0 && share <= 1
}

// Scale is the factor on a force [-] from one temperature to another [K] when a share
// of it [-] falls with viscosity.
func (o Oil) Scale(share, from, to float64) float64 {
	return 1 + share*(o.At(to)/o.At(from)-1)
}
