package wording

import (
	"math"
	"strconv"
	"strings"

	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
	"trunnion/chassis/study"
)

// changes are the changes a remedy can be; {} takes its size, {to} what it becomes,
// {was} what it was.
var changes = map[string]string{
	"shorter-stop":         "a stop {} shorter, of the same foam ({to})",
	"packer":               "{a packer}",
	"less-packer":          "{a packer}",
	"shorter-damper":       "dampers made to order, {} shorter open and closed",
	"less-droop":           "dampers made to order, {} shorter when open",
	"longer-stroke":        "dampers made to order, {} longer when open",
	"stronger-valving":     "valving {} stronger, made to order",
	"softer-valving":       "valving {} softer, made to order",
	"longer-spring":        "springs {} longer, of the same rate ({spring})",
	"firmer-spring":        "springs of {spring} instead of {old spring}",
	"softer-longer-spring": "springs of {spring} instead of {old spring}",
	"listed-spring":        "springs “{choice}” ({spring}) instead of {old spring}",
	"stocked-spring":       "springs “{choice}” of the catalogue ({spring}) instead of {old spring}",
	"listed-damper":        "dampers “{choice}” with their stops",
	"helper":               "helper springs with {} of travel, flat at ride height, on main springs {free} long",
	"raise-front":          "the front {} higher{turns}",
	"raise-rear":           "the rear {} higher{turns}",
	"left-up-front":        "the front left {} higher against the right{turns}",
	"left-up-rear":         "the rear left {} higher against the right{turns}",
	"right-up-front":       "the front right {} higher against the left{turns}",
	"right-up-rear":        "the rear right {} higher against the left{turns}",
	"firmer-click":         "click {to} from closed instead of {was}",
	"softer-click":         "click {to} from closed instead of {was}",
	"stiffer-bar-hole":     "the bar in hole “{choice}”, {} stiffer at one wheel",
	"softer-bar-hole":      "the bar in hole “{choice}”, {} softer at one wheel",
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

// mostBreaks is how many findings that a change breaks one sentence holds.
const mostBreaks = 4

// Change tells what is changed and where, as a heading says it: "Rear: springs 20 mm
// longer, of the same rate (60 N/mm, 270 mm free)".
func (t *Teller) Change(r *finding.Remedy) string {
	lead := t.change(r)
	if r.Code == "raise-front" || r.Code == "raise-rear" || r.Kind == finding.Level {
		return upper(lead)
	}
	return upper(site(r)) + ": " + lead
}

// site is the axle of a remedy, or its corner.
func site(r *finding.Remedy) string {
	if r.Side != figure.NoCorner {
		return Corner(r.Side)
	}
	return axle(2 * r.Axle)
}

func (t *Teller) change(r *finding.Remedy) string {
	size := t.Amount("", r.Unit, math.Abs(r.Change))
	if r.Unit == "1" {
		size = t.Amount("stop-share", "1", math.Abs(r.Change)) // a share, said in per cent
	}
	lead, ok := changes[r.Code]
	if !ok {
		lead = spaced(r.Code) + " by {}"
	}
	for i := range r.Sizes {
		s := &r.Sizes[i]
		is, was := tidy(t.Amount("", s.Unit, s.Is)), tidy(t.Amount("", s.Unit, s.Was))
		switch s.Code {
		case "click":
			is, was = strconv.Itoa(int(math.Round(s.Is))), strconv.Itoa(int(math.Round(s.Was)))
			lead = strings.NewReplacer("{to}", is, "{was}", was).Replace(lead)
		case "packer":
			words := "a packer of " + is
			switch {
			case s.Is == 0:
				words = "no packer, instead of " + was
			case s.Was > 0:
				words = "packers of " + is + " instead of " + was
			}
			lead = strings.ReplaceAll(lead, "{a packer}", words)
		case "stop-length":
			lead = strings.ReplaceAll(lead, "{to}", is)
		case "spring-rate":
			// With its length, which stands behind it.
			lead = strings.NewReplacer("{spring}", is+"{, long}", "{old spring}", was+"{, old long}").Replace(lead)
		case "spring-free":
			lead = strings.NewReplacer("{, long}", ", "+is+" free", "{, old long}", ", "+was, "{free}", is).Replace(lead)
		}
	}
	lead = strings.ReplaceAll(lead, "{turns}", t.turned(r))
	lead = strings.NewReplacer("{}", tidy(size), "{choice}", r.Choice).Replace(lead)
	if strings.Contains(lead, "springs") {
		if turns := t.turned(r); turns != "" && r.Kind == finding.Spring {
			lead += turns
		}
	}
	if r.Part != nil && r.Part.Price != "" {
		lead += ", " + r.Part.Price + " each"
	}
	if r.Unsure {
		lead += ", if their inside diameter fits the seats (not known)"
	}
	return lead
}

// turned are the collars of a remedy: " by its collars (left 6 turns up, right 5 1/2
// turns up)".
func (t *Teller) turned(r *finding.Remedy) string {
	var list []string
	what := ""
	for i := range r.Sizes {
		s := &r.Sizes[i]
		switch s.Code {
		case "collar":
			what = "the collars"
		case "body-length":
			what = "the threaded bodies"
		case "turns":
			way := "up"
			if what == "the threaded bodies" {
				way = "longer"
			}
			if s.Is < 0 {
				way = map[string]string{"up": "down", "longer": "shorter"}[way]
			}
			turns := TurnsBy(s.Is, s.Was)
			noun := " turns "
			if turns == "1" || !strings.ContainsAny(turns, " .") && strings.Contains(turns, "/") {
				noun = " turn "
			}
			list = append(list, turns+noun+way)
		}
	}
	if what == "" || len(list) == 0 {
		return ""
	}
	if len(list) == 2 && list[0] != list[1] {
		return ", " + what + " " + list[0] + " on the left, " + list[1] + " on the right"
	}
	return ", " + what + " " + list[0]
}

// Remedy tells a change that was put through the same study: what it breaks first,
// then what it gives and what it costs.
func (t *Teller) Remedy(f *finding.Finding, r *finding.Remedy) string {
	out := t.Gives(f, r)
	if costs := t.Costs(r); costs != "" {
		return out + " It costs: " + costs + "."
	}
	if len(r.Breaks) > 0 {
		return out
	}
	return out + " Nothing else that is judged gets worse."
}

// Costs tells the figures that get worse and are not said as broken.
func (t *Teller) Costs(r *finding.Remedy) string {
	var list []string
	for i := range r.Worsens {
		if e := &r.Worsens[i]; !breaks(r, e.Code) && len(list) < mostEffects {
			list = append(list, t.Effect(e))
		}
	}
	return strings.Join(list, ", ")
}

// Gives tells what a change breaks and gives, without its costs.
func (t *Teller) Gives(f *finding.Finding, r *finding.Remedy) string {
	out := t.Change(r)
	if n := len(r.Breaks); n > 0 {
		var list []string
		for i := range r.Breaks {
			if i < mostBreaks {
				list = append(list, t.Break(&r.Breaks[i]))
			}
		}
		if n > mostBreaks {
			list = append(list, "and "+strconv.Itoa(n-mostBreaks)+" more")
		}
		out += ". It breaks " + strings.Join(list, "; ")
	}
	out += ". It gives " + t.After(f, r.After)
	if p := &r.AfterAt; r.VerdictNow != finding.Clear && p.Load != "" && p.Load != f.Value.Place.Load {
		out += t.loaded(p.Load)
	}
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
	for axle, by := range r.Higher {
		if r.Code == "raise-front" || r.Code == "raise-rear" {
			break
		}
		if math.Abs(by) >= leastHigher {
			way := "higher"
			if by < 0 {
				way = "lower"
			}
			out += " The " + [2]string{"front", "rear"}[axle] + " then stands " + t.Amount("arch-height", "m", math.Abs(by)) + " " + way + "."
		}
	}
	return out
}

// leastHigher is the change of height that is worth a word: chosen. [m]
const leastHigher = 2e-3

// Break says a finding that a change breaks: "second bounce at the front from 20.6 to
// 50.8 %, close".
func (t *Teller) Break(b *finding.Break) string {
	text := strings.ToLower(Row(b.Code)[:1]) + Row(b.Code)[1:]
	if !math.IsNaN(b.Before) {
		u := unitOf(b.Judges, siOf(b.Judges), t.System)
		text += ", " + t.side(b.Judges, u, b.Before) + " → " + t.side(b.Judges, u, b.After)
	}
	switch {
	case b.Place.Corner >= 0:
		text += " " + Corner(b.Place.Corner)
	case b.Place.Mode == "front" || b.Place.Mode == "rear":
		text += " " + b.Place.Mode
	}
	if b.Place.Load != "" {
		text += t.loaded(b.Place.Load)
	}
	return text + " (" + Verdict(b.Now) + ")"
}

// side is a value with its unit, a signed distance with the word of its side.
func (t *Teller) side(code string, u unit, v float64) string {
	s, ok := sided[code]
	if way, two := twoWays[code]; two {
		if v < 0 {
			return u.format(-v) + " " + way[1]
		}
		return u.format(v) + " " + way[0]
	}
	if !ok {
		if sideways[code] && v >= study.CornerEnd {
			return "none up to " + u.format(study.CornerEnd)
		}
		return u.format(v)
	}
	word := s.good
	if s.turn(v) < 0 {
		word = s.brief
	}
	return u.format(math.Abs(v)) + " " + word
}

// twoWays are the words of figures neither of whose signs is the good one.
var twoWays = map[string][2]string{"rake-change": {"nose down", "nose up"}, "side-lower": {"lower", "higher"}}

// After is the finding's figure with the change made.
func (t *Teller) After(f *finding.Finding, v float64) string {
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
	case "lifts-wheel-in-corner":
		if v >= study.CornerEnd {
			return "the wheel on the ground up to " + size
		}
		return "the wheel off the ground at " + size
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
	case "cross-weight-off":
		return size + " off half"
	case "stands-crooked", "stands-nose-up", "stands-nose-down":
		return t.side(f.Value.Code, u, v)
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

// breaks reports whether a figure is said among what a change breaks.
func breaks(r *finding.Remedy, code string) bool {
	for i := range r.Breaks {
		if r.Breaks[i].Judges == code {
			return true
		}
	}
	return false
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
