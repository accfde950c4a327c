package support

import (
	"context"
	"math"
	"slices"
	"strings"

	"trunnion/chassis/finding"
	"trunnion/shop/desk"
	"trunnion/shop/jobfile"
	"trunnion/shop/symptom"
	"trunnion/shop/view"
	"trunnion/shop/wording"
)

// Request is a job with changes, and what its owner says of it.
type Request struct {
	view.TryRequest
	Words   string `json:"words" maxLength:"500" doc:"the owner's"`
	When    string `json:"when,omitempty" maxLength:"200" doc:"it happens"`
	Build   string `json:"build" maxLength:"100" doc:"that is on the car"`
	Symptom string `json:"symptom,omitempty" maxLength:"100" doc:"a row of the table, instead of words"`
}

// View is what may be behind it.
type View struct {
	Key       string          `json:"key" doc:"for the workings"`
	Ms        int             `json:"ms"`
	Build     string          `json:"build"`
	BuildName string          `json:"buildName"`
	LoadName  string          `json:"loadName"`
	LoadWhy   string          `json:"loadWhy"`
	Heard     []SymptomRow    `json:"heard"`
	Causes    []Cause         `json:"causes"`
	Caution   string          `json:"caution"`
	Open      bool            `json:"open" doc:"nothing was heard: one of the rows is to be chosen"`
	Rows      []SymptomRow    `json:"rows"`
	Faults    []jobfile.Fault `json:"faults"`
	Notes     []string        `json:"notes" doc:"what could not be looked at"`
}

// SymptomRow is a row of the table of what owners say.
type SymptomRow struct {
	ID      string   `json:"id"`
	Say     string   `json:"say"`
	When    []string `json:"when"`
	Matched []string `json:"matched" doc:"what was found in the words"`
	RuleOut string   `json:"ruleOut"`
}

// SymptomRows are all of them.
type SymptomRows struct {
	Rows []SymptomRow `json:"rows"`
	When []string     `json:"when" doc:"each one once"`
}

// Cause is one cause that may be behind it.
type Cause struct {
	ID       string     `json:"id"`
	Rank     int        `json:"rank"`
	Name     string     `json:"name"`
	Evidence []Evidence `json:"evidence"`
	Check    string     `json:"check"`
	First    Change     `json:"first"`
	Costs    string     `json:"costs" doc:"in general, where the change was not computed"`
	Back     string     `json:"back"`
}

// Evidence is a figure that was looked at.
type Evidence struct {
	Speaks  string `json:"speaks" enum:"for,against,neither,not computed"`
	Text    string `json:"text" doc:"what was looked at, or why it was not"`
	Figure  string `json:"figure,omitempty" doc:"as it stands, with its band"`
	Limits  string `json:"limits,omitempty" doc:"where it would speak either way"`
	ValueID string `json:"valueId,omitempty" doc:"of the figure's working, where it is one of the answer"`
}

// Change is the first change.
type Change struct {
	Text     string         `json:"text"`
	Computed bool           `json:"computed"`
	Then     []string       `json:"then"`
	Betters  []string       `json:"betters"`
	Worsens  []string       `json:"worsens"`
	Edits    []jobfile.Edit `json:"edits"`
}

// RowsOf shows the table of what owners say.
func RowsOf(rules *symptom.Rules) SymptomRows {
	out := SymptomRows{Rows: []SymptomRow{}, When: []string{}}
	for i := range rules.Symptoms {
		r := &rules.Symptoms[i]
		out.Rows = append(out.Rows, SymptomRow{ID: r.ID, Say: r.Say, When: view.Listed(r.When), Matched: []string{}, RuleOut: r.RuleOut})
		for _, w := range r.When {
			if !slices.Contains(out.When, w) {
				out.When = append(out.When, w)
			}
		}
	}
	return out
}

// Question is what of a request about a job's text is put to the table.
func (req *Request) Question() symptom.Question {
	return symptom.Question{Words: req.Words, When: req.When, Build: req.Build, Load: req.Load, Symptom: req.Symptom}
}

// page is a trial that is asked what may be behind what an owner says.
type page struct{ *view.Trial }

// Of shows what may be behind what an owner says; asked is nil where the job
// has no answer.
func Of(ctx context.Context, t *view.Trial, req Request, asked *symptom.Asked) (*View, error) {
	s := &page{t}
	out := &View{Key: s.Key, Build: req.Build, Heard: []SymptomRow{}, Causes: []Cause{}, Rows: []SymptomRow{}, Faults: view.Listed(s.Faults), Notes: []string{}}
	if asked == nil {
		return out, nil
	}
	if len(s.Answer.Job.Brief.Roads)+len(s.Answer.Job.Brief.Events) == 0 {
		out.Notes = append(out.Notes, "The brief has no road and no obstacle: nothing was driven, and what only a drive shows speaks neither way.")
	}
	out.BuildName, out.LoadName, out.LoadWhy, out.Caution, out.Open = asked.BuildName, asked.LoadName, asked.LoadWhy, asked.Caution, asked.Open
	out.Heard, out.Rows = heardRows(asked.Symptoms), heardRows(asked.Rows)
	for i := range asked.Causes {
		c, err := s.supportCause(ctx, &asked.Causes[i], req.Build)
		if err != nil {
			return nil, err
		}
		out.Causes = append(out.Causes, c)
	}
	return out, nil
}

func heardRows(list []symptom.Heard) []SymptomRow {
	out := []SymptomRow{}
	for _, h := range list {
		out = append(out, SymptomRow{ID: h.ID, Say: h.Say, When: []string{}, Matched: view.Listed(h.Matched), RuleOut: h.RuleOut})
	}
	return out
}

func (s *page) supportCause(ctx context.Context, p *symptom.Proposal, build string) (Cause, error) {
	c := Cause{ID: p.ID, Rank: p.Rank, Name: wording.Upper(p.Name), Evidence: []Evidence{}, Check: p.Check, Back: p.Back, First: Change{
		Text: p.First.Text, Computed: p.First.Computed, Then: view.Listed(p.First.Then), Betters: view.Listed(p.First.Betters), Worsens: view.Listed(p.First.Worsens), Edits: []jobfile.Edit{},
	}}
	if !p.First.Computed {
		c.Costs = p.Costs
	}
	for i := range p.Evidence {
		e := &p.Evidence[i]
		one := Evidence{Speaks: string(e.Speaks), ValueID: s.evidenceID(e, build)}
		one.Text, one.Figure, one.Limits = evidencePieces(e)
		c.Evidence = append(c.Evidence, one)
	}
	for _, e := range p.First.Edits {
		c.First.Edits = append(c.First.Edits, jobfile.Edit{Path: e.Path, Value: new(e.Value), Label: wording.Label(e.Path)})
	}
	if p.First.Computed && len(c.First.Edits) == 0 {
		if err := s.asRemedy(ctx, &c.First, build); err != nil {
			return c, err
		}
	}
	return c, nil
}

// evidencePieces takes a sentence of evidence apart at its figure, so that the
// figure can be opened: "Gap, rear: 5 mm (1 to 9); for it below 2 mm." Anything
// else stays whole.
func evidencePieces(e *symptom.Evidence) (text, figure, limits string) {
	if e.Speaks == symptom.Silent {
		return e.Text, "", ""
	}
	head, limits, ok := strings.Cut(e.Text, "; for it ")
	at := strings.LastIndex(head, ": ")
	if !ok || at < 0 {
		return e.Text, "", ""
	}
	return head[:at], head[at+2:], "for it " + limits
}

// evidenceID finds the figure of the answer that a piece of evidence looked at:
// the very same number under the same name. A figure made of several has no
// working of its own.
func (s *page) evidenceID(e *symptom.Evidence, build string) string {
	if e.Speaks == symptom.Silent || e.Code == "" {
		return ""
	}
	id := ""
	for i := range s.Answer.Values {
		v := &s.Answer.Values[i]
		//nolint:floateq // the same figure, not one that is near it
		if v.Code != e.Code || v.Place.Build != build || v.Value != e.Value && math.Abs(v.Value) != e.Value {
			continue
		}
		q := v.Place
		q.Build, q.At, q.HasClick, q.Velocity, q.Direction, q.Mode = "", "", false, 0, "", ""
		if s.Teller.Place(q) == e.Place {
			return desk.ValueID(v)
		}
		if id == "" {
			id = desk.ValueID(v)
		}
	}
	return id
}

// asRemedy completes a change that is the remedy of a finding: its edits, and
// what it costs, which stands in its text.
func (s *page) asRemedy(ctx context.Context, c *Change, build string) error {
	for k := range s.Findings {
		f := &s.Findings[k]
		if f.Value == nil || f.Value.Place.Build != build || f.Verdict != finding.Over && f.Verdict != finding.Close {
			continue
		}
		f, err := s.Finding(ctx, k)
		if err != nil {
			return err
		}
		if len(f.Remedies) == 0 {
			continue
		}
		r := &f.Remedies[0]
		told := s.Teller.Remedy(f, r)
		if !strings.HasSuffix(c.Text, told) {
			continue
		}
		c.Edits = append(c.Edits, s.RemedyEdits(f, r)...)
		if len(r.Worsens) > 0 {
			c.Text = strings.TrimSuffix(c.Text, told) + s.Teller.Gives(f, r)
			for i := range r.Worsens {
				c.Worsens = append(c.Worsens, wording.Upper(s.Teller.Effect(&r.Worsens[i]))+".")
			}
		}
		return nil
	}
	return nil
}
