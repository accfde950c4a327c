package linkage

import (
	"math"

	"trunnion/chassis/numeric"
)

// place in the sweep: what is asked and what was found.
type position struct {
	travel [2]float64
	rack   float64
	q      poses
	f      numeric.Factors // of the gradients, at q
}

const (
	closeEnough = 2e-13 // what rows may miss [m]
	newtonMost  = 24
	smallStep   = 1e-6 // continuation gives up below this [m]
	longStep    = 0.02 // and does not try above this [m]
)

// assemble fills the matrix and what is missing.
func (l *Linkage) assemble(q *poses, travel [2]float64, rack float64, f *numeric.Factors, miss *[numeric.MaxUnknowns]float64) (worst float64) {
	f.N = 6 * l.bodies
	for i := range l.rows {
		r := &l.rows[i]
		g := (*gradient)(&f.A[i])
		*g = gradient{}
		m := l.eval(r, q, rack, g)
		if r.drive > 0 {
			m -= travel[r.drive-1]
		}
		miss[i] = m
		worst = math.Max(worst, math.Abs(m))
		if math.IsNaN(m) {
			return math.NaN()
		}
	}
	return worst
}

func (l *Linkage) moved(q *poses, step *[numeric.MaxUnknowns]float64, share float64) poses {
	out := *q
	for b := range l.bodies {
		k := 6 * b
		out[b].p = add(q[b].p, scale(share, vec{X: step[k], Y: step[k+1], Z: step[k+2]}))
		out[b].r = q[b].r.Then(scale(share, vec{X: step[k+3], Y: step[k+4], Z: step[k+5]}))
	}
	return out
}

// newton closes the links from a guess. A step that does not bring the rows
// nearer is halved.
func (l *Linkage) newton(at *position) bool {
	var miss [numeric.MaxUnknowns]float64
	q := at.q
	worst := l.assemble(&q, at.travel, at.rack, &at.f, &miss)
	for range newtonMost {
		if math.IsNaN(worst) || !at.f.Factor() {
			return false
		}
		if worst < closeEnough {
			at.q = q
			return true
		}
		step := miss
		at.f.Solve(&step)
		share := -1.0
		for {
			next := l.moved(&q, &step, share)
			w := l.assemble(&next, at.travel, at.rack, &at.f, &miss)
			if w < worst || w < closeEnough {
				q, worst = next, w
				break
			}
			share /= 2
			if share > -1e-3 {
				return false
			}
		}
	}
	return false
}

// far apart two neighbouring positions may be turned and still be neighbours.
const leap = 0.2 // [rad]

// reach moves from one position to another travel and rack by continuation: the
// tangent is the guess, a step that does not close is halved.
func (l *Linkage) reach(from *position, travel [2]float64, rack float64) (position, error) {
	at := *from
	dist := math.Max(math.Max(math.Abs(travel[0]-at.travel[0]), math.Abs(travel[1]-at.travel[1])), math.Abs(rack-at.rack))
	if dist == 0 {
		return at, nil
	}
	start := *from
	done, step := 0.0, math.Min(1, longStep/dist)
	for done < 1 {
		next := math.Min(1, done+step)
		try := at
		mix := func(a, b float64) float64 { return a + next*(b-a) }
		try.travel = [2]float64{mix(start.travel[0], travel[0]), mix(start.travel[1], travel[1])}
		try.rack = mix(start.rack, rack)
		if next == 1 {
			try.travel, try.rack = travel, rack
		}
		var tangent [numeric.MaxUnknowns]float64
		for i := range l.rows {
			if d := l.rows[i].drive; d > 0 {
				tangent[i] = try.travel[d-1] - at.travel[d-1]
			}
			if l.rows[i].steered {
				tangent[i] = l.rackRate(&l.rows[i], &at.q, at.rack) * (try.rack - at.rack)
			}
		}
		f := at.f
		f.Solve(&tangent)
		try.q = l.moved(&at.q, &tangent, 1)
		guess := try.q
		if l.newton(&try) && l.near(&guess, &try.q) {
			at = try
			done = next
			step = math.Min(2*step, longStep/dist)
			continue
		}
		step /= 2
		if step*dist < smallStep {
			return at, &LockError{Asked: travel, Steer: rack, Reached: at.travel[0], Points: l.held(&at)}
		}
	}
	return at, nil
}

// near reports whether Newton ended where the tangent pointed to, and not on
// another branch of the same lengths.
func (l *Linkage) near(a, b *poses) bool {
	for i := range l.bodies {
		if norm(sub(a[i].p, b[i].p)) > 0.05 {
			return false
		}
		for k := range 3 {
			if norm(sub(a[i].r[k], b[i].r[k])) > leap {
				return false
			}
		}
	}
	return true
}

// rackRate is the rate at which a row's right side moves with the rack.
func (l *Linkage) rackRate(r *row, q *poses, rack float64) float64 {
	d := sub(l.place(&r.a, q), l.far(r, q, rack))
	return d.Y / norm(d)
}

// held names what ends the movement: the links whose force grows beyond
// measure for a finite force at the wheel.
func (l *Linkage) held(at *position) []string {
	var force [numeric.MaxUnknowns]float64
	// Multipliers of a unit change of the drive's row: Jᵀ·λ = e is the force in
	// every link for a force that no spring answers.
	n := 6 * l.bodies
	var e [numeric.MaxUnknowns]float64
	for b := range l.bodies {
		e[6*b+2] = 1
	}
	f := at.f
	f.SolveTransposed(&e)
	force = e
	worst := 0.0
	for i := range n {
		if l.rows[i].drive == 0 {
			worst = math.Max(worst, math.Abs(force[i]))
		}
	}
	var out []string
	seen := map[string]bool{}
	for i := range n {
		r := &l.rows[i]
		if r.drive > 0 || math.Abs(force[i]) < 0.2*worst {
			continue
		}
		for _, p := range r.points {
			if !seen[p] {
				seen[p] = true
				out = append(out, p)
			}
		}
	}
	return out
}

// at finds the position at a travel of each wheel and a rack travel, from the
// position in which the points were measured.
func (l *Linkage) at(travel [2]float64, rack float64) (position, error) {
	p, err := l.reach(&position{q: l.home, f: l.atHome}, [2]float64{}, rack)
	if err != nil {
		return p, err
	}
	return l.reach(&p, travel, rack)
}
