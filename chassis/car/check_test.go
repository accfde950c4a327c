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

func TestSoundCarPasses(t *testing.T) {
	c, builds := sound(t)
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
