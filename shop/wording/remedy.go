package wording

import (
	"math"
	"strings"

	"trunnion/chassis/finding"
	"trunnion/chassis/study"
)

// changes are the changes a remedy can be; {} takes its size.
var changes = map[string]string{
	"shorter-stop":         "A stop {} shorter, of the same foam,",
	"shorter-damper":       "A damper {} shorter, open and closed,",
	"firmer-spring":        "A spring {} firmer, its length chosen for the same height,",
	"softer-longer-spring": "A spring {} softer and longer, for the same height,",
	"less-droop":           "A damper {} shorter when open",
	"longer-stroke":        "A damper {} longer when open",
	"helper":               "A helper spring with {} of travel, flat at ride height,",
	"packer":               "A packer of {}",
	"stronger-valving":     "Valving {} stronger",
	"softer-valving":       "Valving {} softer",
	"raise-front":          "Raising the front by {}",
	"raise-rear":           "Raising the rear by {}",
	"longer-spring":        "A spring {} longer, of the same rate,",
	"firmer-click":         "A click {} nearer to closed",
	"firmer-front-spring":  "Front springs {} firmer, their length chosen for the same height,",
	"softer-rear-spring":   "Rear springs {} softer and longer, for the same height,",
	"stiffer-bar-hole":     "The {axle} bar in hole “{hole}”, {} stiffer at one wheel,",
	"softer-bar-hole":      "The {axle} bar in hole “{hole}”, {} softer at one wheel,",
}

// turned are the effects that turn an order over, where a figure that crosses
// zero would be read past.
var turned = map[string]string{
	"solid-before-arch":  "the tyre then meets the arch {} before the stop is solid",
	"solid-before-block": "the spring then reaches coil bind {} before the stop is solid",
	"spring-gap-open":    "the spring is then {} loose at full droop",
	"travel-to-stop":     "the corner then rests {} into its stop",
}

// mostEffects is how many effects of a remedy one sentence holds.
const mostEffects = 3

// Remedy tells a change that was put through the same study: what it gives and
// what it costs.
func (t *Teller) Remedy(f *finding.Finding, r *finding.Remedy) string {
	out := t.Gives(f, r)
	if len(r.Worsens) > 0 {
		return out + " It costs: " + t.effects(r.Worsens) + "."
	}
	return out + " Nothing else that is judged gets worse."
}

// Gives tells what a change gives, without its costs.
func (t *Teller) Gives(f *finding.Finding, r *finding.Remedy) string {
	size := t.Amount("", r.Unit, math.Abs(r.Change))
	if r.Unit == "1" {
		size = t.Amount("stop-share", "1", math.Abs(r.Change)) // a share, said in per cent
	}
	lead, ok := changes[r.Code]
	if !ok {
		lead = upper(spaced(r.Code)) + " by {}"
	}
	if r.Choice != "" {
		axle := r.Path[strings.LastIndexByte(r.Path, '.')+1:]
		lead = strings.NewReplacer("{axle}", axle, "{hole}", r.Choice).Replace(lead)
	}
	out := strings.Replace(lead, "{}", tidy(size), 1)
	if r.Alone {
		// The other side has another part there, or another setting.
		out = strings.TrimSuffix(out, ",") + ", at the " + Corner(f.Value.Place.Corner) + " alone,"
	}
	out += " gives " + t.after(f, r.After)
	switch r.VerdictNow {
	case finding.Clear:
		out += ": clear."
	case finding.Close:
		out += ": close."
	case finding.Over:
		out += ": better, still over."
	case finding.NoLimit, finding.Unknown:
		out += "."
	}
	return out
}

// after is the finding's figure with the change made.
func (t *Teller) after(f *finding.Finding, v float64) string {
	u := unitOf(f.Value.Code, siOf(f.Value.Code), t.System)
	size := u.format(math.Abs(v))
	switch f.Code {
	case "rests-on-bump-stop":
		if v < 0 {
			return size + " into the stop"
		}
		return size + " clear of the stop"
	case "spring-loose-at-droop":
		if v > 0 {
			return size + " loose at full droop"
		}
		return size + " of preload at full droop"
	case "coils-touch-first":
		if v < 0 {
			return size + " short of coil bind"
		}
		return size + " of coil-bind margin"
	case "tyre-meets-arch-first":
		if v < 0 {
			return size + " short of arch clearance"
		}
		return size + " clear of the arch"
	case "limit-met-first":
		if v < 0 {
			return size + " short"
		}
		return size + " of margin"
	case "damping-low", "damping-high":
		return "a ratio of " + size
	case "stop-carries-load":
		if v == 0 {
			return "no load on the stop at rest"
		}
		return size + " on the stop"
	case "meets-stop-in-corner":
		if v >= study.CornerEnd {
			return "no contact up to " + size
		}
		return "contact at " + size
	case "less-understeer-than-before":
		if v < 0 {
			return size + " of oversteer"
		}
		return size + " of understeer"
	case "hits-stops-hard":
		return u.number(v, u.digits) + " hits " + u.label
	case "keeps-bouncing":
		return "a second bounce of " + size
	}
	if s, ok := sided[f.Value.Code]; ok {
		word := s.good
		if s.turn(v) < 0 {
			word = s.bad
		}
		return size + " " + word
	}
	return u.format(v)
}

func (t *Teller) effects(list []finding.Effect) string {
	var out []string
	for i := range list {
		if i == mostEffects {
			break
		}
		out = append(out, t.Effect(&list[i]))
	}
	return strings.Join(out, ", ")
}

// Effect says what a change does to a figure: "rebound travel left from 104.6 to
// 87.6 mm".
func (t *Teller) Effect(e *finding.Effect) string {
	u := unitOf(e.Code, e.Unit, t.System)
	was, is := Wrong(e.Code, e.Before), Wrong(e.Code, e.After)
	if words := turned[e.Code]; words != "" && is && !was {
		return strings.Replace(words, "{}", u.format(math.Abs(e.After)), 1)
	}
	s := sided[e.Code]
	from, to := u.number(Sided(e.Code, e.Before), u.digits), u.format(Sided(e.Code, e.After))
	switch {
	case was && is:
		to += " " + s.bad
	case was:
		from, to = u.format(-s.turn(e.Before))+" "+s.bad, to+" "+s.good
	case is:
		to += " " + s.bad
	}
	return Name(e.Code) + " from " + from + " to " + to
}

// tidy drops a decimal that says nothing: "15.0 mm" of a part that is bought in
// whole millimetres.
func tidy(s string) string {
	number, rest, ok := strings.Cut(s, " ")
	if !ok {
		return s
	}
	if whole, dec, ok := strings.Cut(number, "."); ok && strings.Trim(dec, "0") == "" {
		return whole + " " + rest
	}
	return s
}
