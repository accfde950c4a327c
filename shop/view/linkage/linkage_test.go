package linkage

import (
	"context"
	"math"
	"strings"
	"testing"

	"trunnion/chassis/axles"

	"trunnion/chassis/linkage"
	"trunnion/examples"
	"trunnion/shop/jobfile"
	"trunnion/shop/view"
	"trunnion/shop/view/viewtest"
)

func linkageShown(tb testing.TB, d *view.Desk, req Request) *View {
	tb.Helper()
	if req.Axle == "" {
		req.Axle = "front"
	}
	s, err := d.Recent(context.Background(), &req.TryRequest, nil)
	if err != nil {
		tb.Fatal(err)
	}
	return Of(s, req)
}

func (l *View) chart(id string) *view.Chart {
	for i := range l.Charts {
		for k := range l.Charts[i].Charts {
			if l.Charts[i].Charts[k].ID == id {
				return &l.Charts[i].Charts[k]
			}
		}
	}
	return nil
}

func TestLinkageIsTheStudys(t *testing.T) {
	d := viewtest.Desk(t)
	v := linkageShown(t, d, Request{TryRequest: viewtest.Hatch(t)})
	if len(v.Faults)+len(v.Missing) > 0 || len(v.Frames) < 40 || !v.Steers || v.Kind != "strut" {
		t.Fatalf("faults %v, missing %v, %d frames", v.Faults, v.Missing, len(v.Frames))
	}
	for _, id := range []string{"spring-ratio", "spring-slope", "bar-ratio", "camber", "toe", "caster", "half-track", "roll-centre", "scrub", "trail", "brake-support"} {
		if c := v.chart("linkage-" + id); c == nil || len(c.Series) != 1 || len(c.Series[0].X) != len(v.Frames) || len(c.Marks) < 3 {
			t.Errorf("chart %s: %+v", id, c)
		}
	}
	req := viewtest.Hatch(t)
	s, err := d.Recent(context.Background(), new(req), nil)
	if err != nil {
		t.Fatal(err)
	}
	l, err := s.Job.Car.Axle[0].Hardpoints.New()
	if err != nil {
		t.Fatal(err)
	}
	c := v.chart("linkage-camber")
	for k, x := range c.Series[0].X {
		f, err := l.Figures(linkage.Parallel, x/1e3, 0)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(c.Series[0].Y[k]-f.Camber*180/math.Pi) > 1e-4 {
			t.Errorf("camber at %g mm is drawn as %g°, the linkage has %g°", x, c.Series[0].Y[k], f.Camber*180/math.Pi)
		}
	}
	for _, line := range v.Lines {
		if line.From == line.To || line.From >= len(v.Points) || line.To >= len(v.Points) {
			t.Errorf("a line from nowhere: %+v", line)
		}
	}
	names := ""
	for _, line := range v.Lines {
		names += line.Kind + " "
	}
	if !strings.Contains(names, "arm") || !strings.Contains(names, "rod") || !strings.Contains(names, "strut") {
		t.Errorf("lines: %s", names)
	}
	if len(v.Effects) != 4 || len(v.Effects[0].Cells) != 5 || len(v.Motions) == 0 || len(v.Says) < 2 || !strings.Contains(v.From, "As it arrived") {
		t.Errorf("effects %+v from %q, motions %+v, says %v", v.Effects, v.From, v.Motions, v.Says)
	}
}

func TestLinkageChanged(t *testing.T) {
	d := viewtest.Desk(t)
	v := linkageShown(t, d, Request{TryRequest: viewtest.Hatch(t), Plate: "8 mm", Lower: "25 mm", Mode: "opposite"})
	if c := v.chart("linkage-camber"); len(c.Series) != 2 || c.Series[0].Name != "as measured" || c.Series[1].Name != "as changed" {
		t.Errorf("camber as changed: %+v", c)
	}
	if len(v.Effects) != 5 || !v.Effects[0].Asked {
		t.Fatalf("effects: %+v", v.Effects)
	}
	if start := v.Frames[v.Start].Travel; math.Abs(start-25) > 12 {
		t.Errorf("it stands at %g mm, 25 mm lower than the reference", start)
	}
	rear := linkageShown(t, d, Request{TryRequest: viewtest.Hatch(t), Axle: "rear", Mode: "opposite"})
	if rear.Kind != "twist-beam" || rear.Steers || len(rear.Wheels) != 2 || rear.chart("linkage-caster") != nil || len(rear.Lines) < 4 {
		t.Errorf("twist beam: kind %q, %d wheels, lines %+v, missing %+v", rear.Kind, len(rear.Wheels), rear.Lines, rear.Missing)
	}
	if v := linkageShown(t, d, Request{TryRequest: viewtest.Hatch(t), Axle: "rear", Rack: "10 mm"}); len(v.Missing) == 0 || len(v.Missing[0].List) == 0 {
		t.Errorf("a steered twist beam: %+v", v.Missing)
	}
	if v := linkageShown(t, d, Request{TryRequest: viewtest.Hatch(t), Axle: "rear", Offset: "10 mm"}); len(v.Missing) == 0 {
		t.Errorf("an offset on a twist beam: %+v", v.Missing)
	}
}

// A car without points says what to measure and shows its motion table.
func TestLinkageWithoutPoints(t *testing.T) {
	d := viewtest.Desk(t)
	for _, axle := range []string{"front", "rear"} {
		v := linkageShown(t, d, Request{TryRequest: viewtest.Pointless(t), Axle: axle})
		if len(v.Missing) != 1 || len(v.Missing[0].List) < 4 || len(v.Frames) != 0 {
			t.Errorf("%s: missing %+v", axle, v.Missing)
		}
		c := v.chart("motion-ratio")
		if c == nil || len(c.Series) != 2 || len(v.Motions) != 2 {
			t.Fatalf("%s: %+v, %+v", axle, c, v.Motions)
		}
	}
	s, err := d.Recent(context.Background(), new(viewtest.Pointless(t)), nil)
	if err != nil {
		t.Fatal(err)
	}
	fit := s.Job.Car.Axle[0].Spring.At(nil)
	_, ratio, _ := fit.At(0)
	c := linkageShown(t, d, Request{TryRequest: viewtest.Pointless(t)}).chart("motion-ratio")
	found := false
	for k, x := range c.Series[0].X {
		if math.Abs(x) < 1e-6 {
			found = math.Abs(c.Series[0].Y[k]-ratio) < 1e-4
		}
	}
	if !found {
		t.Errorf("the ratio at travel 0 is not %g", ratio)
	}
	if _, err := axles.MoveLinkage(s.Job.Car, axles.UsualLinkageAsk(0)); err == nil {
		t.Error("the demo has points: this tests nothing")
	}
}

// A ratio that was not measured is not called measured.
func TestLinkageSaysWhereAMotionIsFrom(t *testing.T) {
	d := viewtest.Desk(t)
	text, err := examples.Jobs.ReadFile("wend-roadster/job.yaml")
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range linkageShown(t, d, Request{TryRequest: view.TryRequest{Text: string(text), Edits: []jobfile.Edit{}, Units: "metric"}}).Motions {
		if strings.HasPrefix(m.Text, "Measured") {
			t.Errorf("%s of a car on the telephone: %s", m.Part, m.Text)
		}
	}
	for _, m := range linkageShown(t, d, Request{TryRequest: viewtest.Pointless(t)}).Motions {
		if !strings.HasPrefix(m.Text, "Measured") {
			t.Errorf("%s of the demo: %s", m.Part, m.Text)
		}
	}
}

// A linkage that locks says where and what, and is drawn as far as it goes.
func TestLinkageThatLocks(t *testing.T) {
	req := viewtest.Hatch(t)
	req.Text = strings.Replace(req.Text, "ball_joint: [5, 700, 220 mm]", "ball_joint: [5, 430, 225 mm]", 1)
	v := linkageShown(t, viewtest.Desk(t), Request{TryRequest: req})
	if len(v.Says) == 0 || !strings.Contains(v.Says[0], "locks at") || !strings.Contains(v.Says[0], "ball joint") || len(v.Frames) < 20 {
		t.Errorf("%d frames, says %q", len(v.Frames), v.Says)
	}
}

func BenchmarkLinkage(b *testing.B) {
	d := viewtest.Desk(b)
	if _, err := d.Compared(b.Context(), new(viewtest.Hatch(b)), nil); err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		linkageShown(b, d, Request{TryRequest: viewtest.Hatch(b), Plate: "8 mm"})
	}
}
