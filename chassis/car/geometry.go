package car

// Guide is how a damper's rod, or the body of an inverted strut, is held
// sideways: what a strut's own forces are computed from. Unknown where nothing
// was measured.
type Guide struct {
	FromTop       Input // top mount to guide or upper bush, at travel zero [m]
	Apart         Input // guide to piston, or bush to bush, at travel zero [m]
	Length        Input // of the guide or upper bush, along the strut [m]
	LowerLength   Input // of the piston's band or lower bush, along the strut [m]
	Bore          Input // of a hollow rod, or inside the sliding body [m]
	Friction      Input // coefficient of guide or upper bush [-]
	LowerFriction Input // coefficient of piston or lower bush [-]
	Yield         Input // strength of rod or body at which it yields, with its source in its note [Pa]
}

// Known reports whether there is enough to compute with.
func (g *Guide) Known() bool { return g.FromTop.Known() && g.Apart.Known() }
