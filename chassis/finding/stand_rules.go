package finding

import (
	"trunnion/chassis/brief"
	"trunnion/chassis/figure"
)

// Where a car may stand crooked when nobody says otherwise.
const (
	crossOff   = 0.02  // of the weight on the wrong diagonal [-]
	sideToSide = 10e-3 // between the arches of an axle [m]
	rakeOff    = 10e-3 // of the baseline's [rad]
)

// standRules are about how the car stands on level ground with its usual load.
var standRules = []Rule{
	{
		Code: "cross-weight-off", Judges: "cross-off-half", Upper: true, Consequence: 0.3, UsualOnly: true,
		Meaning: "one diagonal carries more than the other: the car turns one way better than the other, and brakes lock at one corner first",
		Default: "0.02 of the car's weight: a share scales with the car. Collars are set to 0.005; springs on fixed seats come out within this",
		limit: func(b *brief.Brief, _ bool, _ *figure.Value) *Limit {
			if l := chosen(&b.Limits.CrossOff, "1", true); l != nil {
				return l
			}
			return fixed(crossOff, "1", true, practice)
		},
	},
	{
		Code: "stands-crooked", Judges: "side-lower", Upper: true, Consequence: 0.25, UsualOnly: true, plain: true,
		Meaning: "one side of an axle stands lower than the other",
		Default: "0.01 m on every car alike: it is what an eye sees between two arches, however large the car",
		limit: func(b *brief.Brief, _ bool, _ *figure.Value) *Limit {
			if l := chosen(&b.Limits.SideToSide, "m", true); l != nil {
				return l
			}
			return fixed(sideToSide, "m", true, practice)
		},
	},
	{
		Code: "stands-nose-up", Judges: "rake-change", Consequence: 0.25, UsualOnly: true,
		Meaning: "the nose stands higher against the tail than on the baseline: lamps dazzle, and the front gets lighter at speed",
		Default: "0.01 rad from the baseline: an angle, so that the wheelbase is in it. It is the least dip that lamps are set to",
		limit: func(b *brief.Brief, _ bool, reference *figure.Value) *Limit {
			return rakeLimit(&b.Limits.Rake, -1, reference)
		},
	},
	{
		Code: "stands-nose-down", Judges: "rake-change", Upper: true, Consequence: 0.2, UsualOnly: true,
		Meaning: "the nose stands lower against the tail than on the baseline: lamps light less of the road, and the rear gets lighter in braking",
		Default: "0.01 rad from the baseline, as nose up",
		limit: func(b *brief.Brief, _ bool, reference *figure.Value) *Limit {
			return rakeLimit(&b.Limits.Rake, 1, reference)
		},
	},
}

// rakeLimit is how far a build may be pitched from the baseline; nil without one.
func rakeLimit(in *figure.Input, way float64, reference *figure.Value) *Limit {
	if reference == nil || reference.State == figure.Unknown {
		return nil
	}
	l := &Limit{Value: reference.Value + way*rakeOff, Unit: "rad", Upper: way > 0, From: "reference build", Basis: practice}
	if in.Known() {
		l.Value, l.Basis = reference.Value+way*in.Value, "chosen: "+in.Path
	}
	return l
}
