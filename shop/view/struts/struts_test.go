package struts

import (
	"context"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"trunnion/chassis/axles"
	"trunnion/chassis/drives"

	"trunnion/chassis/finding"
	"trunnion/chassis/strut"
	"trunnion/chassis/study"
	"trunnion/shop/desk"
	"trunnion/shop/jobfile"
	"trunnion/shop/view"
	"trunnion/shop/view/viewtest"
)

func strutsShown(tb testing.TB, d *view.Desk, req Request) *View {
	tb.Helper()
	if req.Axle == "" {
		req.Axle = "front"
	}
	s, err := d.Recent(context.Background(), &req.TryRequest, nil)
	if err != nil {
		tb.Fatal(err)
	}
	v, err := Of(context.Background(), s, req)
	if err != nil {
		tb.Fatal(err)
	}
	return v
}

func (s *View) figure(id string) *Figure {
	for i := range s.Figures {
		if s.Figures[i].ID == id {
			return &s.Figures[i]
		}
	}
	return nil
}

// What is drawn, frame by frame, is a rod and a carrier at rest.
func TestStrutFramesAreInEquilibrium(t *testing.T) {
	d := viewtest.Desk(t)
	for _, id := range []string{"standing", "braking-in-a-bend", "pothole-0", carriedCase} {
		v := strutsShown(t, d, Request{TryRequest: viewtest.Hatch(t), Case: id})
		if len(v.Builds) != 2 || v.Case != id || len(v.Frames) < 40 || len(v.Faults) > 0 {
			t.Fatalf("%s: %d builds, case %q, %d frames, faults %v", id, len(v.Builds), v.Case, len(v.Frames), v.Faults)
		}
		looked := 0
		for _, b := range v.Builds {
			if len(b.Now) != len(v.Frames) {
				t.Fatalf("%s: %d of %d frames", b.Build, len(b.Now), len(v.Frames))
			}
			for k, n := range b.Now {
				if !n.OK {
					if n.Why == "" {
						t.Errorf("%s at %s: nothing, and no reason", b.Build, v.Frames[k].Shown)
					}
					continue
				}
				looked++
				top, guide, lower := n.Forces[2], n.Forces[3], n.Forces[4]
				for x := range 3 {
					if off := top[x] + guide[x] + lower[x]; math.Abs(off) > 0.3 {
						t.Fatalf("%s at %s: %g N are left over on the rod", b.Build, v.Frames[k].Shown, off)
					}
				}
				// Moments about the top: the guide's and the lower bearing's.
				g, l := math.Hypot(math.Hypot(guide[0], guide[1]), guide[2]), math.Hypot(math.Hypot(lower[0], lower[1]), lower[2])
				if d := g*n.Over - l*n.To; math.Abs(d) > 0.3*n.To {
					t.Errorf("%s at %s: %g N mm are left over", b.Build, v.Frames[k].Shown, d)
				}
				if len(n.Shown) != len(v.Forces) || len(n.Figures) != len(v.Heads) || len(v.Frames[k].At) != len(v.Points) {
					t.Fatal("texts and names do not fit")
				}
			}
		}
		if looked < 60 {
			t.Errorf("%s: %d frames have forces", id, looked)
		}
	}
}

// The figures are the study's own; moved, they are those of the strut that was
// moved.
func TestStrutFiguresAreTheStudys(t *testing.T) {
	d := viewtest.Desk(t)
	plain := strutsShown(t, d, Request{TryRequest: viewtest.Hatch(t)})
	s, err := d.Recent(context.Background(), new(viewtest.Hatch(t)), nil)
	if err != nil {
		t.Fatal(err)
	}
	all, err := axles.LoadStruts(context.Background(), s.Answer, axles.UsualStrutAsk(0))
	if err != nil {
		t.Fatal(err)
	}
	for n := range all.Builds[0].Cases {
		for i := range all.Builds {
			m := &all.Builds[i].Cases[n].Moment
			if got, want := plain.figure("stress").Cases[n][i].Text, s.Teller.With("stress", m.Stress); got != want {
				t.Errorf("case %d, build %d: bending %q, the study has %q", n, i, got, want)
			}
			if got, want := plain.figure("break-away").Cases[n][i].Text, s.Teller.With("N", m.BreakAway); got != want {
				t.Errorf("case %d, build %d: break-away %q, the study has %q", n, i, got, want)
			}
		}
	}
	out := strutsShown(t, d, Request{TryRequest: viewtest.Hatch(t), Offset: "20 mm"})
	ask := axles.UsualStrutAsk(0)
	ask.Offset = 0.020
	wide, err := axles.LoadStruts(context.Background(), s.Answer, ask)
	if err != nil {
		t.Fatal(err)
	}
	cell := out.figure("side").Cases[0][0]
	if want := s.Teller.With("N", wide.Builds[0].Cases[0].Moment.Forces.Across); cell.Text != want || !strings.HasSuffix(cell.Was, "of as it stands") {
		t.Errorf("20 mm further out: %q, %q; the study has %q", cell.Text, cell.Was, want)
	}
	if plain.figure("side").Cases[0][0].Was != "" || plain.figure("side").Cases[0][1].Against == "" || plain.figure("side").Cases[0][0].Against != "" {
		t.Errorf("compared with the wrong thing: %+v", plain.figure("side").Cases[0])
	}
	if plain.Costs == "" || len(plain.Builds[1].Says) < 2 || len(plain.Builds[1].Changes) != 8 || len(plain.Charts) < 3 {
		t.Errorf("costs %q, says %v, %d changes, %d charts", plain.Costs, plain.Builds[1].Says, len(plain.Builds[1].Changes), len(plain.Charts))
	}
	// A limit is only named where one was stated.
	if l := plain.figure("stress").Cases[0][0].Limit; !strings.HasPrefix(l, "no limit stated") {
		t.Errorf("limit of bending: %q", l)
	}
	stated := strutsShown(t, d, Request{TryRequest: viewtest.Hatch(t, viewtest.Set("parts.dampers.old-front.guide.yield", "600 MPa"))})
	if l := stated.figure("stress").Cases[0][0].Limit; !strings.Contains(l, "% of the yield strength entered, 600 N/mm²") {
		t.Errorf("limit of bending with a yield strength: %q, faults %v", l, stated.Faults)
	}
}

// A strut's drawing stands where its linkage stands: hub and contact a wheel's
// radius apart, the top mount still.
func TestStrutFramesAreRigid(t *testing.T) {
	v := strutsShown(t, viewtest.Desk(t), Request{TryRequest: viewtest.Hatch(t), Longer: "10 mm"})
	at := func(f *Frame, name string) []float64 {
		for i, p := range v.Points {
			if p == name {
				return f.At[i]
			}
		}
		t.Fatal("no " + name)
		return nil
	}
	apart := func(a, b []float64) float64 {
		return math.Sqrt((a[0]-b[0])*(a[0]-b[0]) + (a[1]-b[1])*(a[1]-b[1]) + (a[2]-b[2])*(a[2]-b[2]))
	}
	first := &v.Frames[0]
	for k := range v.Frames {
		f := &v.Frames[k]
		for _, pair := range [][2]string{{"hub", "contact"}, {"ball", "armFront"}, {"ball", "armRear"}, {"tieInner", "tieOuter"}, {"hub", "ball"}, {"hub", "low"}} {
			if d := apart(at(f, pair[0]), at(f, pair[1])) - apart(at(first, pair[0]), at(first, pair[1])); math.Abs(d) > 2e-3 {
				t.Fatalf("at %s %v are %g mm off", f.Shown, pair, d)
			}
		}
		if apart(at(f, "top"), at(first, "top")) != 0 {
			t.Fatal("the top mount moves")
		}
	}
}

func TestStrutsSayWhatToMeasure(t *testing.T) {
	d := viewtest.Desk(t)
	points := viewtest.Pointless(t)
	for _, id := range []string{"old-front", "uprated-front", "kit-front"} {
		points.Edits = append(points.Edits, jobfile.Edit{Path: "parts.dampers." + id + ".guide"})
	}
	v := strutsShown(t, d, Request{TryRequest: points})
	if len(v.Builds) != 0 || len(v.Missing) != 2 || len(v.Missing[1].List) != 3 || v.Missing[0].Path != "car.front.hardpoints" || len(v.Missing[0].List) < 4 {
		t.Fatalf("the demo without link points: %d builds, missing %+v", len(v.Builds), v.Missing)
	}
	if len(v.Mounts.Rows) == 0 || len(v.Mounts.Names) != 4 || len(v.Mounts.Kinds) != 4 || len(v.Mounts.Rows[0].Cells) != 4 {
		t.Errorf("mounts of the demo: %+v", v.Mounts)
	}
	if v := strutsShown(t, d, Request{TryRequest: viewtest.Hatch(t), Axle: "rear"}); len(v.Missing) != 1 || !strings.Contains(v.Missing[0].Text, "twist beam") {
		t.Errorf("a twist beam: %+v", v.Missing)
	}
	if v := strutsShown(t, d, Request{TryRequest: viewtest.Hatch(t), Offset: "a lot", Lateral: "9 g"}); len(v.Faults) != 2 || v.Faults[0].Path != "offset" || len(v.Builds) != 2 {
		t.Errorf("nonsense: %+v", v.Faults)
	}
	got := viewtest.Hatch(t)
	got.Text = strings.Replace(got.Text, "ball_joint: [5, 700, 220 mm]", "ball_joint: [5, -700, 220 mm]", 1)
	v = strutsShown(t, d, Request{TryRequest: got})
	if !slices.ContainsFunc(v.Faults, func(f jobfile.Fault) bool { return strings.Contains(f.Got, "lower-arm ball joint") }) {
		t.Errorf("a ball joint on the other side: %+v", v.Faults)
	}
}

// Under power there is a case only where it is known what drives.
func TestStrutsUnderPower(t *testing.T) {
	d := viewtest.Desk(t)
	plain := strutsShown(t, d, Request{TryRequest: viewtest.Hatch(t)})
	has := func(v *View) bool {
		return slices.ContainsFunc(v.Cases, func(c view.Choice) bool { return c.Value == axles.StrutDriving && c.Label == "Pulling away at 0.30 g" })
	}
	if has(plain) || !slices.ContainsFunc(plain.Notes, func(n string) bool { return strings.Contains(n, "car.drive_share") }) {
		t.Errorf("nothing is known of the drive: cases %+v, notes %v", plain.Cases, plain.Notes)
	}
	driven := strutsShown(t, d, Request{TryRequest: viewtest.Hatch(t, viewtest.Set("car.drive_share", "100 %")), Case: axles.StrutDriving})
	if !has(driven) || driven.Case != axles.StrutDriving || len(driven.Faults) > 0 || !strings.Contains(driven.Builds[0].Loaded, "along") {
		t.Fatalf("front-wheel drive: cases %+v, case %q, faults %v, %q", driven.Cases, driven.Case, driven.Faults, driven.Builds[0].Loaded)
	}
	for _, f := range driven.Figures {
		if len(f.Cases) != len(driven.Cases)-1 {
			t.Errorf("%s has %d of %d cases", f.ID, len(f.Cases), len(driven.Cases)-1)
		}
	}
	for k, c := range driven.Builds[0].Changes {
		if c.Case != plain.Builds[0].Changes[k].Case {
			t.Errorf("change %d is told in another case: %+v", k, c)
		}
	}
}

// A strut that is too short says so and by how much.
func TestStrutFaultsInWords(t *testing.T) {
	d := viewtest.Desk(t)
	s, err := d.Recent(context.Background(), new(viewtest.Hatch(t)), nil)
	if err != nil {
		t.Fatal(err)
	}
	for err, want := range map[error]string{
		&strut.OverrunError{Short: 0.2, Over: -0.012, Apart: 0.3}: "12.0 mm past the guide",
		strut.ErrUnheld:  "in one line",
		strut.ErrSection: "impossible",
	} {
		if got := s.Teller.StrutFault(err); !strings.Contains(got, want) {
			t.Errorf("%v is told as %q", err, got)
		}
	}
}

func TestStrutSlidersAnswerQuickly(t *testing.T) {
	d := viewtest.Desk(t)
	if _, err := d.Compared(t.Context(), new(viewtest.Hatch(t)), nil); err != nil {
		t.Fatal(err)
	}
	start := time.Now()
	v := strutsShown(t, d, Request{TryRequest: viewtest.Hatch(t), Offset: "15 mm", Case: "cornering"})
	t.Logf("%d ms, %v", v.Ms, time.Since(start))
	if v.Sliders[0].Choices[v.Sliders[0].At].Value != "15 mm" || v.Sliders[0].Choices[v.Sliders[0].None].Value != "0 mm" {
		t.Errorf("the slider stands at %+v", v.Sliders[0])
	}
}

func BenchmarkStruts(b *testing.B) {
	d := viewtest.Desk(b)
	if _, err := d.Compared(b.Context(), new(viewtest.Hatch(b)), nil); err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		strutsShown(b, d, Request{TryRequest: viewtest.Hatch(b), Offset: "15 mm", Case: "cornering"})
	}
}

// In inches the same strut: nothing is computed from what is shown.
func TestStrutsInInches(t *testing.T) {
	d := viewtest.Desk(t)
	metric := strutsShown(t, d, Request{TryRequest: viewtest.Hatch(t)})
	req := viewtest.Hatch(t)
	req.Units = "imperial"
	inch := strutsShown(t, d, Request{TryRequest: req})
	if inch.Unit.Length != "in" || inch.Unit.Force != "lbf" || len(inch.Frames) != len(metric.Frames) {
		t.Fatalf("units %+v, %d frames for %d", inch.Unit, len(inch.Frames), len(metric.Frames))
	}
	for k := range metric.Frames {
		if d := inch.Frames[k].At[0][1]*25.4 - metric.Frames[k].At[0][1]; math.Abs(d) > 0.01 {
			t.Fatalf("frame %d is %g mm off", k, d)
		}
	}
	was, is := metric.Builds[0].Now[10].Forces[0][2], inch.Builds[0].Now[10].Forces[0][2]
	if math.Abs(is*4.4482216-was) > 0.3 {
		t.Errorf("the road pushes with %g lbf, %g N", is, was)
	}
	if text := inch.figure("stress").Cases[0][0].Text; !strings.HasSuffix(text, " psi") || strings.Contains(text, ".") {
		t.Errorf("bending stress %q", text)
	}
}

// With the full judgement the mounts are compared on the roads; the reference is
// 1 by itself.
func TestMountsOfAFullJudgement(t *testing.T) {
	d := viewtest.Desk(t)
	req := viewtest.Hatch(t)
	job, faults := jobfile.ReadBytes([]byte(req.Text), "job.yaml")
	if job == nil {
		t.Fatal(faults)
	}
	opt := study.Defaults()
	opt.Samples, opt.NoWorkings, opt.NoCorners = 0, true, true
	a, err := study.Run(context.Background(), study.Job{Car: job.Car, Builds: job.Builds, Loads: job.Loads, Brief: &job.Brief}, opt)
	if err != nil {
		t.Fatal(err)
	}
	ride := drives.Defaults()
	ride.Samples, ride.Unchecked = 1, true
	if err := drives.Ride(context.Background(), a, ride, nil); err != nil {
		t.Fatal(err)
	}
	findings := finding.Judge(a)
	full, err := d.Recent(context.Background(), &req, &desk.Result{Answer: a, Findings: findings, Job: job, Faults: faults})
	if err != nil {
		t.Fatal(err)
	}
	v, err := Of(context.Background(), full, Request{TryRequest: req, Axle: "front"})
	if err != nil {
		t.Fatal(err)
	}
	if !v.Full || len(v.Mounts.Notes) != 3 {
		t.Errorf("full %v, notes %v", v.Full, v.Mounts.Notes)
	}
	i := slices.IndexFunc(v.Mounts.Rows, func(r MountRow) bool { return strings.HasPrefix(r.Label, "Wear of the upper mount") })
	if i < 0 {
		t.Fatalf("nothing of the mounts' wear: %+v", v.Mounts.Rows)
	}
	if c := v.Mounts.Rows[i].Cells; !strings.HasPrefix(c[0].Text, "1.0") || c[1].Text == c[0].Text {
		t.Errorf("wear: %+v", c)
	}
}
