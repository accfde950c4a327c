package axles

import (
	"context"
	"errors"
	"math"
	"slices"

	"trunnion/chassis/car"
	"trunnion/chassis/drives"
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/geom"
	"trunnion/chassis/linkage"
	"trunnion/chassis/strut"
	"trunnion/chassis/study"
)

// StrutAsk is what struts are put under.
type StrutAsk struct {
	Axle   int
	Builds []string // ids; empty: all
	Load   string   // load state, by id; empty: that of ordinary driving
	Offset float64  // wheel further out by, by offset or spacer [m]

	Lateral float64 // acceleration of the car in the bend, the strut outside [m/s2]
	Braking float64 // deceleration of the car [m/s2]
	// Transfer and Dive set the load of the outside wheel in the bend, and that of
	// the wheel under braking, over its load at rest, the travel kept; 0 takes
	// loads and travel from the car's own balance. [-]
	Transfer, Dive float64
	NoEvents       bool // leave the brief's obstacles out
	Each           bool // both struts of every build, alike or not
	Points         int  // of travel, for the strut over travel; 0: none
}

// UsualStrutAsk is a bend and braking near what road tyres hold: common practice,
// no source.
func UsualStrutAsk(axle int) StrutAsk {
	return StrutAsk{Axle: axle, Lateral: 0.9 * equilibrium.Gravity, Braking: 0.9 * equilibrium.Gravity, Points: 21}
}

// The cases of a strut; obstacles are called by their kind where the tyre's load
// is greatest, and by their kind and StrutHardest where the strut's force is.
const (
	StrutStanding  = "standing"
	StrutCornering = "cornering"
	StrutBraking   = "braking"
	StrutBoth      = "braking-in-a-bend"
	StrutHardest   = "-hardest"
)

// bothShare is how much of a bend and of braking go together: 1/√2 of each lies
// on the circle of a tyre that holds as much in every direction. [-]
const bothShare = math.Sqrt2 / 2

// StrutCase is a strut under one load. Where Err is not nil there is no Moment.
type StrutCase struct {
	Code         string
	Event        int        // of the brief; −1: none
	Lateral      float64    // of the car, the strut on the outside [m/s2]
	Longitudinal float64    // of the car, negative is braking [m/s2]
	Travel       float64    // of the wheel [m]
	Factor       float64    // load of the wheel over its load at rest [-]
	Road         geom.Vec   // of the road on the tyre, in the road's axes [N]
	Load         strut.Load // in the body's axes, which lean with it
	Moment       strut.Moment
	Err          error
}

// StrutRatio is a strut against the reference build's in the same case.
type StrutRatio struct {
	Case                             int     // of the build's own cases
	Side, Guide, Lower, Stress, Away float64 // side load, forces of the bearings, bending stress, break-away; NaN: nothing to divide by [-]
}

// The changes that are tried on a strut.
const (
	StrutFurtherOut = "further-out"
	StrutLongerArm  = "longer-arm"
	StrutLower      = "lower"
	StrutHeavier    = "heavier"
)

// strutChanges and how much of each, lengths [m] and a share: common practice,
// no source.
var strutChanges = []struct {
	code string
	by   float64
}{{StrutFurtherOut, 0.020}, {StrutLongerArm, 0.010}, {StrutLower, 0.025}, {StrutHeavier, 0.10}}

// StrutChange is what a change of the car does to a strut.
type StrutChange struct {
	Code   string
	By     float64 // size of the change, a length, or a share for StrutHeavier [SI]
	Case   int     // the case it is tried in, of the build's own
	Moment strut.Moment
	Err    error
}

// BuildStrut is one build's strut of one side under its cases, under the load of that
// side's wheel.
type BuildStrut struct {
	Build  *car.Build
	Side   int  // 0 left, 1 right
	Sided  bool // the other side's strut stands beside it
	Layout strut.Layout
	Corner linkage.Corner // on the build's own wheel and tyre, with Ask.Offset in it
	Cases  []StrutCase
	// Over is the strut over its travel under what springs, gas and stop then
	// carry, nothing else acting; OverErrs holds an error where there is no moment.
	Over     []strut.Moment
	OverErrs []error
	// Hardest is the case with the greatest force along the strut; −1 without one.
	Hardest  int
	Buckling float64 // force along the strut there over what buckles rod or body; NaN when not known [-]
	Yields   bool    // its yield strength was given
	// Straight is the angle to the damper's axis at which a spring through the top
	// mount would leave no side load, standing; NaN when there is none. [rad]
	Straight float64
	Against  []StrutRatio // the reference build's; empty for itself
	Changes  []StrutChange
}

// Struts are the struts of an axle, build by build: left before right where a build's
// sides differ or both were asked for, else the one of the side that carries more.
type Struts struct {
	Ask       StrutAsk
	Corner    linkage.Corner // of the car as weighed, with Ask.Offset in it
	Builds    []BuildStrut
	Reference int          // of Builds, the left of two; −1: not among them
	Unguided  []*car.Build // left out, on a side at least: nothing is known of their guide
	Inverted  bool         // one of Builds has an inverted strut

	loaded int           // the side that carries more
	mirror []*BuildStrut // the reference's strut of each side that is not among Builds; nil: it is, or nothing is known of it
}

// Loaded is the side whose wheel carries more with the reference build in the load that
// was asked for, the left of two that carry the same: of a build with two struts alike
// that one is shown. 0 left, 1 right.
func (s *Struts) Loaded() int { return s.loaded }

// ErrNoStrut says that the job gives no hardpoints of a strut on an axle.
var ErrNoStrut = errors.New("axles: no hardpoints of a strut on that axle")

// ErrNoGuide says that no build says how its strut is guided.
var ErrNoGuide = errors.New("axles: no build says how its strut is guided")

// LoadStruts puts each build's strut of an axle under loads. The answer is only read.
//
// Standing, in a bend, under braking and in both the loads are those of the
// car's own balance: the outside wheel's, with its share of the axle's lateral
// force, the inertia of wheel and carrier, and the body leaning; braking forces as
// the loads stand, an assumption. Where a load is set, the body stands level. Over
// an obstacle two moments of the drive are taken: the tyre's greatest load, with a
// longitudinal force that follows the edge's slope under a rigid wheel, an
// assumption, and the greatest force through the strut; in both the wheel's own
// acceleration takes its part. Along the damper act gas, stop and the ends of
// travel; what the valves add counts with the spring.
func LoadStruts(ctx context.Context, a *study.Answer, ask StrutAsk) (*Struts, error) {
	if !a.Computed() || ask.Axle < 0 || ask.Axle > 1 {
		return nil, study.ErrNoCase
	}
	h := a.Job.Car.Axle[ask.Axle].Hardpoints
	if h == nil || h.Corner == nil || h.Corner.Kind != linkage.Strut {
		return nil, ErrNoStrut
	}
	if ask.Load == "" {
		ask.Load = a.UsualLoad()
	}
	out := &Struts{Ask: ask, Corner: h.Corner.With(linkage.Change{Offset: ask.Offset}), Reference: -1, loaded: moreLoaded(a, &ask), mirror: make([]*BuildStrut, 2)}
	for _, build := range a.Job.Builds {
		if len(ask.Builds) > 0 && !slices.Contains(ask.Builds, build.ID) {
			continue
		}
		if err := strutSides(ctx, a, out, build); err != nil {
			return nil, err
		}
	}
	if len(out.Builds) == 0 {
		return out, ErrNoGuide
	}
	if err := otherSide(ctx, a, out); err != nil {
		return nil, err
	}
	for i := range out.Builds {
		if was := out.Baseline(&out.Builds[i]); was != nil {
			out.Builds[i].Against = strutRatios(&out.Builds[i], was)
		}
	}
	return out, nil
}

// Baseline is the strut of the reference build that one is compared with, that of its
// own side; nil for the reference's own, and where nothing is known of it.
func (s *Struts) Baseline(one *BuildStrut) *BuildStrut {
	if s.Reference < 0 || one.Build == s.Builds[s.Reference].Build {
		return nil
	}
	for i := range s.Builds {
		if b := &s.Builds[i]; b.Build == s.Builds[s.Reference].Build && b.Side == one.Side {
			return b
		}
	}
	return s.mirror[one.Side]
}

// moreLoaded is the side that carries more at rest with the reference build.
func moreLoaded(a *study.Answer, ask *StrutAsk) int {
	k, err := a.CaseOf(a.Reference, ask.Load)
	if err != nil {
		return 0
	}
	l := 2 * ask.Axle
	// A hundredth of a newton is the solver's, not the car's.
	if k.State.Load[l+1] > k.State.Load[l]+0.01 {
		return 1
	}
	return 0
}

// otherSide solves the reference's other strut where a build has both and it has one: a
// strut is compared with that of its own side, which carries another load.
func otherSide(ctx context.Context, a *study.Answer, out *Struts) error {
	if out.Reference < 0 {
		return nil
	}
	was := &out.Builds[out.Reference]
	side := was.Side ^ 1
	wanted := slices.ContainsFunc(out.Builds, func(b BuildStrut) bool { return b.Side == side && b.Build != was.Build })
	has := slices.ContainsFunc(out.Builds, func(b BuildStrut) bool { return b.Side == side && b.Build == was.Build })
	if !wanted || has {
		return nil
	}
	one, err := strutOf(ctx, a, out, was.Build, side)
	out.mirror[side] = one
	return err
}

// sided reports an axle of a build whose two struts are not alike: in their parts,
// their clicks, or how they move with the wheel.
func sided(a *study.Answer, build *car.Build, axle int) bool {
	l, set := 2*axle, &build.Setup
	own := &a.Job.Car.Axle[axle].Side
	return !build.Alike(axle) || set.Click[l] != set.Click[l+1] || set.HasClick[l] != set.HasClick[l+1] || own[0] != own[1]
}

// strutSides adds a build's strut of the side that carries more, or both where they are
// not alike or were asked for.
func strutSides(ctx context.Context, a *study.Answer, out *Struts, build *car.Build) error {
	sides := []int{out.loaded}
	if out.Ask.Each || sided(a, build, out.Ask.Axle) {
		sides = []int{0, 1}
	}
	for _, side := range sides {
		one, err := strutOf(ctx, a, out, build, side)
		if err != nil {
			return err
		}
		if one == nil {
			if !slices.Contains(out.Unguided, build) {
				out.Unguided = append(out.Unguided, build)
			}
			continue
		}
		one.Sided = len(sides) == 2
		if build.ID == a.Reference && out.Reference < 0 {
			out.Reference = len(out.Builds)
		}
		out.Inverted = out.Inverted || one.Layout.Inverted
		out.Builds = append(out.Builds, *one)
	}
	return nil
}

// strutOf is a build's strut of one side under its cases; nil where nothing is known of
// its guide.
func strutOf(ctx context.Context, a *study.Answer, all *Struts, build *car.Build, side int) (*BuildStrut, error) {
	i := 2*all.Ask.Axle + side
	d := build.Corner[i].Damper
	if d == nil || !d.Guide.Known() {
		return nil, nil
	}
	one := &BuildStrut{Build: build, Side: side, Layout: StrutLayout(d)}
	one.Corner = cornerOf(a.Job.Car, build, i).With(linkage.Change{Offset: all.Ask.Offset})
	return one, strutCases(ctx, a, all, one)
}

// StrutLayout is a damper's guide as the statics want it.
func StrutLayout(d *car.DamperSpec) strut.Layout { return strutLayoutAt(d, nil) }

// strutCases fills one build's cases and what follows from them.
func strutCases(ctx context.Context, a *study.Answer, all *Struts, one *BuildStrut) error {
	k, err := a.CaseOf(one.Build.ID, all.Ask.Load)
	if err != nil {
		return err
	}
	i := 2*all.Ask.Axle + one.Side
	s := strutLoads{k: k, i: i, weight: k.State.Load[i]}
	one.Cases = []StrutCase{s.put(StrutStanding, k.State.Travel[i], 0, 0, s.weight)}
	if err := strutBends(a, &s, all, one); err != nil {
		return err
	}
	if err := strutEvents(ctx, a, &s, all, one); err != nil {
		return err
	}
	body := strut.Strut{Corner: one.Corner, Layout: one.Layout}
	for n := range one.Cases {
		c := &one.Cases[n]
		if c.Err == nil {
			if c.Moment, c.Err = strutAt(&body, c.Travel, &c.Load); errors.Is(c.Err, strut.ErrNotAStrut) {
				return c.Err
			}
		}
	}
	strutOver(&s, &body, all, one)
	one.strength(all.Ask.Axle)
	one.tryChanges(&body)
	return nil
}

// strutAt is a strut at one travel under one load.
func strutAt(s *strut.Strut, travel float64, load *strut.Load) (strut.Moment, error) {
	m, errs, err := s.Over([]float64{travel}, 0, func(float64) strut.Load { return *load })
	if err != nil {
		return strut.Moment{}, err
	}
	return m[0], errs[0]
}

// strutLoads makes loads of one wheel of one case, as if it were the left one: the
// strut of the right is the mirror image.
type strutLoads struct {
	k      *study.Case
	i      int
	weight float64 // load at rest [N]
}

// mirror is the sign of what points to the left for the left wheel.
func (s *strutLoads) mirror() float64 { return 1 - 2*float64(s.i&1) }

// put makes a case of the road's force at a wheel travel. Wheel and carrier weigh
// down on what the strut carries.
func (s *strutLoads) put(code string, travel, x, y, z float64) StrutCase {
	return StrutCase{Code: code, Event: -1, Travel: travel, Factor: z / s.weight, Road: geom.Vec{X: x, Y: y, Z: z}, Load: s.load(travel, x, y, z)}
}

// moving adds the inertia of wheel and carrier at an acceleration of them, x
// forward, y to the left, z up [m/s2], and turns the forces into the axes of a body
// that has rolled, left side up, and pitched, nose down [rad].
func (s *strutLoads) moving(l *strut.Load, by geom.Vec, roll, pitch float64) {
	mass := s.k.System.Unsprung[s.i]
	l.Hub = geom.Vec{X: l.Hub.X - mass*by.X, Y: l.Hub.Y - mass*by.Y, Z: l.Hub.Z - mass*by.Z}
	sr, cr := math.Sincos(roll)
	sp, cp := math.Sincos(pitch)
	for _, v := range []*geom.Vec{&l.Contact, &l.Hub} {
		y, z := v.Y*cr+v.Z*sr, v.Z*cr-v.Y*sr
		*v = geom.Vec{X: v.X*cp - z*sp, Y: y, Z: z*cp + v.X*sp}
	}
}

func (s *strutLoads) load(travel, x, y, z float64) strut.Load {
	l := strut.Load{Contact: geom.Vec{X: x, Y: y, Z: z}, Hub: geom.Vec{Z: -s.k.System.Unsprung[s.i] * equilibrium.Gravity}}
	if sh := s.k.System.Corner[s.i].At(travel); sh.DamperMotion > 0 {
		l.Damper = (sh.Gas + sh.Stop + sh.Metal + sh.Open) / sh.DamperMotion
	}
	return l
}

// strutBends adds the bend, braking and both.
func strutBends(a *study.Answer, s *strutLoads, all *Struts, one *BuildStrut) error {
	c, err := a.Cornering(one.Build.ID, all.Ask.Load)
	if err != nil {
		return err
	}
	ask := &all.Ask
	rest, m := s.k.State.Travel[s.i], s.mirror()
	for _, way := range []struct {
		code                  string
		lateral, longitudinal float64
		fixed                 float64
	}{
		{StrutCornering, ask.Lateral, 0, ask.Transfer},
		{StrutBraking, 0, -ask.Braking, ask.Dive},
		{StrutBoth, bothShare * ask.Lateral, -bothShare * ask.Braking, 0},
	} {
		if way.lateral == 0 && way.longitudinal == 0 || way.code == StrutBoth && (ask.Lateral == 0 || ask.Braking == 0) {
			continue
		}
		k := StrutCase{Code: way.code, Event: -1, Travel: rest}
		g := equilibrium.Gravity
		if way.fixed > 0 {
			z := way.fixed * s.weight
			// The tyre's force on an outside wheel points toward the car.
			k = s.put(way.code, rest, way.longitudinal/g*z, -way.lateral/g*z, z)
			s.moving(&k.Load, geom.Vec{X: way.longitudinal, Y: -way.lateral}, 0, 0)
		} else if p, err := c.At(-m*way.lateral, way.longitudinal, nil); err != nil {
			// A right turn: the left wheel is outside.
			k.Err = err
		} else {
			k = s.put(way.code, p.Travel[s.i], way.longitudinal/g*p.Load[s.i], m*p.Side[s.i], p.Load[s.i])
			s.moving(&k.Load, geom.Vec{X: way.longitudinal, Y: -way.lateral}, m*c.RollAt(&p), c.PitchAt(&p))
		}
		k.Lateral, k.Longitudinal = way.lateral, way.longitudinal
		one.Cases = append(one.Cases, k)
	}
	return nil
}

// strutEvents adds two moments of every obstacle of the brief: the greatest load of
// the tyre, at the edge, when most of it only throws the wheel up, and the greatest
// force through the strut. Either wheel may meet it; the right strut is the left
// one's mirror image.
func strutEvents(ctx context.Context, a *study.Answer, s *strutLoads, all *Struts, one *BuildStrut) error {
	if a.Job.Brief == nil || all.Ask.NoEvents {
		return nil
	}
	for e := range a.Job.Brief.Events {
		ev := &a.Job.Brief.Events[e]
		k := StrutCase{Code: ev.Kind, Event: e}
		t, err := drives.Follow(ctx, a, one.Build.ID, e, 20000)
		if err != nil {
			if ctx.Err() != nil {
				return ctx.Err()
			}
			k.Err = err
			one.Cases = append(one.Cases, k)
			continue
		}
		slope := 0.0
		if ev.Kind == "pothole" || ev.Kind == "kerb" {
			slope = strut.EnvelopeSlope(one.Corner.Wheel.Radius, math.Max(ev.Depth.Value, ev.Height.Value))
		}
		edge, hard := s.moments(t)
		for _, m := range []struct {
			code  string
			at    strutMoment
			slope float64
		}{{ev.Kind, edge, slope}, {ev.Kind + StrutHardest, hard, 0}} {
			z := t.TyreLoad[m.at.corner][m.at.n]
			k := s.put(m.code, t.Travel[m.at.corner][m.at.n], -m.slope*z, 0, z)
			s.moving(&k.Load, geom.Vec{Z: m.at.up}, 0, 0)
			k.Event = e
			one.Cases = append(one.Cases, k)
		}
	}
	return nil
}

// strutMoment is a moment of a drive: which wheel, when, and how it accelerates.
type strutMoment struct {
	corner, n int
	up        float64 // of the hub [m/s2]
}

// moments finds the greatest load of the axle's tyres in a drive, and the greatest
// of what is left of it for the strut once the wheel is accelerated. Where the struts
// are not alike too: an obstacle that only one wheel meets may be met by either, and
// what that wheel met is taken for the other, an assumption.
//
//	a = (z(t + h) − 2·z(t) + z(t − h))/h²,   S = F_z − m_u·(g + a)
func (s *strutLoads) moments(t *drives.Trace) (edge, hard strutMoment) {
	most, through := math.Inf(-1), math.Inf(-1)
	mass := s.k.System.Unsprung[s.i]
	for _, i := range []int{s.i, s.i ^ 1} {
		z, load := t.Wheel[i], t.TyreLoad[i]
		for n := 1; n+1 < len(z); n++ {
			up := (z[n+1] - 2*z[n] + z[n-1]) / (t.Step * t.Step)
			if load[n] > most {
				most, edge = load[n], strutMoment{i, n, up}
			}
			if f := load[n] - mass*(equilibrium.Gravity+up); f > through {
				through, hard = f, strutMoment{i, n, up}
			}
		}
	}
	return edge, hard
}

// strutOver fills the strut over its travel, open to solid.
func strutOver(s *strutLoads, body *strut.Strut, all *Struts, one *BuildStrut) {
	if all.Ask.Points < 2 {
		return
	}
	low, high := strutRange(s)
	weight := s.k.System.Unsprung[s.i] * equilibrium.Gravity
	m, errs, err := body.Over(linkage.Travels(low, high, all.Ask.Points), 0, func(w float64) strut.Load {
		force, _ := s.k.System.Corner[s.i].Force(w)
		return s.load(w, 0, 0, math.Max(0, force)+weight)
	})
	if err == nil {
		one.Over, one.OverErrs = m, errs
	}
}

// strutRange is the wheel travel from open damper to solid stop, or 80 mm to
// both sides of rest where they are not known.
func strutRange(s *strutLoads) (low, high float64) {
	const usual = 0.08 // common practice, no source [m]
	rest := s.k.State.Travel[s.i]
	limits := s.k.System.Corner[s.i].Limits(rest)
	low, high = limits.Open, limits.Solid
	if math.IsNaN(high) {
		high = limits.Closed
	}
	if !(low < rest) {
		low = rest - usual
	}
	if !(high > rest) {
		high = rest + usual
	}
	return low, high
}

// Damper is that of the strut.
func (one *BuildStrut) Damper(axle int) *car.DamperSpec { return one.Parts(axle).Damper }

// Parts are those of the strut's corner.
func (one *BuildStrut) Parts(axle int) *car.BuildCorner { return &one.Build.Corner[2*axle+one.Side] }

// strength finds how near the hardest case comes to buckling, and how a spring
// would have to stand to leave the rod without side load.
func (one *BuildStrut) strength(axle int) {
	one.Hardest, one.Buckling, one.Straight = -1, math.NaN(), math.NaN()
	for n := range one.Cases {
		if c := &one.Cases[n]; c.Err == nil && (one.Hardest < 0 || c.Moment.Forces.Along < one.Cases[one.Hardest].Moment.Forces.Along) {
			one.Hardest = n
		}
	}
	if one.Hardest < 0 {
		return
	}
	yield := &one.Damper(axle).Guide.Yield
	m := &one.Cases[one.Hardest].Moment
	one.Yields = yield.Known()
	if share, err := one.Layout.BucklingShare(m.Short, -m.Forces.Along, yield.Value); err == nil {
		one.Buckling = share
	}
	if c := &one.Cases[0]; c.Err == nil {
		if _, angle, err := strut.SpringWithoutSideLoad(&c.Moment.Joints, &c.Load); err == nil {
			one.Straight = angle
		}
	}
}

// tryChanges tries what workshops do to a corner, standing and in the bend.
func (one *BuildStrut) tryChanges(body *strut.Strut) {
	for n := range one.Cases {
		c := &one.Cases[n]
		if c.Err != nil || c.Code != StrutStanding && c.Code != StrutCornering {
			continue
		}
		for _, ch := range strutChanges {
			out := StrutChange{Code: ch.code, By: ch.by, Case: n}
			changed, travel, load := *body, c.Travel, c.Load
			switch ch.code {
			case StrutFurtherOut:
				changed.Corner = body.Corner.With(linkage.Change{Offset: ch.by})
			case StrutLongerArm:
				changed.Corner = body.Corner.With(linkage.Change{Extension: ch.by})
			case StrutLower:
				travel += ch.by
			case StrutHeavier:
				load.Contact.Y *= 1 + ch.by
				load.Contact.Z *= 1 + ch.by
			}
			out.Moment, out.Err = strutAt(&changed, travel, &load)
			one.Changes = append(one.Changes, out)
		}
	}
}

// strutRatios sets a build's cases against the reference's of the same kind.
func strutRatios(one, reference *BuildStrut) []StrutRatio {
	over := func(is, was float64) float64 {
		if !(was > 0) {
			return math.NaN()
		}
		return is / was
	}
	var out []StrutRatio
	for n := range one.Cases {
		is := &one.Cases[n]
		at := slices.IndexFunc(reference.Cases, func(c StrutCase) bool { return c.Code == is.Code && c.Event == is.Event })
		if at < 0 || is.Err != nil || reference.Cases[at].Err != nil {
			continue
		}
		m, r := &is.Moment, &reference.Cases[at].Moment
		out = append(out, StrutRatio{
			Case: n, Side: over(m.Forces.Across, r.Forces.Across), Guide: over(m.Bearing.Guide, r.Bearing.Guide), Lower: over(m.Bearing.Lower, r.Bearing.Lower),
			Stress: over(m.Bearing.Stress, r.Bearing.Stress), Away: over(m.BreakAway, r.BreakAway),
		})
	}
	return out
}
