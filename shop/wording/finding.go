package wording

import (
	"math"
	"strconv"
	"strings"

	"trunnion/chassis/axles"
	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
	"trunnion/shop/quantity"
)

// Story is a finding in sentences.
type Story struct {
	What     string   // what, where and by how much
	Why      string   // what lies behind it; may be empty
	Limit    string   // what it is judged by, and the chance that it is over; may be empty
	Also     string   // the other load states that are not clear; may be empty
	Remedies []string // what to do, best first, each with what it costs
}

// Text is the finding in one paragraph, with its best remedy.
func (s Story) Text() string {
	parts := []string{s.What, s.Why, s.Limit, s.Also}
	if len(s.Remedies) > 0 {
		parts = append(parts, s.Remedies[0])
	}
	return joined(parts)
}

// Finding tells a finding.
func (t *Teller) Finding(f *finding.Finding) Story {
	s := Story{What: t.what(f), Limit: joined([]string{t.limit(f), t.chance(f)}), Also: t.also(f)}
	if !missing(f.Value) {
		s.Why = t.why(f)
	}
	for i := range f.Remedies {
		s.Remedies = append(s.Remedies, t.Remedy(f, &f.Remedies[i]))
	}
	return s
}

func (t *Teller) telling(f *finding.Finding) *telling {
	p := &f.Value.Place
	side := axle(p.Corner)
	if p.Corner == figure.NoCorner {
		side = p.Mode
	}
	return &telling{
		t: t, f: f, v: f.Value, u: unitOf(f.Value.Code, siOf(f.Value.Code), t.System),
		corner: Corner(p.Corner), axle: side, loaded: t.loaded(p.Load), driven: t.driven(p),
	}
}

// size is the value without its sign, with its unit.
func (c *telling) size() string { return c.u.format(math.Abs(c.v.Value)) }

// band is " (4 to 16)" for a value that is told as it is.
func (c *telling) band() string { return c.u.band(c.v.Low, c.v.High, c.v.HasBand) }

// sided is the band of a signed distance, each end with its side where they
// differ: " (6 to 14)", " (11 into it to 6 clear)".
func (c *telling) sided(good, bad string) string {
	side := sided[c.v.Code]
	if band := side.span(c.u, c.v, good, bad); band != "" {
		return " (" + band + ")"
	}
	return ""
}

// wrong reports whether the value is on the wrong side of its zero.
func (c *telling) wrong() bool { return Wrong(c.v.Code, c.v.Value) }

// what says what, where and by how much.
func (t *Teller) what(f *finding.Finding) string {
	c := t.telling(f)
	if f.Value == nil || missing(f.Value) && !atRest[f.Code] {
		at := ""
		if c.corner != "" {
			at = " at " + c.corner
		}
		return upper(Name(f.Value.Code)) + at + c.loaded + " is not known: " + t.Doubt(f.Value) + "."
	}
	text := ""
	if tell, ok := tellings[f.Code]; ok {
		text = tell(c)
	} else {
		at := ""
		if c.corner != "" {
			at = " at " + c.corner
		}
		text = upper(Name(c.v.Code)) + at + c.loaded + c.driven + ": " + t.Value(c.v) + "."
	}
	switch {
	case f.Value.State == figure.FromGuesses:
		text += " It rests on estimates."
	case f.Value.State == figure.Outside && f.Value.Reason != "":
		text += " " + upper(f.Value.Reason) + ": a lower bound, not a figure to order by."
	}
	return text
}

// atRest are the findings about how a corner rests: their figure is a cause.
var atRest = map[string]bool{"wheel-hangs": true, "coils-touch-at-rest": true, "rests-on-metal": true, "rests-past-stop-table": true}

// lands says how high the flight of this finding was and what the hardest landing
// of a corner is.
func (c *telling) lands() string {
	height := c.at("flight-height", figure.NoCorner)
	var hardest *figure.Value
	for i := range 4 {
		if v := c.at("landing-load", i); v != nil && (hardest == nil || v.Value > hardest.Value) {
			hardest = v
		}
	}
	if height == nil || hardest == nil {
		return ""
	}
	text := " The lowest tyre is " + c.t.Amount(height.Code, "m", height.Value) + " up; on landing the " + Corner(hardest.Place.Corner) + " tyre takes " + c.t.Amount(hardest.Code, "N", hardest.Value)
	if stop := c.at("landing-stop-force", hardest.Place.Corner); stop != nil && stop.Value > 0 {
		text += " and its bump stop " + c.t.Amount(stop.Code, "N", stop.Value)
	}
	if hardest.State == figure.Outside {
		text += ", past the end of the stop's table: a lower bound"
	}
	return text + "."
}

// at is a value of the same drive at a corner; nil where there is none.
func (c *telling) at(code string, corner int) *figure.Value {
	if c.t.answer == nil {
		return nil
	}
	p := c.v.Place
	p.Corner, p.At = corner, ""
	if e, ok := figure.Look(code); ok {
		p.At = e.At
	}
	return c.t.answer.At(code, p)
}

// tellings are the sentences by finding code: what, where, how much.
var tellings = map[string]func(*telling) string{
	"rests-on-bump-stop": func(c *telling) string {
		if c.v.Value > 0 {
			return "The " + c.corner + " stop is " + c.size() + " clear" + c.loaded + c.sided("clear", "into it") + "."
		}
		share := ""
		if s := c.t.get("stop-share", &c.v.Place); s != nil && !missing(s) && s.Value > 0 {
			share = " The stop carries " + short(c.t.Amount(s.Code, "1", s.Value)) + " of the tyre's load."
		}
		return "The " + c.corner + " corner rests " + c.size() + " into its stop" + c.loaded + c.sided("clear", "into it") + "." + share
	},
	"stop-firm-too-soon": func(c *telling) string {
		if c.wrong() {
			return "The " + c.corner + " stop is " + c.size() + " past firm" + c.loaded + c.sided("left", "past") + "."
		}
		return "The " + c.corner + " wheel has " + c.size() + " of bump travel left" + c.loaded + " until its stop carries half the corner load" + c.sided("left", "past") + "."
	},
	"stop-carries-load": func(c *telling) string {
		if c.v.Value == 0 && c.v.High == 0 {
			return "No stop carries load in any load state."
		}
		return "The " + c.corner + " stop carries " + c.size() + " of the tyre's load at rest" + c.loaded + c.band() + "."
	},
	"spring-loose-at-droop": func(c *telling) string {
		if c.wrong() {
			return "The " + c.corner + " spring is " + c.size() + " loose in its seats at full droop" + c.sided("preload", "loose") + "."
		}
		return "The " + c.corner + " spring keeps " + c.size() + " of preload at full droop" + c.sided("preload", "loose") + "."
	},
	"coils-touch-first": func(c *telling) string {
		if c.wrong() {
			return "The " + c.corner + " spring reaches coil bind " + c.size() + " of wheel travel before its stop is solid" + c.sided("after", "before") + "."
		}
		return "The " + c.corner + " spring has " + c.size() + " of wheel travel left to coil bind when its stop is solid" + c.sided("left", "short") + "."
	},
	"tyre-meets-arch-first": func(c *telling) string {
		if c.wrong() {
			return "The " + c.corner + " tyre meets the arch " + c.size() + " of wheel travel before its stop is solid" + c.sided("after", "before") + "."
		}
		return "The " + c.corner + " tyre clears the arch by " + c.size() + " of wheel travel when its stop is solid" + c.sided("clear", "short") + "."
	},
	"limit-met-first": func(c *telling) string {
		lead := "The " + c.corner + " wheel meets the limit set by the " + spaced(c.v.Place.Mode) + " " + c.size()
		if c.wrong() {
			return lead + " before its stop or damper ends the travel" + c.sided("after", "before") + "."
		}
		return lead + " after its stop or damper has ended the travel" + c.sided("after", "before") + "."
	},
	"catches-less-than-before": func(c *telling) string {
		return "The " + c.corner + " spring and stop absorb " + c.size() + " of wheel velocity" + c.loaded + " before the stop is firm" + c.band() + "." + c.baseline()
	},
	"droop-short": func(c *telling) string {
		if c.wrong() {
			return "The " + c.corner + " damper is " + c.size() + " past full droop" + c.loaded + c.sided("left", "past") + "."
		}
		return "The " + c.corner + " wheel has " + c.size() + " of rebound travel left" + c.loaded + c.sided("left", "past") + "."
	},
	"damping-low":  damping,
	"damping-high": damping,
	"rear-slower-than-front": func(c *telling) string {
		word := "quicker"
		if c.v.Value < 1 {
			word = "slower"
		}
		return "The rear frequency is " + c.size() + " times the front's" + c.loaded + c.band() + ". The rear is " + word + ": a choice, not a fault."
	},
	"hits-stops-hard": func(c *telling) string {
		return "The " + c.corner + " stop is hit above " + c.t.Amount("", "N", c.v.Place.Threshold) + " " + c.u.number(math.Abs(c.v.Value), c.u.digits) +
			" times " + c.u.label + c.driven + c.loaded + c.band() + "."
	},
	"leaves-the-ground": func(c *telling) string {
		if c.v.Value == 0 {
			return "The car stays on the ground" + c.driven + c.loaded + "."
		}
		return "All four tyres leave the ground for " + c.size() + c.driven + c.loaded + c.band() + "." + c.lands() + c.baseline()
	},
	"wheel-leaves-ground": func(c *telling) string {
		return "The " + c.corner + " tyre is off the ground for " + c.size() + c.driven + c.loaded + c.band() + "." + c.baseline()
	},
	"stop-blow": func(c *telling) string {
		return "The " + c.corner + " stop's force peaks at " + c.size() + c.driven + c.loaded + c.band() + "." + c.baseline()
	},
	"tyre-goes-light": func(c *telling) string {
		return "The " + c.corner + " tyre has less than a fifth of its load for " + c.size() + " of the time" + c.driven + c.loaded + c.band() + "." + c.baseline()
	},
	"mount-wears": func(c *telling) string {
		return "The " + c.corner + " upper mount wears " + c.size() + " as fast as on " + c.t.reference() + " on the brief's roads" + c.band() + "." + c.t.mountParts(&c.v.Place) + c.t.mountLife(&c.v.Place)
	},
	"keeps-bouncing": func(c *telling) string {
		return "The " + c.axle + "'s second bounce is " + c.size() + " of its first" + c.driven + c.loaded + c.band() + "." + c.baseline()
	},
	"lifts-wheel-in-corner": func(c *telling) string {
		if c.v.State == figure.Outside {
			return "The " + c.corner + " wheel stays on the ground up to " + c.size() + " sideways" + c.loaded + "."
		}
		return "The " + c.corner + " wheel, the inner one, leaves the ground at " + c.size() + " in a corner" + c.loaded + c.band() + "." + c.baseline()
	},
	"meets-stop-in-corner": func(c *telling) string {
		switch {
		case c.v.Value == 0:
			return "The " + c.corner + " wheel rests on its stop" + c.loaded + " before any corner." + c.baseline()
		case c.v.State == figure.Outside:
			return "The " + c.corner + " stop is not met up to " + c.size() + " sideways" + c.loaded + "."
		}
		jump := ""
		if j := c.t.get("landing-balance-shift", &c.v.Place); j != nil && !missing(j) && math.Abs(j.Value) >= 0.005 {
			to := "front"
			if j.Value < 0 {
				to = "rear"
			}
			jump = " There the " + to + " takes " + short(c.t.Amount("front-transfer-share", "1", math.Abs(j.Value))) + " more of the lateral load transfer."
		}
		return "The " + c.corner + " stop is met at " + c.size() + " in a corner" + c.loaded + c.band() + "." + jump + c.baseline()
	},
	"less-understeer-than-before": func(c *telling) string {
		word := "understeer"
		if c.v.Value < 0 {
			word = "oversteer"
		}
		return "The car has " + c.size() + " of " + word + " in a corner" + c.loaded + c.eitherWay("understeer", "oversteer") + "." + c.baseline() + c.budget()
	},
	"nervous-at-speed": func(c *telling) string {
		text := "The yaw damping ratio is " + c.size() + " at " + c.speed() + c.loaded + c.band() + "." + c.baseline()
		for _, k := range c.f.Cause {
			if k.Code == c.f.Code && c.t.answer != nil {
				text += " From " + c.t.road(k.Value) + " on it is no better than that."
			}
		}
		return text
	},
	"unstable-at-speed": func(c *telling) string {
		return "At " + c.speed() + c.loaded + c.comma() + " " + c.t.swerve(c.v) + ", steering held." + c.critical()
	},
	"unstable-with-trailer": func(c *telling) string {
		return "At " + c.speed() + c.loaded + c.comma() + " a swing of the trailer" + strings.TrimPrefix(c.t.swerve(c.v), "a swerve") + ", steering held." + c.towing()
	},
	"trailer-swings": func(c *telling) string {
		what := "the trailer's swing has a damping ratio of " + c.size() + c.band()
		if c.v.Value < 0 {
			what = "the trailer's swing grows by itself"
		}
		return "At " + c.speed() + c.loaded + c.comma() + " " + what + "." + c.towing()
	},
	"slow-to-settle-at-speed": func(c *telling) string {
		text := "At " + c.speed() + c.loaded + c.comma() + " " + c.t.swerve(c.v) + ", steering held."
		if c.f.Versus != nil && !missing(c.f.Versus) && c.t.answer != nil {
			text += " " + upper(c.t.named(c.t.answer.Reference)) + " it " + strings.TrimPrefix(c.t.swerve(c.f.Versus), "a swerve ") + "."
		}
		return text
	},
	"tyre-overloaded": func(c *telling) string {
		return "The " + c.corner + " tyre carries " + c.size() + " of what its load index and pressure stand for" + c.loaded + c.band() + "."
	},
	"tyre-near-strut": func(c *telling) string {
		return c.clears("strut or spring seat") + c.because()
	},
	"tyre-near-liner": func(c *telling) string {
		return c.clears("liner at full lock") + c.because()
	},
	"cross-weight-off": func(c *telling) string {
		share := c.at("cross-share-front-right-rear-left", figure.NoCorner)
		if share == nil {
			return "Cross weight is off half by " + c.size() + c.loaded + c.band() + "."
		}
		heavy, part := "front right and rear left", share.Value
		if part < 0.5 {
			heavy, part = "front left and rear right", 1-part
		}
		return upper(heavy) + " carry " + c.t.Amount(share.Code, "1", part) + " of the weight" + c.loaded + ", " + c.size() + " more than half" + c.band() + "." + c.baseline()
	},
	"stands-crooked": func(c *telling) string {
		other, band := Corner(c.v.Place.Corner^1), c.band()
		if c.v.HasBand && c.v.Low < 0 {
			band = " (" + c.t.side(c.v.Code, c.u, c.v.Low) + " to " + c.t.side(c.v.Code, c.u, c.v.High) + ")"
		}
		if c.v.Value < 0 {
			return "The " + c.corner + " stands " + c.size() + " higher than the " + other + c.loaded + "."
		}
		return "The " + c.corner + " stands " + c.size() + " lower than the " + other + ", hub to arch" + c.loaded + band + "."
	},
	"stands-nose-up":   func(c *telling) string { return c.raked() },
	"stands-nose-down": func(c *telling) string { return c.raked() },
	"tyre-outside-lip": func(c *telling) string {
		side := "inside"
		if c.wrong() {
			side = "outside"
		}
		text := "The " + c.corner + " tyre's side stands " + c.size() + " " + side + " the arch's lip" + c.sided("inside", "outside") + "."
		if arch := c.t.get("travel-to-arch", &c.v.Place); c.wrong() && !missing(arch) {
			text += " It meets the lip after " + c.t.Amount(arch.Code, "m", math.Max(0, arch.Value)) + " of bump" + c.loaded + "."
		}
		return text + c.because()
	},
	"speedometer-reads-low": func(c *telling) string {
		shown := c.t.road(kilometresShown)
		drives := c.t.road(kilometresShown * (1 + c.v.Value))
		text := "With " + shown + " on the speedometer the car drives " + drives
		if c.v.HasBand {
			low, high := c.t.road(kilometresShown*(1+c.v.Low)), c.t.road(kilometresShown*(1+c.v.High))
			if number, _, _ := strings.Cut(low, " "); low != high {
				text += " (" + number + " to " + high + ")"
			}
		}
		if g := c.t.get("gearing-change", &c.v.Place); !missing(g) && math.Abs(g.Value) >= 0.001 {
			word := "faster"
			if g.Value < 0 {
				word = "slower"
			}
			text += ". At one road speed the engine turns " + c.t.Amount(g.Code, "1", math.Abs(g.Value)) + " " + word + " than as weighed"
		}
		return text + "."
	},
	"strut-side-load-up": func(c *telling) string {
		return "Standing" + c.loaded + ", the " + c.corner + " strut's rod takes " + c.size() + " of side load." + c.baseline() + c.because()
	},
	"strut-binds-in-bend": func(c *telling) string {
		return "In a corner at " + c.hard() + " the side load of the " + c.corner + " strut is " + c.size() + "." + c.baseline() + c.because()
	},
	"rod-bends-more": func(c *telling) string {
		return "In a corner at " + c.hard() + " the rod or body of the " + c.corner + " strut bends with " + c.size() + "." + c.baseline() + c.because()
	},
	"scrub-radius-up": func(c *telling) string {
		return "The scrub radius at " + c.corner + " is " + c.t.Amount(c.v.Code, "m", c.v.Value) + "." + c.baseline() + c.because()
	},
	"wheel-hangs": func(c *telling) string {
		return "The " + c.corner + " wheel hangs" + c.loaded + ": its tyre carries nothing."
	},
	"coils-touch-at-rest": func(c *telling) string {
		return "The " + c.corner + " spring is in coil bind at rest" + c.loaded + "."
	},
	"rests-on-metal": func(c *telling) string {
		return "The " + c.corner + " damper is closed metal to metal at rest" + c.loaded + c.caused(", with ", " on it") + "."
	},
	"rests-past-stop-table": func(c *telling) string {
		return "The " + c.corner + " stop is crushed past the end of its table at rest" + c.loaded + c.caused(": ", "") + ". Its force there is not known."
	},
}

// eitherWay is the band of a figure whose sign has a word.
func (c *telling) eitherWay(positive, negative string) string {
	s := sides{good: positive, bad: negative}
	if band := s.span(c.u, c.v, positive, negative); band != "" {
		return " (" + band + ")"
	}
	return ""
}

func damping(c *telling) string {
	at := ""
	if c.v.Place.Velocity > 0 {
		at = " at " + c.t.Amount("", "m/s", c.v.Place.Velocity) + " of the damper"
	}
	text := "The " + c.corner + " damping ratio is " + c.size() + c.loaded + at + c.band()
	switch {
	case c.f.Verdict != finding.Over:
		return text + "."
	case c.f.Code == "damping-high":
		return text + ": strong for this spring and load."
	}
	return text + ": weak for this spring and load."
}

// caused is the figure of a finding's cause.
func (c *telling) caused(before, after string) string {
	for _, k := range c.f.Cause {
		if k.Code == c.f.Code {
			return before + c.t.Amount("", k.Unit, k.Value) + after
		}
	}
	return ""
}

// baseline says what the baseline has at the same place.
func (c *telling) baseline() string {
	if c.f.Versus == nil || missing(c.f.Versus) || c.t.answer == nil {
		return ""
	}
	return " " + upper(c.t.named(c.t.answer.Reference)+" it is ") + c.u.format(c.f.Versus.Value) + "."
}

// raked says how a car is pitched against as weighed, and against the baseline.
func (c *telling) raked() string {
	text := "The car stands " + c.t.side(c.v.Code, c.u, c.v.Value) + " of how it was weighed" + c.loaded
	if w := c.f.Versus; w != nil && !missing(w) {
		text += ", and " + c.t.side(c.v.Code, c.u, c.v.Value-w.Value) + " of " + c.t.reference()
	}
	return text + "."
}

// rakeLimit says how far a build may be pitched from the baseline.
func (c *telling) rakeLimit(l *finding.Limit) string {
	w := c.f.Versus
	if w == nil || missing(w) {
		return ""
	}
	return "It may be " + c.t.side(c.v.Code, c.u, l.Value-w.Value) + " of the baseline (" + l.Basis + ")."
}

// named is "on “As it arrived”".
func (t *Teller) named(build string) string { return "on “" + t.Build(build) + "”" }

// why says what lies behind a finding, where the answer knows it.
func (t *Teller) why(f *finding.Finding) string {
	if f.Verdict != finding.Over && f.Verdict != finding.Close || t.answer == nil {
		return ""
	}
	c := t.telling(f)
	switch f.Code {
	case "rests-on-bump-stop", "stop-firm-too-soon", "stop-carries-load":
		lowered := t.lowered(&f.Value.Place)
		if lowered == "" {
			return ""
		}
		if f.Code == "rests-on-bump-stop" && f.Versus != nil && !missing(f.Versus) {
			has := "is " + c.u.format(math.Abs(f.Versus.Value)) + " clear"
			if f.Versus.Value < 0 {
				has = "is " + c.u.format(-f.Versus.Value) + " into the stop already"
			}
			return lowered + " lower than “" + t.Build(t.answer.Reference) + "”, which " + has + "."
		}
		return lowered + " lower than “" + t.Build(t.answer.Reference) + "”."
	case "spring-loose-at-droop":
		if f.Versus != nil && !missing(f.Versus) && f.Versus.Value < 0 {
			return "“" + t.Build(t.answer.Reference) + "” keeps " + c.u.format(-f.Versus.Value) + " of preload."
		}
	case "damping-low", "damping-high":
		if f.Versus != nil && !missing(f.Versus) {
			return upper(t.named(t.answer.Reference)) + " it is " + c.u.format(f.Versus.Value) + "."
		}
	case "hits-stops-hard":
		if f.Versus != nil && !missing(f.Versus) {
			return upper(t.named(t.answer.Reference)) + " it is " + c.u.number(f.Versus.Value, c.u.digits) + "."
		}
	}
	return ""
}

// lowered is "It sits 27.1 mm" where a build sits lower than the baseline.
func (t *Teller) lowered(p *figure.Place) string {
	if p.Build == t.answer.Reference {
		return ""
	}
	was, now := t.answer.Get("arch-height", t.answer.Reference, p.Load, p.Corner), t.get("arch-height", p)
	if missing(was) || missing(now) || was.Value-now.Value < 1e-3 {
		return ""
	}
	return "It sits " + t.Amount("arch-height", "m", was.Value-now.Value)
}

// limit says what a finding is judged by.
func (t *Teller) limit(f *finding.Finding) string {
	l := f.Limit
	if l == nil || l.Self || f.Verdict == finding.NoLimit || missing(f.Value) {
		return ""
	}
	u := unitOf(f.Value.Code, l.Unit, t.System)
	value := u.format(l.Value)
	who, basis := "the brief asks for", ""
	switch {
	case l.From == "default":
		who = "the usual limit is"
		if l.Basis != "" {
			basis = " (" + l.Basis + ")"
		}
	case f.Code == "stands-nose-up" || f.Code == "stands-nose-down":
		return t.telling(f).rakeLimit(l)
	case l.From == "reference build":
		return "The limit is " + value + ", from the baseline (" + l.Basis + ")."
	}
	word := "at least"
	if l.Upper {
		word = "at most"
	}
	return upper(who) + " " + word + " " + value + basis + "."
}

// chance says how likely the limit is broken, where the band does not settle it:
// "It is about 30 in 100 that it is over."
func (t *Teller) chance(f *finding.Finding) string {
	n := math.Round(f.Probability / quantity.Percent)
	if f.Verdict != finding.Close || !f.Value.HasBand || n < 1 || n > 99 {
		return ""
	}
	return "The chance that it is over is about " + strconv.Itoa(int(n)) + " in 100."
}

// also names the other load states at the same axle that are not clear.
func (t *Teller) also(f *finding.Finding) string {
	var list []string
	for _, v := range f.Also {
		if !missing(v) {
			list = append(list, t.After(f, v.Value)+t.loaded(v.Place.Load))
		}
	}
	if len(list) == 0 {
		return ""
	}
	return "Not clear in other load states: " + strings.Join(list, "; ") + "."
}

// short drops the decimals of a per cent figure that needs none.
func short(s string) string {
	number, rest, ok := strings.Cut(s, " ")
	if !ok || rest != "%" {
		return s
	}
	if whole, dec, ok := strings.Cut(number, "."); ok && len(whole) > 1 {
		_ = dec
		return whole + " " + rest
	}
	return s
}

// FindingCell is a finding's figure for a table: value, unit and band, or a dash.
func (t *Teller) FindingCell(f *finding.Finding) string {
	if missing(f.Value) {
		return quantity.Nothing
	}
	return t.Value(f.Value)
}

// kilometresShown is the speed a speedometer's error is told at: 100 km/h. [m/s]
const kilometresShown = 100 * quantity.KilometrePerHour

// clears says how much room a tyre has to something.
func (c *telling) clears(what string) string {
	if c.wrong() {
		return "The " + c.corner + " tyre is " + c.size() + " short of clearing the " + what + c.sided("clear", "short") + "."
	}
	return "The " + c.corner + " tyre clears the " + what + " by " + c.size() + c.sided("clear", "short") + "."
}

// because says how much farther out than as weighed the wheel stands, where it does.
func (c *telling) because() string {
	out := c.t.get("wheel-outward", &c.v.Place)
	if missing(out) || math.Abs(out.Value) < 0.5e-3 {
		return ""
	}
	way := "out"
	if out.Value < 0 {
		way = "in"
	}
	return " The wheel stands " + c.t.Amount(out.Code, "m", math.Abs(out.Value)) + " farther " + way + " than as weighed."
}

// hard is the lateral acceleration that struts are judged at.
func (c *telling) hard() string {
	return c.t.Amount("stop-contact-acceleration", "m/s^2", axles.UsualStrutAsk(0).Lateral)
}
