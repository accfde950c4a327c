package screening

import (
	"fmt"
	"math"
	"strings"
)

// Result is the estimate for one car on one road.
type Result struct {
	Floor   []Floor
	Corners [4]Corner
	Sink    float64 // mean of the body above the wheels, below rest, mean of the four corners [m]
	Passes  int     // of the closure [-]
}

// Floor is the vertical acceleration of a floor point.
type Floor struct {
	Name     string
	Weighted float64 // Wk-weighted root mean square [m/s²]
	Raw      float64 // unweighted, within the lines of the grid [m/s²]
}

// Corner is the motion of one wheel. All deviations are standard deviations.
type Corner struct {
	Travel        float64 // relative wheel travel [m]
	TravelMean    float64 // mean above rest, from dampers that push harder one way and springs that are not straight [m]
	WheelSpeed    float64 // relative speed of wheel and body [m/s]
	DamperSpeed   float64 // at the damper valve [m/s]
	LoadDeviation float64 // tyre load [N]
	LoadVariation float64 // the same over the static load [-]
	Power         float64 // damper and friction [W]
	Stiffness     float64 // equivalent, at the wheel [N/m]
	Damping       float64 // equivalent, at the damper [N s/m]
	StopShare     float64 // of the variance of the force over travel that comes from stop and top-out [-]
	Contact       float64 // chance to be in the stop or the top-out at any moment [-]
	LiftOff       float64 // chance that the tyre is off the ground [-]
}

// Crossings returns how often a second the wheel travel passes upwards through level above rest [1/s] while the motion is
// Gaussian,
//
//	rate = σ_v/(2π·σ_w)·exp(−(level − mean)²/(2·σ_w²))
//
// Source: S.O. Rice, Mathematical Analysis of Random Noise (1945), from memory.
func (c *Corner) Crossings(level float64) float64 {
	if !(c.Travel > 0) {
		return 0
	}
	x := (level - c.TravelMean) / c.Travel
	return c.WheelSpeed / (2 * math.Pi * c.Travel) * math.Exp(-x*x/2)
}

// Cause is a reason to withhold the estimate.
type Cause string

// The causes.
const (
	StopShare    Cause = "stop-share"    // stop's share of the variance above 5 %
	Contact      Cause = "contact"       // chance of contact above 5 %
	Lift         Cause = "lift"          // a tyre is off the ground more than 1 % of the time
	Stuck        Cause = "stuck"         // root mean square force at the damper below its friction
	NotConverged Cause = "not-converged" // the closure does not settle
	NotFinite    Cause = "not-a-number"  // no finite answer
)

// Limits of the estimate, and choices of its closure.
const (
	limitStop   = 0.05 // [-]
	limitLift   = 0.01 // [-]
	limitPasses = 200  // [-]
	closeEnough = 5e-4 // relative change of a deviation between passes [-]
	nearlyThere = 0.02 // change at which all lines are taken [-]
	coarseLines = 40   // a grid of more lines starts with every second one [-]
	relaxation  = 0.5  // share of a pass that is taken once passes no longer shrink the change [-]
	startTravel = 0.01 // first guess of a deviation [m]
	startSpeed  = 0.15 // [m/s]
	barelyMoves = 1e-9 // [m]
)

// Reason is one cause at one corner.
type Reason struct {
	Cause  Cause
	Corner int     // [-]
	Value  float64 // what was found [unit of the cause]
	Limit  float64 // what it may be [unit of the cause]
}

// WithheldError says why there is no estimate. Estimate holds what it would have been, for comparing only.
type WithheldError struct {
	Reasons  []Reason
	Estimate Result
}

func (e *WithheldError) Error() string {
	parts := make([]string, len(e.Reasons))
	for i, r := range e.Reasons {
		parts[i] = fmt.Sprintf("%s at corner %d (%.3g, limit %.3g)", r.Cause, r.Corner, r.Value, r.Limit)
	}
	return "estimate withheld: " + strings.Join(parts, ", ")
}

// deviation is what a pass of the closure starts from and ends with.
type deviation struct {
	travel, speed, mean [4]float64
}

// Solve estimates the ride. Where the linear model is wrong it returns a *WithheldError and an empty Result.
//
// Every pass takes the deviations σ of travel and damper speed, replaces each law by the line with the least mean square
// error under a Gaussian motion (R.C. Booton 1954; I.E. Kazakov 1954; J.B. Roberts and P.D. Spanos, Random Vibration and
// Statistical Linearization, 1990, all from memory),
//
//	k = E[F(w)·(w − μ)]/σ_w²,  c = E[D(v)·v]/σ_v²,
//
// moves the means μ until E[F] + r·E[D] carries the static load again, and solves the linear car line by line.
func Solve(m Model, g *Grid) (Result, error) {
	s := newSolver(m)
	var reasons []Reason
	// Every second line will do until the closure is nearly there.
	passes, take, last, stride := 0, 1.0, math.Inf(1), 1
	if len(g.lines) > coarseLines {
		stride = 2
	}
	for passes = 1; ; passes++ {
		s.linearise()
		s.spectrum(g, stride)
		worst := s.change(take)
		if passes > 3 && worst > last/2 {
			take = relaxation
		}
		last = worst
		if math.IsNaN(worst) || math.IsInf(worst, 0) {
			return Result{}, &WithheldError{Reasons: []Reason{{NotFinite, 0, worst, 0}}}
		}
		if worst < nearlyThere && stride > 1 {
			stride = 1
			continue
		}
		if worst < closeEnough && stride == 1 {
			break
		}
		if passes == limitPasses {
			reasons = append(reasons, Reason{NotConverged, 0, worst, closeEnough})
			break
		}
	}
	out := s.result(g, passes)
	reasons = append(reasons, s.doubts(&out)...)
	if len(reasons) > 0 {
		return Result{}, &WithheldError{Reasons: reasons, Estimate: out}
	}
	return out, nil
}

type solver struct {
	m        Model
	car      car
	at, next deviation
	standing [4]float64
	rest     [4]float64 // force of spring and stop at rest [N]
	touch    [4]float64
	open     [4]float64
	share    [4]float64
	load2    [4]float64
	wheel2   [4]float64
	floor    []struct{ weighted, raw float64 }
}

func newSolver(m Model) *solver {
	s := &solver{m: m}
	c := &s.car
	c.mass, c.roll, c.pitch = m.Inertia()
	c.leanRoll, c.leanPitch = m.Lean()
	for i := range 4 {
		c.x[i], c.y[i], c.unsprung[i] = m.Hub(i)
		c.tyre[i], c.tyreDamping[i], _ = m.Tyre(i)
		c.mount[i] = m.Mount(i)
		s.standing[i] = m.Standing(i)
		f, _ := m.Spring(i, s.standing[i])
		s.rest[i] = f + m.Stop(i, s.standing[i])
		s.touch[i], s.open[i] = m.Touch(i)
		s.at.travel[i], s.at.speed[i] = startTravel, startSpeed
	}
	c.bar = [2]float64{m.Bar(0), m.Bar(1)}
	c.points = m.Points()
	for k := range c.points {
		_, x, y := m.Point(k)
		c.px, c.py = append(c.px, x), append(c.py, y)
	}
	s.floor = make([]struct{ weighted, raw float64 }, c.points)
	return s
}

// linearise turns the laws into lines for the deviations of this pass and moves the means.
func (s *solver) linearise() {
	c := &s.car
	var excess [4]float64
	for i := range 4 {
		sigma := s.at.travel[i]
		mean := s.standing[i] + s.at.mean[i]
		var f0, f1, stop0, stop2, all2, r0 float64
		nearStop := mean+8*sigma > s.touch[i] || mean-8*sigma < s.open[i]
		for _, n := range whole {
			w := mean + sigma*n.x
			f, r := s.m.Spring(i, w)
			if nearStop {
				fs := s.m.Stop(i, w)
				f += fs
				stop0 += n.weight * fs
				stop2 += n.weight * fs * fs
			}
			f0 += n.weight * f
			f1 += n.weight * f * n.x
			all2 += n.weight * (f - s.rest[i]) * (f - s.rest[i])
			r0 += n.weight * r
		}
		c.stiffness[i] = f1 / sigma
		c.ratio[i] = r0
		s.share[i] = 0
		if variance := all2 - (f0-s.rest[i])*(f0-s.rest[i]); nearStop && variance > 0 {
			s.share[i] = math.Max(stop2-stop0*stop0, 0) / variance
		}
		var d0, d1 float64
		v := s.at.speed[i]
		for _, n := range half {
			a, b := s.m.Damper(i, v*n.x), s.m.Damper(i, -v*n.x)
			d0 += n.weight * (a + b)
			d1 += n.weight * n.x * (a - b)
		}
		c.damping[i] = d1 / v
		// What the corner would push too much at its old place, on its line through the means.
		excess[i] = f0 + r0*d0 - s.rest[i] - c.stiffness[i]*s.at.mean[i]
	}
	s.next.mean = c.sag(excess)
}

// spectrum solves the linear car on every line, or every stride-th, and adds up variances; with a stride only those that
// the next pass starts from.
func (s *solver) spectrum(g *Grid, stride int) {
	c := &s.car
	mirrored := c.isMirrored()
	var travel2, speed2 [4]float64
	s.wheel2, s.load2 = [4]float64{}, [4]float64{}
	clear(s.floor)
	var resp [2]response
	for li := 0; li < len(g.lines); li += stride {
		ln := &g.lines[li]
		w2 := ln.omega * ln.omega
		first, corners := 1, 4
		if mirrored {
			c.symmetric(ln, &resp)
			first, corners = 2, 4
		} else {
			waves := ln.waves()
			c.general(ln.omega, &waves, &resp)
		}
		for p := range resp {
			density := ln.same
			if p == 1 {
				density = ln.opposite
			}
			density *= float64(stride)
			if density == 0 {
				continue
			}
			o := &resp[p]
			for i := 0; i < corners; i += first {
				t := square(o.travel[i]) * density
				travel2[i] += t
				sp := t * w2 * c.ratio[i] * c.ratio[i]
				if c.mount[i] > 0 {
					sp *= square(o.slip[i])
				}
				speed2[i] += sp
				if stride > 1 {
					continue
				}
				s.wheel2[i] += t * w2
				s.load2[i] += square(o.tyre[i]) * density * (c.tyre[i]*c.tyre[i] + w2*c.tyreDamping[i]*c.tyreDamping[i])
			}
			if stride > 1 {
				continue
			}
			for k := range s.floor {
				a := o.body[0] - complex(c.px[k], 0)*o.body[1] + complex(c.py[k], 0)*o.body[2]
				a2 := w2 * w2 * square(a) * density
				s.floor[k].raw += a2
				s.floor[k].weighted += a2 * ln.weight
			}
		}
	}
	for i := range 4 {
		j := i
		if mirrored {
			j = i &^ 1
		}
		s.next.travel[i], s.next.speed[i] = math.Sqrt(travel2[j]), math.Sqrt(speed2[j])
		s.load2[i], s.wheel2[i] = s.load2[j], s.wheel2[j]
	}
}

// change returns the greatest relative change and moves on to the next pass by the share take of it.
func (s *solver) change(take float64) float64 {
	worst := 0.0
	for i := range 4 {
		a, b := s.at.travel[i], math.Max(s.next.travel[i], barelyMoves)
		worst = math.Max(worst, math.Abs(b-a)/b)
		s.at.travel[i] = a * math.Pow(b/a, take)
		va, vb := s.at.speed[i], math.Max(s.next.speed[i], barelyMoves)
		worst = math.Max(worst, math.Abs(vb-va)/vb)
		s.at.speed[i] = va * math.Pow(vb/va, take)
		worst = math.Max(worst, math.Abs(s.next.mean[i]-s.at.mean[i])/b)
		s.at.mean[i] = s.next.mean[i]
		if math.IsNaN(a + b + va + vb + s.at.mean[i]) {
			return math.NaN()
		}
	}
	return worst
}

func (s *solver) result(_ *Grid, passes int) (out Result) {
	c := &s.car
	out.Passes = passes
	for k := range s.floor {
		name, _, _ := s.m.Point(k)
		out.Floor = append(out.Floor, Floor{name, math.Sqrt(s.floor[k].weighted), math.Sqrt(s.floor[k].raw)})
	}
	for i := range out.Corners {
		o := &out.Corners[i]
		_, _, static := s.m.Tyre(i)
		o.Travel, o.DamperSpeed, o.TravelMean = s.next.travel[i], s.next.speed[i], s.at.mean[i]
		o.LoadDeviation, o.WheelSpeed = math.Sqrt(s.load2[i]), math.Sqrt(s.wheel2[i])
		o.Stiffness, o.Damping = c.stiffness[i], c.damping[i]
		o.Power = c.damping[i] * o.DamperSpeed * o.DamperSpeed
		o.StopShare = s.share[i]
		mean := s.standing[i] + o.TravelMean
		o.Contact = beyond((s.touch[i]-mean)/o.Travel) + beyond((mean-s.open[i])/o.Travel)
		o.LiftOff = 1
		if static > 0 {
			o.LoadVariation = o.LoadDeviation / static
			o.LiftOff = beyond(static / o.LoadDeviation)
		}
		out.Sink += o.TravelMean / 4
	}
	return out
}

// beyond is the chance of a standard Gaussian to exceed x.
func beyond(x float64) float64 { return math.Erfc(x/math.Sqrt2) / 2 }

func (s *solver) doubts(r *Result) (out []Reason) {
	for i := range r.Corners {
		o := &r.Corners[i]
		if !(o.StopShare <= limitStop) {
			out = append(out, Reason{StopShare, i, o.StopShare, limitStop})
		}
		if !(o.Contact <= limitStop) {
			out = append(out, Reason{Contact, i, o.Contact, limitStop})
		}
		if !(o.LiftOff <= limitLift) {
			out = append(out, Reason{Lift, i, o.LiftOff, limitLift})
		}
		if friction := s.m.Friction(i); friction > 0 {
			// Of what passes through the corner: spring and damper in quadrature, as travel and speed are uncorrelated.
			force := math.Hypot(o.Stiffness*o.Travel/s.car.ratio[i], o.Damping*o.DamperSpeed)
			if !(force >= friction) {
				out = append(out, Reason{Stuck, i, force, friction})
			}
		}
	}
	return out
}
