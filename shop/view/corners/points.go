package corners

import (
	"math"
	"strings"

	"trunnion/chassis/cornering"
	"trunnion/chassis/equilibrium"
	"trunnion/shop/desk"
	"trunnion/shop/quantity"
	"trunnion/shop/view"
	"trunnion/shop/wording"
)

// points fills the points of the sweep.
func (b *page) points(out *Build, o *desk.CorneredBuild) {
	angle := quantity.Shown(quantity.Angle, b.System)
	mass := quantity.Shown(quantity.Mass, b.System)
	share := quantity.Shown(quantity.Share, b.System)
	wheelbase := o.Car.Masses().Wheelbase
	for k := range o.Swept.Points {
		p := &o.Swept.Points[k]
		at := cornering.Together(p.Lateral, p.Longitudinal)
		roll, pitch := o.Car.RollAt(p), o.Car.PitchAt(p)
		one := Point{
			At: gs(at), Shown: wording.InG(at), Roll: view.Tidy(angle.FromSI(roll)), Pitch: view.Tidy(angle.FromSI(pitch)),
			Lift:    []float64{b.Length(p.Heave), b.Length(p.Heave + wheelbase*p.Pitch)},
			Centres: []float64{b.Length(o.Car.RollCentreAt(p, 0)), b.Length(o.Car.RollCentreAt(p, 1))},
			Rolls:   angle.Format(math.Abs(roll), 1), Dips: angle.Format(pitch, 1), Share: quantity.Nothing, Wheels: make([]Wheel, 4),
		}
		if f := o.Car.FrontShare(p); !math.IsNaN(f) {
			one.Share = share.Format(f, 1)
		}
		for i := range 4 {
			one.Wheels[i] = b.wheel(o, p, i)
			one.Wheels[i].Load, one.Wheels[i].Loaded = view.Tidy(mass.FromSI(p.Load[i]/equilibrium.Gravity)), mass.Format(p.Load[i]/equilibrium.Gravity, 0)
			if c := o.Car.Camber(p, i); !math.IsNaN(c) {
				one.Wheels[i].Camber = angle.Format(c, 1)
			}
		}
		one.Says = b.says(&one)
		out.Points = append(out.Points, one)
	}
}

// wheel is what is to be said of a wheel at a point.
func (b *page) wheel(o *desk.CorneredBuild, p *cornering.Point, i int) Wheel {
	toStop, droop := o.Car.ToStop(p, i), o.Car.Droop(p, i)
	w := Wheel{Travel: b.Teller.WheelMoved(p.Travel[i] - o.Car.Rest().Travel[i]), State: wording.WheelFree}
	switch {
	case p.Load[i] <= 0:
		gap := math.Max(0, o.Car.Gap(p, i))
		w.State, w.Word, w.Gap = wording.WheelAir, b.Teller.InAir(gap), b.Length(gap)
	case toStop < 0:
		w.State, w.Word = wording.WheelStop, b.Teller.InStop(o.Car.StopForce(p, i))
	case droop <= 0:
		w.State, w.Word = wording.WheelDroop, "droop used up"
	default:
		w.Word = b.Teller.Left(toStop, droop, b.pressed(i))
	}
	return w
}

// says is a point in a line, for who does not see the drawing.
func (b *page) says(p *Point) string {
	parts := []string{"At " + p.Shown}
	if b.ask.Driving != "braking" {
		parts = append(parts, "roll "+p.Rolls)
	}
	if b.ask.Driving != "cornering" {
		parts = append(parts, "nose down "+p.Dips)
	}
	for i := range p.Wheels {
		parts = append(parts, wording.Corner(i)+" "+p.Wheels[i].Loaded+", "+p.Wheels[i].Word)
	}
	return strings.Join(parts, "; ") + "."
}
