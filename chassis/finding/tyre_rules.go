package finding

import (
	"trunnion/chassis/brief"
	"trunnion/chassis/figure"
)

// rollingRules are those of tyres and of struts.
func rollingRules() []Rule { return append(tyreRules[:len(tyreRules):len(tyreRules)], strutRules...) }

// tyreRules are what a specialist looks for where a build stands on other tyres or
// wheels. What a tyre meets in the arch over its travel is judged with the stops.
var tyreRules = []Rule{
	{
		Code: "tyre-overloaded", Judges: "tyre-load-share", Upper: true, Consequence: 0.95,
		Meaning: "a tyre carries more than its load index stands for at its pressure",
		Default: "what the load index stands for, less below the pressure it is given at; up to the speed from which its maker asks for more pressure",
		limit: func(*brief.Brief, bool, *figure.Value) *Limit {
			return fixed(1, "1", true, "UN Regulation 30, annex 4; below the pressure of the index by ETRTO, from memory")
		},
	},
	{
		Code: "tyre-near-strut", Judges: "strut-gap", Consequence: 0.9, UsualOnly: true,
		Meaning: "the tyre comes too near strut, spring seat or arm",
		Default: "five millimetres",
		limit:   func(*brief.Brief, bool, *figure.Value) *Limit { return fixed(5e-3, "m", false, practice) },
	},
	{
		Code: "tyre-near-liner", Judges: "liner-gap", Consequence: 0.5, UsualOnly: true,
		Meaning: "the tread comes too near the liner at full lock",
		Default: "five millimetres",
		limit:   func(*brief.Brief, bool, *figure.Value) *Limit { return fixed(5e-3, "m", false, practice) },
	},
	{
		Code: "tyre-outside-lip", Judges: "lip-gap", Consequence: 0.55, UsualOnly: true,
		Meaning: "the tyre's side stands outside the lip of the arch, which then ends the travel",
		Default: "the lip itself",
		limit:   func(*brief.Brief, bool, *figure.Value) *Limit { return own("m", false) },
	},
	{
		Code: "speedometer-reads-low", Judges: "speed-over-shown", Upper: true, Consequence: 0.65, UsualOnly: true,
		Meaning: "the car is driven faster than its speedometer shows",
		Default: "as fast as shown",
		limit:   func(*brief.Brief, bool, *figure.Value) *Limit { return own("1", true) },
	},
}

// strutRules are what wheels farther out, and all else a build changes, do to its
// struts. They are compared with the reference build and judged by the figures as they
// are: what is not known of the points moves both builds alike.
var strutRules = []Rule{
	{
		Code: "strut-side-load-up", Judges: "strut-side-load", Upper: true, Consequence: 0.5, UsualOnly: true, plain: true,
		Meaning: "the side load of a standing strut is greater than on the baseline: it breaks away later and wears more",
		Default: "a tenth more than the baseline",
		limit: func(_ *brief.Brief, _ bool, reference *figure.Value) *Limit {
			return more(fromReference(reference, func(v float64) float64 { return 1.1 * v }, "N"))
		},
	},
	{
		Code: "strut-binds-in-bend", Judges: "strut-side-load-in-bend", Upper: true, Consequence: 0.5, UsualOnly: true, plain: true,
		Meaning: "the side load of a strut in a hard corner is greater than on the baseline: it binds more",
		Default: "a tenth more than the baseline",
		limit: func(_ *brief.Brief, _ bool, reference *figure.Value) *Limit {
			return more(fromReference(reference, func(v float64) float64 { return 1.1 * v }, "N"))
		},
	},
	{
		Code: "rod-bends-more", Judges: "strut-bending-stress", Upper: true, Consequence: 0.5, UsualOnly: true, plain: true,
		Meaning: "the rod, or the body of an inverted strut, bends more in a hard corner than on the baseline",
		Default: "a tenth more than the baseline",
		limit: func(_ *brief.Brief, _ bool, reference *figure.Value) *Limit {
			return more(fromReference(reference, func(v float64) float64 { return 1.1 * v }, "Pa"))
		},
	},
	{
		Code: "scrub-radius-up", Judges: "scrub-radius", Upper: true, Consequence: 0.4, UsualOnly: true, plain: true,
		Meaning: "the scrub radius is greater than on the baseline: brakes and ruts pull at the steering",
		Default: "ten millimetres more than the baseline",
		limit: func(_ *brief.Brief, _ bool, reference *figure.Value) *Limit {
			return more(fromReference(reference, func(v float64) float64 { return v + 0.010 }, "m"))
		},
	},
}

// more makes a limit one that the value must stay below; nil for none.
func more(l *Limit) *Limit {
	if l != nil {
		l.Upper = true
	}
	return l
}
