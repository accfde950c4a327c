package change

import (
	"math"
	"slices"

	"trunnion/chassis/car"
	"trunnion/chassis/corner"
	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
	"trunnion/chassis/study"
)

// Steps in which parts are sold and settings are made: common practice, no
// source.
const (
	RateStep    = 5e3   // of springs [N/m]
	FreeStep    = 10e-3 // of springs' free lengths [m]
	PackerStep  = 5e-3  // [m]
	StopStep    = 5e-3  // a stop is cut by [m]
	helperStep  = 5e-3  // of helpers' travels [m]
	HeightStep  = 5e-3  // an axle is raised by [m]
	damperStep  = 5e-3  // of a damper's length that is made to order [m]
	valvingStep = 0.1   // of its forces [-]
)

// How far each is believable: common practice, no source.
const (
	mostRaise   = 40e-3 // of an axle, at the wheel [m]
	MostPacker  = 20e-3 // more [m]
	mostHelper  = 40e-3 // travel [m]
	MostDamper  = 25e-3 // other length of a damper that is made to order [m]
	mostStroke  = 0.2   // of its stroke that is [-]
	mostValving = 0.5   // other forces [-]
	leastStop   = 0.5   // of a stop that is cut [-]
)

// Bench is a build of an answer, as its changes are made from how it rests in the
// usual load state.
type Bench struct {
	a             *study.Answer
	build         *car.Build
	number, usual int
}

// At puts a build of an answer on the bench: by its place in the job, at rest in a
// load state by its place.
func At(a *study.Answer, build, usual int) *Bench {
	return &Bench{a: a, build: a.Job.Builds[build], number: build, usual: usual}
}

// Move is a change of a build in one step of what is sold or turned.
type Move struct {
	Kind   finding.Kind
	Code   string
	Path   string // what is changed: builds.kit.rear.packer
	Axle   int
	Side   int     // figure.NoCorner for both
	By     float64 // [SI unit of Unit]
	Unit   string
	Choice string
	Part   *car.SpringSpec // that is bought, where it is a certain one
	Unsure bool            // whether it fits the seats: an inside diameter is missing
	Sizes  []finding.Size
	Effort float64 // what it costs a plan, in parts of a finding of weight one: chosen [-]
	Slot   string  // of one slot, one move stands in a plan
	Apply  func(*car.Build)
}

// Made is the build with moves made: dampers of the list first, whose stops may be
// cut then, other parts, and what is turned last. Rubber bushes are tightened anew where
// the car then rests, at every axle that is taken apart or stands at another height.
func Made(b *car.Build, moves []*Move) *car.Build {
	out := *b
	stage := func(m *Move) int {
		switch {
		case m.Kind == finding.Damper:
			return 0
		case m.Turned():
			return 2
		}
		return 1
	}
	for k := range 3 {
		for _, m := range moves {
			if stage(m) == k {
				m.Apply(&out)
				if m.loosens() {
					out.Both(m.Axle, func(ax *car.BuildCorner) { ax.BushTightened = "rest" })
				}
			}
		}
	}
	out.ReadAs(b)
	return &out
}

// Turned reports whether a move only turns collars, or sets heights.
func (m *Move) Turned() bool {
	return m.Kind == finding.Level || m.Kind == finding.Raise && m.Code != "longer-spring"
}

// loosens reports whether bushes are tightened anew after a move.
func (m *Move) loosens() bool { return m.Kind != finding.Clicks && m.Kind != finding.Bar }

// site is where a part is changed: at both corners of an axle where both have
// it, else at each.
type site struct {
	axle    int
	corners []int
}

func (s site) side() int {
	if len(s.corners) == 1 {
		return s.corners[0]
	}
	return figure.NoCorner
}

// sites are those of an axle for a part.
func sites(b *car.Build, axle int, same func(l, r *car.BuildCorner) bool) []site {
	l := 2 * axle
	if same(&b.Corner[l], &b.Corner[l+1]) {
		return []site{{axle, []int{l, l + 1}}}
	}
	return []site{{axle, []int{l}}, {axle, []int{l + 1}}}
}

func sameSpring(l, r *car.BuildCorner) bool { return l.Spring == r.Spring && l.Helper == r.Helper }
func sameDamper(l, r *car.BuildCorner) bool { return l.Damper == r.Damper }
func sameStop(l, r *car.BuildCorner) bool   { return l.Stop == r.Stop }
func samePacker(l, r *car.BuildCorner) bool {
	return l.Stop == r.Stop && l.Packer.Value == r.Packer.Value //nolint:floateq // typed alike
}

// change makes a change of the parts at a site.
func (s site) change(f func(*car.BuildCorner)) func(*car.Build) {
	if len(s.corners) == 1 {
		return func(b *car.Build) { f(&b.Corner[s.corners[0]]) }
	}
	return func(b *car.Build) { b.Both(s.axle, f) }
}

// move makes a move of a change at a site.
func (t *Bench) move(s site, kind finding.Kind, code, path string, by float64, unit string, f func(*car.BuildCorner)) *Move {
	where := "builds." + t.build.ID + "." + car.AxleNames[s.axle] + "."
	if s.side() != figure.NoCorner {
		where += car.SideNames[s.side()&1] + "."
	}
	return &Move{Kind: kind, Code: code, Path: where + path, Axle: s.axle, Side: s.side(), By: by, Unit: unit, Slot: path + where, Apply: s.change(f)}
}

func (m *Move) size(code string, was, is float64, unit string) *Move {
	m.Sizes = append(m.Sizes, finding.Size{Code: code, Was: was, Is: is, Unit: unit, Corner: figure.NoCorner})
	return m
}

func (m *Move) costs(effort float64) *Move {
	m.Effort = effort
	return m
}

// corner is a corner of the build as it rests in the usual load state.
func (t *Bench) corner(i int) (m *corner.Model, travel float64) {
	c := &t.a.Cases[t.number][t.usual]
	return &c.System.Corner[i], c.State.Travel[i]
}

// ratios are spring and damper travel per wheel travel at a corner.
func (t *Bench) ratios(i int) (spring, damper float64) {
	m, w := t.corner(i)
	_, spring, _ = m.SpringTravel.At(w)
	_, damper, _ = m.DamperTravel.At(w)
	return spring, damper
}

// Moves are all that could be changed at an axle, kind by kind, each kind by its
// size.
func (t *Bench) Moves(axle int) []*Move {
	var out []*Move
	out = append(out, t.Raises(axle)...)
	out = append(out, t.Levels(axle)...)
	for _, s := range sites(t.build, axle, sameSpring) {
		out = append(out, t.springs(s)...)
	}
	for _, s := range sites(t.build, axle, sameStop) {
		out = append(out, t.shorterStops(s)...)
	}
	for _, s := range sites(t.build, axle, samePacker) {
		out = append(out, t.packers(s)...)
	}
	for _, s := range sites(t.build, axle, sameDamper) {
		out = append(out, t.clicks(s)...)
	}
	out = append(out, t.holes(axle)...)
	for _, s := range sites(t.build, axle, sameSpring) {
		out = append(out, t.helpers(s)...)
	}
	for _, s := range sites(t.build, axle, func(l, r *car.BuildCorner) bool { return sameDamper(l, r) && samePacker(l, r) }) {
		out = append(out, t.listedDampers(s)...)
	}
	for _, s := range sites(t.build, axle, sameDamper) {
		out = append(out, t.dampers(s)...)
	}
	return out
}

// Kinds sorts moves by kind, each in the order it was made.
func Kinds(list []*Move) [][]*Move {
	var out [][]*Move
	for _, k := range finding.Kinds() {
		var codes []string
		for _, m := range list {
			if id := m.Code + m.Slot; m.Kind == k && !slices.Contains(codes, id) {
				codes = append(codes, id)
			}
		}
		for _, id := range codes {
			var one []*Move
			for _, m := range list {
				if m.Kind == k && m.Code+m.Slot == id {
					one = append(one, m)
				}
			}
			out = append(out, one)
		}
	}
	return out
}

func toStep(v, step float64) float64 { return step * math.Round(v/step) }
