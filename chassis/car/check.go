package car

// Check returns everything about a car, its builds and load states that cannot be, or that
// looks wrong, in no order. Estimates that Fill made are not judged; the same
// part in several builds is judged once.
//
// The ranges to refuse and to warn at, and the slips, are common practice, no
// source.
func Check(c *Car, builds []*Build, loads []Load) []Problem {
	k := checker{car: c, fitted: fittedBuild(c, builds), seen: map[any]bool{}}
	k.body()
	k.weighing()
	for a := range 2 {
		k.axle(a)
	}
	for _, b := range builds {
		k.build(b)
	}
	for i := range loads {
		k.payloads(loads[i].Items)
	}
	k.trailers(loads)
	k.preload()
	return k.list
}
