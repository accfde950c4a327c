package study

import (
	"math"

	"trunnion/chassis/car"
	"trunnion/chassis/corner"
	"trunnion/chassis/equilibrium"
)

// BarHole is what an axle's bar does with its drop links in one hole, all else as
// the build has it.
type BarHole struct {
	ID    string
	Used  bool    // by the build that was asked about
	Rate  float64 // at the drop links [N/m]
	Wheel float64 // force at one wheel per travel of it alone; in roll each wheel feels twice that [N/m]

	RollStiffness float64 // of the axle, at rest and with rigid tyres [N m/rad]
	BarShare      float64 // of it, the bar's [-]
	Preload       float64 // with which the bar lifts the left wheel's corner at rest [N]
	FrontRoll     float64 // front axle's share of the roll stiffness [-]
	Gradient      float64 // roll per lateral acceleration [rad/(m/s2)]
	FrontTransfer float64 // front axle's share of the load moved across at CornerHalf [-]
	Understeer    float64 // gradient in a bend at SteerAt [rad/(m/s2)]
	Contact       float64 // lateral acceleration at which the axle's first stop is met; NaN: not up to CornerEnd [m/s2]
	Err           error   // the car does not rest, or is not held, with this hole
}

// BarHoles puts a build's bar through every hole its axle has, in a load state.
// Without holes it is empty. The answer is only read.
func (a *Answer) BarHoles(build, load string, axle int) ([]BarHole, error) {
	b, l, err := a.Find(build, load)
	if err != nil {
		return nil, err
	}
	ax := &a.Job.Car.Axle[axle]
	used := UsedHole(ax, a.Job.Builds[b], axle)
	out := make([]BarHole, 0, len(ax.Holes))
	for i := range ax.Holes {
		h := BarHole{ID: ax.Holes[i].ID, Used: ax.Holes[i].ID == used}
		changed := *a.Job.Builds[b]
		changed.Setup.BarHole[axle] = h.ID
		h.Err = a.barHole(&h, &changed, l, axle)
		out = append(out, h)
	}
	return out, nil
}

// UsedHole is the hole that a build hangs its drop links in: its own, or the one
// in use as the car was weighed.
func UsedHole(ax *car.Axle, b *car.Build, axle int) string {
	if ax.HoleOf(b.Setup.BarHole[axle]) != nil {
		return b.Setup.BarHole[axle]
	}
	return ax.Hole
}

func (a *Answer) barHole(h *BarHole, b *car.Build, l, axle int) error {
	s := a.ready
	nan := math.NaN()
	h.Gradient, h.FrontTransfer, h.Understeer, h.Contact = nan, nan, nan, nan
	base := equilibrium.Calibrate(s.fitted, s.hangup, nil)
	rate, link := s.job.Car.Axle[axle].BarIn(h.ID, equilibrium.AxleTravel(&base.Travel, axle), nil)
	h.Rate, h.Wheel = rate, rate*link*link
	ds, err := corner.NewDesign(s.job.Car, b)
	if err != nil {
		return err
	}
	sys, err := equilibrium.NewSystem(ds, &base, s.hangup, nil)
	if err != nil {
		return err
	}
	st, err := sys.Solve(equilibrium.Of(s.job.Loads[l].Items, nil), nil)
	if err != nil {
		return err
	}
	c, err := s.bendCar(&sys, &st, l, nil, nil)
	if err != nil {
		return err
	}
	k := [2]float64{c.RollStiffness(0).Sum(), c.RollStiffness(1).Sum()}
	own := c.RollStiffness(axle)
	h.RollStiffness, h.BarShare, h.Preload, h.FrontRoll = k[axle], own.BarShare(), own.Preload, k[0]/(k[0]+k[1])
	o, err := s.bend(c, l, cornerSteps, nil, nil)
	if err != nil {
		return err
	}
	h.Gradient, h.FrontTransfer, h.Understeer = o.numbers[cGradient], o.numbers[cShare], o.numbers[cUndersteerBend]
	for i := 2 * axle; i < 2*axle+2; i++ {
		if v := o.numbers[cContact0+i]; o.state[i] == bendMet && !(v >= h.Contact) {
			h.Contact = v
		}
	}
	return nil
}
