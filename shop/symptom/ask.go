package symptom

import (
	"cmp"
	"context"
	"fmt"
	"maps"
	"slices"
	"strings"

	"trunnion/chassis/car"
	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
	"trunnion/chassis/scales"
	"trunnion/chassis/study"
	"trunnion/shop/wording"
)

// Question is what somebody says of a build.
type Question struct {
	Words   string `json:"words"`   // the owner's
	When    string `json:"when"`    // it happens; may be empty
	Build   string `json:"build"`   // id
	Load    string `json:"load"`    // id; found in the words when empty
	Symptom string `json:"symptom"` // id of a row of the table; heard in the words when empty
	Most    int    `json:"most"`    // causes; 0 means 3
	// BothSides are the paths of the job at which both sides of an axle get a value;
	// nil: the axle's own.
	BothSides func(path string) []string `json:"-"`
	// Level is the move of a build's collars that a session on the scales asks for; nil where it asks for none. Left out,
	// no collar is levelled.
	Level func(build string) *scales.Plan `json:"-"`
}

// Speaks is which way a piece of evidence points.
type Speaks string

// The ways.
const (
	For     Speaks = "for"
	Against Speaks = "against"
	Neither Speaks = "neither"
	Silent  Speaks = "not computed"
)

// Evidence is one figure looked at for a cause.
type Evidence struct {
	Speaks Speaks  `json:"speaks"`
	Text   string  `json:"text"`  // the figure with its place and band, and where it would speak for the cause
	Code   string  `json:"code"`  // the result code it is about
	Place  string  `json:"place"` // in words
	Value  float64 `json:"value"` // [SI unit of Unit]
	Unit   string  `json:"unit"`
	Factor float64 `json:"factor"` // on the odds [-]
}

// Proposal is one cause that may be behind it.
type Proposal struct {
	Rank int    `json:"rank"`
	ID   string `json:"id"`
	Name string `json:"name"`
	// Weight is its share among the causes that were looked at. It ranks; it is no
	// probability: what it starts from is common practice. [-]
	Weight   float64    `json:"weight"`
	Evidence []Evidence `json:"evidence"`
	Check    string     `json:"check"` // the quickest that separates it from the others
	First    Change     `json:"first"`
	Costs    string     `json:"costs"` // in general; on this car they stand in First
	Back     string     `json:"back"`
}

// Asked is the answer to a question.
type Asked struct {
	Question  `json:"asked"`
	BuildName string     `json:"build_name"`
	LoadName  string     `json:"load_name"`
	LoadWhy   string     `json:"load_why"` // why this load state was looked at
	Symptoms  []Heard    `json:"symptoms"`
	Causes    []Proposal `json:"causes"`
	Caution   string     `json:"caution"`
	// Open says that no row of the table was heard; Causes is empty and Rows lists
	// what can be chosen.
	Open bool    `json:"open"`
	Rows []Heard `json:"rows"`
}

const caution = "These are proposals from the figures of this job and common practice, no diagnosis: look before you change, and change one thing at a time."

// mostCauses is how many causes are shown. Two or three can be held in a head.
const mostCauses = 3

// Ask looks a question up in an answer. The answer must have been computed here,
// so that changes can be put through it again; driven roads are used where they
// are. findings may be nil: then remedies are not looked for among them.
func (r *Rules) Ask(ctx context.Context, a *study.Answer, findings []finding.Finding, tell *wording.Teller, q Question) (*Asked, error) {
	if !slices.ContainsFunc(a.Job.Builds, func(b *car.Build) bool { return b.ID == q.Build }) {
		return nil, fmt.Errorf("the job has no build %q", q.Build)
	}
	out := &Asked{Question: q, Caution: caution}
	s := &scene{was: a, now: a, build: q.Build, usual: a.UsualLoad(), laden: fullest(a), shapes: map[string][2]float64{}, bothSides: q.BothSides, level: q.Level, end: r.endOf(q.Words)}
	if s.load, out.LoadWhy = loadFor(a, tell, &q, s); s.load == "" {
		return nil, fmt.Errorf("the job has no load state %q", q.Load)
	}
	out.Load, out.BuildName, out.LoadName = s.load, tell.Build(q.Build), tell.Load(s.load)
	if q.Symptom != "" {
		i := slices.IndexFunc(r.Symptoms, func(row Symptom) bool { return row.ID == q.Symptom })
		if i < 0 {
			return nil, fmt.Errorf("no symptom is called %q", q.Symptom)
		}
		out.Symptoms = []Heard{{ID: q.Symptom, Say: r.Symptoms[i].Say, RuleOut: r.Symptoms[i].RuleOut, Share: 1}}
	} else {
		out.Symptoms = r.Hear(q.Words, q.When)
	}
	if len(out.Symptoms) == 0 {
		out.Open = true
		for i := range r.Symptoms {
			out.Rows = append(out.Rows, Heard{ID: r.Symptoms[i].ID, Say: r.Symptoms[i].Say, RuleOut: r.Symptoms[i].RuleOut})
		}
		return out, nil
	}
	proposals := r.rank(s, tell, out.Symptoms)
	most := q.Most
	if most <= 0 {
		most = mostCauses
	}
	out.Causes = proposals[:min(len(proposals), most)]
	if !slices.ContainsFunc(out.Causes, func(p Proposal) bool {
		return slices.ContainsFunc(p.Evidence, func(e Evidence) bool { return e.Speaks == For })
	}) {
		out.Caution = "No figure of this job speaks for any of these: the order is common practice alone. " + caution
	}
	for i := range out.Causes {
		p := &out.Causes[i]
		p.Rank = i + 1
		c := r.causes[p.ID]
		p.Check, p.Costs, p.Back = sentence(c.check), sentence(c.costs), sentence(c.back)
		m := &mender{ctx: ctx, scene: s, tell: tell, cause: c, findings: findings}
		p.First = m.first()
		if against := odds(p); against < leastOdds && p.First.Computed {
			p.First.Text = "Only if the check says so, for the figures speak against it: " + wording.Lower(p.First.Text)
		}
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		if p.First.Back != "" {
			p.Back = p.First.Back
		}
	}
	return out, nil
}

// leastOdds is how far the figures may speak against a cause before its change is
// held back. Chosen.
const leastOdds = 0.5

// odds is what all figures together do to the odds of a cause. [-]
func odds(p *Proposal) float64 {
	f := 1.0
	for i := range p.Evidence {
		f *= p.Evidence[i].Factor
	}
	return f
}

// rank weighs the causes of the symptoms that were heard: how likely a symptom
// was meant, times how likely the cause is for it, times what the figures say.
func (r *Rules) rank(s *scene, tell *wording.Teller, heard []Heard) []Proposal {
	prior := map[string]float64{}
	for _, h := range heard {
		i := slices.IndexFunc(r.Symptoms, func(row Symptom) bool { return row.ID == h.ID })
		for _, w := range r.Symptoms[i].causes {
			prior[w.id] += h.Share * w.prior
		}
	}
	var out []Proposal
	sum := 0.0
	// In one order always: a sum of floats hangs on it.
	for _, id := range slices.Sorted(maps.Keys(prior)) {
		c := r.causes[id]
		one := Proposal{ID: id, Name: c.name, Weight: prior[id]}
		for i := range c.evidence {
			e := c.evidence[i].look(s, tell)
			one.Weight *= e.Factor
			one.Evidence = append(one.Evidence, e)
		}
		if c.silent != "" {
			one.Evidence = append(one.Evidence, Evidence{Speaks: Silent, Text: sentence(c.silent), Factor: 1})
		}
		sum += one.Weight
		out = append(out, one)
	}
	for i := range out {
		out[i].Weight /= sum
	}
	slices.SortFunc(out, func(a, b Proposal) int {
		return cmp.Or(cmp.Compare(b.Weight, a.Weight), strings.Compare(a.ID, b.ID))
	})
	return out
}

// look reads one piece of evidence off the answer.
func (e *evidence) look(s *scene, tell *wording.Teller) Evidence {
	out := Evidence{Code: e.of.code(), Unit: e.unit, Factor: 1}
	g, err := s.figureOf(e.of)
	if err != nil {
		out.Speaks = Silent
		out.Text = sentence(e.say + " is not known: " + err.Error())
		return out
	}
	out.Value, out.Factor = g.v, e.factor(g)
	// The word is that of the figure itself; its band weighs in the factor.
	switch up := e.speaks > e.silences; {
	case up && g.v >= e.speaks || !up && g.v <= e.speaks:
		out.Speaks = For
	case up && g.v <= e.silences || !up && g.v >= e.silences:
		out.Speaks = Against
	default:
		out.Speaks = Neither
	}
	out.Place = placeOf(tell, &g)
	text := e.say
	if out.Place != "" {
		text += ", " + out.Place
	}
	text += ": " + e.amount(tell, g.v)
	if g.banded && g.high > g.low {
		text += " (" + e.bare(tell, g.low) + " to " + e.bare(tell, g.high) + ")"
	}
	up, down := "above ", "below "
	if e.speaks < e.silences {
		up, down = down, up
	}
	out.Text = sentence(text + "; for it " + up + e.amount(tell, e.speaks) + ", against it " + down + e.amount(tell, e.silences))
	return out
}

// amount is a figure of the evidence with its unit.
func (e *evidence) amount(tell *wording.Teller, v float64) string {
	return tell.Amount(e.shownAs(), e.unit, v)
}

func (e *evidence) bare(tell *wording.Teller, v float64) string {
	text := e.amount(tell, v)
	number, _, _ := strings.Cut(text, " ")
	return number
}

// shownAs is the code whose unit the figure is shown in; none where the figure is
// made of others and comes out in another unit.
func (e *evidence) shownAs() string {
	code := e.of.code()
	if u, _ := unitOfCode(code); u != e.unit || strings.HasSuffix(e.limit, "%") && e.unit == "1" {
		if e.unit == "1" && strings.HasSuffix(e.limit, "%") {
			return "stop-share" // shown in per cent, as the table writes it
		}
		return ""
	}
	return code
}

// placeOf is where a figure was found, in words.
func placeOf(tell *wording.Teller, g *got) string {
	p := g.place
	p.Build, p.At = "", ""
	p.HasClick, p.Velocity, p.Direction, p.Mode = false, 0, "", ""
	return tell.Place(p)
}

// full are words by which people mean the fullest load, alone by which they mean
// the driver.
var (
	full  = stems("full fully laden loaded everybody everyone mates passengers holiday luggage family aboard trailer people")
	alone = stems("alone myself driver only empty one two three")
)

// loadFor is the load state a question is about, and why.
func loadFor(a *study.Answer, tell *wording.Teller, q *Question, s *scene) (load, why string) {
	if q.Load != "" {
		for i := range a.Job.Loads {
			if a.Job.Loads[i].ID == q.Load {
				return q.Load, "as asked for"
			}
		}
		return "", ""
	}
	said := stems(q.When + " " + q.Words)
	has := func(list []string) bool {
		return slices.ContainsFunc(list, func(w string) bool { return slices.Contains(said, w) })
	}
	// A load state that is called by its name.
	best, words := "", 0
	for i := range a.Job.Loads {
		l := &a.Job.Loads[i]
		for _, name := range []string{l.Name, l.ID} {
			st := stems(name)
			if n := len(st); n > words && !slices.ContainsFunc(st, func(w string) bool { return !slices.Contains(said, w) }) {
				best, words = l.ID, n
			}
		}
	}
	switch {
	case words > 1 || words == 1 && !has(full):
		return best, "the words name it"
	case has(full) && !has(alone):
		return s.laden, "the words speak of a full car: this is the fullest load state"
	}
	return s.usual, "the usual load state, as the words name no other"
}

// fullest is the load state with the greatest sprung mass.
func fullest(a *study.Answer) string {
	best, most := a.UsualLoad(), 0.0
	for i := range a.Values {
		v := &a.Values[i]
		if v.Code == "sprung-mass" && v.State != figure.Unknown && v.Value > most {
			best, most = v.Place.Load, v.Value
		}
	}
	return best
}
