package wording

import (
	"math"

	"trunnion/chassis/figure"
)

// sides are the words for both sides of a signed distance: nobody reads a sign
// aloud. The good side is what the code's name promises.
type sides struct {
	good, bad string // "clear", "into the stop"
	brief     string // the bad side where a table leaves little room
	negative  bool   // the good side is the negative one
}

// sided are the codes that are told by their side.
var sided = map[string]sides{
	"travel-to-stop":      {good: "clear", bad: "into the stop", brief: "into"},
	"travel-to-stop-firm": {good: "left", bad: "past firm", brief: "past"},
	"travel-to-stop-hard": {good: "left", bad: "past hard", brief: "past"},
	"travel-to-solid":     {good: "left", bad: "past solid", brief: "past"},
	"travel-to-closed":    {good: "left", bad: "past closed", brief: "past"},
	"travel-to-arch":      {good: "clear", bad: "into the arch", brief: "into"},
	"travel-to-block":     {good: "left", bad: "past coil bind", brief: "past"},
	"travel-to-open":      {good: "left", bad: "past full droop", brief: "past"},
	"inside-droop-left":   {good: "left", bad: "past full droop", brief: "past"},
	"travel-to-limit":     {good: "left", bad: "past the limit", brief: "past"},
	"solid-before-arch":   {good: "clear", bad: "short", brief: "short"},
	"solid-before-block":  {good: "clear", bad: "short", brief: "short"},
	"end-before-limit":    {good: "clear", bad: "short", brief: "short"},
	"lip-gap":             {good: "inside", bad: "outside", brief: "outside"},
	"strut-gap":           {good: "clear", bad: "short", brief: "short"},
	"liner-gap":           {good: "clear", bad: "short", brief: "short"},
	"spring-gap-open":     {good: "preload", bad: "loose", brief: "loose", negative: true},
}

// turn is a value as its name counts it, the good side positive.
func (s *sides) turn(v float64) float64 {
	if s.negative {
		return -v
	}
	return v
}

// HasSides reports whether the values of a code are told by their side and not by
// their sign.
func HasSides(code string) bool {
	_, ok := sided[code]
	return ok
}

// Wrong reports whether a value of a code is on the wrong side: in the stop, past
// solid, loose.
func Wrong(code string, v float64) bool {
	s, ok := sided[code]
	return ok && s.turn(v) < 0
}

// Side is the short word of the wrong side of a code's zero, for a figure that
// stands on it; empty otherwise.
func Side(code string, v float64) string {
	if Wrong(code, v) {
		return sided[code].brief
	}
	return ""
}

// Sided is a value of a code as it is told: without its sign where the code has
// words for both sides.
func Sided(code string, v float64) float64 {
	if _, ok := sided[code]; ok {
		return math.Abs(v)
	}
	return v
}

// span is the ends of a band told by sides, each with its word where they
// differ: "6 to 14", "11 into to 6 clear".
func (s *sides) span(u unit, v *figure.Value, good, bad string) string {
	if !v.HasBand || math.IsNaN(v.Low) || math.IsNaN(v.High) {
		return ""
	}
	low, high := s.turn(v.Low), s.turn(v.High)
	if low > high {
		low, high = high, low
	}
	d := u.coarse(low, high)
	switch {
	case low < 0 && high > 0:
		return joined([]string{u.number(-low, d), bad}) + " to " + joined([]string{u.number(high, d), good})
	case high <= 0:
		low, high = -high, -low
	}
	a, b := u.number(low, d), u.number(high, d)
	if low == high {
		return ""
	}
	return a + " to " + b
}
