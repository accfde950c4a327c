package web

import (
	"context"
	"strconv"
	"strings"

	"trunnion/chassis/car"
	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
	"trunnion/shop/desk"
	"trunnion/shop/quantity"
	"trunnion/shop/wording"
)

// working opens a value, or a term of its working: "value!2!0" is the first term
// of the third term of the value's.
func (s *trial) working(ctx context.Context, id string) (*Working, error) {
	head, path, _ := strings.Cut(id, "!")
	v := s.Value(head)
	if v == nil {
		return nil, desk.ErrNotKept
	}
	w := s.Answer.Explain(v)
	name := wording.Name(v.Code)
	out := &Working{
		ID: id, Title: strings.ToUpper(name[:1]) + name[1:], Where: s.Teller.Place(v.Place), Result: s.Teller.Value(v), State: stateOf(v), Terms: []Term{}, Remedies: []RemedyLine{},
	}
	if v.HasBand {
		out.Band = "95 % of the draws"
		if v.Tier == figure.Time || v.Tier == figure.Screening {
			out.Band = "95 % band of the mean of the runs"
		}
	}
	if v.Reason != "" {
		out.Note = v.Reason + "."
	}
	for path != "" && w != nil {
		var step string
		step, path, _ = strings.Cut(path, "!")
		k, err := strconv.Atoi(step)
		if err != nil || k < 0 || k >= len(w.Terms) {
			return nil, desk.ErrNotKept
		}
		term := &w.Terms[k]
		out.Title, out.Band, out.Note, w = strings.ToUpper(term.Name[:min(1, len(term.Name))])+term.Name[min(1, len(term.Name)):], "", "", term.Working
	}
	if w == nil {
		if id != head {
			return nil, desk.ErrNotKept
		}
		out.Equation, out.Source = "", "no working is kept for this figure"
		return out, s.judgedAs(ctx, out, v)
	}
	lines := s.Teller.Working(v.Code, w)
	out.Equation, out.Source = w.Equation, wording.Source(w.Source)
	if id != head {
		out.Result = lines[0].Figure
	}
	if w.Note != "" {
		out.Note = joinNotes(out.Note, w.Note)
	}
	for _, code := range v.Warnings {
		if id == head {
			out.Note = joinNotes(out.Note, wording.Note(code))
		}
	}
	s.terms(out, w, id, v.Code)
	if id != head {
		return out, nil
	}
	return out, s.judgedAs(ctx, out, v)
}

func joinNotes(a, b string) string {
	if a == "" {
		return b
	}
	return a + " " + b
}

// terms are the inputs of a working, each with where it came from; those with a
// working of their own can be opened.
func (s *trial) terms(out *Working, w *figure.Working, id, code string) {
	for k := range w.Terms {
		t := &w.Terms[k]
		flat := &figure.Working{Equation: w.Equation, Source: w.Source, Unit: w.Unit, Result: w.Result, Terms: []figure.Term{{
			Symbol: t.Symbol, Name: t.Name, Value: t.Value, Unit: t.Unit, Origin: t.Origin,
		}}}
		line := s.Teller.Working(code, flat)[1]
		term := Term{Symbol: t.Symbol, Name: t.Name, Shown: line.Figure, Origin: wording.Origin(t.Origin), Typed: t.Typed, Path: t.Path, Line: t.Line}
		if !strings.Contains(t.Path, ".") && !strings.Contains(t.Path, "_") {
			// Of a constant the path is its publication.
			if t.Path != "" {
				term.Origin = t.Path
			}
			term.Path = ""
		}
		if t.Working != nil {
			term.WorkingID = id + "!" + strconv.Itoa(k)
		}
		out.Terms = append(out.Terms, term)
	}
}

// judgedAs adds what a value is judged by, what would help, and what to measure.
func (s *trial) judgedAs(ctx context.Context, out *Working, v *figure.Value) error {
	var f *finding.Finding
	for k := range s.Findings {
		if s.Findings[k].Value == v {
			var err error
			if f, err = s.Finding(ctx, k); err != nil {
				return err
			}
			break
		}
	}
	if f == nil {
		if _, limit := finding.One(s.Answer, v); limit != nil {
			out.Limit = s.limitText(v, limit)
		}
		if n := s.Answer.Narrow(v); n != nil {
			out.Narrow = &NarrowText{Text: s.Teller.Measure(v, n), Path: n.Path}
		}
		return nil
	}
	story := s.Teller.Finding(f)
	out.Note = joinNotes(out.Note, strings.TrimSpace(story.What+" "+story.Why+" "+story.Also))
	if f.Limit != nil {
		out.Limit = s.limitText(v, f.Limit)
	}
	for k := range f.Remedies {
		r := &f.Remedies[k]
		text, _, _ := strings.Cut(s.Teller.Remedy(f, r), " It costs: ")
		line := RemedyLine{Text: text, Edits: s.edits(f, r), After: s.Teller.Amount(v.Code, r.Unit, r.After), Worsens: []string{}}
		if entry, ok := figure.Look(v.Code); ok {
			line.After = s.Teller.Amount(v.Code, entry.Unit, r.After)
		}
		for i := range r.Worsens {
			e := &r.Worsens[i]
			line.Worsens = append(line.Worsens, wording.Name(e.Code)+": "+s.Teller.Amount(e.Code, e.Unit, e.Before)+" to "+s.Teller.Amount(e.Code, e.Unit, e.After))
		}
		out.Remedies = append(out.Remedies, line)
	}
	if f.Narrow != nil {
		out.Narrow = &NarrowText{Text: s.Teller.Measure(v, f.Narrow), Path: f.Narrow.Path}
	} else if n := s.Answer.Narrow(v); n != nil {
		out.Narrow = &NarrowText{Text: s.Teller.Measure(v, n), Path: n.Path}
	}
	return nil
}

func (s *trial) limitText(v *figure.Value, l *finding.Limit) *LimitText {
	word := "at least "
	if l.Upper {
		word = "at most "
	}
	from := l.From
	if l.From == "default" {
		from = "usual limit, " + l.Basis
	}
	return &LimitText{Text: word + s.Teller.Amount(v.Code, l.Unit, l.Value), From: from}
}

// edits are a remedy as changes of the job that can be tried with one touch;
// none where it takes a part that must be looked for.
func (s *trial) edits(f *finding.Finding, r *finding.Remedy) []Edit {
	out := []Edit{}
	build := f.Value.Place.Build
	axle := car.AxleOf(max(0, f.Value.Place.Corner))
	var ax *car.BuildCorner
	for _, b := range s.Answer.Job.Builds {
		if b.ID == build {
			ax = &b.Corner[2*axle]
		}
	}
	if ax == nil {
		return out
	}
	prefix := "builds." + build + "." + car.AxleNames[axle] + "."
	length := func(metres float64) string {
		return quantity.Format(metres, quantity.Length, s.System, quantity.Auto)
	}
	with := func(key, id string, changes ...string) []Edit {
		if id == "" {
			return out
		}
		piece := "{use: " + id
		for k := 0; k+1 < len(changes); k += 2 {
			piece += ", " + changes[k] + ": " + changes[k+1]
		}
		return []Edit{{Path: prefix + key, Value: ref(piece + "}")}}
	}
	switch r.Code {
	case "stiffer-bar-hole", "softer-bar-hole":
		return []Edit{{Path: r.Path, Value: ref(r.Choice)}}
	case "raise-front", "raise-rear":
		return s.raised(build, r)
	case "packer":
		return []Edit{{Path: prefix + "packer", Value: ref(length(ax.Packer.Value + r.Change))}}
	case "shorter-stop":
		if ax.Stop != nil && ax.Stop.Length.Value > 0 {
			// The table is squeezed in proportion, as the study did.
			share := (ax.Stop.Length.Value + r.Change) / ax.Stop.Length.Value
			crush, force := make([]float64, len(ax.Stop.Table)), make([]float64, len(ax.Stop.Table))
			for i, p := range ax.Stop.Table {
				crush[i], force[i] = p.X*share, p.F
			}
			return with("stop", ax.Stop.ID, "length", length(ax.Stop.Length.Value+r.Change),
				"crush", typedRow(crush, quantity.Length), "force", typedRow(force, quantity.Force))
		}
	case "shorter-damper":
		if d := ax.Damper; d != nil && d.Open.Known() && d.Closed.Known() {
			return with("damper", d.ID, "open", length(d.Open.Value+r.Change), "closed", length(d.Closed.Value+r.Change))
		}
	case "less-droop", "longer-stroke":
		if d := ax.Damper; d != nil && d.Open.Known() && d.RodOpen.Known() {
			return with("damper", d.ID, "open", length(d.Open.Value+r.Change), "rod_showing_open", length(d.RodOpen.Value+r.Change))
		}
	}
	return out
}

// typedRow writes a row of a table as a job holds it, in metric units, to the
// hundredth: a row is no figure for people.
func typedRow(list []float64, kind quantity.Kind) string {
	u := quantity.Shown(kind, quantity.Metric)
	words := make([]string, len(list))
	for i, v := range list {
		words[i] = trimZeros(u.Number(v, 2))
	}
	if len(words) > 0 {
		words[len(words)-1] += " " + u.Label()
	}
	return "[" + strings.Join(words, ", ") + "]"
}

func ref(text string) *string { return &text }

// trace plays an obstacle for the side view, in the units shown.
func (s *trial) trace(ctx context.Context, build string, most int) (*Trace, error) {
	index := 0
	if s.Look.Event != nil {
		index = *s.Look.Event
	}
	t, err := s.Answer.Trace(ctx, build, index, most)
	if err != nil {
		return nil, err
	}
	length, force := quantity.Shown(quantity.Length, s.System), quantity.Shown(quantity.Force, s.System)
	side := traceSide(t)
	out := &Trace{
		Dt: t.Step, Build: t.Build, Side: [2]string{"left", "right"}[side],
		Unit:      TraceUnits{Travel: length.Label(), Stop: force.Label(), Seat: s.Teller.Unit("floor-acceleration")},
		Wheelbase: s.shownLength(t.Wheelbase), Speed: s.shownLength(t.Speed),
		Road: TraceRoad{Front: shownAll(t.Road[side], length), Rear: shownAll(t.Road[2+side], length)},
		Seat: shownAll(t.Floor, quantity.Shown(quantity.Acceleration, s.System)), Limits: []TraceLimits{},
	}
	for i := range 4 {
		out.Wheel = append(out.Wheel, shownAll(t.Wheel[i], length))
		out.Body = append(out.Body, shownAll(t.Body[i], length))
		out.Travel = append(out.Travel, shownAll(t.Travel[i], length))
		out.Stop = append(out.Stop, shownAll(t.Stop[i], force))
	}
	for _, d := range s.stripsOf(t) {
		out.Limits = append(out.Limits, TraceLimits{Open: s.lengthOrNothing(d.Open), Touch: s.lengthOrNothing(d.Touch), Solid: s.lengthOrNothing(d.Solid), Rest: s.shownLength(d.Rest)})
	}
	return out, nil
}
