package wording

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"trunnion/chassis/scales"
	"trunnion/chassis/spread"
	"trunnion/shop/quantity"
)

// share is a share of the weight, in per cent.
func (t *Teller) share(v float64) string { return t.Amount("front-share", "1", v) }

func (t *Teller) mass(v float64) string { return t.Amount("", "kg", v) }

// Diagonal names both corners of a diagonal.
func Diagonal(d scales.Diagonal) string {
	if d == scales.FrontLeftRearRight {
		return "front left and rear right"
	}
	return "front right and rear left"
}

// Turns are whole and eighth turns as the hand counts them: "2 1/8".
func Turns(v float64) string {
	v = math.Abs(v)
	eighths := math.Round(v * 8)
	if math.Abs(v*8-eighths) > 1e-6 {
		return strconv.FormatFloat(v, 'f', 2, 64)
	}
	whole, part := int(eighths)/8, int(eighths)%8
	fraction := [8]string{"", "1/8", "1/4", "3/8", "1/2", "5/8", "3/4", "7/8"}[part]
	switch {
	case part == 0:
		return strconv.Itoa(whole)
	case whole == 0:
		return fraction
	}
	return strconv.Itoa(whole) + " " + fraction
}

// TurnsBy are turns as the hand counts them by a smallest turn: by the eighth
// "2 1/4", by a collar of six flats "2 2/3".
func TurnsBy(v, step float64) string {
	v = math.Abs(v)
	flats := math.Round(1 / step)
	if !(step > 0) || math.Abs(flats*step-1) > 1e-9 || 8/flats == math.Trunc(8/flats) {
		return Turns(v)
	}
	n := math.Round(v * flats)
	if math.Abs(v*flats-n) > 1e-6 || flats > 60 {
		return Turns(v)
	}
	whole, part := math.Floor(n/flats), math.Mod(n, flats)
	for d := flats; d > 1; d-- {
		if math.Mod(part, d) == 0 && math.Mod(flats, d) == 0 {
			part, flats = part/d, flats/d
			break
		}
	}
	switch {
	case part == 0:
		return fmt.Sprintf("%.0f", whole)
	case whole == 0:
		return fmt.Sprintf("%.0f/%.0f", part, flats)
	}
	return fmt.Sprintf("%.0f %.0f/%.0f", whole, part, flats)
}

// SignedTurns are turns with their sign: "-2 1/8", "0".
func SignedTurns(v, step float64) string {
	text := TurnsBy(v, step)
	if v < 0 && text != "0" {
		text = "-" + text
	}
	return text
}

// ScalesTurn is what to do with one collar: "2 1/8 turns down, clockwise from
// above (3.2 mm)".
func (t *Teller) ScalesTurn(c *scales.Collar) string {
	if c.Turns == 0 {
		switch c.Held {
		case "no-collar":
			return "no collar"
		case "locked":
			return "stays, as locked"
		case "":
			return "stays"
		}
		return "stays: " + t.held(c.Held)
	}
	way, sense, turns := "up", "anticlockwise", "turns"
	if c.Move < 0 {
		way = "down"
	}
	if c.Clockwise {
		sense = "clockwise"
	}
	if math.Abs(c.Turns) <= 1 {
		turns = "turn"
	}
	text := fmt.Sprintf("%s %s %s, %s from above (%s)", TurnsBy(c.Turns, c.Step), turns, way, sense, t.length(math.Abs(c.Move)))
	if c.Held != "" {
		text += "; no further: " + t.held(c.Held)
	}
	return text
}

// held is what keeps a collar from going further.
func (t *Teller) held(code string) string {
	switch code {
	case "thread":
		return "the thread ends"
	case "engagement":
		return "the minimum engagement is reached"
	case "stop-gap":
		return "the gap to the stop would be used up"
	case "spring-loose":
		return "the spring would come loose at full droop"
	case "no-collar":
		return "there is no collar"
	case "locked":
		return "it was locked"
	case "no-rest":
		return "the car would find no rest position"
	}
	return spaced(code)
}

// ScalesBand is a figure with its half-width: "350.1 ± 2.7 mm".
func (t *Teller) ScalesBand(code, si string, b scales.Band) string {
	u := unitOf(code, si, t.System)
	return u.with(u.number(b.Value, u.digits) + " ± " + u.number(b.Half, u.digits))
}

// ScalesHalf is a half-width: "± 2.7 mm".
func (t *Teller) ScalesHalf(code, si string, v float64) string { return "± " + t.Amount(code, si, v) }

// ScalesOff is a difference with its sign.
func (t *Teller) ScalesOff(code, si string, v float64) string { return t.withSign(code, si, v) }

// ScalesHeld is what keeps a collar from going further.
func (t *Teller) ScalesHeld(code string) string {
	if code == "" {
		return ""
	}
	return t.held(code)
}

// withSign is a difference with its sign.
func (t *Teller) withSign(code, si string, v float64) string {
	text := t.Amount(code, si, v)
	if v > 0 && text != t.Amount(code, si, 0) {
		return "+" + text
	}
	return text
}

// ScalesPrice says what a millimetre costs in cross weight on this car.
func (t *Teller) ScalesPrice(p *scales.Plan) string {
	if len(p.Price) == 0 {
		return ""
	}
	level, cross := &p.Price[0], &p.Price[len(p.Price)-1]
	text := fmt.Sprintf("By heights alone: both axles level within %s, cross %s.", t.length(math.Max(math.Abs(level.Level[0]), math.Abs(level.Level[1]))), t.share(level.Cross))
	text += fmt.Sprintf(" By cross alone: cross %s, the sides %s apart at the front and %s at the rear.", t.share(cross.Cross), t.length(math.Abs(cross.Level[0])), t.length(math.Abs(cross.Level[1])))
	if p.Twist > 0 {
		text += fmt.Sprintf(" Between them, %s of twist costs %s of cross through the tyres.", t.length(t.small()), t.share(p.Twist*t.small()))
	}
	return text
}

// small is the length that prices are said by: a millimetre, or a tenth of an
// inch [m].
func (t *Teller) small() float64 {
	if t.System == quantity.Imperial {
		v, err := quantity.Parse("0.1 in", quantity.Length)
		if err == nil {
			return v.Value
		}
	}
	return 1e-3
}

// ScalesMissed says which wish is not met, and why.
func (t *Teller) ScalesMissed(m *scales.Missed, p *scales.Plan) string {
	var what string
	axle := ""
	if m.Axle >= 0 {
		axle = [2]string{"front", "rear"}[m.Axle]
	}
	switch m.Code {
	case "level":
		what = fmt.Sprintf("The %s axle stays %s off its target level (tolerance %s).", axle, t.length(math.Abs(m.Got-m.Wanted)), t.length(m.Within))
	case "mean":
		what = fmt.Sprintf("The %s axle comes to %s instead of %s.", axle, t.length(m.Got), t.length(m.Wanted))
	case "rake":
		what = fmt.Sprintf("The rake comes to %s instead of %s.", t.length(m.Got), t.length(m.Wanted))
	case "cross":
		what = fmt.Sprintf("Cross comes to %s instead of %s.", t.share(m.Got), t.share(m.Wanted))
	case "front-share":
		return fmt.Sprintf("Front weight stays %s, not %s: collars never move it. Move ballast.", t.share(m.Got), t.share(m.Wanted))
	case "left-share":
		return fmt.Sprintf("Left weight stays %s, not %s: collars never move it. Move ballast.", t.share(m.Got), t.share(m.Wanted))
	default:
		what = upper(spaced(m.Code)) + " is not met."
	}
	if m.Why == "twist" {
		return what + " Shell, arches or spring seats are twisted: level sides and cross weight are two targets for one turn of the diagonal. Taking the twist out costs cross weight through the tyres."
	}
	where := ""
	if m.Corner >= 0 {
		where = " at " + Corner(m.Corner)
	}
	return what + " Reason" + where + ": " + t.held(m.Why) + "."
}

// ScalesRefusal says why a move must not be made.
func (t *Teller) ScalesRefusal(r *scales.Refusal) string {
	at := ""
	if r.Corner >= 0 {
		at = upper(Corner(r.Corner)) + ": "
	}
	switch r.Code {
	case "stop-gap":
		would, least := "the stop would be "+t.length(r.Value)+" clear", "the least is "+t.length(r.Limit)
		if r.Value < 0 {
			would = "the car would rest " + t.length(-r.Value) + " into the stop"
		}
		if r.Limit < 0 {
			least = "the most is " + t.length(-r.Limit) + " into it"
		}
		return at + would + t.loaded(r.Load) + "; " + least + "."
	case "spring-loose":
		return fmt.Sprintf("%sthe spring would be %s loose at full droop; the most is %s.", at, t.length(r.Value), t.length(r.Limit))
	case "thread", "engagement":
		return fmt.Sprintf("%sthe move needs %s; %s leaves %s.", at, t.withSign("", "m", r.Value), map[bool]string{true: "the thread", false: "the engagement"}[r.Code == "thread"], t.withSign("", "m", r.Limit))
	}
	return at + t.held(r.Code) + "."
}

// ScalesCheck says what the gate found, with the figures that are the reason.
func (t *Teller) ScalesCheck(c *scales.Check) string {
	get := func(code string) float64 {
		for k := range c.Figures {
			if c.Figures[k].Code == code {
				return c.Figures[k].Value
			}
		}
		return math.NaN()
	}
	at := Corner(c.Corner)
	switch c.Code {
	case "readings-missing":
		if c.Verdict == scales.Pass {
			return "Four loads and four heights are read."
		}
		return fmt.Sprintf("%.0f of the eight readings are missing, the first at %s: enter four loads and four heights.", get("readings-missing"), at)
	case "units-mixed":
		if c.Verdict == scales.Pass {
			return "The loads are in one unit."
		}
		if c.Corner >= 0 {
			return fmt.Sprintf("Kilograms and pounds are mixed: %s reads %s against about %s expected, %.2f times as much.", at, t.mass(get("load")), t.mass(get("load-expected")), get("factor"))
		}
		return "Kilograms and pounds are mixed in one reading."
	case "units-other":
		return fmt.Sprintf("All four loads are off by the factor of the pound: the total is %s against %s expected. Check the unit.", t.mass(get("total")), t.mass(get("total-expected")))
	case "height-from-floor":
		if c.Verdict == scales.Pass {
			return "Heights are hub to arch."
		}
		return fmt.Sprintf("%s is %s high against about %s expected: it was measured from the floor. Enter the hub-to-arch height.", upper(at), t.length(get("height")), t.length(get("height-expected")))
	case "height-not-to-arch":
		return fmt.Sprintf("%s is %s high against about %s expected. Enter the hub-to-arch height.", upper(at), t.length(get("height")), t.length(get("height-expected")))
	case "total":
		return fmt.Sprintf("The total is %s against %s expected. Check what is aboard, and the pads.", t.mass(get("total")), t.mass(get("total-expected")))
	case "total-shown":
		if c.Verdict == scales.Pass {
			return "The four loads add up to the total that the scales show."
		}
		return fmt.Sprintf("The four loads add up to %s; the scales show %s. One of the four was misread.", t.mass(get("total")), t.mass(get("total-shown")))
	case "front-share", "left-share":
		side := map[string]string{"front-share": "front", "left-share": "left"}[c.Code]
		return fmt.Sprintf("Weight on the %s is %s against %s expected. Collars never move it: a load has moved, or two corners were swapped.", side, t.share(get(c.Code)), t.share(get(c.Code+"-expected")))
	case "pad-reads-wrong":
		return fmt.Sprintf("The pad at %s reads %s wrong under the common weight.", at, t.mass(get("pad-error")))
	case "corners-swapped":
		if c.Verdict == scales.Pass {
			return "No two corners are swapped."
		}
		what := "loads and heights"
		for _, f := range c.Figures {
			if f.Code == "load" || f.Code == "height" {
				what = f.Code + "s"
			}
		}
		return fmt.Sprintf("The %s of %s and %s are swapped: the other way round the misfit falls from %.0f to %.0f standard deviations.", what, at, Corner(c.Other), get("misfit"), get("misfit-swapped"))
	case "odd-reading":
		what, figure := "load", t.mass
		if !math.IsNaN(get("height")) {
			what, figure = "height", t.length
		}
		return fmt.Sprintf("%s reads a %s of %s; the other readings predict %s: %.0f standard deviations off.", upper(at), what, figure(get(what)), figure(get(what+"-expected")), get("deviations"))
	case "far-from-model":
		return fmt.Sprintf("The readings are %.0f standard deviations from the prediction. Check parts, corners and units.", get("misfit"))
	case "read-once":
		return fmt.Sprintf("Read once: friction and instruments leave ± %s of cross and ± %s of level uncertain. Bounce the car and read again.", t.share(get("cross-scatter")), t.length(get("level-scatter")))
	case "scatter":
		text := fmt.Sprintf("The readings scatter by %s and %s.", t.mass(get("load-scatter")), t.length(get("height-scatter")))
		if ask := get("change-asked"); !math.IsNaN(ask) {
			text = fmt.Sprintf("The readings scatter by %s on a diagonal; the change wanted is %s.", t.mass(get("diagonal-scatter")), t.mass(ask))
		}
		if c.Verdict == scales.Stop {
			text += " Cure the friction first."
		}
		return text
	case "not-turned-about":
		return "The car was not turned round on the pads: the error of the floor stays in the cross weight."
	case "floor-error":
		return fmt.Sprintf("The floor shifts cross by %s: turning the car round moved it by twice that. The mean of both is used; the tolerance is %s.", t.share(get("cross-floor-error")), t.share(get("cross-within")))
	case "pads-not-levelled":
		return fmt.Sprintf("The heights of the pads are not entered: %s under one wheel is %s of cross on this car.", t.length(t.small()), t.share(get("cross-per-millimetre")*t.small()/quantity.Millimetre))
	case "pads":
		return fmt.Sprintf("The pads are level within %s: that is %s of cross.", t.length(get("pad-span")), t.withSign("front-share", "1", get("cross-shift")))
	case "pressures":
		return fmt.Sprintf("Tyre pressures left and right are %s apart.", t.Amount("", "Pa", get("pressure-difference")))
	case "hang-up":
		var each []string
		for k := range c.Figures {
			if f := &c.Figures[k]; f.Code == "friction" {
				each = append(each, t.Amount("", "N", f.Value))
			}
		}
		return fmt.Sprintf("Pressing and lifting show %s of friction at the wheels: cross is uncertain by ± %s.", strings.Join(each, ", "), t.share(get("cross-hang-up")))
	case "target-outside-thread":
		if c.Verdict == scales.Pass {
			return "The target is within the threads."
		}
		return fmt.Sprintf("The target is outside the thread: %s needs %s, and %s is left.", at, t.withSign("", "m", get("move-needed")), t.withSign("", "m", get("move-left")))
	}
	if text, ok := ticks[c.Code]; ok {
		if c.Verdict == scales.Pass {
			return text[0]
		}
		return text[1]
	}
	return upper(spaced(c.Code)) + "."
}

// ScalesCause says what would explain an odd reading.
func (t *Teller) ScalesCause(c *scales.Cause) string {
	at := Corner(c.Corner)
	switch c.Code {
	case "loads-swapped", "heights-swapped":
		return fmt.Sprintf("The %s of %s and %s are swapped.", strings.TrimSuffix(c.Code, "-swapped"), at, Corner(c.Other))
	case "corners-swapped":
		return fmt.Sprintf("Loads and heights of %s and %s are swapped.", at, Corner(c.Other))
	case "point-moved":
		return fmt.Sprintf("The decimal point slipped at %s: %s.", at, c.Text)
	case "digits-transposed":
		return fmt.Sprintf("Two digits are transposed at %s: %s.", at, c.Text)
	case "other-unit":
		return fmt.Sprintf("The unit is another at %s: %s.", at, c.Text)
	case "sign-slipped":
		return fmt.Sprintf("A minus slipped in at %s: %s.", at, c.Text)
	case "digit-misread":
		return fmt.Sprintf("One digit is misread at %s: %s.", at, c.Text)
	}
	return upper(spaced(c.Code)) + "."
}

// ticks are the sentences of what was ticked: done, and not done.
var ticks = map[string][2]string{
	"state":                 {"Driver, ballast and fuel are as in the load state.", "Driver, ballast or fuel are not as in the load state."},
	"state-unsaid":          {"", "Not entered: whether driver, ballast and fuel are as in the load state."},
	"bars":                  {"A drop link of each bar is off.", "The anti-roll bars are connected: take one drop link off each."},
	"bars-unsaid":           {"", "Not entered: whether a drop link of each bar is off."},
	"clicks":                {"The clicks are full soft.", "The clicks are not full soft: note them, then set them full soft."},
	"clicks-unsaid":         {"", "Not entered: whether the clicks are full soft."},
	"settled":               {"The car was rolled on and bounced.", "The car is not settled: roll it on and off, bounce it, and read again. Never jack and drop it."},
	"settled-unsaid":        {"", "Not entered: whether the car was rolled on and bounced."},
	"not-read":              {"", "No reading has passed: what is shown is from the parts alone, and nothing is turned on that. Weigh the car and enter its readings."},
	"read-in-another-state": {"", "The job has readings of this build in another load state; they are not used here. Choose that load state to use them."},
	"pressures-not-read":    {"", "The tyre pressures are not entered."},
	"hang-up-not-measured":  {"", "Friction was not measured: read once after pressing the car down and once after lifting it."},
}

// ScalesSuspect names a slip or a wrong figure.
func (t *Teller) ScalesSuspect(s *scales.Suspect) string {
	axle := ""
	if s.Axle == 0 || s.Axle == 1 {
		axle = [2]string{"front", "rear"}[s.Axle]
	}
	var text string
	switch s.Code {
	case "thread":
		text = fmt.Sprintf("the %s thread moves %s per turn, not %s", axle, t.length(s.Value), t.length(s.Stated))
		if s.RightStated != 0 {
			text = fmt.Sprintf("the %s threads move %s per turn on the left, not %s, and %s on the right, not %s", axle,
				t.length(s.Value), t.length(s.Stated), t.length(s.Right), t.length(s.RightStated))
		}
	case "motion-ratio":
		text = fmt.Sprintf("the %s spring moves %.2f of the wheel's travel, not %.2f", axle, s.Value, s.Stated)
		if s.RightStated != 0 {
			text = fmt.Sprintf("the %s springs move %.2f of the wheel's travel on the left, not %.2f, and %.2f on the right, not %.2f", axle, s.Value, s.Stated, s.Right, s.RightStated)
		}
	case "spring-rate":
		text = fmt.Sprintf("the %s springs are %.0f %% of their stated rate", axle, s.Value/quantity.Percent)
	case "loads-swapped":
		text = fmt.Sprintf("the loads of %s and %s are swapped", Corner(s.Corner), Corner(s.Other))
	case "heights-swapped":
		text = fmt.Sprintf("the heights of %s and %s are swapped", Corner(s.Corner), Corner(s.Other))
	case "collars-swapped":
		text = fmt.Sprintf("the collars of %s and %s were swapped", Corner(s.Corner), Corner(s.Other))
	case "turned-other-way":
		text = fmt.Sprintf("the collar at %s was turned the other way", Corner(s.Corner))
	case "not-turned":
		text = fmt.Sprintf("the collar at %s was not turned", Corner(s.Corner))
	case "bar-connected":
		text = "a bar is still connected: " + map[int]string{0: "front", 1: "rear", 2: "both"}[s.Axle]
	default:
		text = spaced(s.Code)
	}
	if s.Round >= 0 {
		text += fmt.Sprintf(" (round %d)", s.Round+1)
	}
	if s.Odds < 1e6 {
		return fmt.Sprintf("%s: %.0f times likelier than no slip.", upper(text), s.Odds)
	}
	return upper(text) + ": more than a million times likelier than no slip."
}

// steps are the sentences of the order of work.
var steps = map[string]string{
	"fit": "Fit the parts", "settle": "Settle the car", "bushes": "Bushes: loosen, and tighten at height", "heights": "Heights",
	"cross": "Cross weight", "bars": "Connect the bars", "alignment": "Alignment", "read-again": "Read heights and cross again",
	"lamps": "Headlamp aim", "sensors": "Height and camera sensors", "clicks": "Clicks", "road-test": "Road test", "marker": "Read the travel marker",
	"stop-gap": "Gap to the stops",
}

// ScalesStep names a step of the work.
func ScalesStep(code string) string {
	if s, ok := steps[code]; ok {
		return s
	}
	return upper(spaced(code))
}

// reopened are the sentences of what a change of height opens again.
var reopened = map[string]string{
	"alignment": "Alignment: the height has changed", "stop-gap": "Gap to the stops: read it again", "sensors": "Height and camera sensors: they know the old height",
	"lamps": "Headlamp aim: height or rake has changed", "bushes": "Bushes: loosen, and tighten at the new height",
}

// ScalesReopened says what a move opens again.
func ScalesReopened(code string) string {
	if s, ok := reopened[code]; ok {
		return s
	}
	return upper(spaced(code))
}

// ScalesPreset is a preset's name and its tolerances.
func (t *Teller) ScalesPreset(p scales.Preset) (name, says string) {
	x := p.Level(scales.FrontRightRearLeft)
	says = fmt.Sprintf("level within %s, heights within %s, cross within %s; a millimetre is worth %s of cross",
		t.length(x.LevelWithin[0]), t.length(x.MeanWithin), ScalesPriceText(x.CrossWithin/quantity.Millimetre), ScalesPriceText(x.CrossPerMetre))
	return upper(string(p)), says
}

// ScalesPriceText is cross weight by the millimetre, as it is typed: "0.25 %".
func ScalesPriceText(perMetre float64) string {
	return strconv.FormatFloat(perMetre*quantity.Millimetre/quantity.Percent, 'g', 4, 64) + " %"
}

// ScalesLearned says what the readings made of a figure of the parts; nothing
// where they say little.
func (t *Teller) ScalesLearned(l *scales.Learned) string {
	const (
		narrower = 0.8 // of the spread before: more has taught nothing worth saying. Chosen.
		clear    = 2.0 // standard deviations from what is stated. Chosen.
		wide     = spread.Normal95
	)
	stated := 1.0
	switch l.Code {
	case "seat", "arch", "mass-aboard":
		stated = 0
	}
	if l.SD > narrower*l.Before && math.Abs(l.Value-stated) < clear*l.SD {
		return ""
	}
	where := ""
	if l.Axle >= 0 {
		where = [2]string{"front", "rear"}[l.Axle] + " "
	}
	names := map[string]string{"thread": "thread", "spring-rate": "spring rate", "motion-ratio": "spring travel over wheel travel", "tyre-rate": "tyre rate"}
	if name, ok := names[l.Code]; ok {
		return fmt.Sprintf("%s: %.1f ± %.1f %% of the stated value; ± %.1f %% before", upper(where+name), l.Value/quantity.Percent, wide*l.SD/quantity.Percent, wide*l.Before/quantity.Percent)
	}
	off := func(code, si string) string {
		return fmt.Sprintf("%s ± %s", t.withSign(code, si, l.Value), t.Amount(code, si, wide*l.SD))
	}
	switch l.Code {
	case "seat":
		return fmt.Sprintf("Spring seat at %s: %s off the position that parts and lengths give", Corner(l.Corner), off("", "m"))
	case "arch":
		return fmt.Sprintf("Arch at %s: %s off the car's own measurement", Corner(l.Corner), off("", "m"))
	case "mass-aboard":
		return fmt.Sprintf("Load aboard, off by %s from the stated", off("", "kg"))
	}
	return ""
}

// ScalesLevelled says how an axle stands and will stand: "Front: left 5.1 mm
// higher; then right 0.3 mm higher".
func (t *Teller) ScalesLevelled(axle int, now, after float64) string {
	side := func(v float64) string {
		switch text := t.length(math.Abs(v)); {
		case math.IsNaN(v):
			return "not read"
		case text == t.length(0):
			return "level"
		case v > 0:
			return "left " + text + " higher"
		default:
			return "right " + text + " higher"
		}
	}
	text := [2]string{"Front: ", "Rear: "}[axle] + side(now)
	if !math.IsNaN(after) {
		text += "; then " + side(after)
	}
	return text
}

var mind = map[string]string{
	"roll-never-drop":              "roll it on and bounce it; never jack and drop",
	"steering-straight-brakes-off": "steering straight, brakes off, doors shut, nobody leaning",
	"tighten-at-height":            "bolts tight only at ride height, by the maker's torque",
	"stands-before-hands":          "car on stands before a hand goes behind a wheel",
	"spring-under-load":            "the spring is under load: never undo the top nut",
	"clean-thread":                 "clean and oil the thread; a dry collar seizes",
	"count-turns":                  "count turns from a mark, and note them",
	"lock-collar":                  "lock the collar, and check its engagement",
	"opposite-turns":               "equal and opposite, so that the heights stay",
	"driver-aboard":                "with the driver or ballast aboard",
	"link-drops-in":                "the last link drops in by hand, without preload",
	"same-state":                   "same fuel, pressures and load",
	"clicks-as-noted":              "back to the clicks that were noted",
}

// ScalesMind is what to mind where the hands are.
func ScalesMind(code string) string {
	if s, ok := mind[code]; ok {
		return s
	}
	return spaced(code)
}

// ScalesTitle says what stands on the scales, and what is meant by cross and left.
func ScalesTitle(build, load string, d scales.Diagonal) string {
	head := build + " on the scales"
	if load != "" {
		head += ", load state " + load
	}
	return fmt.Sprintf("%s. Cross weight is %s over the total. Left is the driver's left, seated.", head, Diagonal(d))
}

// ScalesCheckFirst says which slip to check before anything is turned; same is a
// further one that the readings cannot tell from the first.
func (t *Teller) ScalesCheckFirst(s *scales.Suspect, same bool) string {
	if same {
		return "Or, as likely by these readings: " + t.ScalesSuspect(s)
	}
	return "Check first: " + t.ScalesSuspect(s)
}

// ScalesSingle says what one collar alone does.
func (t *Teller) ScalesSingle(s *scales.Single) string {
	text := upper(Corner(s.Corner)) + " collar alone: " + t.ScalesTurn(&s.Collar) + "; cross then " + t.ScalesBand("front-share", "1", s.After.Cross)
	if s.Meets {
		return text + "; every target is met."
	}
	return text + "; not every target is met."
}

// ScalesScatter says by how much one settled reading scatters side to side [m] and
// in cross weight [-].
func (t *Teller) ScalesScatter(level, cross float64) string {
	return fmt.Sprintf("One settled reading scatters by ± %s side to side and ± %s of cross, from friction and instruments: levelling cannot be finer.", t.length(level), t.share(cross))
}
