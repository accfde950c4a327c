package corners

import (
	"math"

	"trunnion/chassis/cornering"
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/figure"
	"trunnion/shop/desk"
	"trunnion/shop/quantity"
	"trunnion/shop/view"
	"trunnion/shop/wording"
)

// charts draw the sweep, all builds in each picture.
func (b *page) charts() {
	turns, brakes := b.ask.Driving != "braking", b.ask.Driving != "cornering"
	angle := quantity.Shown(quantity.Angle, b.System)
	way := 1.0 // out of the bend is positive
	if b.ask.Direction == "right" {
		way = -1
	}
	if turns {
		g := view.ChartGroup{ID: "balance", Title: "Roll and balance", Note: "The front's share of the lateral load transfer: more at the front is more understeer.", Charts: []view.Chart{}}
		g.Add(b.chart("roll", "Roll", view.Axis{Label: "roll out of the corner", Unit: angle.Label()}, everyMark, func(o *desk.CorneredBuild, p *cornering.Point) float64 {
			return angle.FromSI(way * o.Car.RollAt(p))
		}))
		share := quantity.Shown(quantity.Share, b.System)
		g.Add(b.chart("front-share", "Front share of lateral load transfer", view.Axis{Label: "front share", Unit: share.Label(), Tight: true}, everyMark, func(o *desk.CorneredBuild, p *cornering.Point) float64 {
			return share.FromSI(o.Car.FrontShare(p))
		}))
		if b.pure() {
			u := quantity.Shown(quantity.RollGradient, b.System)
			under := b.chart("understeer", "Understeer by the tyres in the corner", view.Axis{Label: "understeer", Unit: u.Label(), Tight: true}, everyMark, func(o *desk.CorneredBuild, p *cornering.Point) float64 {
				if p.Lateral == 0 {
					return math.NaN()
				}
				k, err := b.Answer.SteadyGradient(o.Build.ID, b.Load, o.Car, p)
				if err != nil {
					return math.NaN()
				}
				return u.FromSI(k)
			})
			under.Note = "Each tyre is taken as linear at its load: load transfer is included, the curvature of the tyre is not."
			g.Add(under)
		}
		b.out.Charts = append(b.out.Charts, g)
	}
	if brakes {
		g := view.ChartGroup{ID: "dive", Title: "Nose down", Charts: []view.Chart{}}
		g.Add(b.chart("dive", "Nose down", view.Axis{Label: "pitch, nose down", Unit: angle.Label()}, everyMark, func(o *desk.CorneredBuild, p *cornering.Point) float64 {
			return angle.FromSI(o.Car.PitchAt(p))
		}))
		b.out.Charts = append(b.out.Charts, g)
	}
	b.travelCharts()
	b.loadCharts()
	b.camberCharts(angle)
}

// travelCharts draw what is left of each wheel's travel.
func (b *page) travelCharts() {
	length := quantity.Units(quantity.Length, b.System)
	g := view.ChartGroup{ID: "travel", Title: "Travel left", Note: "To the stop for the outer wheels, to the open damper for the inner ones. Below zero a wheel is in its stop, or past full droop.", Charts: []view.Chart{}}
	for i := range 4 {
		name := wording.Corner(i)
		label, of := "to the stop", (*cornering.Car).ToStop
		if !b.pressed(i) {
			label, of = "rebound travel left", (*cornering.Car).Droop
		}
		c := b.chart("left-"+figure.CornerNames[i], wording.Upper(name)+", "+label, view.Axis{Label: label, Unit: length}, markOf(i), func(o *desk.CorneredBuild, p *cornering.Point) float64 {
			if v := of(o.Car, p, i); !math.IsNaN(v) {
				return b.Length(v)
			}
			return math.NaN()
		})
		lowest, highest := 0.0, 0.0
		for _, s := range c.Series {
			for _, y := range s.Y {
				lowest, highest = math.Min(lowest, y), math.Max(highest, y)
			}
		}
		// A band that is too narrow for its word is none.
		if -lowest > 0.08*(highest-lowest) {
			c.Bands = []view.ChartBand{{From: lowest, To: 0, Label: map[bool]string{true: "in the stop", false: "no droop"}[b.pressed(i)]}}
		}
		g.Add(c)
	}
	if len(g.Charts) > 0 { // none where no damper and no stop is known
		b.out.Charts = append(b.out.Charts, g)
	}
}

func (b *page) loadCharts() {
	mass := quantity.Shown(quantity.Mass, b.System)
	g := view.ChartGroup{ID: "loads", Title: "Wheel loads", Charts: []view.Chart{}}
	for i := range 4 {
		g.Add(b.chart("load-"+figure.CornerNames[i], wording.Upper(wording.Corner(i))+", load", view.Axis{Label: "load on the ground", Unit: mass.Label()}, markOf(i), func(_ *desk.CorneredBuild, p *cornering.Point) float64 {
			return mass.FromSI(p.Load[i] / equilibrium.Gravity)
		}))
	}
	b.out.Charts = append(b.out.Charts, g)
}

func (b *page) camberCharts(angle quantity.Unit) {
	g := view.ChartGroup{ID: "camber", Title: "Camber to the road", Note: "Top outward is positive. From the link points as they were measured: a camber set otherwise adds itself.", Charts: []view.Chart{}}
	for i := range 4 {
		g.Add(b.chart("camber-"+figure.CornerNames[i], wording.Upper(wording.Corner(i))+", camber", view.Axis{Label: "camber to the road", Unit: angle.Label()}, markOf(i), func(o *desk.CorneredBuild, p *cornering.Point) float64 {
			return angle.FromSI(o.Car.Camber(p, i))
		}))
	}
	if len(g.Charts) > 0 {
		b.out.Charts = append(b.out.Charts, g)
	}
}

func everyMark(int) bool { return true }

// markOf lets through what happens at one corner, and what happens to the whole
// car.
func markOf(i int) func(int) bool {
	return func(corner int) bool { return corner == i || corner == figure.NoCorner }
}

// chart draws one figure over the acceleration for every build. Points where it
// is not a number are left out; so is the last one of a sweep that ended early,
// which stands between the steps.
func (b *page) chart(id, title string, y view.Axis, marks func(corner int) bool, of func(*desk.CorneredBuild, *cornering.Point) float64) view.Chart {
	out := view.Chart{ID: id, Title: title, Kind: "line", X: view.Axis{Label: b.axis(), Unit: "g"}, Y: y, Series: []view.Series{}}
	for i := range b.list {
		o := &b.list[i]
		if o.Err != nil {
			continue
		}
		line := view.Series{Name: b.Teller.Build(o.Build.ID), Build: o.Build.ID, X: []float64{}, Y: []float64{}}
		last := len(o.Swept.Points)
		if o.Swept.Ended != nil && last > 1 {
			last--
		}
		for k := range o.Swept.Points[:last] {
			p := &o.Swept.Points[k]
			if v := of(o, p); !math.IsNaN(v) && !math.IsInf(v, 0) {
				line.X, line.Y = append(line.X, gs(cornering.Together(p.Lateral, p.Longitudinal))), append(line.Y, view.Tidy(v))
			}
		}
		if len(line.X) < 2 {
			continue
		}
		b.marks(&out, o, len(out.Series), marks)
		out.Series = append(out.Series, line)
	}
	return out
}

func (b *page) axis() string {
	switch b.ask.Driving {
	case "braking":
		return "braking"
	case "both":
		return "acceleration, along and across together"
	}
	return "lateral acceleration"
}

// marks adds what happens to a build on its line.
func (b *page) marks(c *view.Chart, o *desk.CorneredBuild, series int, want func(corner int) bool) {
	name := b.Teller.Build(o.Build.ID)
	add := func(kind, label, says string, at float64) {
		c.Marks = append(c.Marks, view.ChartMark{At: gs(at), Series: series, Kind: kind, Label: label, Says: wording.InG(at) + " · " + name + ": " + says})
	}
	for i := range o.Swept.Contacts {
		k := &o.Swept.Contacts[i]
		if k.AtRest || !want(k.Corner) {
			continue
		}
		kind := "front-stop"
		if k.Corner >= 2 {
			kind = "rear-stop"
		}
		add(kind, wording.Corner(k.Corner)+" stop", wording.Corner(k.Corner)+" stop met", cornering.Together(k.Lateral, k.Longitudinal))
	}
	for i := range o.Swept.Lifts {
		if l := &o.Swept.Lifts[i]; want(l.Corner) {
			add("lift", wording.Corner(l.Corner)+" off the ground", wording.Corner(l.Corner)+" wheel off the ground", cornering.Together(l.Lateral, l.Longitudinal))
		}
	}
	for i := range 4 {
		if at := o.Car.DroopUsed(&o.Swept, i); want(i) && !math.IsNaN(at) {
			add("droop", wording.Corner(i)+" out of droop", wording.Corner(i)+" droop used up", at)
		}
	}
	if e := o.Swept.Ended; e != nil && want(figure.NoCorner) {
		says := "not held past there"
		if e.Over {
			says = "would tip over past there"
		}
		add("end", "end", says, cornering.Together(o.Swept.ReachedLateral, o.Swept.ReachedLongitudinal))
	}
}
