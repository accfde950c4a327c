package strut

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"trunnion/chassis/geom"
)

func angleBetween(a, b geom.Vec) float64 {
	return math.Atan2(r3.Norm(r3.Cross(a, b)), r3.Dot(a, b))
}

// Section is a round bar or tube.
type Section struct {
	Diameter float64 // outside [m]
	Bore     float64 // 0 for a solid bar [m]
	Modulus  float64 // of elasticity; 0 means Steel [Pa]
}

// Steel is the modulus of elasticity taken where none is given. Source: common
// value of steel at room temperature, e.g. EN 13906-1:2013. [Pa]
const Steel = 206e9

func (s *Section) modulus() float64 {
	if s.Modulus > 0 {
		return s.Modulus
	}
	return Steel
}

// Area returns the section's area [m2].
func (s *Section) Area() float64 {
	return math.Pi / 4 * (s.Diameter*s.Diameter - s.Bore*s.Bore)
}

// Inertia returns the second moment of area [m4].
//
//	I = π·(d⁴ − b⁴)/64
func (s *Section) Inertia() float64 {
	return math.Pi / 64 * (math.Pow(s.Diameter, 4) - math.Pow(s.Bore, 4))
}

// BendingStress returns the stress at the outside [Pa] under a moment [N m].
//
//	σ = 32·M·d/(π·(d⁴ − b⁴))
//
// Source: beam theory, e.g. Shigley ch. 3 and 4 (from memory).
func (s *Section) BendingStress(moment float64) float64 {
	return moment * s.Diameter / 2 / s.Inertia()
}

// Euler returns the force [N] at which a straight slender bar of an effective
// length [m] buckles.
//
//	F = π²·E·I/(K·L)²
//
// Source: L. Euler; Shigley ch. 4 (from memory).
func (s *Section) Euler(length float64) float64 {
	return math.Pi * math.Pi * s.modulus() * s.Inertia() / (length * length)
}

// Buckling returns the force [N] at which a bar of an effective length [m] and a
// yield strength [Pa] buckles: Euler's where it is slender, J. B. Johnson's
// parabola where it is not.
//
//	λ = K·L/i,  λ₁ = √(2·π²·E/S_y);  λ < λ₁: F = A·(S_y − (S_y·λ/(2π))²/E)
//
// A yield strength of 0 is not known: Euler's is given. Source: Shigley ch. 4
// (from memory).
func (s *Section) Buckling(length, yield float64) float64 {
	if !(yield > 0) {
		return s.Euler(length)
	}
	slender := length / math.Sqrt(s.Inertia()/s.Area())
	if slender > math.Sqrt(2*math.Pi*math.Pi*s.modulus()/yield) {
		return s.Euler(length)
	}
	k := yield * slender / (2 * math.Pi)
	return s.Area() * (yield - k*k/s.modulus())
}

// Cantilever returns the deflection [m] of the end of a bar held at the other by
// a force [N] over a length [m].
//
//	δ = F·L³/(3·E·I)
func (s *Section) Cantilever(force, length float64) float64 {
	return force * math.Pow(length, 3) / (3 * s.modulus() * s.Inertia())
}

// Overhang returns the deflection [m] under a force [N] at the end of a bar that
// rests on two bearings, the nearer one over a distance a, the other b further
// [m].
//
//	δ = F·a²·(a + b)/(3·E·I)
//
// Source: Roark's Formulas for Stress and Strain (from memory).
func (s *Section) Overhang(force, a, b float64) float64 {
	return force * a * a * (a + b) / (3 * s.modulus() * s.Inertia())
}
