package remedy

import (
	"math"
	"slices"

	"trunnion/chassis/car"
	"trunnion/chassis/corner"
	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
)

// Steps in which parts are sold and settings are made: common practice, no
// source.
const (
	rateStep    = 5e3   // of springs [N/m]
	freeStep    = 10e-3 // of springs' free lengths [m]
	packerStep  = 5e-3  // [m]
	stopStep    = 5e-3  // a stop is cut by [m]
	helperStep  = 5e-3  // of helpers' travels [m]
	heightStep  = 5e-3  // an axle is raised by [m]
	damperStep  = 5e-3  // of a damper's length that is made to order [m]
	valvingStep = 0.1   // of its forces [-]
)

// How far each is believable: common practice, no source.
const (
	mostRaise   = 40e-3 // of an axle, at the wheel [m]
	mostPacker  = 20e-3 // more [m]
	mostHelper  = 40e-3 // travel [m]
	mostDamper  = 25e-3 // other length of a damper that is made to order [m]
	mostStroke  = 0.2   // of its stroke that is [-]
	mostValving = 0.5   // other forces [-]
	leastStop   = 0.5   // of a stop that is cut [-]
)

// move is a change of a build in one step of what is sold or turned.
type move struct {
	kind   finding.Kind
	code   string
	path   string
	axle   int
	side   int // figure.NoCorner for both
	by     float64
	unit   string
	choice string
	sizes  []finding.Size
	effort float64 // what it costs a plan, in parts of a finding of weight one: chosen [-]
	slot   string  // of one slot, one move stands in a plan
	apply  func(*car.Build)
}

// made is the build with moves made: dampers of the list first, whose stops may be
// cut then, other parts, and what is turned last.
func made(b *car.Build, moves []*move) *car.Build {
	out := *b
	stage := func(m *move) int {
		switch {
		case m.kind == finding.Damper:
			return 0
		case m.kind == finding.Raise && m.code != "longer-spring":
			return 2
		}
		return 1
	}
	for k := range 3 {
		for _, m := range moves {
			if stage(m) == k {
				m.apply(&out)
			}
		}
	}
	return &out
}

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
func (r *review) move(s site, kind finding.Kind, code, path string, by float64, unit string, f func(*car.BuildCorner)) *move {
	where := "builds." + r.build.ID + "." + car.AxleNames[s.axle] + "."
	if s.side() != figure.NoCorner {
		where += car.SideNames[s.side()&1] + "."
	}
	return &move{kind: kind, code: code, path: where + path, axle: s.axle, side: s.side(), by: by, unit: unit, slot: path + where, apply: s.change(f)}
}

func (m *move) size(code string, was, is float64, unit string) *move {
	m.sizes = append(m.sizes, finding.Size{Code: code, Was: was, Is: is, Unit: unit, Corner: figure.NoCorner})
	return m
}

func (m *move) costs(effort float64) *move {
	m.effort = effort
	return m
}

// corner is a corner of the build as it rests in the usual load state.
func (r *review) corner(i int) (m *corner.Model, travel float64) {
	c := &r.a.Cases[r.number][r.usual]
	return &c.System.Corner[i], c.State.Travel[i]
}

// ratios are spring and damper travel per wheel travel at a corner.
func (r *review) ratios(i int) (spring, damper float64) {
	m, w := r.corner(i)
	_, spring, _ = m.SpringTravel.At(w)
	_, damper, _ = m.DamperTravel.At(w)
	return spring, damper
}

// moves are all that could be changed at an axle, kind by kind, each kind by its
// size.
func (r *review) moves(axle int) []*move {
	var out []*move
	out = append(out, r.raises(axle)...)
	for _, s := range sites(r.build, axle, sameSpring) {
		out = append(out, r.springs(s)...)
	}
	for _, s := range sites(r.build, axle, sameStop) {
		out = append(out, r.shorterStops(s)...)
	}
	for _, s := range sites(r.build, axle, samePacker) {
		out = append(out, r.packers(s)...)
	}
	for _, s := range sites(r.build, axle, sameDamper) {
		out = append(out, r.clicks(s)...)
	}
	out = append(out, r.holes(axle)...)
	for _, s := range sites(r.build, axle, sameSpring) {
		out = append(out, r.helpers(s)...)
	}
	for _, s := range sites(r.build, axle, func(l, r *car.BuildCorner) bool { return sameDamper(l, r) && samePacker(l, r) }) {
		out = append(out, r.listedDampers(s)...)
	}
	for _, s := range sites(r.build, axle, sameDamper) {
		out = append(out, r.dampers(s)...)
	}
	return out
}

// kinds sorts moves by kind, each in the order it was made.
func kinds(list []*move) [][]*move {
	var out [][]*move
	for _, k := range finding.Kinds() {
		var codes []string
		for _, m := range list {
			if id := m.code + m.slot; m.kind == k && !slices.Contains(codes, id) {
				codes = append(codes, id)
			}
		}
		for _, id := range codes {
			var one []*move
			for _, m := range list {
				if m.kind == k && m.code+m.slot == id {
					one = append(one, m)
				}
			}
			out = append(out, one)
		}
	}
	return out
}

func toStep(v, step float64) float64 { return step * math.Round(v/step) }
