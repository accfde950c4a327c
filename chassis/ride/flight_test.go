package ride

import (
	"math"
	"testing"
)

// crest is a sine crest of a length and height from start on, as long ones are built.
func crest(start, length, height float64) pit { return pit{start, length, -height} }

// TestFlight: a car that its crest throws off flies as a stone does while nothing holds it: from the height h of its centre
// of gravity over the landing to the ground in √(2·h/g) and more. Below the speed at which the crest's curvature takes the
// weight, v²·z” < g, nothing leaves the ground.
func TestFlight(t *testing.T) {
	car := estate()
	// z = H·sin²(πx/L): z'' = −2·H·(π/L)² at the top.
	const length, height = 24.0, 0.6
	curvature := 2 * height * math.Pow(math.Pi/length, 2)
	float := math.Sqrt(standardGravity / curvature)
	drive := func(speed float64) Flight {
		c := crest(5, length, height)
		res := simulate(t, compile(t, car), Run{Left: c, Right: c, Speed: speed, Duration: (5+length+car.Wheelbase)/speed + 2.5, Event: true})
		return res.Event.Flight
	}
	if f := drive(0.7 * float); f.Time != 0 || f.Height != 0 || f.Load != [4]float64{} {
		t.Errorf("at 0.7 of the speed that takes the weight: %+v", f)
	}
	f := drive(1.4 * float)
	if f.Time < 0.1 || f.Height < 0.01 {
		t.Fatalf("at 1.4 of the speed that takes the weight, %.1f m/s: %+v", 1.4*float, f)
	}
	for i := range 4 {
		if f.Off[i] < f.Time {
			t.Errorf("corner %d is off for %.3f s, all four for %.3f s", i, f.Off[i], f.Time)
		}
		if !(f.Load[i] > 1.3*compile(t, car).Rest().TyreLoad[i]) {
			t.Errorf("corner %d lands with %.0f N", i, f.Load[i])
		}
	}
	landed := math.Max(math.Max(f.Stop[0], f.Stop[1]), math.Max(f.Stop[2], f.Stop[3]))
	if landed < 500 {
		t.Errorf("no stop takes more than %.0f N in the landing", landed)
	}
}

// TestFreeFlight: while no tyre touches, the centre of gravity of the whole car is in free fall; the flight's time by the
// engine's own marks is that of the parabola between leaving and landing.
func TestFreeFlight(t *testing.T) {
	car := estate()
	m := compile(t, car)
	c := crest(5, 24, 0.6)
	const speed = 40.0
	var heights []float64
	var times []float64
	mass := car.SprungMass
	res := simulate(t, m, Run{Left: c, Right: c, Speed: speed, Duration: 3, Event: true, Step: 0.5e-3, Each: func(o *Moment) {
		z := car.SprungMass * o.Heave
		all := true
		for i := range 4 {
			hub := m.corner[i]
			z += hub.mass * (o.Travel[i] - hub.restTravel + o.Body[i])
			all = all && o.TyreLoad[i] == 0
		}
		if all {
			times, heights = append(times, o.Time), append(heights, z)
		}
	}})
	for i := range 4 {
		mass += m.corner[i].mass
	}
	if len(times) < 20 {
		t.Fatalf("%d steps in the air", len(times))
	}
	// The longest unbroken run of steps is the flight, and its second difference is −g.
	longest, now := 1, 1
	for k := 1; k+1 < len(times); k++ {
		if times[k]-times[k-1] > 0.6e-3 {
			now = 1
			continue
		}
		now++
		longest = max(longest, now)
		if times[k+1]-times[k] > 0.6e-3 || now < 3 {
			continue
		}
		a := (heights[k+1] - 2*heights[k] + heights[k-1]) / (0.5e-3 * 0.5e-3) / mass
		if math.Abs(a+standardGravity) > 0.02*standardGravity {
			t.Fatalf("%.3f s: the car falls with %.3f m/s²", times[k], a)
		}
	}
	if got := res.Event.Flight.Time; math.Abs(got-float64(longest)*0.5e-3) > 1.5e-3 {
		t.Errorf("flies for %.4f s; the marks say %.4f s", got, float64(longest)*0.5e-3)
	}
}

// TestOneWheelOff: over a kerb under one side only that side's wheels leave the ground, and that is no flight.
func TestOneWheelOff(t *testing.T) {
	kerb := pit{3, 0.5, -0.1}
	res := simulate(t, compile(t, estate()), Run{Left: kerb, Speed: 11, Duration: 3, Event: true})
	f := res.Event.Flight
	if f.Time != 0 || !(f.Off[FrontLeft] > 0.02) || f.Off[FrontRight] > f.Off[FrontLeft]/2 {
		t.Errorf("%+v", f)
	}
}
