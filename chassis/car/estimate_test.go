package car

import (
	"math"
	"reflect"
	"testing"

	"trunnion/chassis/figure"
	"trunnion/chassis/spread"
)

func typed(value, half float64, path string) Input {
	return Input{Value: value, Half: half, Shape: figure.Normal95, Origin: figure.Measured, Path: path, Line: 1, Typed: path}
}

// telephone is a car of which nearly nothing is known.
func telephone() (*Car, []*Build) {
	c := &Car{
		Wheelbase: typed(2.7, 0, "car.wheelbase"), Track: [2]Input{typed(1.556, 0, "car.track.front"), typed(1.544, 0, "car.track.rear")},
		KerbMass: typed(1463, 0, "car.kerb_mass"), FrontShare: typed(0.584, 0, "car.front_share"),
	}
	c.Weighed.Build = "old"
	c.Axle[Front].Kind = "strut"
	c.Axle[Rear].Kind = "multilink"
	c.Axle[Rear].Taped = Tape{ToSpring: typed(0.256, 0, "s"), ToDamper: typed(0.362, 0, "d"), ToJoint: typed(0.4, 0, "j")}
	return c, []*Build{{ID: "old"}, {ID: "new"}}
}

func near(t *testing.T, name string, got Input, value, half, tolerance float64) {
	t.Helper()
	if math.Abs(got.Value-value) > tolerance*math.Abs(value) || math.Abs(got.Half-half) > tolerance*math.Abs(value) {
		t.Errorf("%s is %.5g ± %.3g, want %.5g ± %.3g", name, got.Value, got.Half, value, half)
	}
	if got.Origin != figure.Estimated || got.Basis == "" || got.Path == "" {
		t.Errorf("%s is not marked as an estimate with its place and reason: %+v", name, got)
	}
}

func TestFillByTheRules(t *testing.T) {
	c, builds := telephone()
	list := Fill(c, builds)
	// Worked by hand: 1463 kg · 0.584/2 = 427.2 kg in front, 304.3 kg behind.
	near(t, "front load", c.Weighed.Load[0], 427.196, 17.088, 1e-4)
	near(t, "rear load", c.Weighed.Load[3], 304.304, 12.172, 1e-4)
	near(t, "front unsprung", c.Unsprung[0], 46.99, 17.09, 1e-3)
	near(t, "rear unsprung", c.Unsprung[1], 33.47, 12.17, 1e-3)
	// Sprung mass 1302.07 kg; (0.39 · 1.55 m)² = 0.36542 m².
	near(t, "roll inertia", c.InertiaRoll, 475.80, 95.16, 1e-3)
	// 0.94 · 1302.07 kg · 1.1232 m · 1.5768 m, and 0.08 of the same.
	near(t, "pitch inertia", c.InertiaPitch, 2167.7, 184.5, 1e-3)
	// 1.55/2.84 = 0.5458 m for the whole car; wheels at 0.31 m taken out.
	near(t, "centre of gravity", c.CGHeight, 0.5749, 0.0432, 2e-3)
	near(t, "roll centre", c.RollCentre[1], 0.115, 0.04, 1e-9)
	near(t, "front bush", c.Axle[0].BushRate, 1.5e3, 0.9e3, 1e-9)
	near(t, "rear bush", c.Axle[1].BushRate, 3e3, 1.8e3, 1e-9)
	near(t, "front friction", builds[0].Corner[0].Friction, 80, 50, 1e-9)
	near(t, "rear friction", builds[1].Corner[2].Friction, 45, 30, 1e-9)
	for _, row := range []struct {
		name   string
		motion *Motion
		ratio  float64
		half   float64
	}{
		{"front spring", &c.Axle[0].Spring, 0.95, 0.05},
		{"front damper", &c.Axle[0].Damper, 0.95, 0.05},
		{"rear spring", &c.Axle[1].Spring, 0.64, 0.08 * 0.64},
		{"rear damper", &c.Axle[1].Damper, 0.905, 0.08 * 0.905},
	} {
		if got := row.motion.Fit.C[0]; math.Abs(got-row.ratio) > 1e-9 {
			t.Errorf("%s ratio is %.4f, want %.4f", row.name, got, row.ratio)
		}
		// One standard deviation of the fit is the half-width over 1.96.
		if got := row.motion.Fit.Root[0][0] * spread.Normal95; math.Abs(got-row.half) > 1e-9 {
			t.Errorf("%s ratio has the band ± %.4f, want ± %.4f", row.name, got, row.half)
		}
		if row.motion.Bend.Value != 0.4 || row.motion.Bend.Half != 0.4 || row.motion.Bend.Shape != figure.Limit {
			t.Errorf("%s bend is %+v, want 0 to 0.8 per metre", row.name, row.motion.Bend)
		}
	}
	if len(list) < 30 {
		t.Errorf("only %d estimates", len(list))
	}
	for _, f := range list {
		if f.Path == "" || f.Basis == "" {
			t.Errorf("estimate %+v does not say where or why", f)
		}
	}
}

// An estimated damper has the ratio and the split it was made for.
func TestEstimatedDamperHasItsRatio(t *testing.T) {
	c, builds := telephone()
	spring := &SpringSpec{ID: "s", Rate: typed(25e3, 0, "r")}
	builds[0].Both(0, func(p *BuildCorner) { p.Spring = spring })
	Fill(c, builds)
	d := builds[0].Corner[0].Damper
	if !d.Guess || len(d.Curves) != 1 || d.Scale.Half != 0.35 {
		t.Fatalf("damper is %+v, want one guessed curve ± 35 %%", d)
	}
	curve := d.Curves[0]
	const at = 2 // the third speed
	speed, mean := curve.Bump[at].X, 0.5*(curve.Bump[at].F+curve.Rebound[at].F)
	mass := c.Weighed.Load[0].Value - c.Unsprung[0].Value
	r := 0.95
	got := mean / speed * r * r / (2 * math.Sqrt(25e3*r*r*mass))
	if speed != 0.13 || math.Abs(got-0.25) > 1e-9 {
		t.Errorf("damping ratio at %v m/s is %.4f, want 0.25 at 0.13", speed, got)
	}
	if split := curve.Rebound[4].F / curve.Bump[4].F; math.Abs(split-2.2) > 1e-9 {
		t.Errorf("rebound is %.3f times bump, want 2.2", split)
	}
	worn, builds2 := telephone()
	used := BuildCorner{Spring: &SpringSpec{ID: "s", Rate: typed(25e3, 0, "r")}, Damper: &DamperSpec{ID: "d", Worn: true}}
	builds2[0].Both(0, func(p *BuildCorner) { *p = used })
	Fill(worn, builds2)
	if got := builds2[0].Corner[0].Damper.Curves[0].Bump[3].F / curve.Bump[3].F; math.Abs(got-0.75) > 1e-9 {
		t.Errorf("a worn damper has %.3f of the force, want 0.75", got)
	}
	if builds[1].Corner[0].Damper != d {
		t.Error("a build that names no damper keeps the one on the car")
	}
}

func TestFillIsDoneOnce(t *testing.T) {
	c, builds := telephone()
	Fill(c, builds)
	var before []Input
	figure.Walk(c, func(in *Input) { before = append(before, *in) })
	if again := Fill(c, builds); len(again) != 0 {
		t.Errorf("the second call filled %d more, the first %s", len(again), again[0].Path)
	}
	var after []Input
	figure.Walk(c, func(in *Input) { after = append(after, *in) })
	if !reflect.DeepEqual(before, after) {
		t.Error("the second call changed what the first had filled")
	}
}

func TestWhatWasGivenStays(t *testing.T) {
	c, builds := telephone()
	c.CGHeight = typed(0.5, 0.02, "h")
	c.Weighed.Height = [4]Input{typed(0.376, 0.002, "a"), typed(0.377, 0.002, "b"), {}, typed(0.38, 0.002, "d")}
	builds[0].Both(1, func(p *BuildCorner) { p.Friction = typed(33, 3, "f") })
	Fill(c, builds)
	if c.CGHeight.Value != 0.5 || c.CGHeight.Origin != figure.Measured || builds[0].Corner[2].Friction.Value != 33 {
		t.Error("a value that was given was replaced")
	}
	if z := c.ZeroHeight[0]; math.Abs(z.Value-0.3765) > 1e-12 || z.Half != 0 {
		t.Errorf("front datum is %+v, want the mean of the axle", z)
	}
	if h := c.Weighed.Height[2]; h.Value != 0.38 || h.Half != 0.01 {
		t.Errorf("the height nobody read is %+v, want the other side's ± 10 mm", h)
	}
}

func TestLengthsFollowFromTheRod(t *testing.T) {
	c, builds := telephone()
	damper := &DamperSpec{ID: "d", Open: typed(0.568, 0.001, "o"), RodOpen: typed(0.182, 0.001, "r")}
	builds[0].Both(0, func(p *BuildCorner) { p.Damper = damper })
	c.Weighed.RodShowing[0] = typed(0.103, 0.001, "s")
	Fill(c, builds)
	d := builds[0].Corner[0].Damper
	near(t, "closed", d.Closed, 0.398, math.Hypot(0.006, 0.001), 1e-6)
	near(t, "length on the car", c.Weighed.DamperLength[0], 0.489, math.Sqrt(3)*0.001, 1e-6)
	if c.Weighed.DamperLength[1].Known() {
		t.Error("a length without a reading must stay unknown")
	}
	if builds[0].Corner[0].Stop == nil || builds[0].Corner[2].Stop != nil {
		t.Error("a stop is guessed where the damper's lengths are known, and only there")
	}
}

func TestSpringOfWire(t *testing.T) {
	c, builds := telephone()
	s := &SpringSpec{ID: "w", Wire: typed(0.012, 0.0001, "d"), MeanDiameter: typed(0.12, 0.001, "D"), ActiveCoils: typed(5.5, 0.2, "n"), Free: typed(0.3, 0.001, "l")}
	builds[0].Both(0, func(p *BuildCorner) { p.Spring = s })
	Fill(c, builds)
	// R = G·d⁴/(8·D³·n) = 79.5e9 · 2.0736e-8 / (8 · 1.728e-3 · 5.5)
	near(t, "rate", s.Rate, 21682, 21682*math.Sqrt(0.0333333*0.0333333+0.025*0.025+0.0363636*0.0363636+0.03*0.03), 1e-3)
	near(t, "block", s.Block, 0.108, 0.01296, 1e-6)
}

// A guessed stop pushes as hard as the measured ones of the demo car do at the
// same share of their length, within the band it is given.
func TestGuessedStopIsLikeMeasuredOnes(t *testing.T) {
	for _, row := range []struct {
		length float64
		table  []Point
	}{
		{0.060, []Point{{0.010, 230}, {0.020, 560}, {0.030, 1400}, {0.037, 3900}}},
		{0.058, []Point{{0.020, 470}, {0.030, 1400}, {0.036, 4000}}},
		{0.048, []Point{{0.010, 250}, {0.020, 730}, {0.025, 1350}, {0.028, 2400}}},
	} {
		for _, p := range row.table {
			got := between(foam, p.X/row.length)
			if got < 0.65*p.F || got > 1.35*p.F {
				t.Errorf("a stop of %.3f m crushed by %.3f m pushes %.0f N, the measured one %.0f: not within 35 %%", row.length, p.X, got, p.F)
			}
		}
	}
}

// What is said of a damper's gas is used whatever else is missing: a charge
// without a rod has the usual one, a volume without a pressure the usual charge.
func TestGasOfWhatIsKnown(t *testing.T) {
	fill := func(change func(d *DamperSpec)) *DamperSpec {
		c, builds := telephone()
		builds[0].Corner[2].Damper = &DamperSpec{ID: "d", Construction: "single-tube"}
		change(builds[0].Corner[2].Damper)
		Fill(c, builds)
		return builds[0].Corner[2].Damper
	}
	d := fill(func(d *DamperSpec) { d.GasPressure, d.GasVolume = typed(14e5, 0, "p"), typed(1.2e-4, 0, "v") })
	if d.GasForce.Known() || !d.Rod.Known() {
		t.Errorf("a charge without a rod: force %+v, rod %+v; want the charge on an estimated rod", d.GasForce, d.Rod)
	}
	d = fill(func(d *DamperSpec) { d.GasVolume = typed(1.2e-4, 0, "v") })
	if d.GasForce.Known() || d.GasPressure.Value != 20e5 || d.GasPressure.Half != 8e5 {
		t.Errorf("a volume alone: force %+v, pressure %+v; want the usual charge of 20 bar in it", d.GasForce, d.GasPressure)
	}
	d = fill(func(d *DamperSpec) {
		d.GasForce, d.GasPressure, d.GasVolume, d.Rod = typed(240, 0, "f"), typed(14e5, 0, "p"), typed(1.2e-4, 0, "v"), typed(0.014, 0, "r")
	})
	// 1.25 · 15.01325 bar · (153.94 mm²)² / 120 cm³ = 370.6 N/m, worked by hand.
	if d.GasForce.Value != 240 || math.Abs(d.GasRate.Value-370.6) > 0.5 {
		t.Errorf("force, pressure and volume: %g N and %g N/m; want the force as given and 370.6 N/m of the charge", d.GasForce.Value, d.GasRate.Value)
	}
}
