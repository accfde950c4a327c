package answer

import (
	"io"
	"slices"

	"trunnion/chassis/cornering"
	"trunnion/chassis/figure"
	"trunnion/chassis/study"
	"trunnion/shop/wording"
)

// CornerFormat names the contract of builds taken round a corner.
const CornerFormat = "trunnion.corner/1"

// CornerCodes are the figures of a build that cornering is told by, as a whole.
var CornerCodes = []string{
	"roll-gradient", "camber-to-road", "front-transfer-share", "front-roll-share", "bar-roll-share", "understeer-total", "understeer-gradient", "links-steer", "camber-steer", "compliance-steer", "lift-steer", "critical-speed", "towing-settling", "weave-damping", "weave-frequency", "towing-critical-speed", "yaw-settling", "yaw-damping", "yaw-frequency",
}

// Corner is trunnion.corner/1.
type Corner struct {
	Format       string        `json:"format"`
	Program      string        `json:"program"`
	JobSHA256    string        `json:"job_sha256"`
	Load         string        `json:"load"`
	Lateral      float64       `json:"lateral"`      // that was gone to, left positive [m/s2]
	Longitudinal float64       `json:"longitudinal"` // at the end [m/s2]
	Builds       []CornerBuild `json:"builds"`
}

// CornerBuild is one build round the corner.
type CornerBuild struct {
	Build    string          `json:"build"`
	Failed   *string         `json:"failed"` // why there is no answer
	Values   []Value         `json:"values"`
	Preload  [2]*float64     `json:"bar_preload"` // with which each bar lifts the left corner straight ahead [N]
	Contacts []CornerContact `json:"contacts"`
	Lifts    []CornerLift    `json:"lifts"`
	Ended    *CornerEnd      `json:"ended"` // null: the end that was asked for was reached
	Points   Table           `json:"points"`
	Holes    []CornerHoles   `json:"bar_holes"`
	AtSpeed  *CornerAtSpeed  `json:"at_speed"` // null: the brief names no speed, or it does not rest
}

// CornerAtSpeed is how steady a build is at speed, beside what it is compared with.
type CornerAtSpeed struct {
	Speed    float64  `json:"speed"`     // where builds are compared [m/s]
	Top      float64  `json:"up_to"`     // up to where it was looked at [m/s]
	Critical *float64 `json:"critical"`  // null: stable up to there [m/s]
	Sharp    *float64 `json:"as_sharp"`  // speed at which it answers to steer as the other does; null for none [m/s]
	Swings   *float64 `json:"swings_as"` // speed at which it swings as long as the other [m/s]
	Steering string   `json:"steering"`
	Says     string   `json:"says"` // against the other; empty where it is compared with none
}

// CornerContact is a stop that is met.
type CornerContact struct {
	Corner       string   `json:"corner"`
	AtRest       bool     `json:"at_rest"`
	Lateral      float64  `json:"lateral"`            // [m/s2]
	Longitudinal float64  `json:"longitudinal"`       // [m/s2]
	Before       *float64 `json:"front_share_before"` // of little more load transfer [-]
	After        *float64 `json:"front_share_after"`  // [-]
}

// CornerLift is a wheel that lifts off.
type CornerLift struct {
	Corner       string  `json:"corner"`
	Lateral      float64 `json:"lateral"`      // [m/s2]
	Longitudinal float64 `json:"longitudinal"` // [m/s2]
}

// CornerEnd is where the car is no longer held.
type CornerEnd struct {
	Tips         bool    `json:"tips_over"`
	Lateral      float64 `json:"lateral"`      // reached [m/s2]
	Longitudinal float64 `json:"longitudinal"` // reached [m/s2]
}

// CornerHoles is what an adjustable bar does in each of its holes.
type CornerHoles struct {
	Axle  string   `json:"axle"`
	Names []string `json:"names"`
	Used  []bool   `json:"used"`
	Table Table    `json:"table"`
}

// WriteJSON writes the document.
func (d *Corner) WriteJSON(w io.Writer) error { return WriteJSON(w, d) }

// NewCornerBuild makes a build's part of the document; values are those of the
// whole answer.
func NewCornerBuild(build, load string, values []Value, c *cornering.Car, s *cornering.Swept, holes [2][]study.BarHole) CornerBuild {
	out := emptyCornerBuild(build)
	for i := range values {
		v := &values[i]
		if v.Build != nil && *v.Build == build && v.Load != nil && *v.Load == load && slices.Contains(CornerCodes, v.Code) {
			out.Values = append(out.Values, *v)
		}
	}
	for a := range 2 {
		out.Preload[a] = Finite(c.RollStiffness(a).Preload)
	}
	for i := range s.Contacts {
		k := &s.Contacts[i]
		out.Contacts = append(out.Contacts, CornerContact{figure.CornerNames[k.Corner], k.AtRest, k.Lateral, k.Longitudinal, Finite(k.Before), Finite(k.After)})
	}
	for i := range s.Lifts {
		k := &s.Lifts[i]
		out.Lifts = append(out.Lifts, CornerLift{figure.CornerNames[k.Corner], k.Lateral, k.Longitudinal})
	}
	if s.Ended != nil {
		out.Ended = &CornerEnd{s.Ended.Over, s.ReachedLateral, s.ReachedLongitudinal}
	}
	out.Points = CornerPoints(c, s)
	for a, list := range holes {
		one := CornerHoles{Axle: *AxleName(a), Names: []string{}, Used: []bool{}}
		var rows []study.BarHole
		for i := range list {
			if list[i].Err == nil {
				one.Names, one.Used, rows = append(one.Names, list[i].ID), append(one.Used, list[i].Used), append(rows, list[i])
			}
		}
		if len(rows) > 0 {
			one.Table = TableOf(wording.BarHoleColumns(), rows)
			out.Holes = append(out.Holes, one)
		}
	}
	return out
}

// FailedCornerBuild is a build that does not go round the corner.
func FailedCornerBuild(build string, err error) CornerBuild {
	out := emptyCornerBuild(build)
	text := err.Error()
	out.Failed = &text
	return out
}

func emptyCornerBuild(build string) CornerBuild {
	return CornerBuild{
		Build: build, Values: []Value{}, Contacts: []CornerContact{}, Lifts: []CornerLift{}, Points: Table{Columns: []Column{}, Rows: [][]*float64{}}, Holes: []CornerHoles{},
	}
}

// CornerPoints are the points of a sweep.
func CornerPoints(c *cornering.Car, s *cornering.Swept) Table {
	type p = cornering.Point
	columns := []wording.Column[p]{
		{Name: "lateral_m_s2", SI: "m/s^2", Of: func(p *p) float64 { return p.Lateral }},
		{Name: "longitudinal_m_s2", SI: "m/s^2", Of: func(p *p) float64 { return p.Longitudinal }},
		{Name: "roll_rad", SI: "rad", Of: c.RollAt},
		{Name: "pitch_rad", SI: "rad", Of: c.PitchAt},
		{Name: "heave_m", SI: "m", Of: func(p *p) float64 { return p.Heave - c.Rest().Heave }},
		{Name: "front_share", SI: "1", Of: c.FrontShare},
	}
	for _, each := range []struct {
		name, unit, si string
		of             func(p *p, k int) float64
	}{
		{"travel", "_m", "m", func(p *p, k int) float64 { return p.Travel[k] }},
		{"load", "_n", "N", func(p *p, k int) float64 { return p.Load[k] }},
		{"stop", "_n", "N", c.StopForce},
		{"droop", "_m", "m", c.Droop},
		{"camber", "_rad", "rad", c.Camber},
		{"toe", "_rad", "rad", c.Toe},
	} {
		for k, short := range [4]string{"fl", "fr", "rl", "rr"} {
			columns = append(columns, wording.Column[p]{Name: each.name + "_" + short + each.unit, SI: each.si, Of: func(p *p) float64 { return each.of(p, k) }})
		}
	}
	for a, name := range [2]string{"front", "rear"} {
		columns = append(columns, wording.Column[p]{Name: "roll_centre_" + name + "_m", SI: "m", Of: func(p *p) float64 { return c.RollCentreAt(p, a) }})
	}
	for a, name := range [2]string{"front", "rear"} {
		columns = append(columns, wording.Column[p]{Name: "steer_" + name + "_rad", SI: "rad", Of: func(p *p) float64 { return c.Steer(p, a) }})
	}
	return TableOf(columns, s.Points)
}
