package ride

import (
	"context"
	"fmt"
	"math"
	"slices"

	"trunnion/chassis/comfort"
)

// check returns the faults of the run and fills in what was left open.
func (m *Model) check(r *Run, warn func(WarningCode, int, float64)) error {
	var faults []Fault
	bad := func(field string, v float64, reason string) { faults = append(faults, Fault{field, v, reason}) }
	if r.Course != nil {
		if len(r.Course.heights) == 0 {
			bad("Course", 0, "holds no road: make it with NewCourse")
			return &InputError{faults}
		}
		if r.Speed == 0 {
			r.Speed = r.Course.speed
		}
		if r.Left != nil || r.Right != nil {
			bad("Course", 0, "cannot stand beside Left and Right")
		}
		if r.Speed != r.Course.speed {
			bad("Speed", r.Speed, "is not the speed the course was sampled for")
		}
		if r.Course.wheelbase != m.car.Wheelbase {
			bad("Course", r.Course.wheelbase, "was sampled for another wheelbase")
		}
		if f := r.Finer; f != nil && (f.step != r.Course.step || f.speed != r.Course.speed || f.wheelbase != r.Course.wheelbase || len(f.heights) != len(r.Course.heights)) {
			bad("Finer", f.step, "is not sampled as the Course is")
		}
	}
	if !(r.Speed > 0) {
		bad("Speed", r.Speed, "must be greater than zero: a road is not felt at rest")
	} else if r.Speed > fastest {
		bad("Speed", r.Speed, "must not exceed 125 m/s")
	} else if r.Speed > veryFast {
		warn(VeryFast, -1, r.Speed)
	}
	if !(r.Duration > 0) || math.IsInf(r.Duration, 0) {
		bad("Duration", r.Duration, "must be greater than zero")
	}
	if !(r.Settle >= 0 && r.Settle < r.Duration) {
		bad("Settle", r.Settle, "must be zero or greater and less than Duration")
	}
	if r.Event && !(r.Duration <= longestEvent) {
		bad("Duration", r.Duration, "must not exceed 60 s for an event")
	}
	rule := m.StepFor(r.Event)
	switch {
	case r.Step == 0:
		r.Step = rule
		if r.Course != nil {
			r.Step = r.Course.step * math.Max(math.Floor(rule/r.Course.step*(1+1e-12)), 1)
		}
	case !(r.Step >= shortestStep && r.Step <= longestStep):
		bad("Step", r.Step, "must lie between 0.00001 and 0.00333 s")
	case r.Step > 1.5*rule:
		warn(StepTooLong, -1, r.Step)
	}
	if c := r.Course; c != nil {
		k := math.Round(r.Step / c.step)
		if k < 1 || math.Abs(k*c.step/r.Step-1) > 1e-9 {
			bad("Step", r.Step, "is not a multiple of the step the course was sampled at")
		} else if int(math.Round(r.Duration/r.Step)) > (len(c.heights)-1)/int(k)+1 {
			bad("Duration", r.Duration, "is longer than the course")
		}
	}
	if whole := math.Round(r.Duration/r.Step) - math.Round(r.Settle/r.Step); len(faults) == 0 && !(whole >= 3) {
		bad("Duration", r.Duration, "leaves less than three steps to look at")
	}
	if math.IsNaN(r.HeaveSpeed) || math.Abs(r.HeaveSpeed) > 10 {
		bad("HeaveSpeed", r.HeaveSpeed, "must lie within 10 m/s")
	}
	if r.StopForces == nil {
		r.StopForces = defaultStops
	}
	if r.DamperBounds == nil {
		r.DamperBounds = defaultBounds
	}
	if len(r.StopForces) > maxLevels {
		bad("StopForces", float64(len(r.StopForces)), "may be eight at most")
	}
	if len(r.DamperBounds) > maxLevels || !slices.IsSorted(r.DamperBounds) || len(r.DamperBounds) > 0 && !(r.DamperBounds[0] >= 0) {
		bad("DamperBounds", float64(len(r.DamperBounds)), "may be eight at most, rising")
	}
	for i, c := range r.Cooling {
		if !(c >= 0) {
			bad(fmt.Sprintf("Cooling[%d]", i), c, "must be zero or greater")
		}
	}
	if len(faults) > 0 {
		return &InputError{faults}
	}
	if r.Every < 1 {
		r.Every = 1
	}
	return nil
}

// Simulate drives the car and fills res. It stops within a few thousand steps of the context's end, and with a
// *DivergedError when the motion leaves the model; res then holds nothing to be used.
func (m *Model) Simulate(ctx context.Context, run Run, res *Result) error {
	res.Warnings = append(res.Warnings[:0], m.warnings...)
	res.Check = Check{}
	warn := func(code WarningCode, corner int, v float64) {
		res.Warnings = append(res.Warnings, Warning{code, corner, v})
	}
	if err := m.check(&run, warn); err != nil {
		return err
	}
	if res.scratch == nil {
		res.scratch = new(scratch)
	}
	s := res.scratch
	h := run.Step
	steps := int(math.Round(run.Duration / h))
	skip := int(math.Round(run.Settle / h))
	if err := s.floors.ready(h, len(m.px)); err != nil {
		return err
	}
	m.begin(s, &run, res)
	f := feed{
		left: run.Left, right: run.Right, course: run.Course, speed: run.Speed, step: h,
		wheelbase: m.car.Wheelbase, fade: run.Settle, line: s.line, rows: s.rows, first: math.MaxInt / 2,
	}
	if run.Course != nil {
		f.stride = int(math.Round(h / run.Course.step))
	}
	defer func() { s.rows, s.line = f.rows, f.line }()

	n := 0
	if run.HeaveSpeed != 0 {
		m.launch(s, run.HeaveSpeed, h)
		n = 2
	}
	if first := f.at(n, 1)[0]; run.Settle == 0 {
		for i, z := range first {
			if !(math.Abs(z) <= 0.001) {
				return &InputError{[]Fault{{fmt.Sprintf("road under corner %d", i), z, "must start flat at height zero, or Settle must be given"}}}
			}
		}
	}
	measured := n
	for blocks := 0; n < steps; blocks++ {
		if blocks%16 == 0 {
			if err := ctx.Err(); err != nil {
				return err
			}
		}
		count := min(blockSteps, steps-n)
		if n < skip {
			count = min(count, skip-n)
		}
		road := f.at(n, count)
		m.advance(&s.state, road, &s.block, h)
		if err := s.lost(n, h); err != nil {
			return err
		}
		for i := range m.corner {
			s.account.balance(i, &s.block, road, h)
		}
		s.floors.add(m, &s.block)
		if n >= skip {
			for i := range m.corner {
				s.tally[i].add(m, i, &s.block, &run, &res.Corners[i])
			}
			for _, z := range s.block.bodyZ[:count] {
				res.Sink -= z
			}
		}
		if run.Event {
			s.keep(m, road)
			s.air.follow(m, &s.block, road, h)
		}
		if run.Each != nil {
			m.tell(s, road, n, h, &run)
		}
		n += count
		if n == skip {
			measured = n
			for _, meter := range s.floors.meters {
				meter.Begin()
			}
			for i := range s.account.corner {
				res.Corners[i].StopLost = s.account.corner[i].stops
				res.Corners[i].Power = s.account.corner[i].heat
			}
		}
	}
	return m.end(s, &run, res, n-measured, func(k int) (comfort.Summary, error) { return s.floors.meters[k].Result() }, warn)
}

// begin puts the car to rest and empties the tallies.
func (m *Model) begin(s *scratch, run *Run, res *Result) {
	s.state = state{}
	s.account = account{}
	res.Sink = 0
	s.ground, s.freed, s.air = [4]float64{}, 0, airborne{}
	for i := range m.corner {
		c := &m.corner[i]
		s.state.stop[i] = c.stopRest
		s.tally[i] = tally{}
		s.tally[i].begin()
		l := &s.account.corner[i]
		l.travel, l.load = c.restTravel, m.rest.TyreLoad[i]
		l.stop, _ = c.stop.frozen(c.restTravel, c.stopRest.phi)
		out := &res.Corners[i]
		out.StopLost, out.Power = 0, 0
		out.travels, out.speeds = [travelBins]uint32{}, [speedBins]uint32{}
	}
	for k := range s.axle {
		s.axle[k] = s.axle[k][:0]
	}
}

// lost stops a run that has left the model.
func (s *scratch) lost(n int, h float64) error {
	const limit = 0.75
	out := &s.block
	fine := true
	for i := range out.travel {
		last := out.n - 1
		if !(math.Abs(out.travel[i][last]) < limit) || !(math.Abs(out.load[i][last]) <= math.MaxFloat64) {
			fine = false
		}
	}
	for k := range s.state.body {
		if q := s.state.body[k].q; math.IsNaN(q) || math.Abs(q) > 10 {
			fine = false
		}
	}
	if fine {
		return nil
	}
	e := &DivergedError{Time: float64(n+out.n) * h, Step: h}
	for k := range out.n {
		for i := range out.travel {
			if !(math.Abs(out.travel[i][k]) < limit) {
				e.Time, e.Corner = float64(n+k)*h, i
				for j := range e.Travel {
					e.Travel[j] = out.travel[j][k]
				}
				return e
			}
		}
	}
	return e
}

// launch brings the car from a heave speed at rest position to two steps later, in steps of h/256, because a multistep
// method has no past to start from.
func (m *Model) launch(s *scratch, speed, h float64) {
	const parts = 256
	small := h / parts
	st := &s.state
	var road [blockSteps][4]float64
	micro := func(n int) {
		for n > 0 {
			k := min(n, blockSteps)
			m.advance(st, road[:k], &s.block, small)
			n -= k
		}
	}
	// The past of a body in uniform motion; what forces did before the start is the error, of order small².
	st.body[0].v = speed
	st.body[0].q = 0
	all := func() (c [7]*coordinate) {
		for k := range st.body {
			c[k] = &st.body[k]
		}
		for k := range st.wheel {
			c[3+k] = &st.wheel[k]
		}
		return c
	}
	var a0, a1, q1, q2 [7]float64
	coordinates := all()
	micro(1)
	for k, c := range coordinates {
		a0[k] = c.a1
	}
	micro(parts - 1)
	for k, c := range coordinates {
		q1[k] = c.q
	}
	micro(1)
	for k, c := range coordinates {
		a1[k] = c.a1
	}
	micro(parts/2 - 1)
	mount := st.mount
	micro(parts / 2)
	for k, c := range coordinates {
		q2[k] = c.q
		*c = coordinate{q: q2[k], v: (q2[k] - q1[k]) / h, a1: a1[k], a2: a0[k]}
	}
	st.mount = mount
	for i := range m.corner {
		l := &s.account.corner[i]
		c := &m.corner[i]
		w := c.restTravel + st.wheel[i].q - (st.body[0].q + m.sunk(st.body[2].q, st.body[1].q) - c.x*st.body[1].q + c.y*st.body[2].q)
		f := 0.0
		if w > c.stopAt {
			f, _ = c.stop.frozen(w, st.stop[i].phi)
		}
		l.stops = (f + l.stop) / 2 * (w - l.travel)
		l.stop, l.travel = f, w
		// Two steps of dissipation at the launch speed, by the trapezoid the account uses.
		l.power = s.block.damper[i][s.block.n-1] * s.block.speed[i][s.block.n-1]
		l.heat += l.power * 2 * h
		l.load = s.block.load[i][s.block.n-1]
	}
	s.account.through = m.mass * speed * speed / 2
}

// tell hands moments to the listener.
func (m *Model) tell(s *scratch, road [][4]float64, n int, h float64, run *Run) {
	b, o := &s.block, &s.moment
	for k := (run.Every - n%run.Every) % run.Every; k < b.n; k += run.Every {
		o.Time = float64(n+k) * h
		o.Heave, o.Pitch, o.Roll = b.bodyZ[k], b.bodyP[k], b.bodyR[k]
		o.Acceleration = [3]float64{b.heave[k], b.pitch[k], b.roll[k]}
		o.Road = road[k]
		for i := range m.corner {
			w := b.travel[i][k]
			_, ratio, _ := m.corner[i].travel(w)
			o.Travel[i], o.Body[i] = w, m.over(b, i, k)
			o.DamperSpeed[i], o.DamperForce[i] = b.speed[i][k], b.damper[i][k]
			o.CornerForce[i], o.TyreLoad[i] = b.force[i][k], b.load[i][k]
			o.StopForce[i], o.TopOutForce[i] = 0, 0
			if b.touched[i] {
				o.StopForce[i] = b.stop[i][k] / ratio
			}
			if b.opened[i] {
				o.TopOutForce[i] = b.top[i][k] / ratio
			}
		}
		run.Each(o)
	}
}

// end turns tallies into the result.
func (m *Model) end(s *scratch, run *Run, res *Result, measured int, floor func(k int) (comfort.Summary, error), warn func(WarningCode, int, float64)) error {
	h := run.Step
	res.Step = h
	res.Time = float64(measured) * h
	res.Distance = res.Time * run.Speed
	res.Sink /= float64(measured)
	if !run.Event && res.Time < 5 {
		warn(ShortStatistics, -1, res.Time)
	}
	res.Floor = res.Floor[:0]
	for k := range m.px {
		sum, err := floor(k)
		if err != nil {
			return err
		}
		res.Floor = append(res.Floor, FloorResult{m.car.Points[k].Name, sum})
	}
	e := &res.Energy
	*e = Energy{
		FromRoad: s.account.road, Start: m.mass * run.HeaveSpeed * run.HeaveSpeed / 2,
	}
	for i := range m.corner {
		out := &res.Corners[i]
		s.tally[i].close(m, i, run, out, res.Distance)
		out.StopLost = s.account.corner[i].stops - out.StopLost
		e.Stops += s.account.corner[i].stops
		e.Damper += s.account.corner[i].heat
		out.Power = (s.account.corner[i].heat - out.Power) / res.Time
		out.OilRise = 0
		if run.Cooling[i] > 0 {
			out.OilRise = out.Power / run.Cooling[i]
		}
		if out.Outside > 0 {
			warn(OutsideModel, i, out.Outside)
		}
		if out.OutsideDyno > 0 {
			warn(OutsideDyno, i, out.OutsideDyno)
		}
		for _, hit := range out.StopHits {
			if !run.Event && hit.Count > 0 && hit.Count < 10 {
				warn(FewStopHits, i, float64(hit.Count))
			}
		}
	}
	rest := state{}
	e.Stored = m.stored(&s.state, h) - m.stored(&rest, h)
	e.Kinetic = m.kinetic(&s.state, h)
	e.Gap = e.FromRoad + e.Start - e.Damper - e.Stops - e.Stored - e.Kinetic
	e.Share = 0
	if s.account.through > 0 {
		e.Share = e.Gap / s.account.through
	}
	res.Event = Event{}
	if run.Event {
		res.Event = s.event(m, h, res)
	}
	return nil
}
