package search

import (
	"math"
	"slices"
	"sort"

	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
	"trunnion/chassis/study"
)

// Must is what every plan has to hold.
type Must struct {
	// Without are the findings that may be broken, by code. What no part of a suspension
	// changes is never asked for.
	Without []string
	// Lower is how much lower than the baseline an axle must stand at least, and Higher
	// how much higher it may, at the arches in the usual load state; NaN for no limit. [m]
	Lower, Higher [2]float64
	Budget        float64 // for parts that have to be bought, in money; NaN for none [-]
	Chance        float64 // with which a limit may be broken that is more than felt [-]
}

// Defaults of what must hold: 95 draws in 100 hold each limit, and no axle stands higher
// than the car came in, by more than is read off an arch. Chosen.
const (
	usualChance = 0.05
	usualHigher = 5e-3 // [m]
)

// borrowed is how much likelier a limit may be broken in a drive while a candidate's bands
// are still those of the build that was started from, which hit its stops harder or less:
// the last ones are drawn themselves. Chosen. [-]
const borrowed = 2

// meanwhile is what must hold in drives until a candidate has bands of its own.
func (m Must) meanwhile() *Must {
	m.Chance *= borrowed
	return &m
}

// UsualMust is what must hold where nobody says otherwise.
func UsualMust() Must {
	nan := math.NaN()
	return Must{Lower: [2]float64{nan, nan}, Higher: [2]float64{usualHigher, usualHigher}, Budget: nan, Chance: usualChance}
}

// Codes of what is asked for beside the findings.
const (
	NotLow   = "not-low-enough"
	TooHigh  = "stands-too-high"
	Thread   = "thread-runs-out"
	Overpaid = "over-budget"
)

// Currency is the unit of money.
const Currency = "currency"

// Short is a limit that a build does not keep as surely as it must.
type Short struct {
	Code        string // of the finding
	Axle        int    // −1: of the whole car
	Judges      string // code of the figure; empty where it is no figure of the register
	Place       figure.Place
	Value       float64 // [SI unit of Unit]
	Limit       float64 // [SI unit of Unit]
	Need        float64 // by how much the limit would have to give; NaN where none can [SI unit of Unit]
	Unit        string  // Currency of money
	Upper       bool
	Probability float64 // that it is broken [-]
	moving      bool    // found by driving
}

// typical is how much of a limit of each unit is as hard to give as of the others, so that
// shortfalls can be set against each other: common practice, no source.
var typical = map[string]float64{"m": 10e-3, "N": 1000, "Hz": 0.1, "m/s": 0.1, "m/s^2": 1, "rad": 10e-3, "s": 0.1, "1/m": 0.01, "1": 0.1, Currency: 200, "rad/(m/s^2)": 1e-3, "1/s": 0.5}

// weight is how much is lacking, in typical amounts [-].
func (s *Short) weight() float64 {
	if math.IsNaN(s.Need) {
		return 10 // nothing can be given
	}
	size := typical[s.Unit]
	if size == 0 { //nolint:floateq // a unit that is not in the table
		size = 0.1*math.Abs(s.Limit) + 1e-9
	}
	return math.Min(s.Need/size, 10)
}

// lack is how much a build lacks altogether: the harder a finding the more. 0 holds all.
func lack(list []Short) float64 {
	sum := 0.0
	for i := range list {
		sum += (0.2 + list[i].weight()) * (1 - 0.08*float64(finding.Hardness(list[i].Code)))
	}
	return sum
}

// needs are what a chance of 5 in 100 on one side is of the half-width of a 95 % band, of
// a normal figure [-].
const needs = 1.6449 / 1.96

// shorts are what findings break of what must hold, worst first by rule and axle.
func (m *Must) shorts(list []finding.Finding) []Short {
	type key struct {
		code string
		axle int
	}
	worst := map[key]Short{}
	for i := range list {
		f := &list[i]
		if !m.breaks(f) {
			continue
		}
		s := shortOf(f)
		k := key{s.Code, s.Axle}
		if was, have := worst[k]; !have || s.weight() > was.weight() {
			worst[k] = s
		}
	}
	out := make([]Short, 0, len(worst))
	for _, s := range worst {
		out = append(out, s)
	}
	sort.Slice(out, func(i, j int) bool { return before(&out[i], &out[j]) })
	return out
}

func before(a, b *Short) bool {
	if x, y := finding.Hardness(a.Code), finding.Hardness(b.Code); x != y {
		return x < y
	}
	if a.Code != b.Code {
		return a.Code < b.Code
	}
	return a.Axle > b.Axle
}

// evenly is the chance with which what is only felt may be broken: its nominal figure must
// hold. Chosen. [-]
const evenly = 0.5

// breaks reports a finding that must hold and does not.
func (m *Must) breaks(f *finding.Finding) bool {
	chance := m.Chance
	if finding.OnlyFelt(f.Code) {
		chance = evenly
	}
	return f.Loud() && f.Probability > chance && !finding.NoPartChanges(f.Code) && !slices.Contains(m.Without, f.Code)
}

func shortOf(f *finding.Finding) Short {
	v := f.Value
	s := Short{Code: f.Code, Axle: f.Axle(), Judges: v.Code, Place: v.Place, Value: v.Value, Unit: figure.Must(v.Code).Unit, Probability: f.Probability, Need: math.NaN()}
	if f.Limit == nil {
		return s
	}
	s.Limit, s.Upper, s.Unit = f.Limit.Value, f.Limit.Upper, f.Limit.Unit
	end := v.Value
	switch {
	case !v.HasBand:
	case s.Upper:
		end += needs * (v.High - v.Value)
	default:
		end -= needs * (v.Value - v.Low)
	}
	if s.Need = s.Limit - end; s.Upper {
		s.Need = -s.Need
	}
	s.Need = math.Max(s.Need, 0)
	return s
}

// stance is how much higher an axle stands than on the baseline, mean of both sides, in
// the usual load state [m]; NaN where either is not known.
func stance(got, base *study.Answer, build string, axle int) float64 {
	sum := 0.0
	for i := 2 * axle; i < 2*axle+2; i++ {
		is, was := got.Get("arch-height", build, base.UsualLoad(), i), base.Get("arch-height", base.Reference, base.UsualLoad(), i)
		if is == nil || was == nil {
			return math.NaN()
		}
		sum += 0.5 * (is.Value - was.Value)
	}
	return sum
}

// beside are what is asked for beside the findings: heights, thread, money.
func (m *Must) beside(stances [2]float64, thread, price float64) []Short {
	var out []Short
	for axle, h := range stances {
		if !(h <= -m.Lower[axle]) && !math.IsNaN(m.Lower[axle]) && !math.IsNaN(h) {
			out = append(out, Short{Code: NotLow, Axle: axle, Value: -h, Limit: m.Lower[axle], Need: m.Lower[axle] + h, Unit: "m", Probability: 1})
		}
		if h > m.Higher[axle]+1e-9 {
			out = append(out, Short{Code: TooHigh, Axle: axle, Value: h, Limit: m.Higher[axle], Need: h - m.Higher[axle], Unit: "m", Upper: true, Probability: 1})
		}
	}
	if thread < -1e-9 {
		out = append(out, Short{Code: Thread, Axle: -1, Value: thread, Need: -thread, Unit: "m", Probability: 1})
	}
	if price > m.Budget {
		out = append(out, Short{Code: Overpaid, Axle: -1, Value: price, Limit: m.Budget, Need: price - m.Budget, Unit: Currency, Upper: true, Probability: 1})
	}
	return out
}

// ofAxle are those of shorts that are about an axle.
func ofAxle(list []Short, axle int) []Short {
	return slices.DeleteFunc(slices.Clone(list), func(s Short) bool { return s.Axle != axle })
}
