package drives

import (
	"context"
	"errors"
	"fmt"
	"math"

	"trunnion/chassis/car"
	"trunnion/chassis/figure"
	"trunnion/chassis/ride"
	"trunnion/chassis/route"
	"trunnion/chassis/screening"
	"trunnion/chassis/spread"
	"trunnion/chassis/study"
)

// screen estimates from the spectrum what was not driven in time.
func (r *riding) screen(ctx context.Context) error {
	driven := make(map[string]bool)
	if !r.opt.EventsOnly {
		for _, c := range r.roads {
			driven[fmt.Sprint(c.Name, c.Speed, c.Load)] = true
		}
	}
	type estimate struct {
		place figure.Place
		model *ride.Model
		grid  *screening.Grid
		rest  [4]float64 // wheel travel [m]
	}
	var list []estimate
	seen := make(map[string]bool)
	for _, c := range r.roads {
		if k := fmt.Sprint(c.Name, c.Speed); seen[k] || c.Measured != nil {
			continue
		} else {
			seen[k] = true
		}
		grid, err := Grid(r.a.Job.Car, &c)
		if err != nil {
			continue
		}
		for b := range r.a.Job.Builds {
			for l := range r.a.Job.Loads {
				if r.opt.ScreenIn != "" && r.a.Job.Loads[l].ID != r.opt.ScreenIn && l != c.Load || r.keepsDrives(b) {
					continue
				}
				if m := r.models[[2]int{b, l}]; m != nil && !driven[fmt.Sprint(c.Name, c.Speed, l)] {
					p := roadPlace(&r.a.Job, b, l)
					p.Road, p.Speed = c.Name, c.Speed
					list = append(list, estimate{p, m, grid, m.Rest().Travel})
				}
			}
		}
	}
	parts := make([]study.Answer, len(list))
	err := spread.Each(ctx, len(list), r.a.Options.Workers, func(_, k int) {
		own := *r
		own.out = &parts[k]
		own.reportScreened(list[k].place, list[k].model, list[k].grid, list[k].rest)
	})
	for k := range parts {
		r.out.Values, r.out.Curves = append(r.out.Values, parts[k].Values...), append(r.out.Curves, parts[k].Curves...)
	}
	return err
}

// Grid is a road of the brief as a car meets it, for the spectrum.
func Grid(c *car.Car, over *route.Road) (*screening.Grid, error) {
	return screening.NewGrid(screening.Road{
		Spectrum: over.Spectrum, Speed: over.Speed, Wheelbase: c.Wheelbase.Value,
		Track: 0.5 * (c.Track[0].Value + c.Track[1].Value), Contact: route.ContactLength,
	})
}

// Model is the ride engine's car of a nominal rest of a build in a load state, by its
// place in the job.
func Model(job *study.Job, c *study.Case, build *car.Build, load int) (*ride.Model, error) {
	one := *job
	one.Builds = []*car.Build{build}
	return ride.Compile(rider(&one, c, 0, load, nil))
}

func (r *riding) reportScreened(p figure.Place, m *ride.Model, grid *screening.Grid, rest [4]float64) {
	x, err := screening.Solve(m, grid)
	if err != nil {
		r.add("floor-acceleration", p, figure.Screening, nil, nil, figure.Unknown, withheld(err))
		return
	}
	one := func(v float64) []float64 { return []float64{v} }
	for k := range x.Floor {
		q := p
		q.At = x.Floor[k].Name
		r.add("floor-acceleration", q, figure.Screening, one(x.Floor[k].Weighted), nil, figure.OK, "")
	}
	for i := range 4 {
		q := p
		q.Corner = i
		r.add("tyre-load-variation", q, figure.Screening, one(x.Corners[i].LoadVariation), nil, figure.OK, "")
		r.add("damper-power", q, figure.Screening, one(x.Corners[i].Power), nil, figure.OK, "")
		r.add("mean-sink", q, figure.Screening, one(x.Corners[i].TravelMean), nil, figure.OK, "")
		r.normalTravel(p, i, &x.Corners[i], rest[i])
	}
}

// normalTravel keeps how a wheel's travel is spread over a road that was
// screened: normal, as the estimate takes it to be.
func (r *riding) normalTravel(p figure.Place, i int, x *screening.Corner, rest float64) {
	if !(x.Travel > 0) {
		return
	}
	c := study.Curve{
		Code: "travel-distribution", Build: p.Build, Load: p.Load, Corner: i, Road: p.Road, Speed: p.Speed,
		XName: "share of time below", YName: "wheel travel", XUnit: "1", YUnit: "m",
	}
	for z := -3.0; z <= 3; z += 0.25 {
		c.X, c.Y = append(c.X, 0.5*math.Erfc(-z/math.Sqrt2)), append(c.Y, rest+x.TravelMean+z*x.Travel)
	}
	r.out.Curves = append(r.out.Curves, c)
}

// withheld says in a word why the spectrum gives no answer.
func withheld(err error) string {
	var w *screening.WithheldError
	if !errors.As(err, &w) || len(w.Reasons) == 0 {
		return "the spectrum gives no answer here"
	}
	switch w.Reasons[0].Cause {
	case screening.StopShare, screening.Contact:
		return "withheld: the stop takes part too much for a spectrum; drive it in time"
	case screening.Lift:
		return "withheld: a tyre leaves the ground too often for a spectrum; drive it in time"
	case screening.Stuck:
		return "withheld: friction holds the damper most of the time"
	case screening.NotConverged, screening.NotFinite:
	}
	return "withheld: the estimate does not settle"
}
