package ride

import (
	"fmt"
	"strings"
)

// Fault is one thing in a Car or a Run that cannot be computed with.
type Fault struct {
	Field  string  // path of the field, such as Corners[2].Tyre.Rate
	Value  float64 // what stands there, in the field's unit [unit of the field]
	Reason string  // what it must be
}

// InputError carries all faults found, not only the first.
type InputError struct {
	Faults []Fault
}

func (e *InputError) Error() string {
	parts := make([]string, len(e.Faults))
	for i, f := range e.Faults {
		parts[i] = fmt.Sprintf("%s is %g: %s", f.Field, f.Value, f.Reason)
	}
	return strings.Join(parts, "; ")
}

// RestError says that the car finds no rest position; it holds the last state tried.
type RestError struct {
	Corner int        // the corner that is furthest from balance
	Miss   float64    // force missing there [N]
	Travel [4]float64 // last wheel travels [m]
	Reason string
}

func (e *RestError) Error() string {
	return fmt.Sprintf("no rest position: %s (corner %d, %.0f N missing)", e.Reason, e.Corner, e.Miss)
}

// DivergedError says that a run left the range of the model and was stopped.
type DivergedError struct {
	Time   float64    // [s]
	Corner int        // the corner at which it was noticed
	Step   float64    // the step in use [s]
	Travel [4]float64 // wheel travels then [m]
}

func (e *DivergedError) Error() string {
	return fmt.Sprintf("run diverged at %.4f s, corner %d, step %g s, wheel travels %.3g m", e.Time, e.Corner, e.Step, e.Travel)
}

// WarningCode names a doubt of the engine about its input or its result.
type WarningCode string

// The doubts.
const (
	RestMoved       WarningCode = "rest-moved"         // the car does not stay where Rest says; Value: greatest miss [m]
	SlopeMismatch   WarningCode = "slope-mismatch"     // Spring's slope is not the derivative of its force; Value: share
	FallingSpring   WarningCode = "falling-spring"     // Spring loses force with bump within ±60 mm; Value: slope [N/m]
	HeavyFriction   WarningCode = "heavy-friction"     // friction above 150 N without a mount: trust no peak forces; Value [N]
	WheelOffGround  WarningCode = "wheel-off-ground"   // a wheel carries nothing at rest
	RestsPastTable  WarningCode = "rests-past-table"   // the stop's crush at rest is past its measured curve; Value [m]
	VeryFast        WarningCode = "very-fast"          // speed above 300 km/h; Value [m/s]
	StepTooLong     WarningCode = "step-too-long"      // the asked step is longer than the wheel-hop rule allows; Value [s]
	StepNotSettled  WarningCode = "step-not-settled"   // step halving still moves a result by more than the tolerance; Value: share
	FewStopHits     WarningCode = "few-stop-hits"      // fewer than ten hits: their rate per kilometre is a guess; Value: hits
	SlopeOfDamper   WarningCode = "damper-not-rising"  // damper force falls with speed somewhere; Value: speed [m/s]
	OutsideModel    WarningCode = "outside-model"      // a stop past its table or travel past ±250 mm; Value: time share
	OutsideDyno     WarningCode = "outside-dyno"       // damper speeds past the measured ones; Value: time share
	ShortStatistics WarningCode = "statistics-too-few" // less than 5 s of road behind the averages; Value [s]
)

// Warning is a doubt that travels with a result.
type Warning struct {
	Code   WarningCode
	Corner int     // 0..3, or −1 where no corner is meant
	Value  float64 // see the code [unit of the code]
}
