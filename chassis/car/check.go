package car

import (
	"math"
	"reflect"
	"slices"

	"trunnion/chassis/figure"
)

// Problem is something in the inputs that cannot be, or that looks like one of
// the usual slips.
type Problem struct {
	Refuse    bool // it cannot be; else somebody should look
	Path      string
	Line      int
	Got, Want Phrase
	Slip      Slip // what probably happened
}

// Phrase is a sentence with {} in the place of each amount, so that whoever
// shows it chooses the units.
type Phrase struct {
	Text    string
	Amounts []Amount
}

// Amount is a number of a phrase.
type Amount struct {
	Value float64 // [SI unit of Unit]
	Unit  string  // SI; "-" for a pure number, "share" for one shown in per cent
	Typed string  // as the person wrote it, shown instead where there is one
}

// Slip is one of the usual ways to write a wrong number. Its sentence, which
// speaks of units, is the shop's.
type Slip string

// The slips.
const (
	none             Slip = ""
	Pounds           Slip = "pounds"              // a mass in pounds
	PoundsOnScales   Slip = "pounds-on-scales"    // all four loads in pounds
	PoundsOrAxle     Slip = "pounds-or-axle"      // a load in pounds or of two wheels
	WholeAxle        Slip = "whole-axle"          // of two wheels
	KilogramForce    Slip = "kilogram-force"      // a rate by the weight of a kilogram
	ImperialRate     Slip = "imperial-rate"       // a rate in imperial units
	PoundsPressure   Slip = "pounds-pressure"     // a pressure in imperial units
	PerFlat          Slip = "per-flat"            // a pitch per flat of the collar
	FromTheFloor     Slip = "from-the-floor"      // floor to arch
	LengthForStroke  Slip = "length-for-stroke"   // length and stroke mixed up
	LengthForRod     Slip = "length-for-rod"      // length and rod showing mixed up
	WheelRateForTyre Slip = "wheel-rate-for-tyre" // wheel rate and tyre rate mixed up
	TurnedOver       Slip = "turned-over"         // a ratio the wrong way up
	StrutNearOne     Slip = "strut-near-one"      // a ratio no strut has
	PackerTakes      Slip = "packer-takes"        // a negative packer
	OtherUnit        Slip = "other-unit"          // a speed in another unit
	MetresPerSecond  Slip = "metres-per-second"   // speeds a thousand times too slow
	Exchanged        Slip = "exchanged"           // bump and rebound
	OtherForce       Slip = "other-force"         // forces by the weight of a kilogram or a pound
)

// Slips lists all slips.
func Slips() []Slip {
	return []Slip{
		Pounds, PoundsOnScales, PoundsOrAxle, WholeAxle, KilogramForce, ImperialRate, PoundsPressure, PerFlat, FromTheFloor,
		LengthForStroke, LengthForRod, WheelRateForTyre, TurnedOver, StrutNearOne, PackerTakes, OtherUnit, MetresPerSecond, Exchanged, OtherForce,
	}
}

func say(text string, amounts ...Amount) Phrase { return Phrase{Text: text, Amounts: amounts} }

func of(in *Input, unit string) Amount { return Amount{Value: in.Value, Unit: unit, Typed: in.Typed} }

func si(value float64, unit string) Amount { return Amount{Value: value, Unit: unit} }

// Check returns everything about a car, its builds and load states that cannot be, or that
// looks wrong, in no order. Estimates that Fill made are not judged; the same
// part in several builds is judged once.
//
// The ranges to refuse and to warn at, and the slips, are common practice, no
// source.
func Check(c *Car, builds []*Build, loads []Load) []Problem {
	k := checker{car: c, fitted: fittedBuild(c, builds), seen: map[any]bool{}}
	k.body()
	k.weighing()
	for a := range 2 {
		k.axle(a)
	}
	for _, b := range builds {
		k.build(b)
	}
	for i := range loads {
		k.payloads(loads[i].Items)
	}
	k.trailers(loads)
	k.preload()
	return k.list
}

type checker struct {
	car    *Car
	fitted *Build
	seen   map[any]bool
	list   []Problem
	again  bool // the problem found last was in the list already
}

func (k *checker) add(refuse bool, path string, line int, got, want Phrase) {
	p := Problem{Refuse: refuse, Path: path, Line: line, Got: got, Want: want}
	// What is said of an axle stands at both of its corners and is judged twice.
	k.again = slices.ContainsFunc(k.list, func(q Problem) bool {
		q.Slip = none
		return reflect.DeepEqual(p, q)
	})
	if !k.again {
		k.list = append(k.list, p)
	}
}

func (k *checker) at(refuse bool, in *Input, unit string, want Phrase) {
	k.add(refuse, in.Path, in.Line, say("is {}", of(in, unit)), want)
}

// slip adds what probably happened to the problem found last.
func (k *checker) slip(s Slip) {
	if !k.again {
		k.list[len(k.list)-1].Slip = s
	}
}

// span is where a value may lie: refused outside the outer ends, warned at
// outside the inner ones.
type span struct {
	least, low, high, most float64 // [SI unit of unit]
	unit                   string
	slipLow, slipHigh      Slip // what is usually wrong below and above
}

var (
	cornerLoads    = span{100, 180, 650, 1200, "kg", none, PoundsOrAxle}
	unsprungMasses = span{10, 25, 65, 150, "kg", none, WholeAxle}
	springRates    = span{5e3, 15e3, 250e3, 500e3, "N/m", KilogramForce, ImperialRate}
	helperRates    = span{300, 800, 250e3, 500e3, "N/m", none, none}
	pitches        = span{0.0005, 0.001, 0.003, 0.005, "m/turn", PerFlat, none}
	archHeights    = span{0.2, 0.28, 0.45, 0.7, "m", none, FromTheFloor}
	strokes        = span{0.03, 0.09, 0.25, 0.4, "m", none, LengthForStroke}
	stopLengths    = span{0.005, 0.02, 0.08, 0.12, "m", none, none}
	gasPressures   = span{0, 2e5, 30e5, 50e5, "Pa", none, PoundsPressure}
	gasExponents   = span{1, 1, 1.4, 1.67, "-", none, none}
	gasForces      = span{0, 0, 600, 2500, "N", none, none}
	tyreRates      = span{80e3, 150e3, 350e3, 600e3, "N/m", WheelRateForTyre, none}
	cornerings     = span{10e3, 25e3, 120e3, 300e3, "N/rad", none, none}
	compliances    = span{-2e-5, -2e-6, 4e-6, 2e-5, "rad/N", none, none}
	liftAreas      = span{-3, -0.8, 0.4, 2, "m^2", none, none}
	topSpeeds      = span{8, 30, 90, 140, "road m/s", none, none}
	ratios         = span{0.3, 0.5, 1.05, 1.3, "-", none, TurnedOver}
	strutRatios    = span{0.3, 0.85, 1.0, 1.3, "-", StrutNearOne, TurnedOver}
	wheelbases     = span{1.5, 2.0, 3.3, 4.5, "m", none, none}
	tracks         = span{0.9, 1.2, 1.8, 2.3, "m", none, none}
	kerbMasses     = span{400, 600, 2400, 4800, "kg", none, Pounds}
	axleShares     = span{0.25, 0.35, 0.68, 0.75, "share", none, none}
	evenSides      = span{0.38, 0.46, 0.54, 0.62, "share", none, none}
	wholeShares    = span{0, 0, 1, 1, "share", none, none}
	heightsOfMass  = span{0.2, 0.35, 0.8, 1.3, "m", none, none}
	rollCentres    = span{-0.3, -0.1, 0.4, 0.7, "m", none, none}
	rollInertias   = span{50, 150, 1200, 4000, "kg·m^2", none, none}
	pitchInertias  = span{150, 500, 6000, 20000, "kg·m^2", none, none}
	frictions      = span{0, 0, 300, 1000, "N", none, none}
	bushRates      = span{0, 0, 8e3, 30e3, "N/m", none, none}
	barRates       = span{0, 0, 120e3, 400e3, "N/m", none, none}
	barArms        = span{0.05, 0.1, 0.4, 0.6, "m", none, none}
	linkRatios     = span{0.1, 0.25, 1.05, 1.5, "-", none, TurnedOver}
	springLengths  = span{0.02, 0.1, 0.45, 0.8, "m", none, none}
	helperLengths  = span{0.005, 0.02, 0.15, 0.3, "m", none, none}
	damperLengths  = span{0.1, 0.2, 0.75, 1.2, "m", none, none}
	rodLengths     = span{0.01, 0.05, 0.28, 0.45, "m", none, LengthForRod}
	rodDiameters   = span{0.006, 0.01, 0.03, 0.07, "m", none, none}
	bodyDiameters  = span{0.015, 0.025, 0.06, 0.1, "m", none, none}
	packers        = span{0, 0, 0.04, 0.1, "m", PackerTakes, none}
	closers        = span{-0.25, -0.12, 0.12, 0.25, "m", none, none}
	drops          = span{-0.05, 0.005, 0.06, 0.12, "m", none, none}
	losses         = span{0, 0.05, 0.6, 0.95, "share", none, none}
	dynamics       = span{1, 1, 2.5, 4, "-", none, none}
	mountRates     = span{5e4, 1e5, 2e7, 1e9, "N/m", none, none}
	mountRatings   = span{200, 800, 12e3, 60e3, "N", none, none}
	mountSlopes    = span{1.5, 3, 10, 20, "-", none, none}
	bumps          = span{0.005, 0.02, 0.16, 0.35, "m", none, none}
	trailerMasses  = span{50, 150, 2500, 4000, "kg", none, Pounds}
	trailerLengths = span{0.8, 1.5, 6, 9, "m", none, none}
	bodyLengths    = span{0.8, 1.5, 8, 12, "m", none, none}
	towingSpeeds   = span{3, 15, 36, 60, "road m/s", none, none}
	payloadMasses  = span{-600, -300, 500, 1500, "kg", none, Pounds}
	placesBehind   = span{-1.5, -1.0, 4.5, 7, "m", none, none}
	placesUp       = span{0, 0.1, 1.8, 3, "m", none, none}
	hubHeights     = span{0.15, 0.22, 0.42, 0.6, "m", none, none}
	placesLeft     = span{-1.3, -0.9, 0.9, 1.3, "m", none, none}
	dynoForces     = span{0, 0, 6e3, 20e3, "N", none, none}
	dynoSpeeds     = span{0, 0, 1.5, 5, "m/s", none, OtherUnit}
	stopForces     = span{0, 0, 40e3, 200e3, "N", none, none}
	clickCounts    = span{0, 0, 40, 100, "-", none, none}
)

// within judges one input. It says true when nothing stops further use of it.
func (k *checker) within(in *Input, s span) bool {
	if !in.Known() || in.Origin == figure.Estimated && in.Typed == "" {
		return in.Known()
	}
	v := in.Value
	slip := none
	if v < s.low {
		slip = s.slipLow
	}
	if v > s.high {
		slip = s.slipHigh
	}
	switch {
	case math.IsNaN(v) || v < s.least || v > s.most:
		k.at(true, in, s.unit, say("it must be {} to {}", si(s.least, s.unit), si(s.most, s.unit)))
		k.slip(slip)
		return false
	case s.least > 0 && in.Half >= v:
		k.at(true, in, s.unit, say("its band reaches down to nothing; give a narrower one"))
		return false
	case v < s.low || v > s.high:
		k.at(false, in, s.unit, say("usual is {} to {}", si(s.low, s.unit), si(s.high, s.unit)))
		k.slip(slip)
	}
	return true
}
