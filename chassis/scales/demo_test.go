package scales_test

import (
	"math"
	"testing"

	"trunnion/chassis/car"
	"trunnion/chassis/corner"
	"trunnion/chassis/demo"
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/figure"
	"trunnion/chassis/numeric"
	"trunnion/chassis/scales"
)

// kit puts the demo's adjustable kit on the scales with the driver aboard.
func kit(t testing.TB) *scales.Rig {
	t.Helper()
	d := demo.Marl()
	// The independent model behind the expected figures moved its parts by these
	// polynomials, of which the demo's tables are a printed sample.
	poly := func(a, b float64) numeric.Poly { return numeric.Poly{C: [5]float64{a, b}, N: 2} }
	used(&d.Car.Axle[0].Spring, poly(0.955, 0.20))
	used(&d.Car.Axle[0].Damper, poly(0.955, 0.20))
	used(&d.Car.Axle[1].Spring, poly(0.640, 0.15))
	used(&d.Car.Axle[1].Damper, poly(0.905, 0.10))
	b := d.Builds[3]
	collar := &car.PlatformSpec{ID: "collar", Kind: "seat", Pitch: in(1.5e-3), Up: in(18e-3), Down: in(18e-3)}
	for i := range 4 {
		b.Corner[i].Platform = collar
	}
	return rigOf(t, &d, b, d.Loads[1].Items)
}

func in(v float64) car.Input { return car.Input{Value: v, Origin: figure.Chosen} }

func rigOf(t testing.TB, d *demo.Job, b *car.Build, aboard []car.Payload) *scales.Rig {
	t.Helper()
	fitted, err := corner.NewDesign(d.Car, d.Builds[0])
	if err != nil {
		t.Fatal(err)
	}
	design, err := corner.NewDesign(d.Car, b)
	if err != nil {
		t.Fatal(err)
	}
	base := equilibrium.Calibrate(fitted, equilibrium.NewHangup(), nil)
	r, err := scales.NewRig(design, &base, aboard)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func model(r *scales.Rig) *scales.Model {
	return scales.NewModel(r, scales.Priors(), scales.Noises([4]float64{120, 120, 60, 60}))
}

// The demo's scales, from the same independent model as the demo's other
// figures: own numbers, no source. To 0.3 mm and 0.1 %.
func TestDemoOnScales(t *testing.T) {
	r := kit(t)
	m := model(r)
	st, err := r.Stand([4]float64{})
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range [4]float64{350.1, 345.0, 357.9, 355.1} {
		near(t, "height at the start marks", st.Reading.Height[i]*1e3, want, 0.3, "mm")
	}
	near(t, "cross at the start marks", st.Reading.Cross(scales.FrontRightRearLeft)*100, 51.26, 0.1, "%")

	level := scales.Road.Level(scales.FrontRightRearLeft)
	level.Cross = math.NaN()
	p, err := m.Plan(level)
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range [4]float64{-5.4, 5.4, 1.5, -1.5} {
		near(t, "levelling move", p.Exact[i]*1e3, want, 0.3, "mm")
	}
	near(t, "cross of the level car", p.Price[p.Chosen].Cross*100, 52.9, 0.1, "%")

	p, err = m.Plan(scales.Road.Level(scales.FrontRightRearLeft))
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range [4]float64{0.3, -0.3, -3.2, 3.2} {
		near(t, "weighted move", p.Exact[i]*1e3, want, 0.3, "mm")
	}
	near(t, "cross of the weighted move", p.Price[p.Chosen].Cross*100, 50.2, 0.1, "%")
	st, err = r.Stand(p.Exact)
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range [4]float64{348.5, 346.6, 355.6, 357.4} {
		near(t, "height after the weighted move", st.Reading.Height[i]*1e3, want, 0.3, "mm")
	}
	t.Logf("%+v", p)
}

func near(t testing.TB, what string, got, want, tol float64, unit string) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s is %.6g %s, want %.6g ± %.2g %s", what, got, unit, want, tol, unit)
	}
}

// used replaces a motion table by the polynomial behind it.
func used(m *car.Motion, p numeric.Poly) {
	m.Fit.Poly, m.Fit.N = p, p.N
}

// 24 kg over the rear left wheel of the car levelled at the rear: the corner
// goes down about 4.6 mm, and its platform alone, about 4.0 mm up, levels the
// rear axle again. From the same independent model, to 0.3 mm.
func TestLoadOverOneWheel(t *testing.T) {
	r := kit(t)
	wish := scales.Road.Level(scales.FrontRightRearLeft)
	wish.Cross = math.NaN()
	p, err := model(r).Plan(wish)
	if err != nil {
		t.Fatal(err)
	}
	r.System = mustStand(t, r, p.Exact).System
	before := mustStand(t, r, [4]float64{}).Reading
	near(t, "rear left over rear right before", before.Level(1)*1e3, 0, 1e-3, "mm")
	const weight = 24 * equilibrium.Gravity
	r.Aboard.Down += weight
	r.Aboard.Behind += weight * r.System.Behind[2]
	r.Aboard.Left += weight * r.System.Left[2]
	laden := mustStand(t, r, [4]float64{}).Reading
	near(t, "rear left goes down", (before.Height[2]-laden.Height[2])*1e3, 4.6, 0.3, "mm")

	// Asked for the rear axle alone, and for one collar: the program finds which.
	wish.Level[0], wish.Mean = math.NaN(), [2]float64{before.Mean(0), before.Mean(1)}
	p, err = model(r).Plan(wish)
	if err != nil {
		t.Fatal(err)
	}
	if p.Single.Corner != figure.RearLeft {
		t.Fatalf("the one collar to turn is corner %d, want rear left", p.Single.Corner)
	}
	wish.Mean = [2]float64{math.NaN(), math.NaN()}
	wish.Locked = [4]bool{true, true, false, true}
	wish.MeanWithin = 1
	// Height of the axles does not matter to the question: only the level of the rear.
	wish.IgnoreMean = true
	p, err = model(r).Plan(wish)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "rear left collar", p.Exact[2]*1e3, 4.0, 0.3, "mm")
	after := mustStand(t, r, p.Exact).Reading
	near(t, "rear left over rear right after", after.Level(1)*1e3, 0, 1e-3, "mm")
}

func mustStand(t testing.TB, r *scales.Rig, move [4]float64) scales.Stand {
	t.Helper()
	st, err := r.Stand(move)
	if err != nil {
		t.Fatal(err)
	}
	return st
}

func BenchmarkNextMove(b *testing.B) {
	r := kit(b)
	m := model(r)
	st := mustStand(b, r, [4]float64{})
	rounds := []scales.Round{{Got: st.Reading}, {Turned: [4]float64{1e-3, 0, 0, -1e-3}, Got: st.Reading}}
	b.ReportAllocs()
	for b.Loop() {
		learnt, err := m.Learn(rounds)
		if err != nil {
			b.Fatal(err)
		}
		if _, err := learnt.Plan(scales.Road.Level(scales.FrontRightRearLeft)); err != nil {
			b.Fatal(err)
		}
	}
}
