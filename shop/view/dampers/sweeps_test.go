package dampers_test

import (
	"slices"
	"strings"
	"testing"

	"trunnion/examples"
	"trunnion/shop/intake"
	"trunnion/shop/jobfile"
	"trunnion/shop/view/dampers"
	"trunnion/shop/view/viewtest"
)

func files(t *testing.T, names ...string) (out []intake.SweepFile) {
	t.Helper()
	for _, name := range names {
		text, err := examples.Sweeps.ReadFile("sweeps/" + name)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, intake.SweepFile{Name: name, Data: text})
	}
	return out
}

// What the files do not say is asked, with choices that are no examples of what is typed;
// answered, curves come, and left is held against right.
func TestSweepsAreAskedAboutAndPaired(t *testing.T) {
	d := viewtest.Desk(t)
	req := &dampers.SweepsRequest{Units: "metric", Files: files(t, "loops-rear.csv"), Use: "club"}
	v, err := dampers.SweepsOf(t.Context(), d, req, "3 November 2026")
	if err != nil || len(v.Questions) != 2 || len(v.Dampers) != 0 {
		t.Fatalf("%+v, %v", v, err)
	}
	for _, q := range v.Questions {
		if len(q.Choices) != 2 || strings.Contains(q.Text, "--") || !strings.HasPrefix(q.Where, "loops-rear.csv, line ") {
			t.Errorf("%+v", q)
		}
	}
	req.Mapping = intake.SweepMapping{Compression: "negative", Counted: "closed"}
	if v, err = dampers.SweepsOf(t.Context(), d, req, "3 November 2026"); err != nil || len(v.Dampers) != 2 || len(v.Pairs) != 1 {
		t.Fatalf("%+v, %v", v, err)
	}
	p := &v.Pairs[0]
	if p.Matched || p.A != "rear-left" || len(p.Forces.Series) != 2 || len(p.Apart.Bands) != 1 || p.Apart.Bands[0].To != 5 {
		t.Errorf("the pair: %+v", p.Says)
	}
	for k := 1; k < len(p.Apart.Series[0].X); k++ {
		if p.Apart.Series[0].X[k] <= p.Apart.Series[0].X[k-1] {
			t.Errorf("the difference is drawn back and forth: %v", p.Apart.Series[0].X)
		}
	}
	peaks := &dampers.SweepsRequest{Units: "metric", Files: files(t, "peaks-front-left.csv"), Use: "club"}
	if v, err = dampers.SweepsOf(t.Context(), d, peaks, ""); err != nil {
		t.Fatal(err)
	}
	for _, q := range v.Questions {
		for _, c := range q.Choices {
			if strings.ContainsAny(c.Value, "0123456789") {
				t.Errorf("%s: an example is offered as an answer: %+v", q.Code, c)
			}
		}
	}
}

// A sweep that is taken in is an ordinary change: the job stands, the map has the sweep's
// forces and says where they are from.
func TestASweepIsTakenIn(t *testing.T) {
	d := viewtest.Desk(t)
	v, err := dampers.SweepsOf(t.Context(), d, &dampers.SweepsRequest{
		Units: "metric", Files: files(t, "peaks-front-left.csv"), Use: "club", Mapping: intake.SweepMapping{Gas: "365 N", Friction: "118 N"},
	}, "3 November 2026")
	if err != nil || len(v.Dampers) != 1 {
		t.Fatalf("%+v, %v", v, err)
	}
	edits := v.Dampers[0].Edits
	for i := range edits {
		edits[i].Path = "parts.dampers.kit-front." + edits[i].Path
		if edits[i].Value != nil && len(*edits[i].Value) > 4000 {
			t.Errorf("%s is longer than a change may be", edits[i].Path)
		}
	}
	m := mapped(t, d, viewtest.Demo(t, edits...), "kit")
	// The reader wonders at the dead click, and takes the job.
	if slices.ContainsFunc(m.Faults, func(f jobfile.Fault) bool { return f.Kind == jobfile.Refuse }) || len(m.Wheels) != 2 {
		t.Fatalf("the job with the sweep: %v", m.Faults)
	}
	front := &m.Wheels[0]
	measured := 0
	for i := range front.Clicks {
		if front.Clicks[i].Measured {
			measured++
		}
	}
	if measured != 16 || front.Swept != "Curves read from front-left in peaks-front-left.csv, taken in on 3 November 2026." {
		t.Errorf("%d clicks are measured; %q", measured, front.Swept)
	}
	if len(front.Faults) == 0 {
		t.Error("the dead click of the invented damper is not found on the car")
	}
}

// A returned damper is held against its order; what cannot be asked so is refused in words.
func TestAReturnedDamper(t *testing.T) {
	d := viewtest.Desk(t)
	req := &dampers.AcceptRequest{
		SweepsRequest: dampers.SweepsRequest{Units: "metric", Files: files(t, "loops-rear.csv"), Mapping: intake.SweepMapping{Compression: "negative", Counted: "closed"}},
		Order:         "damper,click,stroke,speed mm/s,force N,least N,most N\nrear,7,rebound,130,580,480,680\n",
	}
	v, err := dampers.AcceptedOf(t.Context(), d, req)
	if err != nil || !strings.Contains(v.Refused, "rear-left, rear-right") {
		t.Errorf("two dampers: %+v, %v", v, err)
	}
	req.Damper = "rear-right"
	if v, err = dampers.AcceptedOf(t.Context(), d, req); err != nil || !v.Accept || len(v.Rows) != 1 {
		t.Errorf("%+v, %v", v, err)
	}
	req.Order = "damper\n"
	if v, err = dampers.AcceptedOf(t.Context(), d, req); err != nil || v.Refused == "" {
		t.Errorf("no order: %+v, %v", v, err)
	}
}
