package change

import (
	"math"

	"trunnion/chassis/car"
	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
)

// shorterStops cut the stop, its curve squeezed in proportion: foam of one kind
// carries the same force at the same share of its length.
func (t *Bench) shorterStops(at site) []*Move {
	s := t.build.Corner[at.corners[0]].Stop
	if s == nil {
		return nil
	}
	var out []*Move
	for n := StopStep; n <= (1-leastStop)*s.Length.Value+1e-9; n += StopStep {
		cut := Cut(s, n)
		m := t.move(at, finding.Stop, "shorter-stop", "stop.length", -n, "m", func(ax *car.BuildCorner) { ax.Stop = cut })
		out = append(out, m.size("stop-length", s.Length.Value, cut.Length.Value, "m").costs(0.15+2*n))
	}
	return out
}

// Cut is a stop that is shorter by so much [m].
func Cut(s *car.StopSpec, n float64) *car.StopSpec {
	cut := *s
	share := (s.Length.Value - n) / s.Length.Value
	cut.Length.Value -= n
	cut.Table = make([]car.Point, len(s.Table))
	for i, p := range s.Table {
		cut.Table[i] = car.Point{X: toStep(p.X*share, 1e-5), F: p.F} // as it is typed, to the hundredth
	}
	return &cut
}

// packers bring the stop in earlier, or later where there is one to take out.
func (t *Bench) packers(at site) []*Move {
	ax := &t.build.Corner[at.corners[0]]
	if ax.Stop == nil {
		return nil
	}
	was := ax.Packer.Value
	var out []*Move
	add := func(code string, to float64) {
		m := t.move(at, finding.Stop, code, "packer", to-was, "m", func(ax *car.BuildCorner) {
			ax.Packer.Value = to
			if !ax.Packer.Known() {
				ax.Packer.Origin = figure.Chosen
			}
		})
		out = append(out, m.size("packer", was, to, "m").costs(0.12+2*math.Abs(to-was)))
	}
	for n := PackerStep; n <= MostPacker+1e-9; n += PackerStep {
		add("packer", was+n)
	}
	for n := PackerStep; n <= was+1e-9; n += PackerStep {
		add("less-packer", was-n)
	}
	return out
}
