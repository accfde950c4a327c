package reference

import (
	"math"
	"testing"

	"trunnion/chassis/corner"
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/modes"
	"trunnion/chassis/numeric"
	"trunnion/chassis/part"
	"trunnion/reference/validation"
)

// The cases of this file are worked by hand as a workshop would: common
// practice, no source. They take g = 9.81; tolerances are half the last digit.

// Case 1: sprung corner 380 kg, unsprung 40 kg, spring 60 N/mm at 0.93 of the
// wheel's travel, tyre 230 N/mm.
func TestCaseRateAndFrequency(t *testing.T) {
	validation.Against(t, "Wheel rate and body frequency, a worked case", validation.Practice, "a workshop's hand calculation, no source", "wheel-rate", "corner-frequency", "corner-frequency-on-tyre")
	m := corner.Model{
		SpringTravel: numeric.Smooth{Poly: numeric.Poly{C: [5]float64{0.93}, N: 1}}, Spring: part.Spring{Rate: 60e3, Free: 0.3, Block: 0.1},
	}
	m.Compressed0 = 380 * 9.81 / 0.93 / 60e3
	_, rate := m.Force(0)
	near(t, "wheel rate", rate*1e-3, 51.89, 0.005, "N/mm")
	near(t, "on the tyre", modes.InSeries(rate, 230e3)*1e-3, 42.34, 0.005, "N/mm")
	near(t, "frequency", modes.Frequency(rate, 380), 1.860, 0.0005, "Hz")
	near(t, "frequency on the tyre", modes.Frequency(modes.InSeries(rate, 230e3), 380), 1.680, 0.0005, "Hz")
	near(t, "wheel hop", modes.Frequency(rate+230e3, 40), 13.36, 0.005, "Hz")
}

// Case 2: the damper of that corner. The forces are printed to the newton, so
// a ratio is known to half a newton in its force.
func TestCaseDamping(t *testing.T) {
	validation.Against(t, "Damping ratio at the wheel, a worked case", validation.Practice, "a workshop's hand calculation, no source", "damping-ratio")
	rate := 60e3 * 0.93 * 0.93
	critical := 1 / modes.Ratio(1, 1, rate, 380)
	near(t, "critical at the wheel", critical, 8881, 0.5, "N s/m")
	near(t, "critical at the damper", 1/modes.Ratio(1, 0.93, rate, 380), 10269, 0.5, "N s/m")
	for _, r := range []struct {
		ratio float64
		force [5]float64
	}{
		{0.30, [5]float64{77, 154, 234, 400, 801}},
		{0.50, [5]float64{128, 257, 390, 667, 1335}},
		{0.65, [5]float64{167, 334, 507, 868, 1735}},
		{0.70, [5]float64{180, 359, 546, 934, 1869}},
		{1.00, [5]float64{257, 513, 780, 1335, 2670}},
	} {
		for k, speed := range [5]float64{0.025, 0.050, 0.076, 0.130, 0.260} {
			table, err := numeric.NewCurve([]float64{0, speed}, []float64{0, r.force[k]})
			if err != nil {
				t.Fatal(err)
			}
			c := part.DamperCurve{Bump: &table, Rebound: &table, TopSpeed: speed}
			got := modes.Ratio(c.Secant(speed), 0.93, rate, 380)
			near(t, "ratio", got, r.ratio, 1.001*r.ratio*0.5/r.force[k], "-")
		}
	}
}

// Case 3: wheelbase 2600 mm, centre of gravity 1040 mm behind the front axle,
// tracks 1500, wheel rates 52 and 45, tyres 230 N/mm, ratios 0.93 and 0.90.
// One turn of 1.5 mm up at the front left.
func TestCasePlatformTurn(t *testing.T) {
	validation.Against(t, "One turn of a collar, a worked case", validation.Practice, "a workshop's hand calculation, no source", "arch-height", "corner-load")
	p := plain{
		load: [4]float64{420, 420, 280, 280}, unsprung: 40, wheelRate: [2]float64{52e3, 45e3}, tyre: 230e3,
		ratio: [2]float64{0.93, 0.90}, wheelbase: 2.6, track: [2]float64{1.5, 1.5}, gravity: 9.81,
	}
	near(t, "one turn at the wheel", 1.5/0.93, 1.613, 0.0005, "mm")
	before, after := p.rest(t, [4]float64{}), p.rest(t, [4]float64{0.0015})
	sys := p.system([4]float64{})
	for i, want := range [4]struct{ load, guard, floor float64 }{
		{1.64, 1.30, 1.23}, {-1.64, 0.31, 0.38}, {-1.64, 0.36, 0.43}, {1.64, -0.36, -0.43},
	} {
		near(t, "load", (after.Load[i]-before.Load[i])/9.81, want.load, 0.005, "kg")
		near(t, "hub to guard", (before.Travel[i]-after.Travel[i])*1e3, want.guard, 0.005, "mm")
		near(t, "body to floor", (after.Heave+sys.Left[i]*after.Roll+sys.Behind[i]*after.Pitch)*1e3, want.floor, 0.005, "mm")
	}
}

// Case 4: 1400 kg, centre of gravity 0.5 m up, wheelbase 2.6, track 1.5 m, 2.0
// degrees of roll per g, front wheel rate 52 N/mm, no anti-dive: bump of the
// front outer wheel. The bars are those that give the roll gradient.
func TestCaseAttitude(t *testing.T) {
	validation.Against(t, "Roll, pitch and travel in a bend under braking, a worked case", validation.Practice, "a workshop's hand calculation, no source", "roll-gradient")
	p := plain{
		load: [4]float64{350, 350, 350, 350}, wheelRate: [2]float64{52e3, 52e3}, tyre: 230e3,
		ratio: [2]float64{1, 1}, wheelbase: 2.6, track: [2]float64{1.5, 1.5}, gravity: 9.81,
	}
	sys := p.system([4]float64{})
	weight := 1400 * 9.81
	// At g·lateral the body leans by tan(2°) between hub and body: rate of both
	// axles in roll is 2·(k + 2·k_bar)·(t/2)² each.
	lean := math.Tan(2 * math.Pi / 180)
	bar := (weight*0.5/lean/(4*0.75*0.75) - 52e3) / 2
	sys.Bar = [2]part.Bar{{Rate: bar, LinkRatio: 1}, {Rate: bar, LinkRatio: 1}}
	bump := func(lateral, braking float64) float64 {
		// A left turn leans the body to the right: wheel 1 is the outer one.
		st, err := sys.Solve(equilibrium.Weights{Left: -weight * 0.5 * lateral, Behind: -weight * 0.5 * braking}, nil)
		if err != nil {
			t.Fatal(err)
		}
		return st.Travel[1] * 1e3
	}
	near(t, "1.0 g lateral", bump(1, 0), 26.2, 0.05, "mm")
	near(t, "1.2 g lateral", bump(1.2, 0), 31.4, 0.05, "mm")
	near(t, "1.0 g braking", bump(0, 1), 25.4, 0.05, "mm")
	both := bump(0.9, 0.5)
	near(t, "0.9 g lateral and 0.5 g braking", both, 36.3, 0.05, "mm")

	// The same at the damper, whose stop is 30 mm away there.
	stop, err := numeric.NewCurve([]float64{0, 0.02}, []float64{0, 1000})
	if err != nil {
		t.Fatal(err)
	}
	m := corner.Model{
		SpringTravel: numeric.Smooth{Poly: numeric.Poly{C: [5]float64{0.93}, N: 1}}, DamperTravel: numeric.Smooth{Poly: numeric.Poly{C: [5]float64{0.93}, N: 1}},
		HasDamper: true, HasStop: true, Mounts0: 0.480, Open: 0.540, Closed: 0.380, Touch: 0.450,
		Stop: part.BumpStop{Table: &stop, End: 0.02, Scale: 1}, Spring: part.Spring{Rate: 60e3, Free: 0.3, Block: 0.1},
	}
	x, _, _ := m.DamperTravel.At(both * 1e-3)
	near(t, "the last at the damper", x*1e3, 33.7, 0.05, "mm")
	touch := m.Limits(3500).Touch * 1e3
	near(t, "stop's touch at the wheel", touch, 32.3, 0.05, "mm")
	near(t, "into the stop at the wheel", both-touch, 4, 0.5, "mm")
}

// Case 9: rod 16 mm, 20 bar over the atmosphere: 402 N; on a spring of 60
// N/mm 6.7 mm at the damper.
func TestCaseGas(t *testing.T) {
	validation.Against(t, "Gas force in ride height, a worked case", validation.Practice, "a workshop's hand calculation, no source")
	area := math.Pi / 4 * 0.016 * 0.016
	g := part.Gas{Pressure: 20e5 + part.AtmospherePressure, Volume: 50e-6, Area: area, Exponent: 1.25}
	f, _ := g.At(0)
	near(t, "push", f, 402, 0.5, "N")
	s := part.Spring{Rate: 60e3, Free: 0.3, Block: 0.1}
	near(t, "what it lifts at the damper", s.Compression(f)*1e3, 6.7, 0.05, "mm")
}
