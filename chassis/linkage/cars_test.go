package linkage

import "trunnion/chassis/geom"

// The linkages of the tests: invented, one of every kind, none symmetrical in
// anything it need not be.

func mm(x, y, z float64) geom.Vec { return geom.Vec{X: x / 1000, Y: y / 1000, Z: z / 1000} }

func front() Wheel {
	return Wheel{Centre: mm(3, 752, 308), Radius: 0.308, Camber: -0.014, Toe: 0.002}
}

func strutCorner() Corner {
	return Corner{
		Kind:  Strut,
		Wheel: front(),
		Arms:  []Arm{{Name: "lower arm", Front: mm(-15, 360, 235), Rear: mm(-310, 380, 245), Ball: mm(5, 700, 220)}},
		Rods:  []Rod{{Name: "tie rod", Inner: mm(-130, 340, 300), Outer: mm(-135, 690, 290), Steered: true}},
		Strut: &Axis{Top: mm(-45, 580, 820), Low: mm(-14, 655, 420)},
		Bar: &Drop{
			Low: mm(-30, 620, 560), End: mm(-60, 600, 330), Axis: mm(-300, 300, 310), Turn: mm(-300, -300, 310),
		},
	}
}

func wishboneCorner() Corner {
	return Corner{
		Kind:  DoubleWishbone,
		Wheel: front(),
		Arms: []Arm{
			{Name: "lower arm", Front: mm(160, 330, 205), Rear: mm(-140, 345, 212), Ball: mm(12, 705, 190)},
			{Name: "upper arm", Front: mm(90, 430, 470), Rear: mm(-110, 420, 455), Ball: mm(-20, 660, 505)},
		},
		Rods:   []Rod{{Name: "tie rod", Inner: mm(110, 330, 240), Outer: mm(125, 690, 232), Steered: true}},
		Spring: &Element{Top: mm(-20, 470, 700), Low: mm(0, 600, 205), On: "lower arm"},
		Damper: &Element{Top: mm(-24, 465, 712), Low: mm(4, 604, 198), On: "lower arm"},
		Bar: &Drop{
			Low: mm(60, 560, 210), On: "lower arm", End: mm(80, 540, 380), Axis: mm(260, 300, 370), Turn: mm(262, -300, 370),
		},
	}
}

func fiveLinkCorner() Corner {
	return Corner{
		Kind:  FiveLink,
		Wheel: Wheel{Centre: mm(-2700, 748, 311), Radius: 0.311, Camber: -0.02, Toe: 0.003},
		Rods: []Rod{
			{Name: "front lower", Inner: mm(-2560, 380, 215), Outer: mm(-2650, 690, 205)},
			{Name: "spring link", Inner: mm(-2850, 260, 230), Outer: mm(-2760, 700, 215)},
			{Name: "front upper", Inner: mm(-2640, 430, 430), Outer: mm(-2670, 650, 450)},
			{Name: "rear upper", Inner: mm(-2790, 440, 420), Outer: mm(-2740, 655, 455)},
			{Name: "toe link", Inner: mm(-2520, 400, 330), Outer: mm(-2590, 695, 320), Steered: true},
		},
		Spring: &Element{Top: mm(-2800, 520, 520), Low: mm(-2811, 524, 209), On: "spring link"},
		Damper: &Element{Top: mm(-2760, 600, 690), Low: mm(-2745, 668, 240)},
	}
}

// integralCorner has a lower arm that a short link ties to the carrier and
// whose spring stands on it.
func integralCorner() Corner {
	return Corner{
		Kind:  FiveLink,
		Wheel: Wheel{Centre: mm(-2700, 748, 311), Radius: 0.311, Camber: -0.02, Toe: 0.003},
		Arms:  []Arm{{Name: "lower arm", Front: mm(-2520, 350, 220), Rear: mm(-2790, 300, 228), Ball: mm(-2735, 695, 205)}},
		Rods: []Rod{
			{Name: "upper link", Inner: mm(-2690, 420, 440), Outer: mm(-2705, 665, 455)},
			{Name: "toe link", Inner: mm(-2840, 330, 270), Outer: mm(-2830, 690, 262)},
			{Name: "integral link", Inner: mm(-2615, 610, 214), Outer: mm(-2620, 640, 395), InnerOn: "lower arm"},
		},
		Spring: &Element{Top: mm(-2700, 480, 520), Low: mm(-2690, 500, 225), On: "lower arm"},
		Damper: &Element{Top: mm(-2760, 600, 690), Low: mm(-2745, 668, 240)},
	}
}

func trailingCorner() Corner {
	return Corner{
		Kind:   TrailingArm,
		Wheel:  Wheel{Centre: mm(-2600, 735, 300), Radius: 0.3, Camber: -0.025, Toe: 0.004},
		Pivots: &Pivots{Inner: mm(-2290, 230, 262), Outer: mm(-2180, 590, 270)},
		Spring: &Element{Top: mm(-2480, 520, 560), Low: mm(-2470, 530, 270)},
		Damper: &Element{Top: mm(-2590, 560, 700), Low: mm(-2640, 610, 250)},
	}
}

func twistBeam() Beam {
	return Beam{
		Wheel:  Wheel{Centre: mm(-2650, 740, 305), Radius: 0.305, Camber: -0.018, Toe: 0.003},
		Bush:   mm(-2210, 560, 330),
		Shear:  mm(-2330, 0, 368),
		Spring: &Element{Top: mm(-2540, 510, 590), Low: mm(-2550, 515, 280)},
		Damper: &Element{Top: mm(-2610, 590, 720), Low: mm(-2690, 600, 250)},
		Bar:    &Drop{Low: mm(-2600, 480, 300), End: mm(-2600, 480, 420), Axis: mm(-2400, 400, 410), Turn: mm(-2400, -400, 410)},
	}
}

func liveAxle() Axle {
	return Axle{
		Wheel: Wheel{Centre: mm(-2500, 720, 315), Radius: 0.315},
		Rods: []Rod{
			{Name: "left lower link", Inner: mm(-1950, 480, 300), Outer: mm(-2480, 520, 250)},
			{Name: "right lower link", Inner: mm(-1955, -478, 302), Outer: mm(-2482, -522, 251)},
			{Name: "upper link", Inner: mm(-2150, 120, 470), Outer: mm(-2500, 110, 455)},
			{Name: "transverse rod", Inner: mm(-2620, -510, 380), Outer: mm(-2615, 500, 340)},
		},
		Spring: &Element{Top: mm(-2490, 450, 600), Low: mm(-2490, 470, 330)},
		Damper: &Element{Top: mm(-2560, 400, 680), Low: mm(-2590, 560, 240)},
	}
}

// kinds are all of them, made ready.
func kinds() map[string]func() (*Linkage, error) {
	corner := func(c Corner) func() (*Linkage, error) { return func() (*Linkage, error) { return NewCorner(c) } }
	return map[string]func() (*Linkage, error){
		"strut": corner(strutCorner()), "wishbone": corner(wishboneCorner()), "five-link": corner(fiveLinkCorner()),
		"integral link": corner(integralCorner()), "trailing arm": corner(trailingCorner()),
		"twist beam": func() (*Linkage, error) { return NewBeam(twistBeam()) },
		"live axle":  func() (*Linkage, error) { return NewAxle(liveAxle()) },
	}
}
