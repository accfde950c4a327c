package study

import (
	"math"

	"trunnion/chassis/car"
	"trunnion/chassis/figure"
	"trunnion/chassis/linkage"
	"trunnion/chassis/numeric"
)

// shoulder is how much lower than the middle of the tread a tyre's shoulder stands, which
// is what meets a lip: common practice, no source. [m]
const shoulder = 0.010

var (
	archOfWell = figure.Law{Code: "arch-on-these-tyres", Equation: "w_arch = w - r", Unit: "m", Source: figure.Own, Note: "The tyre meets the arch above it as much sooner as its radius without load is greater."}
	archOfLip  = figure.Law{
		Code: "arch-lip-on-these-tyres", Equation: "w_arch = H_0 - R + s", Unit: "m", Source: figure.Own,
		Note: "The tyre's side stands outside the lip of the arch, and its shoulder meets the lip.",
	}
)

// archTravel is the wheel travel at which a build's tyre meets the arch: what was
// measured on the tyre as weighed, less what this one is taller; or the lip, where its
// side stands outside it. NaN when it was not measured.
//
// The lip is as high over the hub as the hub-to-arch height says, and a line along the
// car; the wheels point straight ahead.
func (s *setup) archTravel(b *car.Build, i int, d figure.Draw) (travel float64, lip bool) {
	travel = math.NaN()
	if in := archLimit(&s.job.Car.Axle[car.AxleOf(i)]); in != nil {
		travel = in.At(d) - s.job.Car.Grown(b, i, d)
	}
	if at, meets := s.lipTravel(b, i, d); meets && !(travel <= at) {
		return at, true
	}
	return travel, false
}

// archLimit is the travel at which the tyre as weighed meets the arch; nil when it was
// not measured.
func archLimit(ax *car.Axle) *car.Input {
	for i := range ax.Limits {
		if ax.Limits[i].Name == "arch" {
			return &ax.Limits[i].Travel
		}
	}
	return nil
}

// lipTravel is the travel at which a tyre's shoulder is as high as the lip, and whether
// its side then stands outside it; false too where that is not known.
func (s *setup) lipTravel(b *car.Build, i int, d figure.Draw) (travel float64, meets bool) {
	c, a := s.job.Car, car.AxleOf(i)
	read := &c.Weighed.Height[i]
	if !c.Axle[a].Clearance.Lip.Known() || !c.Retyred(b, i) && !c.Rewheeled(b, i) || !b.Corner[i].Tyre.Sized() || read.Origin == figure.Estimated && read.Half == 0 {
		return math.NaN(), false
	}
	travel = c.ZeroHeight[a].At(d) - b.Corner[i].Tyre.FreeRadius(d) + shoulder
	gap := c.LipGap(b, i, d)
	if top := s.tops[a]; top != nil {
		moved, _ := top.At(travel)
		gap -= moved
	}
	return travel, gap < 0
}

// arches are where a build's four tyres meet the arch.
func (s *setup) arches(b *car.Build, d figure.Draw) (out [4]float64) {
	for i := range out {
		out[i], _ = s.archTravel(b, i, d)
	}
	return out
}

// archTerm is where a build's tyre meets the arch with where that comes from.
func (s *setup) archTerm(b *car.Build, i int) figure.Term {
	c, a := s.job.Car, car.AxleOf(i)
	const name = "wheel travel where the tyre meets the arch"
	if _, lip := s.archTravel(b, i, nil); lip {
		t := b.Corner[i].Tyre
		return figure.As("w_arch", name, archOfLip.Of(figure.From("H_0", "height of the lip over the hub at travel zero", "m", &c.ZeroHeight[a]),
			t.RadiusTerm("R", "radius of the tyre without load"), figure.Fixed("s", "how much lower its shoulder stands", "m", shoulder, "common practice, no source")))
	}
	in := archLimit(&c.Axle[a])
	switch {
	case in == nil:
		return figure.Term{Symbol: "w_arch", Value: math.NaN()}
	case !c.Retyred(b, i):
		return figure.From("w_arch", name, "m", in)
	}
	return figure.As("w_arch", name, archOfWell.Of(figure.From("w", "the same on the tyre as weighed", "m", in), c.GrownTerm(b, i)))
}

// topsOf are how far the top of a wheel moves outward against the body over its travel,
// by camber and by its path, where the links' points are known. Nominal: the points'
// bands are small against what is read off here.
func topsOf(c *car.Car) (out [2]*numeric.Curve) {
	for a := range out {
		h := c.Axle[a].Hardpoints
		if h == nil {
			continue
		}
		l, err := h.New()
		if err != nil {
			continue
		}
		swept, err := l.Sweep(linkage.Parallel, linkage.Travels(-0.12, 0.14, 27), 0)
		if err != nil {
			continue
		}
		out[a] = topOf(swept.Points)
	}
	return out
}

func topOf(points []linkage.Figures) *numeric.Curve {
	var x, y []float64
	zero := math.NaN()
	for k := range points {
		p := &points[k]
		top := p.Centre.Y + car.UsualHubHeight*math.Sin(p.Camber)
		x, y = append(x, p.Travel), append(y, top)
		if math.Abs(p.Travel) < 1e-9 {
			zero = top
		}
	}
	if math.IsNaN(zero) || len(x) < 2 {
		return nil
	}
	for k := range y {
		y[k] -= zero
	}
	curve, err := numeric.NewCurve(x, y)
	if err != nil {
		return nil
	}
	return &curve
}
