package reference

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"

	"trunnion/chassis/numeric"
	"trunnion/reference/validation"
)

// twoAxles is a body on two springs: mass m [kg], pitch inertia [kg m2], axles
// a before and b behind its centre [m], axle rates [N/m].
type twoAxles struct{ m, inertia, a, b, front, rear float64 }

func (x twoAxles) modes(t *testing.T) []numeric.Mode {
	t.Helper()
	mass := mat.NewDense(2, 2, []float64{x.m, 0, 0, x.inertia})
	couple := x.rear*x.b - x.front*x.a // pitch counted with the rear up
	stiff := mat.NewDense(2, 2, []float64{x.front + x.rear, couple, couple, x.front*x.a*x.a + x.rear*x.b*x.b})
	got, err := numeric.Modes(mass, mat.NewDense(2, 2, nil), stiff)
	if err != nil {
		t.Fatal(err)
	}
	if len(got) != 2 {
		t.Fatalf("%d modes of two degrees of freedom", len(got))
	}
	return got
}

// Bounce and pitch of m = 1300 kg, a = 1.15, b = 1.45 m, axle rates 52 and
// 50 kN/m. With a dynamic index of 1 the axles move on their own. M. Olley; W.
// F. Milliken and D. L. Milliken, Race Car Vehicle Dynamics, ch. 16; T. D.
// Gillespie, Fundamentals of Vehicle Dynamics, ch. 5 (all from memory);
// numbers derived here, 1e-8.
func TestTwoAxleBody(t *testing.T) {
	validation.Against(t, "Bounce and pitch of a body on two axles", validation.Derived, "M. Olley; Milliken, Milliken, ch. 16; Gillespie, ch. 5 (from memory)", "mode-frequency", "frequency-ratio")
	one := twoAxles{m: 1300, inertia: 1300 * 1.15 * 1.45, a: 1.15, b: 1.45, front: 52e3, rear: 50e3}
	got := one.modes(t)
	nearly(t, "front axle", got[0].Frequency(), 1.34788488, 1e-8, "Hz")
	nearly(t, "rear axle", got[1].Frequency(), 1.48412750, 1e-8, "Hz")
	// The node of each lies over the other axle: z − a·θ or z + b·θ is zero.
	for k, at := range [2]float64{1.45, -1.15} {
		move := got[k].Shape[0] + complex(at, 0)*got[k].Shape[1]
		near(t, "movement over the other axle", math.Hypot(real(move), imag(move)), 0, 1e-9, "-")
	}
	heavy := one
	heavy.inertia = 1900
	nearly(t, "dynamic index", heavy.inertia/(heavy.m*heavy.a*heavy.b), 0.876484835, 1e-8, "-")
	got = heavy.modes(t)
	nearly(t, "slower mode", got[0].Frequency(), 1.37466479, 1e-8, "Hz")
	nearly(t, "faster mode", got[1].Frequency(), 1.55437213, 1e-8, "Hz")
}
