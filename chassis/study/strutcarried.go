package study

import (
	"math"

	"trunnion/chassis/equilibrium"
	"trunnion/chassis/strut"
)

// StrutCarried returns what a strut of a build carries at a wheel travel [m],
// standing in a load state: the road pushes up with what spring, gas, stop and
// bushes push down with there and with what the wheel weighs, and with nothing
// else. rest is where the wheel stands [m].
func (a *Answer) StrutCarried(build, load string, axle int) (carried func(travel float64) strut.Load, rest float64, err error) {
	b, l, err := a.caseOf(build, load)
	if err != nil {
		return nil, math.NaN(), err
	}
	k, i := &a.Cases[b][l], 2*axle
	s := &strutLoads{k: k, i: i, weight: k.State.Load[i]}
	weight := k.System.Unsprung[i] * equilibrium.Gravity
	return func(w float64) strut.Load {
		force, _ := k.System.Corner[i].Force(w)
		return s.load(w, 0, 0, math.Max(0, force)+weight)
	}, k.State.Travel[i], nil
}
