package reference

import (
	"testing"

	"trunnion/chassis/geom"
	"trunnion/chassis/linkage"
	"trunnion/reference/validation"
)

// Two level arms, the spring upright on the lower one part way along, everything in
// one plane square to the car. By hand, each part cut free: the carrier gives the
// lower ball joint the whole upright load of 4000 N; standing 50 mm outside that joint
// it tips the top inward, so that the upper arm pushes outward with 4000·50/300 N and
// the lower pulls as much. The lower arm is a lever: 4000·350/210 N in the
// spring, and 4000·(350/210 − 1) N up at its pivots, half at each.
//
// Source: equilibrium of a lever and of a body cut free, as in any textbook of
// statics (J. L. Meriam, L. G. Kraige, Engineering Mechanics: Statics, ch. 3, from
// memory); numbers derived here, 1e-6 N.
func TestArmThatCarriesTheSpring(t *testing.T) {
	validation.Against(t, "Joint forces of an arm that carries the spring", validation.Derived, "statics of a lever and of a body cut free (Meriam, Kraige, Statics, ch. 3, from memory)")
	l, err := linkage.NewCorner(linkage.Corner{
		Kind:  linkage.DoubleWishbone,
		Wheel: linkage.Wheel{Centre: mm(0, 750, 310), Radius: 0.31},
		Arms: []linkage.Arm{
			{Name: "lower arm", Front: mm(150, 350, 200), Rear: mm(-150, 350, 200), Ball: mm(0, 700, 200)},
			{Name: "upper arm", Front: mm(100, 400, 500), Rear: mm(-100, 400, 500), Ball: mm(0, 700, 500)},
		},
		Rods:   []linkage.Rod{{Name: "tie rod", Inner: mm(-120, 350, 250), Outer: mm(-120, 700, 250), Steered: true}},
		Spring: &linkage.Element{Top: mm(0, 560, 650), Low: mm(0, 560, 200), On: "lower arm"},
	})
	if err != nil {
		t.Fatal(err)
	}
	f, err := l.Forces([2]float64{}, 0, [2]linkage.WheelForce{{Contact: geom.Vec{Z: 4000}}})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "spring", f.Spring[0], 4000*350/210.0, 1e-6, "N")
	want := map[string]geom.Vec{
		"lower arm ball joint":  {Y: -4000 * 50 / 300.0, Z: -4000},
		"lower arm front pivot": {Y: -4000 * 50 / 600.0, Z: 4000 * (350/210.0 - 1) / 2},
		"lower arm rear pivot":  {Y: -4000 * 50 / 600.0, Z: 4000 * (350/210.0 - 1) / 2},
		"upper arm ball joint":  {Y: 4000 * 50 / 300.0},
		"upper arm front pivot": {Y: 4000 * 50 / 600.0},
		"upper arm rear pivot":  {Y: 4000 * 50 / 600.0},
	}
	for _, j := range f.Joints {
		w, ok := want[j.Name]
		if !ok {
			t.Fatalf("%s is not known", j.Name)
		}
		near(t, j.Name+", forward", j.Force.X, w.X, 1e-6, "N")
		near(t, j.Name+", left", j.Force.Y, w.Y, 1e-6, "N")
		near(t, j.Name+", up", j.Force.Z, w.Z, 1e-6, "N")
		delete(want, j.Name)
	}
	for name := range want {
		t.Errorf("%s is missing", name)
	}
	for _, m := range f.Members {
		near(t, m.Name, m.Pull, 0, 1e-6, "N")
	}
}
