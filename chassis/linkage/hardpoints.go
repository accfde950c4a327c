package linkage

// Hardpoints are the points of one axle's left side, of whatever kind: exactly
// one of the three is given.
type Hardpoints struct {
	Corner *Corner
	Beam   *Beam
	Axle   *Axle
}

// Radius is the wheel's [m]; 0 without points.
func (h *Hardpoints) Radius() float64 {
	switch {
	case h.Corner != nil:
		return h.Corner.Wheel.Radius
	case h.Beam != nil:
		return h.Beam.Wheel.Radius
	case h.Axle != nil:
		return h.Axle.Wheel.Radius
	}
	return 0
}

// New makes the linkage.
func (h *Hardpoints) New() (*Linkage, error) {
	switch {
	case h.Corner != nil:
		return NewCorner(*h.Corner)
	case h.Beam != nil:
		return NewBeam(*h.Beam)
	case h.Axle != nil:
		return NewAxle(*h.Axle)
	}
	return nil, &FaultError{[]Fault{{Code: WrongCount, Points: []string{"hardpoints"}}}}
}
