package scales

import (
	"fmt"
	"math"
	"slices"
	"sort"

	"trunnion/chassis/car"
)

// Collar is what to do at one corner.
type Collar struct {
	Move      float64 // at the collar, up positive [m]
	Turns     float64 // turns of the collar, up positive [-]
	Step      float64 // smallest turn [-]
	Clockwise bool    // which way that is, from above, collar under its spring
	At        float64 // from the start mark, after it [m]
	RoomUp    float64 // left of the range after it [m]
	RoomDown  float64 // [m]
	Held      string  // what keeps it from going further: thread, engagement, stop-gap, spring-loose, no-collar, locked; empty: nothing
}

// Turned is the collar of an adjuster after it was turned by about so much [m], up positive: by whole steps of it, one
// at least.
func Turned(p *car.PlatformSpec, by float64) Collar {
	a := AdjusterOf(p)
	c := Collar{Step: a.Step}
	if a.Kind == Fixed || by == 0 {
		return c
	}
	steps := math.Max(1, math.Round(math.Abs(by)/(a.Pitch*a.Step)))
	c.Turns = math.Copysign(steps*a.Step, by)
	c.Move, c.Clockwise = c.Turns*a.Pitch, a.Clockwise(by > 0)
	return c
}

// Back is a collar's turn the other way.
func (c Collar) Back() Collar {
	c.Move, c.Turns, c.Clockwise = -c.Move, -c.Turns, !c.Clockwise
	return c
}

// Missed is a wish that the move does not meet within its tolerance, and why.
type Missed struct {
	Code   string  // level, mean, rake, cross, front-share, left-share
	Axle   int     // −1: none
	Wanted float64 // [m] or [-]
	Got    float64 // [m] or [-]
	Within float64 // tolerance [m] or [-]
	Why    string  // twist, collars-never-move-it, or what holds a collar: thread, engagement, stop-gap, spring-loose, no-collar, locked
	Corner int     // of the collar that is held, −1: none
}

// Price is one point of the curve of height against cross weight.
type Price struct {
	CrossPerMetre float64    // at which it is the best move; +Inf: cross counts nothing [1/m]
	Move          [4]float64 // before rounding to steps [m]
	Level         [2]float64 // left over right of each axle [m]
	Cross         float64    // [-]
}

// Single is the best that one collar alone can do.
type Single struct {
	Corner int // −1: none may be turned
	Collar Collar
	After  Forecast
	Meets  bool // all tolerances
}

// Plan is the next move and what it leads to.
type Plan struct {
	Target  Target
	Now     Forecast // as the car stands
	After   Forecast // after the move, rounded to steps
	Scatter Forecast // of one settled reading, whatever is turned
	Collar  [4]Collar
	Exact   [4]float64 // the move before rounding [m]
	Turn    bool       // at least one collar is to be turned
	Met     bool       // as the car stands, every wish lies within its tolerance
	Meets   bool       // after the move
	Missed  []Missed
	Refused []Refusal // guards that no move could keep; nothing is to be turned then
	Beyond  []Refusal // what the wish would need past the ends of a thread
	Single  Single

	Price  []Price // from heights alone to cross alone
	Chosen int     // point of Price at the target's own price
	// Twist is what a metre of left-right difference, made against each other
	// at both axles, is worth in cross weight: what taking a twist of shell or
	// arches out costs through the tyres. [1/m]
	Twist float64
}

// Plan finds the move. The model is solved anew at every step, so that what is
// printed is what the nonlinear car does.
func (m *Model) Plan(t Target) (*Plan, error) {
	now, err := m.Stand([4]float64{})
	if err != nil {
		return nil, fmt.Errorf("scales: the car as it stands: %w", err)
	}
	p := &Plan{Target: t, Met: t.Meets(&now.Reading)}
	if p.Now, err = m.Forecast(t.Diagonal, [4]float64{}); err != nil {
		return nil, err
	}
	if p.Scatter, err = m.Scatter(t.Diagonal); err != nil {
		return nil, err
	}
	kept := [2]float64{now.Reading.Mean(0), now.Reading.Mean(1)}
	b := m.bounds(&t)
	free := b
	p.Exact, err = m.guardedSeek(&t, kept, &b)
	if err != nil {
		return nil, err
	}
	steps, ok := m.inSteps(&t, kept, p.Exact, &b)
	if !ok {
		p.Refused = m.guarded(p.Exact)
		steps = [4]float64{}
	}
	if p.After, err = m.Forecast(t.Diagonal, steps); err != nil {
		return nil, err
	}
	for i := range 4 {
		p.Collar[i] = m.collar(i, steps[i], p.Exact[i], &b)
		p.Turn = p.Turn || p.Collar[i].Turns != 0
	}
	after, err := m.Stand(steps)
	if err != nil {
		return nil, err
	}
	p.Meets = t.Meets(&after.Reading)
	p.beyond(m, &t, kept, &free)
	p.missed(m, &after.Reading, &now.Reading, &b)
	if err := p.price(m, kept, b); err != nil {
		return nil, err
	}
	p.single(m, kept)
	return p, nil
}

// Unseen reports that every wish is met as the car stands, and that the move
// changes nothing by more than what one settled reading scatters by: nobody could
// see it.
func (p *Plan) Unseen() bool {
	if !p.Met || !p.Turn {
		return false
	}
	less := func(now, after, scatter Band) bool { return math.Abs(after.Value-now.Value) < scatter.Half }
	ok := less(p.Now.Cross, p.After.Cross, p.Scatter.Cross) && less(p.Now.Rake, p.After.Rake, p.Scatter.Rake)
	for a := range 2 {
		ok = ok && less(p.Now.Level[a], p.After.Level[a], p.Scatter.Level[a]) && less(p.Now.Mean[a], p.After.Mean[a], p.Scatter.Mean[a])
	}
	return ok
}

// Stay takes the move out of a plan: the collars stay where they are.
func (p *Plan) Stay() {
	for i := range p.Collar {
		c := &p.Collar[i]
		c.At, c.RoomUp, c.RoomDown = c.At-c.Move, c.RoomUp+c.Move, c.RoomDown-c.Move
		c.Move, c.Turns = 0, 0
	}
	p.After, p.Turn, p.Meets, p.Single.Corner = p.Now, false, p.Met, -1
	p.Missed = slices.DeleteFunc(p.Missed, func(m Missed) bool { return m.Why != "collars-never-move-it" })
}

// guardedSeek seeks, and draws the ranges in until every guard holds.
func (m *Model) guardedSeek(t *Target, kept [2]float64, b *bounds) ([4]float64, error) {
	const tries = 12 // chosen: each guard takes two or three
	var move [4]float64
	for range tries {
		var err error
		if move, err = m.seek(t, kept, b, move); err != nil {
			return move, err
		}
		broken := m.guarded(move)
		if len(broken) == 0 {
			return move, nil
		}
		for k := range broken {
			m.tighten(b, &broken[k], move)
		}
	}
	return move, nil
}

const (
	mostSeeks = 15    // chosen: springs and gas need three or four
	mostStep  = 0.012 // longest step of a collar in one seek [m]
	sought    = 1e-8  // step that counts as none [m]
)

// seek finds the best move inside the bounds: Gauss-Newton with the bounded
// least squares of boxed, each step on slopes taken where the car then stands.
func (m *Model) seek(t *Target, kept [2]float64, b *bounds, start [4]float64) ([4]float64, error) {
	move := start
	for i := range 4 {
		move[i] = math.Max(b.low[i], math.Min(b.high[i], move[i]))
	}
	for range mostSeeks {
		j, r, err := m.missSlopes(t, kept, move)
		if err != nil {
			return move, err
		}
		var low, high [4]float64
		for i := range 4 {
			low[i] = math.Max(b.low[i]-move[i], -mostStep)
			high[i] = math.Min(b.high[i]-move[i], mostStep)
			low[i], high[i] = math.Min(low[i], 0), math.Max(high[i], 0)
		}
		d := boxed(&j, &r, low, high)
		most := 0.0
		for i := range 4 {
			move[i] += d[i]
			most = math.Max(most, math.Abs(d[i]))
		}
		if most < sought {
			break
		}
	}
	return move, nil
}

// missSlopes returns what a move misses and how that changes with each collar.
func (m *Model) missSlopes(t *Target, kept [2]float64, move [4]float64) (j [rows][4]float64, r [rows]float64, err error) {
	var total [4]float64
	for i := range 4 {
		total[i] = m.Moved[i] + move[i]
	}
	at, err := m.stand(total, &m.z, nil)
	if err != nil {
		return j, r, err
	}
	r = t.miss(&at.Reading, kept)
	const h = 1e-4
	for i := range 4 {
		other := total
		other[i] += h
		st, err := m.stand(other, &m.z, &at.State)
		if err != nil {
			return j, r, err
		}
		for k, v := range t.miss(&st.Reading, kept) {
			j[k][i] = (v - r[k]) / h
		}
	}
	return j, r, nil
}

// inSteps rounds a move to whole steps: of the sixteen ways to round up or
// down, the best on the slopes there that stays in range and keeps the guards.
func (m *Model) inSteps(t *Target, kept [2]float64, exact [4]float64, b *bounds) ([4]float64, bool) {
	j, r, err := m.missSlopes(t, kept, exact)
	if err != nil {
		return exact, false
	}
	type choice struct {
		move [4]float64
		cost float64
	}
	var list []choice
	for way := range 16 {
		var c choice
		ok := true
		for i := range 4 {
			step := m.Rig.Adjuster[i].Smallest()
			if b.low[i] == 0 && b.high[i] == 0 || step <= 0 {
				ok = ok && way>>i&1 == 0
				continue
			}
			n := math.Floor(exact[i]/step + 1e-9)
			if way>>i&1 == 1 {
				n++
			}
			c.move[i] = n * step
			ok = ok && c.move[i] > b.low[i]-1e-9 && c.move[i] < b.high[i]+1e-9
		}
		if !ok {
			continue
		}
		for k := range rows {
			v := r[k]
			for i := range 4 {
				v += j[k][i] * (c.move[i] - exact[i])
			}
			c.cost += v * v
		}
		for i := range 4 { // of equal ones, the shorter
			c.cost += reluctance * reluctance * c.move[i] * c.move[i]
		}
		list = append(list, c)
	}
	sort.SliceStable(list, func(a, b int) bool { return list[a].cost < list[b].cost })
	for _, c := range list {
		if len(m.guarded(c.move)) == 0 {
			return c.move, true
		}
	}
	return [4]float64{}, len(m.guarded([4]float64{})) == 0 && len(list) == 0
}

func (m *Model) collar(i int, move, exact float64, b *bounds) Collar {
	a := &m.Rig.Adjuster[i]
	c := Collar{Move: move, At: m.Rig.At[i] + m.Moved[i] + move}
	if a.Kind == Fixed || a.Pitch <= 0 {
		c.Held = "no-collar"
		return c
	}
	c.Turns, c.Step = move/a.Pitch, a.Step
	c.Clockwise = a.Clockwise(move > 0)
	low, high := a.Reach()
	c.RoomUp, c.RoomDown = math.Max(0, high-c.At), math.Max(0, c.At-low)
	switch {
	case b.low[i] == 0 && b.high[i] == 0:
		c.Held = b.heldLow[i]
	case exact < b.low[i]+1e-7:
		c.Held = b.heldLow[i]
	case exact > b.high[i]-1e-7:
		c.Held = b.heldHi[i]
	}
	return c
}

// beyond finds what the wish would need if the threads were endless.
func (p *Plan) beyond(m *Model, t *Target, kept [2]float64, b *bounds) {
	endless := *b
	short := false
	for i := range 4 {
		if b.heldLow[i] == "thread" {
			endless.low[i], endless.high[i] = -0.06, 0.06
			short = short || p.Collar[i].Held != "" && p.Collar[i].Held != "locked"
		}
	}
	if !short {
		return
	}
	move, err := m.seek(t, kept, &endless, p.Exact)
	if err != nil {
		return
	}
	const slack = 1e-6
	for i := range 4 {
		switch {
		case move[i] < b.low[i]-slack:
			p.Beyond = append(p.Beyond, Refusal{Code: b.heldLow[i], Corner: i, Value: move[i], Limit: b.low[i]})
		case move[i] > b.high[i]+slack:
			p.Beyond = append(p.Beyond, Refusal{Code: b.heldHi[i], Corner: i, Value: move[i], Limit: b.high[i]})
		}
	}
}

// missed lists the wishes outside their tolerances, with the reason.
func (p *Plan) missed(m *Model, after, now *Reading, b *bounds) {
	t := &p.Target
	// A collar held at an end is a reason; without one, the shell's own twist is:
	// four heights and a cross weight are five wishes for four collars.
	why := func(axle int) (string, int) {
		for i := range 4 {
			if h := p.Collar[i].Held; h != "" && (axle < 0 || car.AxleOf(i) == axle) {
				return h, i
			}
		}
		for i := range 4 {
			if h := p.Collar[i].Held; h != "" {
				return h, i
			}
		}
		return "twist", -1
	}
	add := func(code string, axle int, want, got, within float64) {
		if !wanted(want) || math.Abs(got-want) <= within {
			return
		}
		w, corner := why(axle)
		p.Missed = append(p.Missed, Missed{Code: code, Axle: axle, Wanted: want, Got: got, Within: within, Why: w, Corner: corner})
	}
	for a := range 2 {
		add("level", a, t.Level[a], after.Level(a), t.LevelWithin[a])
		add("mean", a, t.Mean[a], after.Mean(a), t.MeanWithin)
	}
	add("rake", -1, t.Rake, after.Rake(), t.MeanWithin)
	add("cross", -1, t.Cross, after.Cross(t.Diagonal), t.CrossWithin)
	never := func(code string, want, got float64) {
		const share = 0.0005 // half of what is printed last
		if wanted(want) && math.Abs(got-want) > share {
			p.Missed = append(p.Missed, Missed{Code: code, Axle: -1, Wanted: want, Got: got, Within: share, Why: "collars-never-move-it", Corner: -1})
		}
	}
	never("front-share", t.FrontShare, now.FrontShare())
	never("left-share", t.LeftShare, now.LeftShare())
}

// price finds the curve of millimetres against points of cross weight.
func (p *Plan) price(m *Model, kept [2]float64, b bounds) error {
	t := p.Target
	if !wanted(t.Cross) {
		t.Cross = 0.5
	}
	own := t.CrossPerMetre
	if !wanted(p.Target.Cross) || own <= 0 {
		own = math.Inf(1)
	}
	prices := []float64{math.Inf(1), 20, 10, 5, 2.5, 1.5, 1, 0.5, 0.2, 0.05}
	at := sort.Search(len(prices), func(k int) bool { return prices[k] <= own })
	if at == len(prices) || prices[at] != own {
		prices = append(prices[:at], append([]float64{own}, prices[at:]...)...)
	}
	p.Chosen = at
	move := p.Exact
	for _, price := range prices {
		t.CrossPerMetre = price
		wish := t
		if math.IsInf(price, 1) {
			wish.Cross = math.NaN()
		}
		var err error
		if move, err = m.seek(&wish, kept, &b, move); err != nil {
			return err
		}
		st, err := m.Stand(move)
		if err != nil {
			return err
		}
		p.Price = append(p.Price, Price{
			CrossPerMetre: price, Move: move,
			Level: [2]float64{st.Reading.Level(0), st.Reading.Level(1)}, Cross: st.Reading.Cross(t.Diagonal),
		})
	}
	first, last := p.Price[0], p.Price[len(p.Price)-1]
	if span := math.Abs(first.Level[0]-last.Level[0]) + math.Abs(first.Level[1]-last.Level[1]); span > 1e-5 {
		p.Twist = math.Abs(first.Cross-last.Cross) / span
	}
	return nil
}

// single finds the one collar that does most by itself.
func (p *Plan) single(m *Model, kept [2]float64) {
	p.Single.Corner = -1
	best := math.Inf(1)
	for i := range 4 {
		t := p.Target
		for k := range 4 {
			t.Locked[k] = t.Locked[k] || k != i
		}
		b := m.bounds(&t)
		if b.low[i] == 0 && b.high[i] == 0 {
			continue
		}
		exact, err := m.guardedSeek(&t, kept, &b)
		if err != nil {
			continue
		}
		move, ok := m.inSteps(&t, kept, exact, &b)
		if !ok {
			continue
		}
		st, err := m.Stand(move)
		if err != nil {
			continue
		}
		cost := 0.0
		for _, v := range t.miss(&st.Reading, kept) {
			cost += v * v
		}
		if cost >= best {
			continue
		}
		after, err := m.Forecast(t.Diagonal, move)
		if err != nil {
			continue
		}
		best = cost
		p.Single = Single{Corner: i, Collar: m.collar(i, move[i], exact[i], &b), After: after, Meets: t.Meets(&st.Reading)}
	}
}
