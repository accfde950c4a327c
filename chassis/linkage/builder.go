package linkage

type builder struct {
	l      *Linkage
	faults []Fault
	ref    [most]vec
	rods   map[string]*rodOf
	unshut []func(share float64) // lengths that differ from the points
}

type rodOf struct {
	rod  *Rod
	body int
}

type named struct {
	name string
	at   vec
}

func (b *builder) fault(code Code, value float64, points ...string) {
	b.faults = append(b.faults, Fault{Code: code, Points: points, Value: value})
}
