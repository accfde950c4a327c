package clickmap_test

import (
	"context"
	"math"
	"testing"

	"trunnion/chassis/clickmap"
	"trunnion/chassis/demo"
	"trunnion/chassis/dyno"
	"trunnion/chassis/study"
)

// mapped is the demo's kit with the driver aboard.
func mapped(t *testing.T, change func(*clickmap.Ask), click [2]int) (*study.Answer, *clickmap.Map) {
	t.Helper()
	d := demo.Marl()
	job := study.Job(d)
	for _, b := range job.Builds {
		if b.ID == "kit" {
			b.Setup.SetClick(0, click[0])
			b.Setup.SetClick(1, click[1])
		}
	}
	opt := study.Defaults()
	opt.Samples, opt.NoWorkings, opt.NoCorners = 200, true, true
	opt.Velocities = clickmap.UsualSpeeds[:]
	a, err := study.Run(context.Background(), job, opt)
	if err != nil {
		t.Fatal(err)
	}
	ask := clickmap.Ask{Build: "kit", Load: "driver", Speeds: clickmap.UsualSpeeds, Steps: 5}
	if change != nil {
		change(&ask)
	}
	m, err := clickmap.Of(context.Background(), a, ask)
	if err != nil {
		t.Fatal(err)
	}
	return a, m
}

// The map's ratios are the study's at every click measured, in each stroke; the modes at
// the build's own click are the study's too.
func TestMapAgreesWithTheStudy(t *testing.T) {
	a, m := mapped(t, nil, [2]int{7, 7})
	if len(m.Wheels) != 2 {
		t.Fatalf("%d dampers are mapped; one an axle is wanted", len(m.Wheels))
	}
	held := 0
	for i := range a.Values {
		v := &a.Values[i]
		p := &v.Place
		w := m.Wheel(p.Corner)
		if v.Code != "damping-ratio" || p.Build != "kit" || p.Load != "driver" || w == nil {
			continue
		}
		for k, speed := range clickmap.UsualSpeeds {
			if p.Velocity != speed {
				continue
			}
			c := &w.Clicks[p.Click]
			got := c.Ratio[k].Value
			switch p.Direction {
			case "bump":
				got = c.Apart[0][k].Value
			case "rebound":
				got = c.Apart[1][k].Value
			}
			if math.Abs(got-v.Value) > 1e-9 || c.Click != p.Click || !c.Measured {
				t.Errorf("click %d at %.2f m/s, %s: %.6f, the study has %.6f", p.Click, speed, p.Direction, got, v.Value)
			}
			held++
		}
	}
	if held != 2*5*3*3 {
		t.Errorf("%d ratios were compared", held)
	}
	found := 0
	for i := range a.Values {
		v := &a.Values[i]
		if v.Code != "mode-damping" || v.Place.Build != "kit" || v.Place.Load != "driver" {
			continue
		}
		modes := m.Wheels[0].Clicks[7].Modes[clickmap.Mid]
		if got, ok := map[string]float64{"heave": modes.Heave, "roll": modes.Roll, "pitch": modes.Pitch, "front-hop": modes.Hop}[v.Place.Mode]; ok {
			found++
			if math.Abs(got-v.Value) > 1e-9 {
				t.Errorf("%s: %.6f, the study has %.6f", v.Place.Mode, got, v.Value)
			}
		}
	}
	if found != 4 {
		t.Errorf("%d modes were compared", found)
	}
}

// Front, click 7, by hand from the demo's table: 305 N and 690 N at 130 mm/s are
// (305 + 690)/(2·0.13) = 3827 N s/m; at click 9 half way to 255 N and 520 N, 280 N and
// 605 N. Steps are a quarter of the difference: 12.5 N and 42.5 N.
func TestForcesAndStepsByHand(t *testing.T) {
	_, m := mapped(t, nil, [2]int{7, 7})
	w := &m.Wheels[0]
	for _, row := range []struct {
		got, want float64
		what      string
	}{
		{w.Clicks[7].Force[0][1].Value, 305, "bump at click 7"},
		{w.Clicks[7].Force[1][1].Value, 690, "rebound at click 7"},
		{w.Clicks[9].Force[0][1].Value, 280, "bump at click 9"},
		{w.Clicks[9].Force[1][1].Value, 605, "rebound at click 9"},
		{w.Clicks[8].Worth[0][1].Value, 12.5, "bump step at click 8"},
		{w.Clicks[8].Worth[1][1].Value, 42.5, "rebound step at click 8"},
		{w.Authority[1][1].Times, 1120.0 / 400, "rebound range"},
		{w.Authority[0][0].Times, 285.0 / 100, "bump range at the low speed"},
		{w.Clicks[9].Ratio[1].Value / w.Clicks[7].Ratio[1].Value, 885.0 / 995, "ratio at 9 over 7"},
		{w.CrossTalk, (235.0 / 220) / (720.0 / 400), "cross-talk"},
	} {
		if math.Abs(row.got-row.want) > 1e-9*row.want {
			t.Errorf("%s: %.4f, %.4f by hand", row.what, row.got, row.want)
		}
	}
	// A ray of constant ratio through the curve: force over speed over the critical
	// coefficient is the ratio of that stroke alone.
	c, err := w.Curve(7)
	if err != nil {
		t.Fatal(err)
	}
	for s, stroke := range dyno.Strokes {
		f, _ := c.Of(stroke).At(0.13)
		if got, want := f.Value/0.13/w.Critical, w.Clicks[7].Apart[s][1].Value; math.Abs(got-want) > 1e-9 {
			t.Errorf("%s: the ray through the curve is of %.6f, the ratio alone is %.6f", stroke, got, want)
		}
	}
	if !math.IsNaN(w.Clicks[15].Worth[0][1].Value) {
		t.Error("the softest click has a step to a softer one")
	}
}

// A click changes no ratio but those of its own setting: the map is the same from
// wherever the build stands, and a mode is followed along the ladder.
func TestMapDoesNotDependOnTheClickSet(t *testing.T) {
	_, m := mapped(t, nil, [2]int{7, 7})
	_, other := mapped(t, nil, [2]int{2, 7})
	for n := range m.Wheels[0].Clicks {
		a, b := &m.Wheels[0].Clicks[n], &other.Wheels[0].Clicks[n]
		for k := range a.Ratio {
			if math.Abs(a.Ratio[k].Value-b.Ratio[k].Value) > 1e-9 {
				t.Errorf("click %d: %.6f from 7, %.6f from 2", n, a.Ratio[k].Value, b.Ratio[k].Value)
			}
		}
		if n > 0 {
			before := &m.Wheels[0].Clicks[n-1].Modes[1]
			if math.Abs(a.Modes[1].Pitch-before.Pitch) > 0.08 || a.Modes[1].Roll > before.Roll {
				t.Errorf("click %d: pitch goes from %.3f to %.3f, roll from %.3f to %.3f", n, before.Pitch, a.Modes[1].Pitch, before.Roll, a.Modes[1].Roll)
			}
		}
	}
}

func TestLadderAndNearest(t *testing.T) {
	_, m := mapped(t, func(a *clickmap.Ask) { a.Ratio, a.Force, a.Stroke = 2, 600, dyno.Rebound }, [2]int{7, 7})
	w := &m.Wheels[0]
	if len(w.Ladder) != 5 || w.Ladder[0].Click != 15 || w.Ladder[4].Click != 0 {
		t.Fatalf("the ladder is %+v", w.Ladder)
	}
	// Its middle is the geometric mean of the ends, 0.26 and 0.66 of the table.
	if mean := math.Sqrt(w.Clicks[0].Ratio[1].Value * w.Clicks[15].Ratio[1].Value); math.Abs(w.Ladder[2].Even-mean) > 1e-9 {
		t.Errorf("the middle step is %.4f, the mean of the ends %.4f", w.Ladder[2].Even, mean)
	}
	if len(w.Wanted) != 2 || w.Wanted[0].Click != 0 || w.Wanted[0].Within || w.Wanted[1].Click != 9 || !w.Wanted[1].Within {
		t.Errorf("a ratio of 2 and 600 N in rebound: %+v", w.Wanted)
	}
}
