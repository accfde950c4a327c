package finding

import (
	"trunnion/chassis/brief"
	"trunnion/chassis/figure"
	"trunnion/chassis/study"
)

// Every judges every value of a build by every rule, place by place: Judge shows
// the worst of these. got may hold the build alone, a change of it that was put
// through the study again; what is held against the baseline is held against
// that of base.
//
// banded, where given, returns a value with the band it is judged by, in place of
// one that was computed without draws.
func Every(got, base *study.Answer, build string, banded func(*figure.Value) *figure.Value) []Finding {
	b := base.Job.Brief
	if b == nil {
		b = &brief.Brief{}
	}
	usual := usualLoad(base, b)
	var out []Finding
	for i := range standRules {
		out = append(out, every(got, base, b, build, usual, &standRules[i], banded)...)
	}
	for i := range rules {
		out = append(out, every(got, base, b, build, usual, &rules[i], banded)...)
	}
	for i := range cornerRules {
		out = append(out, every(got, base, b, build, usual, &cornerRules[i], banded)...)
	}
	out = append(out, everyDriven(got, base, b, build, banded)...)
	for _, f := range atRest(got) {
		if f.Value.Place.Build == build {
			out = append(out, f)
		}
	}
	return out
}

func every(got, base *study.Answer, b *brief.Brief, build, usual string, r *Rule, banded func(*figure.Value) *figure.Value) []Finding {
	var out []Finding
	for l := range got.Job.Loads {
		load := got.Job.Loads[l].ID
		if r.UsualOnly && load != usual {
			continue
		}
		for _, c := range r.corners() {
			v := got.Get(r.Judges, build, load, c)
			if v == nil || r.whereKnown && v.State == figure.Unknown {
				continue
			}
			reference := base.Get(r.Judges, base.Reference, load, c)
			f := Finding{Code: r.Code, Value: v, Consequence: r.Consequence, Limit: r.limit(b, load == usual, reference)}
			if f.Limit != nil && f.Limit.From == "reference build" && build == base.Reference {
				f.Limit = nil
			}
			if banded != nil {
				f.Value = banded(v)
				f.Verdict, f.Probability = r.byBand(f.Value, f.Limit)
			} else {
				f.Verdict, f.Probability = r.verdict(got, v, f.Limit)
			}
			out = append(out, f)
		}
	}
	return out
}

func everyDriven(got, base *study.Answer, b *brief.Brief, build string, banded func(*figure.Value) *figure.Value) []Finding {
	var out []Finding
	for i := range roadRules {
		r := &roadRules[i]
		for k := range got.Values {
			v := &got.Values[k]
			if !r.looksAt(base, v, build) {
				continue
			}
			f := Finding{Code: r.Code, Value: v, Consequence: r.Consequence, Limit: r.limitAt(base, b, v)}
			if banded != nil {
				f.Value = banded(v)
			}
			r.judge(got, &f)
			out = append(out, f)
		}
	}
	return out
}

// byBand judges a value by its band, taken as normal, as verdict does by draws.
func (r *Rule) byBand(v *figure.Value, l *Limit) (Verdict, float64) {
	if v == nil || l == nil || v.State == figure.Unknown {
		if l == nil && v != nil && v.State != figure.Unknown {
			return NoLimit, 0
		}
		return Unknown, 0
	}
	if r.plain {
		one := *v
		one.HasBand = false
		return bandVerdict(&one, l)
	}
	verdict, p := bandVerdict(v, l)
	if verdict == Clear && r.near > 0 {
		near := *l
		near.Value += r.near
		if l.Upper {
			near.Value = l.Value - r.near
		}
		if close, _ := bandVerdict(v, &near); close != Clear {
			return Close, p
		}
	}
	return verdict, p
}

// Worse reports whether a finding is worse than another of the same rule.
func Worse(f, g *Finding) bool { return worse(f, g) }

// Loud reports a finding that says something is wrong or may be.
func (f *Finding) Loud() bool { return f.loud() }

// Margin is the distance of a finding's value to its limit, positive on the good
// side [SI].
func (f *Finding) Margin() float64 { return f.margin() }

// Axle is the axle a finding is about: 0 the front, 1 the rear, −1 the whole car.
func (f *Finding) Axle() int {
	p := &f.Value.Place
	switch {
	case p.Corner >= 0:
		return p.Corner / 2
	case p.Mode == "front":
		return 0
	case p.Mode == "rear":
		return 1
	}
	return -1
}
