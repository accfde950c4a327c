package roadtest

import (
	"fmt"
	"math"

	"trunnion/chassis/ride"
)

// Build is the car as it was predicted: one build in one load state.
type Build struct {
	Car   ride.Car
	Drawn []ride.Car // the same under draws of its inputs, for the bands of what is predicted

	loads [4]float64 // of the tyres at rest [N]
}

// weigh takes what the tyres carry at rest.
func (b *Build) weigh() error {
	m, err := ride.Compile(b.Car)
	if err == nil {
		b.loads = m.Rest().TyreLoad
	}
	return err
}

// Name is an input of the model that a log may speak of.
type Name string

// The inputs. Those of Named are offered as corrections; the rest are known to a band and move within it.
const (
	SpringRate     Name = "spring-rate"     // share on top of what was entered [-]
	BumpDamping    Name = "bump-damping"    // share [-]
	ReboundDamping Name = "rebound-damping" // share [-]
	Friction       Name = "friction"        // at the damper, on top [N]
	StopGap        Name = "stop-gap"        // damper travel to the stop, on top [m]

	TravelGain   Name = "travel-gain"   // of a travel channel, or of the motion ratio: share [-]
	TravelZero   Name = "travel-zero"   // of a travel channel: what it reads low by [m]
	TyreRate     Name = "tyre-rate"     // of an axle: share [-]
	UnsprungMass Name = "unsprung-mass" // of an axle: share [-]
	SprungMass   Name = "sprung-mass"   // share [-]
	Balance      Name = "balance"       // centre of gravity behind where it was entered [m]
	RollInertia  Name = "roll-inertia"  // share [-]
	PitchInertia Name = "pitch-inertia" // share [-]
	Delay        Name = "delay"         // of the rear axle behind the front, beside wheelbase over speed [s]
)

// Named are the inputs that may be corrected, corner by corner.
var Named = []Name{SpringRate, BumpDamping, ReboundDamping, Friction, StopGap}

// Input is one of them at one place.
type Input struct {
	Name   Name
	Corner int // of a corner; 0 or 1 for an axle; else -1
}

func (i Input) String() string { return fmt.Sprintf("%s %d", i.Name, i.Corner) }

// shift is how far the model is from what was entered, input by input.
type shift struct {
	spring, bump, rebound, friction, gap, gain, zero [4]float64
	tyre, unsprung                                   [2]float64
	mass, balance, roll, pitch, delay                float64
}

// of returns where an input's value stands.
func (s *shift) of(in Input) *float64 {
	switch in.Name {
	case SpringRate:
		return &s.spring[in.Corner]
	case BumpDamping:
		return &s.bump[in.Corner]
	case ReboundDamping:
		return &s.rebound[in.Corner]
	case Friction:
		return &s.friction[in.Corner]
	case StopGap:
		return &s.gap[in.Corner]
	case TravelGain:
		return &s.gain[in.Corner]
	case TravelZero:
		return &s.zero[in.Corner]
	case TyreRate:
		return &s.tyre[in.Corner]
	case UnsprungMass:
		return &s.unsprung[in.Corner]
	case SprungMass:
		return &s.mass
	case Balance:
		return &s.balance
	case RollInertia:
		return &s.roll
	case PitchInertia:
		return &s.pitch
	case Delay:
	}
	return &s.delay
}

// What is known of inputs that no draw moves, and how far a correction may reach before
// the log speaks: half-widths of 95 % bands. Chosen; a rotary or linear sensor that was
// set by two points is right to about one per cent, common practice, no source.
var known = map[Name]float64{
	SpringRate: 1, BumpDamping: 1.5, ReboundDamping: 1.5, Friction: 600, StopGap: 0.05,
	TravelGain: 0.01, Delay: 0.005,
}

// gainWide is how far off a gain may be that is looked for: chosen. [-]
const gainWide = 0.5

// prior is an input with how far it may lie from what was entered [SI, 95 % half-width].
type prior struct {
	Input
	half float64
	step float64 // for slopes by differences [SI]
}

// priors are all inputs, with the bands that the draws of the build give.
func (b *Build) priors(gaps, wide [4]bool) []prior {
	var out []prior
	add := func(n Name, at int, half, step float64) {
		if half > 0 {
			out = append(out, prior{Input{n, at}, half, step})
		}
	}
	for i := range 4 {
		for _, n := range Named {
			if n == StopGap && !gaps[i] {
				continue
			}
			add(n, i, known[n], map[Name]float64{Friction: 2, StopGap: 2e-4}[n]+map[Name]float64{SpringRate: 0.01, BumpDamping: 0.01, ReboundDamping: 0.01}[n])
		}
		gain := known[TravelGain]
		if wide[i] {
			gain = gainWide
		}
		add(TravelGain, i, gain, 0.002)
		add(TravelZero, i, b.zeroHalf(i), 5e-4)
	}
	for a := range 2 {
		add(TyreRate, a, b.spreadOf(func(c *ride.Car) float64 { return c.Corners[2*a].Tyre.Rate }), 0.01)
		add(UnsprungMass, a, b.spreadOf(func(c *ride.Car) float64 { return c.Corners[2*a].UnsprungMass }), 0.01)
	}
	add(SprungMass, -1, b.spreadOf(func(c *ride.Car) float64 { return c.SprungMass }), 0.005)
	add(RollInertia, -1, b.spreadOf(func(c *ride.Car) float64 { return c.InertiaRoll }), 0.01)
	add(PitchInertia, -1, b.spreadOf(func(c *ride.Car) float64 { return c.InertiaPitch }), 0.01)
	add(Balance, -1, b.spreadOf(func(c *ride.Car) float64 { return 1 + c.CGToFront - b.Car.CGToFront }), 0.002)
	add(Delay, -1, known[Delay], 2e-4)
	return out
}

// zeroRead is how closely a zero of travel is read: half-width. Common practice, no source. [m]
const zeroRead = 1e-3

// zeroHalf is how far the zero of a corner's travel may be off [m]: friction holds a car
// anywhere within F·r/k of where it would stand, each place as likely, and a zero is read
// to zeroRead.
func (b *Build) zeroHalf(i int) float64 {
	in := &b.Car.Corners[i]
	w, r := 0.0, 1.0
	if b.Car.Rest != nil {
		w = b.Car.Rest[i]
	}
	if in.DamperTravel != nil {
		_, r, _ = in.DamperTravel(w)
	}
	_, rate := in.Spring(w)
	return math.Hypot(1.96/math.Sqrt(3)*in.Friction*r*r/rate, zeroRead)
}

// spreadOf is the 95 % half-width of a figure over the draws, as a share of what was
// entered; 0 where no draw moves it.
func (b *Build) spreadOf(of func(*ride.Car) float64) float64 {
	if len(b.Drawn) < 2 {
		return 0
	}
	sum := 0.0
	at := of(&b.Car)
	for i := range b.Drawn {
		d := of(&b.Drawn[i])/at - 1
		sum += d * d
	}
	return 1.96 * math.Sqrt(sum/float64(len(b.Drawn)))
}
