package stability

import (
	"trunnion/chassis/numeric"
)

// Tyre is what a tyre's cornering stiffness is at a load.
type Tyre struct {
	Table *numeric.Curve // cornering stiffness over load; nil: the tyre of 1987
	Scale float64        // factor on it [-]
	// Size is the load the tyre is made for over that of the one the curve is of: at as
	// many times the load it has as many times the stiffness. 0: the same [-]
	Size float64
}

// Stiffness is the cornering stiffness of one tyre [N/rad] at a load [N].
func (t Tyre) Stiffness(load float64) float64 {
	switch {
	case load <= 0:
		return 0
	case t.Size > 0:
		one := Tyre{Table: t.Table, Scale: t.Scale * t.Size}
		return one.Stiffness(load / t.Size)
	case t.Table != nil:
		c, _ := t.Table.At(load)
		return t.Scale * max(0, c)
	}
	return t.Scale * CorneringStiffness1987(load)
}

// Known returns a tyre whose stiffness [N/rad] is known at one load [N] and whose
// way with load is that of the tyre of 1987.
func Known(stiffness, load float64) Tyre {
	return Tyre{Scale: stiffness / CorneringStiffness1987(load)}
}
