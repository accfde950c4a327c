package dyno_test

import (
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"trunnion/chassis/demo"
	"trunnion/chassis/dyno"
	"trunnion/chassis/part"
)

var single = []dyno.Adjuster{{Acts: dyno.OnBoth, Clicks: 15}}

// invented draws a damper with known gas, friction, hysteresis and noise.
func invented(draw *rand.Rand) (demo.SweptDamper, demo.Machine) {
	between := func(lo, hi float64) float64 { return lo + (hi-lo)*draw.Float64() }
	rod := between(0.011, 0.018)
	d := demo.SweptDamper{
		Knee: [2]float64{between(60, 250), between(150, 600)}, Tail: [2]float64{between(300, 1000), between(400, 1500)}, Corner: between(0.03, 0.15),
		Clicks: 15, Stiffer: between(0.5, 2), Friction: between(15, 120), Lag: between(0, 0.002),
		Gas: part.Gas{Pressure: between(4e5, 25e5), Volume: between(60e-6, 200e-6), Area: math.Pi / 4 * rod * rod, Exponent: 1.25},
	}
	return d, demo.Machine{Stroke: between(0.04, 0.06), Samples: 600 + draw.IntN(600), Noise: between(0.5, 6)}
}

// seeds are a tenth of 200, or all when the studies are asked for.
func seeds() int {
	if os.Getenv("TRUNNION_STUDIES") != "" {
		return 200
	}
	return 20
}

// What is known of a synthetic damper is found again within the band stated, 95 times
// in 100: gas, friction and force at every speed, in both strokes.
func TestSyntheticLoopsAreRecovered(t *testing.T) {
	count := map[string][2]int{}
	in := func(what string, got dyno.Band, want float64) {
		c := count[what]
		c[1]++
		if math.Abs(got.Value-want) <= got.Half {
			c[0]++
		}
		count[what] = c
	}
	worst := 0.0
	for seed := range seeds() {
		draw := rand.New(rand.NewPCG(uint64(seed), 14))
		d, m := invented(draw)
		click := draw.IntN(16)
		var runs []dyno.Run
		for _, v := range demo.SweepSpeeds {
			runs = append(runs, d.Loop(m, v, click, 313.15, draw))
		}
		set, err := dyno.Reduce(runs, dyno.Options{Adjusters: single})
		if err != nil {
			t.Fatal(err)
		}
		gas, _ := d.Gas.At(0)
		in("gas", set.Static.Gas, gas)
		in("friction", set.Static.Friction, d.Friction)
		for _, stroke := range dyno.Strokes {
			b := set.Curves[0].Of(stroke)
			for i, v := range b.Speed {
				want := d.Force(stroke, v, click, 313.15)
				in("force", dyno.Band{Value: b.Force[i], Half: b.Half[i]}, want)
				worst = math.Max(worst, math.Abs(b.Force[i]/want-1))
			}
		}
	}
	for what, c := range count {
		t.Logf("%s: %d of %d within the band", what, c[0], c[1])
		if float64(c[0]) < 0.95*float64(c[1]) {
			t.Errorf("%s: only %d of %d within the band", what, c[0], c[1])
		}
	}
	t.Logf("force at most %.2g off", worst)
}
