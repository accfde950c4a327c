package scales

import (
	"cmp"
	"math"
	"slices"

	"trunnion/chassis/equilibrium"
)

// Suspect is a slip or a wrong figure that would explain what was read far
// better than the parts as stated.
type Suspect struct {
	// Code is thread, motion-ratio, spring-rate, loads-swapped, heights-swapped,
	// collars-swapped, turned-other-way, not-turned or bar-connected.
	Code   string
	Axle   int     // −1: none; of bar-connected, 2: both
	Corner int     // −1: none
	Other  int     // second corner, −1: none
	Value  float64 // thread [m], motion ratio [-], spring rate as a factor [-]; 0: none
	Stated float64 // what the job has, in the unit of Value [SI]
	// The same of the right side of an axle, where the job has another there; else 0. [SI]
	Right, RightStated float64
	Odds               float64 // evidence against the parts as stated, as a ratio [-]
	Round              int     // the round it is about, counted from 0; −1: all
	// Same marks suspects that the readings cannot tell from the first.
	Same bool

	log float64 // logarithm of the odds: these may be beyond any number [-]
}

const (
	suspicious   = 100.0 // odds at which a suspect is named: chosen
	mostSuspects = 10    // that are named: with more, what was read is no record of one car

	// How much less likely than the likeliest one may be that is named too: chosen.
	worthNaming = 1e6
	tellApart   = 5.0 // odds between two below which they are not told apart: chosen

	// How much likelier than by the quick fit a slip may turn out to be: chosen; random
	// slips were seen to need less than 2. [nat]
	quickShort = 4.0

	wideThread = 0.35 // how far a thread may be off that is not as stated, relative [-]
	wideRatio  = 0.20 // the same of a motion ratio [-]
	wideRate   = 0.30 // the same of a spring rate [-]
)

// Suspect compares the parts as stated with slips of hand and wrong figures, by
// the evidence of all readings for each, and names those a hundred times likelier,
// but for those that another one puts far behind. The likeliest comes first.
//
//	ln p(y) = −½·(misfit + ln det H + Σ ln s² + Σ ln det R)
//
// Source: Laplace's approximation of the evidence, e.g. D. MacKay, Information
// Theory, Inference, and Learning Algorithms, 2003, chapter 28 (from memory).
func (m *Model) Suspect() []Suspect { return m.suspect(quickShort) }

// suspect works out every slip that by the quick fit is no more than so much short of
// suspicious [nat].
func (m *Model) suspect(short float64) []Suspect {
	if len(m.Rounds) == 0 {
		return nil
	}
	var slips []slip
	try := func(s Suspect, change func(*Model, []Round)) {
		x := slip{Suspect: s, other: NewModel(&m.Rig, m.Prior, m.Noise), rounds: slices.Clone(m.Rounds), hope: math.Inf(1)}
		change(x.other, x.rounds)
		if g, ok := m.quickFit(x.other, x.rounds); ok {
			x.hope, x.begin = 0.5*(m.evidence-g.evidence), g.z
		}
		slips = append(slips, x)
	}
	last := len(m.Rounds) - 1
	none := Suspect{Axle: -1, Corner: -1, Other: -1, Round: -1}
	named := func(code string) Suspect {
		s := none
		s.Code = code
		return s
	}
	for a := range 2 {
		for _, w := range []struct {
			code string
			at   int
			wide float64
		}{{"thread", ofPitch, wideThread / m.Prior.Pitch}, {"motion-ratio", ofRatio, wideRatio / m.Prior.Ratio}, {"spring-rate", ofRate, wideRate / m.Prior.Rate}} {
			s := named(w.code)
			s.Axle = a
			try(s, func(o *Model, _ []Round) { o.wide[w.at+a] = w.wide })
		}
	}
	m.suspectSwaps(try, named, last)
	m.suspectTurns(try, named, last)
	m.suspectBars(try, named)
	slices.SortStableFunc(slips, func(a, b slip) int { return cmp.Compare(b.hope, a.hope) })
	var list []Suspect
	least := math.Log(suspicious)
	for k := range slips {
		x := &slips[k]
		if x.hope < least-short {
			continue
		}
		if m.fitSlip(x); x.log < least {
			continue
		}
		list = append(list, x.Suspect)
		least = math.Max(least, x.log-math.Log(worthNaming))
	}
	slices.SortStableFunc(list, func(a, b Suspect) int { return cmp.Compare(b.log, a.log) })
	list = slices.DeleteFunc(list, func(s Suspect) bool { return s.log < least })
	list = list[:min(len(list), mostSuspects)]
	for k := range list {
		list[k].Same = k > 0 && list[0].log < list[k].log+math.Log(tellApart)
	}
	return list
}

// slip is a suspect that is being looked at.
type slip struct {
	Suspect
	other  *Model
	rounds []Round
	hope   float64 // by the quick fit, logarithm of the odds; +Inf: nothing was seen
	begin  vector
}

// fitSlip works a slip out.
func (m *Model) fitSlip(x *slip) {
	x.log = math.Inf(-1)
	got, err := x.other.learn(x.rounds, x.begin)
	if err != nil {
		return
	}
	s := &x.Suspect
	s.log = 0.5 * (m.evidence - got.evidence)
	s.Odds = math.Exp(math.Min(300, s.log))
	switch s.Code {
	case "thread":
		s.both(1+got.z[ofPitch+s.Axle]*m.Prior.Pitch, func(i int) float64 { return m.Rig.Adjuster[i].Pitch })
	case "motion-ratio":
		s.both(1+got.z[ofRatio+s.Axle]*m.Prior.Ratio, func(i int) float64 {
			_, r, _ := m.Rig.System.Corner[i].SpringTravel.At(0)
			return r
		})
	case "spring-rate":
		s.Stated, s.Value = 1, 1+got.z[ofRate+s.Axle]*m.Prior.Rate
	}
}

// both puts what is stated at the corners of an axle beside what a factor makes of it.
// A side without is left out.
func (s *Suspect) both(factor float64, stated func(i int) float64) {
	l, r := stated(2*s.Axle), stated(2*s.Axle+1)
	switch {
	case l == 0:
		l = r
	case r != 0 && r != l:
		s.Right, s.RightStated = r*factor, r
	}
	s.Value, s.Stated = l*factor, l
}

// quick is what a quick fit found.
type quick struct {
	misfit   float64 // where it came to
	evidence float64 // at the least misfit that its slopes promised on the way
	z        vector
}

// quickFit fits other readings, turns or widths with the slopes of this model
// instead of their own: each step is one rest of the car a round instead of
// nineteen. It says which slips are worth the whole work; ok is false where it
// cannot tell.
//
// Method: the chord form of Gauss-Newton.
func (m *Model) quickFit(other *Model, rounds []Round) (g quick, ok bool) {
	const (
		steps = 8    // chosen: springs and gas need two or three
		still = 0.05 // gain of misfit that counts as none [-]
	)
	normal := m.normal
	var prior vector
	logs := 0.0
	for p := range params {
		prior[p] = 1
		if w := other.wide[p]; w > 0 {
			prior[p] = 1 / (w * w)
			normal[p][p] += prior[p] - 1
		}
		logs -= math.Log(prior[p])
	}
	for k := range m.lines {
		logs += m.lines[k].logDet
	}
	logDet, ok := normal.factor(params)
	if !ok {
		return g, false
	}
	g.misfit = math.Inf(1)
	at, hope := m.z, math.Inf(1)
	states := make([]*equilibrium.State, len(rounds))
	for range steps {
		misfit, right, ok := m.along(other, rounds, &prior, &at, states)
		if !ok {
			break
		}
		step := right
		normal.solve(&step, params)
		promised := misfit
		for p := range params {
			promised -= right[p] * step[p]
		}
		hope = math.Min(hope, promised)
		if misfit > g.misfit {
			break // the slopes of here lead on no farther
		}
		g.z, g.misfit = at, misfit
		if misfit-promised < still {
			break
		}
		for p := range params {
			at[p] += math.Max(-mostScale, math.Min(mostScale, step[p]))
		}
	}
	g.evidence = hope + logs + logDet
	return g, !math.IsInf(g.misfit, 1)
}

// along is the misfit at values of the unknowns, and its slope by the rounds'
// tangents.
func (m *Model) along(other *Model, rounds []Round, prior, z *vector, states []*equilibrium.State) (misfit float64, right vector, ok bool) {
	for p := range params {
		right[p] = -prior[p] * z[p]
		misfit += prior[p] * z[p] * z[p]
	}
	var moved [4]float64
	for k := range rounds {
		line := &m.lines[k]
		for i := range 4 {
			moved[i] += rounds[k].Turned[i]
		}
		guess := states[k]
		if guess == nil {
			guess = line.state
		}
		at, err := other.stand(moved, z, guess)
		if err != nil {
			return 0, right, false
		}
		states[k] = &at.State
		want, have := outputsOf(&at.Reading), outputsOf(&rounds[k].Got)
		var miss vector
		for a := range line.n {
			if miss[a] = have[line.index[a]] - want[line.index[a]]; math.IsNaN(miss[a]) {
				return 0, right, false // the slip lies in what was not read
			}
		}
		line.cov.forward(&miss, line.n)
		for a := range line.n {
			misfit += miss[a] * miss[a]
			for p := range params {
				right[p] += line.rows[p][a] * miss[a]
			}
		}
	}
	return misfit, right, true
}

// pairs are the ways in which two corners can be taken for each other.
var pairs = [6][2]int{{0, 1}, {2, 3}, {0, 2}, {1, 3}, {0, 3}, {1, 2}}

type trier = func(Suspect, func(*Model, []Round))

func (m *Model) suspectSwaps(try trier, named func(string) Suspect, last int) {
	for _, p := range pairs {
		for from := range 2 {
			if from == 1 && last == 0 {
				continue // the last round is all there is
			}
			first, round := 0, -1
			if from == 1 {
				first, round = last, last
			}
			s := named("loads-swapped")
			s.Corner, s.Other, s.Round = p[0], p[1], round
			try(s, func(_ *Model, r []Round) {
				for k := first; k <= last; k++ {
					l := &r[k].Got.Load
					l[p[0]], l[p[1]] = l[p[1]], l[p[0]]
				}
			})
			s.Code = "heights-swapped"
			try(s, func(_ *Model, r []Round) {
				for k := first; k <= last; k++ {
					h := &r[k].Got.Height
					h[p[0]], h[p[1]] = h[p[1]], h[p[0]]
				}
			})
		}
	}
}

func (m *Model) suspectTurns(try trier, named func(string) Suspect, last int) {
	for round := 1; round <= last; round++ {
		turned := m.Rounds[round].Turned
		for i := range 4 {
			if turned[i] == 0 {
				continue
			}
			s := named("turned-other-way")
			s.Corner, s.Round = i, round
			try(s, func(_ *Model, r []Round) { r[round].Turned[i] = -turned[i] })
			s.Code = "not-turned"
			try(s, func(_ *Model, r []Round) { r[round].Turned[i] = 0 })
		}
		for _, p := range pairs {
			if turned[p[0]] == turned[p[1]] {
				continue
			}
			s := named("collars-swapped")
			s.Corner, s.Other, s.Round = p[0], p[1], round
			try(s, func(_ *Model, r []Round) {
				t := &r[round].Turned
				t[p[0]], t[p[1]] = t[p[1]], t[p[0]]
			})
		}
	}
}

func (m *Model) suspectBars(try trier, named func(string) Suspect) {
	link := func(axle int, on equilibrium.System) {
		s := named("bar-connected")
		s.Axle = axle
		try(s, func(o *Model, _ []Round) { o.Rig.System = on })
	}
	for a := range 2 {
		if m.Rig.Links[a] {
			link(a, m.Rig.Linked[a])
		}
	}
	if m.Rig.Links[0] && m.Rig.Links[1] {
		both := m.Rig.Linked[0]
		both.Bar[1] = m.Rig.Linked[1].Bar[1]
		link(2, both)
	}
}
