package builds

import (
	"sort"

	"trunnion/chassis/car"
	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
	"trunnion/shop/view"
	"trunnion/shop/wording"
)

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
func (s *page) rows(v *View) {
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
func (s *page) row(k rowKey, found map[string]*finding.Finding) (Row, bool) {
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
