package stability

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"trunnion/chassis/numeric"
)

// loaded is a car on four tyres of 1987, its weight on them.
func loaded(front, transfer [2]float64) Car {
	c := Car{Mass: 1500, YawInertia: 2500}
	const length, weight = 2.7, 1500 * 9.80665
	share := front[0]
	c.ToFront, c.ToRear = length*(1-share), length*share
	for a, s := range [2]float64{share, 1 - share} {
		half := weight * s / 2
		c.Axle[a] = Axle{Load: [2]float64{half - transfer[a], half + transfer[a]}, Tyre: Tyre{Scale: 1}}
	}
	return c
}

// Without lift the search finds the critical speed that the formula gives; rear
// lift brings it on sooner, rear downforce later or never.
func TestCriticalSpeed(t *testing.T) {
	c := loaded([2]float64{0.42}, [2]float64{0, 900})
	plain := c.At(30)
	want := plain.Critical()
	if math.IsInf(want, 1) {
		t.Fatal("the car was to oversteer")
	}
	got := c.Critical(200)
	if math.Abs(got-want) > 1e-5 {
		t.Errorf("critical at %.6f m/s by search, %.6f m/s by formula", got, want)
	}
	lifted := c
	lifted.Axle[1].Lift = 0.4
	pressed := c
	pressed.Axle[1].Lift = -0.4
	if l, p := lifted.Critical(200), pressed.Critical(200); !(l < got && got < p) {
		t.Errorf("critical at %.1f m/s with lift at the rear, %.1f without, %.1f with downforce", l, got, p)
	}
}

// More load transfer at an axle takes stiffness there and nowhere else, so it
// steers the car towards its own end running wide.
func TestTransferMovesTheBalance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		moved := rapid.Float64Range(300, 1500).Draw(t, "moved")
		even, front, rear := loaded([2]float64{0.5}, [2]float64{}), loaded([2]float64{0.5}, [2]float64{moved, 0}), loaded([2]float64{0.5}, [2]float64{0, moved})
		e, f, r := even.At(20), front.At(20), rear.At(20)
		if !(f.Gradient() > e.Gradient() && e.Gradient() > r.Gradient()) {
			t.Errorf("%.0f N moved: gradient %.3g in front, %.3g even, %.3g at the rear", moved, f.Gradient(), e.Gradient(), r.Gradient())
		}
		if math.Abs(e.Gradient()) > 1e-12 {
			t.Errorf("a car alike at both ends has a gradient of %.3g", e.Gradient())
		}
	})
}

// The gradient in a bend with no load moved is that of the car straight ahead.
func TestSteadyGradient(t *testing.T) {
	c := loaded([2]float64{0.56}, [2]float64{})
	b := c.At(1)
	const ay = 3.0
	side := [2]float64{c.Mass * ay * c.ToRear / 2.7, c.Mass * ay * c.ToFront / 2.7}
	if got := SteadyGradient(c.Axle, side, ay); math.Abs(got-b.Gradient()) > 1e-12 {
		t.Errorf("%.6g in a bend, %.6g straight ahead", got, b.Gradient())
	}
}

// The poles of the equations of motion are those of the response, at uneven
// speeds: their sum and product are the matrix's trace and determinant.
func TestPolesAreTheMatrix(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := loaded([2]float64{rapid.Float64Range(0.35, 0.65).Draw(t, "front")}, [2]float64{})
		v := rapid.Float64Range(3, 80).Draw(t, "speed")
		b := c.At(v)
		r := b.At(v)
		ss, sy := b.Slopes(v, 1, 0, 0)
		ys, yy := b.Slopes(v, 0, 1, 0)
		trace, determinant := ss+yy, ss*yy-sy*ys
		sum, product := 2*r.Poles[0], r.Poles[0]*r.Poles[0]+r.Poles[1]*r.Poles[1]
		if !r.Swings {
			sum, product = r.Poles[0]+r.Poles[1], r.Poles[0]*r.Poles[1]
		}
		if math.Abs(sum-trace) > 1e-9*math.Abs(trace) || math.Abs(product-determinant) > 1e-8*(math.Abs(determinant)+trace*trace) {
			t.Errorf("at %.1f m/s: poles add up to %.9g and multiply to %.9g; %.9g and %.9g by the matrix", v, sum, product, trace, determinant)
		}
	})
}

// A tyre known at one load has that stiffness there; one with a table, the
// table's; none carries anything off the ground.
func TestTyre(t *testing.T) {
	k := Known(61e3, 3900)
	if got := k.Stiffness(3900); math.Abs(got-61e3) > 1e-6 {
		t.Errorf("%.3f N/rad at the known load", got)
	}
	if k.Stiffness(-5) != 0 || k.Stiffness(0) != 0 {
		t.Error("a hanging tyre has stiffness")
	}
	table, err := numeric.NewCurve([]float64{0, 2000, 4000, 6000}, []float64{0, 40e3, 62e3, 70e3})
	if err != nil {
		t.Fatal(err)
	}
	read := Tyre{Table: &table, Scale: 0.9}
	if got := read.Stiffness(4000); math.Abs(got-0.9*62e3) > 1e-6 {
		t.Errorf("%.3f N/rad from the table", got)
	}
}
