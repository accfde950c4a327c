package equilibrium_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"trunnion/chassis/corner"
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/numeric"
	"trunnion/chassis/part"
)

// fataler is what a test and a generated case have in common.
type fataler interface {
	Helper()
	Fatal(args ...any)
}

// uneven is an invented estate no two corners of which are alike, with
// everything a corner can push with. It rests at travel zero unladen, save for
// friction.
func uneven(t fataler) equilibrium.System {
	t.Helper()
	foam, err := numeric.NewCurve([]float64{0, 0.005, 0.010, 0.015, 0.020, 0.025, 0.030, 0.034}, []float64{0, 110, 230, 370, 560, 850, 1400, 2300})
	if err != nil {
		t.Fatal(err)
	}
	var s equilibrium.System
	s.Lean = equilibrium.Lean{RollArm: 0.47, PitchArm: 0.27}
	for i := range 4 {
		a := i / 2
		u := float64(i)
		m := corner.Model{
			SpringTravel: numeric.Smooth{Poly: numeric.Poly{C: [5]float64{[2]float64{0.955, 0.64}[a], [2]float64{0.2, 0.15}[a]}, N: 2}},
			DamperTravel: numeric.Smooth{Poly: numeric.Poly{C: [5]float64{[2]float64{0.955, 0.905}[a], [2]float64{0.2, 0.1}[a]}, N: 2}},
			Spring:       part.Spring{Rate: [2]float64{31e3, 60e3}[a] * (1 + 0.01*u), Free: 0.304, Block: 0.105},
			HasDamper:    true, HasStop: true, Mounts0: 0.490 + 0.001*u, Gas: part.Gas{Force: 150 - 30*u, Rate: 500},
			Stop:     part.BumpStop{Length: 0.060, Table: &foam, End: 0.034, Scale: 1 - 0.03*u},
			BushRate: [2]float64{1.5e3, 3e3}[a], BushZero: 0.001 * u, Friction: 80 - 10*u,
		}
		m.Open, m.Closed, m.Touch = m.Mounts0+0.070, m.Mounts0-0.085, m.Mounts0-0.025-0.002*u
		s.TyreRate[i] = 225e3 + 3e3*u
		s.Unsprung[i] = [2]float64{44, 41}[a]
		s.Behind[i] = 2.7 * float64(a)
		s.Left[i] = [4]float64{0.778, -0.778, 0.772, -0.772}[i]
		load := [4]float64{426, 428, 314, 295}[i] * equilibrium.Gravity
		s.Base.Tyre[i] = load / s.TyreRate[i]
		force := load - s.Unsprung[i]*equilibrium.Gravity
		s.Base.Force[i] = force
		sh := m.At(0)
		m.Compressed0 = m.Spring.Compression((force - sh.Gas - sh.Stop - sh.Bush) / sh.SpringMotion)
		s.Corner[i] = m
		s.SprungWeight += force
		s.MomentBehind += force * s.Behind[i]
		s.MomentLeft += force * s.Left[i]
	}
	s.Bar = [2]part.Bar{{Rate: 9.5e3, LinkRatio: 0.94, Zero: 0.0012}, {Rate: 9e3, LinkRatio: 0.70, Zero: -0.0031}}
	return s
}

// residual writes the seven balances out once more, apart from the package: of
// four wheels, of the body up and down, and its moments. [N, N m]
func residual(s *equilibrium.System, extra equilibrium.Weights, x []float64) [7]float64 {
	heave, roll, pitch := x[4], x[5], x[6]
	var r [7]float64
	for i := range 4 {
		left, right, side := x[i&2], x[i&2+1], 1.0
		if i%2 == 1 {
			side = -1
		}
		bar := s.Bar[i/2]
		force, _ := s.Corner[i].Force(x[i])
		force += s.Stuck[i] + side*bar.Rate*bar.LinkRatio*bar.LinkRatio*(left-right-bar.Zero)
		body := heave + s.Left[i]*roll + s.Behind[i]*pitch
		deflection := math.Max(0, s.Base.Tyre[i]-(x[i]-s.Base.Travel[i])-body)
		r[i] = force + s.Unsprung[i]*equilibrium.Gravity - s.TyreRate[i]*deflection
		r[4] += force
		r[5] += force * s.Left[i]
		r[6] += force * s.Behind[i]
	}
	weight := s.SprungWeight + extra.Down
	r[4] -= weight
	// Rolled to the right (left side up, roll > 0), the body's weight moves to
	// the right of where it was.
	r[5] -= s.MomentLeft + extra.Left - weight*s.Lean.RollArm*roll
	// Nose down (rear up, pitch > 0), it moves forward.
	r[6] -= s.MomentBehind + extra.Behind - weight*s.Lean.PitchArm*pitch
	return r
}

func unknowns(st *equilibrium.State) []float64 {
	return []float64{st.Travel[0], st.Travel[1], st.Travel[2], st.Travel[3], st.Heave, st.Roll, st.Pitch}
}

// payload draws what may be put in or taken out.
func payload(t *rapid.T) equilibrium.Weights {
	var w equilibrium.Weights
	for range rapid.IntRange(0, 4).Draw(t, "items") {
		down := rapid.Float64Range(-40, 160).Draw(t, "mass") * equilibrium.Gravity
		w.Down += down
		w.Behind += down * rapid.Float64Range(0.3, 3.4).Draw(t, "behind")
		w.Left += down * rapid.Float64Range(-0.7, 0.7).Draw(t, "left")
	}
	return w
}

// change draws other springs, heights and friction for the car.
func change(t *rapid.T, s *equilibrium.System) {
	for i := range 4 {
		m := &s.Corner[i]
		m.Compressed0 += rapid.Float64Range(-0.03, 0.02).Draw(t, "seat")
		m.Spring.Rate *= rapid.Float64Range(0.8, 1.6).Draw(t, "rate")
		s.Stuck[i] = m.Friction * rapid.Float64Range(-1, 1).Draw(t, "hang-up")
	}
}

// Where the car is said to rest, every body is in balance and the tyres carry
// the whole weight, whatever is fitted and whoever is aboard.
func TestRestIsInBalance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := uneven(t)
		change(t, &s)
		extra := payload(t)
		st, err := s.Solve(extra, nil)
		if err != nil {
			t.Fatal(err)
		}
		for k, r := range residual(&s, extra, unknowns(&st)) {
			if math.Abs(r) > 1e-6 {
				t.Fatalf("balance %d is out by %.9f (N or N m)", k, r)
			}
		}
		total, weight := 0.0, s.SprungWeight+extra.Down
		behind := s.MomentBehind + extra.Behind
		for i := range 4 {
			total += st.Load[i]
			weight += s.Unsprung[i] * equilibrium.Gravity
			behind += s.Unsprung[i] * equilibrium.Gravity * s.Behind[i]
		}
		if math.Abs(total-weight) > 1e-6 {
			t.Fatalf("tyres carry %.7f N of %.7f N", total, weight)
		}
		// What springs change of the share of the front axle is what the rake does: of an axle raised by the angle θ,
		// ΔW·l = W·(h − r)·θ, r the height of the wheels' centres (T. D. Gillespie, Fundamentals of Vehicle Dynamics, 1992,
		// from memory; the usual way to find h on scales).
		behind -= (s.SprungWeight + extra.Down) * s.Lean.PitchArm * st.Pitch
		if got := (st.Load[2] + st.Load[3]) * 2.7; math.Abs(got-behind) > 1e-5 {
			t.Fatalf("rear tyres hold %.6f N m about the front axle of %.6f N m", got, behind)
		}
	})
}

// The answer does not depend on where the search starts.
func TestStartDoesNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := uneven(t)
		change(t, &s)
		extra, other := payload(t), payload(t)
		cold, err := s.Solve(extra, nil)
		if err != nil {
			t.Fatal(err)
		}
		far, err := s.Solve(other, nil)
		if err != nil {
			t.Fatal(err)
		}
		warm, err := s.Solve(extra, &far)
		if err != nil {
			t.Fatal(err)
		}
		for i := range 4 {
			if d := cold.Travel[i] - warm.Travel[i]; math.Abs(d) > 1e-9 {
				t.Fatalf("corner %d rests %.3g m apart from two starts", i, d)
			}
		}
	})
}

// Swap left and right and the answer is swapped.
func TestMirror(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := uneven(t)
		change(t, &s)
		extra := payload(t)
		m := s
		for i := range 4 {
			j := i ^ 1
			m.Corner[i], m.TyreRate[i], m.Unsprung[i], m.Stuck[i] = s.Corner[j], s.TyreRate[j], s.Unsprung[j], s.Stuck[j]
			m.Left[i] = -s.Left[j]
			m.Base.Travel[i], m.Base.Tyre[i], m.Base.Force[i] = s.Base.Travel[j], s.Base.Tyre[j], s.Base.Force[j]
		}
		m.MomentLeft = -s.MomentLeft
		m.Bar[0].Zero, m.Bar[1].Zero = -s.Bar[0].Zero, -s.Bar[1].Zero
		a, err := s.Solve(extra, nil)
		if err != nil {
			t.Fatal(err)
		}
		b, err := m.Solve(equilibrium.Weights{Down: extra.Down, Behind: extra.Behind, Left: -extra.Left}, nil)
		if err != nil {
			t.Fatal(err)
		}
		for i := range 4 {
			if math.Abs(a.Travel[i]-b.Travel[i^1]) > 1e-10 || math.Abs(a.Load[i]-b.Load[i^1]) > 1e-5 {
				t.Fatalf("corner %d: %.9f m, %.5f N; its image %.9f m, %.5f N", i, a.Travel[i], a.Load[i], b.Travel[i^1], b.Load[i^1])
			}
		}
		if math.Abs(a.Roll+b.Roll) > 1e-10 || math.Abs(a.Pitch-b.Pitch) > 1e-10 {
			t.Fatalf("roll %.9f and %.9f rad, pitch %.9f and %.9f rad", a.Roll, b.Roll, a.Pitch, b.Pitch)
		}
	})
}

// At rest as it was: without anything changed the car stays where it was
// weighed, with its bars slack there.
func TestAsWeighed(t *testing.T) {
	s := uneven(t)
	s.Bar[0].Zero, s.Bar[1].Zero = 0, 0
	st, err := s.Solve(equilibrium.Weights{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	for i := range 4 {
		if math.Abs(st.Travel[i]) > 1e-9 || math.Abs(st.Load[i]-s.Base.Tyre[i]*s.TyreRate[i]) > 1e-5 {
			t.Errorf("corner %d has moved %.3g m and carries %.4f N", i, st.Travel[i], st.Load[i])
		}
	}
	if math.Abs(st.Heave)+math.Abs(st.Roll)+math.Abs(st.Pitch) > 1e-9 {
		t.Errorf("the body has moved by %.3g m, %.3g rad, %.3g rad", st.Heave, st.Roll, st.Pitch)
	}
}

// Friction holds the car anywhere within its interval and no further: half of
// it is friction over the rate on the corner, here with all four alike.
func TestHangUpInterval(t *testing.T) {
	at := func(share float64) equilibrium.State {
		s := uneven(t)
		for i := range 4 {
			s.Corner[i].Friction = 60
			s.Stuck[i] = 60 * share
		}
		st, err := s.Solve(equilibrium.Weights{}, nil)
		if err != nil {
			t.Fatal(err)
		}
		return st
	}
	low, mid, high := at(-1), at(0), at(1)
	for i := range 4 {
		half := 0.5 * (low.Travel[i] - high.Travel[i])
		want := 60 / mid.Rate[i]
		if math.Abs(half-want) > 0.03*want {
			t.Errorf("corner %d: friction of 60 N holds it %.3f mm either way, 60 N over %.1f N/mm is %.3f mm", i, half*1e3, mid.Rate[i]*1e-3, want*1e3)
		}
	}
}

// Odd places that a car can rest in are solved: on its stops, on metal, with
// coils touching, on three wheels, on two.
func TestOddRests(t *testing.T) {
	for _, r := range []struct {
		name   string
		extra  equilibrium.Weights
		change func(*equilibrium.System)
		is     func(*equilibrium.System, *equilibrium.State) bool
	}{
		{"rear on its stops", equilibrium.Weights{Down: 4000, Behind: 4000 * 2.9}, nil, func(s *equilibrium.System, st *equilibrium.State) bool {
			return s.Corner[2].At(st.Travel[2]).StopCrush > 0.005 && s.Corner[3].At(st.Travel[3]).StopCrush > 0.005
		}},
		{"rear on metal", equilibrium.Weights{Down: 26000, Behind: 26000 * 2.6}, nil, func(s *equilibrium.System, st *equilibrium.State) bool {
			return s.Corner[2].At(st.Travel[2]).Metal > 0 && s.Corner[2].At(st.Travel[2]).StopOutside
		}},
		{"coils touching", equilibrium.Weights{Down: 5000, Behind: 1000}, func(s *equilibrium.System) {
			for i := range 2 {
				s.Corner[i].Spring.Block = s.Corner[i].Spring.Free - s.Corner[i].Compressed0 - 0.012
			}
		}, func(s *equilibrium.System, st *equilibrium.State) bool { return s.Corner[0].At(st.Travel[0]).Blocked }},
		{"one wheel off the ground", equilibrium.Weights{Behind: -7000, Left: 5900}, nil, func(s *equilibrium.System, st *equilibrium.State) bool {
			return st.Load[3] == 0 && st.Tyre[3] == 0 && st.Load[2] > 0 && s.Corner[3].At(st.Travel[3]).Open < 0
		}},
		{"rear springs loose, on the stops alone", equilibrium.Weights{}, func(s *equilibrium.System) {
			s.Corner[2].Compressed0, s.Corner[3].Compressed0 = -0.07, -0.06
		}, func(s *equilibrium.System, st *equilibrium.State) bool {
			l, r := s.Corner[2].At(st.Travel[2]), s.Corner[3].At(st.Travel[3])
			return l.Loose > 0 && r.Loose > 0 && l.Spring == 0 && l.Stop > 1000 && r.Stop > 1000
		}},
	} {
		s := uneven(t)
		if r.change != nil {
			r.change(&s)
		}
		st, err := s.Solve(r.extra, nil)
		if err != nil {
			t.Errorf("%s: %v", r.name, err)
			continue
		}
		if !r.is(&s, &st) {
			t.Errorf("%s: the car does not rest so: travel %v m, load %v N", r.name, st.Travel, st.Load)
		}
		for k, v := range residual(&s, r.extra, unknowns(&st)) {
			// A wheel in the air is held by a millionth of its tyre's rate.
			if math.Abs(v) > 0.01 {
				t.Errorf("%s: balance %d is out by %.7f (N or N m)", r.name, k, v)
			}
		}
	}
}

// What cannot rest is said to be so, with the corner: more roll than the car
// can stand.
func TestNoRest(t *testing.T) {
	s := uneven(t)
	_, err := s.Solve(equilibrium.Weights{Left: 40000}, nil)
	if err == nil {
		t.Fatal("a car pushed over is said to rest")
	}
}

// BenchmarkSolve finds a rest position: warm from a neighbouring one, as every
// draw does, and cold from where the car was weighed.
func BenchmarkSolve(b *testing.B) {
	s := uneven(b)
	extra := equilibrium.Weights{Down: 2900, Behind: 2900 * 1.7, Left: -250}
	near, err := s.Solve(extra, nil)
	if err != nil {
		b.Fatal(err)
	}
	for i := range 4 {
		s.Corner[i].Compressed0 += 0.001 * float64(i-1)
		s.Corner[i].Spring.Rate *= 1.02
	}
	for _, r := range []struct {
		name  string
		guess *equilibrium.State
	}{{"warm", &near}, {"cold", nil}} {
		b.Run(r.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := s.Solve(extra, r.guess); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// A warm start allocates nothing.
func TestSolveAllocatesNothing(t *testing.T) {
	s := uneven(t)
	near, err := s.Solve(equilibrium.Weights{Down: 500}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if n := testing.AllocsPerRun(100, func() {
		if _, err := s.Solve(equilibrium.Weights{Down: 600}, &near); err != nil {
			t.Fatal(err)
		}
	}); n != 0 {
		t.Errorf("one rest position allocates %.0f times", n)
	}
}
