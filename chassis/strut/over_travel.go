package strut

import (
	"errors"
	"math"

	"trunnion/chassis/linkage"
)

// Strut is a strut on its corner.
type Strut struct {
	Corner linkage.Corner // of kind strut, with one arm and one rod
	Layout Layout
}

// Moment is a strut at one travel under one load.
type Moment struct {
	Travel float64 // of the wheel, bump positive [m]
	Short  float64 // shortening of the damper [m]
	Ratio  float64 // damper travel / wheel travel [-]
	Joints Joints
	Forces Forces
	Bearing
	BreakAway float64 // vertical, at the wheel [N]
}

// ErrNotAStrut is returned for a corner that this package's statics do not fit.
var ErrNotAStrut = errors.New("strut: the corner is no strut with one arm and one rod")

// Over finds forces and bearings at each wheel travel [m], at a rack travel [m],
// under the load that load returns for it. What has no answer carries its error
// in errs, at the same place.
func (s *Strut) Over(travels []float64, rack float64, load func(travel float64) Load) (moments []Moment, errs []error, err error) {
	c := &s.Corner
	if c.Kind != linkage.Strut || len(c.Arms) != 1 || len(c.Rods) != 1 || c.Strut == nil || c.Rods[0].InnerOn != "" || c.Spring != nil && c.Spring.On != "" {
		return nil, nil, ErrNotAStrut
	}
	l, err := linkage.NewCorner(*c)
	if err != nil {
		return nil, nil, err
	}
	moments, errs = make([]Moment, len(travels)), make([]error, len(travels))
	for i, w := range travels {
		moments[i], errs[i] = s.at(l, w, rack, load(w))
	}
	return moments, errs, nil
}

func (s *Strut) at(l *linkage.Linkage, travel, rack float64, load Load) (Moment, error) {
	m := Moment{Travel: travel}
	f, err := l.Figures(linkage.Parallel, travel, rack)
	if err != nil {
		return m, err
	}
	places, err := l.Places([2]float64{travel}, rack)
	if err != nil {
		return m, err
	}
	c := &s.Corner
	m.Joints = Joints{ArmFront: c.Arms[0].Front, ArmRear: c.Arms[0].Rear}
	for _, p := range places {
		switch p.Name {
		case "contact":
			m.Joints.Contact = p.At
		case "wheel centre":
			m.Joints.Hub = p.At
		case c.Arms[0].Name + " front pivot outer":
			m.Joints.Ball = p.At
		case c.Rods[0].Name + " outer":
			m.Joints.TieOuter = p.At
		case c.Rods[0].Name + " inner":
			m.Joints.TieInner = p.At
		case "top mount":
			m.Joints.Top = p.At
		case "strut low":
			m.Joints.Low = p.At
		case "spring inner":
			m.Joints.SpringTop = p.At
		case "spring outer":
			m.Joints.SpringAt = p.At
		}
	}
	m.Short, m.Ratio = f.Damper.Travel, f.Damper.Ratio
	if m.Forces, err = Statics(&m.Joints, &load); err != nil {
		return m, err
	}
	if m.Bearing, err = s.Layout.At(m.Short, m.Forces.Across); err != nil {
		return m, err
	}
	m.BreakAway = m.Bearing.BreakAway(m.Ratio)
	return m, nil
}

// EnvelopeSlope returns the slope [-] at which a rigid wheel of a radius [m]
// first meets a step of a height [m]: the longitudinal over the vertical force
// of the road there, an assumption that a soft tyre stays below.
//
//	tan α = √(2·R·h − h²)/(R − h)
//
// Source: rolling of a rigid circle over a corner; derived here.
func EnvelopeSlope(radius, height float64) float64 {
	if !(height > 0) || !(radius > height) {
		return 0
	}
	return math.Sqrt(2*radius*height-height*height) / (radius - height)
}
