package corners

import (
	"context"
	"encoding/json"
	"math"
	"slices"
	"strings"
	"testing"

	"trunnion/examples"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
	"trunnion/shop/view"
	"trunnion/shop/view/viewtest"
	"trunnion/shop/view/working"
)

// cornersShown are the builds of a job round a corner, as the page has them.
func cornersShown(d *view.Desk, req Request) (*View, error) {
	t, err := d.Cornered(context.Background(), &req.TryRequest, nil)
	if err != nil {
		return nil, err
	}
	return Of(t, req), nil
}

func bent(tb testing.TB, d *view.Desk, driving, direction string, edits ...jobfile.Edit) *View {
	tb.Helper()
	v, err := cornersShown(d, Request{TryRequest: viewtest.Demo(tb, edits...), Driving: driving, Direction: direction})
	if err != nil {
		tb.Fatal(err)
	}
	return v
}

func (c *View) build(id string) *Build {
	for i := range c.Builds {
		if c.Builds[i].Build == id {
			return &c.Builds[i]
		}
	}
	return nil
}

func (c *View) chart(id string) *view.Chart {
	for i := range c.Charts {
		for k := range c.Charts[i].Charts {
			if c.Charts[i].Charts[k].ID == id {
				return &c.Charts[i].Charts[k]
			}
		}
	}
	return nil
}

func TestCornersSayTheWorstFirst(t *testing.T) {
	d := viewtest.Desk(t)
	v := bent(t, d, "cornering", "left")
	if len(v.Builds) != 4 || len(v.Faults) != 0 || v.Load != "driver" {
		t.Fatalf("%d builds, faults %v, load %q", len(v.Builds), v.Faults, v.Load)
	}
	first := v.Builds[0]
	if first.Build != "lower-old" || first.Verdict != "over" || !strings.HasPrefix(first.Sentence, "Meets the front right stop at 0.1") {
		t.Errorf("the first is %q, %s: %s", first.Build, first.Verdict, first.Sentence)
	}
	if !strings.Contains(first.Against, "As it arrived") || v.build("arrived").Against != "" {
		t.Errorf("against the reference: %q and %q", first.Against, v.build("arrived").Against)
	}
	last := 0.0
	for _, b := range v.Builds {
		at := math.Inf(1)
		for _, e := range b.Events {
			if e.Kind == "stop" || e.Kind == "rests" {
				at = math.Min(at, e.At)
			}
		}
		if at < last {
			t.Errorf("%s meets its first stop at %g g, one before it at %g g", b.Build, at, last)
		}
		last = at
		if len(b.Points) != 51 || b.Points[0].At != 0 || b.Points[50].At != 1 {
			t.Errorf("%s: %d points", b.Build, len(b.Points))
		}
		// What is shown of a wheel and where its stop is met are one answer.
		for _, p := range b.Points {
			stop := slices.IndexFunc(b.Events, func(e Event) bool { return e.Corner == "front-right" })
			if stop >= 0 && (p.Wheels[1].State == "stop") != (p.At > b.Events[stop].At) {
				t.Errorf("%s at %s: the front right wheel is %q", b.Build, p.Shown, p.Wheels[1].State)
			}
			sum := 0.0
			for _, w := range p.Wheels {
				sum += w.Load
			}
			if whole := b.Points[0].Wheels[0].Load + b.Points[0].Wheels[1].Load + b.Points[0].Wheels[2].Load + b.Points[0].Wheels[3].Load; math.Abs(sum-whole) > 0.5 {
				t.Errorf("%s at %s: the wheels carry %.1f kg, at rest %.1f", b.Build, p.Shown, sum, whole)
			}
		}
	}
	for _, id := range []string{"roll", "front-share", "understeer", "left-front-right", "load-rear-left"} {
		c := v.chart(id)
		if c == nil || len(c.Series) != 4 || len(c.Series[0].X) != len(c.Series[0].Y) || len(c.Series[0].X) < 50 {
			t.Errorf("chart %q is %+v", id, c)
		}
	}
	if marks := v.chart("roll").Marks; len(marks) < 6 || marks[0].Kind != "front-stop" || !strings.Contains(marks[0].Says, "front right stop met") {
		t.Errorf("marks of the roll chart: %+v", marks)
	}
	if _, err := json.Marshal(v); err != nil {
		t.Error(err)
	}
}

func TestCornersOpenTheirWorkings(t *testing.T) {
	d := viewtest.Desk(t)
	v := bent(t, d, "cornering", "left")
	s, err := d.Opened(v.Key, "")
	if err != nil {
		t.Fatal(err)
	}
	opened := 0
	for _, b := range v.Builds {
		ids := []string{}
		for _, e := range b.Events {
			if e.ValueID != "" {
				ids = append(ids, e.ValueID)
			}
		}
		for _, f := range b.Figures {
			if f.Cell.ValueID != "" {
				ids = append(ids, f.Cell.ValueID)
			}
		}
		for _, id := range ids {
			w, err := working.Of(t.Context(), s, id)
			if err != nil {
				t.Errorf("%s: %v", id, err)
				continue
			}
			if w.Equation == "" || w.Result == "" {
				t.Errorf("%s has no working: %+v", id, w)
			}
			opened++
		}
	}
	if opened < 20 {
		t.Errorf("only %d workings", opened)
	}
}

func TestCornersTurnBothWaysAndBrake(t *testing.T) {
	d := viewtest.Desk(t)
	right := bent(t, d, "cornering", "right")
	b := right.build("lower-old")
	if b.Events[0].Corner != "front-left" && b.Events[0].Corner != "rear-left" {
		t.Errorf("turning right the first stop is %s", b.Events[0].Corner)
	}
	if p := b.Points[50]; p.Roll >= 0 || p.Wheels[0].Load <= p.Wheels[1].Load {
		t.Errorf("turning right it rolls %g and loads %g left, %g right", p.Roll, p.Wheels[0].Load, p.Wheels[1].Load)
	}
	if y := right.chart("roll").Series[0].Y; y[len(y)-1] <= 0 {
		t.Errorf("out of the bend is %g", y[len(y)-1])
	}
	braking := bent(t, d, "braking", "left")
	b = braking.build("lower-old")
	p := b.Points[50]
	if p.Pitch <= 0 || p.Wheels[0].Load <= p.Wheels[2].Load || right.chart("dive") != nil || braking.chart("dive") == nil || braking.chart("roll") != nil {
		t.Errorf("braking: pitch %g, loads %g and %g", p.Pitch, p.Wheels[0].Load, p.Wheels[2].Load)
	}
	for _, e := range b.Events {
		if e.ValueID != "" {
			t.Errorf("a figure of a bend is given for braking: %+v", e)
		}
	}
	both := bent(t, d, "both", "left").build("lower-old").Points[50]
	if both.Pitch <= 0 || both.Roll <= 0 || both.Pitch >= p.Pitch {
		t.Errorf("both: pitch %g, roll %g", both.Pitch, both.Roll)
	}
}

func TestCornersFollowEditsLoadAndUnits(t *testing.T) {
	d := viewtest.Desk(t)
	on := bent(t, d, "cornering", "left")
	off := bent(t, d, "cornering", "left", viewtest.Set("builds.kit.setup.bars", "off"))
	if a, b := on.build("kit").Points[25].Roll, off.build("kit").Points[25].Roll; b < 1.1*a {
		t.Errorf("without bars it rolls %g, with them %g", b, a)
	}
	if a, b := on.build("arrived").Points[25].Roll, off.build("arrived").Points[25].Roll; a != b {
		t.Errorf("the other build rolls %g and %g", a, b)
	}
	if c := off.build("kit").Choices[0]; c.Value != "off" || c.Path != "builds.kit.setup.bars" {
		t.Errorf("bars: %+v", c)
	}
	req := Request{TryRequest: viewtest.Demo(t), Driving: "cornering", Direction: "left", Most: "0.6 g", Fastest: "250 km/h"}
	req.Units, req.Load = "imperial", "holiday"
	v, err := cornersShown(d, req)
	if err != nil {
		t.Fatal(err)
	}
	p := v.build("arrived").Points
	if v.Load != "holiday" || v.Unit.Length != "in" || len(p) != 31 || !strings.HasSuffix(p[3].Wheels[0].Loaded, " lb") || !strings.HasSuffix(v.Steady.Top.Shown, "mph") {
		t.Errorf("load %q, unit %+v, %d points, %q, top %q", v.Load, v.Unit, len(p), p[3].Wheels[0].Loaded, v.Steady.Top.Shown)
	}
	req.Most, req.Fastest = "9 g", "nothing"
	if v, err = cornersShown(d, req); err != nil || len(v.Faults) != 2 || v.Faults[0].Path != "most" || len(v.build("arrived").Points) != 51 {
		t.Errorf("asked for 9 g: %v, %+v", err, v.Faults)
	}
	req.Text = "nonsense: ["
	if v, err = cornersShown(d, req); err != nil || len(v.Builds) != 0 || len(v.Faults) == 0 {
		t.Errorf("of an unreadable job: %v, %+v", err, v)
	}
}

func TestSteadinessIsSetAgainstTheReference(t *testing.T) {
	d := viewtest.Desk(t)
	v := bent(t, d, "cornering", "left")
	if v.Steady.Speed.Shown != "120 km/h" || len(v.Steady.Builds) != 4 || len(v.Steady.Charts) != 4 {
		t.Fatalf("%+v", v.Steady)
	}
	for _, b := range v.Steady.Builds {
		if b.Build != "arrived" && !strings.HasPrefix(b.Sentence, "As stable at 120 km/h") {
			t.Errorf("%s carries the same on the same tyres: %s", b.Build, b.Sentence)
		}
	}
	// Weight far behind takes understeer away: nervous from a lower speed.
	heavy := bent(t, d, "cornering", "left", viewtest.Set("builds.kit.mass", "[{name: tools, mass: 60 kg, behind_front_axle: 3300 mm}]"))
	if len(heavy.Faults) > 0 {
		t.Fatal(heavy.Faults)
	}
	// Four and luggage sit far behind: the reference is set against itself.
	req := Request{TryRequest: viewtest.Demo(t), Driving: "cornering", Direction: "left"}
	req.Load = "holiday"
	laden, err := cornersShown(d, req)
	if err != nil {
		t.Fatal(err)
	}
	for _, b := range laden.Steady.Builds {
		if b.Build == "arrived" && (!strings.HasPrefix(b.Sentence, "Less stable from ") || !strings.Contains(b.Sentence, "with the driver at 120 km/h")) {
			t.Errorf("laden: %s", b.Sentence)
		}
	}
	first := heavy.Steady.Builds[0]
	if first.Build != "kit" || !strings.HasPrefix(first.Sentence, "Less stable from ") || !strings.Contains(first.Sentence, "“As it arrived” at 120 km/h") {
		t.Errorf("%s: %s", first.Build, first.Sentence)
	}
}

func TestCornersKnowCamberWhereLinksAreKnown(t *testing.T) {
	text, err := examples.Jobs.ReadFile("sedley-hatch/job.yaml")
	if err != nil {
		t.Fatal(err)
	}
	d := viewtest.Desk(t)
	v, err := cornersShown(d, Request{TryRequest: view.TryRequest{Text: string(text), Edits: []jobfile.Edit{}, Units: "metric"}, Driving: "cornering", Direction: "left"})
	if err != nil {
		t.Fatal(err)
	}
	c := v.chart("camber-front-right")
	if c == nil {
		t.Fatal("no camber")
	}
	y := c.Series[0].Y
	roll := v.chart("roll").Series[0].Y
	// A strut gains less camber in bump than the body rolls: the outer wheel leans
	// out, and by less than the roll.
	if gain := y[len(y)-1] - y[0]; gain <= 0 || gain >= roll[len(roll)-1] {
		t.Errorf("the outer wheel leans by %g deg in %g deg of roll", gain, roll[len(roll)-1])
	}
	// Its front bar has two holes; what each does is said, and the shorter arm
	// rolls less.
	var hole *Choice
	for i := range v.Builds[0].Choices {
		if one := &v.Builds[0].Choices[i]; strings.HasSuffix(one.Path, ".setup.bar_hole.front") {
			hole = one
		}
	}
	if hole == nil || hole.Value != "outer" || len(hole.Rows) != 2 || len(hole.Rows[0].Cells) != len(hole.Heads) {
		t.Fatalf("holes: %+v", v.Builds[0].Choices)
	}
	inner := "inner"
	req := Request{TryRequest: view.TryRequest{Text: string(text), Edits: []jobfile.Edit{{Path: hole.Path, Value: &inner}}, Units: "metric"}, Driving: "cornering", Direction: "left"}
	stiff, err := cornersShown(d, req)
	if err != nil {
		t.Fatal(err)
	}
	if a, b := v.build(v.Builds[0].Build).Points[20].Roll, stiff.build(v.Builds[0].Build).Points[20].Roll; b >= a {
		t.Errorf("with the shorter arm it rolls %g, with the longer %g", b, a)
	}
	plain, err := cornersShown(d, Request{TryRequest: viewtest.Pointless(t), Driving: "cornering", Direction: "left"})
	if err != nil {
		t.Fatal(err)
	}
	if plain.chart("camber-front-right") != nil {
		t.Error("camber without link points")
	}
}

// What a working proposes for a stop that is met too soon can be tried, and does
// what it says.
func TestCornerRemediesCanBeTried(t *testing.T) {
	d := viewtest.Desk(t)
	v := bent(t, d, "cornering", "left")
	s, err := d.Opened(v.Key, "")
	if err != nil {
		t.Fatal(err)
	}
	w, err := working.Of(t.Context(), s, v.build("lower-old").Events[0].ValueID)
	if err != nil {
		t.Fatal(err)
	}
	met := v.build("lower-old").Events[0].At
	tries := 0
	for _, r := range w.Remedies {
		if len(r.Edits) == 0 { // made to order: nothing of the shop's to try
			continue
		}
		tries++
		tried := bent(t, d, "cornering", "left", r.Edits...)
		if len(tried.Faults) > 0 {
			t.Fatalf("%s: %v", r.Text, tried.Faults)
		}
		i := slices.IndexFunc(tried.build("lower-old").Events, func(e Event) bool { return e.Corner == "front-right" })
		if i < 0 {
			t.Errorf("%s: no stop is met", r.Text)
			continue
		}
		after := tried.build("lower-old").Events[i].At
		said, err := quantity.Parse(strings.TrimPrefix(r.After, "contact at "), quantity.Acceleration)
		// A height is typed to the tenth of a millimetre.
		if err != nil || math.Abs(after-gs(said.Value)) > 0.005 || after <= met {
			t.Errorf("%s: met at %g g before and %g g after, said was %s", r.Text, met, after, r.After)
		}
	}
	if tries == 0 {
		t.Fatalf("remedies: %+v", w.Remedies)
	}
}

// BenchmarkCorners is the demo's four builds round a left turn.
func BenchmarkCorners(b *testing.B) {
	d := viewtest.Desk(b)
	for b.Loop() {
		bent(b, d, "cornering", "left")
	}
}

// A load state that tows has the figures and the charts of car and trailer, not
// those of the car alone, and a critical speed that is not there is none.
func TestCornersTow(t *testing.T) {
	text := strings.Replace(viewtest.DemoText(t), "\nloads:\n", `
loads:
  caravan:
    name: Caravan
    with: driver
    trailer: {mass: 1250 kg, coupling_load: 75 kg, behind_front_axle: 3.85 m, to_axle: 3.7 m, body_length: 5.1 m, speed: 100 km/h}
`, 1)
	req := Request{TryRequest: viewtest.Try(text), Driving: "cornering", Direction: "left"}
	req.Load = "caravan"
	v, err := cornersShown(viewtest.Desk(t), req)
	if err != nil {
		t.Fatal(err)
	}
	var charts []string
	for i := range v.Steady.Charts {
		charts = append(charts, v.Steady.Charts[i].ID)
	}
	if want := []string{"towing", "yaw-settling", "yaw-gain"}; !slices.Equal(charts, want) {
		t.Errorf("charts %v, want %v", charts, want)
	}
	for _, b := range v.Steady.Builds {
		if b.Sentence != "" {
			t.Errorf("%s: the car alone is compared: %s", b.Build, b.Sentence)
		}
		swing, none := false, false
		for _, f := range b.Figures {
			swing = swing || strings.HasPrefix(f.Label, "Damping of the trailer") && strings.HasPrefix(f.Cell.Text, "0.14")
			none = none || f.Label == "Critical speed" && f.Cell.Text == "none" && !strings.Contains(f.Cell.Reason, "none")
			if strings.HasPrefix(f.Label, "Yaw") {
				t.Errorf("%s: %s is of the car alone", b.Build, f.Label)
			}
		}
		if !swing || !none {
			t.Errorf("%s: %+v", b.Build, b.Figures)
		}
	}
}
