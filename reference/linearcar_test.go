package reference

import (
	"math"
	"math/cmplx"
	"testing"

	"gonum.org/v1/gonum/mat"

	"trunnion/chassis/corner"
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/modes"
	"trunnion/chassis/numeric"
	"trunnion/chassis/part"
	"trunnion/reference/validation"
)

// whole is a car of four equal quarter cars with a pitch radius of half its
// wheelbase and a roll radius of half its track, so that all three movements
// of the body are that of the quarter car: made linear by the program and not
// written down here.
func (q quarterCar) whole(t *testing.T) modes.Linear {
	t.Helper()
	line, err := numeric.NewCurve([]float64{0, 1}, []float64{0, q.c})
	if err != nil {
		t.Fatal(err)
	}
	var s equilibrium.System
	g := equilibrium.Gravity
	for i := range 4 {
		s.Corner[i] = corner.Model{
			SpringTravel: numeric.Smooth{Poly: numeric.Poly{C: [5]float64{1}, N: 1}}, DamperTravel: numeric.Smooth{Poly: numeric.Poly{C: [5]float64{1}, N: 1}},
			Spring: part.Spring{Rate: q.ks, Free: 2, Block: 0.1}, Compressed0: q.ms * g / q.ks,
			Curve: part.DamperCurve{Bump: &line, Rebound: &line, TopSpeed: 1}, CurveScale: 1,
		}
		s.TyreRate[i], s.Unsprung[i] = q.kt, q.mu
		s.Base.Tyre[i] = (q.ms + q.mu) * g / q.kt
		s.Behind[i] = 2.6 * float64(i/2)
		s.Left[i] = 0.75 - 1.5*float64(i%2)
		s.SprungWeight += q.ms * g
		s.MomentBehind += q.ms * g * s.Behind[i]
	}
	st, err := s.Solve(equilibrium.Weights{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	body := modes.BodyOf(&s, equilibrium.Weights{}, 4*q.ms*0.75*0.75, 4*q.ms*1.3*1.3)
	return modes.Linearise(&s, &st, body, 0.13)
}

// twoMass are the modes of the quarter car alone.
func (q quarterCar) twoMass(t *testing.T) []numeric.Mode {
	t.Helper()
	m := mat.NewDense(2, 2, []float64{q.ms, 0, 0, q.mu})
	c := mat.NewDense(2, 2, []float64{q.c, -q.c, -q.c, q.c})
	k := mat.NewDense(2, 2, []float64{q.ks, -q.ks, -q.ks, q.ks + q.kt})
	got, err := numeric.Modes(m, c, k)
	if err != nil {
		t.Fatal(err)
	}
	return got
}

// gainsOf returns |Zs/Zr|, |(Zs − Zu)/Zr| and |(Zu − Zr)/Zr| of the linear car
// with every wheel on the same road.
func gainsOf(t *testing.T, l *modes.Linear, tyre, frequency float64) (body, stroke, tyreGain float64) {
	t.Helper()
	omega := 2 * math.Pi * frequency
	const n = 7
	// Real and imaginary parts side by side, for a general real solver.
	a, b := mat.NewDense(2*n, 2*n, nil), mat.NewVecDense(2*n, nil)
	for i := range n {
		for j := range n {
			re := l.Stiffness[i][j] - omega*omega*l.Mass[i][j]
			im := omega * l.Damping[i][j]
			a.Set(i, j, re)
			a.Set(n+i, n+j, re)
			a.Set(i, n+j, -im)
			a.Set(n+i, j, im)
		}
		if i >= modes.Wheel0 {
			b.SetVec(i, tyre)
		}
	}
	var x mat.VecDense
	if err := x.SolveVec(a, b); err != nil {
		t.Fatal(err)
	}
	at := func(i int) complex128 { return complex(x.AtVec(i), x.AtVec(n+i)) }
	zs, zu := at(modes.Heave), at(modes.Wheel0)
	return cmplx.Abs(zs), cmplx.Abs(zs - zu), cmplx.Abs(zu - 1)
}

// Invariant points, J. K. Hedrick and T. Butsuen, Proc. IMechE 204 (1990)
// (from memory), numbers derived here: whatever spring and damper are, at
// √(kt/mu) the body moves mu/ms of the road and at √(kt/M) the stroke is M/ms.
// 1e-12 after the solve's own rounding, 1e-11.
func TestLinearCarInvariantPoints(t *testing.T) {
	validation.Against(t, "Linear car: invariant points", validation.Derived, "J. K. Hedrick, T. Butsuen, Proc. IMechE 204, 1990", "mode-frequency")
	for _, r := range []struct {
		q                        quarterCar
		f1, body, accel, f2, rel float64
	}{
		{quarterA, 9.490167246, 0.18, 10.73312629, 3.706543616, 1.18},
		{quarterB, 10.61032954, 0.15, 10, 3.832000719, 1.15},
		{quarterC, 11.80324648, 0.114285714, math.Sqrt(220000.0*40) / 350, 3.780064136, 1.114285714},
	} {
		f1, f2 := math.Sqrt(r.q.kt/r.q.mu)/(2*math.Pi), math.Sqrt(r.q.kt/(r.q.ms+r.q.mu))/(2*math.Pi)
		nearly(t, "first invariant frequency", f1, r.f1, 1e-9, "Hz")
		nearly(t, "second invariant frequency", f2, r.f2, 1e-9, "Hz")
		for _, change := range []struct{ c, k float64 }{{1, 1}, {0.5, 1}, {2, 1}, {1, 1.7}, {2, 1.7}} {
			q := r.q
			q.c, q.ks = q.c*change.c, q.ks*change.k
			l := q.whole(t)
			body, _, _ := gainsOf(t, &l, q.kt, f1)
			nearly(t, "body gain at the first", body, r.q.mu/r.q.ms, 1e-11, "-")
			near(t, "body gain at the first, as printed", body, r.body, 5e-10, "-")
			nearly(t, "acceleration over road velocity", body*2*math.Pi*f1, r.accel, 1e-9, "1/s")
			_, stroke, _ := gainsOf(t, &l, q.kt, f2)
			nearly(t, "stroke gain at the second", stroke, 1+r.q.mu/r.q.ms, 1e-11, "-")
			near(t, "stroke gain at the second, as printed", stroke, r.rel, 5e-10, "-")
		}
	}
}

// Natural frequencies, damping and one-mass figures, derived here: 1e-7. Sets:
// R. Rajamani, Vehicle Dynamics and Control, ch. 10 (A, from memory), S.
// Türkay and H. Akçay (B, from memory), own (C). The frequency a mode swings at
// is |λ|/2π·√(1 − ζ²).
func TestLinearCarModes(t *testing.T) {
	validation.Against(t, "Linear car: frequencies and damping", validation.Derived, "quadratic eigenvalues, sets of R. Rajamani and of S. Türkay, H. Akçay", "mode-frequency", "mode-damping", "corner-frequency", "frequency-ratio")
	for _, r := range []struct {
		q                          quarterCar
		undamped, damped, ratio    [2]float64
		swinging                   [2]float64
		rules                      [2]float64
		oneMass, oneRatio, hopRule float64
	}{
		{
			quarterA,
			[2]float64{1.21307073, 9.96088350},
			[2]float64{1.22530452, 9.86143119},
			[2]float64{0.21765628, 0.18455769},
			[2]float64{1.19592844, 9.69202840},
			[2]float64{1.21398627, 9.95337138},
			1.27323954, 0.25, 0.177667264,
		},
		{
			quarterB,
			[2]float64{1.23824267, 11.1351894},
			[2]float64{1.25065358, 11.0246889},
			[2]float64{0.21782312, 0.20125699},
			[2]float64{1.22062321, 10.7991070},
			[2]float64{1.23901955, 11.1282075},
			1.29949467, 0.250052078, 0.194665279,
		},
		{
			quarterC,
			[2]float64{1.56295100, 12.8490855},
			[2]float64{1.60625188, 12.5027035},
			[2]float64{0.26277677, 0.40950478},
			[2]float64{1.54980282, 11.4063161},
			[2]float64{1.56509524, 12.8314817},
			1.70143791, 0.334076553, 0.387608556,
		},
	} {
		still := r.q
		still.c = 0
		for k, m := range still.twoMass(t) {
			nearly(t, "undamped frequency", m.Frequency(), r.undamped[k], 1e-7, "Hz")
		}
		for k, m := range r.q.twoMass(t) {
			nearly(t, "frequency", m.Frequency(), r.damped[k], 1e-7, "Hz")
			nearly(t, "damping ratio", m.Ratio(), r.ratio[k], 1e-7, "-")
			nearly(t, "frequency it swings at", imag(m.Pole)/(2*math.Pi), r.swinging[k], 1e-7, "Hz")
		}
		nearly(t, "rule for the body", modes.Frequency(modes.InSeries(r.q.ks, r.q.kt), r.q.ms), r.rules[0], 1e-7, "Hz")
		nearly(t, "rule for the wheel", modes.Frequency(r.q.ks+r.q.kt, r.q.mu), r.rules[1], 1e-7, "Hz")
		nearly(t, "frequency without the tyre", modes.Frequency(r.q.ks, r.q.ms), r.oneMass, 1e-7, "Hz")
		nearly(t, "ratio without the tyre", modes.Ratio(r.q.c, 1, r.q.ks, r.q.ms), r.oneRatio, 1e-7, "-")
		nearly(t, "rule for the wheel's ratio", modes.Ratio(r.q.c, 1, r.q.ks+r.q.kt, r.q.mu), r.hopRule, 1e-7, "-")

		// The whole car: three movements of the body as the quarter car's first
		// mode, four of the wheels of which three are its second; in the fourth
		// (warp) the body stays and the wheels hop on both springs.
		l := r.q.whole(t)
		got, err := l.Modes()
		if err != nil {
			t.Fatal(err)
		}
		bodies, hops, warps := 0, 0, 0
		warp := modes.Frequency(r.q.ks+r.q.kt, r.q.mu)
		for _, m := range got {
			switch {
			case math.Abs(m.Frequency/r.damped[0]-1) < 1e-7 && math.Abs(m.Ratio/r.ratio[0]-1) < 1e-7:
				bodies++
			case math.Abs(m.Frequency/r.damped[1]-1) < 1e-7 && math.Abs(m.Ratio/r.ratio[1]-1) < 1e-7:
				hops++
			case math.Abs(m.Frequency/warp-1) < 1e-7:
				warps++
			}
		}
		if bodies != 3 || hops != 3 || warps != 1 {
			t.Errorf("a car of four quarter cars has %d body modes, %d hops and %d warps like theirs; 3, 3 and 1 are due: %+v", bodies, hops, warps, got)
		}
	}
}

// Gains of body, stroke and tyre, derived here and printed to six decimals:
// 1e-6.
func TestLinearCarTransfer(t *testing.T) {
	validation.Against(t, "Linear car: gains", validation.Derived, "closed form of the quarter car", "floor-acceleration", "tyre-load-variation")
	a, c := quarterA.whole(t), quarterC.whole(t)
	for _, r := range [][7]float64{
		{0.5, 1.198704, 0.181392, 0.021319, 1.111546, 0.094194, 0.019282},
		{1, 2.224726, 1.277360, 0.148823, 1.553887, 0.499625, 0.105418},
		{1.5, 1.625259, 1.943589, 0.225687, 2.310266, 1.547148, 0.342492},
		{2, 0.730604, 1.417709, 0.167770, 1.512547, 1.643622, 0.387405},
		{5, 0.182587, 1.277853, 0.359502, 0.276372, 1.083162, 0.431610},
		{10, 0.164310, 2.501162, 2.739252, 0.143017, 1.219134, 1.155543},
		{12, 0.077067, 1.421030, 2.247833, 0.110962, 1.145772, 1.450241},
		{20, 0.009313, 0.290223, 1.283233, 0.025219, 0.440117, 1.367420},
	} {
		for k, l := range []*modes.Linear{&a, &c} {
			kt := [2]float64{quarterA.kt, quarterC.kt}[k]
			body, stroke, tyre := gainsOf(t, l, kt, r[0])
			near(t, "body gain", body, r[1+3*k], 1e-6, "-")
			near(t, "stroke gain", stroke, r[2+3*k], 1e-6, "-")
			near(t, "tyre gain", tyre, r[3+3*k], 1e-6, "-")
		}
	}
}
