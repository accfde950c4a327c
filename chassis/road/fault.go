package road

import (
	"fmt"
	"strings"
)

// InputError says which number given to this package cannot be used, and what
// could stand there.
type InputError struct {
	What  string  // the quantity, in words
	Value float64 // what stands there [SI unit of the quantity]
	Want  string  // what could stand there
}

func (e *InputError) Error() string {
	return fmt.Sprintf("road: %s is %g; it must be %s", e.What, e.Value, e.Want)
}

// need returns an *InputError unless from ≤ value ≤ to; a value that is not a
// number is never inside.
func need(what string, value, from, to float64, unit string) error {
	if value >= from && value <= to {
		return nil
	}
	return &InputError{what, value, fmt.Sprintf("between %g and %g %s", from, to, unit)}
}

// FaultKind is a way in which readings of a road make no profile.
type FaultKind int

// What can be wrong with readings.
const (
	TooFewReadings  FaultKind = iota // fewer than four distances
	LengthsDiffer                    // heights and distances are not equally many
	NoHeights                        // neither track has heights
	NotFinite                        // a distance or height is not a number
	GoesBackwards                    // a distance is not beyond the one before
	SpacingTooClose                  // readings closer than a road has a shape
	SpacingTooWide                   // readings too far apart to tell a road
	GapTooLong                       // a gap too long to be bridged by a straight line
	TooLong                          // more grid points than are reasonable
	HeightTooGreat                   // a height that is not a road's
)

var faultNames = [...]string{
	"too few readings", "lengths differ", "no heights", "not a number", "distance goes backwards or stands still",
	"readings too close", "readings too far apart", "gap too long", "profile too long", "height out of range",
}

func (k FaultKind) String() string {
	if k < 0 || int(k) >= len(faultNames) {
		return "unknown fault"
	}
	return faultNames[k]
}

// Fault is one kind of trouble with readings: where it is met first and how
// often.
type Fault struct {
	Kind  FaultKind
	First int     // index of the first reading it is met at
	Count int     // how many readings have it
	Value float64 // what stands there first [m]
	Want  string  // what could stand there
}

func (f Fault) String() string {
	return fmt.Sprintf("%s at reading %d (%g), %d in all; %s", f.Kind, f.First, f.Value, f.Count, f.Want)
}

// Faults are all the faults of a set of readings at once.
type Faults []Fault

func (f Faults) Error() string {
	var b strings.Builder
	b.WriteString("road: readings make no profile: ")
	for i, one := range f {
		if i > 0 {
			b.WriteString("; ")
		}
		b.WriteString(one.String())
	}
	return b.String()
}

// WarningKind is a doubt about a profile that can still be used.
type WarningKind int

// What a profile can be doubted for.
const (
	SingleTrack     WarningKind = iota // one track only: used for both, so no roll is put in
	UnevenSpacing                      // readings unevenly spaced: laid on an even grid
	GapBridged                         // a gap was bridged by a straight line
	VerticalStep                       // a step: a point contact would see a jump; use Enveloped
	CloseSpacing                       // finer than a tyre feels; texture only costs time
	WideSpacing                        // too wide for wheel hop; short waves are missing
	HeightsDoubtful                    // slopes as of a wrong unit
)

var warningNames = [...]string{
	"one track only, used for both", "uneven spacing, laid on an even grid", "gap bridged by a straight line",
	"step in the profile, to be rolled over by a wheel of finite radius", "spacing finer than a tyre feels",
	"spacing too wide for wheel hop", "slopes of a road in another unit",
}

func (k WarningKind) String() string {
	if k < 0 || int(k) >= len(warningNames) {
		return "unknown warning"
	}
	return warningNames[k]
}

// Warning is one doubt about a profile.
type Warning struct {
	Kind  WarningKind
	At    float64 // distance where it is met first [m]
	Count int     // how often
	Value float64 // the greatest spacing, gap, step or slope it speaks of [SI unit of that quantity]
}

func (w Warning) String() string {
	return fmt.Sprintf("%s: first at %g m, %d in all, greatest %g", w.Kind, w.At, w.Count, w.Value)
}
