package scales

import (
	"math"
	"strconv"

	"trunnion/chassis/figure"
	"trunnion/chassis/scales"
	"trunnion/shop/intake"
	"trunnion/shop/quantity"
	"trunnion/shop/wording"
)

// gate shows what the last readings are good for.
func (st *Session) gate(v *View) {
	l := st.Result
	v.Stopped = l.Stopped
	v.Says, v.Unread, v.Now = l.Says(st.teller), l.Unread, l.Now()
	g := l.Gates[len(l.Gates)-1]
	v.Verdict = string(g.Verdict)
	if l.Stopped && !l.Unread {
		v.Verdict = string(scales.Stop) // by a guard, where not by the readings
	}
	for k := range g.Checks {
		c := &g.Checks[k]
		check := Check{Code: c.Code, Verdict: string(c.Verdict), Text: st.teller.ScalesCheck(c), Doubt: c.Doubt(), Causes: st.causes(c)}
		if c.Corner >= 0 {
			check.Corner = &figure.CornerNames[c.Corner]
		}
		v.Checks = append(v.Checks, check)
	}
	if l.Plan != nil {
		v.Met, v.Meets = l.Plan.Met, l.Plan.Meets
	}
}

// causes shows what would explain a check, with what would stand in the fields of the
// round that is being typed.
func (st *Session) causes(c *scales.Check) []Cause {
	list := []Cause{}
	for k := range c.Causes {
		x := &c.Causes[k]
		one := Cause{Text: st.teller.ScalesCause(x), Fields: []intake.FieldFault{}}
		if st.draft != nil && len(st.draft.Again) == 0 && st.draft.Turned180 == nil {
			one.Fields = st.meant(x)
		}
		list = append(list, one)
	}
	return list
}

// meant is what would stand in the fields of the draft if a cause is it.
func (st *Session) meant(x *scales.Cause) []intake.FieldFault {
	rows := map[string][]string{"loads": four(st.draft.Loads), "heights": four(st.draft.Heights)}
	var list []intake.FieldFault
	put := func(row string, corner int, text string) {
		list = append(list, intake.FieldFault{Field: row + "." + strconv.Itoa(corner), Text: text})
	}
	if x.Other < 0 {
		row := "loads"
		if x.Height {
			row = "heights"
		}
		put(row, x.Corner, x.Text)
		return list
	}
	for _, row := range []string{"loads", "heights"} {
		if row == "loads" && x.Code == "heights-swapped" || row == "heights" && x.Code == "loads-swapped" {
			continue
		}
		put(row, x.Corner, rows[row][x.Other])
		put(row, x.Other, rows[row][x.Corner])
	}
	return list
}

// whole shows the figures of the whole car.
func (st *Session) whole(v *View) {
	l, t := st.Result, st.teller
	got, band, _ := st.last()
	p := l.Plan
	if l.Stopped {
		p = nil // nobody is shown where a move leads that is not to be made
	}
	after := scales.Unread()
	if p != nil {
		for i := range 4 {
			after.Load[i], after.Height[i] = p.After.Load[i].Value, p.After.Height[i].Value
		}
	}
	total := func(label, code, si string, of func(*scales.Reading) float64, half float64) {
		row := Total{Label: label, Shown: st.shown(code, si, of(&got)), After: st.shown(code, si, of(&after))}
		if half > 0 {
			row.Band = t.ScalesHalf(code, si, half)
		}
		v.Totals = append(v.Totals, row)
	}
	total("Total", "", "kg", (*scales.Reading).Total, 0)
	total("Front share", "front-share", "1", (*scales.Reading).FrontShare, 0)
	total("Left share", "front-share", "1", (*scales.Reading).LeftShare, 0)
	total("Front, mean height", "", "m", func(r *scales.Reading) float64 { return r.Mean(0) }, band.Mean[0].Half)
	total("Rear, mean height", "", "m", func(r *scales.Reading) float64 { return r.Mean(1) }, band.Mean[1].Half)
	total("Rake, rear over front", "", "m", (*scales.Reading).Rake, band.Rake.Half)

	d := st.Target.Diagonal
	share := func(x float64) string { return st.shown("front-share", "1", x) }
	v.Cross = Cross{
		Diagonal: []string{"front-right", "rear-left"}, Name: wording.Diagonal(d), Now: share(got.Cross(d)), After: share(after.Cross(d)), Wanted: "not wanted",
		Other: Pair{Now: share(1 - got.Cross(d)), After: share(1 - after.Cross(d))},
	}
	if d == scales.FrontLeftRearRight {
		v.Cross.Diagonal = []string{"front-left", "rear-right"}
	}
	if !math.IsNaN(st.Target.Cross) {
		v.Cross.Wanted = share(st.Target.Cross)
	}
	half := band
	if p != nil {
		half = p.After
	}
	v.Cross.Band = t.ScalesHalf("front-share", "1", half.Cross.Half)
	for a := range 2 {
		row := Axle{Level: Level{Now: quantity.Nothing, After: quantity.Nothing, Band: t.ScalesHalf("", "m", half.Level[a].Half)}}
		if now := got.Level(a); !math.IsNaN(now) {
			row.Level.Now = t.ScalesOff("", "m", now)
		}
		if then := after.Level(a); !math.IsNaN(then) {
			row.Level.After = t.ScalesOff("", "m", then)
		}
		then := math.NaN() // where nothing is turned it stays as it was read
		if p != nil && p.Turn {
			then = after.Level(a)
		}
		row.Says = t.ScalesLevelled(a, got.Level(a), then)
		v.Axles = append(v.Axles, row)
	}
}
