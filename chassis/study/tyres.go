package study

import (
	"trunnion/chassis/car"
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/figure"
	"trunnion/chassis/spread"
)

// otherTyres reports a job in which a build stands on other tyres or wheels than the car
// was weighed on.
func (s *setup) otherTyres() bool {
	for _, b := range s.job.Builds {
		for i := range 4 {
			if s.job.Car.Retyred(b, i) || s.job.Car.Rewheeled(b, i) {
				return true
			}
		}
	}
	return false
}

// tyreFigure is a figure of a corner's tyre or wheel, or of the car's.
type tyreFigure struct {
	code string
	at   func(figure.Draw) float64
	law  func() *figure.Working
}

// tyreValues reports how much of its load a corner's tyre carries, in every load state,
// and in that of ordinary driving what does not depend on the load: how far out it
// stands and what room it has.
func (s *setup) tyreValues(a *Answer, w *worker, place figure.Place, scratch []float64) {
	c, b, i := w.car(), w.build(), w.i
	if _, known := c.Capacity(b, i, nil); known {
		s.tyreLoad(a, w, place, scratch)
	}
	if place.Load != UsualLoad(s.job.Brief, s.job.Loads) {
		return
	}
	room := &c.Axle[w.axle()].Clearance
	from := func(symbol, name string, in *car.Input) figure.Term { return figure.From(symbol, name, "m", in) }
	half := figure.Fixed("n", "half, of a width", "1", 0.5, figure.Own)
	for _, f := range []struct {
		tyreFigure
		known bool
	}{
		{tyreFigure{"wheel-outward", func(d figure.Draw) float64 { return c.Outward(b, i, d) }, func() *figure.Working { return c.OutwardLaw(b, i) }}, c.Rewheeled(b, i)},
		{tyreFigure{"lip-gap", func(d figure.Draw) float64 { return c.LipGap(b, i, d) }, func() *figure.Working {
			return result("lip-gap", from("g_0", "room to the lip as weighed", &room.Lip), c.OutwardTerm(b, i), half, c.WiderTerm(b, i))
		}}, room.Lip.Known()},
		{tyreFigure{"strut-gap", func(d figure.Draw) float64 { return c.StrutGap(b, i, d) }, func() *figure.Working {
			return result("strut-gap", from("g_0", "least room on the inner side as weighed", &room.Strut), c.OutwardTerm(b, i), half, c.WiderTerm(b, i))
		}}, room.Strut.Known()},
		{tyreFigure{"liner-gap", func(d figure.Draw) float64 { return c.LinerGap(b, i, d) }, func() *figure.Working {
			lock := figure.From("delta", "angle of the wheel at full lock", "rad", &room.Lock)
			return result("liner-gap", from("g_0", "least room to the liner as weighed", &room.Liner), c.GrownTerm(b, i), lock, c.OutwardTerm(b, i), half, c.WiderTerm(b, i))
		}}, room.Liner.Known()},
	} {
		if f.known {
			a.Values = append(a.Values, s.tyreValue(a, &f.tyreFigure, place, scratch))
		}
	}
}

// tyreValue is the value of a figure with its band.
func (s *setup) tyreValue(a *Answer, f *tyreFigure, place figure.Place, scratch []float64) figure.Value {
	e := figure.Must(f.code)
	place.At = e.At
	v := figure.Value{Code: f.code, Place: place, Tier: figure.Static, Value: f.at(nil), State: figure.OK}
	if !s.opt.NoWorkings {
		v.Working = f.law()
	}
	if a.columns != nil {
		drawn := make([]float64, a.columns.samples)
		for k := range drawn {
			drawn[k] = f.at(figure.DrawOf(a.columns.table.Draw(k)))
		}
		s.bandOf(a, &v, drawn, scratch)
	}
	return v
}

// bandOf gives a value the band of its draws.
func (s *setup) bandOf(a *Answer, v *figure.Value, drawn, scratch []float64) {
	v.Low, v.High, v.HasBand = spread.Band(drawn, band, scratch)
	if v.HasBand && s.guessed(a.columns, drawn) > 0.25 {
		v.State = figure.FromGuesses
	}
}

// tyreLoad reports the load of a corner's tyre over what it carries at its pressure.
func (s *setup) tyreLoad(a *Answer, w *worker, place figure.Place, scratch []float64) {
	const code = "tyre-load-share"
	c, b, i := w.car(), w.build(), w.i
	e := figure.Must(code)
	place.At = e.At
	share := func(load float64, d figure.Draw) float64 {
		carries, _ := c.Capacity(b, i, d)
		return load / (carries * equilibrium.Gravity)
	}
	v := figure.Value{Code: code, Place: place, Tier: figure.Static, Value: share(w.st.Load[i], nil), State: figure.OK}
	if !s.opt.NoWorkings {
		v.Working = result(code, w.again("F_z", "load of the tyre", qLoad), c.CapacityTerm(b, i), w.t.Gravity())
	}
	if a.columns != nil {
		loads := a.columns.of(w.b, w.l, i*perCorner+qLoad)
		drawn := make([]float64, len(loads))
		for k := range drawn {
			drawn[k] = share(loads[k], figure.DrawOf(a.columns.table.Draw(k)))
		}
		s.bandOf(a, &v, drawn, scratch)
	}
	a.Values = append(a.Values, v)
}

var (
	rollingTwo  = figure.Law{Code: "rolling-ratio", Equation: "q = (C_1 + C_2)/(C_3 + C_4)", Unit: "1", Source: figure.Own}
	rollingFour = figure.Law{Code: "rolling-ratio-of-four", Equation: "q = (C_1 + C_2 + C_5 + C_6)/(C_3 + C_4 + C_7 + C_8)", Unit: "1", Source: figure.Own, Note: "Which wheels are driven was not said, or all are: the mean of all four."}
)

// driven are the wheels that gears and speedometer go by: those of the axle that alone is
// driven, else all four.
func driven(c *car.Car) []int {
	if share := &c.DriveShare; share.Known() && share.Value == 1 {
		return []int{0, 1}
	} else if share.Known() && share.Value == 0 {
		return []int{2, 3}
	}
	return []int{0, 1, 2, 3}
}

// gearing reports what other tyres do to gears and speedometer, in the load state of
// ordinary driving.
func (s *setup) gearing(a *Answer, b *car.Build, place figure.Place, scratch []float64) {
	c := s.job.Car
	if !s.others || place.Load != UsualLoad(s.job.Brief, s.job.Loads) {
		return
	}
	wheels := driven(c)
	var is, was []*car.Input
	for _, i := range wheels {
		one, other := b.Corner[i].Tyre, c.Weighed.Rolls[i].Tyre
		if one == nil || other == nil || !one.Circumference.Known() || !other.Circumference.Known() {
			return
		}
		is, was = append(is, &one.Circumference), append(was, &other.Circumference)
	}
	ratio := func(d figure.Draw) float64 {
		up, down := 0.0, 0.0
		for k := range is {
			up, down = up+is[k].At(d), down+was[k].At(d)
		}
		return up / down
	}
	term := func() figure.Term {
		law, symbols := &rollingTwo, []string{"C_1", "C_2", "C_5", "C_6"}
		old := []string{"C_3", "C_4", "C_7", "C_8"}
		if len(is) == 4 {
			law = &rollingFour
		}
		var terms []figure.Term
		for k, i := range wheels {
			terms = append(terms, figure.From(symbols[k], "rolled in a turn, "+figure.CornerNames[i], "m", is[k]), figure.From(old[k], "the same as weighed", "m", was[k]))
		}
		return figure.As("q", "rolled in a turn over what was as weighed", law.Of(terms...))
	}
	a.Values = append(a.Values, s.tyreValue(a, &tyreFigure{"gearing-change", func(d figure.Draw) float64 { return 1/ratio(d) - 1 }, func() *figure.Working { return result("gearing-change", term()) }}, place, scratch))
	if !c.Speedometer.Known() {
		return
	}
	a.Values = append(a.Values, s.tyreValue(a, &tyreFigure{"speed-over-shown", func(d figure.Draw) float64 { return ratio(d)/(1+c.Speedometer.At(d)) - 1 }, func() *figure.Working {
		return result("speed-over-shown", term(), figure.From("s", "how much more it shows on the tyres as weighed", "1", &c.Speedometer))
	}}, place, scratch))
}
