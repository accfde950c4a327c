package axles

import (
	"errors"
	"math"

	"trunnion/chassis/car"
	"trunnion/chassis/figure"
	"trunnion/chassis/geom"
	"trunnion/chassis/linkage"
	"trunnion/chassis/study"
)

// LinkageAsk is how an axle's linkage is moved.
type LinkageAsk struct {
	Axle      int
	Mode      linkage.Mode
	Low, High float64 // wheel travel [m]
	Points    int
	Rack      float64 // to the left [m]
	// Change is made to the linkage before it is moved; Lower only asks what
	// standing lower does.
	Change linkage.Change
	Lower  float64 // [m]
}

// UsualLinkageAsk is as far as most wheels move, both together: common practice,
// no source.
func UsualLinkageAsk(axle int) LinkageAsk {
	return LinkageAsk{Axle: axle, Low: -0.08, High: 0.08, Points: 61}
}

// Changes of a linkage that are tried beside what is asked.
const (
	LinkageLower      = "lower"
	LinkageFurtherOut = "further-out"
	LinkagePlate      = "top-mount-inward"
	LinkageLongerArm  = "longer-arm"
)

// linkageChanges and how much of each: common practice, no source. [m]
var linkageChanges = []struct {
	code string
	by   float64
}{{LinkageLower, 0.025}, {LinkageFurtherOut, 0.020}, {LinkagePlate, 0.008}, {LinkageLongerArm, 0.010}}

// LinkageChange is what a change does to the wheel where it stands.
type LinkageChange struct {
	Code string  // empty: what was asked for
	By   float64 // [m]; 0 for what was asked for
	Was  linkage.Figures
	Is   linkage.Figures
	// Rod is how much longer the steered rod must be made to have the toe back
	// that was there; NaN without one. [m]
	Rod float64
	Err error
}

// MotionRow is one reading of a motion table beside the points.
type MotionRow struct {
	linkage.Disagreement
	Fitted float64 // travel of the part by the curve laid through the readings [m]
}

// MotionTable is a spring's or damper's motion as the job gives it.
type MotionTable struct {
	Part string // spring, damper
	// Table says that a measured table is used; else the points give the motion.
	Table bool
	Rows  []MotionRow // empty without a table
	Worst int         // row with the largest difference; −1 without one
	// Ratio is travel of the part over that of the wheel at travel 0, by the table
	// and by the points, and Slope its change with travel; NaN without. [-]
	TableRatio, PointsRatio float64 // [-]
	TableSlope, PointsSlope float64 // [1/m]
}

// Moved is an axle's linkage, moved.
type Moved struct {
	Ask      LinkageAsk
	Kind     string
	Linkage  *linkage.Linkage
	Curves   linkage.Curves
	Home     linkage.Figures // at travel 0 with the rack straight
	Steers   bool
	Support  study.Support
	Asked    *LinkageChange // nil: nothing was changed
	Tried    []LinkageChange
	Motions  []MotionTable
	Rest     float64 // wheel travel that Tried and Asked start from [m]
	Standing bool    // Rest is where a build stands, and not travel 0
}

// ErrNoHardpoints says that the job gives no hardpoints of an axle.
var ErrNoHardpoints = errors.New("axles: no hardpoints of that axle")

// ErrNoTop and ErrNoArm say that a change has nothing to work on.
var (
	ErrDependent = errors.New("axles: that change is for independent suspensions")
	ErrNoTop     = errors.New("axles: that change is for struts")
	ErrNoArm     = errors.New("axles: that change is for an axle with arms")
)

// MoveLinkage moves an axle of a car.
func MoveLinkage(c *car.Car, ask LinkageAsk) (*Moved, error) {
	if ask.Axle < 0 || ask.Axle > 1 || c.Axle[ask.Axle].Hardpoints == nil {
		return nil, ErrNoHardpoints
	}
	ax := &c.Axle[ask.Axle]
	points, err := changedPoints(ax.Hardpoints, ask.Change)
	if err != nil {
		return nil, err
	}
	out := &Moved{Ask: ask, Kind: ax.Kind, Support: study.SupportOf(c, ask.Axle)}
	if out.Linkage, err = points.New(); err != nil {
		return nil, err
	}
	out.Steers = out.Linkage.Steers()
	if out.Curves, err = out.Linkage.Sweep(ask.Mode, linkage.Travels(ask.Low, ask.High, ask.Points), ask.Rack); err != nil {
		return nil, err
	}
	if out.Home, err = out.Linkage.Figures(linkage.Parallel, 0, 0); err != nil {
		return nil, err
	}
	out.Motions = motionTables(ax, out.Linkage)
	if ask.Change != (linkage.Change{}) || ask.Lower != 0 {
		one := changeLinkage(ax.Hardpoints, ask.Change, 0, ask.Lower)
		out.Asked = &one
	}
	out.try(ax.Hardpoints)
	return out, nil
}

// MoveStanding moves an axle of the answer's car; its changes start from where a build
// stands in a load state. The answer is only read.
func MoveStanding(a *study.Answer, build, load string, ask LinkageAsk) (*Moved, error) {
	out, err := MoveLinkage(a.Job.Car, ask)
	if err != nil {
		return nil, err
	}
	k, err := a.CaseOf(build, load)
	if err != nil {
		return nil, err
	}
	st := &k.State
	out.Rest, out.Standing = 0.5*(st.Travel[2*ask.Axle]+st.Travel[2*ask.Axle+1]), true
	h := a.Job.Car.Axle[ask.Axle].Hardpoints
	if out.Asked != nil {
		*out.Asked = changeLinkage(h, ask.Change, out.Rest, ask.Lower)
	}
	out.try(h)
	return out, nil
}

// try fills what the usual changes do.
func (m *Moved) try(h *linkage.Hardpoints) {
	m.Tried = m.Tried[:0]
	for _, c := range linkageChanges {
		var ch linkage.Change
		lower := 0.0
		switch c.code {
		case LinkageLower:
			lower = c.by
		case LinkageFurtherOut:
			ch.Offset = c.by
		case LinkagePlate:
			ch.Plate = geom.Vec{Y: -c.by}
		case LinkageLongerArm:
			ch.Extension = c.by
		}
		one := changeLinkage(h, ch, m.Rest, lower)
		if errors.Is(one.Err, ErrDependent) || errors.Is(one.Err, ErrNoTop) || errors.Is(one.Err, ErrNoArm) {
			continue
		}
		one.Code, one.By = c.code, c.by
		m.Tried = append(m.Tried, one)
	}
}

// changedPoints are the points with a change.
func changedPoints(h *linkage.Hardpoints, ch linkage.Change) (*linkage.Hardpoints, error) {
	switch {
	case ch == (linkage.Change{}):
		return h, nil
	case h.Corner == nil:
		return nil, ErrDependent
	case ch.Plate != (geom.Vec{}) && h.Corner.Strut == nil:
		return nil, ErrNoTop
	case ch.Extension != 0 && len(h.Corner.Arms) == 0:
		return nil, ErrNoArm
	}
	c := h.Corner.With(ch)
	return &linkage.Hardpoints{Corner: &c}, nil
}

// changeLinkage compares the wheel at a travel with where it is after a change,
// standing lower by as much more [m].
func changeLinkage(h *linkage.Hardpoints, ch linkage.Change, rest, lower float64) LinkageChange {
	out := LinkageChange{Rod: math.NaN()}
	changed, err := changedPoints(h, ch)
	if err != nil {
		out.Err = err
		return out
	}
	at := func(h *linkage.Hardpoints, travel float64) (linkage.Figures, error) {
		l, err := h.New()
		if err != nil {
			return linkage.Figures{}, err
		}
		return l.Figures(linkage.Parallel, travel, 0)
	}
	if out.Was, out.Err = at(h, rest); out.Err != nil {
		return out
	}
	if out.Is, out.Err = at(changed, rest+lower); out.Err != nil {
		return out
	}
	if changed.Corner != nil {
		if _, longer, err := changed.Corner.Realigned(rest+lower, out.Was.Toe); err == nil {
			out.Rod = longer
		}
	}
	return out
}

// motionTables are what is known of spring and damper beside the points.
func motionTables(ax *car.Axle, l *linkage.Linkage) []MotionTable {
	out := make([]MotionTable, 0, 2)
	home, err := l.Figures(linkage.Parallel, 0, 0)
	if err != nil {
		return out
	}
	for _, part := range []struct {
		name   string
		motion *car.Motion
		of     func(*linkage.Figures) linkage.Motion
	}{
		{"spring", &ax.Spring, func(f *linkage.Figures) linkage.Motion { return f.Spring }},
		{"damper", &ax.Damper, func(f *linkage.Figures) linkage.Motion { return f.Damper }},
	} {
		nan := math.NaN()
		t := MotionTable{Part: part.name, Worst: -1, TableRatio: nan, TableSlope: nan, PointsRatio: nan, PointsSlope: nan}
		if m := part.of(&home); m.Known {
			t.PointsRatio, t.PointsSlope = m.Ratio, m.Slope
		}
		if m := part.motion; m.Known() && m.Origin != figure.Computed && m.Origin != figure.Estimated {
			t.Table = true
			fit := m.At(nil)
			_, t.TableRatio, t.TableSlope = fit.At(0)
			for k, d := range l.Disagree(m.Wheel, m.Part, part.of) {
				row := MotionRow{Disagreement: d}
				row.Fitted, _, _ = fit.At(d.Travel)
				t.Rows = append(t.Rows, row)
				off := math.Abs(d.Measured - d.Computed)
				if !math.IsNaN(off) && (t.Worst < 0 || off > math.Abs(t.Rows[t.Worst].Measured-t.Rows[t.Worst].Computed)) {
					t.Worst = k
				}
			}
		}
		out = append(out, t)
	}
	return out
}
