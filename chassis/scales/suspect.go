package scales

import (
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
	Odds   float64 // evidence against the parts as stated, as a ratio [-]
	Round  int     // the round it is about, counted from 0; −1: all
	// Same marks suspects that the readings cannot tell from the first.
	Same bool
}

const (
	suspicious = 100.0 // odds at which a suspect is named: chosen
	tellApart  = 5.0   // odds between two below which they are not told apart: chosen

	// How much likelier than at a glance a slip may turn out to be, where the
	// readings are explained and by how much they are not: chosen, more than random
	// slips were seen to need. [nat]
	glanced    = 4.0
	glancedFar = 0.2

	wideThread = 0.35 // how far a thread may be off that is not as stated, relative [-]
	wideRatio  = 0.20 // the same of a motion ratio [-]
	wideRate   = 0.30 // the same of a spring rate [-]
)

// Suspect compares the parts as stated with slips of hand and wrong figures, by
// the evidence of all readings for each, and names those a hundred times likelier.
// The likeliest comes first.
//
//	ln p(y) = −½·(misfit + ln det H + Σ ln s² + Σ ln det R)
//
// Source: Laplace's approximation of the evidence, e.g. D. MacKay, Information
// Theory, Inference, and Learning Algorithms, 2003, chapter 28 (from memory).
func (m *Model) Suspect() []Suspect {
	// Far from the readings a tangent says little: all is looked at then.
	return m.suspect(glanced + glancedFar*math.Max(0, m.Misfit-float64(m.Data)))
}

// suspect works out every slip that at a glance is no more than so much short of
// suspicious [nat].
func (m *Model) suspect(short float64) []Suspect {
	if len(m.Rounds) == 0 {
		return nil
	}
	var list []Suspect
	try := func(s Suspect, change func(*Model, []Round)) {
		other := NewModel(&m.Rig, m.Prior, m.Noise)
		rounds := slices.Clone(m.Rounds)
		change(other, rounds)
		if 0.5*(m.evidence-m.glance(other, rounds)) < math.Log(suspicious)-short {
			return
		}
		got, err := other.Learn(rounds)
		if err != nil {
			return
		}
		s.Odds = math.Exp(math.Min(300, 0.5*(m.evidence-got.evidence)))
		if s.Odds < suspicious {
			return
		}
		switch s.Code {
		case "thread":
			s.Stated = m.Rig.Adjuster[s.Axle].Pitch
			s.Value = s.Stated * (1 + got.z[ofPitch+s.Axle]*m.Prior.Pitch)
		case "motion-ratio":
			_, s.Stated, _ = m.Rig.System.Corner[2*s.Axle].SpringTravel.At(0)
			s.Value = s.Stated * (1 + got.z[ofRatio+s.Axle]*m.Prior.Ratio)
		case "spring-rate":
			s.Stated, s.Value = 1, 1+got.z[ofRate+s.Axle]*m.Prior.Rate
		}
		list = append(list, s)
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
	slices.SortStableFunc(list, func(a, b Suspect) int {
		switch {
		case a.Odds > b.Odds:
			return -1
		case a.Odds < b.Odds:
			return 1
		}
		return 0
	})
	for k := range list {
		if k > 0 {
			list[k].Same = list[0].Odds < tellApart*list[k].Odds
		}
	}
	return list
}

// glance is what the evidence would be if every round stayed on its tangent: one
// step of least squares instead of all, with the readings and turns of the
// slip. It says which slips are worth the whole work; −Inf: look at it closer.
func (m *Model) glance(other *Model, rounds []Round) float64 {
	normal, evidence := m.normal, 0.0
	var right vector
	for p := range params {
		prior := 1.0
		if w := other.wide[p]; w > 0 {
			prior = 1 / (w * w)
			normal[p][p] += prior - 1
		}
		right[p] = -prior * m.z[p]
		evidence += prior*m.z[p]*m.z[p] - math.Log(prior)
	}
	var moved [4]float64
	for k := range rounds {
		line := &m.lines[k]
		for i := range 4 {
			moved[i] += rounds[k].Turned[i]
		}
		at, err := other.stand(moved, &m.z, line.state)
		if err != nil {
			return math.Inf(-1)
		}
		want, have := outputsOf(&at.Reading), outputsOf(&rounds[k].Got)
		var miss vector
		for a := range line.n {
			if miss[a] = have[line.index[a]] - want[line.index[a]]; math.IsNaN(miss[a]) {
				return math.Inf(-1) // the slip lies in what was not read
			}
		}
		line.cov.forward(&miss, line.n)
		evidence += line.logDet
		for a := range line.n {
			evidence += miss[a] * miss[a]
			for p := range params {
				right[p] += line.rows[p][a] * miss[a]
			}
		}
	}
	logDet, ok := normal.factor(params)
	if !ok {
		return math.Inf(-1)
	}
	normal.forward(&right, params)
	for p := range params {
		evidence -= right[p] * right[p]
	}
	return evidence + logDet
}

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
