package ride

import (
	"math"

	"trunnion/chassis/comfort"
)

// Histogram bins of travel and damper speed.
const (
	travelBin  = 0.0005 // [m]
	travelBins = 1024   // ±256 mm
	speedBin   = 0.01   // [m/s]
	speedBins  = 1024   // ±5.12 m/s
)

// Result is what one run says. It may be used again for the next run; its slices are then overwritten.
type Result struct {
	Step     float64 // step taken [s]
	Time     float64 // measured time, without what was left out at the start [s]
	Distance float64 // driven in that time [m]
	Floor    []FloorResult
	Corners  [4]CornerResult
	Sink     float64 // mean of the body's centre of gravity below rest; positive is lower [m]
	Energy   Energy
	Event    Event // only when Run.Event is set
	Check    Check // only from SimulateChecked
	Warnings []Warning

	scratch *scratch
	coarse  *Result // of SimulateChecked, kept for the next time
}

// FloorResult is the acceleration at one point of the floor. It is the floor's: a seat changes it.
type FloorResult struct {
	Name    string
	Comfort comfort.Summary // Wk-weighted vertical acceleration, ISO 2631-1:1997
}

// CornerResult is what happened at one wheel.
type CornerResult struct {
	LoadMean      float64 // mean tyre load [N]
	LoadDeviation float64 // standard deviation of the tyre load [N]
	LoadVariation float64 // the same over the static load [-]
	LoadMax       float64 // [N]
	LoadMin       float64 // [N]
	LowLoad       float64 // share of time below 20 % of the static load [-]
	LiftOff       float64 // share of time off the ground [-]

	TravelMax       float64 // greatest wheel travel, absolute [m]
	TravelMin       float64 // least [m]
	Bump            float64 // greatest travel above rest [m]
	Droop           float64 // greatest travel below rest, positive [m]
	TravelMean      float64 // mean travel above rest: positive means the corner rides lower than it stands [m]
	TravelDeviation float64 // standard deviation [m]

	StopHits   []StopHits
	StopPeak   float64 // greatest force of the stop (with metal) at the damper [N]
	StopEnergy float64 // taken up by the hardest hit, of stop and metal [J]
	StopLost   float64 // kept by the stop altogether [J]
	StopTime   float64 // share of time in contact [-]
	Outside    float64 // share of time past the stop's measured curve or past ±250 mm [-]
	Metal      float64 // share of time metal on metal [-]
	RimTime    float64 // share of time on the rim [-]

	TopOuts     int     // entries into the top-out
	TopOutSpeed float64 // fastest damper speed at entry, positive [m/s]
	TopOutForce float64 // greatest pull at the damper [N]

	DamperShares    []float64 // share of time by |damper speed|: below the first bound, between, above the last [-]
	DamperMin       float64   // fastest rebound, negative [m/s]
	DamperMax       float64   // fastest bump [m/s]
	DamperDeviation float64   // root mean square of damper speed [m/s]
	DamperForceMax  float64   // greatest force in bump [N]
	DamperForceMin  float64   // greatest in rebound, negative [N]
	Power           float64   // mean power taken by damper and friction together [W]
	OilRise         float64   // steady rise of temperature, Power/(h·A); 0 where no cooling was given [K]
	OutsideDyno     float64   // share of time faster than the dyno went [-]

	ForceMax float64 // greatest suspension force at the wheel [N]
	ForceMin float64 // least [N]

	travels [travelBins]uint32
	speeds  [speedBins]uint32
}

// StopHits counts entries into the stop above one force.
type StopHits struct {
	Force    float64 // at the damper [N]
	Count    int     // upward passages of Force [-]
	PerMetre float64 // of road [1/m]
	Share    float64 // share of time above [-]
}

// TravelAt returns the wheel travel [m] below which the wheel stays for the given share of the time, from bins of
// 0.5 mm with straight lines within a bin.
func (c *CornerResult) TravelAt(share float64) float64 {
	return quantile(c.travels[:], share, -travelBins/2*travelBin, travelBin, c.TravelMin, c.TravelMax)
}

// SpeedAt returns the damper speed [m/s] below which the damper stays for the given share of the time, from bins of
// 10 mm/s.
func (c *CornerResult) SpeedAt(share float64) float64 {
	return quantile(c.speeds[:], share, -speedBins/2*speedBin, speedBin, c.DamperMin, c.DamperMax)
}

// Speeds calls yield with the middle [m/s] and the share of time of every occupied bin of damper speed.
func (c *CornerResult) Speeds(yield func(speed, share float64) bool) {
	total := 0.0
	for _, n := range c.speeds {
		total += float64(n)
	}
	for k, n := range c.speeds {
		if n > 0 && !yield((float64(k)+0.5-speedBins/2)*speedBin, float64(n)/total) {
			return
		}
	}
}

func quantile(bins []uint32, share, low, width, least, most float64) float64 {
	total := 0.0
	for _, n := range bins {
		total += float64(n)
	}
	want, sum := share*total, 0.0
	for k, n := range bins {
		if c := float64(n); c > 0 && sum+c >= want {
			x := low + width*(float64(k)+math.Max(want-sum, 0)/c)
			return math.Min(math.Max(x, least), most)
		}
		sum += float64(n)
	}
	return most
}

// Energy is the account of the whole run, from standing start to the last step.
type Energy struct {
	FromRoad float64 // work of the road on the tyres [J]
	Start    float64 // kinetic energy at the start [J]
	Damper   float64 // taken by dampers and friction [J]
	Stops    float64 // gone into stops and not come back yet [J]
	Stored   float64 // in springs, bars, top-outs, mounts and tyres, and against gravity, above rest [J]
	Kinetic  float64 // at the end [J]
	// Gap is FromRoad + Start − Damper − Stops − Stored − Kinetic. It is the error of the integration, except that tyre
	// damping, which is not counted, stays in it [J].
	Gap float64
	// Share is Gap over everything that went in [-].
	Share float64
}

// Check is what halving the step does to a result, as shares of the finer answer.
type Check struct {
	Coarse   float64 // the longer of the two steps [s]
	Floor    float64 // greatest change of a weighted acceleration [-]
	Load     float64 // of a tyre load deviation [-]
	Travel   float64 // of a travel extreme, over the travel used [-]
	Force    float64 // of a peak force [-]
	Halvings int     // how often the step was lowered because of it
}

// Worst returns the greatest of the changes [-].
func (c Check) Worst() float64 {
	return math.Max(math.Max(c.Floor, c.Load), math.Max(c.Travel, c.Force))
}

// Event is what an obstacle does and what is left after it. Bounces are those of the body over each axle, from where it
// stands at rest, once no wheel is on the obstacle any more.
type Event struct {
	Acceleration float64    // greatest magnitude, unweighted, over all floor points [m/s²]
	Force        [4]float64 // greatest suspension force at the wheel [N]
	StopHit      [4]bool    // the stop was touched harder than at rest
	Decay        [2]Decay   // of the body over the front and the rear axle
	Flight       Flight
}

// Decay is how the free bounce of the body over one axle dies away. A swing is the way from one turning point to the next;
// where friction holds the body off its rest in the end, that is no swing.
type Decay struct {
	Bounce  float64 // turning point from which the greatest swing sets out, above rest; 0 where there is none [m]
	Excited bool    // the swing is large enough to be judged
	// Second is the swing one whole cycle after the greatest, over the greatest; 0 where it is not to be seen. [-]
	Second float64
	// Low and High are the least and the greatest such ratio over all whole cycles of the bounce: friction, and a damper
	// that is firmer when slow, make a small bounce die faster than a large one. [-]
	Low, High float64
	// Settling is the time from that turning point until the body stays within a tenth of it; −1 where it does not within
	// the run. [s]
	Settling float64
}
