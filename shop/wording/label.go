package wording

import (
	"strconv"
	"strings"
)

// Limit is a limit that a brief may choose.
type Limit struct{ Path, Label string }

// Limits are the limits that a brief may choose, in the order of the page.
var Limits = []Limit{
	{"brief.limits.bump_left", "Bump travel to the stop, usual load state"},
	{"brief.limits.bump_left_laden", "Bump travel to the stop, other load states"},
	{"brief.limits.firm_left", "Bump travel until the stop carries half the corner load"},
	{"brief.limits.droop_left", "Rebound travel left"},
	{"brief.limits.spring_loose", "Spring loose at full droop"},
	{"brief.limits.block_left", "Coil-bind margin beyond the solid stop"},
	{"brief.limits.stop_force", "Peak bump-stop force over the obstacles"},
	{"brief.limits.stop_hit", "Force from which a hit on the stop counts"},
	{"brief.limits.arch_left", "Arch clearance beyond the solid stop"},
	{"brief.limits.cross_off", "Cross weight off half"},
	{"brief.limits.side_to_side", "One side of an axle lower"},
	{"brief.limits.rake", "Rake against the baseline"},
}

// Label is what a path of a job is called: "Front spring, kit".
func Label(path string) string {
	for i := range Limits {
		if Limits[i].Path == path {
			return Limits[i].Label
		}
	}
	words := strings.Split(path, ".")
	text := ""
	switch {
	case words[0] == "builds" && len(words) == 2:
		text = "build " + words[1]
	case words[0] == "builds" && len(words) == 3:
		text = plainKey(words[2]) + ", " + words[1]
	case words[0] == "builds" && len(words) == 5 && words[2] == "setup":
		text = plainKey(words[4]) + " " + plainKey(words[3]) + ", " + words[1]
	case words[0] == "builds" && len(words) > 3:
		text = plainKey(words[2]) + " " + plainKey(strings.Join(words[3:], " ")) + ", " + words[1]
	case words[0] == "loads" && len(words) == 3:
		key, item, found := strings.Cut(words[2], "[")
		text = plainKey(key) + ", " + words[1]
		if n, err := strconv.Atoi(strings.TrimSuffix(item, "]")); found && err == nil {
			text = plainKey(key) + " " + strconv.Itoa(n+1) + ", " + words[1]
		}
	case words[0] == "loads" && len(words) > 3:
		text = plainKey(words[3]) + ", " + words[1]
		if _, item, found := strings.Cut(words[2], "["); found {
			if n, err := strconv.Atoi(strings.TrimSuffix(item, "]")); err == nil {
				text = plainKey(words[3]) + " of item " + strconv.Itoa(n+1) + ", " + words[1]
			}
		}
	case words[0] == "brief" && len(words) > 2 && words[1] == "uses":
		text = strings.Join(words[2:], ".")
	case words[0] == "brief" && words[len(words)-1] != words[0]:
		text = plainKey(words[len(words)-1])
	case words[0] == "job" && len(words) == 2:
		text = plainKey(words[1])
	case words[0] == "car" && len(words) == 2:
		text = plainKey(words[1])
	default:
		text = Input(path)
	}
	if text == "" {
		return path
	}
	return upper(text)
}

// plainKey is a key of a job in words.
func plainKey(key string) string {
	switch key {
	case "words":
		return "in the owner's words"
	case "by":
		return "measured by"
	case "name":
		return "name"
	case "cg_height":
		return "centre of gravity, sprung"
	case "usual_load":
		return "usual load state"
	case "with":
		return "adds to"
	}
	return strings.ReplaceAll(key, "_", " ")
}
