package reference

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"

	"trunnion/chassis/corner"
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/numeric"
	"trunnion/chassis/part"
	"trunnion/reference/validation"
)

// fataler is what a test and a generated case have in common.
type fataler interface {
	Helper()
	Fatal(args ...any)
}

// plain is a car of straight springs on straight tyres: what corner-weight
// arithmetic can be done by hand for.
type plain struct {
	load      [4]float64 // at the tyres as weighed [kg]
	unsprung  float64    // with one wheel [kg]
	wheelRate [2]float64 // [N/m]
	tyre      float64    // [N/m]
	ratio     [2]float64 // spring travel / wheel travel [-]
	wheelbase float64    // [m]
	track     [2]float64 // [m]
	gravity   float64    // the case's own [m/s2]
}

// system puts the car on its wheels, each platform raised by so much at the
// spring [m]. The program's own gravity cancels: loads enter as forces.
func (p *plain) system(platform [4]float64) equilibrium.System {
	var s equilibrium.System
	for i := range 4 {
		a := i / 2
		spring := p.wheelRate[a] / (p.ratio[a] * p.ratio[a])
		tyreLoad := p.load[i] * p.gravity
		force := tyreLoad - p.unsprung*equilibrium.Gravity
		s.Corner[i] = corner.Model{
			SpringTravel: numeric.Smooth{Poly: numeric.Poly{C: [5]float64{p.ratio[a]}, N: 1}},
			Spring:       part.Spring{Rate: spring, Free: 2, Block: 0.1},
			Compressed0:  force/(p.ratio[a]*spring) + platform[i],
		}
		s.TyreRate[i], s.Unsprung[i] = p.tyre, p.unsprung
		s.Base.Force[i], s.Base.Tyre[i] = force, tyreLoad/p.tyre
		s.Behind[i] = float64(a) * p.wheelbase
		s.Left[i] = p.track[a] / 2
		if i%2 == 1 {
			s.Left[i] = -s.Left[i]
		}
		s.SprungWeight += force
		s.MomentBehind += force * s.Behind[i]
		s.MomentLeft += force * s.Left[i]
	}
	return s
}

// rest solves the car with its platforms raised.
func (p *plain) rest(t fataler, platform [4]float64) equilibrium.State {
	t.Helper()
	sys := p.system(platform)
	st, err := sys.Solve(equilibrium.Weights{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	return st
}

// linear solves the same change by seven linear equations in the four wheels'
// and the body's movements, by a general solver: what the change does to the
// tyre loads [N] and to heave [m], roll and pitch [rad].
func (p *plain) linear(t fataler, platform [4]float64) (load [4]float64, body [3]float64) {
	t.Helper()
	k := mat.NewDense(7, 7, nil)
	b := mat.NewVecDense(7, nil)
	for i := range 4 {
		a := i / 2
		y := p.track[a] / 2
		if i%2 == 1 {
			y = -y
		}
		arms := [3]float64{1, y, float64(a) * p.wheelbase}
		ks := p.wheelRate[a]
		demand := ks * platform[i] / p.ratio[a]
		// Wheel i goes up by u: the tyre unloads, the spring pushes back.
		k.Set(i, i, ks+p.tyre)
		b.SetVec(i, -demand)
		for m, arm := range arms {
			k.Set(i, 4+m, -ks*arm)
			k.Set(4+m, i, -ks*arm)
			b.SetVec(4+m, b.AtVec(4+m)+demand*arm)
			for n, other := range arms {
				k.Set(4+m, 4+n, k.At(4+m, 4+n)+ks*arm*other)
			}
		}
	}
	var x mat.VecDense
	if err := x.SolveVec(k, b); err != nil {
		t.Fatal(err)
	}
	for i := range 4 {
		load[i] = -p.tyre * x.AtVec(i)
	}
	return load, [3]float64{x.AtVec(4), x.AtVec(5), x.AtVec(6)}
}

// scales is the car of the worked figures: 1470 kg, no bars.
var scales = plain{
	load: [4]float64{405, 385, 330, 350}, unsprung: 42, wheelRate: [2]float64{32e3, 30e3}, tyre: 220e3,
	ratio: [2]float64{0.95, 0.95}, wheelbase: 2.6, track: [2]float64{1.53, 1.50}, gravity: equilibrium.Gravity,
}

// One platform 10 mm up at the front left (10.5263158 mm at the wheel). Closed
// form and seven linear equations, both derived here; 1e-6.
func TestPlatformTurnOnScales(t *testing.T) {
	validation.Against(t, "Corner weights after one collar", validation.Derived, "closed form and seven linear equations", "corner-load", "cross-share-front-right-rear-left")
	before, after := scales.rest(t, [4]float64{}), scales.rest(t, [4]float64{0.010})
	total, front, left, cross := 0.0, before.Load[0]+before.Load[1], before.Load[0]+before.Load[2], before.Load[1]+before.Load[2]
	for _, l := range before.Load {
		total += l
	}
	nearly(t, "front share", front/total, 0.537414966, 1e-6, "-")
	nearly(t, "left share", left/total, 0.5, 1e-6, "-")
	nearly(t, "cross share, front right and rear left", cross/total, 0.486394558, 1e-6, "-")
	nearly(t, "wedge", (before.Load[0]+before.Load[3]-cross)/scales.gravity, 40, 1e-6, "kg")
	nearly(t, "front rate on its tyre", 32e3*220e3/(32e3+220e3), 27936.5079, 1e-6, "N/m")

	nearly(t, "front left", after.Load[0]-before.Load[0], 69.9845716, 1e-6, "N")
	for i, want := range [4]float64{7.13644023, -7.13644023, -7.27916903, 7.27916903} {
		nearly(t, "change of load", (after.Load[i]-before.Load[i])/scales.gravity, want, 1e-6, "kg")
	}
	nearly(t, "roll, left up", after.Roll*180/math.Pi, 0.206566515, 1e-6, "deg")
	nearly(t, "pitch, rear up", after.Pitch*180/math.Pi, -0.115983359, 1e-6, "deg")
	sys := scales.system([4]float64{})
	for i, want := range [4]float64{8.021186, 2.505130, 2.703949, -2.703949} {
		got := after.Heave + sys.Left[i]*after.Roll + sys.Behind[i]*after.Pitch
		nearly(t, "body over the wheel", got*1e3, want, 1e-6, "mm")
	}
}

// Equal tracks and rates k, one corner raised by a: every corner changes by
// k·a/4. 36 kN/m on tyres of 180 kN/m, k = 30 kN/m, and 10 mm at the wheel:
// 75 N. Derived here.
func TestOneCornerRaised(t *testing.T) {
	validation.Against(t, "Corner weights with one corner raised", validation.Derived, "closed form", "corner-load")
	p := plain{
		load: [4]float64{400, 390, 330, 340}, unsprung: 40, wheelRate: [2]float64{36e3, 36e3}, tyre: 180e3,
		ratio: [2]float64{1, 1}, wheelbase: 2.6, track: [2]float64{1.5, 1.5}, gravity: equilibrium.Gravity,
	}
	before, after := p.rest(t, [4]float64{}), p.rest(t, [4]float64{0, 0, 0.010})
	for i, want := range [4]float64{-75, 75, 75, -75} {
		near(t, "change of load", after.Load[i]-before.Load[i], want, 1e-6, "N")
	}
}

// Pure warp (+a, −a, −b, +b) with b = a·kf·tf/(kr·tr), rates on their tyres,
// leaves the body where it is: 1e-12. Derived here.
func TestWarpMovesNoBody(t *testing.T) {
	validation.Against(t, "Pure warp leaves the body where it is", validation.Derived, "closed form", "cross-share-front-right-rear-left")
	kf, kr := 32e3*220e3/252e3, 30e3*220e3/250e3
	a := 0.004
	b := a * kf * 1.53 / (kr * 1.50)
	at := func(wheel float64) float64 { return wheel * 0.95 }
	before := scales.rest(t, [4]float64{})
	after := scales.rest(t, [4]float64{at(a), -at(a), -at(b), at(b)})
	near(t, "heave", after.Heave, before.Heave, 1e-12, "m")
	near(t, "roll", after.Roll, before.Roll, 1e-12, "rad")
	near(t, "pitch", after.Pitch, before.Pitch, 1e-12, "rad")
	nearly(t, "front left gains", after.Load[0]-before.Load[0], kf*a, 1e-9, "N")
}

// Whatever the platforms, the nonlinear solver on straight springs agrees with
// seven linear equations, the front share stays, and four changes are one
// number: (+D, −D, −D·tf/tr, +D·tf/tr). Derived here.
func TestPlatformsAgainstLinearEquations(t *testing.T) {
	validation.Against(t, "Equilibrium on straight springs", validation.Derived, "seven linear equations by a general solver", "arch-height", "corner-load", "front-share", "left-share")
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string, low, high float64) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
		p := plain{
			unsprung: draw("unsprung", 20, 60), tyre: draw("tyre", 150e3, 320e3), wheelbase: draw("wheelbase", 2.1, 3.3), gravity: equilibrium.Gravity,
			wheelRate: [2]float64{draw("front rate", 15e3, 90e3), draw("rear rate", 15e3, 90e3)},
			ratio:     [2]float64{draw("front ratio", 0.5, 1.1), draw("rear ratio", 0.5, 1.1)},
			track:     [2]float64{draw("front track", 1.3, 1.7), draw("rear track", 1.3, 1.7)},
		}
		var platform [4]float64
		for i := range 4 {
			p.load[i] = draw("load", 250, 500)
			platform[i] = draw("platform", -0.008, 0.008)
		}
		before, after := p.rest(t, [4]float64{}), p.rest(t, platform)
		load, body := p.linear(t, platform)
		for i := range 4 {
			if d := after.Load[i] - before.Load[i] - load[i]; math.Abs(d) > 1e-5 {
				t.Fatalf("corner %d changes by %.7f N, linear equations say %.7f N", i, after.Load[i]-before.Load[i], load[i])
			}
		}
		for m, got := range [3]float64{after.Heave, after.Roll, after.Pitch} {
			if validation.Off(t, got, body[m], 1e-9) {
				t.Fatalf("movement %d of the body is %.12g, linear equations say %.12g", m, got, body[m])
			}
		}
		d := after.Load[0] - before.Load[0]
		lean := p.track[0] / p.track[1]
		for i, want := range [4]float64{d, -d, -d * lean, d * lean} {
			if validation.Off(t, after.Load[i]-before.Load[i], want, 1e-5) {
				t.Fatalf("front left gains %.6f N but corner %d %.6f N; %.6f N is due", d, i, after.Load[i]-before.Load[i], want)
			}
		}
	})
}
