package corner_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"trunnion/chassis/corner"
	"trunnion/chassis/numeric"
	"trunnion/chassis/part"
)

// foam makes a stop's table.
func foam(t interface{ Fatal(args ...any) }, crush, force []float64) *numeric.Curve {
	c, err := numeric.NewCurve(crush, force)
	if err != nil {
		t.Fatal(err)
	}
	return &c
}

// drawn is a corner with everything a corner can have: curved motion tables of
// their own for spring and damper, helper, progressive rate, mount, gas charge,
// stop, top-out, bushes.
func drawn(t *rapid.T) corner.Model {
	draw := func(name string, low, high float64) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
	m := corner.Model{
		SpringTravel: numeric.Smooth{Poly: numeric.Poly{C: [5]float64{draw("spring ratio", 0.5, 1.05), draw("its change", -4e-1, 4e-1)}, N: 2}},
		DamperTravel: numeric.Smooth{Poly: numeric.Poly{C: [5]float64{draw("damper ratio", 0.6, 1.05), draw("its change", -3e-1, 3e-1), draw("and curve", -0.5, 0.5)}, N: 3}},
		Spring: part.Spring{
			Rate: draw("rate", 20e3, 100e3), Free: draw("free", 0.2, 0.35), Block: draw("block", 0.06, 0.11),
		},
		HasDamper: true, HasStop: true, BushRate: draw("bush", 0, 4e3), BushZero: draw("slack at", -0.02, 0.02),
		Gas: part.Gas{Pressure: draw("pressure", 4e5, 25e5), Volume: 70e-6, Area: draw("rod", 100e-6, 400e-6), Exponent: 1.25},
	}
	m.Mounts0 = draw("mounts", 0.45, 0.5)
	m.Open = m.Mounts0 + draw("droop", 0.03, 0.09)
	m.Closed = m.Mounts0 - draw("bump", 0.06, 0.1)
	m.Touch = m.Mounts0 - draw("gap", -0.015, 0.05)
	m.Compressed0 = draw("preload", 0.02, 0.09)
	table := foam(t, []float64{0, 0.006, 0.013, 0.021, 0.026}, []float64{0, 140, 420, 1300, 4100})
	m.Stop = part.BumpStop{Length: 0.04, Table: table, End: 0.026, Scale: draw("stop", 0.7, 1.3)}
	if rapid.Bool().Draw(t, "progressive") {
		m.Spring.Growth = draw("growth", 0, 1) * m.Spring.Rate / (m.Spring.Free - m.Spring.Block)
	}
	if rapid.Bool().Draw(t, "helper") {
		m.Spring.HelperRate, m.Spring.HelperFree, m.Spring.HelperBlock = draw("helper", 4e3, 40e3), 0.05, 0.017
		m.Compressed0 += 0.02
	}
	if rapid.Bool().Draw(t, "mount") {
		m.MountRate, m.MountLoad0 = draw("mount rate", 3e5, 2e6), draw("mount load", 0, 4000)
	}
	if rapid.Bool().Draw(t, "top-out") {
		m.TopOut = foam(t, []float64{0, 0.004, 0.009}, []float64{0, 200, 900})
	}
	return m
}

// The rate at the wheel is the slope of the force at the wheel wherever the
// wheel is: loose, on the spring, in the stop, on metal, coils touching. At a
// kink the slope of either side will do.
func TestRateIsTheSlopeOfForce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := drawn(t)
		w := rapid.Float64Range(-0.12, 0.12).Draw(t, "wheel travel")
		const h = 1e-7
		up, kUp := m.Force(w + h)
		down, kDown := m.Force(w - h)
		_, k := m.Force(w)
		got := (up - down) / (2 * h)
		room := 3e-5*math.Max(math.Abs(kUp), math.Abs(kDown)) + 1e-8*math.Abs(up)/h + 2
		if got < math.Min(kUp, kDown)-room || got > math.Max(kUp, kDown)+room {
			t.Fatalf("at %.6f m the force grows by %.3f N/m, the rate is %.3f N/m", w, got, k)
		}
	})
}

// The force in its parts adds up to the force, and no part is counted twice.
func TestPartsAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := drawn(t)
		w := rapid.Float64Range(-0.12, 0.12).Draw(t, "wheel travel")
		f, k := m.Force(w)
		sh := m.At(w)
		sum, rate := sh.Force()
		if math.Abs(sum-f) > 1e-9*(1+math.Abs(f)) || math.Abs(rate-k) > 1e-9*(1+math.Abs(k)) {
			t.Fatalf("parts add up to %.9g N, %.9g N/m; whole is %.9g N, %.9g N/m", sum, rate, f, k)
		}
	})
}

// A mount under the spring gives way by what it carries over what it carried
// when the length was measured.
func TestMountInSeries(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := drawn(t)
		m.MountRate, m.MountLoad0 = rapid.Float64Range(2e5, 3e6).Draw(t, "mount rate"), 2700
		w := rapid.Float64Range(-0.05, 0.08).Draw(t, "wheel travel")
		load := m.At(w).SpringLoad
		s, _, _ := m.SpringTravel.At(w)
		bare, _ := m.Spring.Force(m.Compressed0 + s - (load-2700)/m.MountRate)
		if math.Abs(bare-load) > 1e-4 {
			t.Fatalf("the spring carries %.5f N but at that length it pushes %.5f N", load, bare)
		}
	})
}

// Every limit is where what it names begins.
func TestLimits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := drawn(t)
		m.MountRate = 0
		const load = 3300.0
		l := m.Limits(load)
		length := func(w float64) float64 { x, _, _ := m.DamperTravel.At(w); return m.Mounts0 - x }
		pressed := func(w float64) float64 { s, _, _ := m.SpringTravel.At(w); return m.Compressed0 + s }
		stop := func(w float64) float64 { return m.At(w).Stop }
		for _, r := range []struct {
			name            string
			at, got, wanted float64
		}{
			{"open", l.Open, length(l.Open), m.Open},
			{"closed", l.Closed, length(l.Closed), m.Closed},
			{"touch", l.Touch, length(l.Touch), m.Touch},
			{"solid", l.Solid, length(l.Solid), m.Touch - m.Stop.End},
			{"loose", l.Loose, pressed(l.Loose), 0},
			{"block", l.Block, pressed(l.Block), m.Spring.StackFree() - m.Spring.StackBlock()},
		} {
			if !math.IsNaN(r.at) && math.Abs(r.got-r.wanted) > 1e-9 {
				t.Fatalf("%s at a wheel travel of %.6f m is a length of %.9f m, not %.9f m", r.name, r.at, r.got, r.wanted)
			}
		}
		for _, r := range []struct{ at, force float64 }{{l.Firm, 0.5 * load}, {l.Hard, 2 * load}} {
			switch most := stop(l.Solid); {
			case math.IsNaN(r.at) != (most < r.force):
				t.Fatalf("the stop carries up to %.1f N at the wheel, %.1f N is found at %.4f m", most, r.force, r.at)
			case !math.IsNaN(r.at) && math.Abs(stop(r.at)-r.force) > 1e-3:
				t.Fatalf("where %.1f N is due the stop carries %.4f N", r.force, stop(r.at))
			}
		}
		if stop(l.Touch-1e-6) != 0 || stop(l.Touch+1e-4) <= 0 {
			t.Fatalf("around touch the stop carries %.3g N and %.3g N", stop(l.Touch-1e-6), stop(l.Touch+1e-4))
		}
	})
}

// A rear axle whose spring moves 0.64 and whose damper 0.905 of the wheel's
// travel. Every figure here changes when one ratio is used for the other.
func TestSpringAndDamperTravelApart(t *testing.T) {
	m := corner.Model{
		SpringTravel: numeric.Smooth{Poly: numeric.Poly{C: [5]float64{0.64}, N: 1}}, DamperTravel: numeric.Smooth{Poly: numeric.Poly{C: [5]float64{0.905}, N: 1}},
		Spring: part.Spring{Rate: 60e3, Free: 0.250, Block: 0.095}, Compressed0: 0.060,
		HasDamper: true, HasStop: true, Mounts0: 0.500, Open: 0.588, Closed: 0.410, Touch: 0.470,
		Gas:  part.Gas{Force: 100, Rate: 500},
		Stop: part.BumpStop{Table: foam(t, []float64{0, 0.010, 0.020}, []float64{0, 300, 900}), End: 0.020, Scale: 1},
	}
	l := m.Limits(3000)
	for _, r := range []struct {
		what      string
		got, want float64
		unit      string
	}{
		{"droop to open", l.Open, -0.088 / 0.905, "m"},
		{"bump to touch", l.Touch, 0.030 / 0.905, "m"},
		{"bump to solid", l.Solid, 0.050 / 0.905, "m"},
		{"bump to closed", l.Closed, 0.090 / 0.905, "m"},
		{"droop to loose", l.Loose, -0.060 / 0.64, "m"},
		{"bump to block", l.Block, (0.155 - 0.060) / 0.64, "m"},
	} {
		if math.Abs(r.got-r.want) > 1e-12 {
			t.Errorf("%s is %.6f %s, want %.6f %s", r.what, r.got, r.unit, r.want, r.unit)
		}
	}
	// 10 mm into the stop at the damper: spring 60·(60 + 0.64·44.2) N and so on.
	w := 0.040 / 0.905
	force, rate := m.Force(w)
	spring := 60e3 * (0.060 + 0.64*w)
	if want := spring*0.64 + (100+500*0.040+300)*0.905; math.Abs(force-want) > 1e-6 {
		t.Errorf("force at the wheel is %.4f N, want %.4f N", force, want)
	}
	_, stopRate, _ := m.Stop.Force(0.010)
	if want := 60e3*0.64*0.64 + (500+stopRate)*0.905*0.905; math.Abs(rate-want) > 1e-3 {
		t.Errorf("rate at the wheel is %.4f N/m, want %.4f N/m", rate, want)
	}
}

func BenchmarkForce(b *testing.B) {
	m := corner.Model{
		SpringTravel: numeric.Smooth{Poly: numeric.Poly{C: [5]float64{0.64, 0.15}, N: 2}}, DamperTravel: numeric.Smooth{Poly: numeric.Poly{C: [5]float64{0.905, 0.1}, N: 2}},
		Spring: part.Spring{Rate: 60e3, Free: 0.250, Block: 0.095}, Compressed0: 0.060,
		HasDamper: true, HasStop: true, Mounts0: 0.500, Open: 0.588, Closed: 0.410, Touch: 0.470,
		Gas:  part.Gas{Force: 100, Rate: 500},
		Stop: part.BumpStop{Table: foam(b, []float64{0, 0.010, 0.020}, []float64{0, 300, 900}), End: 0.020, Scale: 1},
	}
	for _, r := range []struct {
		name string
		w    float64
	}{{"free", 0.011}, {"in the stop", 0.044}} {
		b.Run(r.name, func(b *testing.B) {
			b.ReportAllocs()
			sum := 0.0
			for b.Loop() {
				f, _ := m.Force(r.w)
				sum += f
			}
			if sum == 0 {
				b.Fatal("no force")
			}
		})
	}
}
