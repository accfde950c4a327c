package quantity

// Kind is what the unit measures.
func (u Unit) Kind() Kind { return u.kind }

// Kinds lists all kinds in their order.
func Kinds() []Kind {
	out := make([]Kind, kinds)
	for i := range out {
		out[i] = Kind(i)
	}
	return out
}

// Accepted lists the units a kind may be typed in, as shown, most usual first.
func Accepted(kind Kind) []string {
	var out []string
	for i := range units {
		if units[i].kind == kind && units[i].label != "" {
			out = append(out, units[i].label)
		}
	}
	return out
}
