package wording

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"trunnion/chassis/axles"

	"trunnion/chassis/car"
	"trunnion/chassis/strut"
	"trunnion/shop/quantity"
)

// LoadColumns are what a strut is told by, case after case.
func LoadColumns() []Column[strut.Moment] {
	type m = strut.Moment
	return []Column[m]{
		{"travel", "travel_m", "m", func(p *m) float64 { return p.Travel }},
		{"along strut", "along_n", "N", func(p *m) float64 { return -p.Forces.Along }},
		{"side load", "side_n", "N", func(p *m) float64 { return p.Forces.Across }},
		{"guide", "guide_n", "N", func(p *m) float64 { return p.Bearing.Guide }},
		{"lower", "lower_n", "N", func(p *m) float64 { return p.Bearing.Lower }},
		{"bending", "stress_pa", Stress, func(p *m) float64 { return p.Bearing.Stress }},
		{"bends by", "deflection_m", "m", func(p *m) float64 { return p.Bearing.Deflection }},
		{"break-away", "break_away_n", "N", func(p *m) float64 { return p.BreakAway }},
		{"ball joint", "ball_n", "N", func(p *m) float64 { return size(p.Forces.Ball.X, p.Forces.Ball.Y, p.Forces.Ball.Z) }},
		{"tie rod", "tie_n", "N", func(p *m) float64 { return p.Forces.Tie }},
		{"", "top_x_n", "N", func(p *m) float64 { return p.Forces.Top.X }},
		{"", "top_y_n", "N", func(p *m) float64 { return p.Forces.Top.Y }},
		{"", "top_z_n", "N", func(p *m) float64 { return p.Forces.Top.Z }},
		{"", "spring_n", "N", func(p *m) float64 { return p.Forces.Spring }},
		{"on the guide", "guide_pressure_pa", Stress, func(p *m) float64 { return known(p.Bearing.GuidePressure) }},
		{"on the lower", "lower_pressure_pa", Stress, func(p *m) float64 { return known(p.Bearing.LowerPressure) }},
		{"", "moment_nm", "N m", func(p *m) float64 { return p.Bearing.Moment }},
		{"", "friction_n", "N", func(p *m) float64 { return p.Bearing.Friction }},
		{"", "over_guide_m", "m", func(p *m) float64 { return p.Bearing.Over }},
		{"", "bearing_spacing_m", "m", func(p *m) float64 { return p.Bearing.Apart }},
	}
}

// StrutLoad says what a wheel carries in a case over what it carries standing;
// empty where that is no question.
func (t *Teller) StrutLoad(k *axles.StrutCase) string {
	if k.Err != nil || k.Code == axles.StrutStanding || strings.HasSuffix(k.Code, axles.StrutHardest) {
		return ""
	}
	return fmt.Sprintf("%s, at %s of travel. %s", t.StrutCaseLoaded(k), t.length(k.Travel), t.StrutLoaded(k))
}

// StrutName is what a strut is called: its build's name, and its side where the two
// are not alike.
func StrutName(one *axles.BuildStrut) string {
	if !one.Sided {
		return one.Build.Name
	}
	return one.Build.Name + ", " + car.SideNames[one.Side]
}

// StrutSides says what is assumed where the struts of an axle are not alike.
func StrutSides() string {
	return "The two struts are not alike. An obstacle that only one wheel meets may be met by either: the load and travel of the wheel that met it are taken for both."
}

// StrutAgainst says what a build's strut does against the baseline's.
func (t *Teller) StrutAgainst(is, was *axles.BuildStrut, r *axles.StrutRatio) string {
	return fmt.Sprintf("“%s” against “%s”, %s: bending stress × %s, force on the guide × %s, break-away at the wheel × %s.",
		StrutName(is), StrutName(was), lower(t.StrutCaseLoaded(&is.Cases[r.Case])), times(r.Stress), times(r.Guide), times(r.Away))
}

func times(v float64) string {
	if math.IsNaN(v) {
		return "?"
	}
	return fmt.Sprintf("%.2f", v)
}

// StrutOver heads the table of a strut over its travel.
func (t *Teller) StrutOver(build string) string {
	return fmt.Sprintf("“%s” over its travel, under the load that springs and stop carry there", build)
}

// costs say what inverting a strut costs.
var costs = map[strut.Cost]string{
	strut.BushFriction:   "two wide bushes rub under side load",
	strut.NeedsGrease:    "the bushes run in grease of their own",
	strut.DryStiction:    "friction more than doubles when they run dry",
	strut.ServiceDue:     "bushes, seals and grease are service parts",
	strut.TrappedAir:     "an outer tube without a vent is a gas spring",
	strut.HeatInTube:     "the body cools worse inside the outer tube",
	strut.UnsprungWeight: "the outer tube is wider and moves with the wheel",
	strut.GasByInnerRod:  "gas pushes on the inner rod's area, not on the body's",
}

// InversionCosts say what inverting a strut costs, in one sentence.
func InversionCosts() string {
	text := ""
	for i, c := range strut.InversionCosts() {
		if i > 0 {
			text += "; "
		}
		text += costs[c]
	}
	return "What inverting costs (common practice, no source): " + text + "."
}

// StrutAssumptions are what the forces rest on.
func StrutAssumptions() string {
	return "Cornering and braking loads come from the car's own balance, roll and unsprung mass, unless they were set. Assumed: brakes share their force as the wheels are loaded; cornering and braking together are 0.71 of each. Over an obstacle the tyre load is the simulation's, less the force that throws the wheel itself up. Assumed: at a pothole or kerb a longitudinal force follows the slope of the edge under a rigid wheel. Valve force counts with the spring. Parts are rigid, except for the bending of rod or body. The figures compare builds; none says that a part will hold."
}

// Buckling says how near a strut's rod or body comes to buckling.
func (t *Teller) Buckling(build, where string, share float64, yields bool) string {
	how := "by Euler, its yield strength is not known"
	if yields {
		how = "by Euler or Johnson with the yield strength given"
	}
	return fmt.Sprintf("“%s”, %s: the force along the strut is %.1f %% of the buckling load of rod or body between mount and lower bearing, %s.",
		build, lower(where), share/quantity.Percent, how)
}

// StraightSpring says how a spring leaves the rod without side load.
func (t *Teller) StraightSpring(build string, angle float64) string {
	return fmt.Sprintf("“%s”, standing: a spring through the top mount at %s to the damper's axis would leave no side load.", build, t.degrees(angle))
}

// LoadChanges heads the table of what changes do.
func (t *Teller) LoadChanges(build, where string) string {
	return fmt.Sprintf("What changes do to the strut of “%s”, %s", build, lower(where))
}

func size(x, y, z float64) float64 { return math.Sqrt(x*x + y*y + z*z) }

// StrutsTitle heads the forces in the struts of a car's axle; sides where left and
// right differ.
func (t *Teller) StrutsTitle(name, axle string, all *axles.Struts, sides bool) string {
	text := name + ", " + axle + " axle: forces in the strut" + t.loaded(all.Ask.Load) + ", " + car.SideNames[all.Loaded()] + " side"
	if sides {
		text += "; both sides where they differ"
	}
	return text
}

// StrutSide says which strut of an axle stands for a build with two alike.
func StrutSide(all *axles.Struts) string {
	return "Where a build's two struts are alike, the figures are those of the " + car.SideNames[all.Loaded()] + " one: its wheel carries more, or as much."
}

// Unguided says which build is left out, because its guide is not known.
func Unguided(b *car.Build) string {
	return "“" + b.Name + "” is left out: the guide of its strut is not entered."
}

// StrutsRefused says why no strut of an axle can be put under loads; empty for
// other errors.
func StrutsRefused(err error, axle string) string {
	switch {
	case errors.Is(err, axles.ErrNoStrut):
		return "the job gives no hardpoints of a strut on the " + axle + " axle"
	case errors.Is(err, axles.ErrNoGuide):
		return "no build says how its strut is guided: enter guide under its damper"
	}
	return ""
}

// StrutCaseFailed says that a case of a strut has no answer, and why.
func (t *Teller) StrutCaseFailed(k *axles.StrutCase) string {
	return t.StrutCaseLoaded(k) + ". " + t.StrutFault(k.Err)
}
