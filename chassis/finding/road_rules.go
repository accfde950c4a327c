package finding

import (
	"math"
	"slices"
	"strings"

	"trunnion/chassis/brief"
	"trunnion/chassis/drives"
	"trunnion/chassis/figure"
	"trunnion/chassis/study"
)

// roadRule is something a specialist looks for in values that have more to
// their place than a corner: roads, speeds and events, or a named limit. They
// are judged by their bands.
type roadRule struct {
	Rule
	applies func(a *study.Answer, v *figure.Value) bool
	// only, where given, is how likely it is that the value matters at all: the chance
	// that it is over is no greater. [-]
	only func(a *study.Answer, v *figure.Value) float64
}

// stopBlowShare is the force of a stop over an obstacle that is a blow, over what the
// corner carries at rest: common practice, no source. [-]
const stopBlowShare = 0.7

// limitAt is the limit of a value: what scales does so with the load of its corner at rest
// on the baseline.
func (r *roadRule) limitAt(base *study.Answer, b *brief.Brief, v *figure.Value) *Limit {
	return r.limit(b, false, base.Get("corner-load", base.Reference, v.Place.Load, v.Place.Corner))
}

// lifeThatMatters is the share of a mount's life in 1e8 m under which nobody asks how
// it compares: common practice, no source. [-]
const lifeThatMatters = 0.2

// wornAtAll is how likely a mount loses that much by its rated range.
func wornAtAll(a *study.Answer, v *figure.Value) float64 {
	p := v.Place
	p.At = figure.Must("mount-life-share").At
	life := a.At("mount-life-share", p)
	if life == nil || life.State == figure.Unknown {
		return 1
	}
	_, chance := bandVerdict(life, fixed(lifeThatMatters, "1", true, practice))
	return chance
}

// RoadRules returns the rules over drives, gravest first.
func RoadRules() []Rule {
	out := make([]Rule, len(roadRules))
	for i := range roadRules {
		out[i] = roadRules[i].Rule
	}
	return out
}

var roadRules = []roadRule{
	{
		Rule: Rule{
			Code: "limit-met-first", Judges: "end-before-limit", Consequence: 0.95,
			Meaning: "a hose, shaft, joint or the ground is met before the stop or the damper ends the travel",
			Default: "the stop or the damper first",
			limit: func(*brief.Brief, bool, *figure.Value) *Limit {
				return own("m", false)
			},
		},
		applies: func(*study.Answer, *figure.Value) bool { return true },
	},
	{
		Rule: Rule{
			Code: "leaves-the-ground", Judges: "flight-time", Upper: true, Consequence: 0.95,
			Meaning: "an obstacle of the brief throws the whole car off the ground at the speed it is driven",
			Default: "not at all: a car in the air is neither steered nor braked",
			limit: func(*brief.Brief, bool, *figure.Value) *Limit {
				return own("s", true)
			},
		},
		applies: func(_ *study.Answer, v *figure.Value) bool { return v.Place.Event != "" },
	},
	{
		Rule: Rule{
			Code: "wheel-leaves-ground", Judges: "wheel-off-time", Upper: true, Consequence: 0.5,
			Meaning: "a wheel leaves the ground over a kerb, hump or crest of the brief for longer than a hop",
			Default: "the time of one hop of the wheel: over the edge of a hole every wheel is light for less",
			limit: func(*brief.Brief, bool, *figure.Value) *Limit {
				return fixed(0.1, "s", true, practice)
			},
		},
		applies: func(_ *study.Answer, v *figure.Value) bool { return v.Place.Event != "" },
	},
	{
		Rule: Rule{
			Code: "hits-stops-hard", Judges: "stop-hits", Upper: true, Consequence: 0.8,
			Meaning: "the bump stops are hit hard again and again on a road of the brief",
			Default: "entries above a quarter of the car's mean corner load in the usual load state, in steps of 250 N: a heavier car hits its stops harder before anybody minds; ten on a kilometre",
			limit: func(*brief.Brief, bool, *figure.Value) *Limit {
				return fixed(0.01, "1/m", true, practice)
			},
		},
		applies: func(a *study.Answer, v *figure.Value) bool {
			forces := drives.OptionsOf(a).StopForces
			return len(forces) > 0 && v.Place.Threshold == forces[0] //nolint:floateq // one of them
		},
	},
	{
		Rule: Rule{
			Code: "stop-blow", Judges: "stop-force-peak", Upper: true, Consequence: 0.7,
			Meaning: "an obstacle of the brief drives the bump-stop force high",
			Default: "0.7 of the corner's load at rest, on the baseline in that load state: the same newtons for every build, and a heavier car's stop may push harder",
			limit: func(b *brief.Brief, _ bool, load *figure.Value) *Limit {
				if l := chosen(&b.Limits.StopForce, "N", true); l != nil {
					return l
				}
				if load == nil || load.State == figure.Unknown {
					return nil
				}
				return fixed(stopBlowShare*load.Value, "N", true, "0.7 of the corner's load, "+practice)
			},
		},
		applies: func(_ *study.Answer, v *figure.Value) bool { return v.Place.Event != "" },
	},
	{
		Rule: Rule{
			Code: "tyre-goes-light", Judges: "tyre-light-share", Upper: true, Consequence: 0.6,
			Meaning: "a tyre has less than a fifth of its load for more than a hundredth of the time",
			Default: "a hundredth of the time",
			limit: func(*brief.Brief, bool, *figure.Value) *Limit {
				return fixed(0.01, "1", true, practice)
			},
		},
		applies: func(_ *study.Answer, v *figure.Value) bool { return v.Place.Road != "" },
	},
	{
		Rule: Rule{
			Code: "mount-wears", Judges: "mount-damage-relative", Upper: true, Consequence: 0.3,
			Meaning: "what passes through an upper mount on the brief's roads wears it much faster than on the baseline",
			Default: "ten times, where the rated range of both mounts was entered and that of this one says that a fifth of its life may go in 1e8 metres",
			limit: func(*brief.Brief, bool, *figure.Value) *Limit {
				return fixed(10, "1", true, practice)
			},
		},
		applies: func(_ *study.Answer, v *figure.Value) bool {
			return v.Place.Road == "" && v.State != figure.Unknown && !slices.Contains(v.Warnings, drives.MountRatingAssumed)
		},
		only: wornAtAll,
	},
	{
		Rule: Rule{
			Code: "keeps-bouncing", Judges: "bounce-left", Upper: true, Consequence: 0.4,
			Meaning: "the second bounce after a hump is much of the first",
			Default: "what a damping ratio of about 0.15 leaves",
			limit: func(*brief.Brief, bool, *figure.Value) *Limit {
				return fixed(0.4, "1", true, practice)
			},
		},
		applies: func(_ *study.Answer, v *figure.Value) bool {
			return Swings(v.Place.Event)
		},
	},
}

// Swings reports an obstacle behind which the body swings freely.
func Swings(event string) bool {
	return strings.Contains(event, "hump") || strings.Contains(event, "crest") || strings.Contains(event, "hollow")
}

// judgeRoads judges the values of drives: per build, rule and axle the worst
// place, clear ones once.
func judgeRoads(a *study.Answer, b *brief.Brief) []Finding {
	var out []Finding
	for _, build := range a.Job.Builds {
		for i := range roadRules {
			out = append(out, judgeRoadRule(a, b, build.ID, &roadRules[i])...)
		}
	}
	return out
}

func judgeRoadRule(a *study.Answer, b *brief.Brief, build string, r *roadRule) []Finding {
	var axle [2]*Finding
	for i := range a.Values {
		v := &a.Values[i]
		if !r.looksAt(a, v, build) {
			continue
		}
		f := Finding{Code: r.Code, Value: v, Consequence: r.Consequence, Limit: r.limitAt(a, b, v)}
		r.judge(a, &f)
		if build != a.Reference {
			p := v.Place
			p.Build = a.Reference
			f.Versus = a.At(v.Code, p)
		}
		x := max(0, v.Place.Corner) / 2
		if v.Place.Mode == "rear" {
			x = 1
		}
		if axle[x] == nil || worse(&f, axle[x]) {
			axle[x] = &f
		}
	}
	var out []Finding
	for _, f := range axle {
		if f != nil && f.loud() {
			out = append(out, *f)
		}
	}
	if len(out) > 0 {
		return out
	}
	switch {
	case axle[0] != nil && (axle[1] == nil || worse(axle[0], axle[1])):
		return []Finding{*axle[0]}
	case axle[1] != nil:
		return []Finding{*axle[1]}
	}
	return nil
}

// judge gives a finding its verdict.
func (r *roadRule) judge(a *study.Answer, f *Finding) {
	f.Verdict, f.Probability = bandVerdict(f.Value, f.Limit)
	if r.only != nil && f.Verdict != Unknown {
		f.Probability = math.Min(f.Probability, r.only(a, f.Value))
		f.Verdict = byChance(f.Probability)
	}
}

// looksAt reports whether a value of a build is judged by a rule.
func (r *roadRule) looksAt(a *study.Answer, v *figure.Value, build string) bool {
	return v.Code == r.Judges && v.Place.Build == build && (v.State != figure.Unknown || v.Tier == figure.Time) && v.Tier != figure.Screening && r.applies(a, v)
}

// bandVerdict judges a value by its band alone; a value without one by itself.
func bandVerdict(v *figure.Value, l *Limit) (Verdict, float64) {
	if v.State == figure.Unknown || math.IsNaN(v.Value) {
		return Unknown, 0
	}
	p := 0.0
	if v.Value > l.Value == l.Upper {
		p = 1
	}
	if v.HasBand && v.High > v.Low {
		p = study.Beyond(v, l.Value, l.Upper)
	}
	return byChance(p), p
}

// byChance is the verdict on a chance to be over a limit.
func byChance(p float64) Verdict {
	switch {
	case p >= 0.975:
		return Over
	case p > 0.025:
		return Close
	}
	return Clear
}
