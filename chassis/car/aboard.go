package car

import "trunnion/chassis/figure"

// ShareOut returns the share of a payload's weight [-] that each wheel carries by levers alone: exact between the axles,
// and between the sides for a frame that does not twist.
func (c *Car) ShareOut(p *Payload, d figure.Draw) [4]float64 {
	rear := p.Behind.At(d) / c.Wheelbase.At(d)
	var out [4]float64
	for i := range 4 {
		a := AxleOf(i)
		axle := rear
		if a == Front {
			axle = 1 - rear
		}
		left := 0.5 + p.Left.At(d)/c.Track[a].At(d)
		if i&1 == 1 {
			left = 1 - left
		}
		out[i] = axle * left
	}
	return out
}

// EmptyLoads returns the loads on the scales [kg] less what was aboard, shared out by levers: for estimates, where the
// equilibrium is not at hand.
func (c *Car) EmptyLoads() [4]float64 {
	var out [4]float64
	for i := range 4 {
		out[i] = c.Weighed.Load[i].Value
	}
	for k := range c.Weighed.Aboard {
		item := &c.Weighed.Aboard[k]
		for i, share := range c.ShareOut(item, nil) {
			out[i] -= share * item.Mass.Value
		}
	}
	return out
}
