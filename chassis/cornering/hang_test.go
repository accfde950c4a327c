package cornering

import (
	"math"
	"testing"

	"trunnion/chassis/equilibrium"
)

// Where the droop is said to be used, a solve of its own finds the damper open; a wheel
// that bears load stands on its tyre, and one that bears none hangs over the ground.
func TestWheelsThatHang(t *testing.T) {
	used, hung := 0, 0
	for build := range 3 {
		c := demoCar(t, build, "driver", nil)
		used, hung = hangs(t, c, used, hung)
	}
	if used == 0 || hung == 0 {
		t.Errorf("droop used at %d corners, %d points off the ground: this tests nothing", used, hung)
	}
}

func hangs(t *testing.T, c *Car, used, hung int) (int, int) {
	t.Helper()
	const step = 0.02 * equilibrium.Gravity
	s := c.Sweep(Asked{Lateral: 1.5 * equilibrium.Gravity, Points: 75})
	if len(s.Points) < 30 {
		t.Fatalf("%d points", len(s.Points))
	}
	for i := range 4 {
		if at := c.DroopUsed(&s, i); !math.IsNaN(at) {
			used++
			before, err := c.At(at-step, 0, nil)
			if err != nil {
				t.Fatal(err)
			}
			after, err := c.At(at+step, 0, nil)
			if err != nil {
				continue // off the ground by then
			}
			if c.Droop(&before, i) <= 0 || c.Droop(&after, i) > 0 {
				t.Errorf("corner %d: droop %.1f mm a step before %.2f g, %.1f mm after", i, c.Droop(&before, i)*1e3, at/equilibrium.Gravity, c.Droop(&after, i)*1e3)
			}
		}
		for k := range s.Points {
			p := &s.Points[k]
			gap := c.Gap(p, i)
			if p.Load[i] <= 0 {
				hung++
			}
			if p.Load[i] > 1 && gap > 1e-6 || p.Load[i] <= 0 && gap < -1e-6 {
				t.Errorf("corner %d at %.2f g bears %.0f N and its gap is %.2f mm", i, p.Lateral/equilibrium.Gravity, p.Load[i], gap*1e3)
			}
		}
	}
	return used, hung
}
