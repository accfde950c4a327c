package corners

import (
	"cmp"
	"math"
	"slices"

	"trunnion/chassis/cornering"
	"trunnion/chassis/figure"
	"trunnion/shop/desk"
	"trunnion/shop/view"
	"trunnion/shop/wording"
)

// rank is how early something goes wrong on a build: the least first.
func rank(o *desk.CorneredBuild) float64 {
	switch {
	case o.Err != nil:
		return -2
	case math.IsNaN(o.First):
		return 1e3
	case math.IsInf(o.First, 1):
		if o.Swept.Ended != nil {
			return 100 + cornering.Together(o.Swept.ReachedLateral, o.Swept.ReachedLongitudinal)
		}
		return 200
	}
	return o.First
}

// pure reports that the sweep is a bend alone, to which the study's own values
// belong.
func (b *page) pure() bool { return b.ask.Driving == "cornering" }

// contact is the study's value of a stop that is met; nil where the sweep is not
// a bend alone.
func (b *page) contact(build string, k *cornering.Contact) *figure.Value {
	if !b.pure() || k.AtRest {
		return nil
	}
	v := b.Answer.Get("stop-contact-acceleration", build, b.Load, k.Corner)
	if view.State(v) == "unknown" || v.State == figure.Outside {
		return nil
	}
	return v
}

// builds fills the builds, the worst first.
func (b *page) builds() {
	order := make([]*desk.CorneredBuild, len(b.list))
	for i := range b.list {
		order[i] = &b.list[i]
	}
	slices.SortStableFunc(order, func(x, y *desk.CorneredBuild) int {
		return cmp.Compare(rank(x), rank(y))
	})
	for _, o := range order {
		id := o.Build.ID
		out := Build{
			Build: id, Name: o.Build.Name, Reference: id == b.Answer.Reference, Verdict: "no-limit",
			Events: []Event{}, Figures: []Figure{}, Points: []Point{}, Choices: b.choices(o),
		}
		if o.Err != nil {
			out.Verdict, out.Sentence = "unknown", wording.NoRest
			for _, f := range b.Answer.Failures {
				if f.Build == id && f.Load == b.Load {
					out.Sentence = b.Teller.Failure(&f)
				}
			}
			b.out.Builds = append(b.out.Builds, out)
			continue
		}
		b.sentence(&out, o)
		b.events(&out, o)
		b.figures(&out, o)
		b.points(&out, o)
		b.out.Builds = append(b.out.Builds, out)
	}
}

func (b *page) sentence(out *Build, o *desk.CorneredBuild) {
	var first *figure.Value
	for i := range o.Swept.Contacts {
		if k := &o.Swept.Contacts[i]; !k.AtRest {
			first = b.contact(out.Build, k)
			break
		}
	}
	out.Sentence = wording.BendSentence(o.Car, &o.Swept, first)
	out.Reached = gs(cornering.Together(o.Swept.ReachedLateral, o.Swept.ReachedLongitudinal))
	if b.reference != nil && b.reference != o {
		out.Against = b.Teller.BendAgainst(b.reference.Build.ID, o.First, b.reference.First)
	}
	// Judged in the worse of both turns; braking has no limit of its own.
	if !b.pure() {
		return
	}
	for i := range b.Findings {
		f := &b.Findings[i]
		if f.Code == "meets-stop-in-corner" && f.Value.Place.Build == out.Build && f.Value.Place.Load == b.Load && view.Grades[string(f.Verdict)] < view.Grades[out.Verdict] {
			out.Verdict = string(f.Verdict)
		}
	}
}

// outer are the wheels on the outside of the turn.
func (b *page) outer() []int {
	if b.ask.Direction == "right" {
		return []int{figure.FrontLeft, figure.RearLeft}
	}
	return []int{figure.FrontRight, figure.RearRight}
}

// pressed reports that weight goes onto a wheel.
func (b *page) pressed(corner int) bool {
	switch b.ask.Driving {
	case "braking":
		return corner < 2
	default:
		return slices.Contains(b.outer(), corner)
	}
}

// events lists what happens on the way, in order.
func (b *page) events(out *Build, o *desk.CorneredBuild) {
	for i := range o.Swept.Contacts {
		k := &o.Swept.Contacts[i]
		e := Event{Kind: "stop", Corner: figure.CornerNames[k.Corner], At: gs(cornering.Together(k.Lateral, k.Longitudinal))}
		v := b.contact(out.Build, k)
		if k.AtRest {
			e.Kind = "rests"
		}
		e.Text = wording.StopMet(k, v)
		if v != nil {
			e.ValueID = desk.ValueID(v)
		}
		out.Events = append(out.Events, e)
	}
	for i := range o.Swept.Lifts {
		l := &o.Swept.Lifts[i]
		out.Events = append(out.Events, Event{Kind: "lift", Corner: figure.CornerNames[l.Corner], At: gs(cornering.Together(l.Lateral, l.Longitudinal)), Text: wording.WheelLifts(l)})
	}
	for i := range 4 {
		if at := o.Car.DroopUsed(&o.Swept, i); !math.IsNaN(at) {
			out.Events = append(out.Events, Event{Kind: "droop", Corner: figure.CornerNames[i], At: gs(at), Text: wording.DroopUsed(i, at)})
		}
	}
	slices.SortStableFunc(out.Events, func(x, y Event) int { return cmp.Compare(x.At, y.At) })
	if text := wording.BendEnds(&o.Swept); text != "" {
		out.Events = append(out.Events, Event{Kind: "end", At: out.Reached, Text: text})
	}
}
