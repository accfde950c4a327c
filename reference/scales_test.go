package reference

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"trunnion/chassis/equilibrium"
	collars "trunnion/chassis/scales"
	"trunnion/reference/validation"
)

// rig puts a plain car on the scales with collars of 1.5 mm per turn.
func (p *plain) rig(raised [4]float64) *collars.Rig {
	r := &collars.Rig{System: p.system(raised)}
	for i := range 4 {
		r.Adjuster[i] = collars.Adjuster{Kind: collars.Seat, Pitch: 1.5e-3, Up: 0.05, Down: 0.05, Step: collars.EighthTurn}
	}
	for i := range 4 {
		r.Zero[i] = 0.35
	}
	return r
}

// stand is the plain car at rest on the scales after a move of its collars [m].
func (p *plain) stand(t fataler, move [4]float64) collars.Stand {
	t.Helper()
	st, err := p.rig([4]float64{}).Stand(move)
	if err != nil {
		t.Fatal(err)
	}
	return st
}

func modelOf(r *collars.Rig, friction float64) *collars.Model {
	return collars.NewModel(r, collars.Priors(), collars.Noises([4]float64{friction, friction, friction, friction}))
}

// onTyre is a wheel rate with its tyre in series [N/m].
func (p *plain) onTyre(axle int) float64 {
	return p.wheelRate[axle] * p.tyre / (p.wheelRate[axle] + p.tyre)
}

// closed is the change of load [N] on the front left tyre for demands a [m] at
// the wheels, and the body's roll:
//
//	roll = (Rf·Af·tf + Rr·Ar·tr)/(Rf·tf²/2 + Rr·tr²/2),   D = Rf·(Af − roll·tf/2)
//
// with Af = (a_FL − a_FR)/2, Ar likewise, rates on their tyres. Derived here.
func (p *plain) closed(a [4]float64) (d, roll float64) {
	rf, rr := p.onTyre(0), p.onTyre(1)
	tf, tr := p.track[0], p.track[1]
	af, ar := (a[0]-a[1])/2, (a[2]-a[3])/2
	roll = (rf*af*tf + rr*ar*tr) / (rf*tf*tf/2 + rr*tr*tr/2)
	return rf * (af - roll*tf/2), roll
}

// The worked car on the scales, its front left collar 10 mm up. Closed form and
// seven linear equations, derived here; 1e-6.
func TestScalesOfTheWorkedCar(t *testing.T) {
	validation.Against(t, "A car on the scales", validation.Derived, "closed form and seven linear equations", "corner-load", "arch-height")
	before, after := scales.stand(t, [4]float64{}).Reading, scales.stand(t, [4]float64{0.010}).Reading
	nearly(t, "front share", before.FrontShare(), 0.537414966, 1e-6, "-")
	nearly(t, "left share", before.LeftShare(), 0.5, 1e-6, "-")
	nearly(t, "cross, front right and rear left", before.Cross(collars.FrontRightRearLeft), 0.486394558, 1e-6, "-")
	near(t, "cross by the other convention", before.Cross(collars.FrontLeftRearRight), 1-before.Cross(collars.FrontRightRearLeft), 1e-12, "-")
	nearly(t, "wedge", before.Wedge(collars.FrontLeftRearRight), 40, 1e-6, "kg")
	for i, want := range [4]float64{7.13644023, -7.13644023, -7.27916903, 7.27916903} {
		nearly(t, "change of load", after.Load[i]-before.Load[i], want, 1e-6, "kg")
	}
	nearly(t, "front share after", after.FrontShare(), before.FrontShare(), 1e-9, "-")
	// Tracks differ, so the left share moves a little: 0.0097 % by 10 mm here.
	want := (7.13644023 - 7.27916903) / 1470
	near(t, "left share moves by", after.LeftShare()-before.LeftShare(), want, 1e-9, "-")
	// A height is the body's movement less the wheel's: 8.021186 mm of body, and
	// the tyre gives 69.9845716 N/220 N/mm under its own corner.
	for i, body := range [4]float64{8.021186, 2.505130, 2.703949, -2.703949} {
		tyre := (after.Load[i] - before.Load[i]) * equilibrium.Gravity / 220e3
		near(t, "hub to arch", (after.Height[i]-before.Height[i])*1e3, body+tyre*1e3, 1e-6, "mm")
	}
}

// Whatever is turned: the closed form, seven linear equations solved by a
// general solver, and the sensitivity that the move is found with agree. Four
// changes of load are one number.
func TestScalesAgainstClosedForm(t *testing.T) {
	validation.Against(t, "Any move on the scales", validation.Derived, "closed form and seven linear equations", "corner-load")
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string, low, high float64) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
		p := plain{
			unsprung: draw("unsprung", 20, 60), tyre: draw("tyre", 150e3, 320e3), wheelbase: draw("wheelbase", 2.1, 3.3), gravity: equilibrium.Gravity,
			wheelRate: [2]float64{draw("front rate", 15e3, 150e3), draw("rear rate", 15e3, 150e3)},
			ratio:     [2]float64{draw("front ratio", 0.5, 1.1), draw("rear ratio", 0.5, 1.1)},
			track:     [2]float64{draw("front track", 1.3, 1.7), draw("rear track", 1.3, 1.7)},
		}
		var move, demand [4]float64
		for i := range 4 {
			p.load[i] = draw("load", 250, 500)
			move[i] = draw("collar", -0.008, 0.008)
			demand[i] = move[i] / p.ratio[i/2]
		}
		before := p.stand(t, [4]float64{})
		after := p.stand(t, move)
		d, roll := p.closed(demand)
		lean := p.track[0] / p.track[1]
		linear, body := p.linear(t, move)
		rig := p.rig([4]float64{})
		by, err := rig.Sensitivity(&before)
		if err != nil {
			t.Fatal(err)
		}
		for i, want := range [4]float64{d, -d, -d * lean, d * lean} {
			got := (after.Reading.Load[i] - before.Reading.Load[i]) * equilibrium.Gravity
			slope := 0.0
			for j := range 4 {
				slope += by.Load[i][j] * move[j] * equilibrium.Gravity
			}
			if validation.Off(t, got, want, 1e-5) || validation.Off(t, linear[i], want, 1e-6) || validation.Off(t, slope, want, 1e-3) {
				t.Fatalf("corner %d gains %.7f N, %.7f by seven equations, %.7f by its slopes, %.7f by the closed form", i, got, linear[i], slope, want)
			}
		}
		if validation.Off(t, after.State.Roll, roll, 1e-9) || validation.Off(t, body[1], roll, 1e-9) {
			t.Fatalf("the body rolls %.12f, %.12f by seven equations, %.12f by the closed form", after.State.Roll, body[1], roll)
		}
	})
}

// Pure warp (+a, −a, −b, +b) with b = a·kf·tf/(kr·tr) leaves the body where it
// is, to 1e-9 and better, and moves kf·a of load. Asked for that load with the
// body's heights kept, the move found is that warp. Derived here.
func TestScalesFindTheWarp(t *testing.T) {
	validation.Against(t, "The move that is found is pure warp", validation.Derived, "closed form", "cross-share-front-right-rear-left")
	kf, kr := scales.onTyre(0), scales.onTyre(1)
	const a = 0.004
	b := a * kf * 1.53 / (kr * 1.50)
	warp := [4]float64{a * 0.95, -a * 0.95, -b * 0.95, b * 0.95}
	before, after := scales.stand(t, [4]float64{}), scales.stand(t, warp)
	near(t, "heave", after.State.Heave-before.State.Heave, 0, 1e-9, "m")
	near(t, "roll", after.State.Roll-before.State.Roll, 0, 1e-9, "rad")
	near(t, "pitch", after.State.Pitch-before.State.Pitch, 0, 1e-9, "rad")
	nearly(t, "front left gains", (after.Reading.Load[0]-before.Reading.Load[0])*equilibrium.Gravity, kf*a, 1e-9, "N")

	// The wishes: the levels, the heights and the cross that the warp leads to.
	wish := collars.Road.Level(collars.FrontRightRearLeft)
	for x := range 2 {
		wish.Level[x], wish.Mean[x] = after.Reading.Level(x), after.Reading.Mean(x)
	}
	wish.Cross = after.Reading.Cross(wish.Diagonal)
	p, err := modelOf(scales.rig([4]float64{}), 0).Plan(wish)
	if err != nil {
		t.Fatal(err)
	}
	for i := range 4 {
		near(t, "collar of the warp", p.Exact[i], warp[i], 1e-9, "m")
	}
}

// The published gain of a turn and its formula, rigid body, no bars, g 9.81.
//
// Source: none, common practice; a worked case computed apart from this program.
// Half the last printed digit.
func TestTurnsOfOneCollar(t *testing.T) {
	validation.Against(t, "Gain of a turn", validation.Practice, "a worked case computed apart from this program, no source", "corner-load")
	car := func(front, rear, tyre float64) *plain {
		return &plain{
			load: [4]float64{420, 420, 280, 280}, unsprung: 40, wheelRate: [2]float64{front, rear}, tyre: tyre,
			ratio: [2]float64{0.93, 0.90}, wheelbase: 2.6, track: [2]float64{1.5, 1.5}, gravity: 9.81,
		}
	}
	change := func(p *plain, move [4]float64) (load, height, body [4]float64, cross float64) {
		before, after := p.stand(t, [4]float64{}), p.stand(t, move)
		sys := p.system([4]float64{})
		for i := range 4 {
			load[i] = (after.State.Load[i] - before.State.Load[i]) / 9.81
			height[i] = (after.Reading.Height[i] - before.Reading.Height[i]) * 1e3
			body[i] = (after.State.Heave + sys.Left[i]*after.State.Roll + sys.Behind[i]*after.State.Pitch) * 1e3
		}
		return load, height, body, (after.Reading.Cross(collars.FrontLeftRearRight) - before.Reading.Cross(collars.FrontLeftRearRight)) * 100
	}
	// One turn up at the front left: 1.613 mm at the wheel.
	load, height, body, _ := change(car(52e3, 45e3, 230e3), [4]float64{1.5e-3})
	for i := range 4 {
		near(t, "load of one turn", load[i], [4]float64{1.64, -1.64, -1.64, 1.64}[i], 0.005, "kg")
		near(t, "hub to arch of one turn", height[i], [4]float64{1.30, 0.31, 0.36, -0.36}[i], 0.005, "mm")
		near(t, "body to floor of one turn", body[i], [4]float64{1.23, 0.38, 0.43, -0.43}[i], 0.005, "mm")
	}
	for _, row := range []struct {
		name              string
		front, rear, tyre float64 // [N/m]
		load              float64 // of each tyre [kg]
		digit             float64
		cross             float64 // [%]
	}{
		{"comfortable road", 25e3, 27e3, 210e3, 0.95, 0.01, 0.14},
		{"fast road", 52e3, 45e3, 230e3, 1.6, 0.1, 0.23},
		{"track", 87e3, 80e3, 250e3, 2.6, 0.1, 0.37},
		{"stiff race", 160e3, 150e3, 280e3, 4.1, 0.1, 0.59},
	} {
		load, _, body, cross := change(car(row.front, row.rear, row.tyre), [4]float64{1.5e-3})
		near(t, row.name+", load of one turn", load[0], row.load, row.digit/2, "kg")
		near(t, row.name+", cross of one turn", cross, row.cross, 0.005, "%")
		for i, want := range [4]float64{1.2, 0.4, 0.4, -0.4} {
			near(t, row.name+", body to floor of one turn", body[i], want, 0.05, "mm")
		}
	}
	// A pure cross change of 10 kg per tyre: ΔF over the rate on its tyre, times
	// the motion ratio: fronts 1.43, rears 1.62 turns; 20 kg, 1.43 % of cross.
	// The case has one motion ratio, 0.93, at both axles.
	p := car(52e3, 45e3, 230e3)
	p.ratio[1] = 0.93
	var move [4]float64
	for i, sign := range [4]float64{1, -1, -1, 1} {
		move[i] = sign * 10 * 9.81 / p.onTyre(i/2) * p.ratio[i/2]
	}
	near(t, "front turns", move[0]/1.5e-3, 1.43, 0.005, "turns")
	near(t, "rear turns", move[3]/1.5e-3, 1.62, 0.005, "turns")
	load, _, body, cross := change(p, move)
	near(t, "cross of 10 kg per tyre", cross, 1.43, 0.005, "%")
	for i := range 4 {
		near(t, "10 kg per tyre", load[i], [4]float64{10, -10, -10, 10}[i], 1e-6, "kg")
		near(t, "body of a pure cross change", body[i], 0, 1e-6, "mm")
	}
}

// What friction at each wheel leaves open: the height it holds, F/k, and the
// cross weight under four independent wheels, the root of the squares.
//
// Source: none, common practice; a table computed apart from this program. Half
// the last printed digit.
func TestHangUpTable(t *testing.T) {
	validation.Against(t, "What friction leaves open on the scales", validation.Practice, "a table computed apart from this program, no source", "hang-up")
	for _, row := range []struct {
		name              string
		front, rear, tyre float64 // [N/m]
		height            [3]float64
		heightDigit       float64
		cross             [3]float64
		crossDigit        [3]float64
	}{
		{"comfortable road", 25e3, 27e3, 210e3, [3]float64{2, 4, 8}, 1, [3]float64{0.3, 0.65, 1.3}, [3]float64{0.1, 0.05, 0.1}},
		{"fast road", 52e3, 45e3, 230e3, [3]float64{1, 2, 4}, 1, [3]float64{0.3, 0.6, 1.2}, [3]float64{0.1, 0.1, 0.1}},
		{"track", 87e3, 80e3, 250e3, [3]float64{0.6, 1.1, 2.3}, 0.1, [3]float64{0.3, 0.55, 1.1}, [3]float64{0.1, 0.05, 0.1}},
		{"stiff race", 160e3, 150e3, 280e3, [3]float64{0.3, 0.6, 1.2}, 0.1, [3]float64{0.2, 0.5, 0.9}, [3]float64{0.1, 0.1, 0.1}},
	} {
		p := plain{
			load: [4]float64{420, 420, 280, 280}, unsprung: 40, wheelRate: [2]float64{row.front, row.rear}, tyre: row.tyre,
			ratio: [2]float64{0.93, 0.90}, wheelbase: 2.6, track: [2]float64{1.5, 1.5}, gravity: 9.81,
		}
		m := modelOf(p.rig([4]float64{}), 0)
		for k, f := range [3]float64{50, 100, 200} {
			height, cross, err := m.HangUp(collars.FrontRightRearLeft, [4]float64{f, f, f, f})
			if err != nil {
				t.Fatal(err)
			}
			// 200 N over 160 N/mm is 1.25 mm, a tie that was printed as 1.2.
			const tie = 1e-9
			near(t, row.name+", height held", height[0]*1e3, row.height[k], row.heightDigit/2+tie, "mm")
			near(t, row.name+", cross left open", cross*100, row.cross[k], row.crossDigit[k]/2, "%")
		}
	}
}

// One pad a millimetre high moves cross weight 0.08, 0.15, 0.23 and 0.36 % on a
// car of 1400 kg, three 0.25, 0.44, 0.68 and 1.1 %.
//
// Source: none, common practice; computed apart from this program. Half the
// last printed digit.
func TestPadOutOfLevel(t *testing.T) {
	validation.Against(t, "Pads out of level", validation.Practice, "computed apart from this program, no source", "cross-share-front-right-rear-left")
	for _, row := range []struct {
		front, rear, tyre, one, three, digit float64
	}{
		{25e3, 27e3, 210e3, 0.08, 0.25, 0.01},
		{52e3, 45e3, 230e3, 0.15, 0.44, 0.01},
		{87e3, 80e3, 250e3, 0.23, 0.68, 0.01},
		{160e3, 150e3, 280e3, 0.36, 1.1, 0.1},
	} {
		p := plain{
			load: [4]float64{420, 420, 280, 280}, unsprung: 40, wheelRate: [2]float64{row.front, row.rear}, tyre: row.tyre,
			ratio: [2]float64{0.93, 0.90}, wheelbase: 2.6, track: [2]float64{1.5, 1.5}, gravity: 9.81,
		}
		st := p.stand(t, [4]float64{})
		by, err := p.rig([4]float64{}).ByPad(&st)
		if err != nil {
			t.Fatal(err)
		}
		cross := (by.Load[0][0] + by.Load[3][0]) / st.Reading.Total() * 1e-3 * 100
		near(t, "cross by a pad 1 mm high", cross, row.one, 0.005, "%")
		near(t, "cross by a pad 3 mm high", 3*cross, row.three, row.digit/2, "%")
	}
}

// The height of the centre of gravity by lifting one axle, suspension locked:
// 1450 kg, 12.5 kg more on the axle that stays, wheelbase 2.6 m, raised by
// 0.45 m, wheel centres at 0.31 m.
//
// Source: the usual formula of textbooks, from memory; the figure derived here.
// 1e-9.
func TestHeightByLiftingAnAxle(t *testing.T) {
	validation.Against(t, "Height of the centre of gravity by lifting an axle", validation.Derived, "the usual formula of textbooks (from memory)")
	l := collars.Lift{Total: collars.Band{Value: 1450}, Gain: collars.Band{Value: 12.5}, Wheelbase: collars.Band{Value: 2.6}, Raised: collars.Band{Value: 0.45}, Radius: collars.Band{Value: 0.31}}
	near(t, "height of the centre of gravity", l.CGHeight().Value, 0.437547513, 0.5e-9, "m")
	near(t, "without bands", l.CGHeight().Half, 0, 0, "m")
}

// A car of known height put through it: what the axle on the scales gains by the
// moments of a rigid body is read back as that height, whatever the car, and the
// band is what a reading off by its own moves it by.
func TestLiftFindsTheHeight(t *testing.T) {
	validation.Against(t, "Lifting an axle, there and back", validation.Derived, "moments of a rigid body")
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string, low, high float64) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
		total, wheelbase, radius := draw("total", 700, 2500), draw("wheelbase", 2, 3.3), draw("radius", 0.25, 0.4)
		height, behind := draw("height", 0.3, 0.8), draw("behind", 0.9, 1.6)
		raised := draw("raised", 0.2, 0.8)
		// The rear axle raised: the body turns about the front wheel centres.
		slope := math.Asin(raised / wheelbase)
		x := behind*math.Cos(slope) - (height-radius)*math.Sin(slope)
		front := total * (wheelbase*math.Cos(slope) - x) / (wheelbase * math.Cos(slope))
		level := total * (wheelbase - behind) / wheelbase
		l := collars.Lift{Total: collars.Band{Value: total}, Gain: collars.Band{Value: front - level, Half: 1}, Wheelbase: collars.Band{Value: wheelbase}, Raised: collars.Band{Value: raised}, Radius: collars.Band{Value: radius}}
		got := l.CGHeight()
		if validation.Off(t, got.Value, height, 1e-9) {
			t.Fatalf("%.12f m, want %.12f m", got.Value, height)
		}
		if want := wheelbase / (total * math.Tan(slope)); validation.Off(t, got.Half, want, 1e-9) {
			t.Fatalf("one kilogram moves it by %.9f m, want %.9f m", got.Half, want)
		}
		// What the wheels weigh is at the height of their centres.
		const unsprung = 150
		if s := l.Sprung(unsprung); validation.Off(t, (total-unsprung)*s.Value+unsprung*radius, total*height, 1e-6) {
			t.Fatalf("sprung at %.6f m of %.6f m", s.Value, height)
		}
	})
}
