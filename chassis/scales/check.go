package scales

// Verdict is what the gate says of one thing.
type Verdict string

// The verdicts.
const (
	Pass    Verdict = "pass"
	Caution Verdict = "caution"
	Stop    Verdict = "stop"
)

// Detail is one figure of a check.
type Detail struct {
	Code   string  // what it is
	Value  float64 // in Unit [SI]
	Unit   string  // SI
	Corner int     // −1: the whole car
}

// Check is one thing that the gate looked at.
type Check struct {
	Code    string
	Verdict Verdict
	Corner  int      // −1: the whole car
	Other   int      // second corner of a pair, −1: none
	Figures []Detail // the reason
	Causes  []Cause  // what would explain it, the likeliest first
}

// doubts are the checks that somebody can overrule who read again: they doubt a
// figure, and nothing of the car's state.
var doubts = map[string]bool{
	"odd-reading": true, "corners-swapped": true, "total": true, "front-share": true, "left-share": true,
	"height-from-floor": true, "height-not-to-arch": true,
}

// Doubt reports that a check stops the readings for a figure that may still be right.
func (c *Check) Doubt() bool { return c.Verdict == Stop && doubts[c.Code] }

// Typo is what could have been meant by one figure instead of what was typed.
type Typo struct {
	Code   string // digits-transposed, point-moved, other-unit, digit-misread, sign-slipped
	Corner int
	Height bool    // a height; else a load
	Typed  float64 // [kg] or [m]
	Meant  float64 // [kg] or [m]
	Text   string  // what was meant, as it would be typed
}

// Cause is a slip that would explain an odd reading.
type Cause struct {
	Code   string  // that of a Typo; loads-swapped, heights-swapped, corners-swapped
	Corner int     // whose reading it is
	Other  int     // second corner, −1: none
	Height bool    // a height; else a load
	Value  float64 // what the reading would be then; 0 of a swap [kg] or [m]
	Text   string  // the same as it would be typed; empty of a swap
	Off    float64 // from the prediction then, in standard deviations; of a swap the misfit left; 0 of a figure that no car has [-]
}

func figureOf(code string, v float64, unit string) Detail {
	return Detail{Code: code, Value: v, Unit: unit, Corner: -1}
}

// checked is a check of the whole car.
func checked(code string, v Verdict, figures ...Detail) Check {
	return Check{Code: code, Verdict: v, Corner: -1, Other: -1, Figures: figures}
}
