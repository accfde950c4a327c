package dampers

import (
	"context"
	"errors"
	"math"
	"path"
	"slices"
	"strconv"
	"strings"

	"trunnion/chassis/clicks"
	"trunnion/chassis/dyno"
	"trunnion/shop/desk"
	"trunnion/shop/intake"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
	"trunnion/shop/view"
	"trunnion/shop/wording"
)

// sweepPage is files of sweeps while they are shown.
type sweepPage struct {
	tell *wording.Teller
	out  *Swept
}

// SweepsOf shows what files of sweeps give, and what they do not say.
func SweepsOf(ctx context.Context, d *view.Desk, req *SweepsRequest, today string) (*Swept, error) {
	system, err := wording.System(req.Units)
	if err != nil {
		return nil, err
	}
	u := &sweepPage{wording.New(nil, system), &Swept{
		Faults: []string{}, Questions: []SweepQuestion{}, Basis: []string{}, Dampers: []SweptDamper{}, Pairs: []SweptPair{}, Roles: intake.SweepRoles,
	}}
	got, err := d.Sweeps(ctx, desk.SweepsAsk{Files: req.Files, Mapping: req.Mapping})
	var bad *desk.AskError
	if errors.As(err, &bad) {
		u.out.Refused = view.Sentence(bad.Error())
		return u.out, nil
	}
	if err != nil {
		return nil, err
	}
	u.said(got)
	for i := range got.Curves {
		one, err := u.damper(&got.Curves[i], req.Files, today)
		if err != nil {
			return nil, err
		}
		u.out.Dampers = append(u.out.Dampers, one)
	}
	for i := range got.Bare {
		set := &got.Bare[i].Set
		for k := range set.LeftOut {
			u.out.Faults = append(u.out.Faults, got.Bare[i].Name+": "+u.tell.LeftOut(&set.LeftOut[k], set.Reference))
		}
	}
	u.pairs(got.Curves, desk.Tolerance(req.Use))
	return u.out, nil
}

// where is the file and line of something.
func where(file string, line int) string {
	if line > 0 {
		return path.Base(file) + ", line " + strconv.Itoa(line)
	}
	return path.Base(file)
}

// said is what cannot be read, what is asked and what was understood.
func (u *sweepPage) said(got *desk.Sweeps) {
	for _, f := range got.Faults {
		u.out.Faults = append(u.out.Faults, where(f.File, f.Line)+": "+f.Got+"; "+f.Want+".")
	}
	for _, q := range got.Questions {
		one := SweepQuestion{
			Code: q.Code, About: q.About, Where: where(q.File, q.Line), Text: wording.SweepAsks(q.Code, q.About, q.Seen, q.Points), Points: q.Points,
			Choices: []view.Choice{}, Typed: wording.SweepAnswerTyped(q.Code), Columns: []string{},
		}
		if q.Code == "columns" {
			one.Columns = strings.Split(q.Seen, "  ")
		} else {
			for _, c := range q.Choices {
				if one.Typed != "" && c[0] >= '0' && c[0] <= '9' {
					continue // an example of what is typed
				}
				one.Choices = append(one.Choices, view.Choice{Value: c, Label: wording.SweepAnswer(q.Code, c)})
			}
		}
		u.out.Questions = append(u.out.Questions, one)
	}
	files := map[string]bool{}
	for _, a := range got.Assumptions {
		files[a.File] = true
	}
	for _, a := range got.Assumptions {
		text := wording.SweepAssumed(a.Code, a.About, a.Value)
		if a.File != "" && len(files) > 2 {
			text = path.Base(a.File) + ": " + text
		}
		if !slices.Contains(u.out.Basis, text) {
			u.out.Basis = append(u.out.Basis, text)
		}
	}
}

// damper shows the curves of one damper.
func (u *sweepPage) damper(d *desk.Swept, files []intake.SweepFile, today string) (SweptDamper, error) {
	set := &d.Set
	out := SweptDamper{Name: d.Name, Title: u.tell.SweptTitle(d.Name, set), Findings: []string{}, Basis: u.tell.Static(&set.Static), Edits: []jobfile.Edit{}}
	for _, f := range set.Faults() {
		out.Findings = append(out.Findings, u.tell.StepFault(&f, set.Adjusters))
	}
	out.Findings = append(out.Findings, u.tell.LoopSigns(set)...)
	for i := range set.LeftOut {
		out.Findings = append(out.Findings, u.tell.LeftOut(&set.LeftOut[i], set.Reference))
	}
	out.Basis = append(out.Basis, u.tell.Checks(set)...)
	if text := u.tell.HeldOut(set, clicks.HoldOut(set)); text != "" {
		out.Basis = append(out.Basis, text)
	}
	out.Chart = u.curves("swept-"+d.Name, wording.Upper(d.Name), set)
	if len(set.Adjusters) > 1 {
		out.Missing = wording.TooManyAdjusters
		return out, nil
	}
	return out, out.edits(set, files, today)
}

// edits put the curves into a damper: each click a change of its own, the old ones out
// first.
func (s *SweptDamper) edits(set *dyno.Set, files []intake.SweepFile, today string) error {
	_, lines, err := jobfile.SweptPiece(set)
	if err != nil {
		return err
	}
	label := wording.CurvesTaken(s.Name)
	put := func(at, value string) {
		s.Edits = append(s.Edits, jobfile.Edit{Path: at, Value: &value, Label: label})
	}
	s.Edits = append(s.Edits, jobfile.Edit{Path: "curves", Label: label})
	if len(set.Adjusters) == 1 {
		put("clicks", strconv.Itoa(set.Adjusters[0].Clicks))
	}
	for _, line := range lines {
		name, table, _ := strings.Cut(line, ": ")
		put("curves."+name, table)
	}
	put("origin", "measured")
	put("swept", wording.SweptFrom(s.Name, path.Base(files[0].Name), len(files), today))
	return nil
}

// curves draw a set: a line a setting, rebound to the left.
func (u *sweepPage) curves(id, title string, set *dyno.Set) view.Chart {
	c := u.chart(id, title, wording.ForceEitherWay, quantity.Units(quantity.Force, u.tell.System))
	for i := range set.Curves {
		one := &set.Curves[i]
		c.Series = append(c.Series, u.line(wording.Setting(one.Setting, set.Adjusters), one))
	}
	return c
}

func (u *sweepPage) chart(id, title, y, unit string) view.Chart {
	return view.Chart{ID: id, Kind: "line", Title: title, X: view.Axis{Label: wording.DamperSpeed, Unit: quantity.Units(quantity.SpeedDamper, u.tell.System)}, Y: view.Axis{Label: y, Unit: unit}, Series: []view.Series{}}
}

// line is one setting from the fastest rebound to the fastest bump.
func (u *sweepPage) line(name string, c *dyno.Curve) view.Series {
	force, speed := quantity.Shown(quantity.Force, u.tell.System), quantity.Shown(quantity.SpeedDamper, u.tell.System)
	s := view.Series{Name: name, X: []float64{}, Y: []float64{}}
	for i := len(c.Rebound.Speed) - 1; i >= 0; i-- {
		s.X, s.Y = append(s.X, -view.Tidy(speed.FromSI(c.Rebound.Speed[i]))), append(s.Y, view.Tidy(force.FromSI(c.Rebound.Force[i])))
	}
	s.X, s.Y = append(s.X, 0), append(s.Y, 0)
	for i := range c.Bump.Speed {
		s.X, s.Y = append(s.X, view.Tidy(speed.FromSI(c.Bump.Speed[i]))), append(s.Y, view.Tidy(force.FromSI(c.Bump.Force[i])))
	}
	return s
}

// pairs holds left against right of those read together; of two dampers without a side
// in their names, the first against the second.
func (u *sweepPage) pairs(list []desk.Swept, t dyno.Tolerance) {
	other := func(name string) string { return strings.Replace(name, "left", "right", 1) }
	for i := range list {
		for k := range list {
			left := strings.Contains(list[i].Name, "left") && list[k].Name == other(list[i].Name)
			two := len(list) == 2 && i == 0 && k == 1 && !strings.Contains(list[0].Name+list[1].Name, "left")
			if !left && !two {
				continue
			}
			if p, err := desk.Pair(list[i], list[k], t); err == nil {
				u.out.Pairs = append(u.out.Pairs, u.pair(p))
			}
		}
	}
}

// pair shows two dampers side by side.
func (u *sweepPage) pair(p *desk.Paired) SweptPair {
	adjusters, worst := p.A.Set.Adjusters, p.Pair.Worst
	out := SweptPair{A: p.A.Name, B: p.B.Name, Matched: p.Pair.Matched, Says: u.tell.Pair(&p.Pair, p.A.Name, p.B.Name, adjusters)}
	id := "pair-" + p.A.Name
	out.Forces = u.chart(id, wording.PairForces(worst.Setting, adjusters), wording.ForceEitherWay, quantity.Units(quantity.Force, u.tell.System))
	for _, of := range []*desk.Swept{&p.A, &p.B} {
		for i := range of.Set.Curves {
			if c := &of.Set.Curves[i]; c.Setting == worst.Setting {
				out.Forces.Series = append(out.Forces.Series, u.line(of.Name, c))
			}
		}
	}
	out.Apart = u.chart(id+"-apart", wording.PairApart(p.A.Name, p.B.Name), "Difference", "%")
	share := quantity.Shown(quantity.Share, u.tell.System)
	percent := share.FromSI(p.Pair.Tolerance.Share)
	out.Apart.Bands = []view.ChartBand{{From: -percent, To: percent, Label: wording.ToleranceBand}}
	speed := quantity.Shown(quantity.SpeedDamper, u.tell.System)
	for i := range p.A.Set.Curves {
		at := p.A.Set.Curves[i].Setting
		s := view.Series{Name: wording.Setting(at, adjusters), X: []float64{}, Y: []float64{}}
		add := func(stroke dyno.Stroke, way float64) {
			for k := range p.Pair.All {
				if d := &p.Pair.All[k]; d.Setting == at && d.Stroke == stroke && !math.IsNaN(d.Share) {
					s.X, s.Y = append(s.X, way*view.Tidy(speed.FromSI(d.Speed))), append(s.Y, view.Tidy(share.FromSI(d.Share)))
				}
			}
		}
		add(dyno.Rebound, -1)
		slices.Reverse(s.X)
		slices.Reverse(s.Y)
		add(dyno.Bump, 1)
		if len(s.X) > 0 && (at == worst.Setting || len(out.Apart.Series) < 5) {
			out.Apart.Series = append(out.Apart.Series, s)
		}
	}
	return out
}

// AcceptedOf shows whether a returned damper is what was ordered.
func AcceptedOf(ctx context.Context, d *view.Desk, req *AcceptRequest) (*Accepted, error) {
	system, err := wording.System(req.Units)
	if err != nil {
		return nil, err
	}
	out := &Accepted{Heads: []string{}, Rows: [][]string{}}
	got, err := d.Accept(ctx, desk.AcceptAsk{SweepsAsk: desk.SweepsAsk{Files: req.Files, Mapping: req.Mapping, Damper: req.Damper}, Order: req.Order, For: req.For})
	var bad *desk.AskError
	if errors.As(err, &bad) {
		out.Refused = view.Sentence(bad.Error())
		return out, nil
	}
	if err != nil {
		return nil, err
	}
	tell := wording.New(nil, system)
	out.Accept, out.Says, out.Heads = got.Accepted.Accept, tell.Accepted(got.Accepted, got.Name), tell.AcceptedColumns()
	for i := range got.Accepted.Lines {
		out.Rows = append(out.Rows, tell.AcceptedRow(&got.Accepted.Lines[i]))
	}
	return out, nil
}
