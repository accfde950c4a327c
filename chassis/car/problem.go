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
