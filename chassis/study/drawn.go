package study

import (
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/figure"
)

// InputsDrawn is how many of the job's inputs a draw moves: the dimensions of a draw.
func (a *Answer) InputsDrawn() int { return len(a.ready.banded) }

// Drawn is the job under one draw: the car calibrated anew with the draw's readings.
type Drawn struct {
	s    *setup
	base equilibrium.Baseline
	draw figure.Draw
}

// Drawn puts the job under a draw of its inputs. The answer is only read.
func (a *Answer) Drawn(d figure.Draw) *Drawn {
	return &Drawn{s: a.ready, base: equilibrium.Calibrate(a.ready.fitted, a.ready.hangup, d), draw: d}
}

// Build is one of the job's builds on that car, by its place.
func (n *Drawn) Build(b int) (equilibrium.System, error) {
	return equilibrium.NewSystem(n.s.designs[b], &n.base, n.s.hangup, n.draw)
}
