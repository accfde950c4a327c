package clickmap

import (
	"cmp"
	"context"
	"math"
	"slices"

	"trunnion/chassis/drives"
	"trunnion/chassis/dyno"
	"trunnion/chassis/ride"
	"trunnion/chassis/route"
	"trunnion/chassis/study"
)

// Bin is a range of damper speed and how much of the time the damper moves in it.
type Bin struct {
	Speed float64 // middle of the range, bump positive [m/s]
	Share float64 // of the time [-]
}

// BinWidth is the range of a Bin [m/s]: that in which the ride engine counts.
const BinWidth = 0.01

// Reached are the shares of the time at which a road's damper speed is told: half of it
// the damper is slower than the first, all but a twentieth slower than the second.
var Reached = [2]float64{0.5, 0.95}

// One is what one click is worth at a damper speed that a road brings.
type One struct {
	Speed   float64   // without its sign [m/s]
	Worth   [2]Figure // bump, rebound: one click harder than the build's; NaN: none is harder, or faster than measured [N]
	Outside bool      // faster than the damper was measured
}

// velocities drives the map's build over the roads that were seen, as the answer did, and
// counts how fast its dampers move.
func (m *Map) velocities(ctx context.Context, a *study.Answer) error {
	roads, err := route.Roads(&a.Job, nil)
	if err != nil || len(m.Seen) == 0 {
		return err
	}
	opt := drives.OptionsOf(a)
	var laid route.Laid
	for i := range roads {
		c := &roads[i]
		load := a.Job.Loads[c.Load].ID
		if !slices.ContainsFunc(m.Seen, func(s Seen) bool { return s.Road == c.Name && s.Speed == c.Speed && s.Load == load }) {
			continue
		}
		as, _, err := drives.Cars(a, m.Build.ID, load, 0, 0)
		if err != nil {
			return err
		}
		model, err := ride.Compile(as)
		if err != nil {
			return err
		}
		step := model.StepFor(false)
		var shares [4]map[int]float64
		for k := range shares {
			shares[k] = map[int]float64{}
		}
		for sample := range opt.Samples {
			p, err := laid.Sample(c, sample, opt.Seed, c.Speed*opt.Duration+as.Wheelbase+10)
			if err != nil {
				return err
			}
			course, err := route.Course(p, as.Wheelbase, c.Speed, opt.Duration, step)
			if err != nil {
				return err
			}
			var result ride.Result
			if err := model.Simulate(ctx, ride.Run{Course: course, Duration: opt.Duration, Settle: opt.Settle, Step: step}, &result); err != nil {
				return err
			}
			for k := range shares {
				for v, share := range result.Corners[k].Speeds {
					shares[k][int(math.Floor(v/BinWidth))] += share / float64(opt.Samples)
				}
			}
		}
		for k := range m.Seen {
			if s := &m.Seen[k]; s.Road == c.Name && s.Speed == c.Speed && s.Load == load {
				s.count(shares[s.Corner])
				if err := m.worth(s); err != nil {
					return err
				}
			}
		}
	}
	return nil
}

// count puts shares of the time by range into a road.
func (s *Seen) count(shares map[int]float64) {
	var most int
	size := map[int]float64{} // without the sign
	for n, share := range shares {
		s.Bins = append(s.Bins, Bin{(float64(n) + 0.5) * BinWidth, share})
		if n < 0 {
			n = -1 - n
		}
		size[n] += share
		most = max(most, n)
	}
	slices.SortFunc(s.Bins, func(a, b Bin) int { return cmp.Compare(a.Speed, b.Speed) })
	for k, want := range Reached {
		below := 0.0
		for n := 0; n <= most; n++ {
			if below+size[n] >= want {
				s.Ones[k].Speed = BinWidth * (float64(n) + (want-below)/size[n])
				break
			}
			below += size[n]
		}
	}
}

// worth is what one click harder than the build's gives at the speeds of a road.
func (m *Map) worth(s *Seen) error {
	w := m.Wheel(s.Corner)
	hard, _ := w.Surface.Range(0)
	for k := range s.Ones {
		one := &s.Ones[k]
		for i := range one.Worth {
			one.Worth[i] = Figure{math.NaN(), math.NaN(), math.NaN()}
		}
		if w.Now <= hard {
			continue
		}
		now, err := w.Curve(w.Now)
		if err != nil {
			return err
		}
		harder, err := w.Curve(w.Now - 1)
		if err != nil {
			return err
		}
		for i, stroke := range dyno.Strokes {
			f, past := now.Of(stroke).At(one.Speed)
			g, beyond := harder.Of(stroke).At(one.Speed)
			if past || beyond {
				one.Outside = true
				continue
			}
			d, half := g.Value-f.Value, math.Hypot(f.Half, g.Half)
			one.Worth[i] = Figure{d, d - half, d + half}
		}
	}
	return nil
}
