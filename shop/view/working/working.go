package working

import (
	"context"
	"strconv"
	"strings"

	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
	"trunnion/shop/desk"
	"trunnion/shop/view"
	"trunnion/shop/wording"
)

// page is a trial of which a value is opened.
type page struct{ *view.Trial }

// Of opens a value, or a term of its working: "value!2!0" is the first term
// of the third term of the value's.
func Of(ctx context.Context, t *view.Trial, id string) (*View, error) {
	s := &page{t}
	head, path, _ := strings.Cut(id, "!")
	v := s.Value(head)
	if v == nil {
		return nil, desk.ErrNotKept
	}
	w := s.Answer.Explain(v)
	name := wording.Name(v.Code)
	out := &View{
		ID: id, Title: strings.ToUpper(name[:1]) + name[1:], Where: s.Teller.Place(v.Place), Result: s.Teller.Value(v), State: view.State(v), Terms: []Term{}, Remedies: []Remedy{},
	}
	if v.HasBand {
		out.Band = wording.Band(v)
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
	out.Equation, out.Source = wording.Equation(w), wording.Source(w.Source)
	if id != head {
		out.Result = lines[0].Figure
	}
	for _, note := range []string{w.Note, wording.Given(w)} {
		if note != "" {
			out.Note = joinNotes(out.Note, note)
		}
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
func (s *page) terms(out *View, w *figure.Working, id, code string) {
	for k := range w.Terms {
		t := &w.Terms[k]
		flat := &figure.Working{Equation: w.Equation, Source: w.Source, Unit: w.Unit, Result: w.Result, Terms: []figure.Term{{
			Symbol: t.Symbol, Name: t.Name, Value: t.Value, Unit: t.Unit, Origin: t.Origin,
		}}}
		line := s.Teller.Working(code, flat)[1]
		term := Term{Symbol: t.Symbol, Name: t.Name, Shown: line.Figure, Origin: wording.Origin(t.Origin), Typed: t.Typed, Path: t.Path, Line: t.Line}
		if t.Origin == figure.Constant {
			// Its path is its publication.
			term.Origin, term.Path = t.Path, ""
		}
		if t.Working != nil {
			term.WorkingID = id + "!" + strconv.Itoa(k)
		}
		out.Terms = append(out.Terms, term)
	}
}

// judgedAs adds what a value is judged by, what would help, and what to measure.
func (s *page) judgedAs(ctx context.Context, out *View, v *figure.Value) error {
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
			out.Narrow = &Narrow{Text: s.Teller.Measure(v, n), Path: n.Path}
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
		line := Remedy{Text: s.Teller.Gives(f, r), Edits: s.RemedyEdits(f, r), After: s.Teller.After(f, r.After), Worsens: []string{}}
		for i := range r.Worsens {
			line.Worsens = append(line.Worsens, wording.Upper(s.Teller.Effect(&r.Worsens[i]))+".")
		}
		out.Remedies = append(out.Remedies, line)
	}
	if f.Narrow != nil {
		out.Narrow = &Narrow{Text: s.Teller.Measure(v, f.Narrow), Path: f.Narrow.Path}
	} else if n := s.Answer.Narrow(v); n != nil {
		out.Narrow = &Narrow{Text: s.Teller.Measure(v, n), Path: n.Path}
	}
	return nil
}

func (s *page) limitText(v *figure.Value, l *finding.Limit) *Limit {
	word := "at least "
	if l.Upper {
		word = "at most "
	}
	from := l.From
	if l.From == "default" {
		from = "usual limit, " + l.Basis
	}
	return &Limit{Text: word + s.Teller.Amount(v.Code, l.Unit, l.Value), From: from}
}
