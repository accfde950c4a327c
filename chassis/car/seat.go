package car

// Unseated says which length is missing to place a build's spring at a corner of the car,
// and what it would answer; the path is empty where the spring can be placed. A spring
// that was on the car stands where it stood; another one is placed by how far it is said
// to lower the car, or by its free length against the seats as measured, or against the
// free length of the old spring. Nobody has to know: the build is fitted, and its heights
// stay open until one of them is typed.
func Unseated(c *Car, fitted, b *Build, i int) (path, answers string) {
	s, w := b.Corner[i].Spring, &c.Weighed
	if s == nil || b == fitted || fitted != nil && s == fitted.Corner[i].Spring {
		return "", ""
	}
	length := w.SpringLength[i].Known() && w.SpringLength[i^1].Known()
	old := fitted != nil && fitted.Corner[i].Spring != nil && fitted.Corner[i].Spring.Free.Known()
	switch {
	case s.Drop.Known() && !s.Free.Known():
		return "", ""
	case !s.Free.Known():
		return partPath("springs", s.ID) + ".free", "where the car rests on this spring stays open without its free length, or how far it is said to lower the car"
	case length || old:
		return "", ""
	}
	k := i
	if w.SpringLength[i].Known() {
		k = i ^ 1
	}
	return "car.weighed.spring_length." + pathCorners[k], "where the car rests on another spring stays open without the spring length seat to seat as weighed, left and right, or the free length of the spring that was on the car"
}
