package figure

// Tier says which kind of computation a value comes from.
type Tier string

// The tiers.
const (
	Static    Tier = "static"
	ModesTier Tier = "modes"
	Screening Tier = "screening"
	Time      Tier = "time"
)

// State says how far a value can be trusted.
type State string

// The states.
const (
	OK          State = "ok"
	FromGuesses State = "estimated" // an input that matters is an estimate
	Outside     State = "outside"   // beyond the range of a table or model
	Unknown     State = "unknown"   // no value; Reason says why
)

// None begins the reason of a value that is looked for and not there, as a
// critical speed of a car that is stable.
const None = "there is none"

// Corner indices, in the one order used everywhere.
const (
	FrontLeft = iota
	FrontRight
	RearLeft
	RearRight
	NoCorner = -1
)

// CornerNames are the names of the four corners in their order.
var CornerNames = [4]string{"front-left", "front-right", "rear-left", "rear-right"}

// Place says what a value is about. The zero value of a key means that the
// key does not apply; Corner uses NoCorner.
type Place struct {
	Build, Load string
	Corner      int     // FrontLeft … RearRight, or NoCorner
	At          string  // wheel, spring, damper, tyre, body, floor, seat
	Click       int     // counted from closed; valid when HasClick
	HasClick    bool    // a click applies
	Direction   string  // bump, rebound, mean; or a side
	Velocity    float64 // damper speed; 0 when it does not apply [m/s]
	Road, Event string
	Speed       float64 // road speed; 0 when it does not apply [m/s]
	Mode        string
	Threshold   float64 // force above which an event counts; 0 when it does not apply [N]
}

// Value is one result with its band and working.
type Value struct {
	Code      string
	Place     Place
	Tier      Tier
	Value     float64 // in the unit the register gives for Code [SI]
	Low, High float64 // ends of the 95 % band [SI]
	HasBand   bool    // Low and High mean something
	BandOf    BandOf  // what a drive's band is made of; empty elsewhere
	CarShare  float64 // of a band that is OfBoth, the share of its squared half-width that the draws of the car make [-]
	State     State
	Reason    string
	Working   *Working
	Warnings  []string
	Narrow    *Narrow // which input would narrow the band most, if known
}

// BandOf says what the band of a driven figure is made of.
type BandOf string

// The kinds.
const (
	OfDraws BandOf = "draws" // draws of the car and of how it is driven, on one obstacle
	OfRuns  BandOf = "runs"  // samples of one road, with the car as it stands: how well the mean is known
	OfBoth  BandOf = "both"  // both of these, on roads: CarShare says how much is of the car
)

// Narrow names the input that dominates a band.
type Narrow struct {
	Path      string  // of the input in the job
	Share     float64 // of the variance it explains [-]
	HalfAfter float64 // half-width of the band if that input were exact [SI]
	Effort    float64 // time it takes to measure it, common practice, no source [s]
}
