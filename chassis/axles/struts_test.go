package axles

import (
	"context"
	"errors"
	"math"
	"testing"

	"trunnion/chassis/demo"
	"trunnion/chassis/study"

	"trunnion/chassis/car"
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/figure"
	"trunnion/chassis/geom"
	"trunnion/chassis/linkage"
)

func at(x, y, z float64) geom.Vec { return geom.Vec{X: x / 1000, Y: y / 1000, Z: z / 1000} }

// pointed is the demo with its front struts' points, from which its motion is
// taken too, and guides in every front damper.
func pointed(t testing.TB, keepTable bool) *study.Answer {
	t.Helper()
	return answered(t, pointedJob(t, keepTable))
}

// pointedJob is the job behind it.
func pointedJob(t testing.TB, keepTable bool) study.Job {
	t.Helper()
	job := study.Job(demo.Marl())
	ax := &job.Car.Axle[car.Front]
	ax.Hardpoints = &linkage.Hardpoints{Corner: &linkage.Corner{
		Kind:  linkage.Strut,
		Wheel: linkage.Wheel{Centre: at(0, 755, 310), Radius: 0.31, Camber: -0.01, Toe: 0.001},
		Arms:  []linkage.Arm{{Name: "lower arm", Front: at(-15, 360, 235), Rear: at(-310, 380, 245), Ball: at(5, 705, 220)}},
		Rods:  []linkage.Rod{{Name: "tie rod", Inner: at(-130, 340, 300), Outer: at(-135, 695, 290), Steered: true}},
		Strut: &linkage.Axis{Top: at(-45, 585, 820), Low: at(-14, 660, 420)},
	}}
	if !keepTable {
		l, err := ax.Hardpoints.New()
		if err != nil {
			t.Fatal(err)
		}
		curves, err := l.Sweep(linkage.Parallel, linkage.Travels(-0.1, 0.1, 21), 0)
		if err != nil {
			t.Fatal(err)
		}
		m := car.Motion{Origin: figure.Computed}
		m.Reading = figure.Input{Half: 1e-4, Shape: figure.Normal95, Origin: figure.Computed}
		m.Wheel, _, m.Part = curves.Rows()
		if err := m.FitTable(); err != nil {
			t.Fatal(err)
		}
		ax.Spring, ax.Damper = m, m
	}
	given := func(v float64) figure.Input { return figure.Input{Value: v, Origin: figure.Measured} }
	for _, b := range job.Builds {
		d := *b.Corner[2*car.Front].Damper
		d.Guide = car.Guide{FromTop: given(0.175), Apart: given(0.2)}
		d.Rod = given(0.022)
		b.Both(car.Front, func(p *car.BuildCorner) { p.Damper = &d })
	}
	return job
}

func answered(t testing.TB, job study.Job) *study.Answer {
	t.Helper()
	opt := study.Defaults()
	opt.Samples, opt.NoWorkings, opt.NoModes, opt.NoCorners = 0, true, true, true
	a, err := study.Run(context.Background(), job, opt)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func struts(t testing.TB, a *study.Answer, ask StrutAsk) *Struts {
	t.Helper()
	all, err := LoadStruts(context.Background(), a, ask)
	if err != nil {
		t.Fatal(err)
	}
	return all
}

func caseOf(t testing.TB, one *BuildStrut, code string) *StrutCase {
	t.Helper()
	for i := range one.Cases {
		if one.Cases[i].Code == code {
			if one.Cases[i].Err != nil {
				t.Fatal(one.Cases[i].Err)
			}
			return &one.Cases[i]
		}
	}
	t.Fatalf("no case %s", code)
	return nil
}

func norm(v geom.Vec) float64 { return math.Sqrt(v.X*v.X + v.Y*v.Y + v.Z*v.Z) }

// The loads of a strut in a bend, under braking and in both are those of the car
// there, its own wheel outside; a load that is set is taken instead.
func TestStrutLoadsAreTheCars(t *testing.T) {
	a := pointed(t, false)
	ask := UsualStrutAsk(car.Front)
	ask.NoEvents, ask.Points, ask.Each = true, 0, true
	all := struts(t, a, ask)
	if len(all.Builds) != 2*len(a.Job.Builds) || all.Reference < 0 {
		t.Fatalf("%d builds, reference %d", len(all.Builds), all.Reference)
	}
	g := equilibrium.Gravity
	for n := range all.Builds {
		one := &all.Builds[n]
		bend, err := a.Cornering(one.Build.ID, a.UsualLoad())
		if err != nil {
			t.Fatal(err)
		}
		for code, by := range map[string][2]float64{
			StrutCornering: {-0.9 * g, 0}, StrutBraking: {0, -0.9 * g}, StrutBoth: {-0.9 * g * math.Sqrt2 / 2, -0.9 * g * math.Sqrt2 / 2},
		} {
			c := caseOf(t, one, code)
			// The right strut is taken as the left one's mirror image, in a left turn.
			i, m := one.Side, float64(1-2*one.Side)
			p, err := bend.At(m*by[0], by[1], nil)
			if err != nil {
				t.Fatal(err)
			}
			f := c.Road
			if math.Abs(f.Z-p.Load[i]) > 1e-3 || math.Abs(f.Y-m*p.Side[i]) > 1e-3 || math.Abs(f.X-by[1]/g*p.Load[i]) > 1e-3 || math.Abs(c.Travel-p.Travel[i]) > 1e-7 {
				t.Errorf("%s, %s: %+v at %.5f m; the car has %.2f N, %.2f N sideways at %.5f m", one.Build.ID, code, f, c.Travel, p.Load[i], p.Side[i], p.Travel[i])
			}
			// What acts in the body's axes is as large as in the road's, and does as much
			// along the body's own upright.
			if is, was := norm(c.Load.Contact), norm(f); math.Abs(is-was) > 1e-6*was {
				t.Errorf("%s, %s: the road pushes with %.3f N, in the body's axes %.3f N", one.Build.ID, code, was, is)
			}
			roll, pitch := m*bend.RollAt(&p), bend.PitchAt(&p)
			up := geom.Vec{X: math.Sin(pitch), Y: -math.Sin(roll) * math.Cos(pitch), Z: math.Cos(roll) * math.Cos(pitch)}
			if want := f.X*up.X + f.Y*up.Y + f.Z*up.Z; math.Abs(c.Load.Contact.Z-want) > 1e-6*want {
				t.Errorf("%s, %s: %.3f N along the body's upright, %.3f N by its direction", one.Build.ID, code, c.Load.Contact.Z, want)
			}
			// The strut carries what the road gives less what wheel and carrier take.
			k, err := a.CaseOf(one.Build.ID, a.UsualLoad())
			if err != nil {
				t.Fatal(err)
			}
			hub := k.System.Unsprung[i] * math.Sqrt(g*g+by[0]*by[0]+by[1]*by[1])
			if is := norm(c.Load.Hub); math.Abs(is-hub) > 1e-6*hub {
				t.Errorf("%s, %s: wheel and carrier push with %.3f N, by their mass %.3f N", one.Build.ID, code, is, hub)
			}
			if code == StrutCornering && !(f.Y < 0 && c.Factor > 1.2) {
				t.Errorf("%s: the outside wheel is pushed by %.0f N and carries %.2f times its load", one.Build.ID, f.Y, c.Factor)
			}
		}
	}
	for n := range all.Builds {
		one := &all.Builds[n]
		k, err := a.CaseOf(one.Build.ID, a.UsualLoad())
		if err != nil {
			t.Fatal(err)
		}
		st, c, i := &k.State, caseOf(t, one, StrutStanding), one.Side
		if c.Travel != st.Travel[i] || c.Load.Contact != (geom.Vec{Z: st.Load[i]}) || c.Factor != 1 {
			t.Errorf("%s standing: %+v at %.5f m", one.Build.ID, c.Load, c.Travel)
		}
	}
	ask.Transfer, ask.Dive = 1.5, 1.2
	set := struts(t, a, ask)
	c := caseOf(t, &set.Builds[0], StrutCornering)
	rest := caseOf(t, &set.Builds[0], StrutStanding)
	if want := 1.5 * rest.Load.Contact.Z; c.Load.Contact.Z != want || math.Abs(c.Load.Contact.Y+0.9*want) > 1e-9 || c.Travel != rest.Travel {
		t.Errorf("a load that is set: %+v", c.Load)
	}
}

// Forces in space and forces by virtual work are the same forces: over the whole
// travel what pushes along the strut, times its ratio, is what spring, gas and
// stop push the wheel with.
func TestStrutOverTravelIsVirtualWork(t *testing.T) {
	a := pointed(t, false)
	ask := UsualStrutAsk(car.Front)
	ask.NoEvents, ask.Each = true, true
	all := struts(t, a, ask)
	for n := range all.Builds {
		one := &all.Builds[n]
		k, err := a.CaseOf(one.Build.ID, a.UsualLoad())
		if err != nil {
			t.Fatal(err)
		}
		if len(one.Over) != ask.Points {
			t.Fatalf("%d points over travel", len(one.Over))
		}
		for i := range one.Over {
			m := &one.Over[i]
			if one.OverErrs[i] != nil {
				t.Fatal(one.OverErrs[i])
			}
			force, _ := k.System.Corner[one.Side].Force(m.Travel)
			if force < 100 {
				continue // bushes pull where the spring hangs free
			}
			// The contact rises as much as the wheel centre to half a per cent.
			if got := -m.Forces.Along * m.Ratio; math.Abs(got-force) > 0.005*force+5 {
				t.Errorf("%s at %.3f m: %.1f N at the wheel by the strut, %.1f N by its springs", one.Build.ID, m.Travel, got, force)
			}
		}
	}
}

// Over an obstacle the strut feels what the tyre's load leaves once the wheel is
// thrown up by it: far less than the tyre at a pothole's edge.
func TestStrutsOverObstacles(t *testing.T) {
	a := pointed(t, false)
	ask := UsualStrutAsk(car.Front)
	ask.Points = 0
	all := struts(t, a, ask)
	for n := range all.Builds {
		one := &all.Builds[n]
		most := map[int]float64{}
		for i := range one.Cases {
			c := &one.Cases[i]
			if c.Event < 0 {
				continue
			}
			if c.Err != nil {
				t.Fatal(c.Err)
			}
			// Without a force along the car the strut's is that by virtual work.
			through := c.Load.Contact.Z + c.Load.Hub.Z
			if got := -c.Moment.Forces.Along * c.Moment.Ratio; c.Road.X == 0 && math.Abs(got-through) > 0.02*math.Abs(through)+10 {
				t.Errorf("%s, %s: %.0f N at the wheel by the strut, %.0f N are left by the wheel", one.Build.ID, c.Code, got, through)
			}
			if c.Code == "pothole" && !(through < 0.5*c.Road.Z && c.Road.X < 0) {
				t.Errorf("%s: at the edge of a pothole %.0f N of %.0f N come through, %.0f N along", one.Build.ID, through, c.Road.Z, c.Road.X)
			}
			if was, ok := most[c.Event]; ok && through < was {
				t.Errorf("%s, %s: %.0f N through the strut, %.0f N at the tyre's peak", one.Build.ID, c.Code, through, was)
			}
			most[c.Event] = through
		}
		if len(most) != len(a.Job.Brief.Events) {
			t.Errorf("%s meets %d obstacles", one.Build.ID, len(most))
		}
	}
}

// The reference is itself; a wheel further out loads the rod more, standing, and
// every change is tried standing and in the bend.
func TestStrutRatiosAndChanges(t *testing.T) {
	a := pointed(t, false)
	ask := UsualStrutAsk(car.Front)
	ask.Points, ask.Each = 0, true
	all := struts(t, a, ask)
	events := len(a.Job.Brief.Events)
	for n := range all.Builds {
		one := &all.Builds[n]
		if len(one.Cases) != 4+2*events {
			t.Fatalf("%d cases", len(one.Cases))
		}
		if (one.Build.ID == a.Reference) != (len(one.Against) == 0) {
			t.Errorf("%s is set against the reference %d times", one.Build.ID, len(one.Against))
		}
		for _, r := range one.Against {
			was := &all.Baseline(one).Cases[r.Case].Moment
			if want := one.Cases[r.Case].Moment.Bearing.Guide / was.Bearing.Guide; math.Abs(r.Guide-want) > 1e-12 {
				t.Errorf("%s: guide × %.6f, by the forces × %.6f", one.Build.ID, r.Guide, want)
			}
		}
		if len(one.Changes) != 8 {
			t.Fatalf("%d changes", len(one.Changes))
		}
		for _, ch := range one.Changes {
			was := &one.Cases[ch.Case]
			switch {
			case ch.Err != nil:
				t.Errorf("%s: %v", ch.Code, ch.Err)
			case ch.Code == StrutFurtherOut && was.Code == StrutStanding && !(ch.Moment.Forces.Across > was.Moment.Forces.Across):
				t.Errorf("%s: %.0f N across, %.0f N before", ch.Code, ch.Moment.Forces.Across, was.Moment.Forces.Across)
			case ch.Code == StrutLower && math.Abs(ch.Moment.Travel-was.Travel-ch.By) > 1e-12:
				t.Errorf("lower by %.3f m stands at %.4f m, before at %.4f m", ch.By, ch.Moment.Travel, was.Travel)
			}
		}
		hardest := &one.Cases[one.Hardest]
		for i := range one.Cases {
			if c := &one.Cases[i]; c.Err == nil && c.Moment.Forces.Along < hardest.Moment.Forces.Along {
				t.Errorf("%s is harder than %s", c.Code, hardest.Code)
			}
		}
	}
}

// Each strut carries its own wheel: what is fitted on the left alone leaves the right's
// forces standing as they are, though the two sides are then asked for apart; and of two
// alike the one whose wheel carries more is shown.
func TestEachStrutCarriesItsOwnWheel(t *testing.T) {
	job := pointedJob(t, false)
	ask := UsualStrutAsk(car.Front)
	ask.NoEvents, ask.Points = true, 0
	was := answered(t, job)
	alike := struts(t, was, ask)
	ask.Each = true
	both := struts(t, was, ask)
	b := job.Builds[len(job.Builds)-1]
	b.Corner[0].Packer.Value += 0.005
	b.Corner[0].Packer.Origin = figure.Measured
	ask.Each = false
	now := struts(t, answered(t, job), ask)
	k, err := was.CaseOf(was.Reference, was.UsualLoad())
	if err != nil {
		t.Fatal(err)
	}
	if l := k.State.Load; alike.Loaded() != 1 || !(l[1] > l[0]+10) {
		t.Fatalf("side %d is shown; the wheels carry %.0f and %.0f N", alike.Loaded(), l[0], l[1])
	}
	found := func(all *Struts, side int) float64 {
		for n := range all.Builds {
			if one := &all.Builds[n]; one.Build.ID == b.ID && one.Side == side {
				return caseOf(t, one, StrutStanding).Moment.Forces.Across
			}
		}
		t.Fatalf("no strut of side %d of %s", side, b.ID)
		return 0
	}
	for side := range 2 {
		if is, want := found(now, side), found(both, side); math.Abs(is-want) > 1e-6*want {
			t.Errorf("side %d carries %.3f N across once the left has a packer more, before %.3f N", side, is, want)
		}
	}
	if l, r := found(both, 0), found(both, 1); !(r > l) || found(alike, 1) != r {
		t.Errorf("%.1f N across on the left, %.1f N on the right; shown %.1f N", l, r, found(alike, 1))
	}
}

func TestStrutsThatAreNone(t *testing.T) {
	a := pointed(t, false)
	if _, err := LoadStruts(context.Background(), a, UsualStrutAsk(car.Rear)); !errors.Is(err, ErrNoStrut) {
		t.Error(err)
	}
	ask := UsualStrutAsk(car.Front)
	ask.Load = "moon"
	if _, err := LoadStruts(context.Background(), a, ask); !errors.Is(err, study.ErrNoCase) {
		t.Error(err)
	}
	ask = UsualStrutAsk(car.Front)
	ask.Builds = []string{"nobody"}
	if _, err := LoadStruts(context.Background(), a, ask); !errors.Is(err, ErrNoGuide) {
		t.Error(err)
	}
}

// BenchmarkStruts is a page's table of struts without the obstacles' drives.
func BenchmarkStruts(b *testing.B) {
	a := pointed(b, false)
	ask := UsualStrutAsk(car.Front)
	ask.NoEvents = true
	for b.Loop() {
		struts(b, a, ask)
	}
}
