package struts

import (
	"math"
	"strings"

	"trunnion/chassis/axles"

	"gonum.org/v1/gonum/spatial/r3"

	"trunnion/chassis/geom"
	"trunnion/chassis/strut"
	"trunnion/shop/quantity"
	"trunnion/shop/view"
	"trunnion/shop/wording"
)

// What a drawing needs and nobody measured: usual sizes, common practice, no
// source. [m]
const (
	usualCoil   = 0.125 // outer diameter of a spring
	usualGuide  = 0.020 // length of a guide
	usualPiston = 0.012 // length of a piston's band
	tubeOver    = 0.006 // that an outer tube is wider than what slides in it
)

// wheel is the size of wheel and tyre.
func (u *page) wheel() {
	width := view.UsualTyre
	if t := &u.Answer.Job.Car.Axle[u.axle].Tyre.Width; t.Known() {
		width = t.Value
	}
	u.out.Wheel = Wheel{Radius: u.Length(u.corner.Wheel.Radius), Width: u.Length(width)}
}

// now is one build's strut at one travel.
func (u *page) now(i int, m *strut.Moment, err error, contact geom.Vec) Now {
	out := Now{OK: err == nil, Guide: []float64{}, Lower: []float64{}, Stop: []float64{}, Forces: [][]float64{}, Shown: []string{}, Figures: []string{}}
	if err != nil {
		out.Why = u.Teller.StrutFault(err)
		return out
	}
	one := &u.all.Builds[i]
	j := &m.Joints
	axis := r3.Sub(j.Low, j.Top)
	long := r3.Norm(axis)
	axis = r3.Scale(1/long, axis)
	at := func(d float64) []float64 { return u.Point(r3.Add(j.Top, r3.Scale(d, axis))) }
	over, to := m.Bearing.Over, m.Bearing.Over+m.Bearing.Apart
	out.Guide, out.Lower = at(over), at(to)
	out.Over, out.To, out.Axis = u.Length(over), u.Length(to), u.Length(long)
	u.springAndStop(&out, one, m.Travel, over)
	for _, f := range forcesOf(m, contact) {
		out.Forces = append(out.Forces, []float64{u.Force(f.X), u.Force(f.Y), u.Force(f.Z)})
		out.Shown = append(out.Shown, u.Teller.With("N", r3.Norm(f)))
	}
	for _, f := range wording.StrutFigures(u.axle) {
		out.Figures = append(out.Figures, u.Teller.With(f.SI, f.Of(one, m)))
	}
	return out
}

// springAndStop puts spring and stop on the strut's axis, from the lengths that
// the build has at a travel [m].
func (u *page) springAndStop(out *Now, one *axles.BuildStrut, travel, over float64) {
	for b, build := range u.Answer.Job.Builds {
		for l := range u.Answer.Job.Loads {
			if build != one.Build || u.Answer.Job.Loads[l].ID != u.Load || u.Answer.Cases[b][l].Err != nil {
				continue
			}
			m := &u.Answer.Cases[b][l].System.Corner[2*u.axle+one.Side]
			s, _, _ := m.SpringTravel.At(travel)
			if free := m.Spring.StackFree(); free > 0 {
				out.Seat = u.KnownLength(free - (m.Compressed0 + s))
			}
			stop := one.Parts(u.axle).Stop
			if !m.HasStop || stop == nil || !stop.Length.Known() || one.Layout.Inverted {
				continue // an inverted strut's stop is inside it
			}
			x, _, _ := m.DamperTravel.At(travel)
			gap := m.Mounts0 - x - m.Touch
			end := over - 0.5*guideLength(&one.Layout)
			from := end - math.Max(0, gap) - math.Max(0, stop.Length.Value+math.Min(0, gap))
			out.Stop = []float64{u.Length(from), u.Length(end - math.Max(0, gap))}
		}
	}
}

func guideLength(l *strut.Layout) float64 {
	if l.GuideLength > 0 {
		return l.GuideLength
	}
	return usualGuide
}

// section is a strut's sizes; first is how far its lower bearing stands from the
// top when it is open, in the unit shown. sketched names what was not measured.
func (u *page) section(one *axles.BuildStrut, first float64) (out Section, sketched []string) {
	d := one.Damper(u.axle)
	l := &one.Layout
	lower := l.LowerDiameter
	if lower == 0 {
		lower = l.Sliding.Diameter
	}
	low := l.LowerLength
	if l.GuideLength == 0 {
		sketched = append(sketched, "the guide’s length")
	}
	if low == 0 {
		low = usualPiston
		sketched = append(sketched, "the piston’s length")
	}
	sketched = append(sketched, "where the tube ends")
	tube := lower + 2*tubeOver
	switch {
	case !l.Inverted && d.Body.Known() && d.Body.Value > lower:
		tube = d.Body.Value
	case l.Inverted:
		tube = l.Sliding.Diameter + tubeOver
		sketched = append(sketched, "the outer tube’s diameter", "where the inverted body ends")
	default:
		sketched = append(sketched, "the tube’s diameter")
	}
	out = Section{
		Sliding: u.Length(l.Sliding.Diameter), Bore: u.Length(l.Sliding.Bore), Lower: u.Length(lower), Guide: u.Length(guideLength(l)),
		LowerLength: u.Length(low), Tube: u.Length(tube), Coil: u.Length(usualCoil),
	}
	if l.Inverted {
		out.Rod = u.Length(d.Rod.Value)
		if !math.IsNaN(first) {
			out.BodyEnd = first + u.Length(0.5*low+0.010)
		}
	}
	length := func(v float64) string { return quantity.Format(v, quantity.Length, u.System, quantity.Auto) }
	words := []string{}
	if l.Inverted {
		words = append(words, "body "+length(l.Sliding.Diameter))
	} else {
		words = append(words, "rod "+length(l.Sliding.Diameter))
	}
	if l.Sliding.Bore > 0 {
		words[0] += " with a bore of " + length(l.Sliding.Bore)
	}
	if l.Inverted {
		words = append(words, "inner rod "+length(d.Rod.Value), length(l.ToGuide)+" to the upper bush", length(l.Apart)+" between the bushes")
	} else {
		words = append(words, "piston "+length(lower), length(l.ToGuide)+" to the guide", length(l.Apart)+" from guide to piston")
	}
	out.Shown = strings.Join(words, ", ") + ", at travel zero"
	return out, sketched
}
