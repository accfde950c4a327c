package wording

import (
	"math"
	"strings"

	"trunnion/chassis/figure"
	"trunnion/shop/quantity"
)

// longestSwerve is from when on a swerve counts as one that neither dies away nor grows:
// it takes longer to halve or double than a lane change lasts many times over.
// Chosen. [s]
const longestSwerve = 60

// Swerve says what a swerve does by itself at a rate of dying away [1/s]: "halves
// in 0.28 s". One that grows doubles.
func (t *Teller) Swerve(rate float64) string {
	time := math.Ln2 / math.Abs(rate)
	switch {
	case time > longestSwerve:
		return "neither dies away nor grows"
	case rate < 0:
		return "doubles in " + t.Amount("", "s", time)
	}
	return "halves in " + t.Amount("", "s", time)
}

// swerve is the same of a figure, with its band.
func (t *Teller) swerve(v *figure.Value) string {
	text := "a swerve " + t.Swerve(v.Value)
	if !v.HasBand || math.Ln2/math.Abs(v.Value) > longestSwerve {
		return text
	}
	if v.Low > 0 == (v.High > 0) {
		first, last := math.Ln2/math.Abs(v.High), math.Ln2/math.Abs(v.Low)
		return text + unitOf("", "s", t.System).band(min(first, last), max(first, last), true)
	}
	return text + " (between “" + t.Swerve(v.Low) + "” and “" + t.Swerve(v.High) + "”)"
}

// speed is the road speed of what is told.
func (c *telling) speed() string {
	return quantity.Format(c.v.Place.Speed, quantity.SpeedRoad, c.t.System, quantity.Auto)
}

// critical is the critical speed beside what is told, as a sentence; empty where
// there is none.
func (c *telling) critical() string { return c.unstableAbove("critical-speed") }

// towing is the same of car and trailer.
func (c *telling) towing() string { return c.unstableAbove("towing-critical-speed") }

func (c *telling) unstableAbove(code string) string {
	if c.t.answer == nil {
		return ""
	}
	p := c.v.Place
	p.Speed, p.At = 0, figure.Must(code).At
	if v := c.t.answer.At(code, p); v != nil && !missing(v) {
		return " It is unstable above " + c.t.Value(v) + "."
	}
	return ""
}

// comma closes the load state where one is named.
func (c *telling) comma() string {
	if c.loaded == "" {
		return ""
	}
	return ","
}

// budgetParts are what understeer is the sum of, in the order in which they are
// named.
var budgetParts = []struct{ code, mode, name string }{
	{"understeer-gradient", "in-a-bend", "tyres"},
	{"links-steer", "front", "front links"},
	{"links-steer", "rear", "rear links"},
	{"camber-steer", "front", "front camber"},
	{"camber-steer", "rear", "rear camber"},
	{"compliance-steer", "front", "front bushes"},
	{"compliance-steer", "rear", "rear bushes"},
}

// budget names the parts of understeer, and what is surest to move the sum: the
// part with the widest band.
func (c *telling) budget() string {
	if c.t.answer == nil {
		return ""
	}
	var parts []string
	widest, most := "", 0.0
	for _, one := range budgetParts {
		p := c.v.Place
		p.Mode, p.At = one.mode, figure.Must(one.code).At
		v := c.t.answer.At(one.code, p)
		if v == nil || missing(v) {
			continue
		}
		u := unitOf(one.code, siOf(one.code), c.t.System)
		parts = append(parts, one.name+" "+u.number(v.Value, u.digits))
		if v.HasBand && v.High-v.Low > most {
			widest, most = one.name, v.High-v.Low
		}
	}
	if len(parts) < 2 {
		return ""
	}
	text := " Of that, in " + c.u.label + ": " + strings.Join(parts, ", ") + "."
	if widest != "" {
		text += " Least is known of the " + widest + "."
	}
	return text
}
