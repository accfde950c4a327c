package car

import (
	"strings"
	"testing"

	"trunnion/chassis/figure"
)

// sound is a car with nothing wrong.
func sound(t *testing.T) (*Car, []*Build) {
	t.Helper()
	c, builds := telephone()
	load := [4]float64{426, 428, 314, 295}
	height := [4]float64{0.376, 0.377, 0.378, 0.382}
	for i := range 4 {
		c.Weighed.Load[i] = typed(load[i], 1, "car.weighed.load."+pathCorners[i])
		c.Weighed.Height[i] = typed(height[i], 0.002, "car.weighed.arch_height."+pathCorners[i])
	}
	for a := range 2 {
		builds[0].Corner[2*a] = BuildCorner{
			Spring: &SpringSpec{ID: "s", Rate: typed(25e3+23e3*float64(a), 1, "rate"), Free: typed(0.361-0.073*float64(a), 0.001, "free"), Block: typed(0.11, 0.001, "block")},
			Damper: &DamperSpec{ID: "d", Open: typed(0.568, 0.001, "open"), Closed: typed(0.403, 0.001, "closed"), RodOpen: typed(0.182, 0.001, "rod")},
			Stop:   &StopSpec{ID: "st", Length: typed(0.06, 0.001, "length"), Table: []Point{{0, 0}, {0.02, 560}, {0.039, 6500}}},
		}
		builds[0].Corner[2*a+1] = builds[0].Corner[2*a]
		builds[1].Corner[2*a], builds[1].Corner[2*a+1] = builds[0].Corner[2*a], builds[0].Corner[2*a]
	}
	return c, builds
}

// dyno is a damper that nobody would wonder at, its forces times a factor.
func dyno(times float64) ClickCurve {
	return ClickCurve{
		Bump:    []Point{{0.025, 65 * times}, {0.13, 215 * times}, {0.52, 480 * times}},
		Rebound: []Point{{0.025, 130 * times}, {0.13, 430 * times}, {0.52, 930 * times}},
	}
}

func TestSoundCarPasses(t *testing.T) {
	c, builds := sound(t)
	builds[0].Corner[0].Damper.Curves = []ClickCurve{dyno(1)}
	Fill(c, builds)
	for _, p := range Check(c, builds, UsualLoads(c)) {
		t.Errorf("%s: %+v %+v", p.Path, p.Got, p.Want)
	}
}

func TestProblemsAreFound(t *testing.T) {
	for _, row := range []struct {
		name   string
		spoil  func(c *Car, b *BuildCorner)
		path   string
		refuse bool
		slip   Slip
		says   string
	}{
		{"load", func(c *Car, _ *BuildCorner) { c.Weighed.Load[0].Value = 90 }, "car.weighed.load.front_left", true, none, "must be"},
		{"load to look at", func(c *Car, _ *BuildCorner) { c.Weighed.Load[0].Value = 700 }, "car.weighed.load.front_left", false, PoundsOrAxle, "usual"},
		{"spring rate", func(_ *Car, b *BuildCorner) { b.Spring.Rate.Value = 4e3 }, "rate", true, KilogramForce, "must be"},
		{"spring rate to look at", func(_ *Car, b *BuildCorner) { b.Spring.Rate.Value = 300e3 }, "rate", false, ImperialRate, "usual"},
		{"block", func(_ *Car, b *BuildCorner) { b.Spring.Block.Value = 0.4 }, "block", true, none, "less than free"},
		{"open", func(_ *Car, b *BuildCorner) { b.Damper.Open.Value = 0.31 }, "open", true, none, "longer than closed"},
		{"stroke", func(_ *Car, b *BuildCorner) { b.Damper.Closed.Value = 0.5; b.Stop = nil }, "open", false, none, "usual"},
		{"rod", func(_ *Car, b *BuildCorner) { b.Damper.RodOpen.Value = 0.14 }, "rod", true, none, "that much rod"},
		{"metal before the stop is solid", func(_ *Car, b *BuildCorner) { b.Damper.RodOpen.Value = 0.2 }, "builds.old.front.stop", false, none, "before the stop is solid"},
		{"table that falls", func(_ *Car, b *BuildCorner) { b.Stop.Table[1].F = 9000 }, "parts.stops.st.force", true, none, "must rise"},
		{"floor to arch", func(c *Car, _ *BuildCorner) { c.Weighed.Height[1].Value = 0.66 }, "car.weighed.arch_height.front_right", true, FromTheFloor, "zero height"},
		{"packer", func(_ *Car, b *BuildCorner) { b.Packer = typed(0.12, 0, "packer") }, "packer", true, none, "must be"},
		{"gas", func(_ *Car, b *BuildCorner) { b.Damper.GasPressure = typed(260e5, 0, "gas") }, "gas", true, PoundsPressure, "must be"},
		{"gas given twice", func(_ *Car, b *BuildCorner) {
			b.Damper.GasForce, b.Damper.GasPressure, b.Damper.Rod = typed(100, 10, "force"), typed(14e5, 0, "pressure"), typed(0.014, 0, "rod")
		}, "pressure", false, none, "one of the three is off"},
		{"kilograms in a dyno table", func(_ *Car, b *BuildCorner) { b.Damper.Curves = []ClickCurve{dyno(1 / 9.80665)} }, "parts.dampers.d.curves", false, OtherForce, "is usual"},
		{"bump and rebound exchanged", func(_ *Car, b *BuildCorner) {
			c := dyno(1)
			c.Bump, c.Rebound = c.Rebound, c.Bump
			b.Damper.Curves = []ClickCurve{c}
		}, "parts.dampers.d.curves", false, Exchanged, "the greater"},
		{"metres a second as millimetres", func(_ *Car, b *BuildCorner) {
			c := dyno(1)
			for _, t := range [][]Point{c.Bump, c.Rebound} {
				for i := range t {
					t[i].X /= 1000
				}
			}
			b.Damper.Curves = []ClickCurve{c}
		}, "parts.dampers.d.curves", false, MetresPerSecond, "at least"},
		{"pitch", func(_ *Car, b *BuildCorner) { b.Platform = &PlatformSpec{Pitch: typed(0.00025, 0, "pitch")} }, "pitch", true, PerFlat, "must be"},
		{"cornering stiffness", func(c *Car, _ *BuildCorner) { c.Axle[0].Cornering = typed(1050, 0, "cornering") }, "cornering", true, none, "must be"},
		{"lift", func(c *Car, _ *BuildCorner) { c.Axle[1].LiftArea = typed(5, 0, "lift") }, "lift", true, none, "must be"},
		{"top speed", func(c *Car, _ *BuildCorner) { c.TopSpeed = typed(205, 0, "top") }, "top", true, none, "must be"},
		{"tyre", func(c *Car, _ *BuildCorner) { c.Axle[0].TyreRate = typed(60e3, 0, "tyre") }, "tyre", true, WheelRateForTyre, "must be"},
		{"band", func(c *Car, _ *BuildCorner) { c.Axle[0].TyreRate = typed(200e3, 250e3, "tyre") }, "tyre", true, none, "reaches down to nothing"},
		{"unsprung over the load", func(c *Car, _ *BuildCorner) { c.Unsprung[0] = typed(140, 1, "u"); c.Weighed.Load[0].Value = 130 }, "car.weighed.load.front_left", true, none, "unsprung"},
		{"old spring carries far too much", func(c *Car, b *BuildCorner) {
			c.Weighed.SpringLength[0], c.Weighed.SpringLength[1] = typed(0.1, 0, "l"), typed(0.1, 0, "l")
		}, "rate", false, none, "the scales ask for"},
	} {
		t.Run(row.name, func(t *testing.T) {
			c, builds := sound(t)
			row.spoil(c, &builds[0].Corner[0])
			builds[0].Corner[1] = builds[0].Corner[0]
			Fill(c, builds)
			list := Check(c, builds, nil)
			for _, p := range list {
				if p.Path == row.path && p.Refuse == row.refuse && p.Slip == row.slip && strings.Contains(p.Want.Text, row.says) {
					if p.Got.Text == "" || strings.Count(p.Want.Text, "{}") != len(p.Want.Amounts) || strings.Count(p.Got.Text, "{}") != len(p.Got.Amounts) {
						t.Errorf("amounts do not fit the sentence: %+v", p)
					}
					return
				}
			}
			t.Errorf("want a problem at %s saying %q, slip %q; got %+v", row.path, row.says, row.slip, list)
		})
	}
}

// The same part in two builds is judged once.
func TestSharedPartsAreJudgedOnce(t *testing.T) {
	c, builds := sound(t)
	builds[0].Corner[0].Spring.Rate.Value = 600e3
	Fill(c, builds)
	n := 0
	for _, p := range Check(c, builds, nil) {
		if p.Path == "rate" && p.Refuse {
			n++
		}
	}
	if n != 1 {
		t.Errorf("%d problems for one spring in two builds, want 1", n)
	}
}

func TestEstimatesAreNotJudged(t *testing.T) {
	c, builds := sound(t)
	Fill(c, builds)
	c.Axle[0].TyreRate = Input{Value: 1, Origin: figure.Estimated, Path: "own estimate"}
	for _, p := range Check(c, builds, nil) {
		if p.Path == "own estimate" {
			t.Error("an estimate of the program was held against the job")
		}
	}
}

func TestUnknownSaysWhatStaysOpen(t *testing.T) {
	c, builds := telephone()
	Fill(c, builds)
	got := map[string]bool{}
	for _, p := range Unknown(c, builds) {
		if p.Refuse || p.Want.Text == "" {
			t.Errorf("%+v", p)
		}
		got[p.Path] = true
	}
	for _, path := range []string{
		"builds.old.front.damper.open", "builds.old.rear.damper.open", "builds.old.front.spring.block",
		"car.weighed.damper_length.rear_left", "car.weighed.arch_height.front_left", "car.rear.bar.rate",
	} {
		if !got[path] {
			t.Errorf("%s is not known and not said", path)
		}
	}
	measured, builds2 := sound(t)
	for i := range 4 {
		measured.Weighed.DamperLength[i] = typed(0.489, 0.001, "length")
	}
	for a := range 2 {
		measured.Axle[a].BarRate = typed(9e3, 1e3, "bar")
	}
	Fill(measured, builds2)
	for _, p := range Unknown(measured, builds2) {
		t.Errorf("%s is known and said to be open: %s", p.Path, p.Want.Text)
	}
}

// TestScalesOverTheKerbMass: a hundred kilograms more on the scales than in the papers are said on a light car and on a
// heavy one, with what to do; what a tank and extras weigh is not.
func TestScalesOverTheKerbMass(t *testing.T) {
	for kerb := 700.0; kerb <= 3000; kerb += 100 {
		for _, over := range []float64{-40, 0, 35, 100, 160} {
			c, builds := sound(t)
			c.KerbMass = typed(kerb, 0, "car.kerb_mass")
			for i, share := range [4]float64{0.29, 0.29, 0.21, 0.21} {
				c.Weighed.Load[i].Value = share * (kerb + over)
			}
			Fill(c, builds)
			said := false
			for _, p := range Check(c, builds, nil) {
				said = said || p.Path == "car.weighed.load" && strings.Contains(p.Want.Text, "is something aboard") && strings.Contains(p.Want.Text, "or a scale wrong?")
			}
			if said != (over >= 100) {
				t.Errorf("kerb mass %g kg, %g kg more on the scales: said %v", kerb, over, said)
			}
		}
	}
}

// TestOneAxleUneven: 640 against 535 kg across one axle is said, though the car as a whole is even, with what to do; what a
// driver who is said puts on one side is not.
func TestOneAxleUneven(t *testing.T) {
	said := func(load [4]float64, aboard ...Payload) (text string) {
		c, builds := sound(t)
		c.Weighed.Aboard = aboard
		for i := range 4 {
			c.Weighed.Load[i].Value = load[i]
		}
		Fill(c, builds)
		for _, p := range Check(c, builds, nil) {
			if strings.Contains(p.Got.Text, "axle's weight on the left") {
				text += p.Path + " " + p.Got.Text + " " + p.Want.Text + "\n"
			}
		}
		return text
	}
	if got := said([4]float64{640, 690, 640, 535}); !strings.Contains(got, "car.weighed.load.rear_left puts {} of the rear axle's") || !strings.Contains(got, "take a drop link off each bar") || strings.Count(got, "\n") != 1 {
		t.Errorf("640 against 535 kg: %q", got)
	}
	if got := said([4]float64{430, 428, 314, 295}); got != "" {
		t.Errorf("an even car: %s", got)
	}
	driver := Payload{Mass: typed(110, 0, "m"), Behind: typed(1.35, 0, "b"), Left: typed(0.38, 0, "l")}
	heavy := [4]float64{474, 420, 350, 304}
	if got := said(heavy, driver); got != "" {
		t.Errorf("with a driver who is said: %s", got)
	}
	if got := said([4]float64{490, 410, 360, 300}); got == "" {
		t.Error("with a driver who is not said nothing is said")
	}
}

// TestGasByPressureCarriesToo: the spring's rate is compared with what is left to it once the gas has carried its part, as a
// force or as a pressure.
func TestGasByPressureCarriesToo(t *testing.T) {
	for _, gas := range []func(d *DamperSpec){
		func(d *DamperSpec) { d.GasForce = typed(1200, 0, "f"); d.GasRate = typed(0, 0, "r") },
		func(d *DamperSpec) {
			d.GasPressure, d.GasVolume = typed(24.4e5, 0, "p"), typed(0.01, 0, "v")
			d.Rod = typed(0.025, 0, "rod")
		},
	} {
		c, builds := sound(t)
		gas(builds[0].Corner[0].Damper)
		for i := range 2 {
			// The spring carries what is left at a ratio of about one.
			c.Weighed.SpringLength[i] = typed(0.361-(9.81*(427-44)-1200)/25e3, 0.001, "length")
		}
		Fill(c, builds)
		for _, p := range Check(c, builds, nil) {
			if strings.Contains(p.Want.Text, "the scales ask for") {
				t.Errorf("%+v %+v", p.Got, p.Want)
			}
		}
	}
}
