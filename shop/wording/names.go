package wording

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
	"trunnion/shop/quantity"
)

// names are what the codes are called in a row or a sentence.
var names = map[string]string{
	"sprung-mass": "sprung mass", "front-share": "weight on the front", "left-share": "weight on the left",
	"cross-share-front-right-rear-left": "cross weight, front right and rear left",
	"corner-load":                       "corner load", "arch-height": "height, hub to arch", "hang-up": "friction hang-up",
	"preload-error": "old spring against the scales", "travel-to-stop": "travel to the stop",
	"travel-to-stop-firm": "travel to stop firm", "travel-to-stop-hard": "travel to stop hard", "travel-to-solid": "travel to stop solid",
	"travel-to-closed": "travel to damper closed", "travel-to-arch": "travel to the arch", "travel-to-block": "travel to coils touching",
	"travel-to-open": "droop left", "solid-before-arch": "stop solid before the arch", "solid-before-block": "stop solid before the coils touch",
	"travel-to-limit": "travel to the limit", "end-before-limit": "end of travel before the limit",
	"spring-gap-open": "spring slack at full droop", "stop-share": "load on the stop", "catch-speed": "bump speed caught",
	"wheel-rate": "wheel rate", "corner-frequency": "frequency, tyre left out", "corner-frequency-on-tyre": "frequency on the tyre",
	"damping-ratio": "damping ratio", "mode-frequency": "mode's frequency", "mode-damping": "mode's damping ratio",
	"frequency-ratio": "rear over front frequency", "floor-acceleration": "floor acceleration, weighted", "seat-acceleration": "seat acceleration, weighted",
	"vibration-dose": "vibration dose", "tyre-load-variation": "tyre load variation", "tyre-light-share": "time with a tyre light",
	"stop-hits": "hard hits on the stop", "stop-force-peak": "greatest force of the stop", "stop-time-share": "time in the stop",
	"travel-peak-bump": "deepest bump travel", "travel-peak-droop": "farthest droop travel", "damper-travel-used": "damper travel used", "damper-speed-share": "time by damper speed", "makers-bump-kept": "maker's bump travel kept", "makers-solid-kept": "maker's travel to solid kept", "damper-power": "heat in the damper",
	"mean-sink": "sink through rebound", "mount-damage-relative": "wear of the upper mount against the reference", "settling-time": "settling time", "bounce-left": "bounce left after one cycle",
	"wheel-off-time": "time a tyre is off the ground", "flight-time": "time all tyres are off the ground", "flight-height": "height of the flight", "landing-load": "tyre load on landing", "landing-stop-force": "bump-stop force on landing",
	"top-out-speed": "top-out speed", "body-acceleration-peak": "greatest floor acceleration", "roll-gradient": "roll per lateral acceleration",
	"stop-contact-acceleration": "lateral acceleration at which the stop is met", "landing-balance-shift": "shift of balance on landing",
	"inside-droop-left": "droop left inside a bend", "camber-to-road": "camber to the road outside a bend", "front-transfer-share": "front share of load moved across", "front-roll-share": "front share of roll stiffness",
	"bar-roll-share": "bar's share of roll stiffness", "links-steer": "understeer by the links", "understeer-gradient": "understeer by the tyres", "critical-speed": "critical speed",
	"yaw-settling": "yaw settling rate", "yaw-damping": "yaw damping", "yaw-frequency": "yaw frequency",
}

// rows are what the findings are called as a row of a table.
var rows = map[string]string{
	"spring-loose-at-droop": "Spring slack at full droop", "coils-touch-first": "Stop solid before coils touch",
	"tyre-meets-arch-first": "Stop solid before arch", "stop-carries-load": "Stop's share at rest",
	"rests-on-bump-stop": "Travel to the stop", "stop-firm-too-soon": "Travel to stop firm",
	"catches-less-than-before": "Bump speed caught", "droop-short": "Droop left", "damping-low": "Least damping ratio",
	"damping-high": "Most damping ratio", "rear-slower-than-front": "Rear over front frequency", "hits-stops-hard": "Hard hits on the stop",
	"stop-blow": "Blow of the stop", "tyre-goes-light": "Time with a tyre light", "keeps-bouncing": "Bounce left after a hump",
	"leaves-the-ground": "Time off the ground", "wheel-leaves-ground": "Time a wheel is off the ground",
	"meets-stop-in-corner": "Stop met in a bend", "less-understeer-than-before": "Understeer in a bend", "nervous-at-speed": "Yaw damping at speed",
	"unstable-at-speed": "Stability at speed", "slow-to-settle-at-speed": "Yaw settling at speed",
	"limit-met-first": "End of travel before a limit", "wheel-hangs": "Hanging wheel", "coils-touch-at-rest": "Coils touching at rest", "rests-on-metal": "Rest on metal",
	"rests-past-stop-table": "Rest past the stop's table",
}

// Name is what a result code is called: "travel to the stop".
func Name(code string) string {
	if n, ok := names[code]; ok {
		return n
	}
	return spaced(code)
}

// Row is what a finding code is called as a row of a table.
func Row(code string) string {
	if n, ok := rows[code]; ok {
		return n
	}
	return upper(spaced(code))
}

// Verdict is the word of a verdict; a mark is never a colour alone.
func Verdict(v finding.Verdict) string {
	switch v {
	case finding.Clear, finding.Close, finding.Over, finding.Unknown:
		return string(v)
	case finding.NoLimit:
		return "no limit"
	}
	return spaced(string(v))
}

// Corner is "rear left"; empty for the whole car.
func Corner(i int) string {
	if i < 0 || i >= len(figure.CornerNames) {
		return ""
	}
	return spaced(figure.CornerNames[i])
}

// axle is "front" or "rear".
func axle(corner int) string {
	if corner < 2 {
		return "front"
	}
	return "rear"
}

// Build is a build's name as its owner gave it.
func (t *Teller) Build(id string) string { return named(t.builds, id) }

// Load is a load state's name.
func (t *Teller) Load(id string) string { return named(t.loads, id) }

func named(list map[string]string, id string) string {
	if n := list[id]; n != "" {
		return n
	}
	return spaced(id)
}

// loaded is a load state in a sentence: "with four aboard".
func (t *Teller) loaded(id string) string {
	name := t.Load(id)
	low := lower(name)
	switch {
	case id == "" || name == "":
		return ""
	case id == "driver" || low == "driver":
		return " with the driver"
	case t.nobody[id]:
		return ", " + low
	case strings.Contains(low, " ") && (strings.HasSuffix(low, "aboard") || strings.Contains(low, " and ")):
		return " with " + low
	}
	return ", loaded as “" + name + "”"
}

// obstacle is an event's name in a sentence: its size stands behind the last
// dash, in thousandths of a metre.
func (t *Teller) obstacle(event string) string {
	at := strings.LastIndexByte(event, '-')
	if at > 0 {
		if size, err := strconv.ParseFloat(event[at+1:], 64); err == nil {
			digits := 0
			if t.System == quantity.Imperial {
				digits = quantity.Auto
			}
			return spaced(event[:at]) + " of " + quantity.Format(size*quantity.Millimetre, quantity.Length, t.System, digits)
		}
	}
	return spaced(event)
}

// driven is where a value of a drive comes from: " on village lane at 80 km/h".
func (t *Teller) driven(p *figure.Place) string {
	out := ""
	switch {
	case p.Event != "":
		out = " over the " + t.obstacle(p.Event)
	case p.Road != "":
		out = " on “" + spaced(p.Road) + "”"
	default:
		return ""
	}
	if p.Speed > 0 {
		out += " at " + quantity.Format(p.Speed, quantity.SpeedRoad, t.System, quantity.Auto)
	}
	return out
}

// Place says what a value is about: "Kit, four aboard, rear left, click 7".
func (t *Teller) Place(p figure.Place) string {
	parts := t.where(p)
	if p.Load != "" {
		parts = append([]string{lower(t.Load(p.Load))}, parts...)
	}
	if p.Build != "" {
		parts = append([]string{t.Build(p.Build)}, parts...)
	}
	return strings.Join(parts, ", ")
}

// where is a place without build and load state.
func (t *Teller) where(p figure.Place) []string {
	var parts []string
	add := func(text string) {
		if text != "" {
			parts = append(parts, text)
		}
	}
	add(Corner(p.Corner))
	if p.Mode != "" {
		add(spaced(p.Mode))
	}
	add(strings.TrimSpace(t.driven(&p)))
	if p.HasClick {
		add("click " + strconv.Itoa(p.Click))
	}
	if p.Direction == "mean" {
		add("mean of bump and rebound")
	} else {
		add(p.Direction)
	}
	if p.Velocity > 0 {
		add("at " + quantity.Format(p.Velocity, quantity.SpeedDamper, t.System, quantity.Auto) + " of the damper")
	}
	if p.Threshold > 0 {
		add("above " + quantity.Format(p.Threshold, quantity.Force, t.System, quantity.Auto))
	}
	return parts
}

func spaced(s string) string { return strings.ReplaceAll(s, "-", " ") }

func lower(s string) string { return Lower(s) }
func upper(s string) string { return Upper(s) }

// Lower is a text inside a sentence. What begins with two capitals is a short name
// and stays.
func Lower(s string) string {
	if s == "" {
		return s
	}
	first, size := utf8.DecodeRuneInString(s)
	if second, _ := utf8.DecodeRuneInString(s[size:]); unicode.IsUpper(second) {
		return s
	}
	return string(unicode.ToLower(first)) + s[size:]
}

// Upper is a text at the head of a sentence or a row.
func Upper(s string) string {
	if s == "" {
		return s
	}
	first, size := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(first)) + s[size:]
}

// Drive names a road or obstacle with its speed and load state: "Village lane,
// 80 km/h, four aboard".
func (t *Teller) Drive(p *figure.Place) string {
	parts := []string{}
	if p.Event != "" {
		parts = append(parts, upper(t.obstacle(p.Event)))
	} else {
		parts = append(parts, upper(spaced(p.Road)))
	}
	if p.Speed > 0 {
		parts = append(parts, quantity.Format(p.Speed, quantity.SpeedRoad, t.System, quantity.Auto))
	}
	if p.Load != "" {
		parts = append(parts, lower(t.Load(p.Load)))
	}
	return strings.Join(parts, ", ")
}
