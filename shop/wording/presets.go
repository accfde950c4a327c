package wording

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"trunnion/chassis/car"
	"trunnion/chassis/presets"
)

// purposes are the names of what presets are for.
var purposes = map[string]string{
	"town": "Town", "motorway": "Motorway", "fast-road": "Fast road", "wet": "Wet", "bumpy-closed-road": "Bumpy closed road", "track": "Track",
}

// clicksOf are the clicks of a setting.
func clicksOf(s presets.Setting) string {
	var out []string
	for axle, n := range s {
		if n >= 0 {
			out = append(out, car.AxleNames[axle]+" "+strconv.Itoa(n))
		}
	}
	return strings.Join(out, ", ")
}

// turns are what a hand does from one setting to another; out is softer.
func turns(from, to presets.Setting) string {
	var out []string
	for axle := range from {
		n := to[axle] - from[axle]
		switch {
		case from[axle] < 0 || n == 0:
		case n > 0:
			out = append(out, fmt.Sprintf("%s %d out", car.AxleNames[axle], n))
		default:
			out = append(out, fmt.Sprintf("%s %d in", car.AxleNames[axle], -n))
		}
	}
	if len(out) == 0 {
		return "nothing to turn"
	}
	return strings.Join(out, ", ")
}

// PresetsTitle heads the presets.
func (t *Teller) PresetsTitle(name string, f *presets.Found) string {
	return fmt.Sprintf("%s, “%s”: presets found by driving %d settings over the same roads. Clicks count from closed; as set: %s.", name, t.Build(f.Build.ID), f.Driven, clicksOf(f.AsSet))
}

// Preset says what was found for one purpose, why, and how to get there and back.
func (t *Teller) Preset(f *presets.Found, k int) (head, text, step string) {
	p := &f.Presets[k]
	head = purposes[p.Purpose.Code] + ": " + clicksOf(p.Setting)
	var roads []string
	for _, w := range p.Ways {
		one := fmt.Sprintf("%s at %s, %s", spaced(w.Road), t.Amount("road", "m/s", w.Speed), lower(t.Load(w.Load)))
		if !w.Brief {
			one += " (not of the brief)"
		}
		roads = append(roads, one)
	}
	text = fmt.Sprintf("Over %s the floor has %s, %s at full soft and %s at full hard, and the worst tyre's load varies by %s (%s, %s).",
		strings.Join(roads, "; "), t.floor(p.Is.Seat), t.floor(p.Soft.Seat), t.floor(p.Hard.Seat), PerCent(p.Is.Tyre), PerCent(p.Soft.Tyre), PerCent(p.Hard.Tyre))
	text += fmt.Sprintf(" After the obstacle %s of the bounce is left a cycle later, %s at full soft; %s.", PerCent(p.Is.Bounce), PerCent(p.Soft.Bounce), asGood(p))
	from, name := f.AsSet, "the clicks set"
	if k > 0 {
		from, name = f.Presets[k-1].Setting, strings.ToLower(purposes[f.Presets[k-1].Purpose.Code])
	}
	step = fmt.Sprintf("From %s: %s; back: %s.", name, turns(from, p.Setting), turns(p.Setting, from))
	return head, text, step
}

// asGood says which clicks do as well, by what one sample of a road can tell.
func asGood(p *presets.Preset) string {
	var out []string
	for axle, n := range p.Setting {
		if g := p.AsGood[axle]; n >= 0 && g[0] < g[1] {
			out = append(out, fmt.Sprintf("%s %d to %d", car.AxleNames[axle], g[0], g[1]))
		}
	}
	if len(out) == 0 {
		return "no other click does as well to 1 %"
	}
	return strings.Join(out, " with ") + " do as well to 1 %"
}

// floor is a weighted acceleration of the floor.
func (t *Teller) floor(v float64) string { return t.Amount("floor-acceleration", "m/s^2", v) }

// PresetWanted says what the adjuster does and fails to do in one load state.
func (t *Teller) PresetWanted(w *presets.Wanted) string {
	if w.Failed {
		return fmt.Sprintf("%s: the drives did not come to their end; assess says why.", Upper(t.Load(w.Load)))
	}
	yes := func(ok bool, is, not string) string {
		if ok {
			return is
		}
		return not
	}
	text := fmt.Sprintf("%s: at full soft %s in town (floor %s), %s after the hump (second bounce %s); at full hard %s (floor %s).", Upper(t.Load(w.Load)),
		yes(w.Comfortable, "comfortable", "not comfortable"), t.floor(w.TownSoft),
		yes(w.Enough, "held", "floating"), PerCent(w.BounceSoft),
		yes(w.Firm, "noticeably firmer", "hardly firmer"), t.floor(w.TownHard))
	switch {
	case !w.Enough && math.IsNaN(w.EnoughAt):
		text += " Even full hard does not hold the bounce: the range lacks force at its hard end."
	case !w.Enough:
		text += fmt.Sprintf(" Held from %s: the clicks softer than that are of no use with this load.", clicksOf(w.Clicks))
	}
	switch {
	case !w.Comfortable && w.Enough:
		text += " The range lacks clicks softer than its softest."
	case !w.Comfortable:
		text += " Softer clicks would float more: what is felt is spring, stop or tyre."
	}
	if !w.Firm {
		text += " The range is too narrow to be felt."
	}
	return text
}

// PresetsBasis says what presets rest on.
func (t *Teller) PresetsBasis(f *presets.Found) string {
	text := fmt.Sprintf("Limits: from %s a ride is fairly uncomfortable (ISO 2631-1, stated for the seat, held against the floor); a second bounce of up to %s is held, a damping ratio of 0.2; 15 %% more is noticeable. What is weighed for each purpose, and these limits but the first, are common practice, no source; all settings met the same two samples of each road.",
		t.floor(presets.MostTown), PerCent(presets.MostBounce))
	if f.Hump {
		text += " The brief names no obstacle: a hump of 75 mm by 3.7 m at 30 km/h stands for it."
	}
	return text + " Try a preset on a road you know, and turn both sides of an axle alike."
}

// NoJob is said where a job cannot be read.
const NoJob = "The job cannot be read yet: its faults come first."

// Purpose is the name of what a preset is for.
func Purpose(code string) string { return purposes[code] }

// PresetTaken names the change by which a build takes a preset over.
func PresetTaken(code string) string { return "clicks for " + strings.ToLower(purposes[code]) }

// PresetHeads are the names of a setting's figures.
var PresetHeads = [3]string{"Floor", "Worst tyre’s load varies by", "Second bounce"}

// PresetFigures are those of a setting, in the order of PresetHeads.
func (t *Teller) PresetFigures(f *presets.Figures) []string {
	return []string{t.floor(f.Seat), PerCent(f.Tyre), PerCent(f.Bounce)}
}
