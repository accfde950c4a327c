package wording

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"trunnion/chassis/drives"
	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
	"trunnion/shop/quantity"
)

// NothingFound is said of a build of which nothing was found.
const NothingFound = "Nothing that was judged is over or close."

// Corners are the corners' short names, and CornersNote what they stand for.
var Corners = [4]string{"FL", "FR", "RL", "RR"}

// CornersNote says what the corners' short names stand for.
const CornersNote = "FL, FR, RL, RR are the corners, left and right as the driver sits."

// Compared says what the builds are compared with and what their bands are.
func (t *Teller) Compared(baseline string, samples int) string {
	bands := "No bands: no draws were taken."
	if samples > 0 {
		bands = fmt.Sprintf("Bands hold 95 %% of %d draws.", samples)
	}
	return "The baseline is “" + t.Build(baseline) + "”. " + bands
}

// Counts say how many findings of a build are over and close.
func Counts(list []*finding.Finding) string {
	n := map[finding.Verdict]int{}
	for _, f := range list {
		n[f.Verdict]++
	}
	text := fmt.Sprintf("%d over, %d close", n[finding.Over], n[finding.Close])
	if unknown := n[finding.Unknown]; unknown > 0 {
		text += fmt.Sprintf(", %d not known", unknown)
	}
	return text
}

// MatrixNote says how to read a table of findings.
const MatrixNote = "A figure is the build's worst place; its band stands below it, then where it is."

// FiguresNote says how to read the table of main figures at a damper speed [m/s].
func (t *Teller) FiguresNote(speed float64) string {
	return "Lengths in " + t.Unit("arch-height") + ", rates in " + t.Unit("wheel-rate") + ", frequencies in " + t.Unit("corner-frequency") +
		". Height is hub to arch. Preload is the spring's at full droop. The ratio is the mean of bump and rebound at " +
		t.Amount("", "m/s", speed) + " of the damper, without the tyre. ~ rests on estimates; > is beyond what was measured; " +
		WrongMark + " is on the wrong side: into the stop, past solid, past full droop, or loose."
}

// WrongMark stands behind a figure on the wrong side of its zero, where there is
// no room for a word.
const WrongMark = "×"

// Estimated says which inputs were not given.
func Estimated(paths []string, most int) string {
	names := Inputs(paths)
	text := "Not given, and estimated with a wide band: " + strings.Join(names[:min(len(names), most)], "; ")
	if len(names) > most {
		text += fmt.Sprintf("; and %d more", len(names)-most)
	}
	return text + "."
}

// MinutesNote is where the minutes of a measurement come from.
const MinutesNote = "Minutes: common practice, no source."

// FloorNote says how people feel vibration of a floor.
const FloorNote = "Words for the floor, ISO 2631-1:1997 annex C, ranges that overlap on purpose: below 0.315 m/s² not uncomfortable, 0.315 to 0.63 a little, 0.5 to 1 fairly, 0.8 to 1.6 uncomfortable, 1.25 to 2.5 very, above 2 extremely."

// RideNote says how to read what was driven.
const RideNote = "A figure is the build's worst corner. The softest worn damper always wins the first block: read it with those below. The floor is not the seat."

// Band says what the band of a figure holds and what it is made of.
func Band(v *figure.Value) string {
	switch v.BandOf {
	case figure.OfRuns:
		return "95 % band of the mean over the road's samples: the road's chance, the car as it stands"
	case figure.OfDraws:
		return "95 % of the draws of the car and of how it is driven"
	case figure.OfBoth:
		if v.High == v.Low {
			return "every sample of the road and every draw of the car gives the same"
		}
		car := int(math.Round(v.CarShare / quantity.Percent))
		return fmt.Sprintf("95 %% band: %d %% of its variance the car's tolerances, %d %% the road's chance", car, 100-car)
	}
	return "95 % of the draws"
}

// DriveBands says, under the results of drives, what their bands are made of; empty
// without bands.
func DriveBands(values []figure.Value) string {
	var shares []float64
	var text []string
	runs, draws := false, false
	for i := range values {
		switch v := &values[i]; v.BandOf {
		case figure.OfBoth:
			if v.High > v.Low {
				shares = append(shares, v.CarShare)
			}
		case figure.OfRuns:
			runs = runs || v.HasBand && !strings.HasPrefix(v.Code, "mount-")
		case figure.OfDraws:
			draws = true
		}
	}
	switch {
	case len(shares) > 0:
		slices.Sort(shares)
		text = append(text, fmt.Sprintf("Bands on roads hold the car's tolerances (%.0f %% of the variance in the median figure) and the road's chance.", shares[len(shares)/2]/quantity.Percent))
	case runs:
		text = append(text, "Bands on roads hold the road's chance alone, the car as it stands.")
	}
	if draws {
		text = append(text, "Bands over obstacles hold the car's tolerances, its speed and where the edge falls.")
	}
	return strings.Join(text, " ")
}

// Driven heads a block of results of drives: "Hard hits on the stop above 1000 N,
// per km". at is the place in the car, force what a hit must exceed [N].
func (t *Teller) Driven(code, at string, force float64) string {
	text := upper(Name(code))
	if at != "" {
		text = upper(Floor(at)) + ", weighted acceleration"
	}
	if force > 0 {
		text += " above " + t.Amount("", "N", force)
	}
	if unit := t.Unit(code); unit != "" {
		text += ", " + unit
	}
	return text
}

// NoneOn names the drives over which nothing was counted.
func NoneOn(names []string) string { return "None on: " + strings.Join(names, "; ") + "." }

// MarkerRead says what a marker on a rod read [m], over the predictions beside it.
func (t *Teller) MarkerRead(corner int, read float64) string {
	return "The " + Corner(corner) + " marker read " + t.Amount("damper-travel-used", "m", read) + ". Below: predicted travel, and how much deeper the marker went."
}

// Floor names a place on the floor of the car.
func Floor(at string) string {
	switch at {
	case drives.FloorDriver:
		return "floor under the driver"
	case drives.FloorRear:
		return "floor between the rear seats"
	}
	return spaced(at)
}
