package struts

import (
	"errors"
	"math"
	"slices"

	"trunnion/chassis/axles"

	"gonum.org/v1/gonum/spatial/r3"

	"trunnion/chassis/geom"
	"trunnion/chassis/linkage"
	"trunnion/chassis/strut"
	"trunnion/shop/desk"
	"trunnion/shop/quantity"
	"trunnion/shop/view"
	"trunnion/shop/wording"
)

// points are the places of a frame, in its order.
var points = []string{"contact", "hub", "ball", "armFront", "armRear", "tieInner", "tieOuter", "top", "low", "springTop", "springAt"}

func placesOf(j *strut.Joints) []geom.Vec {
	return []geom.Vec{j.Contact, j.Hub, j.Ball, j.ArmFront, j.ArmRear, j.TieInner, j.TieOuter, j.Top, j.Low, j.SpringTop, j.SpringAt}
}

// forces are the forces drawn, in the order of a frame, as they act on the
// carrier with its tube and on the rod.
var forces = []Force{
	{"contact", "contact"},
	{"spring", "springAt"},
	{"top", "top"},
	{"guide", "guide"},
	{"lower", "lower"},
	{"ball", "ball"},
	{"tie", "tieOuter"},
}

// travelsOf are steps over a range with some travels of their own among them,
// rising [m].
func travelsOf(low, high float64, own []float64) []float64 {
	var out []float64
	for k := math.Ceil(low / view.FrameStep); k*view.FrameStep <= high; k++ {
		w := k * view.FrameStep
		if !slices.ContainsFunc(own, func(o float64) bool { return math.Abs(o-w) < 0.4*view.FrameStep }) {
			out = append(out, w)
		}
	}
	for _, o := range own {
		if !math.IsNaN(o) && !slices.ContainsFunc(out, func(w float64) bool { return math.Abs(o-w) < 1e-5 }) {
			out = append(out, o)
		}
	}
	slices.Sort(out)
	return out
}

// frames moves every build's strut through its travel under the loads of the
// chosen case.
func (u *page) frames() {
	out := u.out
	out.Points, out.Forces = points, forces
	for _, f := range wording.StrutFigures(u.axle) {
		out.Heads = append(out.Heads, f.Label)
	}
	own := make([]float64, len(u.all.Builds))
	for i := range u.all.Builds {
		own[i] = u.strips[i][2*u.axle].Rest
		if n := caseOf(&u.all.Builds[i], out.Case); n >= 0 && u.all.Builds[i].Cases[n].Err == nil {
			own[i] = u.all.Builds[i].Cases[n].Travel + u.move.Lower
		}
	}
	low, high := view.Reach(u.strips, 2*u.axle)
	travels := travelsOf(low, high, own)
	moved := make([][]strut.Moment, len(u.all.Builds))
	errs := make([][]error, len(u.all.Builds))
	loads := make([]func(float64) strut.Load, len(u.all.Builds))
	for i := range u.all.Builds {
		moved[i], errs[i], loads[i] = u.struts.Over(&u.all.Builds[i], &u.move, u.drawnCase(&u.all.Builds[i]), travels)
	}
	u.travels, u.drawn, u.drawnErrs = travels, moved, errs
	u.wheel()
	// A travel at which the linkage itself stands is one to be drawn: a strut may
	// be too short or too long there, and says so.
	kept := []int{}
	for k, w := range travels {
		var lock *linkage.LockError
		at := -1
		for i := range moved {
			if moved[i] != nil && (errs[i][k] == nil || !errors.As(errs[i][k], &lock)) && moved[i][k].Joints.Top != (geom.Vec{}) {
				at = i
				break
			}
		}
		if at < 0 {
			continue
		}
		kept = append(kept, k)
		f := Frame{Travel: u.Length(w), Shown: quantity.Format(w, quantity.Length, u.System, quantity.Auto), At: [][]float64{}}
		for _, p := range placesOf(&moved[at][k].Joints) {
			f.At = append(f.At, u.Point(p))
		}
		out.Frames = append(out.Frames, f)
	}
	var sketched []string
	for i := range u.all.Builds {
		one := &u.all.Builds[i]
		b := Build{
			Build: one.Build.ID, Name: wording.StrutName(one), Reference: i == u.referenceOf(), Inverted: one.Layout.Inverted,
			Forces: wording.StrutForces(one.Layout.Inverted), Says: []string{}, Marks: u.TravelMarks(&u.strips[i][2*u.axle+one.Side]), Now: []Now{}, Changes: []Change{},
		}
		b.How = "rod in its tube"
		if b.Inverted {
			b.How = "inverted: the body slides in the outer tube"
		}
		if !math.IsNaN(one.Straight) {
			b.Straight = u.Teller.StraightSpring(wording.StrutName(one), one.Straight)
		}
		if n := caseOf(one, out.Case); n >= 0 && one.Cases[n].Err == nil && u.move.Heavier == 0 {
			b.Loaded = u.Teller.StrutLoaded(&one.Cases[n])
		}
		first := math.NaN()
		for n, k := range kept {
			if travels[k] == own[i] || math.Abs(travels[k]-own[i]) < math.Abs(travels[kept[b.Frame]]-own[i]) {
				b.Frame = n
			}
			now := u.now(i, &moved[i][k], errs[i][k], loads[i](travels[k]).Contact)
			if math.IsNaN(first) && now.OK {
				first = now.To
			}
			b.Now = append(b.Now, now)
		}
		if !math.IsNaN(own[i]) {
			b.Marks = append(b.Marks, view.TravelMark{At: u.Length(own[i]), Kind: "case", Label: "of the case drawn"})
		}
		var more []string
		b.Section, more = u.section(one, first)
		for _, now := range b.Now {
			if now.OK {
				b.Section.Below = math.Max(b.Section.Below, math.Max(b.Section.BodyEnd, now.To+b.Section.LowerLength)+u.Length(tubeOver)-now.Axis)
			}
		}
		for _, m := range more {
			if !slices.Contains(sketched, m) {
				sketched = append(sketched, m)
			}
		}
		out.Builds = append(out.Builds, b)
	}
	out.Drawn = wording.StrutDrawn(append(sketched, "tyre width, springs’ diameter"))
	for i := range u.moments {
		for n := range u.moments[i] {
			if m := &u.moments[i][n]; m.Err == nil {
				for _, f := range forcesOf(&m.Was, u.all.Builds[i].Cases[n].Load.Contact) {
					out.Most = math.Max(out.Most, u.Force(r3.Norm(f)))
				}
			}
		}
	}
}

// drawnCase is the place of the case that is drawn among a build's.
func (u *page) drawnCase(one *axles.BuildStrut) int {
	if u.out.Case == carriedCase {
		return desk.StrutCarried
	}
	return caseOf(one, u.out.Case)
}

// forcesOf are the forces in the order drawn [N].
func forcesOf(m *strut.Moment, contact geom.Vec) []geom.Vec {
	j, f := &m.Joints, &m.Forces
	push := r3.Unit(r3.Sub(j.Low, j.Top))
	if j.SpringTop != j.SpringAt {
		push = r3.Unit(r3.Sub(j.SpringAt, j.SpringTop))
	}
	side := geom.Vec{}
	if f.Across > 0 {
		side = r3.Scale(1/f.Across, f.Side)
	}
	tie := r3.Scale(f.Tie, r3.Unit(r3.Sub(j.TieOuter, j.TieInner)))
	return []geom.Vec{
		contact, r3.Scale(f.Spring, push), f.Side, r3.Scale(-m.Bearing.Guide, side), r3.Scale(m.Bearing.Lower, side), f.Ball, tie,
	}
}
