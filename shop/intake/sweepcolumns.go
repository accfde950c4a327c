package intake

import (
	"regexp"
	"slices"
	"strings"

	"trunnion/shop/quantity"
)

// kindOf is what a column of a role measures.
var kindOf = map[string]quantity.Kind{
	roleVelocity: quantity.SpeedDamper, roleForce: quantity.Force, roleBump: quantity.Force, roleRebound: quantity.Force, roleGas: quantity.Force,
	rolePosition: quantity.Length, roleTime: quantity.Time, roleAngle: quantity.Angle, roleTemperature: quantity.Temperature, roleFrequency: quantity.Frequency,
}

// unitRole is the role under which a unit is asked for and remembered: a file writes
// all its forces in one.
func unitRole(role string) string {
	switch role {
	case roleBump, roleRebound, roleGas:
		return roleForce
	}
	return role
}

// unitChoices are the units a question offers.
var unitChoices = map[string][]string{
	roleForce: {"N", "kgf", "lbf", "kN", "daN"}, roleVelocity: {"mm/s", "m/s", "in/s", "cm/s"}, rolePosition: {"mm", "in", "m"},
	roleTime: {"s", "ms"}, roleAngle: {"deg", "rad"}, roleTemperature: {"°C", "°F", "K"}, roleFrequency: {"Hz", "rpm"},
}

// column is what a column holds.
type sweepColumn struct {
	name, role, unit string // unit as it stands there; empty: none does
}

var bracketedUnit = regexp.MustCompile(`^(.*?)\s*[\[({]\s*([^\])}]*?)\s*[\])}]\s*$`)

// headed parts a heading into its name and its unit: "Force [N]", "Force, N",
// "force_N", "Force N".
func headed(cell string) (name, unit string) {
	cell = strings.TrimSpace(strings.Trim(cell, `"'`))
	if m := bracketedUnit.FindStringSubmatch(cell); m != nil && m[1] != "" {
		if isUnit(m[2]) {
			return m[1], m[2]
		}
		return m[1] + " " + m[2], ""
	}
	for _, sign := range []string{",", "_", " ", ":"} {
		i := strings.LastIndex(cell, sign)
		if i > 0 && isUnit(strings.TrimSpace(cell[i+len(sign):])) {
			return strings.TrimSpace(cell[:i]), strings.TrimSpace(cell[i+len(sign):])
		}
	}
	return strings.TrimSuffix(cell, ":"), ""
}

// loose are ways to write a force that name a mass: in a column of forces only the
// weight of it can be meant.
var loose = map[string]string{"lb": "lbf", "lbs": "lbf", "kg": "kgf"}

// seconds are other ways to write a speed.
var seconds = strings.NewReplacer("/sec", "/s", "/Sec", "/s", "/SEC", "/s", " per second", "/s")

// unitIn finds a unit that a column of a role may have.
func unitIn(text, role string) (quantity.Unit, bool) {
	kind, ok := kindOf[role]
	if !ok || text == "" {
		return quantity.Unit{}, false
	}
	text = seconds.Replace(text)
	if u, err := quantity.Find(text, kind); err == nil {
		return u, true
	}
	if weight, ok := loose[strings.ToLower(text)]; ok && kind == quantity.Force {
		u, err := quantity.Find(weight, kind)
		return u, err == nil
	}
	return quantity.Unit{}, false
}

// isUnit reports a unit that any column may have.
func isUnit(text string) bool {
	for _, role := range []string{roleVelocity, roleForce, rolePosition, roleTime, roleAngle, roleTemperature, roleFrequency} {
		if _, ok := unitIn(text, role); ok {
			return true
		}
	}
	return false
}

// Words of headings, folded to lower case.
var (
	letters     = regexp.MustCompile(`[a-z]+`)
	bumpWords   = []string{"bump", "compression", "compress", "comp", "jounce", "closing"}
	reboundWord = []string{"rebound", "extension", "reb", "ext", "tension", "opening"}
	clickWords  = []string{"click", "clicks", "setting", "adjuster"}
)

func has(words, any []string) bool {
	return slices.ContainsFunc(any, func(w string) bool { return slices.Contains(words, w) })
}

// roleOf is what a heading says its column holds; empty where it says nothing known.
func roleOf(name string) string {
	words := letters.FindAllString(strings.ToLower(name), -1)
	bump, rebound := has(words, bumpWords), has(words, reboundWord)
	one := func(role string, any ...string) string {
		if has(words, any) {
			return role
		}
		return ""
	}
	switch {
	case has(words, clickWords) && bump:
		return roleBumpClick
	case has(words, clickWords) && rebound:
		return roleReboundClick
	case has(words, clickWords):
		return roleClick
	case has(words, []string{"velocity", "speed", "vel"}) || name == "v" || name == "V":
		if bump || rebound {
			return "" // a speed of its own in each stroke: which is which is asked
		}
		return roleVelocity
	case has(words, []string{"gas"}):
		return roleGas
	case bump && !rebound:
		return roleBump
	case rebound && !bump:
		return roleRebound
	case name == "F" || name == "f":
		return roleForce
	case name == "x" || name == "X":
		return rolePosition
	case name == "t":
		return roleTime
	case name == "T":
		return roleTemperature
	}
	for _, role := range []string{
		one(roleTemperature, "temperature", "temp"), one(roleForce, "force", "load"), one(rolePosition, "position", "displacement", "disp", "stroke", "travel", "pos"),
		one(roleTime, "time"), one(roleAngle, "angle", "crank"), one(roleFrequency, "frequency", "freq", "rpm"), one(roleRun, "run", "test", "cycle", "sweep"),
	} {
		if role != "" {
			return role
		}
	}
	return ""
}
