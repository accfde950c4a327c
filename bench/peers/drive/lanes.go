package main

import (
	"context"
	"fmt"
	"math"
	"runtime"
	"strings"

	"trunnion/chassis/ride"
)

// laneCars is how many unlike cars are driven: a whole number of the widest lanes.
const laneCars = 16

// fleet are draws of the car: mass, its place, tyres, damping and friction a little different in each.
func fleet(mount float64) ([]*ride.Model, error) {
	var out []*ride.Model
	for k := range laneCars {
		c := estate(mount)
		u := float64(k)/laneCars - 0.5
		c.SprungMass *= 1 + 0.06*u
		c.CGToFront += 0.02 * u
		for i := range c.Corners {
			o := &c.Corners[i]
			damper, stiffer := o.Damper, 1+0.2*(float64((k*5+i*3)%laneCars)/laneCars-0.5)
			o.Damper = func(v float64) float64 { return stiffer * damper(v) }
			o.Friction *= 1 + 0.3*u
			o.Tyre.Rate *= 1 - 0.1*u
			o.Stop.TouchTravel += 0.002 * u
		}
		m, err := ride.Compile(c)
		if err != nil {
			return nil, err
		}
		out = append(out, m)
	}
	return out, nil
}

// laneGoals are the wanted ratios of time, alone over lanes.
var laneGoals = map[ride.Lanes]float64{ride.Four: 3, ride.Eight: 4.5}

// lanes times the same cars on the same roads one after the other and side by side, turn about, everything reported.
func lanes(w *strings.Builder, version string) error {
	if ride.Most() < ride.Eight {
		return fmt.Errorf("this program has no lanes: build it with GOEXPERIMENT=simd for an amd64 processor with AVX2 and FMA")
	}
	cases, err := drives()
	if err != nil {
		return err
	}
	const step = 1e-3
	fmt.Fprintf(w, `# The ride engine in lanes, %s

Written by `+"`make lanes`"+`. Machine: %d cores, %s/%s; Go %s. Microseconds of one core for one car and one second of driving,
by the processor's clock for the process, the quickest of %d turns in one run; the three ways take turns. A core that is shared with
other work gives lanes less than it gives one car alone, because they use more of it.

- %d cars that differ as draws of one car do: mass and its place, damping, friction, tyres, stops. Roads and obstacles are
  those of the peers' table, at 1 ms, everything reported. Four lanes are of 64 bits, eight of 32.
- Difference: the worst over all cars of what that table takes for an error, lanes against the engine alone: weighted
  acceleration, deviation of tyre loads and peak forces by their size, travel extremes by the travel used. The tests hold every figure of a result to 0.1 %%.

`, version, runtime.NumCPU(), runtime.GOOS, runtime.GOARCH, strings.TrimPrefix(runtime.Version(), "go"), repeats, laneCars)
	for _, mount := range []float64{0, mountRate} {
		models, err := fleet(mount)
		if err != nil {
			return err
		}
		title := "Dampers bolted rigidly"
		if mount > 0 {
			title = "Dampers in rubber mounts"
		}
		fmt.Fprintf(w, "## %s\n\n| | alone | four lanes | ratio | difference | eight lanes | ratio | difference |\n| --- | ---: | ---: | ---: | ---: | ---: | ---: | ---: |\n", title)
		mean := map[ride.Lanes]float64{}
		for i := range cases {
			d := &cases[i]
			cost, miss, err := laneTimes(models, d, step)
			if err != nil {
				return fmt.Errorf("%s: %w", d.name, err)
			}
			fmt.Fprintf(w, "| %s | %.0f |", d.name, cost[ride.Alone])
			for _, l := range []ride.Lanes{ride.Four, ride.Eight} {
				ratio := cost[ride.Alone] / cost[l]
				mean[l] += math.Log(ratio) / float64(len(cases))
				fmt.Fprintf(w, " %.0f | %.2f | %.4f %% |", cost[l], ratio, 100*miss[l])
			}
			fmt.Fprintln(w)
		}
		for _, l := range []ride.Lanes{ride.Four, ride.Eight} {
			word, ratio := "missed", math.Exp(mean[l])
			if ratio >= laneGoals[l] {
				word = "met"
			}
			fmt.Fprintf(w, "\n%d lanes: %.2f times in the mean; the goal is %.1f: %s.\n", l, ratio, laneGoals[l], word)
		}
		fmt.Fprintln(w)
	}
	return nil
}

// laneTimes are the costs of one drive by lanes [µs/s], and how far its figures lie from the drive alone [-].
func laneTimes(models []*ride.Model, d *drive, step float64) (cost, miss map[ride.Lanes]float64, err error) {
	left, right := ride.Tracks(&d.profile)
	course, err := ride.NewCourse(left, right, estate(0).Wheelbase, d.speed, d.duration, step)
	if err != nil {
		return nil, nil, err
	}
	runs := make([]ride.Run, len(models))
	for k := range runs {
		runs[k] = ride.Run{Course: course, Duration: d.duration, Settle: d.settle, Step: step}
	}
	ways := []ride.Lanes{ride.Alone, ride.Four, ride.Eight}
	results := map[ride.Lanes][]*ride.Result{}
	cost, miss = map[ride.Lanes]float64{}, map[ride.Lanes]float64{}
	for _, l := range ways {
		cost[l] = math.Inf(1)
		for range models {
			results[l] = append(results[l], new(ride.Result))
		}
	}
	for range repeats {
		for _, l := range ways {
			start := clock()
			for _, err := range ride.SimulateEach(context.Background(), l, models, runs, results[l]) {
				if err != nil {
					return nil, nil, err
				}
			}
			cost[l] = math.Min(cost[l], (clock()-start)/d.duration/float64(len(models))*1e6)
		}
	}
	for _, l := range ways[1:] {
		for k := range models {
			a, b := core(results[l][k]), core(results[ride.Alone][k])
			miss[l] = math.Max(miss[l], a.miss(&b))
		}
	}
	return cost, miss, nil
}

// core takes the core metrics out of a result.
func core(r *ride.Result) (m metrics) {
	for k := range m.floor {
		m.floor[k] = r.Floor[k].Comfort.RMS
	}
	for i := range r.Corners {
		c := &r.Corners[i]
		m.load[i], m.travel[i], m.force[i] = c.LoadDeviation, [2]float64{c.TravelMax, c.TravelMin}, c.ForceMax
	}
	return m
}
