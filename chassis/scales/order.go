package scales

import "math"

// Step is one piece of the work, in the order in which it is done.
type Step struct {
	Code     string
	Cautions []string // codes of what to mind where the hands are
	Again    bool     // a change of height opens it again
	Now      bool     // the work stands here
}

// heightChange is how far an axle may move before what hangs on its height is
// opened again: common practice, no source. [m]
const heightChange = 2e-3

// Order returns the order of work, which is not gone through in another one,
// and where a plan stands in it.
//
// Fit, settle, bushes, heights, cross weight, bars, alignment, heights and cross
// again, lamps and sensors, clicks, road test, marker. Every change of height
// after alignment opens alignment again. Common practice, no source.
func Order(p *Plan) []Step {
	list := []Step{
		{Code: "fit"},
		{Code: "settle", Cautions: []string{"roll-never-drop", "steering-straight-brakes-off"}},
		{Code: "bushes", Cautions: []string{"tighten-at-height"}},
		{Code: "heights", Cautions: []string{"stands-before-hands", "spring-under-load", "clean-thread", "count-turns", "lock-collar"}},
		{Code: "cross", Cautions: []string{"stands-before-hands", "opposite-turns", "count-turns", "lock-collar"}},
		{Code: "bars", Cautions: []string{"driver-aboard", "link-drops-in"}},
		{Code: "alignment"},
		{Code: "read-again", Cautions: []string{"same-state"}},
		{Code: "lamps"},
		{Code: "sensors"},
		{Code: "clicks", Cautions: []string{"clicks-as-noted"}},
		{Code: "road-test"},
		{Code: "marker"},
	}
	if p == nil {
		return list
	}
	at := "bars"
	if p.Turn {
		at = "cross"
		for _, a := range Reopened(p) {
			for k := range list {
				if list[k].Code == a {
					list[k].Again = true
				}
			}
		}
		for a := range 2 {
			if math.Abs(p.After.Mean[a].Value-p.Now.Mean[a].Value) > heightChange {
				at = "heights"
			}
		}
	}
	for k := range list {
		list[k].Now = list[k].Code == at
	}
	return list
}

// Reopened lists what a plan's change of height opens again, for the handover.
func Reopened(p *Plan) []string {
	var before, after Reading
	for i := range 4 {
		before.Height[i], after.Height[i] = p.Now.Height[i].Value, p.After.Height[i].Value
	}
	return Opened(&before, &after)
}

// Opened lists what a change of height from one reading to another opens again:
// alignment, the gap to the stop and sensors that know the height where a corner
// moved, lamps where the rake or an axle did, and bushes that were tightened at
// another height. What was not read opens nothing.
//
// More than 2 mm, of bushes 4 mm: common practice, no source.
func Opened(before, after *Reading) []string {
	var list []string
	corner, axle := 0.0, 0.0
	for i := range 4 {
		corner = most(corner, after.Height[i]-before.Height[i])
	}
	for a := range 2 {
		axle = most(axle, after.Mean(a)-before.Mean(a))
	}
	if corner > heightChange {
		list = append(list, "alignment", "stop-gap", "sensors")
	}
	if most(axle, after.Rake()-before.Rake()) > heightChange {
		list = append(list, "lamps")
	}
	if axle > 2*heightChange {
		list = append(list, "bushes")
	}
	return list
}

// most is the greater of a magnitude and that of a change; a change that is not
// known is none.
func most(than, change float64) float64 {
	if c := math.Abs(change); c > than {
		return c
	}
	return than
}
