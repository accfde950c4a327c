package ride

import (
	"math"

	"trunnion/chassis/comfort"
)

// Run is one drive.
type Run struct {
	Left, Right Track   // the road; nil is flat
	Course      *Course // in place of Left and Right: heights sampled before
	// Finer is the same road sampled as often but laid on a finer grid: SimulateChecked drives it at the halved steps, so
	// that its check speaks of the road's grid as well. Simulate does not look at it.
	Finer    *Course
	Speed    float64 // with a Course 0 takes the Course's [m/s]
	Duration float64 // whole time, with what is left out [s]
	// Settle is left out of the statistics at the start; the heights grow from nothing to full over it, because a car
	// cannot be put down on a rough road at rest. An event starts on flat road and needs none [s].
	Settle float64 // [s]
	// Step is the time step; 0 lets the engine choose by the wheel-hop rule [s].
	Step float64 // [s]

	// HeaveSpeed is the vertical speed of the body at the start, positive up: a car let fall onto its springs [m/s].
	HeaveSpeed float64 // [m/s]

	StopForces   []float64  // forces above which a stop hit is counted, at most 8; nil means 1 and 2 kN [N]
	DamperBounds []float64  // damper speeds between low, mid and high, rising, at most 8; nil means 0.05 and 0.15 [m/s]
	Cooling      [4]float64 // h·A of each damper; 0 means not known [W/K]

	// Event asks for what is left after an obstacle; at most 60 s.
	Event bool

	// Each is called every Every steps (0 means each) with the state of that moment, statistics or not. The Moment is
	// used again: copy what is to be kept.
	Each  func(*Moment)
	Every int // [-]
	// Glance is called as Each is, from the first run of SimulateChecked at the step asked for, which costs no further
	// run. Simulate does not call it.
	Glance func(*Moment)
}

// Moment is one instant of a run.
type Moment struct {
	Time         float64    // [s]
	Road         [4]float64 // height under each wheel [m]
	Travel       [4]float64 // wheel travel [m]
	DamperSpeed  [4]float64 // [m/s]
	DamperForce  [4]float64 // at the damper, friction in; this is what its mount carries, gas and a stop on the rod aside [N]
	StopForce    [4]float64 // at the damper, metal in [N]
	TopOutForce  [4]float64 // pull at the damper [N]
	CornerForce  [4]float64 // whole suspension force at the wheel, bar in [N]
	TyreLoad     [4]float64 // [N]
	Body         [4]float64 // body over each wheel above its rest [m]
	Heave        float64    // centre of gravity above rest [m]
	Pitch, Roll  float64    // from rest, nose down and left side up positive [rad]
	Acceleration [3]float64 // heave [m/s²], pitch and roll [rad/s²] of the body
}

// What the engine takes for a step. Caps and factors of the wheel-hop rule are choices from a convergence study of this
// method: core error below 0.1 % on class C roads at 1.5 ms and below 0.3 % over a pothole at 1 ms.
const (
	longestOnRoad = 1.5e-3
	longestOnHump = 1.0e-3
	shortestStep  = comfort.ShortestStep
	longestStep   = comfort.LongestStep
	hopObstacle   = 0.12
	hopRoad       = 0.17
	fastest       = 125.0       // 450 km/h: faster is a slip of the keyboard [m/s]
	veryFast      = 300.0 / 3.6 // [m/s]
	longestEvent  = 60.0        // [s]
)

// StepFor returns the step the engine would take [s]:
//
//	h = min(h_max, κ/ω_hop),  ω_hop = √((k_tyre + k_wheel)/m_u)
//	on a road κ = 0.17, h_max = 1.5 ms; over an obstacle κ = 0.12, h_max = 1 ms
//
// with the stiffest corner. Where a mount is given its own rate joins the wheel's.
func (m *Model) StepFor(event bool) float64 {
	kappa, limit := hopRoad, longestOnRoad
	if event {
		kappa, limit = hopObstacle, longestOnHump
	}
	hop := 0.0
	for i := range m.corner {
		c := &m.corner[i]
		hop = math.Max(hop, math.Sqrt((c.rate+math.Max(m.rest.WheelRate[i], 0)+c.mount/2)*c.invMass))
	}
	return math.Min(limit, kappa/hop)
}

var (
	defaultStops  = []float64{1000, 2000}
	defaultBounds = []float64{0.05, 0.15}
)
