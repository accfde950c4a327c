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
	"preload-error": "old spring against the scales", "travel-to-stop": "bump travel to the stop",
	"travel-to-stop-firm": "bump travel until the stop is firm", "travel-to-stop-hard": "bump travel until the stop is hard",
	"travel-to-solid": "bump travel until the stop is solid", "travel-to-closed": "bump travel to the damper closed",
	"travel-to-arch": "bump travel to the arch", "travel-to-block": "bump travel to coil bind", "travel-to-open": "rebound travel left",
	"solid-before-arch": "arch clearance beyond the solid stop", "solid-before-block": "coil-bind margin beyond the solid stop",
	"travel-to-limit": "travel to the limit", "end-before-limit": "margin to the limit",
	"spring-gap-open": "spring preload at full droop", "stop-share": "bump stop's share of the load", "catch-speed": "bump velocity absorbed",
	"wheel-rate": "wheel rate", "corner-frequency": "frequency without the tyre", "corner-frequency-on-tyre": "frequency on the tyre",
	"damping-ratio": "damping ratio", "mode-frequency": "mode's frequency", "mode-damping": "mode's damping ratio",
	"frequency-ratio": "rear over front frequency", "floor-acceleration": "floor acceleration, weighted", "seat-acceleration": "seat acceleration, weighted",
	"vibration-dose": "vibration dose", "tyre-load-variation": "tyre load variation", "tyre-light-share": "time with low tyre load",
	"stop-hits": "hard hits on the stop", "stop-force-peak": "peak bump-stop force", "stop-time-share": "time in the stop",
	"travel-peak-bump": "peak bump travel", "travel-peak-droop": "peak rebound travel", "damper-travel-used": "damper travel used",
	"damper-speed-share": "time by damper speed", "makers-bump-kept": "maker's bump travel kept", "makers-solid-kept": "maker's travel to solid kept",
	"damper-power": "heat in the damper", "mean-sink": "jacking down", "mount-damage-relative": "wear of the upper mount against the baseline",
	"mount-damage-share": "share of the upper mount's wear", "mount-life-share": "life of the upper mount used",
	"settling-time": "settling time", "bounce-left": "second bounce",
	"wheel-off-time": "time a tyre is off the ground", "flight-time": "time all tyres are off the ground", "flight-height": "height of the flight",
	"landing-load": "tyre load on landing", "landing-stop-force": "bump-stop force on landing",
	"top-out-speed": "top-out speed", "body-acceleration-peak": "peak floor acceleration", "roll-gradient": "roll per lateral acceleration",
	"wheel-lift-acceleration":   "lateral acceleration at which the inner wheel lifts",
	"stop-contact-acceleration": "lateral acceleration at bump-stop contact", "landing-balance-shift": "balance shift at bump-stop contact",
	"inside-droop-left": "rebound travel left inside a corner", "camber-to-road": "camber to the road outside a corner",
	"front-transfer-share": "front share of lateral load transfer", "front-roll-share": "front share of roll stiffness",
	"bar-roll-share": "bar's share of roll stiffness", "links-steer": "understeer by the links", "understeer-total": "understeer",
	"camber-steer": "understeer by camber", "compliance-steer": "understeer by bush compliance", "lift-steer": "understeer by aerodynamic lift",
	"understeer-gradient": "understeer by the tyres",
	"critical-speed":      "critical speed", "towing-critical-speed": "critical speed with the trailer", "towing-settling": "settling rate with the trailer",
	"weave-damping": "damping of the trailer's swing", "weave-frequency": "frequency of the trailer's swing",
	"body-height-change": "height over the ground against as weighed", "rake-change": "rake against as weighed",
	"cross-off-half": "cross weight off half", "side-lower": "height below the other side",
	"wheel-outward": "wheel farther out than as weighed", "lip-gap": "room inside the arch's lip", "strut-gap": "room between tyre and strut",
	"liner-gap": "room to the liner at full lock", "tyre-load-share": "tyre load over what it carries", "gearing-change": "engine speed at one road speed",
	"speed-over-shown": "speed over the speedometer's", "scrub-radius": "scrub radius", "strut-side-load": "strut side load, standing", "strut-side-load-in-bend": "strut side load in a hard corner",
	"strut-bending-stress": "bending of rod or body in a hard corner",
	"yaw-settling":         "yaw settling rate", "yaw-damping": "yaw damping", "yaw-frequency": "yaw frequency",
}

// rows are what the findings are called as a row of a table.
var rows = map[string]string{
	"spring-loose-at-droop": "Spring preload at full droop", "coils-touch-first": "Coil-bind margin beyond the solid stop",
	"tyre-meets-arch-first": "Arch clearance beyond the solid stop", "stop-carries-load": "Bump stop's share at rest",
	"rests-on-bump-stop": "Bump travel to the stop", "stop-firm-too-soon": "Bump travel until the stop is firm",
	"catches-less-than-before": "Bump velocity absorbed", "droop-short": "Rebound travel left", "damping-low": "Lowest damping ratio",
	"damping-high": "Highest damping ratio", "rear-slower-than-front": "Rear over front frequency", "hits-stops-hard": "Hard hits on the stop",
	"stop-blow": "Peak bump-stop force", "tyre-goes-light": "Time with low tyre load", "keeps-bouncing": "Second bounce",
	"leaves-the-ground": "Time off the ground", "wheel-leaves-ground": "Time a wheel is off the ground",
	"lifts-wheel-in-corner": "Inner wheel off the ground in a corner",
	"meets-stop-in-corner":  "Bump-stop contact in a corner", "less-understeer-than-before": "Understeer in a corner", "nervous-at-speed": "Yaw damping at speed",
	"unstable-with-trailer": "Stability with the trailer", "trailer-swings": "Swing of the trailer",
	"unstable-at-speed": "Stability at speed", "slow-to-settle-at-speed": "Yaw settling at speed",
	"tyre-overloaded": "Tyre load", "tyre-near-strut": "Room between tyre and strut", "tyre-near-liner": "Room to the liner at full lock",
	"tyre-outside-lip": "Room inside the arch's lip", "speedometer-reads-low": "Speed over the speedometer's",
	"strut-side-load-up": "Strut side load, standing", "strut-binds-in-bend": "Strut side load in a hard corner", "rod-bends-more": "Bending of rod or body", "scrub-radius-up": "Scrub radius",
	"cross-weight-off": "Cross weight", "stands-crooked": "Height side to side", "stands-nose-up": "Rake, nose up", "stands-nose-down": "Rake, nose down",
	"mount-wears": "Wear of the upper mount", "limit-met-first": "Margin to a travel limit", "wheel-hangs": "Hanging wheel", "coils-touch-at-rest": "Coil bind at rest", "rests-on-metal": "Damper closed at rest",
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

// VerdictSays is what is said of a build's verdict where no finding has words for it.
func VerdictSays(v finding.Verdict) string {
	switch v {
	case finding.Clear:
		return "Clear of every limit that was looked at."
	case finding.Unknown:
		return "Some figures are not known."
	case finding.NoLimit, finding.Close, finding.Over: // the last two have words of their own
	}
	return "No limit was chosen."
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

// Mode is what a mode of movement, or a state that a figure is about, is called.
func Mode(code string) string {
	if code == "in-a-bend" {
		return "in a corner"
	}
	return spaced(code)
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
		add(Mode(p.Mode))
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

// FittedAt heads the parts of a list that are of the other axle.
func FittedAt(axle string) string { return "Fitted at the " + axle }

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

// AllRoads is what a figure of no one road is about.
const AllRoads = "all roads of the brief"

// Drive names a road or obstacle with its speed and load state: "Village lane,
// 80 km/h, four aboard".
func (t *Teller) Drive(p *figure.Place) string {
	parts := []string{}
	if p.Event != "" {
		parts = append(parts, upper(t.obstacle(p.Event)))
	} else if p.Road != "" {
		parts = append(parts, upper(spaced(p.Road)))
	} else {
		parts = append(parts, upper(AllRoads))
	}
	if p.Speed > 0 {
		parts = append(parts, quantity.Format(p.Speed, quantity.SpeedRoad, t.System, quantity.Auto))
	}
	if p.Load != "" {
		parts = append(parts, lower(t.Load(p.Load)))
	}
	return strings.Join(parts, ", ")
}
