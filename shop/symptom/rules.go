package symptom

import (
	"bytes"
	_ "embed"
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"sync"

	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
)

// Version is the format of a file of rules.
const Version = "symptoms/1"

//go:embed rules.yaml
var standard []byte

// StandardText is the table of the program as it stands in its file: what a
// specialist starts from.
func StandardText() []byte { return bytes.Clone(standard) }

// Rules are symptoms and causes, ready to be asked.
type Rules struct {
	Symptoms []Symptom // in the order of the table
	causes   map[string]*cause
	weights  map[string]float64 // of the stem of a word: rare ones say more [-]
	same     map[string]string  // the stem that stands for others
}

// Symptom is one row of the table: what an owner says.
type Symptom struct {
	ID      string
	Say     string   // in the trade's words
	When    []string // it happens
	RuleOut string   // what to rule out first

	words  []phrase
	when   []phrase
	causes []weighed // the likeliest first
}

// weighed is a cause with how likely it is before anything is looked at. [-]
type weighed struct {
	id    string
	prior float64
}

type cause struct {
	id, name    string
	evidence    []evidence
	silent      string
	check       string
	first       []step
	otherwise   string
	costs, back string
}

// evidence is a figure that speaks for or against a cause.
type evidence struct {
	of       *expression
	unit     string
	say      string
	speaks   float64 // from here on it speaks for the cause [SI]
	silences float64 // from here on against it [SI]
	strength float64 // factor on the odds, either way [-]
	limit    string  // as typed: "below 5 mm"
}

// step is a first change that the model can put through the study again.
type step struct {
	do    string
	axle  string // front, rear, both, worst
	by    float64
	codes []string // of findings
}

// The file as it is typed.
type (
	fileText struct {
		Trunnion string               `json:"trunnion"`
		Same     []string             `json:"same"`
		Causes   map[string]causeText `json:"causes"`
		Symptoms []symptomText        `json:"symptoms"`
	}
	causeText struct {
		Name     string         `json:"name"`
		Evidence []evidenceText `json:"evidence"`
		Silent   string         `json:"silent"`
		Check    string         `json:"check"`
		First    []stepText     `json:"first"`
		Else     string         `json:"else"`
		Costs    string         `json:"costs"`
		Back     string         `json:"back"`
	}
	evidenceText struct {
		Of       string `json:"of"`
		Say      string `json:"say"`
		For      string `json:"for"`
		Against  string `json:"against"`
		Strength string `json:"strength"`
	}
	stepText struct {
		Do    string `json:"do"`
		Axle  string `json:"axle"`
		By    string `json:"by"`
		Codes string `json:"codes"`
	}
	symptomText struct {
		ID      string            `json:"id"`
		Say     string            `json:"say"`
		Words   []string          `json:"words"`
		When    []string          `json:"when"`
		Causes  map[string]string `json:"causes"`
		RuleOut string            `json:"rule_out"`
	}
)

// Standard returns the rules of the program, and those of further files over
// them: a cause or symptom of the same id replaces the program's, a new one is
// added.
func Standard(files ...[]byte) (*Rules, error) {
	first, err := ownTable()
	if err != nil {
		return nil, err
	}
	texts := []*fileText{first}
	for _, text := range files {
		one, err := readFile(text, "rules")
		if err != nil {
			return nil, err
		}
		texts = append(texts, one)
	}
	return build(texts)
}

// ownTable is the program's table, read once and only looked at.
var ownTable = sync.OnceValues(func() (*fileText, error) { return readFile(standard, "the program's rules") })

func readFile(text []byte, name string) (*fileText, error) {
	plain, err := jobfile.AsJSON(text, name)
	if err != nil {
		return nil, err
	}
	var f fileText
	d := json.NewDecoder(bytes.NewReader(plain))
	d.DisallowUnknownFields()
	if err := d.Decode(&f); err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	if f.Trunnion != Version {
		return nil, fmt.Errorf("%s: the version is %q; it must be %q", name, f.Trunnion, Version)
	}
	return &f, nil
}

// mostRules bounds what a file may hold. Chosen.
const mostRules = 2000

func build(texts []*fileText) (*Rules, error) {
	r := &Rules{causes: map[string]*cause{}, same: map[string]string{}}
	var rows []symptomText
	for _, t := range texts {
		for _, line := range t.Same {
			list := stems(line)
			for _, w := range list {
				r.same[w] = list[0]
			}
		}
	}
	for _, t := range texts {
		if len(t.Causes) > mostRules || len(t.Symptoms) > mostRules {
			return nil, fmt.Errorf("more than %d causes or symptoms", mostRules)
		}
		for id, text := range t.Causes {
			c, err := readCause(id, &text)
			if err != nil {
				return nil, fmt.Errorf("causes.%s: %w", id, err)
			}
			r.causes[id] = c
		}
		for i := range t.Symptoms {
			at := slices.IndexFunc(rows, func(s symptomText) bool { return s.ID == t.Symptoms[i].ID })
			if at >= 0 {
				rows[at] = t.Symptoms[i]
			} else {
				rows = append(rows, t.Symptoms[i])
			}
		}
	}
	for i := range rows {
		s, err := r.readSymptom(&rows[i])
		if err != nil {
			return nil, fmt.Errorf("symptoms[%d] %s: %w", i, rows[i].ID, err)
		}
		r.Symptoms = append(r.Symptoms, *s)
	}
	r.weigh()
	return r, nil
}

func (r *Rules) readSymptom(t *symptomText) (*Symptom, error) {
	s := &Symptom{ID: t.ID, Say: t.Say, When: t.When, RuleOut: t.RuleOut}
	switch {
	case t.ID == "" || t.Say == "":
		return nil, fmt.Errorf("enter id and say")
	case len(t.Words) == 0 || len(t.Causes) == 0:
		return nil, fmt.Errorf("enter words and causes")
	}
	for _, text := range append([]string{t.Say}, t.Words...) {
		if st := r.roots(text); len(st) > 0 {
			s.words = append(s.words, phrase{text, st})
		}
	}
	for _, text := range t.When {
		if st := r.roots(text); len(st) > 0 {
			s.when = append(s.when, phrase{text, st})
		}
	}
	for id, text := range t.Causes {
		p, err := strconv.ParseFloat(text, 64)
		if err != nil || !(p > 0) || p > 1 {
			return nil, fmt.Errorf("cause %s: %q is no share from 0 to 1", id, text)
		}
		if r.causes[id] == nil {
			return nil, fmt.Errorf("no cause is called %q", id)
		}
		s.causes = append(s.causes, weighed{id, p})
	}
	slices.SortFunc(s.causes, func(a, b weighed) int {
		switch {
		case a.prior > b.prior:
			return -1
		case a.prior < b.prior:
			return 1
		}
		return strings.Compare(a.id, b.id)
	})
	return s, nil
}

// steps are the changes that are known, with the kind of their size.
var steps = map[string]struct {
	kind  quantity.Kind
	sized bool
}{
	"softer-clicks":  {quantity.Count, true},
	"firmer-clicks":  {quantity.Count, true},
	"less-bump":      {quantity.Ratio, true},
	"more-force":     {quantity.Ratio, true},
	"less-force":     {quantity.Ratio, true},
	"raise":          {quantity.Length, true},
	"lower":          {quantity.Length, true},
	"less-packer":    {quantity.Length, true},
	"more-packer":    {quantity.Length, true},
	"firmer-spring":  {quantity.Ratio, true},
	"softer-spring":  {quantity.Ratio, true},
	"level-diagonal": {quantity.Length, false},
	"level-rake":     {quantity.Length, false},
	"softer-bar":     {quantity.Count, false},
	"firmer-bar":     {quantity.Count, false},
	"remedy":         {quantity.Count, false},
}

func readCause(id string, t *causeText) (*cause, error) {
	c := &cause{id: id, name: t.Name, silent: t.Silent, check: t.Check, otherwise: t.Else, costs: t.Costs, back: t.Back}
	if c.name == "" || c.check == "" || c.otherwise == "" || c.back == "" {
		return nil, fmt.Errorf("enter name, check, else and back")
	}
	if len(t.Evidence) == 0 && c.silent == "" {
		return nil, fmt.Errorf("enter evidence, or silent: why there is none")
	}
	for i, e := range t.Evidence {
		one, err := readEvidence(&e)
		if err != nil {
			return nil, fmt.Errorf("evidence[%d]: %w", i, err)
		}
		c.evidence = append(c.evidence, *one)
	}
	for i, s := range t.First {
		known, ok := steps[s.Do]
		if !ok {
			return nil, fmt.Errorf("first[%d]: %q is no change the model knows", i, s.Do)
		}
		one := step{do: s.Do, axle: s.Axle, codes: strings.Fields(s.Codes)}
		if !slices.Contains([]string{"", "front", "rear", "both", "worst"}, s.Axle) {
			return nil, fmt.Errorf("first[%d]: the axle is %q; enter front, rear, both or worst", i, s.Axle)
		}
		if known.sized {
			v, err := quantity.Parse(s.By, known.kind)
			if err != nil || !(v.Value > 0) {
				return nil, fmt.Errorf("first[%d]: by is %q; enter a size", i, s.By)
			}
			one.by = v.Value
		}
		if s.Do == "remedy" && len(one.codes) == 0 {
			return nil, fmt.Errorf("first[%d]: enter codes of findings", i)
		}
		c.first = append(c.first, one)
	}
	return c, nil
}

func readEvidence(t *evidenceText) (*evidence, error) {
	e := &evidence{say: t.Say, limit: t.For, strength: 4}
	var err error
	if e.of, e.unit, err = parseExpression(t.Of); err != nil {
		return nil, err
	}
	up, from, err := readLimit(t.For, e.unit)
	if err != nil {
		return nil, fmt.Errorf("for: %w", err)
	}
	down, to, err := readLimit(t.Against, e.unit)
	if err != nil {
		return nil, fmt.Errorf("against: %w", err)
	}
	if up == down || up && from <= to || !up && from >= to {
		return nil, fmt.Errorf("for is %q and against %q: they must look away from each other", t.For, t.Against)
	}
	e.speaks, e.silences = from, to
	if t.Strength != "" {
		if e.strength, err = strconv.ParseFloat(t.Strength, 64); err != nil || !(e.strength > 1) || e.strength > 100 {
			return nil, fmt.Errorf("strength is %q; enter a factor from 1 to 100", t.Strength)
		}
	}
	if e.say == "" {
		return nil, fmt.Errorf("enter say: what the figure is called")
	}
	return e, nil
}

// kinds is the kind of quantity behind an SI unit.
var kinds = map[string]quantity.Kind{
	"m": quantity.Length, "N": quantity.Force, "kg": quantity.Mass, "N/m": quantity.Stiffness, "m/s": quantity.SpeedDamper,
	"m/s^2": quantity.Acceleration, "rad/(m/s^2)": quantity.RollGradient, "rad": quantity.Angle, "Hz": quantity.Frequency,
	"W": quantity.Power, "s": quantity.Time, "1/s": quantity.Frequency, "1/m": quantity.PerDistance, "1": quantity.Ratio,
}

func readLimit(text, unit string) (above bool, v float64, err error) {
	word, size, _ := strings.Cut(strings.TrimSpace(text), " ")
	if word != "above" && word != "below" {
		return false, 0, fmt.Errorf("%q does not begin with above or below", text)
	}
	kind, ok := kinds[unit]
	if !ok {
		return false, 0, fmt.Errorf("nothing can be compared in %s", unit)
	}
	got, err := quantity.Parse(size, kind)
	if err != nil || math.IsNaN(got.Value) {
		return false, 0, fmt.Errorf("%q: %w", text, err)
	}
	return word == "above", got.Value, nil
}

// factor is what a figure does to the odds of the cause: up to the strength, or
// one over it, straight in the logarithm between the two limits. A figure with a
// band counts with all of the band, taken as normal.
func (e *evidence) factor(g got) float64 {
	at := func(x float64) float64 {
		t := (x - e.speaks) / (e.silences - e.speaks)
		return math.Pow(e.strength, 1-2*min(1, max(0, t)))
	}
	if !g.banded || !(g.high > g.low) {
		return at(g.v)
	}
	sum := 0.0
	sd := (g.high - g.low) / (2 * 1.96)
	for _, z := range normal9 {
		sum += at(g.v + sd*z)
	}
	return sum / float64(len(normal9))
}

// normal9 are the middles of nine equal shares of the normal distribution,
// z = Φ⁻¹((i − 1/2)/9). [-]
var normal9 = [9]float64{-1.593219, -0.967422, -0.589456, -0.282216, 0, 0.282216, 0.589456, 0.967422, 1.593219}

// phrase is a phrase of the table with the roots of its words.
type phrase struct {
	text  string
	stems []string
}

// roots are the stems of a text, those that are taken for one another made one.
func (r *Rules) roots(text string) []string {
	out := stems(text)
	for i, w := range out {
		if one, ok := r.same[w]; ok {
			out[i] = one
		}
	}
	return out
}

// weigh gives each stem its weight: a word of few symptoms says more than one of
// many.
func (r *Rules) weigh() {
	in := map[string]int{}
	for i := range r.Symptoms {
		seen := map[string]bool{}
		for _, p := range append(slices.Clone(r.Symptoms[i].words), r.Symptoms[i].when...) {
			for _, s := range p.stems {
				if !seen[s] {
					seen[s] = true
					in[s]++
				}
			}
		}
	}
	r.weights = make(map[string]float64, len(in))
	for s, n := range in {
		r.weights[s] = math.Log(1 + float64(len(r.Symptoms))/float64(n))
	}
}
