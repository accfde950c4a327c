package intake

import (
	"fmt"
	"math"
	"slices"

	"trunnion/chassis/dyno"
	"trunnion/shop/quantity"
)

// runs are a piece with bump positive throughout.
func (s *sorter) runs(p *piece, compression float64, roles []string) []dyno.Run {
	r := dyno.Run{Temperature: p.temp, Frequency: s.frequency(p), From: fmt.Sprintf("%s, line %d", p.file, p.line)}
	for k, role := range roles {
		n, ok := p.click[role]
		switch {
		case !ok && p.shape != "gas" && !s.slow(p):
			s.fault(p.block, p.line, "does not say at which click", "a line such as Click; 4 above the table, or the click in the file's name")
			return nil
		case s.counted == "open" && ok:
			n = s.clicksOf(role, k) - n
		}
		r.Setting[k] = n
	}
	switch p.shape {
	case "table":
		return s.table(p, r)
	case "signed":
		return s.signed(p, r, compression)
	case "gas":
		return s.gas(p, r, compression)
	}
	return s.loop(p, r, compression)
}

func (s *sorter) clicksOf(role string, k int) (total int) {
	for _, p := range s.pieces {
		total = max(total, p.about.clicks[role])
	}
	if k < len(s.mapping.Clicks) {
		total = s.mapping.Clicks[k]
	}
	return total
}

// table takes bump and rebound by the way each goes with speed: damping grows with it in
// either stroke, so that a rebound that falls is written negative, whatever gas stands
// in it.
func (s *sorter) table(p *piece, r dyno.Run) []dyno.Run {
	v, bump, rebound := p.values[roleVelocity], p.values[roleBump], p.values[roleRebound]
	sign := func(list []float64, want float64) float64 {
		lo, hi := -1, -1
		for i := range v {
			if math.IsNaN(v[i]) || math.IsNaN(list[i]) {
				continue
			}
			if lo < 0 || math.Abs(v[i]) < math.Abs(v[lo]) {
				lo = i
			}
			if hi < 0 || math.Abs(v[i]) > math.Abs(v[hi]) {
				hi = i
			}
		}
		if hi < 0 {
			return want
		}
		grows := list[hi] - list[lo]
		if grows == 0 {
			grows = list[hi]
		}
		return want * math.Copysign(1, grows)
	}
	b, e := sign(bump, 1), sign(rebound, -1)
	for i := range v {
		if math.IsNaN(v[i]) {
			s.fault(p.block, p.lines[min(i, len(p.lines)-1)], "velocity is empty", "a velocity in each row")
			continue
		}
		r.Rows = append(r.Rows, dyno.Row{Velocity: math.Abs(v[i]), Bump: b * bump[i], Rebound: e * rebound[i]})
	}
	slices.SortStableFunc(r.Rows, func(a, b dyno.Row) int {
		switch {
		case a.Velocity < b.Velocity:
			return -1
		case a.Velocity > b.Velocity:
			return 1
		}
		return 0
	})
	s.assume(SweepAssumption{"rebound-sign", "", map[bool]string{true: "positive", false: "negative"}[e < 0], p.file, p.line})
	return []dyno.Run{r}
}

// signed takes a list of velocity and force with their signs, or forces of both signs
// over velocities without.
func (s *sorter) signed(p *piece, r dyno.Run, compression float64) []dyno.Run {
	v, f := p.values[roleVelocity], p.values[roleForce]
	against, both := 0.0, around(v)
	for i := range v {
		if math.IsNaN(v[i]) || math.IsNaN(f[i]) {
			s.fault(p.block, p.lines[min(i, len(p.lines)-1)], "a cell is empty", "velocity and force in each row")
			return nil
		}
		against += v[i] * f[i]
	}
	if both {
		s.energy(p, against)
	}
	some := [2]bool{}
	for i := range v {
		force, speed := compression*f[i], math.Abs(v[i])
		bumping := force >= 0
		if both {
			bumping = v[i]*math.Copysign(1, against)*compression >= 0
		}
		row := dyno.Row{Velocity: speed, Bump: force, Rebound: math.NaN()}
		some[0] = some[0] || bumping
		if !bumping {
			row.Bump, row.Rebound = math.NaN(), force
			some[1] = true
		}
		r.Rows = append(r.Rows, row)
	}
	if !some[0] || !some[1] {
		s.fault(p.block, p.line, "shows one stroke only: every force has the same sign", "both strokes, or the sign of each force")
		return nil
	}
	return []dyno.Run{mergedRows(r)}
}

// mergedRows puts both strokes of the same speed into one row, in the order of speed.
func mergedRows(r dyno.Run) dyno.Run {
	slices.SortStableFunc(r.Rows, func(a, b dyno.Row) int {
		switch {
		case a.Velocity < b.Velocity:
			return -1
		case a.Velocity > b.Velocity:
			return 1
		}
		return 0
	})
	out := r.Rows[:0]
	for _, row := range r.Rows {
		if k := len(out) - 1; k >= 0 && out[k].Velocity == row.Velocity {
			if math.IsNaN(out[k].Bump) && !math.IsNaN(row.Bump) {
				out[k].Bump = row.Bump
				continue
			}
			if math.IsNaN(out[k].Rebound) && !math.IsNaN(row.Rebound) {
				out[k].Rebound = row.Rebound
				continue
			}
		}
		out = append(out, row)
	}
	r.Rows = out
	return r
}

// energy notes that a velocity was turned round so that the damper takes energy.
func (s *sorter) energy(p *piece, against float64) {
	if against < 0 {
		s.assume(SweepAssumption{Code: "velocity-turned", File: p.file, Line: p.line})
	}
}

// gas takes a static run; gas pushes more the further the rod is in.
func (s *sorter) gas(p *piece, r dyno.Run, compression float64) []dyno.Run {
	x, f := p.values[rolePosition], p.values[roleForce]
	turn := 1.0
	if slope(x, f)*compression < 0 {
		turn = -1
		s.assume(SweepAssumption{Code: "position-turned", File: p.file, Line: p.line})
	}
	r.Gas = true
	for i := range x {
		r.Position, r.Force = append(r.Position, turn*x[i]), append(r.Force, compression*f[i])
	}
	return []dyno.Run{r}
}

func slope(x, y []float64) float64 {
	n := float64(len(x))
	var sx, sy, sxy float64
	for i := range x {
		sx, sy, sxy = sx+x[i], sy+y[i], sxy+x[i]*y[i]
	}
	return sxy - sx*sy/n
}

// loop takes the signs of velocity and position from physics: a damper takes energy, and
// velocity is how fast position changes.
func (s *sorter) loop(p *piece, r dyno.Run, compression float64) []dyno.Run {
	x, v, f := p.values[rolePosition], p.values[roleVelocity], p.values[roleForce]
	power, same, mean := 0.0, 0.0, 0.0
	for _, one := range f {
		mean += one / float64(len(f))
	}
	for i := range v {
		power += (f[i] - mean) * v[i]
		if i > 0 {
			same += (x[i] - x[i-1]) * (v[i] + v[i-1])
		}
	}
	turnV := math.Copysign(1, power) * compression
	if power < 0 {
		s.assume(SweepAssumption{Code: "velocity-turned", File: p.file, Line: p.line})
	}
	turnX := math.Copysign(1, same) * turnV
	if same < 0 {
		s.assume(SweepAssumption{Code: "position-turned", File: p.file, Line: p.line})
	}
	r.Slow = s.slow(p)
	n := len(f)
	r.Position, r.Velocity, r.Force = make([]float64, n), make([]float64, n), make([]float64, n)
	for i := range f {
		r.Position[i], r.Velocity[i], r.Force[i] = turnX*x[i], turnV*v[i], compression*f[i]
	}
	if t := p.values[roleTime]; len(t) == n && rises(t) {
		r.Time = t
	}
	return []dyno.Run{r}
}

func rises(t []float64) bool {
	for i := 1; i < len(t); i++ {
		if !(t[i] > t[i-1]) {
			return false
		}
	}
	return true
}

// gasColumn gives a table's own column of gas to the curves where nothing else says
// how much it is.
func (s *sorter) gasColumn(d *SweptDamper) {
	if d.Options.Gas.How != "" {
		return
	}
	for _, r := range d.Runs {
		if r.Gas || r.Slow || len(r.Rows) == 0 {
			return
		}
	}
	var list []float64
	for _, p := range s.pieces {
		if p.about.damper != d.Name {
			continue
		}
		for _, g := range p.values[roleGas] {
			if !math.IsNaN(g) {
				list = append(list, math.Abs(g))
			}
		}
		if g, ok := quantityOf(p.about.gas, quantity.Force); ok {
			list = append(list, math.Abs(g))
		}
	}
	if len(list) == 0 {
		return
	}
	lo, hi, sum := slices.Min(list), slices.Max(list), 0.0
	for _, g := range list {
		sum += g / float64(len(list))
	}
	d.Options.Gas = dyno.Off{How: dyno.FoundGiven, Force: dyno.Band{Value: sum, Half: math.Max(0.5*(hi-lo), 0.05*sum)}}
	s.assume(SweepAssumption{"gas-column", "", plain(sum) + " N", d.Name, 0})
}
