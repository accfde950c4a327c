package dyno

import (
	"fmt"
	"maps"
	"math"
	"slices"
)

// Reduce makes curves of the runs of one damper. A run that cannot be used is left
// out and said; the error is of the whole.
func Reduce(runs []Run, o Options) (Set, error) {
	s := Set{Adjusters: o.Adjusters}
	var good []*Run
	for i := range runs {
		if err := runs[i].check(); err != nil {
			s.LeftOut = append(s.LeftOut, LeftOut{runs[i].From, err, runs[i].Temperature})
			continue
		}
		good = append(good, &runs[i])
	}
	s.Reference = reference(good, o.Reference)
	var points []point
	for _, r := range good {
		switch {
		case r.Slow || r.Gas:
		case len(r.Rows) > 0:
			for _, row := range r.Rows {
				if row.Velocity > 0 {
					points = append(points, point{run: r, speed: row.Velocity, bump: Band{row.Bump, 0}, rebound: Band{row.Rebound, 0}, single: true})
				}
			}
		default:
			points = append(points, atPeak(r))
		}
	}
	if len(points) == 0 {
		return s, ErrNoCurve
	}
	if err := s.static(good, o); err != nil {
		return s, err
	}
	s.take(points)
	if s.Static.FrictionFrom == FoundSlowRun {
		s.refine(good, points)
	}
	if len(s.Curves) == 0 {
		return s, ErrNoCurve
	}
	for _, r := range good {
		if !r.Slow && !r.Gas && len(r.Rows) == 0 {
			s.Loops = append(s.Loops, s.look(r))
		}
	}
	s.lagged(points)
	s.Checks = s.consistency(good, points)
	s.Fade = s.fade(points)
	return s, nil
}

// reference is the temperature that curves are made for: what is asked, else the
// median of the runs.
func reference(runs []*Run, asked float64) float64 {
	if asked > 0 {
		return asked
	}
	var list []float64
	for _, r := range runs {
		if !r.Slow && !r.Gas && !math.IsNaN(r.Temperature) {
			list = append(list, r.Temperature)
		}
	}
	return median(list)
}

// atPeak averages a loop where it is quickest. With a sine the readings stand evenly
// round the peak, so that gas rate and hysteresis cancel in the first order.
func atPeak(r *Run) point {
	up, down := extremes(r.Velocity)
	p := point{run: r}
	var forces [2][]float64
	speed := [2]float64{}
	for i, v := range r.Velocity {
		switch {
		case v > nearPeak*up:
			forces[0], speed[0] = append(forces[0], r.Force[i]), speed[0]+v
		case v < nearPeak*down:
			forces[1], speed[1] = append(forces[1], r.Force[i]), speed[1]-v
		}
	}
	mean := [2]Band{}
	for k := range mean {
		n := len(forces[k])
		sum := 0.0
		for _, f := range forces[k] {
			sum += f
		}
		speed[k] /= float64(n)
		// The scatter is that of neighbours: what the force does over the window is none.
		squares := 0.0
		for i := 1; i < n; i++ {
			d := forces[k][i] - forces[k][i-1]
			squares += d * d
		}
		half := math.Inf(1)
		if n > 1 {
			half = student(n-1) * math.Sqrt(squares/float64(2*(n-1))/float64(n))
		}
		mean[k] = Band{sum / float64(n), half}
	}
	p.speed = 0.5 * (speed[0] + speed[1])
	p.bump, p.rebound = mean[0], mean[1]
	return p
}

// static finds gas and friction in the runs, or takes what was said.
func (s *Set) static(runs []*Run, o Options) error {
	st := &s.Static
	var gas, rate, friction, slowRate, slowGas, slowFriction, gasRun, gasRate []Band
	slowest := map[Setting]*Run{}
	hasRows := false
	for _, r := range runs {
		switch {
		case r.Gas || r.Slow:
			g, k, f, _, spikes, ok := still(r)
			if !ok {
				s.LeftOut = append(s.LeftOut, LeftOut{r.From, ErrEmpty, r.Temperature})
				continue
			}
			st.Spikes += spikes
			if r.Gas {
				gasRun, gasRate = append(gasRun, g), append(gasRate, k)
				continue
			}
			slowGas, slowRate = append(slowGas, g), append(slowRate, k)
			if f.Value != 0 {
				slowFriction = append(slowFriction, f)
			}
		case len(r.Rows) > 0:
			hasRows = true
		default:
			was := slowest[r.Setting]
			if was == nil || peakOf(r) < peakOf(was) {
				slowest[r.Setting] = r
			}
		}
	}
	for _, r := range runs { // in their order, so that the same files give the same to the last digit
		if slowest[r.Setting] != r {
			continue
		}
		if g, k, f, spikes, ok := bare(r); ok {
			gas, rate, friction = append(gas, g), append(rate, k), append(friction, f)
			st.Spikes += spikes
		}
	}
	switch {
	case len(gasRun) > 0:
		st.Gas, st.Rate, st.GasFrom, st.RateKnown = pooled(gasRun), pooled(gasRate), FoundGasRun, true
	case len(slowGas) > 0:
		st.Gas, st.Rate, st.GasFrom, st.RateKnown = pooled(slowGas), pooled(slowRate), FoundSlowRun, true
	case len(gas) > 0:
		st.Gas, st.Rate, st.GasFrom = pooled(gas), pooled(rate), FoundLoops
	default:
		st.GasFrom = FoundNowhere
	}
	switch {
	case len(slowFriction) > 0 && len(friction) == 0:
		st.Friction, st.FrictionFrom = pooled(slowFriction), FoundSlowRun
	case len(friction) > 0:
		st.Friction, st.FrictionFrom = pooled(friction), FoundLoops
	default:
		st.FrictionFrom = FoundNowhere
	}
	said := func(what string, off Off, force *Band, from *Found) error {
		switch off.How {
		case FoundTaken, FoundLeft:
			*force, *from = Band{}, off.How
		case FoundGiven:
			*force, *from = off.Force, FoundGiven
		default:
			if *from == FoundNowhere && hasRows {
				return fmt.Errorf("%s: %w", what, ErrNotSaid)
			}
		}
		return nil
	}
	if len(gas)+len(gasRun)+len(slowGas) == 0 || o.Gas.How == FoundGiven || o.Gas.How == FoundTaken && hasRows {
		if err := said("gas", o.Gas, &st.Gas, &st.GasFrom); err != nil {
			return err
		}
	}
	if len(friction) == 0 || o.Friction.How == FoundGiven || o.Friction.How == FoundLeft {
		if err := said("friction", o.Friction, &st.Friction, &st.FrictionFrom); err != nil {
			return err
		}
	}
	st.Friction.Value = math.Max(st.Friction.Value, 0)
	return nil
}

func peakOf(r *Run) float64 {
	up, down := extremes(r.Velocity)
	return math.Min(up, -down)
}

// take makes a curve of each setting, of the runs near the reference temperature.
func (s *Set) take(points []point) {
	s.Curves = nil
	bySetting := map[Setting][]*point{}
	hot := map[*Run]bool{}
	for i := range points {
		p := &points[i]
		if s.away(p.run) {
			if !hot[p.run] {
				hot[p.run] = true
				s.note(LeftOut{From: p.run.From, Temperature: p.run.Temperature})
			}
			continue
		}
		bySetting[p.run.Setting] = append(bySetting[p.run.Setting], p)
	}
	inOrder := func(a, b Setting) int { return slices.Compare(a[:], b[:]) }
	for _, setting := range slices.SortedFunc(maps.Keys(bySetting), inOrder) {
		list := bySetting[setting]
		slices.SortStableFunc(list, func(a, b *point) int {
			if a.speed < b.speed {
				return -1
			}
			if a.speed > b.speed {
				return 1
			}
			return 0
		})
		c := Curve{Setting: setting, Temperature: s.meanTemperature(list)}
		runs := map[*Run]bool{}
		for _, p := range list {
			runs[p.run] = true
		}
		c.Runs = len(runs)
		var err error
		if c.Bump, err = s.branch(list, Bump); err == nil {
			c.Rebound, err = s.branch(list, Rebound)
		}
		if err != nil {
			s.note(LeftOut{From: list[0].run.From, Err: err, Temperature: c.Temperature})
			continue
		}
		s.Curves = append(s.Curves, c)
	}
}

// note adds a run that was left out, once.
func (s *Set) note(l LeftOut) {
	for _, was := range s.LeftOut {
		if was.From == l.From && (was.Err == nil) == (l.Err == nil) {
			return
		}
	}
	s.LeftOut = append(s.LeftOut, l)
}

func (s *Set) meanTemperature(list []*point) float64 {
	sum, n := 0.0, 0
	for _, p := range list {
		if !math.IsNaN(p.run.Temperature) {
			sum, n = sum+p.run.Temperature, n+1
		}
	}
	return sum / float64(n)
}

// branch averages one stroke over runs of the same speed, in the order of speed.
func (s *Set) branch(list []*point, stroke Stroke) (Branch, error) {
	var speed, force, half []float64
	for from := 0; from < len(list); {
		to := from + 1
		for to < len(list) && list[to].speed <= list[from].speed*(1+sameSpeed) && list[to].run != list[from].run {
			to++
		}
		mean, v, n := []Band{}, 0.0, 0
		for _, p := range list[from:to] {
			b, r := s.damping(p)
			if stroke == Rebound {
				b = r
			}
			if !math.IsNaN(b.Value) {
				mean, v, n = append(mean, b), v+p.speed, n+1
			}
		}
		if n > 0 {
			b := together(mean)
			speed, force, half = append(speed, v/float64(n)), append(force, b.Value), append(half, b.Half)
		}
		from = to
	}
	if len(speed) == 0 {
		return Branch{}, ErrBranch
	}
	return NewBranch(speed, force, half)
}

// together is the mean of repeats. Its band is the mean of theirs, which hold what
// they share, or that of their scatter where it is wider.
func together(list []Band) Band {
	n := float64(len(list))
	sum, half := 0.0, 0.0
	for _, b := range list {
		sum, half = sum+b.Value/n, half+b.Half/n
	}
	if len(list) > 1 {
		squares := 0.0
		for _, b := range list {
			squares += (b.Value - sum) * (b.Value - sum)
		}
		// Two repeats give a poor scatter: their t is 12.7. It is held to 4.3, that of three.
		half = math.Max(half, math.Min(student(len(list)-1), 4.3)*math.Sqrt(squares/(n-1)/n))
	}
	return Band{sum, half}
}

// refine takes off a slow run what its own damping was: the curves were made with it
// in the friction, so they are made again.
func (s *Set) refine(runs []*Run, points []point) {
	for range 20 {
		var gas, friction []Band
		for _, r := range runs {
			if !r.Slow {
				continue
			}
			g, _, f, v, _, ok := still(r)
			i := slices.IndexFunc(s.Curves, func(c Curve) bool { return c.Setting == r.Setting })
			if !ok || f.Value == 0 {
				continue
			}
			if i < 0 {
				i = 0
			}
			if len(s.Curves) == 0 {
				return
			}
			b, _ := s.Curves[i].Bump.At(v)
			e, _ := s.Curves[i].Rebound.At(v)
			both, apart := 0.5*(b.Value+e.Value), 0.5*(b.Value-e.Value)
			gas = append(gas, Band{g.Value - apart, g.Half + 0.5*math.Abs(apart)})
			friction = append(friction, Band{f.Value - both, f.Half + 0.5*math.Abs(both)})
		}
		if len(friction) == 0 {
			return
		}
		was := s.Static.Friction.Value
		if s.Static.GasFrom == FoundSlowRun {
			s.Static.Gas = pooled(gas)
		}
		s.Static.Friction = pooled(friction)
		s.Static.Friction.Value = math.Max(s.Static.Friction.Value, 0)
		s.take(points)
		if math.Abs(s.Static.Friction.Value-was) < 1e-3 {
			return
		}
	}
}

// lagged tells each point how much hysteresis hides of its peak. A force that
// comes an angle φ of a turn late differs by h between slowing and quickening at half
// the peak speed, and is short of its peak by l where the speed is highest:
//
//	φ = h/(2·√3·e)    l = e·φ²/2
//
// e the exponent of force over speed there, v·F'/F. It is added, and the band takes as
// much in again.
//
// Source: derived here, to the second order of φ.
func (s *Set) lagged(points []point) {
	by := map[string]float64{}
	for i := range s.Loops {
		l := &s.Loops[i]
		e := s.exponent(l.Setting, 0.5*l.Speed)
		angle := math.Abs(l.Hysteresis.Value) / (2 * math.Sqrt(3) * e)
		by[l.From] = math.Min(0.5*e*angle*angle, 0.05)
	}
	some := false
	for i := range points {
		if lag := by[points[i].run.From]; lag > 1e-4 {
			points[i].lag, some = lag, true
		}
	}
	if some {
		s.take(points)
	}
}

// exponent is v·F'/F of a setting's mean force, held to 0.2 to 2.
func (s *Set) exponent(setting Setting, speed float64) float64 {
	for i := range s.Curves {
		c := &s.Curves[i]
		if c.Setting != setting {
			continue
		}
		b, _ := c.Bump.At(speed)
		r, _ := c.Rebound.At(speed)
		e := speed * (c.Bump.Slope(speed) + c.Rebound.Slope(speed)) / (b.Value + r.Value)
		return math.Max(0.2, math.Min(e, 2))
	}
	return 1
}
