package study

import (
	"math"

	"trunnion/chassis/figure"
	"trunnion/chassis/spread"
)

// band is the share of the draws that a band holds.
const band = 0.95

// value makes one value with its band.
func (s *setup) value(a *Answer, code string, place figure.Place, nominal float64, b, l, column int, scratch []float64) figure.Value {
	entry := figure.Must(code)
	place.At = entry.At
	v := figure.Value{Code: code, Place: place, Tier: figure.Static, Value: nominal, State: figure.OK}
	if math.IsNaN(nominal) {
		v.State, v.Reason = figure.Unknown, unknownReason(code)
		return v
	}
	if a.columns == nil {
		return v
	}
	column2 := a.columns.of(b, l, column)
	v.Low, v.High, v.HasBand = spread.Band(column2, band, scratch)
	if v.HasBand && s.guessed(a.columns, column2) > 0.25 {
		v.State = figure.FromGuesses
	}
	return v
}

// guessed returns the share of a column's variance that estimated inputs
// explain, from the first draws: enough to tell much from little.
func (s *setup) guessed(c *columns, values []float64) float64 {
	share := 0.0
	for _, in := range c.first.Influences(values) {
		if s.banded[in.Dim].Origin == figure.Estimated && !isHangup(s.banded[in.Dim]) {
			share += in.Share
		}
	}
	return share
}

func isHangup(in *figure.Input) bool { return len(in.Path) > 9 && in.Path[:9] == "friction." }

// NoEnd says why nothing is said of a stop whose place nobody knows.
const NoEnd = "the damper's lengths, the rod showing or the stop are not known"

// NoLengths says why nothing is said of a damper's open end.
const NoLengths = "the damper's lengths between its mounts are not known"

// unknownReason says what has to be measured before there is a number.
func unknownReason(code string) string {
	switch code {
	case "travel-to-arch", "solid-before-arch":
		return "the travel at which the tyre meets the arch was not measured"
	case "travel-to-block", "solid-before-block":
		return "the spring's block length is not known, or its coils never touch"
	case "damping-ratio":
		return "the damper has no force table"
	case "frequency-ratio":
		return "not judged while a stop carries load"
	case "travel-to-stop-firm", "travel-to-stop-hard", "catch-speed":
		return "the stop's table ends before it carries that load, or there is no stop or damper length"
	case "spring-gap-open", "travel-to-open", "travel-to-closed":
		return NoLengths
	case "travel-to-stop", "travel-to-solid", "stop-share":
		return NoEnd
	}
	return "not enough is known"
}
