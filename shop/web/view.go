package web

import (
	"context"
	"math"
	"sort"
	"strconv"
	"strings"

	"trunnion/chassis/car"
	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
	"trunnion/shop/view"
	"trunnion/shop/view/order"
	"trunnion/shop/view/ride"
	"trunnion/shop/wording"
)

// comparison is a trial whose builds are set side by side.
type comparison struct{ *view.Trial }

// viewOf makes what the pages show.
func viewOf(ctx context.Context, t *view.Trial) (*View, error) {
	s := &comparison{t}
	v := &View{
		Key: s.Key, Full: s.Full, Units: wording.SystemName(s.System), Load: s.Load, Loads: []LoadLine{}, Faults: view.Listed(s.Faults), Fields: map[string]Field{},
		Outline: Outline{Springs: []Outlined{}, Dampers: []Outlined{}, Stops: []Outlined{}, Platforms: []Outlined{}},
		Brief:   BriefView{Uses: []UseLine{}, Roads: []BriefRoad{}, Events: []BriefEvent{}, Limits: []LimitLine{}, Known: BriefKnown{Roads: []view.Choice{}, Events: []EventKind{}}},
		Plan:    Plan{Wheels: [][]float64{}, Weights: [][]float64{}, Unit: quantity.Units(quantity.Length, s.System)},
		Builds:  []Build{}, Rows: []Row{}, Tables: []Table{}, Warnings: []Note{}, MeasureNext: []Measure{},
		Cautions: wording.Cautions(), Applied: s.Applied, Order: order.View{Lines: []order.Line{}, Cautions: []string{}},
	}
	if v.Applied == nil {
		v.Applied = []jobfile.Applied{}
	}
	s.fields(v)
	if s.Job == nil {
		return v, nil
	}
	info := s.Job.Info
	v.Title = Title{Car: s.Job.Car.Name, Owner: info.Owner, Number: info.Number, Workshop: info.Workshop, Plate: info.Plate}
	s.outline(v)
	s.brief(v)
	for i := range s.Job.Loads {
		l := &s.Job.Loads[i]
		v.Loads = append(v.Loads, LoadLine{ID: l.ID, Name: l.Name, Note: s.massOf(l)})
	}
	if s.Answer == nil {
		return v, nil
	}
	s.plan(v)
	s.builds(v)
	s.rows(v)
	s.tables(v)
	s.warnings(v)
	s.measureNext(v)
	lines := make([]order.Line, len(v.Builds))
	for i := range v.Builds {
		b := &v.Builds[i]
		lines[i] = order.Line{Build: b.ID, Name: b.Name, Price: b.Price, Hours: b.Hours, Verdict: b.Verdict, Sentence: b.Sentence}
	}
	v.Order = order.Of(t, lines)
	var err error
	v.Ride, err = ride.Of(ctx, t)
	return v, err
}

func (s *comparison) massOf(l *car.Load) string {
	if len(l.Items) == 0 {
		return "as weighed"
	}
	sum := 0.0
	for i := range l.Items {
		sum += l.Items[i].Mass.Value
	}
	return quantity.Format(sum, quantity.Mass, s.System, 0)
}

// rowKey is a row: a finding's code, and its axle where that is worth a row of
// its own.
type rowKey struct {
	code string
	axle int // −1 for a row over both
}

func axleOf(v *figure.Value) int {
	switch {
	case v.Place.Corner >= 0:
		return car.AxleOf(v.Place.Corner)
	case v.Place.Mode == "rear":
		return 1
	case v.Place.Mode == "front":
		return 0
	}
	return -1
}

// rows puts findings in rows over the builds. An axle has a row of its own where
// some build is not clear there.
func (s *comparison) rows(v *View) {
	loudAxles := map[string]map[int]bool{}
	for i := range s.Findings {
		if f := &s.Findings[i]; view.Loud(f) {
			if loudAxles[f.Code] == nil {
				loudAxles[f.Code] = map[int]bool{}
			}
			loudAxles[f.Code][axleOf(f.Value)] = true
		}
	}
	keyOf := func(f *finding.Finding) rowKey {
		if len(loudAxles[f.Code]) == 0 {
			return rowKey{f.Code, -1}
		}
		return rowKey{f.Code, axleOf(f.Value)}
	}
	var order []rowKey
	byBuild := map[rowKey]map[string]*finding.Finding{}
	for i := range s.Findings {
		f := &s.Findings[i]
		k := keyOf(f)
		if len(loudAxles[f.Code]) > 0 && !loudAxles[f.Code][k.axle] {
			continue
		}
		if byBuild[k] == nil {
			byBuild[k] = map[string]*finding.Finding{}
			order = append(order, k)
		}
		if byBuild[k][f.Value.Place.Build] == nil {
			byBuild[k][f.Value.Place.Build] = f
		}
	}
	for _, k := range order {
		if row, ok := s.row(k, byBuild[k]); ok {
			v.Rows = append(v.Rows, row)
		}
	}
	sort.SliceStable(v.Rows, func(i, j int) bool { return view.Grades[v.Rows[i].Verdict] < view.Grades[v.Rows[j].Verdict] })
}

// row shows one finding for every build: its own worst place, or what stands at
// the row's.
func (s *comparison) row(k rowKey, found map[string]*finding.Finding) (Row, bool) {
	var lead *finding.Finding
	for _, b := range s.Answer.Job.Builds {
		if f := found[b.ID]; f != nil && (lead == nil || f.Rank < lead.Rank) {
			lead = f
		}
	}
	if lead == nil {
		return Row{}, false
	}
	row := Row{Code: k.code, Label: wording.Row(k.code), Sub: s.Where(&lead.Value.Place), Verdict: "no-limit", Cells: []view.Cell{}}
	if k.axle >= 0 {
		row.Code += "-" + car.AxleNames[k.axle]
	}
	for _, b := range s.Answer.Job.Builds {
		f := found[b.ID]
		if f == nil {
			// It was looked at and is clear, or there is nothing there.
			p := lead.Value.Place
			p.Build = b.ID
			value := s.Answer.At(lead.Value.Code, p)
			if lead.Value.Tier == figure.Static {
				value = s.Answer.Get(lead.Value.Code, b.ID, p.Load, p.Corner)
			}
			verdict, _ := finding.One(s.Answer, value)
			row.Cells = append(row.Cells, s.Cell(value, verdict))
			continue
		}
		c := s.Cell(f.Value, f.Verdict)
		if here := s.Where(&f.Value.Place); here != row.Sub {
			c.Detail = here
		}
		row.Cells = append(row.Cells, c)
	}
	for _, c := range row.Cells {
		if view.Grades[c.Verdict] < view.Grades[row.Verdict] {
			row.Verdict = c.Verdict
		}
	}
	return row, true
}

// warnings lists what the reader must know, failures first.
func (s *comparison) warnings(v *View) {
	for i := range s.Answer.Failures {
		f := &s.Answer.Failures[i]
		v.Warnings = append(v.Warnings, Note{Text: s.Teller.Failure(f), Build: f.Build})
	}
	for i := range s.Answer.Warnings {
		w := &s.Answer.Warnings[i]
		if w.Load != "" && w.Load != s.Load && w.Code != "draws-without-rest" {
			continue
		}
		v.Warnings = append(v.Warnings, Note{Text: s.Teller.Warning(w), Build: w.Build, Path: w.Path})
	}
	for i := range s.Job.Open {
		o := &s.Job.Open[i]
		v.Warnings = append(v.Warnings, Note{Text: wording.Label(o.Path) + ": " + phrase(o.Got) + "; " + phrase(o.Want), Path: o.Path})
	}
}

// phrase is a problem's text without figures of its own.
func phrase(p car.Phrase) string {
	text := p.Text
	for _, a := range p.Amounts {
		shown := a.Typed
		if shown == "" {
			shown = strconv.FormatFloat(a.Value, 'g', 4, 64) + " " + a.Unit
		}
		text = strings.Replace(text, "{}", shown, 1)
	}
	return text
}

// measureNext names the inputs that would narrow the gravest findings most.
func (s *comparison) measureNext(v *View) {
	const most = 4
	seen := map[string]bool{}
	looked := 0
	for i := range s.Findings {
		f := &s.Findings[i]
		if !view.Loud(f) || looked >= 6 || len(v.MeasureNext) >= most {
			continue
		}
		looked++
		n := s.Answer.Narrow(f.Value)
		if n == nil || seen[n.Path] {
			continue
		}
		seen[n.Path] = true
		told := s.Teller.Measure(f.Value, n)
		text := wording.Input(n.Path)
		if text != "" {
			text = strings.ToUpper(text[:1]) + text[1:]
		}
		narrows := strings.TrimPrefix(told, text)
		if at := strings.Index(narrows, ": "); at >= 0 {
			narrows = narrows[at+2:]
		}
		v.MeasureNext = append(v.MeasureNext, Measure{Text: text, Path: n.Path, Minutes: math.Round(n.Effort / quantity.Minute), Narrows: narrows})
	}
}
