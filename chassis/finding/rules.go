package finding

import (
	"math"
	"slices"

	"trunnion/chassis/brief"
	"trunnion/chassis/figure"
	"trunnion/chassis/study"
)

// Rule is one thing a specialist looks for.
type Rule struct {
	Code        string
	Judges      string  // code of the value
	Upper       bool    // the value must stay below the limit
	Consequence float64 // weight, 0 to 1: common practice, no source [-]
	Meaning     string
	Default     string // the limit when the brief has none, in words
	UsualOnly   bool   // judged in the usual load state only

	// limit returns the limit in a load state, or nil for none. reference is
	// the value of the reference build at the same place, or nil.
	limit func(b *brief.Brief, usual bool, reference *figure.Value) *Limit
	// near widens "close" by this much on the good side of the limit. [SI]
	near float64
	// plain judges the figure as it is, its band left out. It has no "close".
	plain bool
	// whereKnown leaves places without a value out: there is no ratio where nothing
	// swings, and another rule says what is wrong there.
	whereKnown bool
}

// DefaultLimit returns the limit that is used when the brief chose none; nil
// when there is none, or when it comes from the reference build.
func (r *Rule) DefaultLimit() *Limit { return r.limit(&brief.Brief{}, true, nil) }

func chosen(in *figure.Input, unit string, upper bool) *Limit {
	if !in.Known() {
		return nil
	}
	return &Limit{Value: in.Value, Unit: unit, Upper: upper, From: in.Path}
}

func fixed(v float64, unit string, upper bool, basis string) *Limit {
	return &Limit{Value: v, Unit: unit, Upper: upper, From: "default", Basis: basis}
}

// own is a limit that the rule's own words say: zero of its figure.
func own(unit string, upper bool) *Limit {
	l := fixed(0, unit, upper, practice)
	l.Self = true
	return l
}

const practice = "common practice, no source"

// Rules returns the rules, gravest first.
func Rules() []Rule {
	return slices.Concat(rules, cornerRules, standRules, rollingRules())
}

var rules = []Rule{
	{
		Code: "spring-loose-at-droop", Judges: "spring-gap-open", Upper: true, Consequence: 0.9, UsualOnly: true, near: 3e-3,
		Meaning: "the spring leaves its seat before the damper is fully open",
		Default: "the seat itself; a few millimetres of preload count as close",
		limit: func(b *brief.Brief, _ bool, _ *figure.Value) *Limit {
			if l := chosen(&b.Limits.SpringLoose, "m", true); l != nil {
				return l
			}
			return own("m", true)
		},
	},
	{
		Code: "coils-touch-first", Judges: "solid-before-block", Consequence: 0.9, UsualOnly: true,
		Meaning: "the spring's coils touch before the bump stop is solid",
		Default: "some wheel travel between the stop solid and the coils touching",
		limit: func(b *brief.Brief, _ bool, _ *figure.Value) *Limit {
			if l := chosen(&b.Limits.BlockLeft, "m", false); l != nil {
				return l
			}
			return fixed(6e-3, "m", false, practice)
		},
	},
	{
		Code: "tyre-meets-arch-first", Judges: "solid-before-arch", Consequence: 0.85, UsualOnly: true,
		Meaning: "the tyre meets the arch before the bump stop is solid",
		Default: "0.005 m of wheel travel, and up to twice that counts as close, on every car alike: dirt, a tyre's growth and a bush's give are as great under a small car as under a large one",
		near:    5e-3,
		limit: func(b *brief.Brief, _ bool, _ *figure.Value) *Limit {
			if l := chosen(&b.Limits.ArchLeft, "m", false); l != nil {
				return l
			}
			return fixed(5e-3, "m", false, practice)
		},
	},
	{
		Code: "stop-carries-load", Judges: "stop-share", Upper: true, Consequence: 0.8,
		Meaning: "the bump stop carries part of the car at rest",
		Default: "a fiftieth of the corner's load",
		limit: func(_ *brief.Brief, _ bool, _ *figure.Value) *Limit {
			return fixed(0.02, "1", true, practice)
		},
	},
	{
		Code: "rests-on-bump-stop", Judges: "travel-to-stop", Consequence: 0.75,
		Meaning: "too little bump travel is left before the stop is touched",
		Default: "none: many cars touch their stops by design",
		limit: func(b *brief.Brief, usual bool, _ *figure.Value) *Limit {
			if usual {
				return chosen(&b.Limits.BumpLeft, "m", false)
			}
			return chosen(&b.Limits.BumpLeftLaden, "m", false)
		},
	},
	{
		Code: "stop-firm-too-soon", Judges: "travel-to-stop-firm", Consequence: 0.7,
		Meaning: "too little bump travel is left before the stop is firm",
		Default: "none",
		limit: func(b *brief.Brief, _ bool, _ *figure.Value) *Limit {
			return chosen(&b.Limits.FirmLeft, "m", false)
		},
	},
	{
		Code: "catches-less-than-before", Judges: "catch-speed", Consequence: 0.6,
		Meaning: "spring and stop absorb less bump velocity than on the baseline",
		Default: "three quarters of the baseline in the same load state",
		limit: func(_ *brief.Brief, _ bool, reference *figure.Value) *Limit {
			if reference == nil || reference.State == figure.Unknown {
				return nil
			}
			return &Limit{Value: 0.75 * reference.Value, Unit: "m/s", From: "reference build", Basis: practice}
		},
	},
	{
		Code: "droop-short", Judges: "travel-to-open", Consequence: 0.5, UsualOnly: true,
		Meaning: "too little rebound travel is left before the damper is fully open",
		Default: "none",
		limit: func(b *brief.Brief, _ bool, _ *figure.Value) *Limit {
			return chosen(&b.Limits.DroopLeft, "m", false)
		},
	},
	{
		Code: "damping-low", Judges: "damping-ratio", Consequence: 0.6,
		Meaning: "the damper is weak for this spring and load: the body keeps moving",
		Default: "mean of bump and rebound; at this ratio the second bounce is 39 % of the first",
		limit: func(_ *brief.Brief, _ bool, _ *figure.Value) *Limit {
			return fixed(0.15, "1", false, practice)
		},
	},
	{
		Code: "damping-high", Judges: "damping-ratio", Upper: true, Consequence: 0.4,
		Meaning: "the damper is strong for this spring and load: the wheel is slow to follow the road",
		Default: "mean of bump and rebound",
		limit: func(_ *brief.Brief, _ bool, _ *figure.Value) *Limit {
			return fixed(0.8, "1", true, practice)
		},
	},
	{
		Code: "rear-slower-than-front", Judges: "frequency-ratio", Consequence: 0.2, UsualOnly: true,
		Meaning: "the rear is slower than the front: a choice, not a fault",
		Default: "none",
		limit:   func(*brief.Brief, bool, *figure.Value) *Limit { return nil },
	},
}

// verdict judges a value: over and clear when all but a fortieth of the draws
// say so, close between.
func (r *Rule) verdict(a *study.Answer, v *figure.Value, l *Limit) (Verdict, float64) {
	if v == nil || v.State == figure.Unknown || math.IsNaN(v.Value) {
		return Unknown, 0
	}
	if l == nil {
		return NoLimit, 0
	}
	const tail = 0.025
	p := a.Broken(v, l.Value, l.Upper)
	if r.plain {
		p = 0
		if v.Value > l.Value == l.Upper && v.Value != l.Value {
			p = 1
		}
	}
	near := l.Value + r.near
	if l.Upper {
		near = l.Value - r.near
	}
	switch {
	case p >= 1-tail:
		return Over, p
	case p > tail:
		return Close, p
	case r.near > 0 && a.Broken(v, near, l.Upper) > tail:
		return Close, p
	}
	return Clear, p
}

func ruleOf(code string) *Rule {
	for i := range rules {
		if rules[i].Code == code {
			return &rules[i]
		}
	}
	for i := range roadRules {
		if roadRules[i].Code == code {
			return &roadRules[i].Rule
		}
	}
	return nil
}
