package study

import (
	"math"
	"testing"

	"trunnion/chassis/car"
	"trunnion/chassis/demo"
)

// The shares of the force along the car are those given; without one, the front's
// is that which loads both axles alike at hard braking.
func TestSupportOf(t *testing.T) {
	c := Job(demo.Marl()).Car
	s := SupportOf(c, car.Front)
	if !s.Estimated || s.DriveGiven || s.DriveShare != 1 {
		t.Errorf("%+v", s)
	}
	whole, front := 0.0, 0.0
	for i := range 4 {
		whole += c.Weighed.Load[i].Value
		if i < 2 {
			front += c.Weighed.Load[i].Value
		}
	}
	// At 0.8 g both axles then brake as they are loaded.
	if want := front/whole + 0.8*s.Height/s.Wheelbase; math.Abs(s.BrakeShare-want) > 1e-12 {
		t.Errorf("front share %.6f, by the loads %.6f", s.BrakeShare, want)
	}
	given := *c
	given.BrakeShare.Value, given.BrakeShare.Origin = 0.7, "measured"
	given.DriveShare.Value, given.DriveShare.Origin = 0, "chosen"
	rear := SupportOf(&given, car.Rear)
	if rear.Estimated || !rear.DriveGiven || math.Abs(rear.BrakeShare-0.3) > 1e-12 || rear.DriveShare != 1 {
		t.Errorf("%+v", rear)
	}
}
