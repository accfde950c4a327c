package linkage

// Hardpoints are the points of one axle's left side, of whatever kind: exactly
// one of the three is given.
type Hardpoints struct {
	Corner *Corner
	Beam   *Beam
	Axle   *Axle
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
