package linkage

import (
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/mat"

	"trunnion/chassis/geom"
	"trunnion/reference/validation"
)

// The forces of every linkage, a second time and by another road: each carrier,
// arm and loaded rod is cut free and its forces and moments about the origin
// add up to zero. Only the places of the joints are taken from the solver.

// cut is the system of equations of all free bodies.
type cut struct {
	l     *Linkage
	at    *position
	names []string
	cols  [][]float64 // of the unknowns, over 6 equations a body
	load  []float64
	parts map[string]int // bodies by name
}

func (c *cut) body(name string) int {
	if k, ok := c.parts[name]; ok {
		return k
	}
	k := len(c.parts)
	c.parts[name] = k
	c.load = append(c.load, make([]float64, 6)...)
	return k
}

func (c *cut) unknown(name string) int {
	c.names = append(c.names, name)
	c.cols = append(c.cols, nil)
	return len(c.cols) - 1
}

// acts lets an unknown act along a direction at a point on a body.
func (c *cut) acts(u, body int, at, dir geom.Vec, sign float64) {
	m := cross(at, dir)
	for len(c.cols[u]) < 6*(body+1) {
		c.cols[u] = append(c.cols[u], 0)
	}
	for j, x := range []float64{dir.X, dir.Y, dir.Z, m.X, m.Y, m.Z} {
		c.cols[u][6*body+j] += sign * x
	}
}

func (c *cut) turns(u, body int, axis geom.Vec, sign float64) {
	for len(c.cols[u]) < 6*(body+1) {
		c.cols[u] = append(c.cols[u], 0)
	}
	for j, x := range []float64{axis.X, axis.Y, axis.Z} {
		c.cols[u][6*body+3+j] += sign * x
	}
}

func (c *cut) force(body int, at, f geom.Vec) {
	m := cross(at, f)
	for j, x := range []float64{f.X, f.Y, f.Z, m.X, m.Y, m.Z} {
		c.load[6*body+j] += x
	}
}

var axes = []geom.Vec{{X: 1}, {Y: 1}, {Z: 1}}

// solve returns the unknowns by name, the vectors' components as name.0 to 2.
func (c *cut) solve(t *testing.T) map[string]float64 {
	t.Helper()
	n := len(c.load)
	a, b := mat.NewDense(n, len(c.cols), nil), mat.NewVecDense(n, nil)
	for i := range n {
		b.SetVec(i, -c.load[i])
		for j := range c.cols {
			if i < len(c.cols[j]) {
				a.Set(i, j, c.cols[j][i])
			}
		}
	}
	if n != len(c.cols) {
		t.Fatalf("%d equations for %d unknowns %v", n, len(c.cols), c.names)
	}
	var x mat.VecDense
	if err := x.SolveVec(a, b); err != nil {
		t.Fatal(err)
	}
	out := map[string]float64{}
	for j, name := range c.names {
		out[name] = x.AtVec(j)
	}
	return out
}

// stands cuts the spring at a wheel and lets it push on the part it stands on.
func (c *cut) stands(name string, r *row, u int, carrier int) {
	low, top := c.l.place(&r.a, &c.at.q), c.l.place(&r.b, &c.at.q)
	dir := sub(low, top)
	switch r.rule { //nolint:exhaustive // the other rules hold no spring
	case slide: // around the strut's axis: through the top mount along it
		dir = scale(-1, c.at.q[r.a.body].r.Apply(r.n))
		c.acts(u, carrier, top, dir, 1)
		return
	case apart:
		dir = scale(1/norm(dir), dir)
	}
	switch r.a.on { //nolint:exhaustive // a spring does not stand on the body at both ends
	case onCarrier:
		c.acts(u, carrier, low, dir, 1)
	case onArm:
		c.acts(u, c.body(c.l.armNames[r.a.arm]), low, dir, 1)
	case onRod:
		c.acts(u, c.body("rod "+name), low, dir, 1)
	}
}

// cornerCut cuts an independent suspension.
func cornerCut(l *Linkage, at *position, spec *Corner, load WheelForce) *cut {
	c := &cut{l: l, at: at, parts: map[string]int{}}
	k := c.body("carrier")
	q := &at.q[0]
	now := func(p geom.Vec) geom.Vec { return add(q.p, q.r.Apply(sub(p, l.home[0].p))) }
	hub := add(q.p, q.r.Apply(l.wheels[0].centre))
	c.force(k, hub, load.Hub)
	c.force(k, add(hub, scale(l.wheels[0].radius, down(q.r.Apply(l.wheels[0].spin)))), load.Contact)
	for i := range spec.Arms {
		a := &spec.Arms[i]
		arm := c.body(a.Name)
		for j, n := range axes {
			u := c.unknown(a.Name + " ball." + string(rune('0'+j)))
			c.acts(u, k, now(a.Ball), n, 1)
			c.acts(u, arm, now(a.Ball), n, -1)
			c.acts(c.unknown(a.Name+" front."+string(rune('0'+j))), arm, a.Front, n, 1)
		}
		// The rear pivot slides along the axis: the front one holds it there.
		axis, _ := geom.Through(a.Front, a.Rear)
		e, f := geom.Perpendiculars(axis.Along)
		c.acts(c.unknown(a.Name+" rear.e"), arm, a.Rear, e, 1)
		c.acts(c.unknown(a.Name+" rear.f"), arm, a.Rear, f, 1)
	}
	spring := l.sides[0].spring
	for i := range spec.Rods {
		r := &spec.Rods[i]
		inner, outer := r.Inner, now(r.Outer)
		if r.Steered {
			inner.Y += at.rack
		}
		if r.InnerOn != "" {
			pt := l.rowNamed(r.Name).b
			inner = l.place(&pt, &at.q)
		}
		if spec.Spring != nil && spec.Spring.On == r.Name {
			// A rod with a load between its ends is a body of its own.
			body := c.body("rod " + r.Name)
			for j, n := range axes {
				u := c.unknown(r.Name + " outer." + string(rune('0'+j)))
				c.acts(u, k, outer, n, 1)
				c.acts(u, body, outer, n, -1)
				c.acts(c.unknown(r.Name+" inner."+string(rune('0'+j))), body, inner, n, 1)
			}
			// The inner joint swings about the vertical and lifts about a level axis:
			// it carries the moment square to both.
			d := sub(outer, inner)
			d.Z = 0
			c.turns(c.unknown(r.Name+" torsion"), body, scale(1/norm(d), d), 1)
			continue
		}
		d := sub(outer, inner)
		d = scale(1/norm(d), d)
		u := c.unknown(r.Name)
		c.acts(u, k, outer, d, -1) // tension pulls the carrier inward
		if r.InnerOn != "" {
			c.acts(u, c.body(r.InnerOn), inner, d, 1)
		}
	}
	if s := spec.Strut; s != nil {
		axis := sub(s.Top, now(s.Low))
		axis = scale(1/norm(axis), axis)
		e, f := geom.Perpendiculars(axis)
		c.acts(c.unknown("side e"), k, s.Top, e, 1)
		c.acts(c.unknown("side f"), k, s.Top, f, 1)
	}
	if p := spec.Pivots; p != nil {
		for j, n := range axes {
			c.acts(c.unknown("inner pivot."+string(rune('0'+j))), k, p.Inner, n, 1)
		}
		axis, _ := geom.Through(p.Inner, p.Outer)
		e, f := geom.Perpendiculars(axis.Along)
		c.acts(c.unknown("outer pivot e"), k, p.Outer, e, 1)
		c.acts(c.unknown("outer pivot f"), k, p.Outer, f, 1)
	}
	name := ""
	if spec.Spring != nil {
		name = spec.Spring.On
	}
	c.stands(name, spring, c.unknown("spring"), k)
	return c
}

func (l *Linkage) rowNamed(name string) *row {
	for i := range l.rows {
		if l.rows[i].name == name {
			return &l.rows[i]
		}
	}
	return nil
}

// loads are uneven in everything.
var loads = []WheelForce{
	{Contact: geom.Vec{Z: 4000}},
	{Contact: geom.Vec{X: -3100, Y: -2700, Z: 5300}, Hub: geom.Vec{X: 900, Y: 40, Z: -380}},
	{Contact: geom.Vec{X: 700, Y: 1900, Z: 2100}, Hub: geom.Vec{X: -2600, Z: 150}},
}

func TestCornersInEquilibrium(t *testing.T) {
	validation.Against(t, "Spring, link and joint forces of independent suspensions", validation.Derived, "equilibrium of every body cut free, by a general solver")
	for name, spec := range map[string]Corner{
		"strut": strutCorner(), "wishbone": wishboneCorner(), "five-link": fiveLinkCorner(),
		"integral link": integralCorner(), "trailing arm": trailingCorner(),
	} {
		l, err := NewCorner(spec)
		if err != nil {
			t.Fatal(name, err)
		}
		checked := 0
		for _, u := range uneven {
			rack := u.rack
			if !l.steers {
				rack = 0
			}
			at, err := l.at(u.travel, rack)
			if err != nil {
				t.Fatal(err)
			}
			for _, load := range loads {
				got, err := l.Forces(u.travel, rack, [2]WheelForce{load})
				if err != nil {
					t.Fatal(err)
				}
				want := cornerCut(l, &at, &spec, load).solve(t)
				agree(t, name+" spring", got.Spring[0], want["spring"])
				for _, m := range got.Members {
					if w, ok := want[m.Name]; ok {
						agree(t, name+" "+m.Name, m.Pull, w)
						checked++
					}
				}
				for _, j := range got.Joints {
					checked += agreeAt(t, name, j, want, &spec)
				}
				// What the wheel forces do over travel, the spring takes.
				f := l.read(&at, Parallel)
				tw, _ := l.moving(&at, Parallel.direction())
				work := l.work(&at, &tw, 0, load)
				agree(t, name+" virtual work", work/f.Spring.Ratio, got.Spring[0])
			}
		}
		if checked == 0 && spec.Kind != TrailingArm {
			t.Errorf("%s: no link was compared", name)
		}
	}
}

// agreeAt compares the force in a joint with that of the free bodies, and says how
// many were compared: of a rear pivot what it holds square to its axis.
func agreeAt(t *testing.T, what string, j Joint, want map[string]float64, spec *Corner) (compared int) {
	t.Helper()
	for _, a := range spec.Arms {
		if axis, _ := geom.Through(a.Front, a.Rear); j.Name == a.Name+" rear pivot" {
			e, f := geom.Perpendiculars(axis.Along)
			agree(t, what+" "+j.Name+" e", dot(j.Force, e), want[a.Name+" rear.e"])
			agree(t, what+" "+j.Name+" f", dot(j.Force, f), want[a.Name+" rear.f"])
			agree(t, what+" "+j.Name+" along", dot(j.Force, axis.Along), 0)
			return 1
		}
	}
	name := strings.NewReplacer(" ball joint", " ball", " front pivot", " front").Replace(j.Name)
	for i, got := range []float64{j.Force.X, j.Force.Y, j.Force.Z} {
		w, ok := want[name+"."+string(rune('0'+i))]
		if !ok {
			t.Errorf("%s %s stands in no free body", what, j.Name)
			return 0
		}
		agree(t, what+" "+j.Name, got, w)
	}
	return 1
}

// work is the power of a wheel's forces in a movement.
func (l *Linkage) work(at *position, tw *twists, wheel int, load WheelForce) float64 {
	w := &l.wheels[wheel]
	q := &at.q[w.body]
	v, _ := carried(q, &tw[w.body], w.centre)
	lever := scale(w.radius, down(q.r.Apply(w.spin)))
	return dot(load.Hub, v) + dot(load.Contact, add(v, cross(tw[w.body].w, lever)))
}

func agree(t *testing.T, what string, got, want float64) {
	t.Helper()
	if validation.Off(t, got, want, 1e-6*(1+math.Abs(want))) {
		t.Errorf("%s is %.10g N, the free bodies give %.10g N", what, got, want)
	}
}

// Both springs of an axle are held by both wheels' forces.
func TestAxlesInEquilibrium(t *testing.T) {
	validation.Against(t, "Spring and link forces of a twist beam and a live axle", validation.Derived, "equilibrium of every body cut free, by a general solver")
	for _, u := range uneven {
		pair := [2]WheelForce{loads[1], {Contact: geom.Vec{X: -1200, Y: -1500, Z: 2300}}}
		axle, err := NewAxle(liveAxle())
		if err != nil {
			t.Fatal(err)
		}
		axleInEquilibrium(t, axle, u.travel, pair, func(c *cut, now func(int, geom.Vec) geom.Vec) {
			for _, r := range liveAxle().Rods {
				d := sub(now(0, r.Outer), r.Inner)
				c.acts(c.unknown(r.Name), c.body("0"), now(0, r.Outer), scale(1/norm(d), d), -1)
			}
		})
		beam, err := NewBeam(twistBeam())
		if err != nil {
			t.Fatal(err)
		}
		axleInEquilibrium(t, beam, u.travel, pair, func(c *cut, now func(int, geom.Vec) geom.Vec) {
			left, right := c.body("0"), c.body("1")
			bush, shear := twistBeam().Bush, twistBeam().Shear
			for _, n := range []geom.Vec{{X: 1}, {Z: 1}} {
				c.acts(c.unknown("left bush"), left, now(0, bush), n, 1)
				c.acts(c.unknown("right bush"), right, now(1, geom.Mirror(bush)), n, 1)
			}
			both := c.unknown("bushes across")
			c.acts(both, left, now(0, bush), geom.Vec{Y: 1}, 1)
			c.acts(both, right, now(1, geom.Mirror(bush)), geom.Vec{Y: 1}, 1)
			for _, n := range axes {
				u := c.unknown("shear centre")
				c.acts(u, left, now(0, shear), n, 1)
				c.acts(u, right, now(1, shear), n, -1)
			}
			// The member carries moments square to its own line, not along it.
			e, f := geom.Perpendiculars(c.at.q[0].r.Apply(geom.Vec{Y: 1}))
			for _, n := range []geom.Vec{e, f} {
				u := c.unknown("cross member")
				c.turns(u, left, n, 1)
				c.turns(u, right, n, -1)
			}
		})
	}
}

func axleInEquilibrium(t *testing.T, l *Linkage, travel [2]float64, pair [2]WheelForce, joints func(*cut, func(int, geom.Vec) geom.Vec)) {
	t.Helper()
	at, err := l.at(travel, 0)
	if err != nil {
		t.Fatal(err)
	}
	c := &cut{l: l, at: &at, parts: map[string]int{}}
	for k := range l.bodies {
		c.body(string(rune('0' + k)))
	}
	for i := range l.wheels {
		w := &l.wheels[i]
		q := &at.q[w.body]
		hub := add(q.p, q.r.Apply(w.centre))
		c.force(w.body, hub, pair[i].Hub)
		c.force(w.body, add(hub, scale(w.radius, down(q.r.Apply(w.spin)))), pair[i].Contact)
		c.stands("", l.sides[i].spring, c.unknown([2]string{"spring 0", "spring 1"}[i]), w.body)
	}
	joints(c, func(body int, p geom.Vec) geom.Vec {
		return add(at.q[body].p, at.q[body].r.Apply(sub(p, l.home[body].p)))
	})
	want := c.solve(t)
	got, err := l.Forces(travel, 0, pair)
	if err != nil {
		t.Fatal(err)
	}
	for i, name := range []string{"spring 0", "spring 1"} {
		agree(t, string(l.kind)+" "+name, got.Spring[i], want[name])
	}
	for _, m := range got.Members {
		if w, ok := want[m.Name]; ok && m.Pull != 0 {
			agree(t, string(l.kind)+" "+m.Name, m.Pull, w)
		}
	}
	// Virtual work of both wheels in either wheel's travel.
	for k, d := range [][2]float64{{1, 0}, {0, 1}, {0.7, -0.4}} {
		tw, a := l.moving(&at, d)
		work, taken := 0.0, 0.0
		for i := range l.wheels {
			work += l.work(&at, &tw, i, pair[i])
			taken += got.Spring[i] * l.motion(l.sides[i].spring, &at, &tw, &a).Ratio
		}
		if math.Abs(work-taken) > 1e-6*(1+math.Abs(work)) {
			t.Errorf("%s movement %d: wheels give %.9g W, springs take %.9g W", l.kind, k, work, taken)
		}
	}
}
