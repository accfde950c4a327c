package intake

import (
	"regexp"
	"slices"
	"strings"
	"time"

	"trunnion/chassis/figure"
	"trunnion/shop/quantity"
)

// logKinds are what the units in a log's headings may measure.
var logKinds = []quantity.Kind{quantity.Length, quantity.SpeedRoad, quantity.SpeedDamper, quantity.Acceleration, quantity.Time, quantity.Angle, quantity.Temperature, quantity.Pressure, quantity.Frequency}

// isLogUnit reports a unit that a logger's channel may have.
func isLogUnit(text string) bool {
	switch strings.ToLower(text) {
	case "v", "mv", "count", "counts", "%", "bar", "rpm", "deg/s", "°/s", "deg", "kpa":
		return true
	}
	for _, k := range logKinds {
		if _, err := quantity.Find(text, k); err == nil {
			return true
		}
	}
	return false
}

// headedLog parts a heading into name and unit.
func headedLog(cell string) (name, unit string) {
	cell = strings.Trim(strings.TrimSpace(cell), `"'`)
	if m := bracketedUnit.FindStringSubmatch(cell); m != nil && m[1] != "" && isLogUnit(m[2]) {
		return strings.TrimSpace(m[1]), m[2]
	}
	for _, sign := range []string{",", "_", " "} {
		if i := strings.LastIndex(cell, sign); i > 0 {
			if u := strings.TrimSpace(cell[i+len(sign):]); len(u) > 1 && isLogUnit(u) || u == "s" || u == "g" || u == "V" {
				return strings.TrimSpace(cell[:i]), u
			}
		}
	}
	return cell, ""
}

var (
	logLetters = regexp.MustCompile(`[a-zA-Z]+`)
	sides      = map[string]int{"fl": 0, "lf": 0, "fr": 1, "rf": 1, "rl": 2, "lr": 2, "rr": 3}
)

// logRole is what a heading says its channel is, or may be.
func logRole(name string, headed bool) (role, guess string) {
	if !headed {
		return "", ""
	}
	words := logLetters.FindAllString(strings.ToLower(name), -1)
	corner := -1
	for i, w := range words {
		if c, ok := sides[w]; ok {
			corner = c
		}
		if i+1 < len(words) {
			pair := w + " " + words[i+1]
			for k, c := range []string{"front left", "front right", "rear left", "rear right"} {
				if a, b, _ := strings.Cut(c, " "); pair == c || pair == b+" "+a {
					corner = k
				}
			}
		}
	}
	any := func(list ...string) bool { return has(words, list) }
	cornered := func(role string) string {
		if corner < 0 {
			return ""
		}
		return role + "-" + figure.CornerNames[corner]
	}
	switch {
	case any("temperature", "temp", "pressure", "throttle", "brake", "rpm", "voltage", "battery", "heading", "latitude", "longitude", "gear", "satellites"):
		return roleIgnored, ""
	case any("time", "timestamp", "clock", "elapsed") || name == "t":
		return roleLogTime, ""
	case any("event", "note", "comment", "marker", "text", "lap"):
		return roleText, ""
	case any("travel", "damper", "shock", "pot", "susp", "suspension", "stroke"):
		return cornered("travel"), ""
	case any("hub", "wheel", "upright", "unsprung") && any("acc", "accel", "acceleration", "vertical", "z"):
		return cornered("hub"), ""
	case any("body", "chassis", "tower", "sprung") && any("acc", "accel", "acceleration", "vertical", "z"):
		return cornered("body"), ""
	case any("floor", "seat"):
		return "floor", ""
	case any("speed", "velocity") && !any("wheel") && corner < 0:
		return "speed", ""
	case any("lateral", "lat") && !any("gps"):
		return "lateral", ""
	case any("longitudinal", "long"):
		return "longitudinal", ""
	case corner >= 0:
		return "", "travel-" + figure.CornerNames[corner]
	case any("acc", "accel", "az", "z"):
		return "", "floor"
	}
	return "", ""
}

// clockTime reads hours, minutes and seconds, a date before them or not, as seconds of
// the day.
func clockTime(cell string) (float64, bool) {
	if !strings.Contains(cell, ":") || len(cell) > 40 {
		return 0, false
	}
	if i := strings.LastIndexAny(cell, "T "); i >= 0 {
		cell = cell[i+1:]
	}
	cell = strings.TrimSuffix(cell, "Z")
	if i := strings.IndexAny(cell, "+"); i > 0 {
		cell = cell[:i]
	}
	parts := strings.Split(strings.Replace(cell, ",", ".", 1), ":")
	if len(parts) > 3 {
		return 0, false
	}
	parts = append(slices.Repeat([]string{"0"}, 3-len(parts)), parts...)
	for _, p := range parts {
		if p == "" || strings.Trim(p, "0123456789.") != "" {
			return 0, false
		}
	}
	d, err := time.ParseDuration(parts[0] + "h" + parts[1] + "m" + parts[2] + "s")
	return d.Seconds(), err == nil
}
