package modes_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"trunnion/chassis/corner"
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/modes"
	"trunnion/chassis/numeric"
	"trunnion/chassis/part"
)

type fataler interface {
	Helper()
	Fatal(args ...any)
}

// estate is an uneven invented car at rest, its dampers a straight line of so
// many N s/m, with what the body weighs.
func estate(t fataler, damping [4]float64) (equilibrium.System, equilibrium.State, modes.Body) {
	t.Helper()
	var s equilibrium.System
	s.Lean = equilibrium.Lean{RollArm: 0.46, PitchArm: 0.26}
	for i := range 4 {
		a := i / 2
		line, err := numeric.NewCurve([]float64{0, 1}, []float64{0, damping[i]})
		if err != nil {
			t.Fatal(err)
		}
		m := corner.Model{
			SpringTravel: numeric.Smooth{Poly: numeric.Poly{C: [5]float64{[2]float64{0.955, 0.64}[a]}, N: 1}},
			DamperTravel: numeric.Smooth{Poly: numeric.Poly{C: [5]float64{[2]float64{0.955, 0.905}[a]}, N: 1}},
			Spring:       part.Spring{Rate: [4]float64{31e3, 32e3, 60e3, 58e3}[i], Free: 1, Block: 0.1},
			Curve:        part.DamperCurve{Bump: &line, Rebound: &line, TopSpeed: 1}, CurveScale: 1,
		}
		load := [4]float64{426, 428, 314, 295}[i] * equilibrium.Gravity
		s.TyreRate[i], s.Unsprung[i] = 225e3+2e3*float64(i), 44-1.5*float64(a)
		force := load - s.Unsprung[i]*equilibrium.Gravity
		_, r, _ := m.SpringTravel.At(0)
		m.Compressed0 = force / r / m.Spring.Rate
		s.Corner[i] = m
		s.Base.Tyre[i], s.Base.Force[i] = load/s.TyreRate[i], force
		s.Behind[i], s.Left[i] = 2.7*float64(a), [4]float64{0.778, -0.778, 0.772, -0.772}[i]
		s.SprungWeight += force
		s.MomentBehind += force * s.Behind[i]
		s.MomentLeft += force * s.Left[i]
	}
	s.Bar = [2]part.Bar{{Rate: 9.5e3, LinkRatio: 0.94}, {Rate: 9e3, LinkRatio: 0.70}}
	st, err := s.Solve(equilibrium.Weights{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	return s, st, modes.BodyOf(&s, equilibrium.Weights{}, 470, 2140)
}

// The stiffness is the slope of the static answer: a small weight put on the
// body moves it as the matrix says.
func TestStiffnessIsStaticSlope(t *testing.T) {
	s, st, body := estate(t, [4]float64{2000, 2000, 1800, 1800})
	l := modes.Linearise(&s, &st, body, 0.13)
	const push = 1.0
	for _, r := range []struct {
		name         string
		behind, left float64
	}{{"at the centre", body.Behind, body.Left}, {"behind", body.Behind + 0.9, body.Left}, {"to the left", body.Behind, body.Left + 0.5}} {
		moved, err := s.Solve(equilibrium.Weights{Down: push, Behind: push * r.behind, Left: push * r.left}, &st)
		if err != nil {
			t.Fatal(err)
		}
		// The movement of every freedom, up positive, from the static answer.
		var q [7]float64
		q[modes.Roll], q[modes.Pitch] = moved.Roll-st.Roll, moved.Pitch-st.Pitch
		q[modes.Heave] = moved.Heave - st.Heave + body.Left*q[modes.Roll] + body.Behind*q[modes.Pitch]
		for i := range 4 {
			q[modes.Wheel0+i] = st.Tyre[i] - moved.Tyre[i]
		}
		want := [7]float64{modes.Heave: -push, modes.Roll: -push * (r.left - body.Left), modes.Pitch: -push * (r.behind - body.Behind)}
		for i := range 7 {
			got := 0.0
			for j := range 7 {
				got += l.Stiffness[i][j] * q[j]
			}
			if math.Abs(got-want[i]) > 2e-3 {
				t.Errorf("a newton %s: freedom %d takes %.5f, %.5f is put on it", r.name, i, got, want[i])
			}
		}
	}
}

// Matrices are symmetric; damping takes energy in every movement.
func TestMatrices(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var c [4]float64
		for i := range c {
			c[i] = rapid.Float64Range(300, 6000).Draw(t, "damper")
		}
		s, st, body := estate(t, c)
		l := modes.Linearise(&s, &st, body, 0.13)
		var q [7]float64
		for i := range q {
			q[i] = rapid.Float64Range(-1, 1).Draw(t, "speed")
		}
		power := 0.0
		for i := range 7 {
			for j := range 7 {
				// Products are the same up to the order of their factors.
				odd := math.Abs(l.Stiffness[i][j]-l.Stiffness[j][i])/1e5 + math.Abs(l.Damping[i][j]-l.Damping[j][i])/1e3 + math.Abs(l.Mass[i][j]-l.Mass[j][i])
				if odd > 1e-12 {
					t.Fatalf("matrices are not symmetric at %d, %d", i, j)
				}
				power += q[i] * l.Damping[i][j] * q[j]
			}
		}
		if power < -1e-9 {
			t.Fatalf("damping gives %.4g W", -power)
		}
	})
}

// Seven modes, each named once, shares that add up, all decaying, and for a
// complex pair the frequency and ratio of its pole; strong dampers give real
// pairs whose ratio is 1 or more.
func TestModes(t *testing.T) {
	real := 0
	for _, scale := range []float64{0.3, 1, 2.7, 6} {
		s, st, body := estate(t, [4]float64{1900 * scale, 2000 * scale, 1700 * scale, 1650 * scale})
		l := modes.Linearise(&s, &st, body, 0.13)
		got, err := l.Modes()
		if err != nil {
			t.Fatal(err)
		}
		if len(got) != 7 {
			t.Fatalf("%d modes", len(got))
		}
		var product, trace float64 = 1, 0
		for k, m := range got {
			if m.Name != modes.Movements[k] {
				t.Errorf("dampers × %g: mode %d is %q, not %q", scale, k, m.Name, modes.Movements[k])
			}
			sum := 0.0
			for _, v := range m.Shares {
				sum += v
			}
			if math.Abs(sum-1) > 1e-12 || m.Pole[0] >= 0 || m.Ratio <= 0 {
				t.Errorf("dampers × %g, %s: shares add up to %.6f, pole %v, ratio %.4f", scale, m.Name, sum, m.Pole, m.Ratio)
			}
			if m.Real {
				real++
				if m.Ratio < 1 || m.Pole[1] >= 0 {
					t.Errorf("dampers × %g, %s: a real pair %v of ratio %.4f", scale, m.Name, m.Pole, m.Ratio)
				}
				product *= m.Pole[0] * m.Pole[1]
				trace += m.Pole[0] + m.Pole[1]
				continue
			}
			if f := math.Hypot(m.Pole[0], m.Pole[1]) / (2 * math.Pi); math.Abs(f-m.Frequency) > 1e-9*f || m.Ratio >= 1 {
				t.Errorf("dampers × %g, %s: pole %v, frequency %.5f Hz, ratio %.4f", scale, m.Name, m.Pole, m.Frequency, m.Ratio)
			}
			product *= m.Pole[0]*m.Pole[0] + m.Pole[1]*m.Pole[1]
			trace += 2 * m.Pole[0]
		}
		// All fourteen poles: their sum is −Σ c_ii/m_ii, whatever the springs.
		want := 0.0
		for i := range 7 {
			want -= l.Damping[i][i] / l.Mass[i][i]
		}
		if math.Abs(trace-want) > 1e-9*math.Abs(want) || product <= 0 {
			t.Errorf("dampers × %g: poles add up to %.6f 1/s, the matrices say %.6f 1/s", scale, trace, want)
		}
	}
	if real == 0 {
		t.Error("no dampers were strong enough for a real pair: the test has not seen one")
	}
}

// Figures of one corner: a ratio of 1 neither swings nor crawls, and a wheel
// on its tyre is softer than either.
func TestSingle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k, m := rapid.Float64Range(12e3, 90e3).Draw(t, "rate"), rapid.Float64Range(180, 600).Draw(t, "mass")
		kt, r := rapid.Float64Range(120e3, 350e3).Draw(t, "tyre"), rapid.Float64Range(0.5, 1.1).Draw(t, "ratio")
		critical := 2 * math.Sqrt(k*m) / (r * r)
		if z := modes.Ratio(critical, r, k, m); math.Abs(z-1) > 1e-12 {
			t.Fatalf("the critical damper has a ratio of %.12f", z)
		}
		if s := modes.InSeries(k, kt); s >= k || s >= kt || math.Abs(1/s-1/k-1/kt) > 1e-15 {
			t.Fatalf("%.1f on %.1f N/m is %.1f N/m", k, kt, s)
		}
		if f := modes.Frequency(k, m); math.Abs(math.Pow(2*math.Pi*f, 2)*m-k) > 1e-9*k {
			t.Fatalf("%.6f Hz of %.1f kg on %.1f N/m", f, m, k)
		}
	})
}

// Payloads add to the body's inertia about the common centre.
func TestBodyOf(t *testing.T) {
	s, _, own := estate(t, [4]float64{1, 1, 1, 1})
	const m, behind, left = 95.0, 3.05, 0.2
	down := m * equilibrium.Gravity
	got := modes.BodyOf(&s, equilibrium.Weights{Down: down, Behind: down * behind, Left: down * left}, 470, 2140)
	if math.Abs(got.Mass-own.Mass-m) > 1e-9 {
		t.Errorf("body of %.3f kg with %.0f kg aboard weighs %.3f kg", own.Mass, m, got.Mass)
	}
	if want := (own.Mass*own.Behind + m*behind) / (own.Mass + m); math.Abs(got.Behind-want) > 1e-12 {
		t.Errorf("centre %.6f m behind the front axle, want %.6f m", got.Behind, want)
	}
	if own.InertiaPitch != 2140 || own.InertiaRoll != 470 {
		t.Errorf("without payload the inertias are %.3f and %.3f kg m2", own.InertiaRoll, own.InertiaPitch)
	}
}

func BenchmarkModes(b *testing.B) {
	s, st, body := estate(b, [4]float64{1900, 2000, 1700, 1650})
	for b.Loop() {
		l := modes.Linearise(&s, &st, body, 0.13)
		if _, err := l.Modes(); err != nil {
			b.Fatal(err)
		}
	}
}
