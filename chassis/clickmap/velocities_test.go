package clickmap_test

import (
	"math"
	"testing"

	"trunnion/chassis/drives"
	"trunnion/chassis/dyno"
	"trunnion/chassis/ride"
)

// The damper speeds counted here are those of the study's own drive: as much of the time
// below 50 and above 150 mm/s. What a click is worth at them is the difference of the two
// curves, written down here from the job's table.
func TestSpeedsSeenAreTheStudys(t *testing.T) {
	a, m := mapped(t, nil, [2]int{7, 7})
	opt := drives.Defaults()
	opt.Samples, opt.Unchecked, opt.Draws, opt.Mounts, opt.Lanes = 1, true, 0, false, ride.Four
	if err := drives.Ride(t.Context(), a, opt, nil); err != nil {
		t.Fatal(err)
	}
	if err := m.See(t.Context(), a); err != nil {
		t.Fatal(err)
	}
	if len(m.Seen) < 4 {
		t.Fatalf("%d roads were seen", len(m.Seen))
	}
	for i := range m.Seen {
		s := &m.Seen[i]
		var all, slow, fast float64
		for _, b := range s.Bins {
			all += b.Share
			switch v := math.Abs(b.Speed); {
			case v < 0.05:
				slow += b.Share
			case v > 0.15:
				fast += b.Share
			}
		}
		if math.Abs(all-1) > 1e-9 || math.Abs(slow-s.Slow) > 2e-3 || math.Abs(fast-s.Fast) > 2e-3 {
			t.Errorf("%s at %.1f m/s: %.4f in all, %.4f slow and %.4f fast; the study has %.4f and %.4f", s.Road, s.Speed, all, slow, fast, s.Slow, s.Fast)
		}
		if half, most := s.Ones[0].Speed, s.Ones[1].Speed; !(half > 0 && most > half) {
			t.Errorf("%s: half of the time below %g m/s, 95 %% below %g", s.Road, half, most)
		}
		w := m.Wheel(s.Corner)
		for k := range s.Ones {
			one := &s.Ones[k]
			for n, stroke := range dyno.Strokes {
				var force [2]float64
				for j, click := range []int{w.Now, w.Now - 1} {
					c, err := w.Curve(click)
					if err != nil {
						t.Fatal(err)
					}
					b := c.Of(stroke)
					x := append([]float64{0}, b.Speed...)
					y := append([]float64{0}, b.Force...)
					for p := 1; p < len(x); p++ {
						if one.Speed <= x[p] {
							force[j] = y[p-1] + (y[p]-y[p-1])*(one.Speed-x[p-1])/(x[p]-x[p-1])
							break
						}
					}
				}
				// Straight lines between the readings against the curve through them.
				if got, want := one.Worth[n].Value, force[1]-force[0]; math.Abs(got-want) > 0.15*want {
					t.Errorf("%s at %.3f m/s in %s: a click is worth %.1f N, by hand %.1f", s.Road, one.Speed, stroke, got, want)
				}
			}
		}
	}
}
