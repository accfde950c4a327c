package car

import (
	"math"
	"testing"

	"trunnion/chassis/figure"
)

func sized(id string, width, aspect, rim float64) *TyreSpec {
	return &TyreSpec{ID: id, Width: typed(width, 0, id), Aspect: typed(aspect, 0, id), Rim: typed(rim, 0, id), LoadIndex: 91}
}

// rolled is the telephone's car on 205/55 R16 and a wheel of 50 mm offset, with a build on
// 225/45 R17 and one of 30 mm.
func rolled() (*Car, *Build, *Build) {
	c, builds := telephone()
	old, low := builds[0], builds[1]
	narrow, wide := sized("narrow", 0.205, 0.55, 16*0.0254), sized("wide", 0.225, 0.45, 17*0.0254)
	deep, shallow := &WheelSpec{ID: "deep", Width: typed(6.5*0.0254, 0, "w"), Offset: typed(0.050, 0.001, "o")}, &WheelSpec{ID: "shallow", Width: typed(8*0.0254, 0, "w"), Offset: typed(0.030, 0.001, "o")}
	for i := range 4 {
		old.Corner[i].Tyre, old.Corner[i].Wheel = narrow, deep
		low.Corner[i].Tyre, low.Corner[i].Wheel = wide, shallow
	}
	low.Setup.Pressure[2] = Input{Value: 2.6e5, Origin: figure.Chosen, Path: "p"}
	return c, old, low
}

func TestTyresAreFilledByTheirSize(t *testing.T) {
	c, old, low := rolled()
	Fill(c, []*Build{old, low})
	wide, narrow := low.Corner[0].Tyre, old.Corner[0].Tyre
	near(t, "pressure", wide.Pressure, 2.3e5, 0.3e5, 1e-9)
	// 431.8 + 2·101.25 mm; ± 2 % of 202.5.
	near(t, "diameter", wide.Diameter, 0.6343, 0.00405, 1e-6)
	// On its rim of 203.2 mm: 225 + 0.4·(203.2 − 191.25) = 229.78 mm.
	near(t, "section", wide.Section, 0.22978, 0.0045956, 1e-4)
	// On 165.1 mm: 205 + 0.4·(165.1 − 143.5) = 213.64 mm.
	near(t, "section of the other", narrow.Section, 0.21364, 0.0042728, 1e-4)
	near(t, "rate", wide.Rate, 253.80e3, 0.15*253.80e3, 1e-4)
	near(t, "circumference", wide.Circumference, 3.05*0.6343, 0.01*3.05*0.6343, 1e-4)
	near(t, "mass", wide.Mass, 69*0.225*0.6343, 0.2*69*0.225*0.6343, 1e-3)
	near(t, "wheel's mass", low.Corner[0].Wheel.Mass, 124*0.2032*0.4318, 0.25*124*0.2032*0.4318, 1e-3)
	near(t, "speedometer", c.Speedometer, 0.035, 0.035, 1e-9)

	// 634.3 and 631.9 mm across, 50 and 30 mm of offset, 229.78 and 213.64 mm wide.
	for _, r := range []struct {
		what      string
		got, want float64
	}{
		{"radius", c.Grown(low, 1, nil), 0.0012},
		{"outward", c.Outward(low, 1, nil), 0.020},
		{"wider", c.Wider(low, 1, nil), 0.01614},
		{"half track", c.HalfTrack(low, 1, nil), 0.778 + 0.020},
		{"the same as weighed", c.HalfTrack(old, 1, nil), 0.778},
		{"radius as weighed", c.Grown(old, 1, nil), 0},
	} {
		if math.Abs(r.got-r.want) > 1e-9 {
			t.Errorf("%s differs by %.6f m, want %.6f", r.what, r.got, r.want)
		}
	}
	// 9.849 − 8.938 kg of tyre, 10.880 − 8.320 of wheel.
	if got := c.UnsprungAt(low, 0, nil) - c.UnsprungAt(old, 0, nil); math.Abs(got-3.466) > 0.01 {
		t.Errorf("%.3f kg more with each wheel", got)
	}
	again := *low
	again.Corner[0].UnsprungMore = Input{Value: 2, Origin: figure.Measured}
	if got := c.UnsprungAt(&again, 0, nil) - c.UnsprungAt(old, 0, nil); got != 2 {
		t.Errorf("%.3f kg more where 2 were weighed: guessed masses are no reason to doubt them", got)
	}
	// 0.3 bar more than its own: a rate 0.3/2.3 of what air does stiffer.
	if got, want := c.TyreRate(low, 2, nil)/c.TyreRate(low, 0, nil), 1+(1-33.833e3/253.8e3)*0.3/2.3; math.Abs(got-want) > 1e-4 {
		t.Errorf("%.4f times as stiff at 2.6 bar, want %.4f", got, want)
	}
	more, _ := c.Capacity(low, 2, nil)
	less, ok := c.Capacity(low, 0, nil)
	if !ok || more != 615 || math.Abs(less-615*math.Pow(2.3/2.5, 0.8)) > 1e-9 {
		t.Errorf("carries %.1f kg at 2.6 bar, %.1f at 2.3", more, less)
	}
}

// A rate that was typed for the car holds for the tyre it stood on, and for no other.
func TestWhichRateHolds(t *testing.T) {
	c, old, low := rolled()
	c.Axle[0].TyreRate = typed(225e3, 0, "car.front.tyre_rate")
	Fill(c, []*Build{old, low})
	if got := c.TyreRate(old, 0, nil); got != 225e3 {
		t.Errorf("the tyre as weighed has %g N/m", got)
	}
	if got := c.TyreRateIn(low, 0); got != &low.Corner[0].Tyre.Rate {
		t.Errorf("another tyre has the rate of %s", got.Path)
	}
	low.Corner[0].TyreRate = typed(240e3, 0, "x")
	if got := c.TyreRate(low, 0, nil); got != 240e3 {
		t.Errorf("%g N/m where the build says 240", got)
	}
}

// A loaded radius says where the tyre stands whatever its size: as tall as one whose
// free radius less the deflection it is.
func TestLoadedRadius(t *testing.T) {
	tyre := TyreSpec{LoadedRadius: typed(0.299, 0, "r"), LoadedAt: typed(450, 0, "m"), Rate: typed(240e3, 0, "k"), Diameter: typed(0.5, 0, "d")}
	if got, want := tyre.FreeRadius(nil), 0.299+450*9.80665/240e3; math.Abs(got-want) > 1e-12 {
		t.Errorf("free radius %.6f m, want %.6f", got, want)
	}
}

// Without the size of one of the two nothing is said to differ, and what is missing is.
func TestTyresOfUnknownSize(t *testing.T) {
	c, old, low := rolled()
	for i := range 4 {
		old.Corner[i].Tyre, old.Corner[i].Wheel = nil, nil
	}
	Fill(c, []*Build{old, low})
	if c.Grown(low, 0, nil) != 0 || c.Outward(low, 0, nil) != 0 || c.Speedometer.Known() {
		t.Error("something differs from a tyre nobody knows")
	}
	found := 0
	for _, p := range Unknown(c, []*Build{old, low}) {
		if p.Path == "builds.old.front.tyre" || p.Path == "builds.old.front.wheel.offset" {
			found++
		}
	}
	if found != 2 {
		t.Errorf("%d of what is missing is asked for", found)
	}
}

func TestTyreOnTheWrongRim(t *testing.T) {
	c, old, low := rolled()
	low.Corner[3].Wheel = &WheelSpec{ID: "small", Diameter: typed(16*0.0254, 0, "parts.wheels.small.diameter")}
	Fill(c, []*Build{old, low})
	for _, p := range Check(c, []*Build{old, low}, nil) {
		if p.Refuse && p.Path == "parts.wheels.small.diameter" {
			return
		}
	}
	t.Error("a tyre of 17 inches on a wheel of 16 is not refused")
}
