package desk

import (
	"fmt"
	"math"
	"strings"

	"trunnion/chassis/car"
	"trunnion/chassis/scales"
	"trunnion/shop/intake"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
)

// LiftAsk is a car with one axle raised, its suspension locked, and the other axle on
// the scales. Every figure is typed with its unit, and with its band where it has
// another than the usual one.
type LiftAsk struct {
	Total  string // of the car as it is lifted, nobody in it; empty: as the job has it weighed, less what was aboard
	Level  string // on the axle that stays, all wheels level
	Lifted string // on the same axle, the other one raised
	Raised string // by how much the wheel centres of the other axle stand higher
	Radius string // wheel centres over the ground, all wheels level
}

// Lifted is the height of the centre of gravity from one axle lifted.
type Lifted struct {
	Height   scales.Band // of the whole car over the ground [m]
	Sprung   scales.Band // of the sprung mass alone [m]
	Unsprung float64     // of all wheels [kg]
	Faults   []intake.FieldFault
}

// Half-widths of what was typed without its own: common practice, no source.
const (
	liftLoadHalf   = 1.0  // of a reading of the scales [kg]
	liftLengthHalf = 3e-3 // of a length by tape [m]
	liftLeast      = 0.05 // of the wheelbase, that an axle is raised: less says nothing [-]
	liftMost       = 0.5  // [-]
)

// Lift is the height of the centre of gravity from one axle lifted; faults are told in
// the units of the system.
func (d *Desk) Lift(job *jobfile.Job, ask *LiftAsk, system quantity.System) (*Lifted, error) {
	if job == nil {
		return nil, errNoJob
	}
	out := &Lifted{}
	fault := func(field, text string) { out.Faults = append(out.Faults, intake.FieldFault{Field: field, Text: text}) }
	read := func(field, typed string, kind quantity.Kind, half float64) scales.Band {
		if strings.TrimSpace(typed) == "" {
			fault(field, "is missing")
			return scales.Band{}
		}
		v, err := quantity.Parse(typed, kind)
		if err != nil {
			fault(field, err.Error())
			return scales.Band{}
		}
		if v.Half > 0 {
			half = v.Half
		}
		return scales.Band{Value: v.Value, Half: half}
	}
	c := job.Car
	l := scales.Lift{Wheelbase: scales.Band{Value: c.Wheelbase.Value, Half: c.Wheelbase.Half}}
	if strings.TrimSpace(ask.Total) == "" {
		l.Total = asWeighed(c)
	} else {
		l.Total = read("total", ask.Total, quantity.Mass, 2*liftLoadHalf)
	}
	level, lifted := read("level", ask.Level, quantity.Mass, liftLoadHalf), read("lifted", ask.Lifted, quantity.Mass, liftLoadHalf)
	l.Gain = scales.Band{Value: lifted.Value - level.Value, Half: math.Hypot(level.Half, lifted.Half)}
	l.Raised = read("raised", ask.Raised, quantity.Length, liftLengthHalf)
	l.Radius = read("radius", ask.Radius, quantity.Length, liftLengthHalf)
	if len(out.Faults) > 0 {
		return out, nil
	}
	show := func(v float64, kind quantity.Kind) string { return quantity.Format(v, kind, system, quantity.Auto) }
	raised := l.Raised.Value / l.Wheelbase.Value
	switch {
	case !(l.Total.Value > 100):
		fault("total", "is "+show(l.Total.Value, quantity.Mass)+": no car weighs that")
	case level.Value <= 0 || level.Value >= l.Total.Value:
		fault("level", fmt.Sprintf("%s of %s is no share of an axle", show(level.Value, quantity.Mass), show(l.Total.Value, quantity.Mass)))
	case !(raised >= liftLeast && raised <= liftMost):
		fault("raised", fmt.Sprintf("enter %s to %s: less shows nothing, more is not safe to stand", show(liftLeast*l.Wheelbase.Value, quantity.Length), show(liftMost*l.Wheelbase.Value, quantity.Length)))
	case !(l.Radius.Value > 0.2 && l.Radius.Value < 0.5):
		fault("radius", fmt.Sprintf("%s is no height of a wheel's centre", show(l.Radius.Value, quantity.Length)))
	case l.Gain.Value <= 0:
		fault("lifted", fmt.Sprintf("the axle on the scales gains %s: it must gain, or the centre of gravity lies below the wheel centres", show(l.Gain.Value, quantity.Mass)))
	}
	if len(out.Faults) > 0 {
		return out, nil
	}
	out.Unsprung = 2 * (c.Unsprung[0].Value + c.Unsprung[1].Value)
	out.Height, out.Sprung = l.CGHeight(), l.Sprung(out.Unsprung)
	return out, nil
}

// asWeighed is the mass of the car as it stood on the scales, less what was aboard:
// nobody sits in a car of which one axle is raised. [kg]
func asWeighed(c *car.Car) scales.Band {
	out := scales.Band{Half: 2 * liftLoadHalf}
	for _, load := range c.EmptyLoads() {
		out.Value += load
	}
	for i := range c.Weighed.Aboard {
		out.Half = math.Hypot(out.Half, c.Weighed.Aboard[i].Mass.Half)
	}
	return out
}
