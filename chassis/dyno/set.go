package dyno

import (
	"errors"
	"math"
)

// Off says what was done, or is to be done, about a force that a table of peaks may
// hold beside the damping.
type Off struct {
	How   Found // FoundTaken, FoundLeft or FoundGiven; empty: measured runs have to say
	Force Band  // where it is given [N]
}

// Options are what the runs do not say.
type Options struct {
	Adjusters     []Adjuster
	Gas, Friction Off
	Reference     float64 // temperature the curves are for; 0: the median of the runs [K]
}

// Chosen widths and windows.
const (
	// sameSpeed is how near two runs are to have the same speed, as a share.
	sameSpeed = 0.03
	// sameTemperature is how far from the reference a run may be to go into a curve [K].
	sameTemperature = 10
	// unknownTemperature widens what was read at no known temperature, as a share of
	// the force: a good damper's 0.2 % per kelvin over 10 K. Common practice, no source.
	unknownTemperature = 0.02
	// nearPeak is the share of a loop's peak speed above which readings are averaged.
	nearPeak = 0.955
)

// Repeats is how well a repeated speed agrees, as a share, of a single reading that
// holds no scatter of its own. Common practice, no source.
const Repeats = 0.03 // [-]

// Set is what the runs of one damper give.
type Set struct {
	Adjusters []Adjuster
	Curves    []Curve // by setting, rising
	Static    Static
	Reference float64 // temperature of the curves; NaN: not known [K]
	Loops     []Loop  // what each loop shows
	Checks    []Check
	Fade      Fade
	LeftOut   []LeftOut
}

// LeftOut is a run that went into no curve.
type LeftOut struct {
	From        string
	Err         error   // nil: it was hot or cold
	Temperature float64 // [K]
}

// ErrNotSaid is wrapped when a table of peaks does not say whether gas or friction
// stand in its forces, and no run shows them.
var ErrNotSaid = errors.New("not said")

// ErrNoCurve is returned when no run gives a curve.
var ErrNoCurve = errors.New("no run gives force over speed")

// point is both strokes of one run at one speed, compression positive, gas and
// friction still in.
type point struct {
	run           *Run
	speed         float64
	bump, rebound Band
	lag           float64 // share of the peak that hysteresis hides [-]
	single        bool    // a reading without scatter of its own
}

// away reports a run too hot or too cold for the curves.
func (s *Set) away(r *Run) bool {
	return math.Abs(r.Temperature-s.Reference) > sameTemperature
}

// damping takes gas and friction off a point: force in each stroke, positive.
func (s *Set) damping(p *point) (bump, rebound Band) {
	g, f := s.Static.Gas, s.Static.Friction
	off := func(force, half float64) Band {
		h := math.Sqrt(half*half + g.Half*g.Half + f.Half*f.Half)
		if p.single {
			h = math.Hypot(h, Repeats*math.Abs(force))
		}
		if math.IsNaN(p.run.Temperature) {
			h = math.Hypot(h, unknownTemperature*force)
		}
		return Band{force * (1 + p.lag), h + p.lag*math.Abs(force)}
	}
	return off(p.bump.Value-g.Value-f.Value, p.bump.Half), off(g.Value-p.rebound.Value-f.Value, p.rebound.Half)
}

// Sign is what a loop shows that its peaks do not.
type Sign string

// The signs. Their limits are common practice, no source.
const (
	Hysteresis   Sign = "hysteresis"   // slowing gives more force than quickening by more than 15 % of the peak
	LateOnset    Sign = "late-onset"   // after a reversal the force comes late: air, or cavitation
	FlatStart    Sign = "flat-start"   // after a reversal there is none: gas lost, or cavitation
	PositionSign Sign = "position"     // the same speed gives another force at another place
	NotClosed    Sign = "not-closed"   // the last reading is not where the first was
	EndSpikes    Sign = "spikes"       // readings far off at the ends of the stroke: near stop or top-out
	OffCentre    Sign = "off-centre"   // bump and rebound do not reach the same speed
	NoFrictionIn Sign = "no-reversal"  // gas and friction cannot be read where it reverses
	GivesEnergy  Sign = "gives-energy" // its work is negative: a sign is wrong
)

// Loop is what one loop shows.
type Loop struct {
	From        string
	Setting     Setting
	Speed       float64    // peak [m/s]
	Stroke      float64    // [m]
	Temperature float64    // [K]
	Work        float64    // in one turn [J]
	MeanPower   float64    // [W]
	Turn        float64    // time of one; 0: not known [s]
	Hysteresis  Band       // slowing over quickening at half the peak speed, mean of both strokes, as a share of the force there [-]
	Position    Band       // the part of that which has the sign of the place, not of the motion [-]
	Late        [2]float64 // share of the stroke after each reversal until half of the force of slowing is there [-]
	Flat        [2]float64 // share of the stroke after each reversal without any force [-]
	Signs       []Sign
}

// Has reports a sign.
func (l *Loop) Has(s Sign) bool {
	for _, one := range l.Signs {
		if one == s {
			return true
		}
	}
	return false
}

// Rule is one thing that runs must agree in.
type Rule string

// The rules, and how far off each may be. The limit is common practice, no source.
const (
	WorkAndPower  Rule = "work-and-power" // ∮F·dx against mean power times the time of a turn
	CrankSpeed    Rule = "crank-speed"    // peak speed against π·stroke·frequency
	RepeatedSpeed Rule = "repeated-speed" // two runs of the same setting and speed
	Rising        Rule = "rising"         // force over speed
)

// MostOff is how far off a check may be before it counts as failed [-].
const MostOff = 0.03

// Check is how well a run agrees with itself or with another.
type Check struct {
	Rule    Rule
	From    string
	Setting Setting
	Stroke  Stroke  // of a repeated or a rising speed; empty: both
	Speed   float64 // [m/s]
	Off     float64 // by which it is off [-]
	Failed  bool
}

// Fade is how force changes with temperature, from runs of one setting and speed at
// several temperatures.
type Fade struct {
	Share            Band    // of the force, each kelvin; negative: it falls as it warms [1/K]
	Pairs            int     // runs that were compared
	Coldest, Hottest float64 // [K]
}

// Known reports whether the runs show it.
func (f *Fade) Known() bool { return f.Pairs > 0 }

// Per10 is the change of a force [N] over 10 K [N].
func (f *Fade) Per10(force float64) Band {
	return Band{10 * f.Share.Value * force, 10 * f.Share.Half * math.Abs(force)}
}
