package linkage

import "trunnion/chassis/geom"

// Change is what a workshop does to a corner.
type Change struct {
	Offset    float64  // wheel further out by a lower offset [m]
	Spacer    float64  // wheel further out by a spacer [m]
	Plate     geom.Vec // top mount moved by a camber plate [m]
	Extension float64  // lower arm longer by, ball joint outward [m]
	Arm       string   // the arm that is extended; empty: the first
}

// With returns the corner with a change. The linkage made of it closes again at
// the same height of the wheel centre; the camber and toe it then has are read
// from its figures.
func (c Corner) With(ch Change) Corner {
	out := c
	out.Arms = append([]Arm(nil), c.Arms...)
	out.Rods = append([]Rod(nil), c.Rods...)
	spin := geom.Vec{X: c.Wheel.Toe, Y: 1, Z: -c.Wheel.Camber}
	spin = scale(1/norm(spin), spin)
	out.Wheel.Centre = add(c.Wheel.Centre, scale(ch.Offset+ch.Spacer, spin))
	if c.Strut != nil {
		s := *c.Strut
		s.Shift = add(s.Shift, ch.Plate)
		out.Strut = &s
	}
	for i := range out.Arms {
		if out.Arms[i].Name == ch.Arm || ch.Arm == "" && i == 0 {
			out.Arms[i].Extension += ch.Extension
		}
	}
	return out
}

// Realigned returns the corner with the length of its steered rod set so that
// the wheel has a toe at a travel, as a workshop does after a change of height,
// and how much longer the rod became [m].
func (c Corner) Realigned(travel, toe float64) (Corner, float64, error) {
	k := -1
	for i := range c.Rods {
		if c.Rods[i].Steered {
			k = i
		}
	}
	if k < 0 {
		return c, 0, &FaultError{[]Fault{{Code: NothingSteered, Points: []string{"rods"}, Travel: travel}}}
	}
	out := c
	out.Rods = append([]Rod(nil), c.Rods...)
	drawn := norm(sub(c.Rods[k].Outer, c.Rods[k].Inner))
	length := c.Rods[k].Length
	if length == 0 {
		length = drawn
	}
	first := length
	toeAt := func(length float64) (float64, error) {
		out.Rods[k].Length = length
		l, err := NewCorner(out)
		if err != nil {
			return 0, err
		}
		f, err := l.Figures(Parallel, travel, 0)
		return f.Toe, err
	}
	// Secant steps: toe is nearly straight in the rod's length.
	t0, err := toeAt(length)
	if err != nil {
		return c, 0, err
	}
	l0, l1 := length, length+1e-4
	for range 12 {
		t1, err := toeAt(l1)
		if err != nil {
			return c, 0, err
		}
		if d := t1 - toe; d < 1e-10 && d > -1e-10 || t1 == t0 {
			break
		}
		l0, l1, t0 = l1, l1+(toe-t1)*(l1-l0)/(t1-t0), t1
	}
	out.Rods[k].Length = l1
	return out, l1 - first, nil
}
