package equilibrium

import (
	"fmt"
	"math"

	"trunnion/chassis/car"
	"trunnion/chassis/corner"
	"trunnion/chassis/numeric"
	"trunnion/chassis/part"
)

// System is one build under one draw, ready to be solved for any payload.
type System struct {
	Corner   [4]corner.Model
	Bar      [2]part.Bar
	TyreRate [4]float64 // [N/m]
	Unsprung [4]float64 // mass moving with each wheel [kg]
	// Grown is how much greater the radius without load of each tyre is than of the one
	// that was weighed: the body stands that much higher over the same hub-to-arch height. [m]
	Grown  [4]float64
	Behind [4]float64 // wheel behind the front axle [m]
	Left   [4]float64 // wheel left of the middle [m]
	Stuck  [4]float64 // friction force that holds the wheel, bump positive when it pushes the wheel down [N]

	SprungWeight float64 // [N]
	MomentBehind float64 // of the sprung weight about the front axle [N m]
	MomentLeft   float64 // of the sprung weight about the middle plane [N m]
	// Lean is what the weight does as the body leans, with the position at which MomentBehind and MomentLeft are true.
	Lean     Lean
	CGHeight float64 // of the car's own sprung mass, over the ground as weighed [m]
	Raised   float64 // moment of what is in SprungWeight at a height of its own, about CGHeight [N m]

	SeatRaised [4]float64    // how far the seats were moved for wanted heights [m]
	SeatRead   [4]float64    // and by readings taken after fitting [m]
	Drop       [4]DropLength // of springs known by how far they lower the car

	Base Baseline

	Build *car.Build // that was put on the car
}

// DropLength is where the free length of a spring known by its drop comes from: the
// means over the corners that have it.
type DropLength struct {
	Carried float64 // compression under what it must carry [m]
	Without float64 // compression that it would have there with no length of its own [m]
}

// Weights is a set of forces on the body: sum and moments in plan.
type Weights struct {
	Down   float64 // [N]
	Behind float64 // moment about the front axle [N m]
	Left   float64 // moment about the middle plane [N m]
	// Height is the moment over the ground of what has a height of its own, and
	// Placed what of Down that is: the rest sits as high as the car's own centre.
	Height float64 // [N m]
	Placed float64 // [N]
}

// raised is how much more a set of weights tips the body than at the height of the
// car's own centre [m] does: its moment about that [N m].
func (w Weights) raised(centre float64) float64 { return w.Height - w.Placed*centre }

// CentreHeight is the height of the sprung mass with what it carries, over the ground
// as weighed: the mean of heights by weight. [m]
func (s *System) CentreHeight(extra Weights) float64 {
	return s.CGHeight + (s.Raised+extra.raised(s.CGHeight))/(s.SprungWeight+extra.Down)
}

// State is a rest position.
type State struct {
	Heave  float64    // body over the as-weighed position, at the middle of the front axle, up positive [m]
	Roll   float64    // left side up positive, from the position as weighed [rad]
	Pitch  float64    // rear up positive, from the position as weighed [rad]
	Travel [4]float64 // wheel travel [m]
	Tyre   [4]float64 // tyre deflection; 0 when the wheel hangs [m]
	Force  [4]float64 // suspension force at the wheel, bar in, friction out [N]
	Load   [4]float64 // at the tyre [N]
	Rate   [4]float64 // tangent wheel rate, stop in, bar out [N/m]
	Steps  int        // Newton steps taken
}

// NotSeated says that a build's spring cannot be placed in the car for want of a length.
type NotSeated struct {
	Corner int
	Path   string // of that length in the job
}

func (e *NotSeated) Error() string {
	return fmt.Sprintf("the spring at a corner (index %d) cannot be placed: %s is not known", e.Corner, e.Path)
}

// NoRest says that no rest position was found, and where it came closest.
type NoRest struct {
	Corner   int     // with the greatest imbalance
	Residual float64 // there [N]
	Last     State
}

func (e *NoRest) Error() string {
	return fmt.Sprintf("no rest position: %.0f N left over at a corner (index %d), wheel travel %.1f e-3 m",
		e.Residual, e.Corner, e.Last.Travel[e.Corner]*1e3)
}

// Solve finds the rest position under extra weights on the body, starting from
// a guess: the state of a neighbouring case, or nil.
//
// The seven equations are the four wheels' balances and the body's three:
//
//	S_i(w_i) ± B + m_u·g + f_i = k_t·δ_i
//	Σ (S_i ± B + f_i)·(1, y_i, x_i) = W·(1, y_W − d_φ·φ, x_W − d_θ·θ)   see Lean
//	δ_i = δ_0i + R_i − R_0i − (w_i − w_0i) − b_i,   b_i = z + y_i·φ + x_i·θ
//
// Method: Newton with steps shortened where the balance does not improve.
// Source: own derivation.
func (s *System) Solve(extra Weights, guess *State) (State, error) {
	var st State
	if guess != nil {
		st = *guess
	} else {
		st.Travel = s.Base.Travel
	}
	var f, trial [7]float64
	var jac [7][7]float64
	norm := s.balance(&st, extra, &f, &jac)
	for st.Steps = 1; st.Steps <= maxSteps; st.Steps++ {
		if norm < settled*s.SprungWeight {
			s.finish(&st)
			return st, nil
		}
		trial = f
		if !numeric.Solve7(&jac, &trial) {
			break
		}
		scale := 1.0
		for i := range 4 {
			if big := math.Abs(trial[i]) * scale; big > maxMove {
				scale *= maxMove / big
			}
		}
		next, was := st, norm
		for range 12 {
			next = st
			for i := range 4 {
				next.Travel[i] -= scale * trial[i]
			}
			next.Heave -= scale * trial[4]
			next.Roll -= scale * trial[5]
			next.Pitch -= scale * trial[6]
			norm = s.balance(&next, extra, &f, &jac)
			if norm < was || norm < settled*s.SprungWeight {
				break
			}
			scale *= 0.5
		}
		steps := st.Steps
		st = next
		st.Steps = steps
	}
	s.finish(&st)
	worst := &NoRest{Last: st}
	for i := range 4 {
		if r := math.Abs(f[i]); r > worst.Residual {
			worst.Corner, worst.Residual = i, r
		}
	}
	return st, worst
}

const (
	maxSteps = 80    // chosen: cars on two stiff ends take about 25
	maxMove  = 0.015 // longest step of a wheel: half a bump stop [m]
	settled  = 1e-11 // residual per sprung weight that counts as rest
)

// balance fills the residuals and their derivatives and returns the greatest
// residual, moments taken per metre of a typical arm.
func (s *System) balance(st *State, extra Weights, f *[7]float64, jac *[7][7]float64) float64 {
	*jac = [7][7]float64{}
	weight := s.SprungWeight + extra.Down
	f[4] = -weight
	lean := s.LeanWith(extra)
	roll, pitch := lean.Of(st)
	f[5] = -(s.MomentLeft + extra.Left) + weight*lean.RollArm*roll
	f[6] = -(s.MomentBehind + extra.Behind) + weight*lean.PitchArm*pitch
	jac[5][5] = weight * lean.RollArm
	jac[6][6] = weight * lean.PitchArm
	var bar, barRate [2]float64
	for a := range 2 {
		bar[a], barRate[a] = s.Bar[a].WheelForce(st.Travel[2*a] - st.Travel[2*a+1])
	}
	norm := 0.0
	for i := range 4 {
		a := car.AxleOf(i)
		other := i ^ 1
		sign := 1.0
		if i&1 == 1 {
			sign = -1
		}
		force, rate := s.Corner[i].Force(st.Travel[i])
		total := force + s.Stuck[i] + sign*bar[a]
		b := st.Heave + s.Left[i]*st.Roll + s.Behind[i]*st.Pitch
		tyre := s.Base.Tyre[i] + s.Grown[i] - (st.Travel[i] - s.Base.Travel[i]) - b
		kt := s.TyreRate[i]
		if tyre < 0 {
			// Off the ground: no force; a trace of rate keeps the equations solvable.
			kt = 1e-6 * kt
		}
		f[i] = total + s.Unsprung[i]*Gravity - kt*tyre
		own, across := rate+barRate[a], -barRate[a]
		jac[i][i] = own + kt
		jac[i][other] = across
		jac[i][4], jac[i][5], jac[i][6] = kt, kt*s.Left[i], kt*s.Behind[i]
		f[4] += total
		f[5] += total * s.Left[i]
		f[6] += total * s.Behind[i]
		jac[4][i] += own
		jac[5][i] += own * s.Left[i]
		jac[6][i] += own * s.Behind[i]
		jac[4][other] += across
		jac[5][other] += across * s.Left[i]
		jac[6][other] += across * s.Behind[i]
		norm = math.Max(norm, math.Abs(f[i]))
	}
	norm = math.Max(norm, math.Abs(f[4]))
	return math.Max(norm, math.Max(math.Abs(f[5]), math.Abs(f[6])))
}

// finish fills what follows from the travels.
func (s *System) finish(st *State) {
	for i := range 4 {
		a := car.AxleOf(i)
		sign := 1.0
		if i&1 == 1 {
			sign = -1
		}
		bar, _ := s.Bar[a].WheelForce(st.Travel[2*a] - st.Travel[2*a+1])
		var force float64
		force, st.Rate[i] = s.Corner[i].Force(st.Travel[i])
		b := st.Heave + s.Left[i]*st.Roll + s.Behind[i]*st.Pitch
		st.Tyre[i] = math.Max(0, s.Base.Tyre[i]+s.Grown[i]-(st.Travel[i]-s.Base.Travel[i])-b)
		st.Force[i] = force + sign*bar
		st.Load[i] = st.Tyre[i] * s.TyreRate[i]
	}
}
