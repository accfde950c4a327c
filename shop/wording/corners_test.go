package wording_test

import (
	"math"
	"strings"
	"testing"

	"trunnion/chassis/cornering"
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/figure"
	"trunnion/chassis/stability"
	"trunnion/shop/quantity"
	"trunnion/shop/wording"
)

const g = equilibrium.Gravity

func TestMetAt(t *testing.T) {
	value := func(low, high float64) *figure.Value {
		return &figure.Value{Code: "stop-contact-acceleration", Value: 0.57 * g, Low: low * g, High: high * g, HasBand: true}
	}
	for _, c := range []struct {
		v    *figure.Value
		want string
	}{
		{nil, "0.57 g"},
		{value(0.474, 0.717), "0.57 g (0.47 to 0.72)"},
		{value(0.6, 1.2), "0.57 g (0.60 or more)"},
		{&figure.Value{Value: math.NaN(), State: figure.Unknown}, "0.57 g"},
	} {
		if got := wording.MetAt(0.571*g, c.v); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

func TestStopMetSaysWhatTheBalanceDoes(t *testing.T) {
	at := func(corner int, before, after float64) *cornering.Contact {
		return &cornering.Contact{Corner: corner, Lateral: 0.6 * g, Before: before, After: after}
	}
	for _, c := range []struct {
		k    *cornering.Contact
		want []string
	}{
		{at(figure.FrontRight, 0.52, 0.56), []string{"front right stop is met at 0.60 g", "56.0 %", "52.0 %", "more understeer"}},
		{at(figure.RearRight, 0.56, 0.54), []string{"less understeer"}},
		{at(figure.RearRight, 0.56, 0.562), []string{"hardly changes"}},
		{&cornering.Contact{Corner: figure.RearLeft, AtRest: true, Before: math.NaN(), After: math.NaN()}, []string{"rear left wheel rests on its stop straight ahead"}},
	} {
		got := wording.StopMet(c.k, nil)
		for _, w := range c.want {
			if !strings.Contains(got, w) {
				t.Errorf("%q lacks %q", got, w)
			}
		}
	}
	braking := wording.StopMet(&cornering.Contact{Corner: figure.FrontLeft, Longitudinal: -0.8 * g, Before: math.NaN(), After: math.NaN()}, nil)
	if braking != "The front left stop is met at 0.80 g." {
		t.Errorf("braking: %q", braking)
	}
}

func TestNervous(t *testing.T) {
	tell := wording.New(nil, quantity.Metric)
	kmh := func(v float64) float64 { return v / 3.6 }
	name := tell.AsBuild("as-it-arrived")
	for _, c := range []struct {
		n    stability.Nerves
		want string
	}{
		{stability.Nerves{Sharp: kmh(130), Swings: kmh(180)}, "Less stable from 130 km/h on: its yaw response to steer is there as high as “as it arrived” at 165 km/h. Its yaw damping is better."},
		{stability.Nerves{Sharp: math.Inf(1), Swings: kmh(140)}, "Less stable from 140 km/h on: its yaw damping is there as low as “as it arrived” at 165 km/h. Its yaw response to steer is lower."},
		{stability.Nerves{Sharp: kmh(150), Swings: math.NaN()}, "Less stable from 150 km/h on: its yaw response to steer is there as high as “as it arrived” at 165 km/h."},
		{stability.Nerves{Sharp: kmh(165.3), Swings: kmh(165)}, "As stable at 165 km/h as “as it arrived”."},
		{stability.Nerves{Sharp: kmh(190), Swings: kmh(200)}, "More stable: it takes 190 km/h to be as “as it arrived” at 165 km/h."},
		{stability.Nerves{Sharp: math.Inf(1), Swings: math.Inf(1)}, "More stable than “as it arrived” at 165 km/h up to 200 km/h."},
		{stability.Nerves{Sharp: math.NaN(), Swings: math.NaN()}, ""},
	} {
		if got := tell.Nervous(name, kmh(165), c.n, kmh(200)); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}
