package order

import (
	"math"
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
//
// An owner reads lengths, newtons and shares: what is a frequency or a ratio is told in
// per cent of what it was.
var compared = []struct {
	code   string
	corner int // the corner it is told at, or NoCorner for the worse of its axle
	good   float64
	least  float64 // [SI]
	share  bool    // told in per cent of what it was
	more   string  // how a growth is told
	less   string
}{
	{"travel-to-stop", figure.FrontLeft, 1, 2e-3, false, "more travel to the front stops", "less travel to the front stops"},
	{"travel-to-stop", figure.RearLeft, 1, 2e-3, false, "more travel to the rear stops", "less travel to the rear stops"},
	{"travel-to-open", figure.FrontLeft, 1, 4e-3, false, "further for the front wheels to drop into a hole", "less far for the front wheels to drop into a hole"},
	{"travel-to-open", figure.RearLeft, 1, 4e-3, false, "further for the rear wheels to drop into a hole", "less far for the rear wheels to drop into a hole"},
	{"corner-frequency", figure.FrontLeft, -1, 0.05, true, "firmer in front", "softer in front"},
	{"corner-frequency", figure.RearLeft, -1, 0.05, true, "firmer at the rear", "softer at the rear"},
	{"damping-ratio", figure.FrontLeft, 1, 0.03, true, "more damping in front", "less damping in front"},
	{"damping-ratio", figure.RearLeft, 1, 0.03, true, "more damping at the rear", "less damping at the rear"},
}

// page is a trial as it is put to the owner.
type page struct{ *view.Trial }

// Of makes the page for the owner: what each build costs and what it buys,
// against the car as it is. The lines say which builds, and how each is judged.
func Of(t *view.Trial, lines []Line) View {
	s, a := &page{t}, t.Answer
	out := View{
		Title: "Before the order", Date: s.Today.Format("2 January 2006"), Lines: []Line{},
		Note: "Prices and hours are as typed into the job. Figures are of a model of this car with the load state “" + s.Teller.Load(s.Load) + "”, against “" +
			s.Teller.Build(a.Reference) + "”; they are no judgement on what is safe. Whether a change is allowed on the road is for the local code and a licensed tester.",
	}
	for _, line := range lines {
		line.Buys, line.Costs = []Bought{}, []string{}
		line.Answers = s.Teller.AnswerOf(s.InShort, line.Build)
		if line.Build == a.Reference {
			for k := range s.Findings {
				if f := &s.Findings[k]; f.Value.Place.Build == line.Build && view.Loud(f) && len(line.Costs) < 3 {
					line.Costs = append(line.Costs, s.Teller.Finding(f).What)
				}
			}
			out.Lines = append(out.Lines, line)
			continue
		}
		line.Stands = s.Teller.Stands(s.heights(line.Build))
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
			text := s.Teller.Rough(c.code, entry.Unit, size) + " " + word
			if c.share {
				text = wording.WholePerCent(size/was.Value) + " " + word
			}
			if d*c.good > 0 {
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
		switch {
		case s.wasWorse(f):
			if len(line.Buys) < most {
				line.Buys = append(line.Buys, Bought{Text: "better than as it is, and still over: " + text, ValueID: desk.ValueID(f.Value)})
			}
		case len(line.Costs) < most:
			line.Costs = append(line.Costs, text)
		}
	}
}

// wasWorse reports that the car as it is is over too, at the same place, and farther.
func (s *page) wasWorse(f *finding.Finding) bool {
	place := f.Value.Place
	place.Build = s.Answer.Reference
	was := *f
	was.Value = s.Answer.At(f.Value.Code, place)
	return was.Value != nil && was.Margin() < 0 && was.Margin() < f.Margin()
}

// heights are how much higher than the car as it is a build stands, in front and at the
// rear; NaN where it is not known [m].
func (s *page) heights(build string) (front, rear float64) {
	by := [2]float64{math.NaN(), math.NaN()}
	for k, corner := range []int{figure.FrontLeft, figure.RearLeft} {
		was, now := s.Answer.Get("arch-height", s.Answer.Reference, s.Load, corner), s.Answer.Get("arch-height", build, s.Load, corner)
		if view.State(was) != "unknown" && view.State(now) != "unknown" {
			by[k] = now.Value - was.Value
		}
	}
	return by[0], by[1]
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
			line.Buys = append(line.Buys, Bought{Text: s.Teller.Rough("", "N", -d) + " less into the stops " + s.Teller.Place(place), ValueID: desk.ValueID(now)})
		case d > least:
			line.Costs = append(line.Costs, s.Teller.Rough("", "N", d)+" more into the stops "+s.Teller.Place(place))
		}
	}
}
