package study

import (
	"math"

	"trunnion/chassis/cornering"
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/figure"
	"trunnion/chassis/stability"
)

// The figures of a car and its trailer, after all others of a corner.
const (
	towSettling = iota
	towDamping
	towFrequency
	towSpeed
	towEach
)

// towCodes are their codes in that order.
var towCodes = [towEach]string{"towing-settling", "weave-damping", "weave-frequency", "towing-critical-speed"}

// pair is a case with its trailer behind it, nil without one: the car without the
// coupling load, which is the trailer's own weight, on tyres that carry it.
func (s *setup) pair(c *cornering.Car, l int, d, own figure.Draw) *stability.Pair {
	load := &s.job.Loads[l]
	t := load.Trailer
	if t == nil {
		return nil
	}
	nose := &load.Items[t.Nose]
	hung, coupling := nose.Mass.At(d), nose.Behind.At(d)
	car := s.yawCarLess(c, c.Rest(), l, hung, coupling, d, own)
	out := &stability.Pair{Car: car, Coupling: coupling - car.ToFront}
	mass, toAxle := t.Mass.At(d), t.ToAxle.At(d)
	out.Trailer = stability.Trailer{
		Mass: mass, YawInertia: t.YawInertia.At(d), ToAxle: toAxle,
		ToCG:      toAxle * (1 - hung/mass),
		Stiffness: s.trailerStiffness(l, (mass-hung)*equilibrium.Gravity, d, own),
	}
	return out
}

// trailerStiffness is the cornering stiffness of all tyres of a trailer that
// carry a load together [N/rad]: as typed, or of the usual tyre at that load.
func (s *setup) trailerStiffness(l int, load float64, d, own figure.Draw) float64 {
	t := s.job.Loads[l].Trailer
	n := float64(t.Tyres)
	if t.Cornering.Known() {
		return n * t.Cornering.At(d)
	}
	tyre := stability.Tyre{Scale: s.bends.TrailerScale.At(own)}
	return n * tyre.Stiffness(load/n)
}

// tow fills the figures of car and trailer.
func (s *setup) tow(o *bent, l int, d, own figure.Draw) {
	p := s.pair(o.car, l, d, own)
	if p == nil {
		return
	}
	n := o.numbers[s.towAt():]
	swing := p.At(s.job.Loads[l].Trailer.Speed.Value)
	n[towSettling], n[towDamping], n[towFrequency] = swing.Settling, swing.Damping, swing.Frequency
	n[towSpeed] = p.Unstable(CriticalEnd)
}

// towAt is where they begin.
func (s *setup) towAt() int { return cYaw0 + yawEach*len(s.speeds) }

// towValues reports them; they stand in the place of the car's own yaw.
func (s *setup) towValues(l int, nominal *bent, draws [][]float64, add func(code, mode string, corner, k int) *figure.Value) {
	speed := s.job.Loads[l].Trailer.Speed.Value
	for k, code := range towCodes {
		v := add(code, "", figure.NoCorner, s.towAt()+k)
		if k == towSpeed {
			criticalOr(v, draws, s.towAt()+k)
			continue
		}
		v.Place.Speed = speed
		if v.State == figure.Unknown && !math.IsNaN(nominal.numbers[s.towAt()+towSettling]) {
			v.Reason = "neither car nor trailer swings at that speed"
		}
	}
}

// towWorking writes how a figure of car and trailer was reached.
func (s *setup) towWorking(o *bent, l int, v *figure.Value) *figure.Working {
	p := s.pair(o.car, l, nil, nil)
	if p == nil {
		return nil
	}
	speed := v.Place.Speed
	if v.Code == "towing-critical-speed" {
		speed = v.Value
	}
	swing := p.At(speed)
	load := &s.job.Loads[l]
	t := load.Trailer
	at := p.Car.At(speed)
	got := figure.Among
	terms := []figure.Term{
		got("m", "mass of the car without the coupling load", "kg", at.Mass),
		got("I", "yaw inertia of the car", "kg m^2", at.YawInertia),
		got("a", "its centre of gravity behind the front axle", "m", at.ToFront),
		got("b", "its centre of gravity ahead of the rear axle", "m", at.ToRear),
		got("C_f", "cornering stiffness of the front axle", "N/rad", at.Front),
		got("C_r", "cornering stiffness of the rear axle", "N/rad", at.Rear),
		figure.From("m_t", "mass of the trailer", "kg", &t.Mass),
		figure.From("S", "coupling load", "kg", &load.Items[t.Nose].Mass),
		figure.From("x_h", "coupling behind the front axle", "m", &load.Items[t.Nose].Behind),
		figure.From("d", "coupling to the trailer's axle", "m", &t.ToAxle),
		figure.From("I_t", "yaw inertia of the trailer", "kg m^2", &t.YawInertia),
		got("C_t", "cornering stiffness of the trailer's tyres", "N/rad", p.Trailer.Stiffness),
	}
	size := 2 * math.Pi * swing.Frequency
	var first []figure.Term
	switch v.Code {
	case "towing-settling":
		first = append(first, got("lambda_r", "real part of the eigenvalue that dies away slowest, of the four that the terms below give", "1/s", -swing.Settling))
	case "weave-damping":
		first = append(first, got("lambda_r", "real part of the least damped swing's eigenvalue, of the four that the terms below give", "1/s", -swing.Damping*size), got("lambda_abs", "its size", "1/s", size))
	case "weave-frequency":
		first = append(first, got("lambda_abs", "size of the least damped swing's eigenvalue, of the four that the terms below give", "1/s", size))
	case "towing-critical-speed":
		first = append(first, got("V_0", "lowest speed at which an eigenvalue does not die away, by the terms below", "m/s", v.Value))
	}
	return figure.Must(v.Code).Law().Of(append(first, terms...)...)
}

// Pair returns a build in a load state with the trailer it tows; nil without one.
// The answer is only read.
func (a *Answer) Pair(build, load string) (*stability.Pair, error) {
	c, err := a.Cornering(build, load)
	if err != nil {
		return nil, err
	}
	_, l, err := a.Find(build, load)
	if err != nil {
		return nil, err
	}
	return a.ready.pair(c, l, nil, nil), nil
}
