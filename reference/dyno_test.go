package reference

import (
	"math"
	"math/rand/v2"
	"testing"

	"trunnion/chassis/demo"
	"trunnion/chassis/dyno"
	"trunnion/reference/validation"
)

// Peak speed of a crank machine, π·stroke·turns in a second: 50 mm at 100 a minute
// 0.261799388 m/s; 25.4 mm at 100 a minute 0.133 m/s; 100 mm at 25 a minute 0.131 m/s.
// Derived here, 1e-8 or half of the last digit.
func TestCrankMachine(t *testing.T) {
	validation.Against(t, "Peak speed of a crank machine", validation.Derived, "sine of a crank")
	nearly(t, "50 mm at 1.66667 turns in a second", dyno.PeakSpeed(0.050, 100.0/60), 0.261799388, 1e-8, "m/s")
	near(t, "25.4 mm at 100 a minute", dyno.PeakSpeed(0.0254, 100.0/60), 0.133, 0.0005, "m/s")
	near(t, "100 mm at 25 a minute", dyno.PeakSpeed(0.100, 25.0/60), 0.131, 0.0005, "m/s")
}

// Work of a loop in closed form: viscous π·c·ω·X², 2000 N s/m at 100 a minute and 25 mm
// 41.1233517 J; Coulomb 4·F·X; gas, which gives all back, none. Mean power is work times
// turns in a second. Derived here. 4000 readings of a sine by trapezia: 1e-6.
func TestWorkOfALoop(t *testing.T) {
	validation.Against(t, "Work and power of a damper's loop", validation.Derived, "energy of a cycle in closed form", "damper-power")
	const n, amplitude, turns = 4000, 0.025, 100.0 / 60
	omega := 2 * math.Pi * turns
	loop := func(force func(x, v float64) float64) dyno.Loop {
		r := dyno.Run{Temperature: math.NaN(), From: "closed form"}
		for i := range n {
			a := 2 * math.Pi * (float64(i) + 0.5) / n
			x, v := -amplitude*math.Cos(a), omega*amplitude*math.Sin(a)
			r.Position, r.Velocity, r.Force = append(r.Position, x), append(r.Velocity, v), append(r.Force, force(x, v))
			r.Time = append(r.Time, float64(i)/n/turns)
		}
		set, err := dyno.Reduce([]dyno.Run{r}, dyno.Options{})
		if err != nil {
			t.Fatal(err)
		}
		return set.Loops[0]
	}
	viscous := loop(func(_, v float64) float64 { return 2000 * v })
	nearly(t, "work of 2000 N s/m", viscous.Work, 41.1233517, 1e-6, "J")
	nearly(t, "its mean power", viscous.MeanPower, 41.1233517*turns, 5e-4, "W") // the last step back is not in the times
	both := loop(func(x, v float64) float64 { return 2000*v + math.Copysign(50, v) + 400 + 1600*x })
	nearly(t, "work of 2000 N s/m, 50 N of friction and gas", both.Work, 41.1233517+4*50*amplitude, 1e-5, "J")
}

// Bilinear and digressive laws through machine, gas, friction and noise, and back: the
// invented damper's own formula is the truth. 0.5 % or the band stated.
func TestSweepAndBack(t *testing.T) {
	validation.Against(t, "Damper curve out of full loops", validation.Derived, "force law that a simulated machine was given", "damping-ratio")
	d := demo.KitDampers()[1]
	draw := rand.New(rand.NewPCG(14, 9))
	var runs []dyno.Run
	for _, v := range demo.SweepSpeeds {
		runs = append(runs, d.Loop(demo.Machine{Stroke: 0.05, Samples: 1000, Noise: 2}, v, 7, 313.15, draw))
	}
	set, err := dyno.Reduce(runs, dyno.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, stroke := range dyno.Strokes {
		b := set.Curves[0].Of(stroke)
		for i, v := range b.Speed {
			want := d.Force(stroke, v, 7, 313.15)
			near(t, string(stroke), b.Force[i], want, math.Max(0.005*want, b.Half[i]), "N")
		}
	}
}

// An oil of 46 mm²/s at 40 °C and 6.8 at 100 °C (the grade ISO VG 46 at a viscosity index
// of about 100): both are given back, and between them lg lg(ν + 0.7) is a straight line
// in lg T, so that at the geometric mean of the temperatures it is the mean of both.
// ASTM D341; the equation from memory, the middle derived here.
func TestOilByTemperature(t *testing.T) {
	validation.Against(t, "Viscosity of oil by temperature", validation.Derived, "ASTM D341 (equation from memory)")
	oil, err := dyno.NewOil(313.15, 46e-6, 373.15, 6.8e-6)
	if err != nil {
		t.Fatal(err)
	}
	nearly(t, "at 40 °C", oil.At(313.15), 46e-6, 1e-9, "m²/s")
	nearly(t, "at 100 °C", oil.At(373.15), 6.8e-6, 1e-9, "m²/s")
	double := func(v float64) float64 { return math.Log10(math.Log10(v + 0.7)) }
	middle := math.Pow(10, math.Pow(10, 0.5*(double(46)+double(6.8)))) - 0.7
	nearly(t, "at 68.6 °C", oil.At(math.Sqrt(313.15*373.15)), middle*1e-6, 1e-9, "m²/s")
	// 0.4 of the force through gaps: force and its share give each other back.
	f := 1000 * oil.Scale(0.4, 313.15, 353.15)
	share, ok := oil.Laminar(1000, 313.15, f, 353.15)
	nearly(t, "share through gaps", share, 0.4, 1e-9, "-")
	if !ok {
		t.Error("a share of 0.4 is refused")
	}
}
