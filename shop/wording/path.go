package wording

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"trunnion/chassis/car"
	"trunnion/chassis/figure"
	"trunnion/chassis/study"
	"trunnion/shop/quantity"
)

// keys are the last parts of paths in a job, in words.
var keys = map[string]string{
	"free": "free length", "block": "block length", "rate": "rate", "scale": "force table", "open": "open length", "closed": "closed length",
	"rod_showing_open": "rod showing when open", "arch": "travel to the arch", "bush_rate": "bushes' rate", "tyre_rate": "tyre's rate",
	"link_ratio": "bar's link ratio", "unsprung": "unsprung mass", "cg_height": "centre of gravity's height", "roll_centre": "roll centre's height",
	"arch_height": "hub-to-arch height", "spring_length": "spring length seat to seat", "damper_length": "damper length between the mounts",
	"rod_showing": "rod showing", "load": "corner load", "scale_gain": "scales against a known weight", "curves": "dyno curve",
	"spring": "spring's motion table", "damper": "damper's motion table", "motion": "motion table", "seats_closer": "spring seats against the old ones",
	"mounts_closer": "mounts against the old ones", "force": "gas force", "length": "length", "crush": "force table", "friction": "friction",
	"mass": "mass", "drop": "stated drop", "zero_height": "datum height", "inertia": "inertia", "pressure": "gas pressure",
	"size": "size", "diameter": "diameter", "loaded_radius": "loaded radius", "loaded_at": "load of its loaded radius", "section": "section width",
	"circumference": "rolling circumference", "offset": "offset", "width": "width", "speedometer": "speedometer's reading",
	"lip": "room to the arch's lip", "strut": "room to the strut", "liner": "room to the liner", "lock": "angle of full lock",
}

// Input names an input of a job by its path: "rear-60: free length".
func Input(path string) string {
	switch path {
	case "friction":
		return "friction at rest"
	case "unnamed", "":
		return "an input without a name"
	}
	parts := strings.Split(path, ".")
	name := func(k string) string {
		base, _, _ := strings.Cut(k, "[")
		if base == "pressure" && !strings.Contains(path, ".gas.") {
			return "tyre pressure"
		}
		if n, ok := keys[base]; ok {
			return n
		}
		return strings.ReplaceAll(base, "_", " ")
	}
	last := parts[len(parts)-1]
	switch {
	case parts[0] == "parts" && len(parts) >= 4:
		kind := strings.TrimSuffix(parts[1], "s")
		return kind + " " + parts[2] + ": " + name(last)
	case parts[0] == "parts" && len(parts) == 3:
		return strings.TrimSuffix(parts[1], "s") + " " + parts[2]
	case parts[0] == "builds" && len(parts) >= 3:
		return strings.Join(append([]string{parts[1]}, parts[2:len(parts)-1]...), " ") + ": " + name(last)
	case parts[0] == "loads" && len(parts) >= 3:
		return "load state " + parts[1] + ": " + name(last)
	case parts[0] == "car" && len(parts) >= 3:
		if parts[1] == "inertia" {
			return last + " inertia"
		}
		axle := parts[1]
		if len(parts) > 3 && (parts[2] == "left" || parts[2] == "right") {
			axle += " " + parts[2]
		}
		if last == "bend" && len(parts) >= 5 {
			return "bend of the " + name(parts[len(parts)-2]) + ", " + axle
		}
		for _, corner := range []string{"front_left", "front_right", "rear_left", "rear_right", "front", "rear"} {
			if last == corner {
				return name(parts[len(parts)-2]) + ", " + strings.ReplaceAll(corner, "_", " ")
			}
		}
		for _, side := range []string{"front", "rear"} {
			if parts[1] == side {
				return name(last) + ", " + axle
			}
		}
		if parts[len(parts)-2] == "motion" || parts[len(parts)-2] == "bar" {
			return name(last)
		}
	}
	return name(last)
}

// Measure says what measuring an input would buy: the input, the minutes it
// takes, and what becomes of the band.
func (t *Teller) Measure(v *figure.Value, n *figure.Narrow) string {
	u := unitOf(v.Code, siOf(v.Code), t.System)
	text := upper(Input(n.Path))
	if n.Effort > 0 {
		text += " (" + strconv.Itoa(int(math.Round(n.Effort/quantity.Minute))) + " min)"
	}
	if !v.HasBand || u.label == "" && v.Code != "damping-ratio" {
		return text + "."
	}
	half := 0.5 * (v.High - v.Low)
	return text + ": " + Name(v.Code) + " " + Corner(v.Place.Corner) + " from ± " + u.format(half) + " to ± " + u.format(n.HalfAfter) + "."
}

// MissingReading is a reading that was not taken and that figures stay open without.
type MissingReading struct {
	Text    string // what it is, and what stays open without it
	Path    string // of the first
	Minutes int
}

// MissingReadings are the readings that figures stay open without, what takes least
// first: a figure that is not known is narrowed by nothing else.
func MissingReadings(open []car.Problem) []MissingReading {
	var order []string
	paths := map[string][]string{}
	for i := range open {
		why := open[i].Want.Text
		if paths[why] == nil {
			order = append(order, why)
		}
		paths[why] = append(paths[why], open[i].Path)
	}
	var out []MissingReading
	for _, why := range order {
		list := paths[why]
		minutes := int(math.Round(study.Effort(list[0]) / quantity.Minute))
		out = append(out, MissingReading{
			Text: upper(strings.Join(Inputs(list), "; ")) + " (" + strconv.Itoa(minutes) + " min): " + why + ".", Path: list[0], Minutes: minutes,
		})
	}
	slices.SortStableFunc(out, func(a, b MissingReading) int { return a.Minutes - b.Minutes })
	return out
}

// Inputs names many inputs, those of one kind together: "stops f60, r58: loss".
func Inputs(paths []string) []string {
	type group struct {
		kind, what string
		ids        []string
	}
	var groups []*group
	at := map[string]*group{}
	for _, path := range paths {
		name := Input(path)
		parts := strings.Split(path, ".")
		kind, what, ids := "", name, ""
		if parts[0] == "parts" && len(parts) >= 4 {
			head, rest, ok := strings.Cut(name, ": ")
			if ok {
				kind, what, ids = strings.TrimSuffix(parts[1], "s"), rest, strings.TrimPrefix(head, strings.TrimSuffix(parts[1], "s")+" ")
			}
		} else if i := strings.LastIndex(name, ", "); parts[0] == "car" && i > 0 {
			kind, what, ids = "car", name[:i], name[i+2:]
		}
		key := kind + "/" + what
		g := at[key]
		if g == nil {
			g = &group{kind: kind, what: what}
			at[key] = g
			groups = append(groups, g)
		}
		if ids != "" {
			g.ids = append(g.ids, ids)
		}
	}
	var out []string
	for _, g := range groups {
		switch {
		case len(g.ids) == 0:
			out = append(out, g.what)
		case g.kind == "car":
			out = append(out, g.what+" "+strings.Join(g.ids, ", "))
		case len(g.ids) == 1:
			out = append(out, g.kind+" "+g.ids[0]+": "+g.what)
		default:
			out = append(out, g.kind+"s "+strings.Join(g.ids, ", ")+": "+g.what)
		}
	}
	return out
}
