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

// Reopened lists what a plan's change of height opens again, for the handover:
// bushes that were tightened at another height, alignment, lamps by the change
// of rake, sensors that know the height, and the gap to the stop.
func Reopened(p *Plan) []string {
	var list []string
	corner, axle := 0.0, 0.0
	for i := range 4 {
		corner = math.Max(corner, math.Abs(p.After.Height[i].Value-p.Now.Height[i].Value))
	}
	for a := range 2 {
		axle = math.Max(axle, math.Abs(p.After.Mean[a].Value-p.Now.Mean[a].Value))
	}
	if corner > heightChange {
		list = append(list, "alignment", "stop-gap", "sensors")
	}
	if math.Abs(p.After.Rake.Value-p.Now.Rake.Value) > heightChange || axle > heightChange {
		list = append(list, "lamps")
	}
	if axle > 2*heightChange {
		list = append(list, "bushes")
	}
	return list
}
