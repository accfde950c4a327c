package wording

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"trunnion/chassis/clicks"
	"trunnion/chassis/dyno"
	"trunnion/shop/quantity"
)

// SweepQuestion is what has to be said of a file of sweeps, and the flag that says it.
// code and about are those of the question.
func SweepQuestion(code, about, seen, points string, choices []string) string {
	one := strings.Join(choices, ", ")
	flag := map[string]string{
		"unit":        fmt.Sprintf("Say --unit %s=U, U one of %s.", about, one),
		"compression": "Say --compression positive or negative.",
		"click-zero":  "Say --counted closed or open.",
		"click-total": "Say --clicks N.",
		"gas":         "Say --gas removed, or its push-out at mid-stroke, such as --gas '365 N'" + shown("gas", choices),
		"friction":    "Say --friction removed, --friction left-in, or its force, such as --friction '60 N'" + shown("friction", choices),
		"columns":     fmt.Sprintf("Say --column 1=ROLE for each, ROLE one of %s.", one),
		"decimal":     "Say --decimal point or comma.",
		"frequency":   "Say --frequency, such as 100 rpm.",
	}[code]
	return strings.TrimSpace(SweepAsks(code, about, seen, points) + " " + flag)
}

// SweepAsks is what has to be said of a file of sweeps, and what in the file speaks for
// which answer.
func SweepAsks(code, about, seen, points string) string {
	with := func(text string) string {
		if seen != "" {
			text += " The file shows " + seen + "."
		}
		if points != "" {
			text += " That speaks for " + points + "."
		}
		return text
	}
	switch code {
	case "unit":
		return fmt.Sprintf("Which unit has the %s? The file names none; its largest figure is %s.", about, seen)
	case "compression":
		return with("Which sign has the force in compression?")
	case "click-zero":
		return with("From which end are the clicks counted?")
	case "click-total":
		return "How many clicks are there from closed to open? They are counted from open here."
	case "gas":
		return with("Is the gas still in these forces?")
	case "friction":
		return with("Is the seal friction still in these forces?")
	case "columns":
		return fmt.Sprintf("What are the columns? They have no headings; the first row is %s.", seen)
	case "decimal":
		return "Is the separator in these figures a decimal sign? Three digits follow it everywhere."
	case "frequency":
		return "At how many turns a second did the crank run? Neither velocity nor time stands in the file."
	}
	return code
}

// SweepAnswer is how an answer to a question is called on a button.
func SweepAnswer(code, choice string) string {
	if text, ok := map[string]string{
		"compression positive": "Compression is positive", "compression negative": "Compression is negative",
		"click-zero closed": "Counted from closed", "click-zero open": "Counted from open",
		"gas removed": "Gas is taken off", "gas included": "Gas is in, as the other runs show it",
		"friction removed": "Friction is taken off", "friction left-in": "Leave friction in the curves", "friction included": "Friction is in, as the other runs show it",
		"decimal point": "The point is the decimal sign", "decimal comma": "The comma is the decimal sign",
	}[code+" "+choice]; ok {
		return text
	}
	return choice
}

// SweepAnswerTyped says what may be typed in answer to a question; empty: nothing.
func SweepAnswerTyped(code string) string {
	return map[string]string{
		"gas": "Push-out at mid-stroke, such as 365 N", "friction": "Friction force, such as 60 N",
		"click-total": "Clicks from closed to open, such as 15", "frequency": "Of the crank, such as 100 rpm",
	}[code]
}

// shown offers to take a force that other runs of the files show.
func shown(flag string, choices []string) string {
	if slices.Contains(choices, "included") {
		return "; or --" + flag + " included, as the other runs show it."
	}
	return "."
}

// SweepAssumed is what was understood of a file of sweeps.
func SweepAssumed(code, about, value string) string {
	switch code {
	case "unit":
		return "Unit of " + about + ": " + value + ", as the file says."
	case "unit-given":
		return "Unit of " + about + ": " + value + ", as you said; the file names none."
	case "dialect":
		return "Delimiter: " + about + "; decimal " + value + "."
	case "encoding":
		return "Encoding: " + value + "."
	case "shape":
		return map[string]string{
			"peaks": "Read as a table of peaks.", "averaged": "Read as an averaged curve.", "loops": "Read as full loops.",
			"slow": "Read as a slow run: it shows gas and friction.", "gas": "Read as a gas run: it shows gas alone.",
		}[value]
	case "counted":
		return "Clicks are counted from " + value + "; the curves count from closed."
	case "clicks-as-measured":
		return "Clicks from closed to open: " + value + ", the highest measured; the file does not say how many there are: give their number if there are more."
	case "click-from-name":
		return "The click stands in the file's name, " + value + "."
	case "no-clicks":
		return "No click stands in the file: the damper is taken as not adjustable."
	case "rebound-sign":
		return "Rebound is written " + value + "."
	case "velocity-turned":
		return "Velocity was turned round: a damper takes energy, and with the file's signs it would give it."
	case "position-turned":
		return "Position was turned round so that it rises in compression."
	case "velocity-derived":
		return "Velocity was derived from position and time."
	case "position-integrated":
		return "Position was derived from velocity and time."
	case "time-from-angle":
		return "Time was derived from the crank's angle."
	case "temperature-unknown":
		return "Temperature is not known: bands are 2 % wider, common practice, no source."
	case "gas":
		return "Gas: " + value + ", as you said."
	case "friction":
		return "Friction: " + value + ", as you said."
	case "gas-column":
		return "Gas: " + value + ", from the file's own gas force."
	case "column-left-out":
		return "Column " + about + " was not read."
	case "summary-left-out":
		return "A summary row was left out: " + value + "."
	case "macros-not-run":
		return "The workbook holds macros; they were not run."
	case "formulas-as-saved":
		return "Some cells hold formulas; their values are those saved last."
	}
	return code + " " + about + " " + value
}

// Kelvin is a temperature [K] in the reader's unit; empty where it is not known.
func (t *Teller) Kelvin(kelvin float64) string {
	u, err := quantity.Find("K", quantity.Temperature)
	if err != nil || math.IsNaN(kelvin) {
		return ""
	}
	return quantity.Format(u.ToSI(kelvin), quantity.Temperature, t.System, 0)
}

func (t *Teller) newton(v float64) string { return t.Amount("", "N", v) }

// Shaft is a damper speed with its unit.
func (t *Teller) Shaft(v float64) string { return t.Amount("", "m/s", v) }

// banded is a force with its band.
func (t *Teller) banded(b dyno.Band) string {
	u := unitOf("", "N", t.System)
	return u.with(u.number(b.Value, u.digits) + " ± " + u.number(b.Half, u.digits))
}

// PerCent is a share with a digit.
func PerCent(share float64) string {
	return quantity.Format(share, quantity.Share, quantity.Metric, 1)
}

// Setting names where the adjusters stood.
func Setting(s dyno.Setting, adjusters []dyno.Adjuster) string {
	var list []string
	for a, one := range adjusters {
		word := "click " + strconv.Itoa(s[a])
		if one.Acts != dyno.OnBoth {
			word = string(one.Acts) + " " + word
		}
		list = append(list, word)
	}
	if len(list) == 0 {
		return "as it is"
	}
	return strings.Join(list, ", ")
}

// Static says what was taken off the forces.
func (t *Teller) Static(s *dyno.Static) []string {
	from := map[dyno.Found]string{
		dyno.FoundGiven: "as given", dyno.FoundGasRun: "from the gas run", dyno.FoundSlowRun: "from the slow run", dyno.FoundLoops: "from where the slowest loops reverse",
	}
	say := func(what string, b dyno.Band, how dyno.Found) string {
		switch how {
		case dyno.FoundTaken:
			return what + ": taken off before the file was written."
		case dyno.FoundLeft:
			return what + ": left in the curves."
		case dyno.FoundNowhere:
			return what + ": not known."
		case dyno.FoundGiven, dyno.FoundGasRun, dyno.FoundSlowRun, dyno.FoundLoops:
		}
		return what + " taken off: " + t.banded(b) + ", " + from[how] + "."
	}
	out := []string{say("Gas", s.Gas, s.GasFrom), say("Friction", s.Friction, s.FrictionFrom)}
	if s.Spikes > 0 {
		out = append(out, "Readings left out near the ends of the stroke, far from the others: "+strconv.Itoa(s.Spikes)+".")
	}
	return out
}

var loopSigns = []struct {
	sign dyno.Sign
	text string
}{
	{dyno.GivesEnergy, "work is negative: a sign is wrong"},
	{dyno.NotClosed, "the loop is not closed"},
	{dyno.EndSpikes, "force spikes at the ends of the stroke: near stop or top-out"},
	{dyno.FlatStart, "no force after a reversal: gas lost, or cavitation"},
	{dyno.LateOnset, "force comes late after a reversal: air, or cavitation"},
	{dyno.Hysteresis, "hysteresis above 15 %"},
	{dyno.PositionSign, "force depends on position by more than 10 %"},
	{dyno.OffCentre, "bump and rebound do not reach the same speed"},
}

// LoopSigns says what the loops show, one line a sign, with where it is largest.
func (t *Teller) LoopSigns(s *dyno.Set) []string {
	var out []string
	for _, one := range loopSigns {
		n, worst := 0, (*dyno.Loop)(nil)
		for i := range s.Loops {
			if l := &s.Loops[i]; l.Has(one.sign) {
				if n++; worst == nil || sizeOf(l, one.sign) > sizeOf(worst, one.sign) {
					worst = l
				}
			}
		}
		if worst == nil {
			continue
		}
		text := fmt.Sprintf("%s: %s at %s", Upper(one.text), Setting(worst.Setting, s.Adjusters), t.Shaft(worst.Speed))
		switch one.sign {
		case dyno.FlatStart, dyno.LateOnset:
			text += ", " + PerCent(sizeOf(worst, one.sign)) + " of the stroke"
		case dyno.Hysteresis, dyno.PositionSign:
			text += ", " + PerCent(sizeOf(worst, one.sign))
		case dyno.NotClosed, dyno.EndSpikes, dyno.OffCentre, dyno.GivesEnergy, dyno.NoFrictionIn:
		}
		out = append(out, text+fmt.Sprintf(" (%d of %d loops).", n, len(s.Loops)))
	}
	return out
}

// sizeOf is how large a sign is in a loop, as a share.
func sizeOf(l *dyno.Loop, s dyno.Sign) float64 {
	switch s {
	case dyno.Hysteresis:
		return math.Abs(l.Hysteresis.Value)
	case dyno.PositionSign:
		return math.Abs(l.Position.Value)
	case dyno.FlatStart:
		return math.Max(l.Flat[0], l.Flat[1])
	case dyno.LateOnset:
		return math.Max(l.Late[0], l.Late[1])
	case dyno.NotClosed, dyno.EndSpikes, dyno.OffCentre, dyno.GivesEnergy, dyno.NoFrictionIn:
	}
	return l.Speed
}

// StepFault says what is wrong with a step of an adjuster.
func (t *Teller) StepFault(f *dyno.StepFault, adjusters []dyno.Adjuster) string {
	knob := "Click"
	if a := adjusters[f.Adjuster]; a.Acts != dyno.OnBoth {
		knob = Upper(string(a.Acts)) + " click"
	}
	where := fmt.Sprintf("%s in %s at %s", t.newton(f.Change.Value), f.Stroke, t.Shaft(f.Speed))
	switch f.Fault {
	case dyno.Dead:
		return fmt.Sprintf("%s %d to %d is dead: %s, less than a tenth of the median step.", knob, f.Soft, f.Hard, where)
	case dyno.Stuck:
		return fmt.Sprintf("%s %d to %d: the adjuster is stuck, %s.", knob, f.Soft, f.Hard, where)
	case dyno.Reversed:
		return fmt.Sprintf("%s %d to %d is reversed: closing makes it softer, %s.", knob, f.Soft, f.Hard, where)
	case dyno.Uneven:
		return fmt.Sprintf("%s %d to %d is uneven: %s, more than three times its neighbours.", knob, f.Soft, f.Hard, where)
	case dyno.NotWorking:
		return fmt.Sprintf("The adjuster does not work: %s from click %d to %d; common practice asks for 10 %% in five clicks.", where, f.Soft, f.Hard)
	}
	return string(f.Fault)
}

// Checks says how well the runs agree with themselves, a line a rule.
func (t *Teller) Checks(s *dyno.Set) []string {
	names := map[dyno.Rule]string{
		dyno.WorkAndPower: "Loop work against mean power", dyno.CrankSpeed: "Peak speed against π·stroke·frequency",
		dyno.RepeatedSpeed: "Repeated speeds", dyno.Rising: "Force falls as speed rises",
	}
	var out []string
	for _, rule := range []dyno.Rule{dyno.WorkAndPower, dyno.CrankSpeed, dyno.RepeatedSpeed, dyno.Rising} {
		n, failed, worst := 0, 0, (*dyno.Check)(nil)
		for i := range s.Checks {
			c := &s.Checks[i]
			if c.Rule != rule {
				continue
			}
			n++
			if c.Failed {
				failed++
			}
			if worst == nil || math.Abs(c.Off) > math.Abs(worst.Off) {
				worst = c
			}
		}
		if worst == nil {
			continue
		}
		text := fmt.Sprintf("%s: within %s in %s", names[rule], PerCent(math.Abs(worst.Off)), counted(n, "case"))
		if failed > 0 {
			text = fmt.Sprintf("%s: %d of %d off by more than %s; worst %s at %s, %s", names[rule], failed, n, PerCent(dyno.MostOff), PerCent(math.Abs(worst.Off)), Setting(worst.Setting, s.Adjusters), t.Shaft(worst.Speed))
		}
		if rule == dyno.Rising {
			text = fmt.Sprintf("%s: %s, %s at %s, by %s", names[rule], counted(n, "place"), Setting(worst.Setting, s.Adjusters), t.Shaft(worst.Speed), PerCent(math.Abs(worst.Off)))
		}
		out = append(out, text+".")
	}
	return out
}

func counted(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return strconv.Itoa(n) + " " + noun + "s"
}

// Fade says how force falls with temperature.
func (t *Teller) Fade(f *dyno.Fade, force float64) string {
	if !f.Known() {
		return ""
	}
	b := f.Per10(force)
	word := "falls"
	if b.Value > 0 {
		word = "rises"
	}
	u := unitOf("", "N", t.System)
	return fmt.Sprintf("Fade: %s of damping force %s by %s per 10 K (± %s), from runs between %s and %s.",
		t.newton(force), word, u.with(u.number(math.Abs(b.Value), u.digits)), u.number(b.Half, u.digits), t.Kelvin(f.Coldest), t.Kelvin(f.Hottest))
}

// LeftOut says which run went into no curve, and why.
func (t *Teller) LeftOut(l *dyno.LeftOut, reference float64) string {
	switch {
	case l.Err == nil:
		return fmt.Sprintf("%s: left out, at %s; the curves are for %s.", l.From, t.Kelvin(l.Temperature), t.Kelvin(reference))
	case errors.Is(l.Err, dyno.ErrBranch):
		return l.From + ": left out, it shows one stroke only."
	case errors.Is(l.Err, dyno.ErrNumber):
		return l.From + ": left out, a reading is not a number."
	case errors.Is(l.Err, dyno.ErrEmpty):
		return l.From + ": left out, it has too few readings for a loop."
	}
	return l.From + ": left out."
}

// HeldOut says how well clicks are predicted without their own readings.
func (t *Teller) HeldOut(s *dyno.Set, list []clicks.Held) string {
	if len(list) == 0 {
		return ""
	}
	within, worst := 0, &list[0]
	for i := range list {
		h := &list[i]
		if h.Within {
			within++
		}
		if math.Abs(h.Off)/h.Band > math.Abs(worst.Off)/worst.Band {
			worst = h
		}
	}
	return fmt.Sprintf("Each click held out and predicted by its neighbours: %d of %d curves within their band; worst %s, %s, %s off at %s, band %s.",
		within, len(list), Setting(worst.Setting, s.Adjusters), worst.Stroke, t.newton(math.Abs(worst.Off)), t.Shaft(worst.Speed), t.newton(worst.Band))
}

// Authority says what each knob does to both strokes at a damper speed [m/s], the other
// knobs in the middle of their clicks.
func (t *Teller) Authority(f *clicks.Surface, speed float64) []string {
	var others dyno.Setting
	set := f.Set()
	for a := range set.Adjusters {
		list := f.Clicks(a)
		others[a] = list[len(list)/2]
	}
	var out []string
	for a, one := range set.Adjusters {
		hard, soft := f.Range(a)
		if hard == soft {
			continue
		}
		var parts []string
		for _, stroke := range dyno.Strokes {
			r, err := f.AuthorityOf(a, stroke, speed, others)
			if err != nil {
				return nil
			}
			parts = append(parts, fmt.Sprintf("%s %.2f times, by %s", stroke, r.Times, t.newton(r.Change())))
		}
		name := "Clicks"
		if one.Acts != dyno.OnBoth {
			name = Upper(string(one.Acts)) + " clicks"
		}
		text := fmt.Sprintf("%s %d to %d at %s: %s.", name, soft, hard, t.Shaft(speed), strings.Join(parts, ", "))
		if share, main, err := f.CrossTalk(a, speed, others); err == nil {
			text += fmt.Sprintf(" Cross-talk: %s of what it does to %s.", PerCent(share), main)
		}
		out = append(out, text)
	}
	return out
}

// Pair is the verdict on two dampers with its worst place.
func (t *Teller) Pair(p *dyno.Pair, a, b string, adjusters []dyno.Adjuster) []string {
	w := p.Worst
	firmer, other := a, b
	if w.Newton.Value < 0 {
		firmer, other = b, a
	}
	verdict := "A pair"
	if !p.Matched {
		verdict = "Not a pair"
	}
	out := []string{
		fmt.Sprintf("%s: %s is %s (%s) firmer than %s in %s at %s, %s.", verdict, firmer, PerCent(math.Abs(w.Share)), t.newton(math.Abs(w.Newton.Value)), other, w.Stroke, t.Shaft(w.Speed), Setting(w.Setting, adjusters)),
		fmt.Sprintf("Tolerance %s of the mean force, or %s where that is more.", PerCent(p.Tolerance.Share), t.newton(p.Tolerance.Least)),
	}
	if !w.Distinct {
		out = append(out, "The difference lies within the band of the two sweeps: repeat both before judging.")
	}
	if !p.Matched {
		out = append(out, "What that does to the car: fit each to its own side of a build, as a damper of its own, and ask what its clicks are worth.")
	}
	if k := math.Abs(p.Warmer); k > 5 {
		out = append(out, fmt.Sprintf("The two were swept %s K apart: sweep them at one temperature.", strconv.FormatFloat(k, 'f', 0, 64)))
	}
	for _, side := range []struct {
		name string
		list []dyno.Setting
	}{{a, p.OnlyA}, {b, p.OnlyB}} {
		if len(side.list) == 0 {
			continue
		}
		var names []string
		for _, s := range side.list {
			names = append(names, Setting(s, adjusters))
		}
		slices.Sort(names)
		out = append(out, "Measured on "+side.name+" alone: "+strings.Join(names, "; ")+".")
	}
	return out
}

// SweptTitle heads the curves of a damper.
func (t *Teller) SweptTitle(name string, s *dyno.Set) string {
	text := name + ": " + counted(len(s.Curves), "curve")
	if at := t.Kelvin(s.Reference); at != "" {
		text += ", at " + at + " of the skin"
	}
	return text
}

// What the page says of sweeps.
const (
	TooManyAdjusters = "It has more than one adjuster; a job holds the clicks of one."
	ToleranceBand    = "tolerance"
)

// CurvesTaken names the change by which a job takes curves over.
func CurvesTaken(name string) string { return "curves of " + name }

// SweptFrom says what curves were read from and when.
func SweptFrom(name, file string, files int, day string) string {
	if files > 1 {
		file += " and " + counted(files-1, "file") + " more"
	}
	return name + " in " + file + ", taken in on " + day
}

// PairForces heads the drawing of two dampers at one setting.
func PairForces(s dyno.Setting, adjusters []dyno.Adjuster) string {
	return "Both at the worst place, " + Setting(s, adjusters)
}

// PairApart heads the drawing of how far two dampers are apart.
func PairApart(a, b string) string { return a + " over " + b + ", % of their mean" }
