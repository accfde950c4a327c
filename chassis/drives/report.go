package drives

import (
	"fmt"
	"math"

	"trunnion/chassis/figure"
	"trunnion/chassis/ride"
	"trunnion/chassis/study"
)

// add puts one value with its working into the answer.
func (r *riding) add(code string, p figure.Place, tier figure.Tier, samples []float64, notes []string, state figure.State, reason string) {
	v := figure.Value{Code: code, Place: p, Tier: tier, State: state, Reason: reason, Warnings: notes}
	if v.Place.At == "" {
		e := figure.Must(code)
		v.Place.At = e.At
	}
	if state == figure.Unknown {
		v.Value = math.NaN()
		r.out.Values = append(r.out.Values, v)
		return
	}
	mean, half, ok := studentHalf(samples)
	v.Value = mean
	if ok {
		v.Low, v.High, v.HasBand, v.BandOf = mean-half, mean+half, true, figure.OfRuns
		if mean >= 0 && v.Low < 0 {
			v.Low = 0
		}
	}
	if !r.a.Options.NoWorkings && !r.bare {
		v.Working = r.a.RunsWorking(&v, samples)
	}
	r.out.Values = append(r.out.Values, v)
}

// unless is how a figure stands: unknown, for what is missing, where nobody knows what it is of.
func unless(known bool, missing string, state figure.State, reason string) (figure.State, string) {
	if !known {
		return figure.Unknown, missing
	}
	return state, reason
}

// roadQuantities are what a road run says about a corner.
var roadQuantities = []struct {
	code string
	of   func(c *ride.CornerResult) float64
}{
	{"tyre-load-variation", func(c *ride.CornerResult) float64 { return c.LoadVariation }},
	{"tyre-light-share", func(c *ride.CornerResult) float64 { return c.LowLoad }},
	{"stop-force-peak", func(c *ride.CornerResult) float64 { return c.StopPeak }},
	{"stop-time-share", func(c *ride.CornerResult) float64 { return c.StopTime }},
	{"travel-peak-bump", func(c *ride.CornerResult) float64 { return c.TravelMax }},
	{"travel-peak-droop", func(c *ride.CornerResult) float64 { return c.TravelMin }},
	{"damper-power", func(c *ride.CornerResult) float64 { return c.Power }},
	{"mean-sink", func(c *ride.CornerResult) float64 { return c.TravelMean }},
}

// reportRoad turns the samples of one road and build into values.
func (r *riding) reportRoad(c, b int, results [][]ride.Result, errs [][]error) {
	load := r.roads[c].Load
	r.reportSamples(c, b, &r.a.Cases[b][load], r.models[[2]int{b, load}], results, errs)
}

// reportSamples does so for a case, nominal or drawn, and its model.
func (r *riding) reportSamples(c, b int, cs *study.Case, m *ride.Model, results [][]ride.Result, errs [][]error) {
	rc := &r.roads[c]
	p := roadPlace(&r.a.Job, b, rc.Load)
	p.Road, p.Speed = rc.Name, rc.Speed
	for k := range results {
		if err := errs[k][b]; err != nil {
			r.out.Failures = append(r.out.Failures, study.Failure{Build: p.Build, Load: p.Load, Err: fmt.Errorf("%s: %w", rc.Name, err)})
			r.add("floor-acceleration", p, figure.Time, nil, nil, figure.Unknown, "the run did not come to its end")
			return
		}
	}
	of := func(get func(*ride.Result) float64) []float64 {
		out := make([]float64, len(results))
		for k := range results {
			out[k] = get(&results[k][b])
		}
		return out
	}
	notes := runNotes(of)
	for k, f := range results[0][b].Floor {
		q := p
		q.At = f.Name
		r.add("floor-acceleration", q, figure.Time, of(func(x *ride.Result) float64 { return x.Floor[k].Comfort.RMS }), notes, figure.OK, "")
		r.add("vibration-dose", q, figure.Time, of(func(x *ride.Result) float64 { return x.Floor[k].Comfort.VDV }), notes, figure.OK, "")
	}
	for i := range 4 {
		q := p
		q.Corner = i
		state, reason := figure.OK, ""
		for _, x := range of(func(x *ride.Result) float64 { return x.Corners[i].Outside }) {
			if x > 0 {
				state, reason = figure.Outside, "the stop was driven past the end of its table"
			}
		}
		known := cs.System.Corner[i].EndKnown()
		for _, quantity := range roadQuantities {
			s, why := figure.OK, ""
			if quantity.code == "stop-force-peak" || quantity.code == "travel-peak-bump" {
				s, why = state, reason
			}
			if quantity.code == "stop-force-peak" || quantity.code == "stop-time-share" {
				s, why = unless(known, study.NoEnd, s, why)
			}
			r.add(quantity.code, q, figure.Time, of(func(x *ride.Result) float64 { return quantity.of(&x.Corners[i]) }), notes, s, why)
		}
		for h := range results[0][b].Corners[i].StopHits {
			q.Threshold = results[0][b].Corners[i].StopHits[h].Force
			s, why := unless(known, study.NoEnd, figure.OK, "")
			r.add("stop-hits", q, figure.Time, of(func(x *ride.Result) float64 { return x.Corners[i].StopHits[h].PerMetre }), notes, s, why)
		}
		for k := range results[0][b].Corners[i].DamperShares {
			sq := withoutForce(q)
			sq.Mode = speedRange(k, len(results[0][b].Corners[i].DamperShares))
			r.add("damper-speed-share", sq, figure.Time, of(func(x *ride.Result) float64 { return x.Corners[i].DamperShares[k] }), notes, figure.OK, "")
		}
		r.add("damper-travel-used", withoutForce(q), figure.Time, of(func(x *ride.Result) float64 {
			return used(cs, m, i, x.Corners[i].TravelMax)
		}), notes, state, reason)
		r.distribution(p, i, &results[0][b])
	}
}

// damperBounds are the damper speeds between low, mid and high. No standard
// fixes them: common practice, no source. [m/s]
var damperBounds = []float64{0.05, 0.15}

// speedRange names one of the ranges between the bounds.
func speedRange(k, n int) string {
	switch {
	case k == 0:
		return "low"
	case k == n-1:
		return "high"
	}
	return "mid"
}

// withoutForce is a place without a threshold.
func withoutForce(p figure.Place) figure.Place {
	p.Threshold = 0
	return p
}

// used is the damper travel to a wheel travel from where the drive starts.
func used(c *study.Case, driven *ride.Model, i int, deepest float64) float64 {
	m := &c.System.Corner[i]
	top, _, _ := m.DamperTravel.At(deepest)
	rest, _, _ := m.DamperTravel.At(driven.Rest().Travel[i])
	return top - rest
}

// runNotes are the doubts of the runs behind a value.
func runNotes(of func(func(*ride.Result) float64) []float64) []string {
	worst := 0.0
	for _, x := range of(func(x *ride.Result) float64 { return x.Check.Worst() }) {
		worst = math.Max(worst, x)
	}
	if worst > 0.02 {
		return []string{"step-not-settled"}
	}
	return nil
}

// distribution keeps how a wheel's travel is spread over a road, for the
// travel strips: travel over the share of the time below it.
func (r *riding) distribution(p figure.Place, i int, x *ride.Result) {
	c := study.Curve{
		Code: "travel-distribution", Build: p.Build, Load: p.Load, Corner: i, Road: p.Road, Speed: p.Speed,
		XName: "share of time below", YName: "wheel travel", XUnit: "1", YUnit: "m",
	}
	for _, share := range []float64{0.001, 0.01, 0.05, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 0.95, 0.99, 0.999} {
		c.X, c.Y = append(c.X, share), append(c.Y, x.Corners[i].TravelAt(share))
	}
	r.out.Curves = append(r.out.Curves, c)
}

// reportEvent turns one obstacle and build into values.
func (r *riding) reportEvent(e, b int, cs *study.Case, m *ride.Model, x *ride.Result, err error) {
	ec := &r.events[e]
	p := roadPlace(&r.a.Job, b, ec.Load)
	p.Event, p.Speed = ec.Name, ec.Speed
	if err != nil {
		r.out.Failures = append(r.out.Failures, study.Failure{Build: p.Build, Load: p.Load, Err: fmt.Errorf("%s: %w", ec.Name, err)})
		r.add("body-acceleration-peak", p, figure.Time, nil, nil, figure.Unknown, "the run did not come to its end")
		return
	}
	notes := runNotes(func(get func(*ride.Result) float64) []float64 { return []float64{get(x)} })
	one := func(v float64) []float64 { return []float64{v} }
	r.add("body-acceleration-peak", p, figure.Time, one(x.Event.Acceleration), notes, figure.OK, "")
	for axle, name := range [2]string{"front", "rear"} {
		q := p
		q.Mode = name
		d := &x.Event.Decay[axle]
		if !d.Excited {
			const hardly = "this obstacle hardly moves the body over that axle"
			r.add("settling-time", q, figure.Time, nil, notes, figure.Unknown, hardly)
			r.add("bounce-left", q, figure.Time, nil, notes, figure.Unknown, hardly)
			continue
		}
		if d.Settling < 0 {
			r.add("settling-time", q, figure.Time, nil, notes, figure.Unknown, "the body had not settled at the end of the run")
		} else {
			r.add("settling-time", q, figure.Time, one(d.Settling), notes, figure.OK, "")
		}
		r.add("bounce-left", q, figure.Time, one(d.Second), notes, figure.OK, "")
	}
	r.reportFlight(p, x, notes)
	for i := range 4 {
		q := p
		q.Corner = i
		c := &x.Corners[i]
		state, reason := stopState(c)
		s, why := unless(cs.System.Corner[i].EndKnown(), study.NoEnd, state, reason)
		r.add("stop-force-peak", q, figure.Time, one(c.StopPeak), notes, s, why)
		r.add("travel-peak-bump", q, figure.Time, one(c.TravelMax), notes, state, reason)
		r.add("travel-peak-droop", q, figure.Time, one(c.TravelMin), notes, figure.OK, "")
		r.add("damper-travel-used", q, figure.Time, one(used(cs, m, i, c.TravelMax)), notes, state, reason)
		r.add("tyre-light-share", q, figure.Time, one(c.LowLoad), notes, figure.OK, "")
		s, why = unless(cs.System.Corner[i].HasDamper, study.NoLengths, figure.OK, "")
		r.add("top-out-speed", q, figure.Time, one(c.TopOutSpeed), notes, s, why)
	}
}

// reportFlight turns what left the ground into values; how high and how hard it
// lands only where it flew.
func (r *riding) reportFlight(p figure.Place, x *ride.Result, notes []string) {
	add := func(code string, p figure.Place, v float64, state figure.State, reason string) {
		r.add(code, p, figure.Time, []float64{v}, notes, state, reason)
	}
	f := &x.Event.Flight
	add("flight-time", p, f.Time, figure.OK, "")
	if f.Time > 0 {
		add("flight-height", p, f.Height, figure.OK, "")
	}
	for i := range 4 {
		p.Corner = i
		add("wheel-off-time", p, f.Off[i], figure.OK, "")
		if f.Time > 0 {
			state, reason := stopState(&x.Corners[i])
			add("landing-load", p, f.Load[i], state, reason)
			add("landing-stop-force", p, f.Stop[i], state, reason)
		}
	}
}

// stopState says whether a stop stayed within its table.
func stopState(c *ride.CornerResult) (figure.State, string) {
	if c.Outside > 0 {
		return figure.Outside, "the stop was driven past the end of its table"
	}
	return figure.OK, ""
}

// studentHalf returns the half-width of the 95 % band of a mean from a few
// values. Quantiles of Student's t for 1 to 7 degrees of freedom: Abramowitz &
// Stegun, table 26.10.
func studentHalf(values []float64) (mean, half float64, ok bool) {
	n := float64(len(values))
	for _, v := range values {
		mean += v / n
	}
	wide, ok := studentWide(values)
	return mean, wide / math.Sqrt(n), ok
}

// studentWide returns the half-width of the band that holds 95 % of what a few values
// are drawn from, by Student's t for their deviation.
func studentWide(values []float64) (half float64, ok bool) {
	n := float64(len(values))
	t := [...]float64{0, 12.706, 4.303, 3.182, 2.776, 2.571, 2.447, 2.365}
	if len(values) < 3 || len(values) > len(t) {
		return math.NaN(), false
	}
	mean, ss := 0.0, 0.0
	for _, v := range values {
		mean += v / n
	}
	for _, v := range values {
		ss += (v - mean) * (v - mean)
	}
	return t[len(values)-1] * math.Sqrt(ss/(n-1)), true
}

// roadPlace is the place of a ride value.
func roadPlace(job *study.Job, build, load int) figure.Place {
	return figure.Place{Build: job.Builds[build].ID, Load: job.Loads[load].ID, Corner: figure.NoCorner}
}
