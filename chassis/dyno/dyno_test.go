package dyno_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"trunnion/chassis/demo"
	"trunnion/chassis/dyno"
)

var bench = demo.Machine{Stroke: 0.05, Samples: 1000, Noise: 2}

// swept are loops of a damper at some clicks and all speeds.
func swept(t *testing.T, d demo.SweptDamper, seed uint64, clicks ...int) dyno.Set {
	t.Helper()
	set, err := dyno.Reduce(loops(d, seed, clicks...), dyno.Options{Adjusters: single})
	if err != nil {
		t.Fatal(err)
	}
	return set
}

func loops(d demo.SweptDamper, seed uint64, clicks ...int) (runs []dyno.Run) {
	draw := rand.New(rand.NewPCG(seed, 1))
	for _, c := range clicks {
		for _, v := range demo.SweepSpeeds {
			runs = append(runs, d.Loop(bench, v, c, 313.15, draw))
		}
	}
	return runs
}

func every(n int) (out []int) {
	for i := range n {
		out = append(out, i)
	}
	return out
}

// A slow run and a gas run say gas and friction too; what the slow run's own damping
// adds is taken off.
func TestSlowAndGasRuns(t *testing.T) {
	d := demo.KitDampers()[3]
	draw := rand.New(rand.NewPCG(3, 3))
	rows := dyno.Run{Temperature: 313.15, From: "peaks"}
	gas, _ := d.Gas.At(0)
	for _, v := range demo.SweepSpeeds {
		rows.Rows = append(rows.Rows, dyno.Row{Velocity: v, Bump: d.Force(dyno.Bump, v, 0, 313.15) + gas + d.Friction, Rebound: gas - d.Friction - d.Force(dyno.Rebound, v, 0, 313.15)})
	}
	set, err := dyno.Reduce([]dyno.Run{rows, d.SlowRun(bench, 0.003, 0, 313.15, draw), d.GasRun(bench, draw)}, dyno.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if s := set.Static; s.GasFrom != dyno.FoundGasRun || s.FrictionFrom != dyno.FoundSlowRun || math.Abs(s.Gas.Value-gas) > s.Gas.Half || math.Abs(s.Friction.Value-d.Friction) > s.Friction.Half {
		t.Errorf("gas %.1f and friction %.1f are read as %+v", gas, d.Friction, s)
	}
	for i, v := range set.Curves[0].Rebound.Speed {
		f, half := set.Curves[0].Rebound.Force[i], set.Curves[0].Rebound.Half[i]
		if want := d.Force(dyno.Rebound, v, 0, 313.15); math.Abs(f-want) > half {
			t.Errorf("rebound at %.3f m/s is %.1f ± %.1f N, %.1f wanted", v, f, half, want)
		}
	}
}

// A table of peaks that does not say whether gas stands in it is not read.
func TestPeaksAskForGasAndFriction(t *testing.T) {
	rows := dyno.Run{Temperature: math.NaN(), From: "peaks", Rows: []dyno.Row{{Velocity: 0.1, Bump: 300, Rebound: -500}}}
	if _, err := dyno.Reduce([]dyno.Run{rows}, dyno.Options{}); !errors.Is(err, dyno.ErrNotSaid) {
		t.Errorf("read without being told: %v", err)
	}
	set, err := dyno.Reduce([]dyno.Run{rows}, dyno.Options{Gas: dyno.Off{How: dyno.FoundGiven, Force: dyno.Band{Value: 150, Half: 10}}, Friction: dyno.Off{How: dyno.FoundTaken}})
	if err != nil {
		t.Fatal(err)
	}
	if b, r := set.Curves[0].Bump.Force[0], set.Curves[0].Rebound.Force[0]; b != 150 || r != 650 {
		t.Errorf("300 and -500 N with 150 N of gas are %g and %g N of damping", b, r)
	}
}

func TestLoopSigns(t *testing.T) {
	plain := demo.KitDampers()[1]
	check := func(name string, d demo.SweptDamper, want ...dyno.Sign) {
		set := swept(t, d, 5, 6)
		for _, sign := range want {
			if !slices.ContainsFunc(set.Loops, func(l dyno.Loop) bool { return l.Has(sign) }) {
				t.Errorf("%s: no loop shows %s", name, sign)
			}
		}
		if len(want) > 0 {
			return
		}
		for _, l := range set.Loops {
			if len(l.Signs) > 0 {
				t.Errorf("%s shows %v at %.3f m/s", name, l.Signs, l.Speed)
			}
		}
	}
	check("a sound damper", plain)
	late := plain
	late.Lag = 0.006
	check("a damper that lags", late, dyno.Hysteresis)
	flat := plain
	flat.Air = 0.08
	check("a damper without force after reversal", flat, dyno.FlatStart)
}

// A loop that is open, has spikes at its ends, or depends on the place.
func TestBadLoops(t *testing.T) {
	d := demo.KitDampers()[1]
	draw := rand.New(rand.NewPCG(8, 1))
	with := func(bend func(r *dyno.Run)) dyno.Set {
		var runs []dyno.Run
		for _, v := range demo.SweepSpeeds {
			r := d.Loop(bench, v, 5, 313.15, draw)
			bend(&r)
			runs = append(runs, r)
		}
		set, err := dyno.Reduce(runs, dyno.Options{Adjusters: single})
		if err != nil {
			t.Fatal(err)
		}
		return set
	}
	shows := func(s dyno.Set, sign dyno.Sign) bool {
		return slices.ContainsFunc(s.Loops, func(l dyno.Loop) bool { return l.Has(sign) })
	}
	if !shows(with(func(r *dyno.Run) {
		n := len(r.Force) * 4 / 5
		r.Force, r.Position, r.Velocity, r.Time = r.Force[:n], r.Position[:n], r.Velocity[:n], r.Time[:n]
	}), dyno.NotClosed) {
		t.Error("four fifths of a turn are not seen to be open")
	}
	spiked := with(func(r *dyno.Run) {
		for i := range 20 {
			r.Force[len(r.Force)/2-10+i] = 9000
		}
	})
	if !shows(spiked, dyno.EndSpikes) || spiked.Static.Spikes == 0 {
		t.Error("9 kN at the end of the stroke is not seen")
	}
	if b := spiked.Curves[0].Bump; math.Abs(b.Force[2]/d.Force(dyno.Bump, b.Speed[2], 5, 313.15)-1) > 0.01 {
		t.Errorf("spikes at the ends move the force to %.1f N", b.Force[2])
	}
	if !shows(with(func(r *dyno.Run) {
		for i, v := range r.Velocity {
			r.Force[i] += 0.4 * v * 800 * r.Position[i] / 0.025
		}
	}), dyno.PositionSign) {
		t.Error("a damper that depends on the place is not seen")
	}
}

func TestFaultsOfTheLadder(t *testing.T) {
	d := demo.KitDampers()[0]
	set := swept(t, d, 7, every(16)...)
	faults := set.Faults()
	if len(faults) != 1 || faults[0].Fault != dyno.Dead || faults[0].Hard != 8 || faults[0].Soft != 9 {
		t.Errorf("the front left has one dead step, 9 to 8; found %+v", faults)
	}
	sound := demo.KitDampers()[1]
	set = swept(t, sound, 7, every(16)...)
	if faults := set.Faults(); len(faults) != 0 {
		t.Errorf("a sound adjuster has %+v", faults)
	}
	// The same click read twice as hard, three the same, none that does anything.
	bent := func(change func(c *dyno.Curve, click int)) []dyno.StepFault {
		set := swept(t, sound, 9, every(16)...)
		for i := range set.Curves {
			change(&set.Curves[i], set.Curves[i].Setting[0])
		}
		return set.Faults()
	}
	scaled := func(c *dyno.Curve, by float64) {
		for _, s := range dyno.Strokes {
			b := c.Of(s)
			force := slices.Clone(b.Force)
			for i := range force {
				force[i] *= by
			}
			*b, _ = dyno.NewBranch(b.Speed, force, b.Half)
		}
	}
	has := func(list []dyno.StepFault, f dyno.Fault) bool {
		return slices.ContainsFunc(list, func(g dyno.StepFault) bool { return g.Fault == f })
	}
	if f := bent(func(c *dyno.Curve, click int) {
		if click == 5 {
			scaled(c, 0.8)
		}
	}); !has(f, dyno.Reversed) {
		t.Errorf("a click that is softer than the next is not seen: %+v", f)
	}
	base := swept(t, sound, 9, 6).Curves[0]
	if f := bent(func(c *dyno.Curve, click int) {
		if click >= 6 && click <= 9 {
			c.Bump, c.Rebound = base.Bump, base.Rebound
		}
	}); !has(f, dyno.Stuck) {
		t.Errorf("four equal clicks are not seen: %+v", f)
	}
	if f := bent(func(c *dyno.Curve, _ int) { c.Bump, c.Rebound = base.Bump, base.Rebound }); !has(f, dyno.NotWorking) || len(f) != 1 {
		t.Errorf("an adjuster that does nothing: %+v", f)
	}
	if f := bent(func(c *dyno.Curve, click int) {
		if click <= 7 {
			scaled(c, 1.5)
		}
	}); !has(f, dyno.Uneven) {
		t.Errorf("one step of half the force is not seen: %+v", f)
	}
}

func TestPairs(t *testing.T) {
	kit := demo.KitDampers()
	var sets [4]dyno.Set
	for i := range sets {
		sets[i] = swept(t, kit[i], uint64(20+i), 4, 11)
	}
	rear, err := dyno.Compare(&sets[2], &sets[3], dyno.Club)
	if err != nil {
		t.Fatal(err)
	}
	if w := rear.Worst; rear.Matched || math.Abs(w.Share-0.09/1.045) > 0.006 || !w.Distinct {
		t.Errorf("a rear pair 9 %% apart is %+v, matched %v", w, rear.Matched)
	}
	front, err := dyno.Compare(&sets[0], &sets[1], dyno.Club)
	if err != nil || !front.Matched || front.Worst.Use > 1 {
		t.Errorf("a front pair 1.2 %% apart: %+v, %v", front.Worst, err)
	}
	// The other way round the sign alone changes.
	back, _ := dyno.Compare(&sets[3], &sets[2], dyno.Club)
	if math.Abs(back.Worst.Newton.Value+rear.Worst.Newton.Value) > 0.02*math.Abs(rear.Worst.Newton.Value) {
		t.Errorf("%.1f N one way, %.1f N the other", rear.Worst.Newton.Value, back.Worst.Newton.Value)
	}
	one := swept(t, kit[0], 1, 7)
	if _, err := dyno.Compare(&one, &sets[1], dyno.Club); !errors.Is(err, dyno.ErrNothingShared) {
		t.Errorf("click 7 was compared with clicks 4 and 11: %v", err)
	}
}

// A run at 71 °C is left out of the curve and gives the fade.
func TestHotRun(t *testing.T) {
	d := demo.KitDampers()[1]
	draw := rand.New(rand.NewPCG(2, 2))
	runs := loops(d, 2, 4)
	for _, v := range demo.SweepSpeeds {
		runs = append(runs, d.Loop(bench, v, 4, 344.15, draw))
	}
	set, err := dyno.Reduce(runs, dyno.Options{Adjusters: single, Reference: 313.15})
	if err != nil {
		t.Fatal(err)
	}
	if len(set.LeftOut) != len(demo.SweepSpeeds) || set.Curves[0].Runs != len(demo.SweepSpeeds) {
		t.Errorf("%d runs left out, %d in the curve", len(set.LeftOut), set.Curves[0].Runs)
	}
	// The machine's law is a straight line: 0.22 % of the force at 40 °C each kelvin, as a
	// logarithm over 31 K.
	want := math.Log(1-0.0022*31) / 31
	if f := set.Fade; !f.Known() || math.Abs(f.Share.Value-want) > 0.02*math.Abs(want) {
		t.Errorf("fade is %+v, %.5f wanted", f, want)
	}
}

func TestConsistency(t *testing.T) {
	d := demo.KitDampers()[1]
	set := swept(t, d, 4, 5)
	rules := map[dyno.Rule]int{}
	for _, c := range set.Checks {
		rules[c.Rule]++
		if c.Failed {
			t.Errorf("a sound run fails %+v", c)
		}
	}
	if rules[dyno.WorkAndPower] != 8 || rules[dyno.CrankSpeed] != 8 {
		t.Errorf("checked %v", rules)
	}
	runs := loops(d, 4, 5)
	for i := range runs[3].Velocity {
		runs[3].Velocity[i] *= 1.08
	}
	set, _ = dyno.Reduce(runs, dyno.Options{Adjusters: single})
	failed := map[dyno.Rule]bool{}
	for _, c := range set.Checks {
		if c.Failed {
			failed[c.Rule] = true
		}
	}
	if !failed[dyno.WorkAndPower] || !failed[dyno.CrankSpeed] {
		t.Errorf("a velocity 8 %% too high fails %v", failed)
	}
}

func TestRefusals(t *testing.T) {
	d := demo.KitDampers()[1]
	good := loops(d, 1, 5)
	half := d.Loop(bench, 0.13, 5, 313.15, rand.New(rand.NewPCG(1, 1)))
	n := len(half.Force) / 2
	half.Force, half.Position, half.Velocity, half.Time, half.From = half.Force[:n], half.Position[:n], half.Velocity[:n], half.Time[:n], "half"
	short := dyno.Run{From: "short", Position: []float64{0}, Velocity: []float64{0}, Force: []float64{1}}
	odd := dyno.Run{From: "odd", Position: []float64{0, 1}, Velocity: []float64{0, math.NaN()}, Force: []float64{1, 2}}
	set, err := dyno.Reduce(append(good, half, short, odd), dyno.Options{Adjusters: single})
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []error{dyno.ErrBranch, dyno.ErrEmpty, dyno.ErrNumber} {
		if !errors.Is(set.LeftOut[i].Err, want) {
			t.Errorf("left out because %v, not %v", set.LeftOut[i].Err, want)
		}
	}
	if _, err := dyno.Reduce([]dyno.Run{half}, dyno.Options{}); !errors.Is(err, dyno.ErrNoCurve) {
		t.Errorf("half a turn alone gives %v", err)
	}
}

// BenchmarkReduce makes curves of one damper's 16 clicks, 8 velocities, 1,000 points.
func BenchmarkReduce(b *testing.B) {
	runs := loops(demo.KitDampers()[0], 1, every(16)...)
	for b.Loop() {
		if _, err := dyno.Reduce(runs, dyno.Options{Adjusters: single}); err != nil {
			b.Fatal(err)
		}
	}
}
