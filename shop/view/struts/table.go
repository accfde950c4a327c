package struts

import (
	"math"
	"strings"

	"trunnion/chassis/car"
	"trunnion/chassis/figure"
	"trunnion/chassis/strut"
	"trunnion/shop/quantity"
	"trunnion/shop/view"
	"trunnion/shop/wording"
)

// baselineOf is the strut of the reference build that a build's is compared with; −1
// for the reference's own, and without one.
func (u *page) baselineOf(i int) int {
	was := u.all.Baseline(&u.all.Builds[i])
	for r := range u.all.Builds {
		if was == &u.all.Builds[r] {
			return r
		}
	}
	return -1
}

// referenceMoment is what a build is compared with in a case; nil without one.
func (u *page) referenceMoment(i int, id string) *strut.Moment {
	r := u.baselineOf(i)
	if r < 0 {
		return nil
	}
	if n := caseOf(&u.all.Builds[r], id); n >= 0 && u.moments[r][n].Err == nil {
		return &u.moments[r][n].Is
	}
	return nil
}

// referenceName is the reference build's name.
func (u *page) referenceName() string {
	if r := u.referenceOf(); r >= 0 {
		return u.all.Builds[r].Build.Name
	}
	return ""
}

// figures fills every figure over cases and builds, each beside the reference
// build in the same case, moved alike, and beside itself as it stands.
func (u *page) figures() {
	for _, f := range wording.StrutFigures(u.axle) {
		row := Figure{ID: f.ID, Label: f.Label, Cases: [][]Cell{}}
		for _, c := range u.out.Cases {
			if c.Value == carriedCase {
				continue
			}
			cells := make([]Cell, len(u.all.Builds))
			for i := range u.all.Builds {
				cells[i] = u.cellOf(&f, i, c.Value)
			}
			row.Cases = append(row.Cases, cells)
		}
		u.out.Figures = append(u.out.Figures, row)
	}
}

func (u *page) cellOf(f *wording.StrutFigure, i int, id string) Cell {
	one := &u.all.Builds[i]
	out := Cell{Text: quantity.Nothing}
	n := caseOf(one, id)
	if n < 0 {
		out.Why = "this build has no such case"
		return out
	}
	m := &u.moments[i][n]
	if m.Err != nil {
		out.Why = u.Teller.StrutFault(m.Err)
		return out
	}
	v := f.Of(one, &m.Is)
	if math.IsNaN(v) {
		out.Why = "its measures are not known"
		return out
	}
	out.Text = u.Teller.With(f.SI, v)
	out.Band = strings.TrimSpace(u.Teller.StrutBand(f, u.draws[i][n]))
	out.Limit, _ = u.Teller.StrutLimit(f.ID, one, u.axle, v)
	if chance := u.Teller.StrutChance(f.ID, u.axle, u.draws[i][n]); chance != "" {
		out.Limit += ". " + chance
	}
	if r := u.referenceMoment(i, id); r != nil {
		out.Against = wording.Times(v, f.Of(&u.all.Builds[u.baselineOf(i)], r), "“"+u.referenceName()+"”")
	}
	if u.moved() {
		out.Was = wording.Times(v, f.Of(one, &m.Was), "as it stands")
	}
	return out
}

// changeHeads are the figures that changes are told by.
var changeHeads = []string{"side", "guide", "stress", "break-away"}

// changes are what workshops do to a corner, tried on every build.
func (u *page) changes() {
	var told []wording.StrutFigure
	for _, f := range wording.StrutFigures(u.axle) {
		for _, id := range changeHeads {
			if f.ID == id {
				told = append(told, f)
				u.out.Mounts.Heads = append(u.out.Mounts.Heads, f.Label)
			}
		}
	}
	for i := range u.all.Builds {
		one := &u.all.Builds[i]
		for k := range one.Changes {
			ch := &one.Changes[k]
			c := &one.Cases[ch.Case]
			row := Change{Case: u.caseName(c), Label: u.Teller.LoadCase(ch.Code, ch.By), Cells: []string{}}
			for _, f := range told {
				text := quantity.Nothing
				if ch.Err == nil {
					is := f.Of(one, &ch.Moment)
					text = u.Teller.With(f.SI, is)
					if times := wording.Times(is, f.Of(one, &c.Moment), "before"); times != "" {
						text += ", " + times
					}
				}
				row.Cells = append(row.Cells, text)
			}
			u.out.Builds[i].Changes = append(u.out.Builds[i].Changes, row)
		}
	}
}

// sentences say of each build what gives out first.
func (u *page) sentences() {
	for i := range u.all.Builds {
		one := &u.all.Builds[i]
		var nearest, stress, worst, best *wording.StrutWorst
		for n := range one.Cases {
			m := &u.moments[i][n]
			if m.Err != nil {
				u.out.Builds[i].Says = append(u.out.Builds[i].Says, u.caseName(&one.Cases[n])+": "+u.Teller.StrutFault(m.Err))
				continue
			}
			for _, f := range wording.StrutFigures(u.axle) {
				v := f.Of(one, &m.Is)
				if math.IsNaN(v) {
					continue
				}
				w := wording.StrutWorst{Figure: f.ID, Label: f.Label, Case: u.caseShort(&one.Cases[n]), Value: v, Chance: u.Teller.StrutChance(f.ID, u.axle, u.draws[i][n]), Band: u.Teller.StrutBand(&f, u.draws[i][n])}
				if _, share := u.Teller.StrutLimit(f.ID, one, u.axle, v); !math.IsNaN(share) && (nearest == nil || share > nearest.Share) {
					one := w
					one.Share = share
					nearest = &one
				}
				if f.ID == "stress" && (stress == nil || v > stress.Value) {
					one := w
					stress = &one
				}
				r := u.referenceMoment(i, caseID(&one.Cases[n]))
				if r == nil {
					continue
				}
				was := f.Of(&u.all.Builds[u.baselineOf(i)], r)
				if !(was > 0) {
					continue
				}
				w.Share = v / was
				if worst == nil || w.Share > worst.Share {
					one := w
					worst = &one
				}
				if best == nil || w.Share < best.Share {
					one := w
					best = &one
				}
			}
		}
		u.out.Builds[i].Says = append(u.out.Builds[i].Says, u.Teller.StrutFirst(nearest, stress, worst, best, u.referenceName())...)
	}
}

// charts draw figures over the travel, in the case that is drawn.
func (u *page) charts() {
	length := quantity.Units(quantity.Length, u.System)
	for _, id := range []string{"side", "stress", "guide-pressure", "break-away"} {
		for _, f := range wording.StrutFigures(u.axle) {
			if f.ID != id {
				continue
			}
			c := view.Chart{
				ID: "strut-" + id, Title: f.Label, Note: u.out.CaseName, Kind: "line",
				X: view.Axis{Label: "wheel travel, bump positive", Unit: length}, Y: view.Axis{Label: f.Label, Unit: f.Unit(u.Teller)}, Series: []view.Series{},
			}
			u.chart(&c, &f)
			if len(c.Series) > 0 {
				u.out.Charts = append(u.out.Charts, c)
			}
		}
	}
}

func (u *page) chart(c *view.Chart, f *wording.StrutFigure) {
	for i := range u.all.Builds {
		one := &u.all.Builds[i]
		line := view.Series{Name: wording.StrutName(one), Build: one.Build.ID, X: []float64{}, Y: []float64{}}
		for k, w := range u.travels {
			if u.drawnErrs[i][k] != nil {
				continue
			}
			if v := f.Of(one, &u.drawn[i][k]); !math.IsNaN(v) {
				line.X, line.Y = append(line.X, u.Length(w)), append(line.Y, view.Tidy(u.Teller.Plain(f.SI, v)))
			}
		}
		if len(line.X) < 2 {
			continue
		}
		for _, m := range u.out.Builds[i].Marks {
			if m.Kind == "case" {
				c.Marks = append(c.Marks, view.ChartMark{At: m.At, Series: len(c.Series), Kind: "place", Label: "case", Says: wording.StrutName(one) + ": where it stands in the case"})
			}
		}
		c.Series = append(c.Series, line)
	}
}

// mountCodes are the figures of what passes through an upper mount.
var mountCodes = []string{"mount-damage-relative", "mount-life-share", "mount-damage-share", "stop-hits", "stop-force-peak", "top-out-speed"}

// mounts sets what passes through the mounts side by side: of the two wheels of
// the axle the one that has it worse.
func (u *page) mounts() {
	out := &u.out.Mounts
	out.Notes = wording.MountNotes(u.Full)
	for _, b := range u.Answer.Job.Builds {
		out.Names = append(out.Names, b.Name)
		out.Kinds = append(out.Kinds, wording.Sides(u.Teller.Mount(&b.Corner[2*u.axle]), u.Teller.Mount(&b.Corner[2*u.axle+1]), ""))
	}
	for _, code := range mountCodes {
		u.mountRows(code)
	}
}

// mountPlace is where a figure of the mounts is told, both wheels together.
type mountPlace struct {
	road, event, load, mode string
	speed, threshold        float64
}

func (u *page) mountRows(code string) {
	var order []mountPlace
	worst := map[mountPlace]map[string]*figure.Value{}
	for k := range u.Answer.Values {
		v := &u.Answer.Values[k]
		p := &v.Place
		if v.Code != code || v.Tier != figure.Time || p.Corner < 0 || car.AxleOf(p.Corner) != u.axle || (code == "stop-force-peak" || code == "top-out-speed") && p.Event == "" {
			continue
		}
		at := mountPlace{p.Road, p.Event, p.Load, p.Mode, p.Speed, p.Threshold}
		if worst[at] == nil {
			order = append(order, at)
			worst[at] = map[string]*figure.Value{}
		}
		if had := worst[at][p.Build]; had == nil || view.State(had) == "unknown" || view.State(v) != "unknown" && v.Value > had.Value {
			worst[at][p.Build] = v
		}
	}
	for _, at := range order {
		row := MountRow{Label: wording.Upper(wording.Name(code)), Cells: []view.Cell{}}
		something := false
		for _, b := range u.Answer.Job.Builds {
			v := worst[at][b.ID]
			if v == nil {
				row.Cells = append(row.Cells, u.Cell(nil, ""))
				continue
			}
			q := v.Place
			q.Corner = figure.NoCorner
			row.Where = u.Where(&q)
			if q.Road == "" && q.Event == "" {
				row.Where = strings.Trim(wording.AllRoads+", "+row.Where, ", ")
			}
			something = something || v.Value != 0
			row.Cells = append(row.Cells, u.Cell(v, u.Verdict(v)))
		}
		if something {
			u.out.Mounts.Rows = append(u.out.Mounts.Rows, row)
		}
	}
}
