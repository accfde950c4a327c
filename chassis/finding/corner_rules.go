package finding

import (
	"math"

	"trunnion/chassis/brief"
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/figure"
	"trunnion/chassis/stability"
	"trunnion/chassis/study"
)

// cornerRules are what a specialist looks for in bends and at speed. Those that
// are compared with the reference build are judged by the figures as they are:
// what is not known of tyres and inertia moves both builds alike.
var cornerRules = []Rule{
	{
		Code: "meets-stop-in-corner", Judges: "stop-contact-acceleration", Consequence: 0.45, UsualOnly: true,
		Meaning: "the outer wheel meets its bump stop in an ordinary corner, and the balance jumps there",
		Default: "four tenths of standard gravity, in the usual load state",
		limit: func(*brief.Brief, bool, *figure.Value) *Limit {
			return fixed(0.4*equilibrium.Gravity, "m/s^2", false, practice)
		},
	},
	{
		Code: "lifts-wheel-in-corner", Judges: "wheel-lift-acceleration", Consequence: 0.4, UsualOnly: true,
		Meaning: "the inner wheel leaves the ground in a corner that is driven on the road",
		Default: "six tenths of standard gravity, in the usual load state: harder than most corners on the road are taken",
		limit: func(*brief.Brief, bool, *figure.Value) *Limit {
			return fixed(0.6*equilibrium.Gravity, "m/s^2", false, practice)
		},
	},
	{
		Code: "less-understeer-than-before", Judges: "understeer-total", Consequence: 0.4, plain: true,
		Meaning: "tyres, links, camber and bushes together leave less understeer than the baseline has",
		Default: "the baseline in the same load state, less 0.00036 rad per metre a second squared",
		limit: func(_ *brief.Brief, _ bool, reference *figure.Value) *Limit {
			const fifth = 0.2 * math.Pi / 180 / equilibrium.Gravity
			return fromReference(reference, func(v float64) float64 { return v - fifth }, "rad/(m/s^2)")
		},
	},
	{
		Code: "unstable-at-speed", Judges: "yaw-settling", Consequence: 0.9,
		Meaning: "at the brief's highest speed a swerve would not die away by itself, steering held: it grows",
		Default: "what neither dies away nor grows",
		limit: func(b *brief.Brief, _ bool, _ *figure.Value) *Limit {
			for i := range b.Roads {
				if len(b.Roads[i].Speeds) > 0 {
					return fixed(0, "1/s", false, "stability of a linear system")
				}
			}
			return nil // nobody said how fast it is driven
		},
	},
	{
		Code: "unstable-with-trailer", Judges: "towing-settling", Consequence: 0.95,
		Meaning: "at the towing speed the swing of car and trailer grows by itself",
		Default: "what neither dies away nor grows",
		limit: func(*brief.Brief, bool, *figure.Value) *Limit {
			return fixed(0, "1/s", false, "stability of a linear system")
		},
	},
	{
		Code: "trailer-swings", Judges: "weave-damping", Consequence: 0.7, whereKnown: true,
		Meaning: "at the towing speed the trailer's swing behind the car dies away slowly",
		Default: "a damping ratio of 0.05",
		limit: func(*brief.Brief, bool, *figure.Value) *Limit {
			return fixed(0.05, "1", false, "the damping at which ISO 9815 reads a reference speed, from memory; as a limit common practice, no source")
		},
	},
	{
		Code: "slow-to-settle-at-speed", Judges: "yaw-settling", Consequence: 0.4, plain: true,
		Meaning: "at the brief's highest speed a swerve takes longer to die away than on the baseline",
		Default: "nine tenths of the baseline's rate in the same load state",
		limit: func(_ *brief.Brief, _ bool, reference *figure.Value) *Limit {
			if reference != nil && !(reference.Value > 0) {
				return nil // one that is unstable itself is nothing to be held against
			}
			return fromReference(reference, func(v float64) float64 { return 0.9 * v }, "1/s")
		},
	},
	{
		Code: "nervous-at-speed", Judges: "yaw-damping", Consequence: 0.4, plain: true, whereKnown: true,
		Meaning: "at the brief's highest speed yaw is damped less than on the baseline",
		Default: "nine tenths of the baseline in the same load state, where both swing",
		limit: func(_ *brief.Brief, _ bool, reference *figure.Value) *Limit {
			return fromReference(reference, func(v float64) float64 { return 0.9 * v }, "1")
		},
	},
}

func fromReference(reference *figure.Value, limit func(float64) float64, unit string) *Limit {
	if reference == nil || reference.State == figure.Unknown {
		return nil
	}
	return &Limit{Value: limit(reference.Value), Unit: unit, From: "reference build", Basis: practice}
}

// nervousFrom is the speed from which a build's yaw is no better than the
// reference's is at the speed that is judged: the cause of a finding. It leaves
// the finding alone where there is none.
func nervousFrom(a *study.Answer, f *Finding) {
	of := map[string]func(stability.Response) float64{
		"nervous-at-speed":        func(r stability.Response) float64 { return r.Damping },
		"slow-to-settle-at-speed": func(r stability.Response) float64 { return r.Settling() },
	}[f.Code]
	if of == nil || !f.loud() || f.Versus == nil || f.Versus.State == figure.Unknown {
		return
	}
	car, err := a.Yaw(f.Value.Place.Build, f.Value.Place.Load)
	if err != nil {
		return
	}
	low, high := 1.0, f.Value.Place.Speed
	for high-low > 0.05 {
		middle := 0.5 * (low + high)
		if of(car.Response(middle)) > f.Versus.Value {
			low = middle
		} else {
			high = middle
		}
	}
	f.Cause = append(f.Cause, Cause{Code: f.Code, Value: high, Unit: "m/s"})
}

// cornerRule returns the rule of a corner by its code; nil for other rules.
func cornerRule(code string) *Rule {
	for i := range cornerRules {
		if cornerRules[i].Code == code {
			return &cornerRules[i]
		}
	}
	return nil
}
