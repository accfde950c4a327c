package wording

import (
	"fmt"
	"math"
	"strings"

	"trunnion/chassis/cornering"
	"trunnion/chassis/figure"
	"trunnion/chassis/stability"
	"trunnion/chassis/study"
	"trunnion/shop/quantity"
)

// InG is an acceleration along or across the road as everybody counts it.
func InG(v float64) string { return quantity.Format(v, quantity.Acceleration, quantity.Imperial, 2) }

// together is how hard a point of a sweep is, along and across together [m/s2].
func together(lateral, longitudinal float64) float64 { return math.Hypot(lateral, longitudinal) }

// MetAt is where a stop is met, with its band: "0.57 g (0.47 to 0.72)". A band
// that goes on past where stops are looked for has no upper end.
func MetAt(at float64, v *figure.Value) string {
	text := InG(at)
	if missing(v) || v.State == figure.Outside || !v.HasBand {
		return text
	}
	number := func(x float64) string { return strings.TrimSuffix(InG(x), " g") }
	if v.High >= study.CornerEnd*0.999 {
		return text + " (" + number(v.Low) + " or more)"
	}
	return text + " (" + number(v.Low) + " to " + number(v.High) + ")"
}

// StopMet says where a stop is met and what that does to the balance. The value
// of a pure bend, with its band, may be nil.
func StopMet(k *cornering.Contact, v *figure.Value) string {
	name := Corner(k.Corner)
	if k.AtRest {
		return "The " + name + " wheel rests on its stop straight ahead."
	}
	return "The " + name + " stop is met at " + MetAt(together(k.Lateral, k.Longitudinal), v) + "." + jumpOf(k)
}

// jumpOf is what a stop does to the balance where it is met: load that moves
// across at an axle costs that axle's tyres side force.
func jumpOf(k *cornering.Contact) string {
	shift := k.After - k.Before
	switch {
	case math.IsNaN(shift):
		return ""
	case math.Abs(shift) < 0.005:
		return " The balance hardly changes there."
	}
	means := "more understeer"
	if shift < 0 {
		means = "less understeer"
	}
	return fmt.Sprintf(" From there the front takes %.1f %% of further lateral load transfer, before it %.1f %%: %s.", k.After/quantity.Percent, k.Before/quantity.Percent, means)
}

// shortJump is jumpOf for a line.
func shortJump(k *cornering.Contact) string {
	switch shift := k.After - k.Before; {
	case math.IsNaN(shift) || math.Abs(shift) < 0.005:
		return ""
	case shift > 0:
		return " More understeer from the first stop on."
	}
	return " Less understeer from the first stop on."
}

// WheelLifts says where a wheel leaves the ground.
func WheelLifts(l *cornering.Lifted) string {
	return "The " + Corner(l.Corner) + " wheel is off the ground by " + InG(together(l.Lateral, l.Longitudinal)) + "."
}

// DroopUsed says where a wheel has no droop left.
func DroopUsed(corner int, at float64) string {
	return "The " + Corner(corner) + " damper is fully open at " + InG(at) + ": no rebound travel is left."
}

// BendEnds says why a sweep went no farther; empty where it got to its end.
func BendEnds(s *cornering.Swept) string {
	if s.Ended == nil {
		return ""
	}
	at := InG(together(s.ReachedLateral, s.ReachedLongitudinal))
	if s.Ended.Over {
		return "Past " + at + " the car would tip over, if its tyres gripped that hard."
	}
	return "Past " + at + " no position was found in which the car is held."
}

// BendSentence is a build in one line: what it meets first. The value of the
// first stop, with its band, may be nil.
func BendSentence(c *cornering.Car, s *cornering.Swept, first *figure.Value) string {
	var parts []string
	var rests, met []string
	var landed *cornering.Contact
	for i := range s.Contacts {
		k := &s.Contacts[i]
		switch {
		case k.AtRest:
			rests = append(rests, Corner(k.Corner))
		case len(met) == 0:
			landed = k
			met = append(met, "the "+Corner(k.Corner)+" stop at "+MetAt(together(k.Lateral, k.Longitudinal), first))
		case len(met) < 2:
			met = append(met, "the "+Corner(k.Corner)+" at "+InG(together(k.Lateral, k.Longitudinal)))
		}
	}
	if rests != nil {
		word := " stop"
		if len(rests) > 1 {
			word = " stops"
		}
		parts = append(parts, "Rests on the "+strings.Join(rests, " and ")+word+" straight ahead.")
	}
	if met != nil {
		parts = append(parts, "Meets "+strings.Join(met, ", ")+"."+shortJump(landed))
	}
	if rests == nil && met == nil {
		known := false
		for i := range 4 {
			known = known || !math.IsNaN(c.ToStop(c.Rest(), i))
		}
		if known {
			parts = append(parts, "Meets no stop up to "+InG(together(s.ReachedLateral, s.ReachedLongitudinal))+".")
		} else {
			parts = append(parts, "Where its stops are met is not known.")
		}
	}
	if s.Ended != nil {
		if s.Ended.Over {
			parts = append(parts, BendEnds(s))
		} else {
			parts = append(parts, BendEnds(s))
		}
	}
	return strings.Join(parts, " ")
}

// BendAgainst sets what a build meets first against the reference, both [m/s2]
// and infinite where no stop is met.
func (t *Teller) BendAgainst(reference string, own, other float64) string {
	name := "“" + t.Build(reference) + "”"
	switch {
	case math.IsNaN(own) || math.IsNaN(other):
		return ""
	case math.IsInf(other, 1) && math.IsInf(own, 1):
		return name + " meets none either."
	case math.IsInf(other, 1):
		return name + " meets none."
	case other == 0:
		return name + " rests on one straight ahead."
	}
	return name + " meets its first at " + InG(other) + "."
}

// Wheel words of a point of a sweep.
const (
	WheelFree  = "free"
	WheelStop  = "stop"
	WheelDroop = "droop"
	WheelAir   = "air"
)

// InStop is the word beside a wheel on its stop.
func (t *Teller) InStop(force float64) string {
	return "in the stop, " + t.Amount("", "N", force)
}

// InAir is the word beside a wheel that hangs over the ground by a gap [m].
func (t *Teller) InAir(gap float64) string {
	if gap < 0.5e-3 {
		return "off the ground"
	}
	return t.Amount("", "m", gap) + " off the ground"
}

// WheelMoved is how far a wheel has gone from rest [m].
func (t *Teller) WheelMoved(by float64) string {
	way := " up"
	if by < 0 {
		way = " down"
	}
	return t.Amount("", "m", math.Abs(by)) + way
}

// Left is the word beside a wheel that is free.
func (t *Teller) Left(toStop, droop float64, outer bool) string {
	switch {
	case outer && !math.IsNaN(toStop):
		return t.Amount("", "m", toStop) + " clear of the stop"
	case !outer && !math.IsNaN(droop):
		return t.Amount("", "m", droop) + " rebound left"
	case !math.IsNaN(toStop):
		return t.Amount("", "m", toStop) + " clear of the stop"
	case !math.IsNaN(droop):
		return t.Amount("", "m", droop) + " rebound left"
	}
	return "stop not known"
}

// Steadiness in words

func (t *Teller) road(v float64) string {
	return quantity.Format(v, quantity.SpeedRoad, t.System, 0)
}

// Steering is what the tyres alone ask of the driver: understeer with its
// characteristic speed or oversteer with its critical one, up to a speed [m/s].
func (t *Teller) Steering(c *stability.Car, top float64) string {
	slow := c.At(0)
	k := slow.Gradient()
	amount := t.Amount("understeer-gradient", "rad/(m/s^2)", math.Abs(k))
	if v := c.Critical(top); !math.IsInf(v, 1) {
		return "Unstable above " + t.road(v) + ": its tyres give " + amount + " of oversteer."
	}
	switch {
	case k > 0:
		return "Its tyres give " + amount + " of understeer; the yaw response to steer is greatest at " + t.road(slow.Characteristic()) + "."
	case k < 0:
		return "Its tyres give " + amount + " of oversteer; stable up to " + t.road(top) + ", unstable above " + t.road(slow.Critical()) + " by tyres alone."
	}
	return "Its tyres steer neutrally."
}

// nervesAlike is how near two speeds are that count as one: what speeds are shown
// to. [m/s]
const nervesAlike = 0.5 * quantity.KilometrePerHour

// AsBuild and AsLoaded name what a build is compared with: another build, or the
// same one loaded otherwise.
func (t *Teller) AsBuild(id string) string { return "“" + t.Build(id) + "”" }

// AsLoaded is "with the driver".
func (t *Teller) AsLoaded(id string) string { return strings.TrimLeft(t.loaded(id), ", ") }

// Nervous says from what speed a build is as nervous as what it is compared with
// is at a speed [m/s].
func (t *Teller) Nervous(name string, at float64, n stability.Nerves, top float64) string {
	then := name + " at " + t.road(at)
	first := n.Sooner()
	switch {
	case math.IsNaN(first):
		return ""
	case first < at-nervesAlike:
		text := "Less stable from " + t.road(first) + " on: its "
		if first == n.Sharp {
			text += "yaw response to steer is there as high as " + then + "."
			if n.Swings > at+nervesAlike {
				text += " Its yaw damping is better."
			}
			return text
		}
		text += "yaw damping is there as low as " + then + "."
		if n.Sharp > at+nervesAlike {
			text += " Its yaw response to steer is lower."
		}
		return text
	case first <= at+nervesAlike:
		return "As stable at " + t.road(at) + " as " + name + "."
	case math.IsInf(first, 1):
		return "More stable than " + then + " up to " + t.road(top) + "."
	}
	return "More stable: it takes " + t.road(first) + " to be as " + then + "."
}

// Unsteady sets the speed above which a build is unsteady against the
// reference's; infinite where it is steady up to the last speed looked at [m/s].
func (t *Teller) Unsteady(reference string, own, other float64) string {
	name := "“" + t.Build(reference) + "”"
	switch {
	case math.IsInf(own, 1):
		return "Stable at every speed computed; " + name + " is unstable above " + t.road(other) + "."
	case math.IsInf(other, 1):
		return "Unstable above " + t.road(own) + "; " + name + " is stable at every speed computed."
	}
	return "Unstable above " + t.road(own) + ", " + name + " above " + t.road(other) + "."
}

// SteadyNote says what steadiness at speed rests on.
const SteadyNote = "The car with two degrees of freedom, its tyres loaded as straight ahead: small angles, steering held. Builds differ here by the loads on the tyres, by tyres and by lift alone; springs act through what they do to the loads."

// BendNotes are what a picture of a bend leaves out.
func BendNotes() []string {
	return []string{
		"Steady corners on a flat road: turn-in is not computed, so clicks change nothing but the damping of roll.",
		"Tyre grip is not limited here. Most road tyres let go between 0.8 and 1.0 g: common practice, no source.",
		"Braking dives the body on springs and stops; anti-dive counts only where the link points were measured.",
		"Tyres and yaw inertia are estimates unless they were entered: differences between builds are better known than the figures.",
	}
}

// CornerNote says how to read the table of a corner.
const CornerNote = "* in the stop. Wheels go up and down from where the build rests; angles against straight ahead."

// CornerLinksNote says how to read the table of the wheels in a corner.
const CornerLinksNote = "From hardpoints: camber against the road's upright, top outward positive; toe-in positive, the steering straight; steer is an axle's mean by its links, to the left positive."

// BarLifts says which corner a bar with preload [N] lifts straight ahead; empty
// where it lifts none.
func (t *Teller) BarLifts(axle int, preload float64) string {
	if math.Abs(preload) < 1 {
		return ""
	}
	corner := 2 * axle
	if preload < 0 {
		corner++
	}
	return "The bar lifts the " + Corner(corner) + " corner by " + t.Amount("", "N", math.Abs(preload)) + " straight ahead."
}

// Meets says which stops a sweep meets and which wheels leave the ground, in the
// order in which they do.
func (t *Teller) Meets(a *study.Answer, build, load string, s *cornering.Swept) []string {
	var out []string
	for i := range s.Contacts {
		k := &s.Contacts[i]
		var v *figure.Value
		if k.Longitudinal == 0 {
			v = a.Get("stop-contact-acceleration", build, load, k.Corner)
		}
		out = append(out, StopMet(k, v))
	}
	for i := range s.Lifts {
		out = append(out, WheelLifts(&s.Lifts[i]))
	}
	return out
}

// CornerFigure is a figure of a corner in a list: what and where, and the figure
// with its doubt.
func (t *Teller) CornerFigure(v *figure.Value) (name, text string) {
	name = Name(v.Code)
	p := v.Place
	p.Build, p.Load = "", ""
	if where := t.Place(p); where != "" {
		name += ", " + where
	}
	if p.Speed > 0 {
		name += ", at " + t.road(p.Speed)
	}
	text = t.Value(v)
	if doubt := t.Doubt(v); doubt != "" {
		text += "  " + doubt
	}
	return name, text
}
