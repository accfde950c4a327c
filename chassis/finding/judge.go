package finding

import (
	"math"
	"sort"

	"trunnion/chassis/brief"
	"trunnion/chassis/figure"
	"trunnion/chassis/study"
)

// Judge judges an answer: for every build and rule, each axle's worst place,
// ranked by probability times consequence; places that are clear are kept once
// per build and rule, so that every rule shows what it looked at. They have no
// remedies yet.
func Judge(a *study.Answer) []Finding {
	b := a.Job.Brief
	if b == nil {
		b = &brief.Brief{}
	}
	var out []Finding
	rolling := rollingRules()
	for _, build := range a.Job.Builds {
		for i := range rolling {
			out = append(out, judgeRule(a, b, build.ID, &rolling[i])...)
		}
		for i := range standRules {
			out = append(out, judgeRule(a, b, build.ID, &standRules[i])...)
		}
		for i := range rules {
			out = append(out, judgeRule(a, b, build.ID, &rules[i])...)
		}
		for i := range cornerRules {
			out = append(out, judgeRule(a, b, build.ID, &cornerRules[i])...)
		}
	}
	out = append(out, judgeRoads(a, b)...)
	out = append(out, atRest(a)...)
	sortFindings(out, a)
	for i := range out {
		out[i].Rank = i + 1
	}
	return out
}

func usualLoad(a *study.Answer, b *brief.Brief) string {
	if b.UsualLoad != "" {
		return b.UsualLoad
	}
	for i := range a.Job.Loads {
		if a.Job.Loads[i].ID == "driver" {
			return "driver"
		}
	}
	return a.Job.Loads[0].ID
}

// corners are the places a rule looks at.
func (r *Rule) corners() []int {
	if e := figure.Must(r.Judges); e.Per == "car" {
		return []int{figure.NoCorner}
	}
	return []int{figure.FrontLeft, figure.FrontRight, figure.RearLeft, figure.RearRight}
}

// judgeRule returns the worst finding of each axle, or one clear finding.
func judgeRule(a *study.Answer, b *brief.Brief, build string, r *Rule) []Finding {
	usual := usualLoad(a, b)
	var axle [2]*Finding
	var loud [2][]*Finding
	for l := range a.Job.Loads {
		load := a.Job.Loads[l].ID
		if r.UsualOnly && load != usual {
			continue
		}
		for _, c := range r.corners() {
			v := a.Get(r.Judges, build, load, c)
			if v == nil || r.whereKnown && v.State == figure.Unknown {
				continue
			}
			reference := a.Get(r.Judges, a.Reference, load, c)
			f := Finding{Code: r.Code, Value: v, Consequence: r.Consequence}
			f.Limit = r.limit(b, load == usual, reference)
			if f.Limit != nil && f.Limit.From == "reference build" && build == a.Reference {
				f.Limit = nil
			}
			f.Verdict, f.Probability = r.verdict(a, v, f.Limit)
			if build != a.Reference {
				f.Versus = reference
			}
			nervousFrom(a, &f)
			x := max(0, c) / 2
			loud[x] = appendLoud(loud[x], &f)
			if axle[x] == nil || worse(&f, axle[x]) {
				axle[x] = &f
			}
		}
	}
	switch {
	case axle[0] == nil && axle[1] == nil:
		return nil
	case axle[1] == nil:
		return []Finding{*axle[0]}
	case axle[0] == nil:
		return []Finding{*axle[1]}
	}
	if !axle[0].loud() && !axle[1].loud() {
		if worse(axle[0], axle[1]) {
			return []Finding{*axle[0]}
		}
		return []Finding{*axle[1]}
	}
	for x := range axle {
		for _, f := range loud[x] {
			if f.Value.Place.Load != axle[x].Value.Place.Load {
				axle[x].Also = append(axle[x].Also, f.Value)
			}
		}
	}
	return []Finding{*axle[0], *axle[1]}
}

// appendLoud keeps the worst loud finding of each load state.
func appendLoud(list []*Finding, f *Finding) []*Finding {
	if !f.loud() {
		return list
	}
	for i, g := range list {
		if g.Value.Place.Load == f.Value.Place.Load {
			if worse(f, g) {
				list[i] = f
			}
			return list
		}
	}
	return append(list, f)
}

// loud reports a finding that says something is wrong or may be.
func (f *Finding) loud() bool { return f.Verdict == Over || f.Verdict == Close }

// grade orders verdicts, gravest first.
func (v Verdict) grade() int {
	switch v {
	case Over:
		return 0
	case Close:
		return 1
	case Unknown:
		return 2
	case Clear:
		return 3
	case NoLimit:
		return 4
	}
	return 5
}

// worse orders two findings of one rule.
func worse(f, g *Finding) bool {
	if d := f.Verdict.grade() - g.Verdict.grade(); d != 0 {
		return d < 0
	}
	// Two near-certainties are told apart by how far over they are.
	if math.Abs(f.Probability-g.Probability) > 0.02 {
		return f.Probability > g.Probability
	}
	return f.margin() < g.margin()
}

// margin is the distance to the limit, positive on the good side.
func (f *Finding) margin() float64 {
	limit := 0.0
	if f.Limit != nil {
		limit = f.Limit.Value
	}
	if f.upper() {
		return limit - f.Value.Value
	}
	return f.Value.Value - limit
}

func (f *Finding) upper() bool {
	if f.Limit != nil {
		return f.Limit.Upper
	}
	if r := ruleOf(f.Code); r != nil {
		return r.Upper
	}
	return false
}

// weight is what findings are ranked by.
func (f *Finding) weight() float64 { return f.Probability * f.Consequence }

func sortFindings(out []Finding, a *study.Answer) {
	order := make(map[string]int)
	for i, b := range a.Job.Builds {
		order[b.ID] = i
	}
	sort.SliceStable(out, func(i, j int) bool {
		f, g := &out[i], &out[j]
		if f.loud() != g.loud() {
			return f.loud()
		}
		if f.weight() != g.weight() {
			return f.weight() > g.weight()
		}
		if d := f.Verdict.grade() - g.Verdict.grade(); d != 0 {
			return d < 0
		}
		if f.Consequence != g.Consequence {
			return f.Consequence > g.Consequence
		}
		return order[f.Value.Place.Build] < order[g.Value.Place.Build]
	})
}

// restCodes are the warnings about a rest position that are findings.
var restCodes = map[string]float64{
	"wheel-hangs": 1, "coils-touch-at-rest": 1, "rests-on-metal": 1, "rests-past-stop-table": 0.95,
}

// atRest turns warnings about how a corner rests into findings: nothing has
// to be compared with a limit there.
func atRest(a *study.Answer) []Finding {
	type place struct {
		code, build string
		axle        int
	}
	kept := make(map[place]int)
	var out []Finding
	for i := range a.Warnings {
		w := &a.Warnings[i]
		weight, ok := restCodes[w.Code]
		if !ok {
			continue
		}
		v := a.Get("travel-to-stop", w.Build, w.Load, w.Corner)
		if v == nil {
			continue
		}
		f := Finding{
			Code: w.Code, Verdict: Over, Value: v, Probability: 1, Consequence: weight,
			Cause: []Cause{{Code: w.Code, Value: w.Value, Unit: w.Unit}},
		}
		// One finding per build, axle and kind: the worst corner and load state.
		k := place{w.Code, w.Build, w.Corner / 2}
		if i, ok := kept[k]; !ok {
			kept[k] = len(out)
			out = append(out, f)
		} else if math.Abs(w.Value) > math.Abs(out[i].Cause[0].Value) {
			out[i] = f
		}
	}
	return out
}
