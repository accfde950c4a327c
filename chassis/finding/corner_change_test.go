package finding

import (
	"context"
	"math"
	"slices"
	"testing"

	"trunnion/chassis/car"
	"trunnion/chassis/demo"
	"trunnion/chassis/figure"
	"trunnion/chassis/study"
)

// mended gives the worst finding of a code and build its remedies.
func mended(t *testing.T, a *study.Answer, code, build string) *Finding {
	t.Helper()
	list := judged(t, a)
	for i := range list {
		f := &list[i]
		if f.Code == code && f.Value.Place.Build == build {
			if err := Mend(context.Background(), a, f); err != nil {
				t.Fatal(err)
			}
			return f
		}
	}
	t.Fatalf("no finding %s of %s", code, build)
	return nil
}

func remedyOf(f *Finding, code string) *Remedy {
	for i := range f.Remedies {
		if f.Remedies[i].Code == code {
			return &f.Remedies[i]
		}
	}
	return nil
}

// The low springs meet their stops in an ordinary bend: what is offered lets them
// do so later, and running the study with the change made by hand says the same.
func TestStopMetLater(t *testing.T) {
	a := answer(t, 200, 2)
	f := mended(t, a, "meets-stop-in-corner", "lower-old")
	if f.Verdict != Over {
		t.Fatalf("%s at %.2f m/s2", f.Verdict, f.Value.Value)
	}
	for _, code := range []string{"shorter-stop", "shorter-damper", "firmer-spring"} {
		r := remedyOf(f, code)
		if r == nil {
			t.Errorf("%s was not offered", code)
			continue
		}
		if !(r.After > f.Value.Value) {
			t.Errorf("%s takes the contact from %.3f to %.3f m/s2", code, f.Value.Value, r.After)
		}
		if len(r.Worsens)+len(r.Betters) == 0 {
			t.Errorf("%s does nothing else at all", code)
		}
	}
	lift := slices.IndexFunc(f.Remedies, func(r Remedy) bool { return r.Code == "raise-front" || r.Code == "raise-rear" })
	if lift < 0 {
		t.Fatal("standing higher was not offered")
	}
	r := &f.Remedies[lift]
	d, err := demo.Marl()
	if err != nil {
		t.Fatal(err)
	}
	p := f.Value.Place
	axle := car.AxleOf(p.Corner)
	k := &a.Cases[1][0]
	_, rs, _ := k.System.Corner[p.Corner].SpringTravel.At(k.State.Travel[p.Corner])
	d.Builds[1].Both(axle, func(p *car.BuildCorner) {
		in := &p.SeatsCloser
		in.Value += r.Change * rs
		if !in.Known() {
			in.Origin = figure.Chosen
		}
	})
	opt := study.Defaults()
	opt.Samples = 0
	b, err := study.Run(context.Background(), study.Job{Car: d.Car, Builds: d.Builds, Loads: d.Loads, Brief: d.Brief}, opt)
	if err != nil {
		t.Fatal(err)
	}
	// The ratio at which the seats were moved is that of another load state, so the
	// height is the same to a fiftieth of a millimetre only.
	if got := b.Get(f.Value.Code, p.Build, p.Load, p.Corner).Value; math.Abs(got-r.After) > 0.02 {
		t.Errorf("the remedy says %.4f m/s2, the study with the change %.4f", r.After, got)
	}
}

// Where a build lost understeer the bar's other hole is offered, by its id, and
// gives some back.
func TestUndersteerByTheBarsHole(t *testing.T) {
	d, err := demo.Marl()
	if err != nil {
		t.Fatal(err)
	}
	arm := func(v float64) figure.Input { return figure.Input{Value: v, Origin: figure.Measured} }
	for x := range 2 {
		ax := &d.Car.Axle[x]
		ax.Hole, ax.Bar.Arm = "middle", arm(0.24)
		ax.Holes = []car.BarHole{{ID: "outer", Arm: arm(0.27)}, {ID: "middle"}, {ID: "inner", Arm: arm([2]float64{0.2, 0.1}[x])}}
	}
	// The rear bar in its stiff hole takes the understeer away.
	for _, b := range d.Builds {
		if b.ID == "kit" {
			b.Setup.BarHole = [2]string{"outer", "inner"}
			firmer := stiff(b.Corner[2].Spring)
			b.Both(1, func(p *car.BuildCorner) { p.Spring = firmer })
		}
	}
	opt := study.Defaults()
	opt.Samples, opt.NoWorkings, opt.NoModes, opt.NoRemedies = 60, true, true, true
	a, err := study.Run(context.Background(), study.Job{Car: d.Car, Builds: d.Builds, Loads: d.Loads, Brief: d.Brief}, opt)
	if err != nil {
		t.Fatal(err)
	}
	f := mended(t, a, "less-understeer-than-before", "kit")
	if f.Verdict != Over {
		t.Fatalf("%s: %.5f, limit %+v", f.Verdict, f.Value.Value, f.Limit)
	}
	for code, want := range map[string]string{"stiffer-bar-hole": "middle", "softer-bar-hole": "middle"} {
		r := remedyOf(f, code)
		if r == nil {
			t.Errorf("%s was not offered: %+v", code, f.Remedies)
			continue
		}
		if r.Choice != want || !(r.After > f.Value.Value) {
			t.Errorf("%s: hole %q takes it from %.6f to %.6f", code, r.Choice, f.Value.Value, r.After)
		}
	}
	if remedyOf(f, "softer-rear-spring") == nil {
		t.Error("a softer rear spring was not offered")
	}
}

// stiff is a spring twice as stiff, its length kept.
func stiff(s *car.SpringSpec) *car.SpringSpec {
	n := *s
	n.ID += "-stiff"
	load := 0.1 * s.Rate.Value
	n.Rate.Value *= 2
	n.Free.Value += load/n.Rate.Value - load/s.Rate.Value
	return &n
}

// otherOver returns the finding of another rule over the same figure.
func otherOver(list []Finding, f *Finding) *Finding {
	for i := range list {
		if g := &list[i]; g.Code != f.Code && g.Value == f.Value && cornerRule(g.Code) != nil {
			return g
		}
	}
	return nil
}

// A figure of a corner judged on its own is judged as in the whole judgement, and
// only where that looks: in a bend, at the highest speed, in the usual load state.
func TestCornerValueOnItsOwn(t *testing.T) {
	a := answer(t, 200, 2)
	list := judged(t, a)
	n := 0
	for i := range list {
		f := &list[i]
		if cornerRule(f.Code) == nil {
			continue
		}
		n++
		verdict, limit := One(a, f.Value)
		if other := otherOver(list, f); other != nil {
			// Two rules look at one code: the graver verdict counts.
			if verdict.grade() != min(f.Verdict.grade(), other.Verdict.grade()) {
				t.Errorf("%s of %s: %s, in the judgement %s and %s", f.Code, f.Value.Place.Build, verdict, f.Verdict, other.Verdict)
			}
			continue
		}
		if verdict != f.Verdict || (limit == nil) != (f.Limit == nil) || limit != nil && limit.Value != f.Limit.Value {
			t.Errorf("%s of %s: %s by %+v, in the judgement %s by %+v", f.Code, f.Value.Place.Build, verdict, limit, f.Verdict, f.Limit)
		}
	}
	if n < 6 {
		t.Fatalf("only %d findings of corners", n)
	}
	others := 0
	for i := range a.Values {
		v := &a.Values[i]
		if v.Code == "understeer-gradient" && v.Place.Mode == "straight-ahead" || v.Code == "yaw-damping" && v.Place.Speed < 20 {
			others++
			if verdict, _ := One(a, v); verdict != NoLimit {
				t.Errorf("%+v is judged %s", v.Place, verdict)
			}
		}
	}
	if others == 0 {
		t.Fatal("no other figures of corners")
	}
}
