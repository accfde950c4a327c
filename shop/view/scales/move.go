package scales

import (
	"fmt"
	"math"

	"trunnion/chassis/scales"
	"trunnion/shop/levelling"
	"trunnion/shop/quantity"
	"trunnion/shop/wording"
)

// move shows what is missed, what it costs, and what one collar can do.
func (st *Session) move(v *View) {
	l, t := st.Result, st.teller
	p := l.Plan
	unit := quantity.Shown(quantity.Length, st.system)
	v.Price.Unit, v.Price.CrossUnit = unit.Label(), "%"
	if p == nil || l.Unread {
		return
	}
	for k := range p.Missed {
		v.Missed = append(v.Missed, t.ScalesMissed(&p.Missed[k], p))
	}
	for k := range p.Refused {
		v.Refused = append(v.Refused, t.ScalesRefusal(&p.Refused[k]))
	}
	if !levelling.HasCollars(l.Build) {
		v.Missed = []string{}
		return
	}
	if p.Single.Corner >= 0 && p.Turn && !l.Stopped {
		v.Single = &Single{Text: t.ScalesSingle(&p.Single), Meets: p.Single.Meets}
	}
	for _, x := range p.Price {
		worst := math.Max(math.Abs(x.Level[0]), math.Abs(x.Level[1]))
		point := PricePoint{X: unit.FromSI(worst), Cross: x.Cross / quantity.Percent, Label: "level to " + t.Amount("", "m", worst) + ", cross " + t.Amount("front-share", "1", x.Cross), Price: "level"}
		if !math.IsInf(x.CrossPerMetre, 1) {
			point.Price = wording.ScalesPriceText(x.CrossPerMetre)
		}
		v.Price.Points = append(v.Price.Points, point)
	}
	v.Price.Chosen, v.Price.Note = p.Chosen, t.ScalesPrice(p)
}

// learned shows what the readings say about the parts, and how well they were
// predicted.
func (st *Session) learned(v *View) {
	l, t := st.Result, st.teller
	for k := range l.Suspects {
		s := l.Suspects[k]
		if s.Round >= 0 {
			s.Round = st.numberOf(s.Round) - 1
		}
		likelier := "more than a million times"
		if s.Odds < 1e6 {
			likelier = fmt.Sprintf("%.0f times", s.Odds)
		}
		v.Suspects = append(v.Suspects, Suspect{Text: t.ScalesSuspect(&s), Likelier: likelier, Same: s.Same})
	}
	for _, x := range l.Model.Learned() {
		if x.Code == "thread" && st.Rig.Adjuster[2*x.Axle].Kind == scales.Fixed || len(l.Model.Rounds) == 0 {
			continue
		}
		if text := t.ScalesLearned(&x); text != "" {
			v.Learned = append(v.Learned, Learned{Text: text})
		}
	}
	for k := range l.Rounds {
		got, f := &l.Rounds[k].Got, &l.Forecast[k]
		p := Predicted{Round: st.numberOf(k), Rows: []PredictedRow{}}
		row := func(label, code, si string, b scales.Band, got float64) {
			if math.IsNaN(got) {
				return
			}
			p.Rows = append(p.Rows, PredictedRow{
				Label: label, Predicted: t.ScalesBand(code, si, b), Got: t.Amount(code, si, got), Off: t.ScalesOff(code, si, got-b.Value), Inside: math.Abs(got-b.Value) <= b.Half,
			})
		}
		for i := range 4 {
			row(wording.Corner(i)+", load", "", "kg", f.Load[i], got.Load[i])
		}
		for i := range 4 {
			row(wording.Corner(i)+", height", "", "m", f.Height[i], got.Height[i])
		}
		row("cross", "front-share", "1", f.Cross, got.Cross(st.Target.Diagonal))
		v.Predicted = append(v.Predicted, p)
	}
}
