package linkage

import (
	"math"
	"testing"

	"trunnion/chassis/geom"
)

// TestSteeringAxisOfAStrut: the axis of a strut's steering goes through its top mount and the arm's ball, whatever line the
// spring stands on; with the spring's length held and not the strut's it was 0.015° of caster off.
func TestSteeringAxisOfAStrut(t *testing.T) {
	plain := strutCorner()
	apart := plain
	apart.Spring = &Element{Top: add(plain.Strut.Top, geom.Vec{X: 0.012, Y: -0.025, Z: -0.01}), Low: add(plain.Strut.Low, geom.Vec{X: -0.02, Y: 0.03, Z: 0.05})}
	for _, travel := range []float64{-0.031, 0, 0.047} {
		a, b := figuresOf(t, plain, travel), figuresOf(t, apart, travel)
		if !a.HasSteer || !b.HasSteer {
			t.Fatal("no steering axis")
		}
		if d := math.Abs(a.Caster - b.Caster); d > 1e-10 {
			t.Errorf("at %.0f mm the spring's line moves the caster by %.5f°", travel*1e3, d*180/math.Pi)
		}
		if d := a.Steering.Distance(plain.Strut.Top); d > 1e-9 {
			t.Errorf("at %.0f mm the axis misses the top mount by %.4f mm", travel*1e3, d*1e3)
		}
		if d := b.Steering.Distance(plain.Strut.Top); d > 1e-9 {
			t.Errorf("at %.0f mm, spring apart, the axis misses the top mount by %.4f mm", travel*1e3, d*1e3)
		}
	}
}
