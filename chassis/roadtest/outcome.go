package roadtest

import "trunnion/chassis/road"

// Estimate is what the log says of one input.
type Estimate struct {
	Input
	Value float64 // on top of what was entered [SI]
	Half  float64 // of its 95 % band [SI]
	Prior float64 // half-width it was given before the log spoke [SI]
}

// Fit is what a log says of the model.
type Fit struct {
	Estimates []Estimate
	// Related are the correlations of the estimates, in their order [-].
	Related [][]float64
	// Left is what the model as entered leaves unexplained, as a share of what the road does; Fitted the same with the
	// estimates. [-]
	Left, Fitted float64
	Wrong        []Wrong // with the channels: with a sign or a place wrong, nothing is estimated
	Rounds       int     // of Gauss and Newton [-]
	Time         float64 // of the log that was looked at [s]

	shift  shift
	pieces []*piece
	legs   *[4]leg
	build  *Build
}

// Mistake is something wrong with the channels rather than with the car.
type Mistake string

// The mistakes that are looked for.
const (
	WrongSign  Mistake = "sign"    // of one corner's travel, or of all: Corner -1
	Swapped    Mistake = "swapped" // two corners' travel
	WrongGain  Mistake = "gain"    // of one corner's travel, or its motion ratio: Value is what it reads of the truth [-]
	WrongBuild Mistake = "build"   // the log is of another build or load: Value is by how much the springs differ [-]
	WrongZero  Mistake = "zero"    // of one corner's travel: Value is by how much it reads high [m]
)

// Wrong is a mistake with its place.
type Wrong struct {
	Mistake Mistake
	Corner  int
	Other   int     // of two that are swapped
	Value   float64 // see the mistake [SI]
	Half    float64 // of its 95 % band [SI]
}

// Offer is a correction that the log speaks for.
type Offer struct {
	Estimate
	Entered   float64 // what the build has: see its input [SI]
	Corrected float64 // [SI]
	Explains  []int   // figures outside their bands, by their place in Outcome.Figures, that come inside with it
	Left      int     // figures outside their bands with it taken [-]
	With      []Input // others that the log cannot tell from it
}

// Figure is one figure of the log beside its prediction.
type Figure struct {
	Code      Code
	Corner    int
	Measured  float64 // [SI]
	Predicted float64 // of the build as entered, over the same road [SI]
	Low, High float64 // of the prediction, 95 % [SI]
	Refit     float64 // of the build with all that the log says of it, over the same road [SI]
	Outside   bool
}

// Stretch is a piece of the log with the road that was recovered.
type Stretch struct {
	Start, Length float64 // in the log [s], of the road [m]
	Speed         float64 // [m/s]
	Class         road.Class
	Roughness     float64 // Gd(n0) of a spectrum of waviness 2 [m³]
	Low, High     float64 // of the roughness, 95 % [m³]
	Index         float64 // of roughness, IRI of the left track [m/m]
}

// Outcome is a log held against its prediction.
type Outcome struct {
	Fit       *Fit
	Figures   []Figure
	Stretches []Stretch
	Strikes   []Strike // measured
	Expected  []Strike // of the prediction
	Travel    [4][2]Histogram
	Velocity  [4][2]Histogram // measured, predicted
	Floor     [4]float64      // of velocity: one step of the log over one of time [m/s]
	Offers    []Offer
	Distance  float64 // [m]
	Wrong     []Wrong
}
