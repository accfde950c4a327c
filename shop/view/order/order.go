package order

import (
	"strings"

	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
	"trunnion/chassis/route"
	"trunnion/shop/desk"
	"trunnion/shop/view"
	"trunnion/shop/wording"
)

// compared are the figures in which a build is told to the owner against the
// car as it is, with the change that is good and the least worth a word.
var compared = []struct {
	code   string
	corner int // the corner it is told at, or NoCorner for the worse of its axle
	good   float64
	least  float64 // [SI]
	more   string  // how a growth is told
	less   string
}{
	{"arch-height", figure.FrontLeft, 0, 2e-3, "higher in front", "lower in front"},
	{"arch-height", figure.RearLeft, 0, 2e-3, "higher at the rear", "lower at the rear"},
	{"travel-to-stop", figure.FrontLeft, 1, 2e-3, "more travel to the front stops", "less travel to the front stops"},
	{"travel-to-stop", figure.RearLeft, 1, 2e-3, "more travel to the rear stops", "less travel to the rear stops"},
	{"travel-to-open", figure.FrontLeft, 1, 4e-3, "more droop in front", "less droop in front"},
	{"travel-to-open", figure.RearLeft, 1, 4e-3, "more droop at the rear", "less droop at the rear"},
	{"corner-frequency", figure.FrontLeft, -1, 0.05, "firmer in front", "softer in front"},
	{"corner-frequency", figure.RearLeft, -1, 0.05, "firmer at the rear", "softer at the rear"},
	{"damping-ratio", figure.FrontLeft, 1, 0.03, "more damping in front", "less damping in front"},
	{"damping-ratio", figure.RearLeft, 1, 0.03, "more damping at the rear", "less damping at the rear"},
}

// page is a trial as it is put to the owner.
type page struct{ *view.Trial }

// Of makes the page for the owner: what each build costs and what it buys,
// against the car as it is. The lines say which builds, and how each is judged.
func Of(t *view.Trial, lines []Line) View {
	s, a := &page{t}, t.Answer
	out := View{
		Title: "Before the order", Date: s.Today.Format("2 January 2006"), Lines: []Line{}, Cautions: wording.Cautions(),
		Note: "Prices and hours are as typed into the job. Figures are of a model of this car with the load state “" + s.Teller.Load(s.Load) + "”, against “" +
			s.Teller.Build(a.Reference) + "”; they are no judgement on what is safe or allowed.",
	}
	for _, line := range lines {
		line.Buys, line.Costs = []Bought{}, []string{}
		if line.Build == a.Reference {
			for k := range s.Findings {
				if f := &s.Findings[k]; f.Value.Place.Build == line.Build && view.Loud(f) && len(line.Costs) < 3 {
					line.Costs = append(line.Costs, s.Teller.Finding(f).What)
				}
			}
			out.Lines = append(out.Lines, line)
			continue
		}
		for _, c := range compared {
			was, now := a.Get(c.code, a.Reference, s.Load, c.corner), a.Get(c.code, line.Build, s.Load, c.corner)
			if view.State(was) == "unknown" || view.State(now) == "unknown" {
				continue
			}
			d := now.Value - was.Value
			if d < c.least && d > -c.least {
				continue
			}
			word, size := c.more, d
			if d < 0 {
				word, size = c.less, -d
			}
			entry, _ := figure.Look(c.code)
			amount := s.Teller.Amount(c.code, entry.Unit, size)
			if c.code == "damping-ratio" {
				amount = s.Teller.Amount("", "1", size)
			}
			text := amount + " " + word
			if c.good == 0 || d*c.good > 0 {
				line.Buys = append(line.Buys, Bought{Text: text, ValueID: desk.ValueID(now)})
			} else {
				line.Costs = append(line.Costs, text)
			}
		}
		s.orderBlows(&line)
		s.stillOver(&line)
		out.Lines = append(out.Lines, line)
	}
	return out
}

// most is how many of either are told: an owner reads no more. Chosen.
const most = 8

// stillOver tells what is over a limit on a build. What is over on the car as it is too, and less so on the build, is
// gained: it is no price of it.
func (s *page) stillOver(line *Line) {
	for k := range s.Findings {
		f := &s.Findings[k]
		if f.Value.Place.Build != line.Build || f.Verdict != finding.Over {
			continue
		}
		text := strings.TrimSuffix(s.Teller.Finding(f).What, ".")
		switch was := s.worstOf(f.Code, s.Answer.Reference); {
		case was != nil && was.Verdict == finding.Over && finding.Worse(was, f):
			if len(line.Buys) < most {
				line.Buys = append(line.Buys, Bought{Text: "better than as it is, and still over: " + text, ValueID: desk.ValueID(f.Value)})
			}
		case len(line.Costs) < most:
			line.Costs = append(line.Costs, text)
		}
	}
}

// worstOf is the worst finding of a rule on a build; nil where there is none.
func (s *page) worstOf(code, build string) *finding.Finding {
	var worst *finding.Finding
	for k := range s.Findings {
		if f := &s.Findings[k]; f.Code == code && f.Value.Place.Build == build && (worst == nil || finding.Worse(f, worst)) {
			worst = f
		}
	}
	return worst
}

// orderBlows compares the hardest blow of a stop over each obstacle.
func (s *page) orderBlows(line *Line) {
	a := s.Answer
	hardest := func(build, event string) *figure.Value {
		var most *figure.Value
		for i := range a.Values {
			v := &a.Values[i]
			if v.Code == "stop-force-peak" && v.Place.Build == build && v.Place.Event == event && view.State(v) != "unknown" && (most == nil || v.Value > most.Value) {
				most = v
			}
		}
		return most
	}
	for i := range a.Job.Brief.Events {
		event := route.EventName(&a.Job.Brief.Events[i])
		was, now := hardest(a.Reference, event), hardest(line.Build, event)
		if was == nil || now == nil {
			continue
		}
		const least = 200.0 // worth a word [N]: chosen
		place := figure.Place{Corner: figure.NoCorner, Event: now.Place.Event, Speed: now.Place.Speed}
		switch d := now.Value - was.Value; {
		case d < -least:
			line.Buys = append(line.Buys, Bought{Text: s.Teller.Amount("", "N", -d) + " less into the stops " + s.Teller.Place(place), ValueID: desk.ValueID(now)})
		case d > least:
			line.Costs = append(line.Costs, s.Teller.Amount("", "N", d)+" more into the stops "+s.Teller.Place(place))
		}
	}
}
