package drives

import (
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/figure"
	"trunnion/chassis/ride"
	"trunnion/chassis/spread"
	"trunnion/chassis/study"
)

// Cars are the ride engine's car of a build in a load state, and the same under draws of
// the job's inputs; a draw under which it does not rest is left out. The answer is only read.
func Cars(a *study.Answer, build, load string, seed uint64, draws int) (nominal ride.Car, drawn []ride.Car, err error) {
	if !a.Computed() {
		return ride.Car{}, nil, errNotComputed
	}
	b, l, err := a.Find(build, load)
	if err != nil {
		return ride.Car{}, nil, err
	}
	c := &a.Cases[b][l]
	if c.Err != nil {
		return ride.Car{}, nil, c.Err
	}
	nominal = rider(&a.Job, c, b, l, nil)
	table := spread.NewTable(seed^drawnSeed, draws, a.InputsDrawn(), a.Options.Workers)
	for k := range draws {
		d := figure.DrawOf(table.Draw(k))
		sys, err := a.Drawn(d).Build(b)
		if err != nil {
			continue
		}
		sys.Stuck = [4]float64{}
		one := study.Case{System: sys}
		if one.State, err = one.System.Solve(equilibrium.Of(a.Job.Loads[l].Items, d), &c.State); err != nil {
			continue
		}
		drawn = append(drawn, rider(&a.Job, &one, b, l, d))
	}
	return nominal, drawn, nil
}
