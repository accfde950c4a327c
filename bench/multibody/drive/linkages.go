package main

import (
	"fmt"
	"strings"

	"trunnion/chassis/geom"
	"trunnion/chassis/linkage"
)

func mm(x, y, z float64) geom.Vec { return geom.Vec{X: x / 1e3, Y: y / 1e3, Z: z / 1e3} }

// suspension is one that both build; its points are invented and uneven.
type suspension struct {
	name       string
	hardpoints linkage.Hardpoints
	// loads are put on the left wheel: of the road at the contact, and at the hub.
	loads []linkage.WheelForce
}

// travels are those of the left wheel, from home outward either way. [m]
var travels = []float64{0, 0.013, 0.029, 0.047, 0.068, 0.09, 0, -0.011, -0.03, -0.052, -0.079}

func suspensions() []suspension {
	front := linkage.Wheel{Centre: mm(0, 750, 310), Radius: 0.31}
	rear := linkage.Wheel{Centre: mm(-2700, 748, 311), Radius: 0.311}
	loads := []linkage.WheelForce{
		{Contact: geom.Vec{Z: 4000}},
		{Contact: geom.Vec{X: -3100, Y: -2700, Z: 5300}, Hub: geom.Vec{X: 900, Y: 40, Z: -380}},
	}
	return []suspension{
		{"strut", linkage.Hardpoints{Corner: &linkage.Corner{
			Kind: linkage.Strut, Wheel: front,
			Arms:  []linkage.Arm{{Name: "lower-arm", Front: mm(-15, 360, 235), Rear: mm(-310, 380, 245), Ball: mm(5, 700, 220)}},
			Rods:  []linkage.Rod{{Name: "tie-rod", Inner: mm(-130, 340, 300), Outer: mm(-135, 690, 290), Steered: true}},
			Strut: &linkage.Axis{Top: mm(-45, 580, 820), Low: mm(-14, 655, 420)},
		}}, loads},
		{"wishbone", linkage.Hardpoints{Corner: &linkage.Corner{
			Kind: linkage.DoubleWishbone, Wheel: front,
			Arms: []linkage.Arm{
				{Name: "lower-arm", Front: mm(160, 330, 205), Rear: mm(-140, 345, 212), Ball: mm(12, 705, 190)},
				{Name: "upper-arm", Front: mm(90, 430, 470), Rear: mm(-110, 420, 455), Ball: mm(-20, 660, 505)},
			},
			Rods:   []linkage.Rod{{Name: "tie-rod", Inner: mm(110, 330, 240), Outer: mm(125, 690, 232), Steered: true}},
			Spring: &linkage.Element{Top: mm(-20, 470, 700), Low: mm(0, 600, 205), On: "lower-arm"},
			Damper: &linkage.Element{Top: mm(-24, 465, 712), Low: mm(4, 604, 198), On: "lower-arm"},
		}}, loads},
		{"five-link", linkage.Hardpoints{Corner: &linkage.Corner{
			Kind: linkage.FiveLink, Wheel: rear,
			Rods: []linkage.Rod{
				{Name: "front-lower", Inner: mm(-2560, 380, 215), Outer: mm(-2650, 690, 205)},
				{Name: "spring-link", Inner: mm(-2850, 260, 230), Outer: mm(-2760, 700, 215)},
				{Name: "front-upper", Inner: mm(-2640, 430, 430), Outer: mm(-2670, 650, 450)},
				{Name: "rear-upper", Inner: mm(-2790, 440, 420), Outer: mm(-2740, 655, 455)},
				{Name: "toe-link", Inner: mm(-2520, 400, 330), Outer: mm(-2590, 695, 320), Steered: true},
			},
			Spring: &linkage.Element{Top: mm(-2800, 520, 520), Low: mm(-2811, 524, 209), On: "spring-link"},
			Damper: &linkage.Element{Top: mm(-2760, 600, 690), Low: mm(-2745, 668, 240)},
		}}, loads},
		{"integral-link", linkage.Hardpoints{Corner: &linkage.Corner{
			Kind: linkage.FiveLink, Wheel: rear,
			Arms: []linkage.Arm{{Name: "lower-arm", Front: mm(-2520, 350, 220), Rear: mm(-2790, 300, 228), Ball: mm(-2735, 695, 205)}},
			Rods: []linkage.Rod{
				{Name: "upper-link", Inner: mm(-2690, 420, 440), Outer: mm(-2705, 665, 455)},
				{Name: "toe-link", Inner: mm(-2840, 330, 270), Outer: mm(-2830, 690, 262)},
				{Name: "integral-link", Inner: mm(-2615, 610, 214), Outer: mm(-2620, 640, 395), InnerOn: "lower-arm"},
			},
			Spring: &linkage.Element{Top: mm(-2700, 480, 520), Low: mm(-2690, 500, 225), On: "lower-arm"},
			Damper: &linkage.Element{Top: mm(-2760, 600, 690), Low: mm(-2745, 668, 240)},
		}}, loads},
		{"trailing-arm", linkage.Hardpoints{Corner: &linkage.Corner{
			Kind: linkage.TrailingArm, Wheel: linkage.Wheel{Centre: mm(-2600, 735, 300), Radius: 0.3},
			Pivots: &linkage.Pivots{Inner: mm(-2290, 230, 262), Outer: mm(-2180, 590, 270)},
			Spring: &linkage.Element{Top: mm(-2480, 520, 560), Low: mm(-2470, 530, 270)},
			Damper: &linkage.Element{Top: mm(-2590, 560, 700), Low: mm(-2640, 610, 250)},
		}}, loads},
		{"live-axle", linkage.Hardpoints{Axle: &linkage.Axle{
			Wheel: linkage.Wheel{Centre: mm(-2500, 720, 315), Radius: 0.315},
			Rods: []linkage.Rod{
				{Name: "left-lower", Inner: mm(-1950, 480, 300), Outer: mm(-2480, 520, 250)},
				{Name: "right-lower", Inner: mm(-1955, -478, 302), Outer: mm(-2482, -522, 251)},
				{Name: "upper-link", Inner: mm(-2150, 120, 470), Outer: mm(-2500, 110, 455)},
				{Name: "transverse-rod", Inner: mm(-2620, -510, 380), Outer: mm(-2615, 500, 340)},
			},
			Spring: &linkage.Element{Top: mm(-2490, 450, 600), Low: mm(-2490, 470, 330)},
			Damper: &linkage.Element{Top: mm(-2560, 400, 680), Low: mm(-2590, 560, 240)},
		}}, loads},
	}
}

// export writes them as the other program reads them.
func export(w *strings.Builder) {
	at := func(p geom.Vec) string { return fmt.Sprintf("%.17g %.17g %.17g", p.X, p.Y, p.Z) }
	on := func(name string) string {
		if name == "" {
			return "-"
		}
		return name
	}
	for _, s := range suspensions() {
		fmt.Fprintf(w, "case %s\n", s.name)
		var wheel linkage.Wheel
		var arms []linkage.Arm
		var rods []linkage.Rod
		var spring, damper *linkage.Element
		if a := s.hardpoints.Axle; a != nil {
			fmt.Fprintln(w, "axle")
			wheel, rods, spring, damper = a.Wheel, a.Rods, a.Spring, a.Damper
		} else {
			c := s.hardpoints.Corner
			wheel, arms, rods, spring, damper = c.Wheel, c.Arms, c.Rods, c.Spring, c.Damper
			if c.Strut != nil {
				fmt.Fprintf(w, "strut %s %s\n", at(c.Strut.Top), at(c.Strut.Low))
			}
			if c.Pivots != nil {
				fmt.Fprintf(w, "pivots %s %s\n", at(c.Pivots.Inner), at(c.Pivots.Outer))
			}
		}
		fmt.Fprintf(w, "wheel %s %.17g\n", at(wheel.Centre), wheel.Radius)
		for _, a := range arms {
			fmt.Fprintf(w, "arm %s %s %s %s\n", a.Name, at(a.Front), at(a.Rear), at(a.Ball))
		}
		for _, r := range rods {
			fmt.Fprintf(w, "rod %s %s %s %s\n", r.Name, at(r.Inner), at(r.Outer), on(r.InnerOn))
		}
		if spring != nil {
			fmt.Fprintf(w, "spring %s %s %s\n", at(spring.Top), at(spring.Low), on(spring.On))
		}
		if damper != nil {
			fmt.Fprintf(w, "damper %s %s %s\n", at(damper.Top), at(damper.Low), on(damper.On))
		}
		for _, t := range travels {
			fmt.Fprintf(w, "travel %.17g 0\n", t) // the right wheel of an axle stays
		}
		for _, l := range s.loads {
			fmt.Fprintf(w, "load %s %s\n", at(l.Contact), at(l.Hub))
		}
	}
}
