package jobfile

// Mendable reports whether a text is a job of this format that can be opened and mended
// value by value, whatever is wrong with its values: it can be taken apart, says its
// version, and has a car.
func Mendable(text []byte) bool {
	root, fault := shared(text)
	if fault != nil || root.kind != mapping {
		return false
	}
	version, aCar := false, false
	for _, p := range root.pairs {
		version = version || p.key == "trunnion" && p.value.text == Version
		aCar = aCar || p.key == "car" && p.value.kind == mapping
	}
	return version && aCar
}

// IDs lists the ids under a key of a job, builds or loads, in the order of the text; none
// where the text cannot be taken apart.
func IDs(text []byte, under string) []string {
	root, fault := shared(text)
	if fault != nil {
		return nil
	}
	for _, p := range root.pairs {
		if p.key != under {
			continue
		}
		out := make([]string, len(p.value.pairs))
		for i, one := range p.value.pairs {
			out[i] = one.key
		}
		return out
	}
	return nil
}
