package symptom

import (
	"cmp"
	"slices"
	"strings"

	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
	"trunnion/chassis/study"
	"trunnion/shop/wording"
)

// InShort looks the owner's own words up, clause by clause, on the build that the owner has: the likeliest
// cause that a figure of it speaks for, in the load state that the words name. The
// same figure of every build, as the findings judge it, says which answers them. It
// is nil where nothing was heard, or no figure speaks for any cause.
func (r *Rules) InShort(a *study.Answer, tell *wording.Teller, words string) *wording.InShort {
	for _, part := range clauses(words) {
		if out := r.inShort(a, tell, part); out != nil {
			return out
		}
	}
	return nil
}

// inShort looks one clause up.
func (r *Rules) inShort(a *study.Answer, tell *wording.Teller, words string) *wording.InShort {
	heard := r.Hear(words, "")
	if len(heard) == 0 {
		return nil
	}
	owners := a.Job.Car.Weighed.Build
	s := &scene{was: a, now: a, build: owners, usual: a.UsualLoad(), laden: fullest(a), shapes: map[string][2]float64{}}
	s.load, _ = loadFor(a, tell, &Question{Words: words}, s)
	for _, p := range r.rank(s, tell, heard) {
		c := r.causes[p.ID]
		for i := range c.evidence {
			e := &c.evidence[i]
			if p.Evidence[i].Speaks != For || !judged(e.of.code()) {
				continue
			}
			out := &wording.InShort{Words: words, Load: s.load, Cause: wording.Lower(c.name)}
			had, hadErr := s.figureOf(e.of)
			for _, b := range a.Job.Builds {
				one := *s
				one.build = b.ID
				g, err := one.figureOf(e.of)
				if err != nil {
					out.Builds = append(out.Builds, wording.Answering{Build: b.ID, Verdict: finding.Unknown, Owners: b.ID == owners})
					continue
				}
				v := valueOf(a, e.of.code(), b.ID, &g)
				verdict := verdictOf(a, v, e, &g)
				// What the owner complains of at this figure is not answered by one that is no better.
				if b.ID != owners && hadErr == nil && (verdict == finding.Clear || verdict == finding.Close) && !better(e, g.v, had.v) {
					verdict = finding.Over
				}
				out.Builds = append(out.Builds, wording.Answering{Build: b.ID, Verdict: verdict, Value: v, Owners: b.ID == owners})
			}
			slices.SortStableFunc(out.Builds, func(x, y wording.Answering) int { return cmp.Compare(order(x.Verdict), order(y.Verdict)) })
			return out
		}
	}
	return nil
}

func order(v finding.Verdict) int {
	return slices.Index([]finding.Verdict{finding.Clear, finding.NoLimit, finding.Close, finding.Over, finding.Unknown}, v)
}

// judged reports whether a rule looks at a figure.
func judged(code string) bool {
	return slices.ContainsFunc(append(finding.Rules(), finding.RoadRules()...), func(r finding.Rule) bool { return r.Judges == code })
}

// valueOf is the value of the answer that a figure of the evidence is.
func valueOf(a *study.Answer, code, build string, g *got) *figure.Value {
	for i := range a.Values {
		v := &a.Values[i]
		if v.Code == code && v.Place.Build == build && v.Place.Corner == g.place.Corner && v.Value == g.v && v.Tier != figure.Screening { //nolint:floateq // the same figure
			return v
		}
	}
	return nil
}

// The chances up to which a build answers the owner's words, and from which it does
// not. Chosen.
const (
	surely   = 0.05
	unlikely = 0.5
)

// verdictOf is whether a figure answers the owner's words: by the limit that it is
// judged by and the chance that it is broken; where it has none, by the table.
func verdictOf(a *study.Answer, v *figure.Value, e *evidence, g *got) finding.Verdict {
	if v != nil {
		if verdict, limit := finding.One(a, v); limit != nil {
			switch p := a.Broken(v, limit.Value, limit.Upper); {
			case verdict == finding.Over || p >= unlikely:
				return finding.Over
			case p <= surely:
				return finding.Clear
			}
			return verdict
		}
	}
	if up := e.speaks > e.silences; up && g.v >= e.speaks || !up && g.v <= e.speaks {
		return finding.Over
	}
	return finding.Clear
}

// better reports whether a figure is further from what speaks for a cause than another.
func better(e *evidence, is, was float64) bool {
	if e.speaks > e.silences {
		return is < was
	}
	return is > was
}

// clauses are the parts of the owner's words, in their order.
func clauses(words string) []string {
	var out []string
	for _, part := range strings.FieldsFunc(words, func(c rune) bool { return strings.ContainsRune(",.;:!?", c) }) {
		part = strings.TrimPrefix(strings.TrimPrefix(strings.TrimSpace(part), "and "), "but ")
		if part != "" {
			out = append(out, part)
		}
	}
	return out
}
