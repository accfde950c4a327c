package answer

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"trunnion/chassis/car"
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
	"trunnion/chassis/remedy"
	"trunnion/chassis/study"
	"trunnion/shop/wording"
)

// band is the share of the draws that every band of an answer holds.
const band = 0.95

// Source is what a document is made of.
type Source struct {
	Answer   *study.Answer
	Findings []finding.Finding
	Plans    []remedy.Plan
	InShort  *wording.InShort // nil: the owner's words say nothing that was understood
	Filled   []car.Filled
	Teller   *wording.Teller // words the texts
	Program  string          // version of the program
	SHA256   string          // of the job's text, in hexadecimal

	// Keep leaves out what it says no to; nil keeps all. The reference build is
	// computed all the same.
	Keep func(build, load string) bool
}

// New makes a document.
func New(src Source) *Document {
	a := src.Answer
	d := &Document{
		Format: Format, Program: src.Program, JobSHA256: src.SHA256, ReferenceBuild: a.Reference,
		Settings: Settings{
			G: equilibrium.Gravity, Seed: a.Options.Seed, Samples: a.Options.Samples, Band: band,
			Signs: "ISO 8855; bump positive", Velocity: a.Options.MainSpeed,
		},
		Values: []Value{}, Findings: []Finding{}, Curves: []Curve{}, Warnings: []Warning{}, Failures: []Failure{}, Estimates: []Estimate{},
		Builds: []Named{}, Loads: []Named{}, Laws: map[string]Law{}, Workings: map[string]Working{},
		Sources: map[string]Origin{}, Given: map[string][]string{}, made: map[string]*figure.Working{},
	}
	m := maker{d: d, src: &src, wrote: map[*figure.Working]string{}, same: map[string]string{}, sources: map[sourced]string{}, lists: map[string]string{}}
	for _, b := range a.Job.Builds {
		if m.keep(b.ID, "") {
			d.Builds = append(d.Builds, Named{b.ID, b.Name})
		}
	}
	for i := range a.Job.Loads {
		if l := &a.Job.Loads[i]; m.keep("", l.ID) {
			d.Loads = append(d.Loads, Named{l.ID, l.Name})
		}
	}
	m.values()
	m.findings()
	m.plans()
	m.inShort()
	m.rest()
	return d
}

// Value returns the value with an id.
func (d *Document) Value(id string) (*figure.Value, bool) {
	for i := range d.Values {
		if d.Values[i].ID == id && i < len(d.behind) {
			return d.behind[i], true
		}
	}
	return nil, false
}

// Working returns the working with an id.
func (d *Document) Working(id string) (*figure.Working, bool) {
	w, ok := d.made[id]
	return w, ok
}

// All returns the values with their ids, in the order of the document.
func (d *Document) All(visit func(id string, v *figure.Value)) {
	for i, v := range d.behind {
		visit(d.Values[i].ID, v)
	}
}

type maker struct {
	d     *Document
	src   *Source
	wrote map[*figure.Working]string // ids of workings already written
	same  map[string]string          // ids by content, so that equal ones are shared
	lists map[string]string          // ids of what solutions were given, by content

	sources map[sourced]string // ids, by content
	ids     map[*figure.Value]string
	at      map[placed]string
	count   int
}

type placed struct {
	code  string
	place figure.Place
}

func (m *maker) keep(build, load string) bool {
	return m.src.Keep == nil || m.src.Keep(build, load)
}

// compare orders values by code and then by each place key in its order.
func compare(a, b *figure.Value) int {
	p, q := &a.Place, &b.Place
	return cmp.Or(
		cmp.Compare(a.Code, b.Code), cmp.Compare(p.Build, q.Build), cmp.Compare(p.Load, q.Load),
		cmp.Compare(corner(p.Corner), corner(q.Corner)), cmp.Compare(p.At, q.At),
		cmp.Compare(click(p), click(q)), cmp.Compare(p.Direction, q.Direction), cmp.Compare(p.Velocity, q.Velocity),
		cmp.Compare(p.Road, q.Road), cmp.Compare(p.Event, q.Event), cmp.Compare(p.Speed, q.Speed),
		cmp.Compare(p.Mode, q.Mode), cmp.Compare(p.Threshold, q.Threshold),
	)
}

func corner(i int) string {
	if i < 0 || i >= len(figure.CornerNames) {
		return ""
	}
	return figure.CornerNames[i]
}

func click(p *figure.Place) int {
	if !p.HasClick {
		return -1
	}
	return p.Click
}

func (m *maker) values() {
	a := m.src.Answer
	list := make([]*figure.Value, 0, len(a.Values))
	for i := range a.Values {
		if v := &a.Values[i]; m.keep(v.Place.Build, v.Place.Load) {
			list = append(list, v)
		}
	}
	slices.SortStableFunc(list, compare)
	m.ids, m.at = make(map[*figure.Value]string, len(list)), make(map[placed]string, len(list))
	for _, v := range list {
		if id, twice := m.at[placed{v.Code, v.Place}]; twice {
			// A job may ask for the same drive twice: once is enough. Two
			// different drives of one name are said.
			m.ids[v] = id
			if first := m.d.behind[index(id)]; first.Value != v.Value && !(math.IsNaN(first.Value) && math.IsNaN(v.Value)) {
				m.twice(v)
			}
			continue
		}
		id := "v" + strconv.Itoa(len(m.d.Values)+1)
		m.ids[v], m.at[placed{v.Code, v.Place}] = id, id
		m.d.behind = append(m.d.behind, v)
		e, _ := figure.Look(v.Code)
		out := Value{
			ID: id, Code: v.Code, Place: place(&v.Place), Tier: string(v.Tier), Value: number(v.Value), Unit: e.Unit,
			State: string(v.State), Reason: word(v.Reason), Warnings: []string{}, Narrow: narrow(v.Narrow),
		}
		if out.Value == nil && v.State != figure.Unknown {
			out.State = string(figure.Unknown)
		}
		if out.Value == nil && out.Reason == nil {
			out.Reason = word("the figure is not finite")
		}
		if v.HasBand && out.Value != nil {
			out.Low, out.High, out.BandOf = number(v.Low), number(v.High), string(v.BandOf)
			if v.BandOf == figure.OfBoth {
				out.CarShare = number(v.CarShare)
			}
		}
		out.Warnings = append(out.Warnings, v.Warnings...)
		if v.Working != nil {
			out.Working = word(m.working(v.Working))
		}
		m.d.Values = append(m.d.Values, out)
	}
}

func index(id string) int {
	n, err := strconv.Atoi(id[1:])
	if err != nil {
		return 0
	}
	return n - 1
}

func (m *maker) twice(v *figure.Value) {
	for _, w := range m.d.Warnings {
		if w.Code == "same-name-twice" {
			return
		}
	}
	m.d.Warnings = append(m.d.Warnings, Warning{
		Code: "same-name-twice", Build: word(v.Place.Build), Load: word(v.Place.Load), Corner: word(corner(v.Place.Corner)),
		Text: wording.Note("same-name-twice"),
	})
}

// working writes a working and those behind it, and returns its id. Workings
// of the same content are one.
func (m *maker) working(w *figure.Working) string {
	if id, ok := m.wrote[w]; ok {
		return id
	}
	law := m.law(w)
	out := Working{Law: w.Law, Result: number(w.Result), Terms: make(map[string]Term, len(w.Terms)), Given: m.given(w.Given)}
	if w.Note != law.Note {
		out.Note = w.Note
	}
	key := make([]byte, 0, 256)
	add := func(s string) { key = append(append(key, s...), 0) }
	addNumber := func(v float64) { key = strconv.AppendFloat(key, v, 'g', -1, 64); key = append(key, 0) }
	add(w.Law)
	add(out.Note)
	add(out.Given)
	addNumber(w.Result)
	for i := range w.Terms {
		t := &w.Terms[i]
		in := m.term(law, t)
		out.Terms[t.Symbol] = in
		add(t.Symbol)
		add(in.Of)
		add(in.Name)
		addNumber(t.Value)
	}
	id, ok := m.same[string(key)]
	if !ok {
		m.count++
		id = "w" + strconv.Itoa(m.count)
		m.same[string(key)] = id
		m.d.Workings[id] = out
		m.d.made[id] = w
	}
	m.wrote[w] = id
	return id
}

// law writes the law of a working, with the symbols that were not met before.
func (m *maker) law(w *figure.Working) *Law {
	l, ok := m.d.Laws[w.Law]
	if !ok {
		l = Law{Equation: w.Equation, Solves: w.Solves, Unit: w.Unit, Source: w.Source, Note: w.Note, Terms: []LawTerm{}}
	}
	for i := range w.Terms {
		t := &w.Terms[i]
		if !slices.ContainsFunc(l.Terms, func(x LawTerm) bool { return x.Symbol == t.Symbol }) {
			l.Terms = append(l.Terms, LawTerm{t.Symbol, t.Name, t.Unit})
		}
	}
	m.d.Laws[w.Law] = l
	return &l
}

// term is a term of a working as it is written.
func (m *maker) term(law *Law, t *figure.Term) Term {
	var out Term
	switch {
	case t.Working != nil:
		out.Of = m.working(t.Working)
	case t.Origin == figure.Solved:
		out.Value = number(t.Value)
	default:
		out.Of = m.source(t)
	}
	for _, x := range law.Terms {
		if x.Symbol == t.Symbol && x.Name != t.Name {
			out.Name = t.Name
		}
	}
	return out
}

// source writes where a number comes from, and returns its id.
func (m *maker) source(t *figure.Term) string {
	s := Origin{Origin: origin(t.Origin), Path: t.Path, Line: t.Line, Typed: t.Typed, Basis: t.Basis}
	if t.Origin == figure.Constant {
		s.Path, s.Source = "", t.Path
	}
	key := sourced{s, t.Value}
	id, ok := m.sources[key]
	if !ok {
		id = "s" + strconv.Itoa(len(m.sources)+1)
		m.sources[key] = id
		s.Value = number(t.Value)
		m.d.Sources[id] = s
	}
	return id
}

// sourced is a source with its number, to find equal ones by.
type sourced struct {
	source Origin
	value  float64
}

// given writes what a solution was given, and returns its id; empty for nothing.
func (m *maker) given(list []*figure.Input) string {
	if len(list) == 0 {
		return ""
	}
	paths := make([]string, 0, len(list))
	for _, in := range list {
		if in.Path != "" {
			paths = append(paths, in.Path)
		}
	}
	slices.Sort(paths)
	paths = slices.Compact(paths)
	key := strings.Join(paths, "\n")
	id, ok := m.lists[key]
	if !ok {
		id = "g" + strconv.Itoa(len(m.lists)+1)
		m.lists[key] = id
		m.d.Given[id] = paths
	}
	return id
}

func origin(o figure.Origin) string {
	if o == "" {
		return "not-given"
	}
	return string(o)
}

// idOf is the id of a value, found by its place where it is a copy.
func (m *maker) idOf(v *figure.Value) string {
	if v == nil {
		return ""
	}
	if id, ok := m.ids[v]; ok {
		return id
	}
	return m.at[placed{v.Code, v.Place}]
}

func (m *maker) findings() {
	for i := range m.src.Findings {
		f := &m.src.Findings[i]
		id := m.idOf(f.Value)
		if id == "" {
			continue
		}
		out := Finding{
			Rank: f.Rank, Code: f.Code, Verdict: string(f.Verdict), Value: id, Versus: word(m.idOf(f.Versus)),
			Probability: number(f.Probability), Consequence: number(f.Consequence),
			Also: []string{}, Causes: []Cause{}, Remedies: []Remedy{}, Narrow: narrow(f.Narrow), Text: m.src.Teller.Finding(f).Text(),
		}
		if l := f.Limit; l != nil {
			out.Limit = &Limit{Value: number(l.Value), Unit: l.Unit, Upper: l.Upper, From: l.From, Basis: l.Basis}
		}
		for _, v := range f.Also {
			if id := m.idOf(v); id != "" {
				out.Also = append(out.Also, id)
			}
		}
		for _, c := range f.Cause {
			out.Causes = append(out.Causes, Cause{Code: c.Code, Value: number(c.Value), Unit: c.Unit})
		}
		for k := range f.Remedies {
			out.Remedies = append(out.Remedies, m.remedy(f, &f.Remedies[k]))
		}
		if len(out.Remedies) > 0 {
			best := out.Remedies[0]
			out.Remedy = &best
		}
		m.d.Findings = append(m.d.Findings, out)
	}
}

func (m *maker) remedy(f *finding.Finding, r *finding.Remedy) Remedy {
	return Remedy{
		Kind: string(r.Kind), Sizes: sizes(r.Sizes), Breaks: breaks(r.Breaks), Front: number(r.Higher[0]), Rear: number(r.Higher[1]),
		Path: r.Path, Code: r.Code, Change: number(r.Change), Unit: r.Unit, ValueAfter: number(r.After), Verdict: string(r.VerdictNow),
		Cures: r.Cures, Worsens: effects(r.Worsens), Betters: effects(r.Betters), Text: m.src.Teller.Remedy(f, r),
		Bought: bought(r),
	}
}

func bought(r *finding.Remedy) Bought {
	if r.Part == nil {
		return Bought{}
	}
	return Bought{Part: cmp.Or(r.Part.Stocked, r.Part.ID), Price: r.Part.Price}
}

func sizes(list []finding.Size) []Size {
	out := []Size{}
	for i := range list {
		s := &list[i]
		out = append(out, Size{Code: s.Code, Corner: word(corner(s.Corner)), Before: number(s.Was), After: number(s.Is), Unit: s.Unit})
	}
	return out
}

func breaks(list []finding.Break) []Break {
	out := []Break{}
	for i := range list {
		b := &list[i]
		out = append(out, Break{
			Code: b.Code, Judges: b.Judges, Load: word(b.Place.Load), Corner: word(corner(b.Place.Corner)), Before: number(b.Before), After: number(b.After),
			Was: string(b.Was), Now: string(b.Now), Probability: number(b.Probability),
		})
	}
	return out
}

func (m *maker) inShort() {
	s := m.src.InShort
	if s == nil {
		return
	}
	out := &InShort{Words: s.Words, Load: s.Load, Cause: s.Cause, Builds: []Answering{}, Text: m.src.Teller.InShort(s)}
	for i := range s.Builds {
		b := &s.Builds[i]
		out.Builds = append(out.Builds, Answering{Build: b.Build, Verdict: string(b.Verdict), Value: word(m.idOf(b.Value))})
	}
	m.d.InShort = out
}

func (m *maker) plans() {
	m.d.Plans = []Plan{}
	for i := range m.src.Plans {
		p := &m.src.Plans[i]
		if !m.keep(p.Build, "") {
			continue
		}
		out := Plan{Build: p.Build, Steps: []PlanStep{}, Findings: []PlanRow{}, TooLow: []TooLow{}, NotThese: p.NotThese, Hours: number(p.Hours)}
		for k := range p.Steps {
			r := &p.Steps[k]
			out.Steps = append(out.Steps, PlanStep{
				Path: r.Path, Code: r.Code, Kind: string(r.Kind), Change: number(r.Change), Unit: r.Unit, Choice: r.Choice, Sizes: sizes(r.Sizes), Text: m.src.Teller.Change(r) + ".",
				Bought: bought(r),
			})
		}
		for k := range p.Rows {
			r := &p.Rows[k]
			axle := ""
			if r.Axle >= 0 {
				axle = car.AxleNames[r.Axle]
			}
			out.Findings = append(out.Findings, PlanRow{
				Code: r.Code, Axle: word(axle), Judges: r.Judges, Load: word(r.PlaceAfter.Load), Corner: word(corner(r.PlaceAfter.Corner)),
				Before: number(r.Before), After: number(r.After), Was: string(r.Was), Now: string(r.Now), Probability: number(r.Probability),
			})
		}
		for k := range p.TooLow {
			l := &p.TooLow[k]
			out.TooLow = append(out.TooLow, TooLow{Axle: car.AxleNames[l.Axle], Higher: number(l.Higher), Height: number(l.Height), Findings: l.Codes, Of: l.Of})
		}
		story := m.src.Teller.Plan(p)
		out.Text = story.Text()
		m.d.Plans = append(m.d.Plans, out)
	}
}

func effects(list []finding.Effect) []Effect {
	out := []Effect{}
	for i := range list {
		e := &list[i]
		out = append(out, Effect{
			Code: e.Code, Load: word(e.Place.Load), Corner: word(corner(e.Place.Corner)),
			Before: number(e.Before), After: number(e.After), Unit: e.Unit,
		})
	}
	return out
}

func (m *maker) rest() {
	a := m.src.Answer
	for i := range a.Curves {
		c := &a.Curves[i]
		if !m.keep(c.Build, c.Load) {
			continue
		}
		m.d.Curves = append(m.d.Curves, Curve{
			Code: c.Code, Build: word(c.Build), Load: word(c.Load), Corner: word(corner(c.Corner)), Road: word(c.Road), Speed: positive(c.Speed),
			X: Axis{c.XName, c.XUnit, numbers(c.X)}, Y: Axis{c.YName, c.YUnit, numbers(c.Y)},
		})
	}
	for i := range a.Warnings {
		w := &a.Warnings[i]
		if !m.keep(w.Build, w.Load) {
			continue
		}
		out := Warning{
			Code: w.Code, Build: word(w.Build), Load: word(w.Load), Corner: word(corner(w.Corner)), Path: word(w.Path),
			Unit: word(w.Unit), Text: m.src.Teller.Warning(w),
		}
		if w.Unit != "" {
			out.Value = number(w.Value)
		}
		m.d.Warnings = append(m.d.Warnings, out)
	}
	for i := range a.Failures {
		if f := &a.Failures[i]; m.keep(f.Build, f.Load) {
			m.d.Failures = append(m.d.Failures, Failure{f.Build, f.Load, m.src.Teller.Failure(f)})
		}
	}
	for i := range m.src.Filled {
		f := &m.src.Filled[i]
		e := Estimate{Path: f.Path, Basis: f.Basis}
		if f.Input != nil {
			e.Value, e.Half = number(f.Input.Value), number(f.Input.Half)
		}
		m.d.Estimates = append(m.d.Estimates, e)
	}
}

func place(p *figure.Place) Place {
	out := Place{
		Build: word(p.Build), Load: word(p.Load), Corner: word(corner(p.Corner)), At: word(p.At), Direction: word(p.Direction),
		Velocity: positive(p.Velocity), Road: word(p.Road), Event: word(p.Event), Speed: positive(p.Speed), Mode: word(p.Mode),
		Threshold: positive(p.Threshold),
	}
	if p.HasClick {
		c := p.Click
		out.Click = &c
	}
	return out
}

func narrow(n *figure.Narrow) *Narrow {
	if n == nil {
		return nil
	}
	return &Narrow{Path: n.Path, Share: number(n.Share), HalfAfter: number(n.HalfAfter), Effort: number(n.Effort)}
}

// word is nil for a key that does not apply.
func word(s string) *string {
	if s == "" {
		return nil
	}
	return &s
}

// number is nil for what is not a finite number.
func number(v float64) *float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nil
	}
	if v == 0 {
		v = 0 // no negative zero
	}
	return &v
}

// positive is nil for a key that does not apply.
func positive(v float64) *float64 {
	if v == 0 {
		return nil
	}
	return number(v)
}

func numbers(list []float64) []*float64 {
	out := make([]*float64, len(list))
	for i, v := range list {
		out[i] = number(v)
	}
	return out
}
