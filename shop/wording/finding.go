package wording

import (
	"math"
	"strings"

	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
	"trunnion/shop/quantity"
)

// Story is a finding in sentences.
type Story struct {
	What     string   // what, where and by how much
	Why      string   // what lies behind it; may be empty
	Limit    string   // what it is judged by; may be empty
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

func joined(parts []string) string {
	var out []string
	for _, p := range parts {
		if p != "" {
			out = append(out, p)
		}
	}
	return strings.Join(out, " ")
}

// Finding tells a finding.
func (t *Teller) Finding(f *finding.Finding) Story {
	s := Story{What: t.what(f), Limit: t.limit(f), Also: t.also(f)}
	if !missing(f.Value) {
		s.Why = t.why(f)
	}
	for i := range f.Remedies {
		s.Remedies = append(s.Remedies, t.Remedy(f, &f.Remedies[i]))
	}
	return s
}

// telling is what the sentences of one finding are made of.
type telling struct {
	t      *Teller
	f      *finding.Finding
	v      *figure.Value
	u      unit
	corner string // "rear left"
	axle   string // "rear"
	loaded string // " with four aboard"
	driven string // " over the round hump of 75 mm at 30 km/h"
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

// flipped is the band of a value that is told with the other sign: in the stop
// rather than above it. Where the band has both signs, both are said.
func (c *telling) flipped(bad, good string) string {
	v := c.v
	if !v.HasBand {
		return ""
	}
	low, high := v.Low, v.High
	if low < 0 && high > 0 {
		d := c.u.coarse(low, high)
		first, second := bad, good
		if v.Value > 0 && bad == "" {
			first, second = good, bad
		}
		return " (" + joined([]string{c.u.number(-low, d), first}) + " to " + joined([]string{c.u.number(high, d), second}) + ")"
	}
	if v.Value < 0 {
		return c.u.band(-high, -low, true)
	}
	return c.band()
}

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

// tellings are the sentences by finding code.
var tellings = map[string]func(*telling) string{
	"rests-on-bump-stop": func(c *telling) string {
		if c.v.Value <= 0 {
			share := ""
			if s := c.t.get("stop-share", &c.v.Place); s != nil && !missing(s) && s.Value > 0 {
				share = " The stop carries " + short(c.t.Amount(s.Code, "1", s.Value)) + " of the tyre's load."
			}
			return "Rests on the " + c.axle + " stop" + c.loaded + ": " + c.size() + " into it at " + c.corner + c.flipped("into it", "clear") + "." + share
		}
		return upper(c.size()) + " of bump travel is left to the stop at " + c.corner + c.loaded + c.flipped("into it", "clear") + "."
	},
	"stop-firm-too-soon": func(c *telling) string {
		if c.v.Value < 0 {
			return "The " + c.corner + " stop is past firm" + c.loaded + " by " + c.size() + c.flipped("past", "left") + "."
		}
		return c.size() + " of bump travel is left at " + c.corner + c.loaded + " until the stop carries half the corner load" + c.flipped("past", "left") + "."
	},
	"stop-carries-load": func(c *telling) string {
		if c.v.Value == 0 && c.v.High == 0 {
			return "No stop carries load in any load state."
		}
		return "The " + c.corner + " stop carries " + c.size() + " of the tyre's load at rest" + c.loaded + c.band() + "."
	},
	"spring-loose-at-droop": func(c *telling) string {
		if c.v.Value > 0 {
			return "The " + c.axle + " spring comes loose before the damper is fully open: " + c.size() + " of slack at the seat at " + c.corner + c.flipped("held", "loose") + "."
		}
		band := ""
		if c.v.HasBand {
			band = c.u.band(-c.v.High, -c.v.Low, true)
		}
		return "With the damper fully open the " + c.corner + " spring is still pressed by " + c.size() + band + "."
	},
	"coils-touch-first": func(c *telling) string {
		if c.v.Value < 0 {
			return "The " + c.corner + " spring's coils touch " + c.size() + " of wheel travel before the stop is solid" + c.flipped("before", "after") + "."
		}
		return "The " + c.corner + " stop is solid " + c.size() + " of wheel travel before the spring's coils touch" + c.flipped("after", "before") + "."
	},
	"tyre-meets-arch-first": func(c *telling) string {
		if c.v.Value < 0 {
			return "The " + c.corner + " tyre meets the arch " + c.size() + " before the stop is solid" + c.flipped("before", "after") + "."
		}
		return "The " + c.corner + " stop is solid " + c.size() + " before the tyre meets the arch" + c.flipped("after", "before") + "."
	},
	"limit-met-first": func(c *telling) string {
		lead := "At " + c.corner + " the limit set by the " + spaced(c.v.Place.Mode) + " is met " + c.size()
		if c.v.Value < 0 {
			return lead + " before the stop or the damper ends the travel" + c.flipped("before", "after") + "."
		}
		return lead + " after the stop or the damper ends the travel" + c.flipped("before", "after") + "."
	},
	"catches-less-than-before": func(c *telling) string {
		return "Spring and stop at " + c.corner + c.loaded + " catch a bump of " + c.size() + c.band() + " before the stop is firm." + c.reference("")
	},
	"droop-short": func(c *telling) string {
		return c.size() + " of droop is left at " + c.corner + c.loaded + c.flipped("past", "left") + "."
	},
	"damping-low":  damping,
	"damping-high": damping,
	"rear-slower-than-front": func(c *telling) string {
		word := "quicker than"
		if c.v.Value < 1 {
			word = "slower than"
		}
		return "The rear is " + word + " the front" + c.loaded + ": " + c.size() + " times its frequency" + c.band() + ". That is a choice, not a fault."
	},
	"hits-stops-hard": func(c *telling) string {
		return "The " + c.corner + " stop is hit above " + c.t.Amount("", "N", c.v.Place.Threshold) + " " + c.u.number(math.Abs(c.v.Value), c.u.digits) +
			" times " + c.u.label + c.driven + c.loaded + c.band() + "."
	},
	"leaves-the-ground": func(c *telling) string {
		if c.v.Value == 0 {
			return "The car stays on the ground" + c.driven + c.loaded + "."
		}
		return "All four tyres leave the ground for " + c.size() + c.driven + c.loaded + c.band() + "." + c.lands() + c.reference("")
	},
	"wheel-leaves-ground": func(c *telling) string {
		return "The " + c.corner + " tyre is off the ground for " + c.size() + c.driven + c.loaded + c.band() + "." + c.reference("")
	},
	"stop-blow": func(c *telling) string {
		return "The " + c.corner + " stop takes " + c.size() + c.driven + c.loaded + c.band() + "." + c.reference("")
	},
	"tyre-goes-light": func(c *telling) string {
		return "The " + c.corner + " tyre has less than a fifth of its load for " + c.size() + " of the time" + c.driven + c.loaded + c.band() + "." + c.reference("")
	},
	"keeps-bouncing": func(c *telling) string {
		return "The " + c.axle + " keeps " + c.size() + " of its bounce one cycle later" + c.driven + c.loaded + c.band() + "." + c.reference("")
	},
	"meets-stop-in-corner": func(c *telling) string {
		switch {
		case c.v.Value == 0:
			return "The " + c.corner + " wheel rests on its stop" + c.loaded + " before any bend." + c.reference("")
		case c.v.State == figure.Outside:
			return "The " + c.corner + " stop is not met up to " + c.size() + " sideways" + c.loaded + "."
		}
		jump := ""
		if j := c.t.get("landing-balance-shift", &c.v.Place); j != nil && !missing(j) && math.Abs(j.Value) >= 0.005 {
			to := "front"
			if j.Value < 0 {
				to = "rear"
			}
			jump = " There " + short(c.t.Amount("front-transfer-share", "1", math.Abs(j.Value))) + " more of what is moved across goes to the " + to + "."
		}
		return "In a bend the " + c.corner + " stop is met at " + c.size() + c.loaded + c.band() + "." + jump + c.reference("")
	},
	"less-understeer-than-before": func(c *telling) string {
		word := "understeer"
		if c.v.Value < 0 {
			word = "oversteer"
		}
		return "In a bend the tyres alone give " + c.size() + " of " + word + c.loaded + c.flipped("oversteer", "understeer") + "." + c.reference("")
	},
	"nervous-at-speed": func(c *telling) string {
		text := "At " + c.speed() + c.loaded + c.comma() + " the yaw damping ratio is " + c.size() + c.band() + "." + c.reference("")
		for _, k := range c.f.Cause {
			if k.Code == c.f.Code && c.t.answer != nil {
				text += " From " + c.t.road(k.Value) + " on it is damped no better than that."
			}
		}
		return text
	},
	"unstable-at-speed": func(c *telling) string {
		return "At " + c.speed() + c.loaded + c.comma() + " " + c.t.swerve(c.v) + ", steering held." + c.critical()
	},
	"slow-to-settle-at-speed": func(c *telling) string {
		text := "At " + c.speed() + c.loaded + c.comma() + " " + c.t.swerve(c.v) + ", steering held."
		if c.f.Versus != nil && !missing(c.f.Versus) && c.t.answer != nil {
			text += " " + upper(c.t.named(c.t.answer.Reference)) + " it " + strings.TrimPrefix(c.t.swerve(c.f.Versus), "a swerve ") + "."
		}
		return text
	},
	"wheel-hangs": func(c *telling) string {
		return "The " + c.corner + " wheel hangs" + c.loaded + ": its tyre carries nothing."
	},
	"coils-touch-at-rest": func(c *telling) string {
		return "The " + c.corner + " spring's coils touch at rest" + c.loaded + "."
	},
	"rests-on-metal": func(c *telling) string {
		return "The " + c.corner + " damper is closed metal to metal at rest" + c.loaded + c.caused(", with ", " on it") + "."
	},
	"rests-past-stop-table": func(c *telling) string {
		return "The " + c.corner + " stop is crushed past the end of its table at rest" + c.loaded + c.caused(": ", "") + ". Its force there is not known."
	},
}

func damping(c *telling) string {
	size, at := "weak", ""
	if c.f.Code == "damping-high" {
		size = "strong"
	}
	if c.v.Place.Velocity > 0 {
		at = " at " + c.t.Amount("", "m/s", c.v.Place.Velocity) + " of the damper"
	}
	text := "ratio " + c.size() + " at " + c.corner + c.loaded + at + c.band() + "."
	if c.f.Verdict == finding.Over {
		return "The " + c.axle + " damper is " + size + " for this spring and load: " + text
	}
	return upper("damping " + text)
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

// reference says what the reference build has at the same place.
func (c *telling) reference(lead string) string {
	if c.f.Versus == nil || missing(c.f.Versus) || c.t.answer == nil {
		return ""
	}
	return " " + upper(lead+c.t.named(c.t.answer.Reference)+" it is ") + c.u.format(c.f.Versus.Value) + "."
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
			has := "has " + c.u.format(math.Abs(f.Versus.Value)) + " left"
			if f.Versus.Value < 0 {
				has = "is " + c.u.format(-f.Versus.Value) + " into the stop already"
			}
			return lowered + " lower than “" + t.Build(t.answer.Reference) + "”, which " + has + "."
		}
		return lowered + " lower than “" + t.Build(t.answer.Reference) + "”."
	case "spring-loose-at-droop":
		if f.Versus != nil && !missing(f.Versus) && f.Versus.Value < 0 {
			return upper(t.named(t.answer.Reference)) + " it is still pressed by " + c.u.format(-f.Versus.Value) + "."
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

// lowered is "It sits 27.1 mm" where a build sits lower than the reference.
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
	if l == nil || f.Verdict == finding.NoLimit || missing(f.Value) {
		return ""
	}
	if f.Code == "leaves-the-ground" {
		return "" // that a car belongs on the ground is no figure
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
	case l.From == "reference build":
		return "The limit, " + value + ", is taken from the reference build (" + l.Basis + ")."
	}
	word := "at least"
	if l.Upper {
		word = "at most"
	}
	if l.Value == 0 && f.Code == "spring-loose-at-droop" {
		return ""
	}
	if l.Value == 0 && (f.Code == "rests-on-bump-stop" || f.Code == "tyre-meets-arch-first" || f.Code == "limit-met-first") {
		return ""
	}
	return upper(who) + " " + word + " " + value + basis + "."
}

// also names the other load states at the same axle that are not clear.
func (t *Teller) also(f *finding.Finding) string {
	if len(f.Also) == 0 {
		return ""
	}
	var list []string
	for _, v := range f.Also {
		if missing(v) {
			continue
		}
		list = append(list, lower(t.Load(v.Place.Load))+" "+strings.TrimPrefix(t.after(f, v.Value), "a ratio of "))
	}
	if len(list) == 0 {
		return ""
	}
	return "Not clear either: " + strings.Join(list, ", ") + "."
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

// Cell is a finding's figure for a table: value, unit and band, or why there is
// none. Where the sentences turn a sign over, the cell keeps the register's.
func (t *Teller) FindingCell(f *finding.Finding) string {
	if missing(f.Value) {
		return quantity.Nothing
	}
	return t.Value(f.Value)
}
