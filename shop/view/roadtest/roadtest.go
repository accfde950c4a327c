package roadtest

import (
	"context"
	"errors"
	"strings"

	"trunnion/chassis/roadtest"
	"trunnion/shop/desk"
	"trunnion/shop/intake"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
	"trunnion/shop/view"
	"trunnion/shop/wording"
)

// mostEffects is how many corrections say what they do to the findings at once: each is
// judged anew. Chosen.
const mostEffects = 4

// page is a request while it is answered.
type page struct {
	tell *wording.Teller
	out  *View
}

// Of shows a log beside the prediction of a build. today stands beside what is taken.
func Of(ctx context.Context, d *view.Desk, req *Request, today string) (*View, error) {
	out := &View{
		Faults: []jobfile.Fault{}, Unread: []string{}, Questions: []Question{}, Basis: []string{}, Roles: []view.Choice{}, Builds: []view.Choice{}, Channels: []Channel{},
		Verdict: "unknown", Wrong: []string{}, Outside: []Figure{}, Inside: []Figure{}, Travel: []view.Chart{}, Velocity: []view.Chart{}, Roads: []string{}, Offers: []Offer{}, Note: wording.TestNote,
	}
	job, system, err := d.Read(ctx, &req.TryRequest)
	if err != nil || job == nil {
		out.Refused = wording.NoJob
		return out, err
	}
	u := &page{wording.OfJob(job.Builds, job.Loads, system), out}
	for _, b := range job.Builds {
		out.Builds = append(out.Builds, view.Choice{Value: b.ID, Label: u.tell.Build(b.ID)})
	}
	for _, r := range intake.LogRoles {
		out.Roles = append(out.Roles, view.Choice{Value: r, Label: wording.LogAnswer("role", r)})
	}
	read, err := d.RoadTestRead(ctx, desk.LogAsk{File: req.File, Mapping: req.Mapping})
	var bad *desk.AskError
	if errors.As(err, &bad) {
		out.Refused = view.Sentence(bad.Error())
		return out, nil
	}
	if err != nil {
		return nil, err
	}
	u.said(read)
	if len(read.Questions)+len(read.Faults) > 0 || req.Build == "" {
		return out, nil
	}
	got, err := d.RoadTest(ctx, job, desk.RoadTestAsk{LogAsk: desk.LogAsk{File: req.File, Mapping: req.Mapping}, Build: req.Build, Load: desk.LoadOf(job, req.Load), Date: today})
	if errors.As(err, &bad) {
		out.Refused = view.Sentence(bad.Error())
		return out, nil
	}
	if err != nil {
		return nil, err
	}
	u.compared(got)
	return out, u.offers(ctx, d, job, got)
}

// said is what of the log cannot be read, what is asked, what was understood, and its channels.
func (u *page) said(got *desk.LogRead) {
	for _, f := range got.Faults {
		u.out.Unread = append(u.out.Unread, "The log "+f.Got+"; "+f.Want+".")
	}
	for _, q := range got.Questions {
		one := Question{Code: q.Code, About: q.About, Text: wording.LogAsks(q.Code, q.About, q.Seen, q.Points), Points: q.Points, Choices: []view.Choice{}, Typed: wording.LogAnswerTyped(q.Code)}
		for _, c := range q.Choices {
			one.Choices = append(one.Choices, view.Choice{Value: c, Label: wording.LogAnswer(q.Code, c)})
		}
		u.out.Questions = append(u.out.Questions, one)
	}
	for _, a := range got.Assumptions {
		u.out.Basis = append(u.out.Basis, wording.LogAssumed(a.Code, a.About, a.Value))
	}
	for i := range got.Log.Channels {
		c, g := &got.Log.Channels[i], &got.Grades[i]
		one := Channel{Name: wording.ChannelName(c.Role, c.Corner), Rate: u.tell.Amount("", "Hz", c.Rate), Grade: wording.Mark(g.Mark), Verdict: map[roadtest.Mark]string{roadtest.Good: "clear", roadtest.WithCare: "close", roadtest.NotUsed: "over"}[g.Mark]}
		if g.Floor > 0 {
			one.Floor = u.tell.Shaft(g.Floor)
		}
		var found []string
		for _, f := range g.Found {
			found = append(found, u.tell.Defect(c.Role, f))
		}
		one.Found = strings.Join(found, "; ")
		u.out.Channels = append(u.out.Channels, one)
	}
}

// compared fills in figures, curves and roads.
func (u *page) compared(got *desk.RoadTested) {
	u.out.Build = got.Build
	outside := got.Outside()
	u.out.Headline, u.out.Verdict = u.tell.TestHeadline(got.Outcome, outside, got.Read.Marks), "clear"
	switch {
	case len(got.Wrong) > 0:
		u.out.Verdict = "over"
	case len(outside) > 0:
		u.out.Verdict = "close"
	}
	for i := range got.Wrong {
		u.out.Wrong = append(u.out.Wrong, u.tell.Wrong(&got.Wrong[i]))
	}
	line := func(f *roadtest.Figure) Figure {
		return Figure{u.tell.TestCode(f.Code, got.Read.Marks), wording.Upper(wording.Corner(f.Corner)), u.tell.TestFigure(f.Code, f.Measured), u.tell.TestPredicted(f)}
	}
	for i := range outside {
		u.out.Outside = append(u.out.Outside, line(&outside[i]))
	}
	for i := range got.Figures {
		if f := &got.Figures[i]; !f.Outside {
			u.out.Inside = append(u.out.Inside, line(f))
		}
	}
	if len(got.Figures) == 0 {
		return
	}
	for i := range 4 {
		name := wording.Upper(wording.Corner(i))
		u.out.Travel = append(u.out.Travel, u.chart("travel", name, wording.DamperTravel, quantity.Length, got.Travel[i]))
		u.out.Velocity = append(u.out.Velocity, u.chart("velocity", name, wording.DamperSpeed, quantity.SpeedDamper, got.Velocity[i]))
	}
	for _, r := range got.Stretches {
		u.out.Roads = append(u.out.Roads, u.tell.Stretch(&r))
	}
}

// chart draws shares of time, predicted and measured.
func (u *page) chart(id, title, x string, kind quantity.Kind, both [2]roadtest.Histogram) view.Chart {
	unit := quantity.Shown(kind, u.tell.System)
	c := view.Chart{ID: id + "-" + title, Kind: "line", Title: title, X: view.Axis{Label: x, Unit: unit.Label()}, Y: view.Axis{Label: wording.ShareOfTime, Unit: "%"}, Series: []view.Series{}}
	share := quantity.Shown(quantity.Share, u.tell.System)
	first, last := len(both[0].Share), 0
	for _, h := range both {
		for k, v := range h.Share {
			if v > 0 {
				first, last = min(first, k), max(last, k)
			}
		}
	}
	for _, k := range []int{1, 0} {
		s := view.Series{Name: wording.MeasuredPredicted[k], X: []float64{}, Y: []float64{}}
		for j := first; j <= last; j++ {
			h := &both[k]
			s.X, s.Y = append(s.X, view.Tidy(unit.FromSI(h.Low+(float64(j)+0.5)*h.Step))), append(s.Y, view.Tidy(share.FromSI(h.Share[j])))
		}
		c.Series = append(c.Series, s)
	}
	return c
}

// offers are the corrections, the first few with what they do to the findings.
func (u *page) offers(ctx context.Context, d *view.Desk, job *jobfile.Job, got *desk.RoadTested) error {
	for i := range got.Corrections {
		c := &got.Corrections[i]
		one := Offer{
			Name: c.Name, Title: wording.Upper(wording.InputName(c.Offer.Name)) + ", " + wording.Corner(c.Offer.Corner), Change: u.tell.Offer(c.Offer), Why: wording.OfferWhy(c.Offer),
			NotApart: wording.NotApart(c.Offer), Explains: len(c.Offer.Explains), Left: c.Offer.Left, Edits: append([]jobfile.Edit{}, c.Edits...), Unable: c.Unable, Changes: []string{},
		}
		if c.Unable == "" && i < mostEffects {
			changes, before, after, err := d.Effects(ctx, job, got.Build, c)
			if err != nil {
				return err
			}
			a, b := wording.New(before.Answer, u.tell.System), wording.New(after.Answer, u.tell.System)
			for k, x := range changes {
				if k == mostEffects {
					break
				}
				one.Changes = append(one.Changes, wording.TestChange(a, b, x.Before, x.After))
			}
		}
		u.out.Offers = append(u.out.Offers, one)
	}
	return nil
}
