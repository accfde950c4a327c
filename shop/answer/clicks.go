package answer

import (
	"io"

	"trunnion/chassis/car"
	"trunnion/chassis/clickmap"
	"trunnion/chassis/dyno"
	"trunnion/chassis/figure"
)

// ClicksFormat names the contract of the click map.
const ClicksFormat = "trunnion.clicks/1"

// Clicks is trunnion.clicks/1: what each click of a build's dampers is worth on the car.
// Speeds are of the damper; lists by speed go from the low to the high one.
type Clicks struct {
	Format    string        `json:"format"`
	Program   string        `json:"program"`
	JobSHA256 string        `json:"job_sha256"`
	Build     string        `json:"build"`
	Load      string        `json:"load"`
	Speeds    [3]float64    `json:"speeds"` // [m/s]
	Wheels    []ClickWheel  `json:"wheels"`
	Unlike    []ClickUnlike `json:"unlike"` // axles whose sides are damped unlike
	Seen      []ClickSeen   `json:"seen"`   // on the brief's roads, at the build's clicks; empty: not driven
}

// ClickWheel is one damper's map, of both of an axle where they are alike.
type ClickWheel struct {
	Corner    string         `json:"corner"`
	Both      bool           `json:"both_sides"`
	Damper    string         `json:"damper"`
	Now       int            `json:"now"`
	Clicks    []Click        `json:"clicks"`
	Authority []ClickRange   `json:"authority"`
	CrossTalk *float64       `json:"cross_talk"` // at the middle speed [-]
	Faults    []ClickFault   `json:"faults"`
	Ladder    []ClickStep    `json:"ladder"`
	Wanted    []ClickNearest `json:"wanted"`
}

// Span is a figure with its 95 % range [SI].
type Span struct {
	Value *float64 `json:"value"`
	Low   *float64 `json:"low"`
	High  *float64 `json:"high"`
}

// Click is one setting, by speed.
type Click struct {
	Click        int        `json:"click"`
	Measured     bool       `json:"measured"`
	Bump         [3]Span    `json:"bump"`          // [N]
	Rebound      [3]Span    `json:"rebound"`       // [N]
	BumpStep     [3]Span    `json:"bump_step"`     // more than the next softer click [N]
	ReboundStep  [3]Span    `json:"rebound_step"`  // [N]
	Ratio        [3]Span    `json:"ratio"`         // of the corner, mean of both strokes [-]
	RatioBump    [3]Span    `json:"ratio_bump"`    // [-]
	RatioRebound [3]Span    `json:"ratio_rebound"` // [-]
	Heave        [3]float64 `json:"heave"`         // [-]
	Roll         [3]float64 `json:"roll"`          // [-]
	Pitch        [3]float64 `json:"pitch"`         // [-]
	Hop          [3]float64 `json:"hop"`           // [-]
	Outside      [3]bool    `json:"outside"`       // faster than the damper was measured
}

// ClickRange is one stroke from the softest to the hardest click at a speed.
type ClickRange struct {
	Stroke string   `json:"stroke"`
	Speed  float64  `json:"speed"` // [m/s]
	Soft   *float64 `json:"soft"`  // [N]
	Hard   *float64 `json:"hard"`  // [N]
	Times  *float64 `json:"times"` // [-]
}

// ClickFault is a step of the adjuster that is not as it should be.
type ClickFault struct {
	Fault  string  `json:"fault"`
	Soft   int     `json:"soft"`
	Hard   int     `json:"hard"`
	Stroke string  `json:"stroke"`
	Speed  float64 `json:"speed"`  // [m/s]
	Change float64 `json:"change"` // [N]
}

// ClickStep is a position of the ladder of equal steps.
type ClickStep struct {
	Click int     `json:"click"`
	Ratio float64 `json:"ratio"` // [-]
	Even  float64 `json:"even"`  // [-]
}

// ClickNearest is the click nearest to what is wanted at the middle speed.
type ClickNearest struct {
	Of     string  `json:"of"`   // ratio, bump, rebound
	Want   float64 `json:"want"` // [SI]
	Click  int     `json:"click"`
	Is     float64 `json:"is"` // [SI]
	Within bool    `json:"within_range"`
}

// ClickUnlike is an axle with unlike dampers, over obstacles that lie the same under both
// sides. Forces are at the middle speed, bump and rebound.
type ClickUnlike struct {
	Axle  string         `json:"axle"`
	Left  [2]float64     `json:"left"`  // [N]
	Right [2]float64     `json:"right"` // [N]
	Over  []ClickParting `json:"over"`
}

// ClickParting is one obstacle driven with the dampers as they are and with both at their
// mean.
type ClickParting struct {
	Event     string  `json:"event"`
	Speed     float64 `json:"speed"`            // of the car [m/s]
	Roll      float64 `json:"roll"`             // dampers as they are [rad]
	Even      float64 `json:"roll_even"`        // both at their mean [rad]
	ByDampers float64 `json:"roll_by_dampers"`  // [rad]
	Pitch     float64 `json:"pitch_by_dampers"` // [rad]
	Load      float64 `json:"load_by_dampers"`  // left less right tyre load [N]
}

// ClickSeen is how fast a damper moves on a road.
type ClickSeen struct {
	Corner string     `json:"corner"`
	Road   string     `json:"road"`
	Load   string     `json:"load"`
	Speed  float64    `json:"speed"`     // of the car [m/s]
	Slow   float64    `json:"slow"`      // share of the time [-]
	Mid    float64    `json:"mid"`       // [-]
	Fast   float64    `json:"fast"`      // [-]
	Bins   []ClickBin `json:"bins"`      // how much of the time at which damper speed
	Ones   []ClickOne `json:"one_click"` // half the time slower, and 95 % of it
}

// ClickBin is a range of damper speed 10 mm/s wide, by its middle.
type ClickBin struct {
	Speed float64 `json:"speed"` // bump positive [m/s]
	Share float64 `json:"share"` // of the time [-]
}

// ClickOne is what one click harder than the build's gives at a damper speed of a road.
type ClickOne struct {
	Slower  float64 `json:"slower"`  // share of the time that the damper is slower [-]
	Speed   float64 `json:"speed"`   // [m/s]
	Bump    Span    `json:"bump"`    // [N]
	Rebound Span    `json:"rebound"` // [N]
	Outside bool    `json:"outside"` // faster than the damper was measured
}

// WriteJSON writes the document.
func (d *Clicks) WriteJSON(w io.Writer) error { return WriteJSON(w, d) }

// NewClicks makes the document.
func NewClicks(program, sha256 string, m *clickmap.Map) *Clicks {
	d := &Clicks{Format: ClicksFormat, Program: program, JobSHA256: sha256, Build: m.Build.ID, Load: m.Ask.Load, Speeds: m.Ask.Speeds, Wheels: []ClickWheel{}, Unlike: []ClickUnlike{}, Seen: []ClickSeen{}}
	for i := range m.Wheels {
		d.Wheels = append(d.Wheels, clickWheel(&m.Wheels[i]))
	}
	for i := range m.Unlike {
		u := &m.Unlike[i]
		one := ClickUnlike{
			Axle: car.AxleNames[u.Axle], Left: [2]float64{u.Force[0].Left, u.Force[1].Left}, Right: [2]float64{u.Force[0].Right, u.Force[1].Right}, Over: []ClickParting{},
		}
		for _, p := range u.Over {
			one.Over = append(one.Over, ClickParting(p))
		}
		d.Unlike = append(d.Unlike, one)
	}
	for _, s := range m.Seen {
		one := ClickSeen{
			Corner: figure.CornerNames[s.Corner], Road: s.Road, Load: s.Load, Speed: s.Speed, Slow: s.Slow, Mid: s.Mid, Fast: s.Fast, Bins: []ClickBin{}, Ones: []ClickOne{},
		}
		for _, b := range s.Bins {
			one.Bins = append(one.Bins, ClickBin(b))
		}
		for k := range s.Ones {
			o := &s.Ones[k]
			one.Ones = append(one.Ones, ClickOne{clickmap.Reached[k], o.Speed, span(&o.Worth[0]), span(&o.Worth[1]), o.Outside})
		}
		d.Seen = append(d.Seen, one)
	}
	return d
}

func clickWheel(w *clickmap.Wheel) ClickWheel {
	out := ClickWheel{
		Corner: figure.CornerNames[w.Corner], Both: !w.Sided, Damper: w.Damper.ID, Now: w.Now, CrossTalk: Finite(w.CrossTalk),
		Clicks: []Click{}, Authority: []ClickRange{}, Faults: []ClickFault{}, Ladder: []ClickStep{}, Wanted: []ClickNearest{},
	}
	for i := range w.Clicks {
		c := &w.Clicks[i]
		one := Click{
			Click: c.Click, Measured: c.Measured, Bump: spans(&c.Force[0]), Rebound: spans(&c.Force[1]), BumpStep: spans(&c.Worth[0]), ReboundStep: spans(&c.Worth[1]),
			Ratio: spans(&c.Ratio), RatioBump: spans(&c.Apart[0]), RatioRebound: spans(&c.Apart[1]), Outside: c.Outside,
		}
		for k, m := range c.Modes {
			one.Heave[k], one.Roll[k], one.Pitch[k], one.Hop[k] = m.Heave, m.Roll, m.Pitch, m.Hop
		}
		out.Clicks = append(out.Clicks, one)
	}
	for s := range w.Authority {
		for _, a := range w.Authority[s] {
			out.Authority = append(out.Authority, ClickRange{string(a.Stroke), a.Speed, Finite(a.Soft.Value), Finite(a.Hard.Value), Finite(a.Times)})
		}
	}
	for _, f := range w.Faults {
		out.Faults = append(out.Faults, ClickFault{string(f.Fault), f.Soft, f.Hard, string(f.Stroke), f.Speed, f.Change.Value})
	}
	for _, s := range w.Ladder {
		out.Ladder = append(out.Ladder, ClickStep(s))
	}
	for _, n := range w.Wanted {
		out.Wanted = append(out.Wanted, ClickNearest{wantedOf(n.Ratio, n.Stroke), n.Want, n.Click, n.Is, n.Within})
	}
	return out
}

func wantedOf(ratio bool, stroke dyno.Stroke) string {
	if ratio {
		return "ratio"
	}
	return string(stroke)
}

func span(f *clickmap.Figure) Span { return Span{Finite(f.Value), Finite(f.Low), Finite(f.High)} }

func spans(list *[3]clickmap.Figure) (out [3]Span) {
	for k, f := range list {
		out[k] = Span{Finite(f.Value), Finite(f.Low), Finite(f.High)}
	}
	return out
}
