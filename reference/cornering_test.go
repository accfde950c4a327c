package reference

import (
	"math"
	"testing"

	"trunnion/chassis/corner"
	"trunnion/chassis/cornering"
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/numeric"
	"trunnion/chassis/part"
	"trunnion/reference/validation"
)

// Load transfer of a car at 0.6 g. D. Barton, J. Fieldhouse, Automotive Chassis
// Engineering, Springer 2018, worked example on p. 174: given and printed figures
// from there, with its g = 9.81 m/s2; the computed ones follow from its inputs
// by its own equations.
func TestLoadTransferBartonFieldhouse(t *testing.T) {
	validation.Against(t, "Lateral load transfer and roll gradient", validation.Printed, "D. Barton, J. Fieldhouse, Automotive Chassis Engineering, 2018, p. 174", "roll-gradient", "front-transfer-share", "front-roll-share")
	const g = 9.81
	car := cornering.Linear{
		Sprung: 1280, Share: [2]float64{0.54, 0.46}, Arm: 0.365, LeanArm: 0.365, RollCentre: [2]float64{0.07, 0.32}, Track: [2]float64{1.46, 1.46},
		Stiffness: [2]float64{28650, 0}, // the book splits the roll couple by hand; only the sum counts here
		Unsprung:  [2]float64{140, 180}, HubHeight: [2]float64{0.280, 0.300}, Gravity: g,
	}
	front, rear := car.Transfer(0, 0.6*g), car.Transfer(1, 0.6*g)
	for _, r := range []struct {
		what                   string
		got, printed, computed float64
	}{
		{"geometric, front", front.Geometric, 195, 195.060427},
		{"geometric, rear", rear.Geometric, 760, 759.600395},
		{"unsprung, front", front.Unsprung, 158, 158.035068},
		{"unsprung, rear", rear.Unsprung, 218, 217.701370},
		{"roll gradient, rad/(m/s2)", car.Gradient(), 0.0194, 0.0194126606},
		{"roll gradient, deg/g", car.Gradient() * g * 180 / math.Pi, 10.9, 10.9113052},
	} {
		nearly(t, r.what, r.got, r.printed, 0.005, "as printed")
		nearly(t, r.what, r.got, r.computed, 1e-7, "as computed")
	}
	// 1556 N front and 671 N rear are printed for the roll couple: 0.7 % less than
	// the book's inputs give.
	couple := front.Elastic + rear.Elastic
	nearly(t, "roll couple on the track", couple, 2242.21416, 1e-7, "N")
	nearly(t, "roll couple against print", couple, 1556+671, 0.007, "N")

	// The total printed for the front, 1919 N, is a wrong sum of its parts: 1909 N.
	printed := cornering.Parts{Elastic: 1556, Geometric: 195, Unsprung: 158}
	near(t, "front total of the printed parts", printed.Sum(), 1909, 0.5, "N")
	if math.Abs(printed.Sum()-1919) < 5 {
		t.Error("the printed sum of the front axle, 1919 N, is right after all")
	}
	near(t, "rear total of the printed parts", cornering.Parts{Elastic: 671, Geometric: 760, Unsprung: 218}.Sum(), 1649, 0.5, "N")

	// Without the weight's own moment the gradient would be 9.17 deg/g.
	light := car
	light.Gravity = 0
	nearly(t, "roll gradient without gravity", light.Gradient()*g*180/math.Pi, 9.16578883, 1e-7, "deg/g")
}

// closed is a car of springs, bars and roll centres only: numbers invented and
// worked out here in closed form (the equations are those of W. F. Milliken, D. L.
// Milliken, Race Car Vehicle Dynamics, 1995, ch. 18, from memory).
func closed() cornering.Linear {
	stiffness := func(rate, bar, track float64) float64 { return (rate + bar) * track * track / 2 }
	return cornering.Linear{
		Sprung: 1300, Share: [2]float64{1 - 1.15/2.60, 1.15 / 2.60},
		Arm:        0.54 - (0.06 + (0.11-0.06)*1.15/2.60),
		LeanArm:    0.54 - (0.06 + (0.11-0.06)*1.15/2.60),
		RollCentre: [2]float64{0.06, 0.11}, Track: [2]float64{1.53, 1.50},
		Stiffness: [2]float64{stiffness(30000, 18000, 1.53), stiffness(32000, 6000, 1.50)},
		Unsprung:  [2]float64{80, 70}, HubHeight: [2]float64{0.31, 0.31}, Gravity: equilibrium.Gravity,
	}
}

const toDegrees = 180 / math.Pi

func TestLoadTransferInClosedForm(t *testing.T) {
	validation.Against(t, "Lateral load transfer in its parts", validation.Derived, "closed form of the same source", "front-transfer-share")
	car := closed()
	ay := 0.9 * equilibrium.Gravity
	nearly(t, "front roll stiffness", car.Stiffness[0], 56181.6, 1e-8, "N m/rad")
	nearly(t, "rear roll stiffness", car.Stiffness[1], 42750, 1e-8, "N m/rad")
	nearly(t, "front roll stiffness per degree", car.Stiffness[0]/toDegrees, 980.553899, 1e-8, "N m/deg")
	nearly(t, "rear roll stiffness per degree", car.Stiffness[1]/toDegrees, 746.128255, 1e-8, "N m/deg")
	nearly(t, "arm", car.Arm, 0.457884615, 1e-8, "m")
	phi := ay * car.Gradient()
	nearly(t, "roll", phi*toDegrees, 3.23342384, 1e-8, "deg")
	nearly(t, "roll gradient", car.Gradient()*equilibrium.Gravity*toDegrees, 3.59269316, 1e-8, "deg/g")
	front, rear := car.Transfer(0, ay), car.Transfer(1, ay)
	nearly(t, "front elastic", front.Elastic, 2072.25252, 1e-8, "N")
	nearly(t, "front geometric", front.Geometric, 250.934868, 1e-8, "N")
	nearly(t, "front unsprung", front.Unsprung, 143.061718, 1e-8, "N")
	nearly(t, "rear elastic", rear.Elastic, 1608.36593, 1e-8, "N")
	nearly(t, "rear geometric", rear.Geometric, 372.162367, 1e-8, "N")
	nearly(t, "rear unsprung", rear.Unsprung, 127.682583, 1e-8, "N")
	nearly(t, "front", front.Sum(), 2466.24911, 1e-8, "N")
	nearly(t, "rear", rear.Sum(), 2108.21088, 1e-8, "N")
	nearly(t, "front share", front.Sum()/(front.Sum()+rear.Sum()), 0.539134480, 1e-8, "")
	overturning := 1300*ay*0.54 + 1300*equilibrium.Gravity*car.Arm*phi + (80+70)*0.31*ay
	nearly(t, "moment of the loads", front.Sum()*1.53+rear.Sum()*1.50, overturning, 1e-12, "N m")
	nearly(t, "overturning moment", overturning, 6935.67745, 1e-8, "N m")
}

// A stop of 120 kN/m at the wheel, 25 mm away, at the outer front wheel of that
// car: derived here, 1e-6.
func TestLandingOnAStop(t *testing.T) {
	validation.Against(t, "A bump stop met in a bend", validation.Derived, "closed form of a car that only rolls", "stop-contact-acceleration", "landing-balance-shift")
	car := closed()
	stop := cornering.Landing{Axle: 0, Rate: 120e3, Gap: 0.025}
	roll, lateral := car.Contact(stop)
	nearly(t, "roll at contact", roll*toDegrees, 1.87241110, 1e-6, "deg")
	nearly(t, "acceleration at contact", lateral/equilibrium.Gravity, 0.521172002, 1e-6, "g")
	ay := 0.9 * equilibrium.Gravity
	phi, force, parts := car.PureRoll(stop, ay)
	nearly(t, "roll", phi*toDegrees, 2.64819763, 1e-6, "deg")
	nearly(t, "stop", force, 1242.97469, 1e-6, "N")
	nearly(t, "front", parts[0].Sum(), 2712.67381, 1e-6, "N")
	nearly(t, "rear", parts[1].Sum(), 1817.10834, 1e-6, "N")
	nearly(t, "front share", parts[0].Sum()/(parts[0].Sum()+parts[1].Sum()), 0.598853040, 1e-6, "")
	overturning := func(roll float64) float64 {
		return 1300*ay*0.54 + 1300*equilibrium.Gravity*car.Arm*roll + (80+70)*0.31*ay
	}
	nearly(t, "moment of the loads", parts[0].Sum()*1.53+parts[1].Sum()*1.50, overturning(phi), 1e-12, "N m")

	// The same car on its own legs, heave and pitch free and tyres next to rigid:
	// alike up to contact, and past it not the pure-roll one, because a stop on
	// one side lifts the car.
	full := onLegs(t, 1e10)
	s := full.Sweep(cornering.Asked{Lateral: ay, Points: 60})
	if len(s.Contacts) != 1 || s.Contacts[0].Corner != 1 {
		t.Fatalf("contacts %+v; the outer front stop alone is wanted", s.Contacts)
	}
	met := &s.Contacts[0]
	near(t, "acceleration at contact, to 0.001 g", met.Lateral/equilibrium.Gravity, 0.521172002, 0.0005, "g")
	at, err := full.At(lateral, 0, nil)
	if err != nil {
		t.Fatal(err)
	}
	nearly(t, "roll at contact on legs", full.RollAt(&at)*toDegrees, 1.87241110, 1e-5, "deg")
	near(t, "stop at contact", full.ToStop(&at, 1)*1e3, 0, 1e-3, "mm")
	nearly(t, "front share before", met.Before, 0.539134480, 1e-4, "")
	end := &s.Points[len(s.Points)-1]
	// Heave and the weight's lever: the arms of inertia grow by what the car rises.
	rise := end.Heave + 1.15*end.Pitch
	front, rear := full.Transfer(end, 0), full.Transfer(end, 1)
	nearly(t, "moment of the loads, heave and pitch free", front*1.53+rear*1.50, overturning(full.RollAt(end))+1300*ay*rise, 1e-6, "N m")
	if rise < 1e-3 {
		t.Errorf("the stop lifts the car by %.2f mm", rise*1e3)
	}
	if d := math.Abs(full.RollAt(end)-phi) * toDegrees; d < 0.01 {
		t.Errorf("heave and pitch free the car rolls as in pure roll, to %.4f deg", d)
	}
}

// onLegs puts the closed car on wheels, without weight transfer by tyres: rates
// constant, roll centres fixed to body and ground alike, sides even.
func onLegs(t *testing.T, tyre float64) *cornering.Car {
	return legs(t, tyre, 0.54, 0.31)
}

func legs(t *testing.T, tyre, high, hub float64) *cornering.Car {
	t.Helper()
	const far = 1.0 // stops that are never met
	var sys equilibrium.System
	table, err := numeric.NewCurve([]float64{0, 0.05, 0.10}, []float64{0, 6000, 12000})
	if err != nil {
		t.Fatal(err)
	}
	share := [2]float64{1 - 1.15/2.60, 1.15 / 2.60}
	for i := range 4 {
		a := i / 2
		load := 1300 * equilibrium.Gravity * share[a] / 2
		rate := [2]float64{30000, 32000}[a]
		m := corner.Model{
			SpringTravel: numeric.Smooth{Poly: numeric.Poly{C: [5]float64{1}, N: 1}}, DamperTravel: numeric.Smooth{Poly: numeric.Poly{C: [5]float64{1}, N: 1}},
			Spring: part.Spring{Rate: rate, Free: 2, Block: 0.1}, Compressed0: load / rate,
			HasDamper: true, HasStop: i == 1, Mounts0: 0.5, Open: 0.5 + far, Closed: 0.5 - far, Touch: 0.5 - 0.025,
			Stop: part.BumpStop{Length: 0.1, Table: &table, End: 0.1, Scale: 1},
		}
		sys.Corner[i] = m
		sys.TyreRate[i] = tyre
		sys.Unsprung[i] = [2]float64{40, 35}[a]
		sys.Base.Tyre[i] = (load + sys.Unsprung[i]*equilibrium.Gravity) / tyre
		sys.Base.Force[i] = load
		sys.Behind[i] = 2.60 * float64(a)
		sys.Left[i] = [4]float64{0.765, -0.765, 0.75, -0.75}[i]
		sys.SprungWeight += load
		sys.MomentBehind += load * sys.Behind[i]
	}
	// A bar's rate is per relative travel: in roll each wheel feels twice of it.
	sys.Bar = [2]part.Bar{{Rate: 9000, LinkRatio: 1}, {Rate: 3000, LinkRatio: 1}}
	sys.Lean = equilibrium.Lean{RollArm: high - (0.06 + (0.11-0.06)*1.15/2.60)}
	rest, err := sys.Solve(equilibrium.Weights{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	c, err := cornering.New(&sys, equilibrium.Weights{}, &rest, cornering.Geometry{
		CGHeight: high, RollCentre: [2]float64{0.06, 0.11}, Fall: [2]float64{1, 1}, HubHeight: [2]float64{hub, hub}, EvenSides: true,
	})
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// The whole model without a stop is the closed form, on tyres next to rigid.
func TestWholeModelInClosedForm(t *testing.T) {
	validation.Against(t, "The whole cornering model on near-rigid tyres", validation.Derived, "closed form of load transfer", "roll-gradient", "front-transfer-share")
	full, car := onLegs(t, 1e10), closed()
	short := 0.5 * equilibrium.Gravity // the stop is not met yet
	p, err := full.At(short, 0, nil)
	if err != nil {
		t.Fatal(err)
	}
	nearly(t, "roll", full.RollAt(&p), short*car.Gradient(), 1e-5, "rad")
	for a, name := range []string{"front", "rear"} {
		nearly(t, name, full.Transfer(&p, a), car.Transfer(a, short).Sum(), 1e-5, "N")
		got := full.Linear()
		nearly(t, name+" roll stiffness", got.Stiffness[a], car.Stiffness[a], 1e-9, "N m/rad")
	}
	got, _, _, err := full.RollGradient()
	if err != nil {
		t.Fatal(err)
	}
	nearly(t, "roll gradient", got*equilibrium.Gravity*toDegrees, 3.59269316, 1e-5, "deg/g")
	nearly(t, "bar share, front", full.RollStiffness(0).BarShare(), 18000.0/48000, 1e-9, "")
	nearly(t, "bar share, rear", full.RollStiffness(1).BarShare(), 6000.0/38000, 1e-9, "")
}

// Load moved along the car: m·a·h/L. 1450 kg at 0.8 g, centre of gravity at 0.50 m
// over 2.60 m: 2187.63731 N, derived here. The weight must not hang on how it is
// split into body and wheels, so both are at one height.
func TestLoadTransferAlong(t *testing.T) {
	validation.Against(t, "Load transfer along the car", validation.Derived, "m·a·h/L")
	sys := legs(t, 1e8, 0.50, 0.50)
	ax := -0.8 * equilibrium.Gravity
	p, err := sys.At(0, ax, nil)
	if err != nil {
		t.Fatal(err)
	}
	rest := sys.Rest()
	moved := 0.5 * (p.Load[0] + p.Load[1] - rest.Load[0] - rest.Load[1] - (p.Load[2] + p.Load[3] - rest.Load[2] - rest.Load[3]))
	// The body pitches about its wheels and its centre stays within a tenth of a
	// millimetre: what that adds is taken off.
	rise := p.Heave + 1.15*p.Pitch - rest.Heave - 1.15*rest.Pitch
	nearly(t, "load moved to the front", moved-1300*math.Abs(ax)*rise/2.60, 2187.63731, 1e-8, "N")
	if rise == 0 || math.Abs(rise) > 0.01 {
		t.Errorf("the centre of gravity moves %.3f mm", rise*1e3)
	}
}
