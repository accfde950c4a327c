package finding

import (
	"trunnion/chassis/brief"
	"trunnion/chassis/figure"
	"trunnion/chassis/study"
)

// One judges one value of an answer by the rule that looks at its code, as
// Judge does; NoLimit where no rule does. Of two rules over one code, the graver
// verdict counts.
func One(a *study.Answer, v *figure.Value) (Verdict, *Limit) {
	if v == nil {
		return Unknown, nil
	}
	b := a.Job.Brief
	if b == nil {
		b = &brief.Brief{}
	}
	usual := usualLoad(a, b)
	best, bestLimit := Verdict(""), (*Limit)(nil)
	list := Rules()
	for i := range list {
		r := &list[i]
		if r.Judges != v.Code || r.UsualOnly && v.Place.Load != usual {
			continue
		}
		if cornerRule(r.Code) != nil {
			// Of several of one code the first is judged: in a bend, at the highest speed.
			if first := a.Get(v.Code, v.Place.Build, v.Place.Load, v.Place.Corner); first == nil || first.Place != v.Place {
				continue
			}
		}
		l := r.limit(b, v.Place.Load == usual, a.Get(v.Code, a.Reference, v.Place.Load, v.Place.Corner))
		if l != nil && l.From == "reference build" && v.Place.Build == a.Reference {
			l = nil
		}
		if verdict, _ := r.verdict(a, v, l); best == "" || verdict.grade() < best.grade() {
			best, bestLimit = verdict, l
		}
	}
	if v.Tier == figure.Time {
		for i := range roadRules {
			r := &roadRules[i]
			if r.Judges != v.Code || !r.applies(a, v) {
				continue
			}
			l := r.limitAt(a, b, v)
			if verdict, _ := bandVerdict(v, l); best == "" || verdict.grade() < best.grade() {
				best, bestLimit = verdict, l
			}
		}
	}
	switch {
	case best != "":
		return best, bestLimit
	case v.State == figure.Unknown:
		return Unknown, nil
	}
	return NoLimit, nil
}
