package wording

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"trunnion/chassis/finding"
	"trunnion/chassis/road"
	"trunnion/chassis/roadtest"
	"trunnion/shop/quantity"
)

// LogQuestion is what has to be said of a log, and the flag that says it.
func LogQuestion(code, about, seen, points string, choices []string) string {
	one := strings.Join(choices, ", ")
	flag := map[string]string{
		"decimal": "Say --decimal point or comma.",
		"rate":    "Say --rate, such as 200 Hz.",
		"role":    fmt.Sprintf("Say --role %q=ROLE, ROLE one of %s.", about, one),
		"unit":    fmt.Sprintf("Say --unit %q=U, U one of %s.", about, one),
		"gain":    fmt.Sprintf("Say --gain %q='15 mm'.", about),
		"sign":    fmt.Sprintf("Say --sign %s=%s.", about, strings.Join(choices, " or ")),
		"zero":    "Say --zero rest, --zero start or --zero hanging.",
		"rest":    "Say --rest, such as 5 s.",
		"along":   "Say --along damper or wheel.",
	}[code]
	return strings.TrimSpace(LogAsks(code, about, seen, points) + " " + flag)
}

// LogAsks is what has to be said of a log.
func LogAsks(code, about, seen, points string) string {
	text := map[string]string{
		"decimal": "Is the separator in these figures a decimal sign? Three digits follow it everywhere.",
		"rate":    "At what rate was the log sampled? It has no column of time; it has " + seen + ".",
		"role":    fmt.Sprintf("What is the channel %q? Its figures go from %s.", about, seen),
		"unit":    fmt.Sprintf("Which unit has %q? Its figures go from %s.", about, seen),
		"gain":    fmt.Sprintf("What is one unit of %q? Its figures go from %s.", about, seen),
		"sign":    "What is positive in " + about + "?",
		"zero":    "Where is travel zero? " + seen + ".",
		"rest":    "How long does the car stand at the start of the log?",
		"along":   "Along what is travel measured?",
	}[code]
	if text == "" {
		text = code
	}
	if points != "" {
		text += " The file speaks for " + spaced(points) + "."
	}
	return text
}

// LogAnswer is how an answer to a question about a log is called on a button.
func LogAnswer(code, choice string) string {
	if text, ok := map[string]string{
		"sign bump": "Bump is positive", "sign rebound": "Rebound is positive", "sign up": "Up is positive", "sign down": "Down is positive",
		"sign left": "Left is positive", "sign right": "Right is positive", "sign forward": "Forward is positive", "sign backward": "Backward is positive",
		"zero rest": "At rest, as loaded", "zero hanging": "With the wheels hanging", "zero start": "The log starts at rest: take it from there",
		"along damper": "The damper", "along wheel": "The wheel, straight up",
		"decimal point": "The point is the decimal sign", "decimal comma": "The comma is the decimal sign",
	}[code+" "+choice]; ok {
		return text
	}
	if code == "role" {
		return Upper(spaced(choice))
	}
	return choice
}

// LogAnswerTyped says what may be typed in answer; empty: nothing.
func LogAnswerTyped(code string) string {
	return map[string]string{"rate": "Sample rate, such as 200 Hz", "gain": "One unit of the file, such as 15 mm", "rest": "Time at rest, such as 5 s"}[code]
}

// LogAssumed is what was understood of a log.
func LogAssumed(code, about, value string) string {
	switch code {
	case "role":
		return "Channel " + about + ": " + spaced(value) + ", as its heading says."
	case "channel-left-out":
		return "Channel " + about + " was not used."
	case "rows-left-out":
		return about + " rows could not be read, the first at line " + value + "."
	case "zero":
		return "Zero of " + about + ": " + value + ", the mean while the car stands."
	}
	return SweepAssumed(code, about, value)
}

// ChannelName is what a channel measures.
func ChannelName(role roadtest.Role, corner int) string {
	name := map[roadtest.Role]string{
		roadtest.Travel: "Travel", roadtest.Hub: "Hub acceleration", roadtest.Body: "Body acceleration", roadtest.Floor: "Floor acceleration",
		roadtest.Lateral: "Lateral acceleration", roadtest.Longitudinal: "Longitudinal acceleration", roadtest.Speed: "Road speed",
	}[role]
	if corner >= 0 {
		name += ", " + Corner(corner)
	}
	return name
}

// Mark is a channel's grade.
func Mark(m roadtest.Mark) string { return spaced(string(m)) }

// Defect is what was found in a channel.
func (t *Teller) Defect(role roadtest.Role, f roadtest.Found) string {
	size := func() string {
		if role == roadtest.Travel {
			return t.length(f.Value)
		}
		return t.Amount("", "m/s^2", f.Value)
	}
	switch f.Defect {
	case roadtest.TooSlow:
		return "sampled at " + t.Amount("", "Hz", f.Value) + ": too slow for this"
	case roadtest.Slow:
		return "sampled at " + t.Amount("", "Hz", f.Value) + ": 200 Hz is usual"
	case roadtest.Coarse:
		return "one step is " + t.Shaft(f.Value) + ", wider than the lowest band"
	case roadtest.Drifting:
		return "drifts by " + t.length(f.Value)
	case roadtest.Spiking:
		return counted(int(f.Value), "spike")
	case roadtest.Saturated:
		return "cut off for " + PerCent(f.Value) + " of the time"
	case roadtest.Dropping:
		return PerCent(f.Value) + " of the samples are missing"
	case roadtest.Jittering:
		return "the clock is uneven by " + PerCent(f.Value) + " of a step"
	case roadtest.Constant:
		return "constant: " + size()
	case roadtest.Folded:
		return PerCent(f.Value) + " of it lies at the top of its spectrum: faster motion may be folded in"
	case roadtest.Empty:
		return "has " + counted(int(f.Value), "reading")
	}
	return string(f.Defect)
}

// TestCode is what a figure of a road test is called.
func (t *Teller) TestCode(c roadtest.Code, m roadtest.Marks) string {
	switch c {
	case roadtest.BumpUsed:
		return "Bump travel used"
	case roadtest.ReboundUsed:
		return "Rebound travel used"
	case roadtest.MeanTravel:
		return "Jacking down"
	case roadtest.Below:
		return "Time below " + t.Shaft(m.Low)
	case roadtest.AboveBump:
		return "Time above " + t.Shaft(m.High) + " in bump"
	case roadtest.AboveReb:
		return "Time above " + t.Shaft(m.High) + " in rebound"
	case roadtest.Strikes:
		return "Stop strikes"
	case roadtest.StopPeak:
		return "Peak bump-stop force"
	case roadtest.TopOuts:
		return "Top-outs"
	case roadtest.BodyRate:
		return "Body frequency"
	case roadtest.Speeds:
		return "Damper speed, root mean square"
	}
	return string(c)
}

// testUnit is that of a figure of a road test.
func (t *Teller) testUnit(c roadtest.Code) unit {
	switch c {
	case roadtest.BumpUsed, roadtest.ReboundUsed, roadtest.MeanTravel:
		return unitOf("", "m", t.System)
	case roadtest.Below, roadtest.AboveBump, roadtest.AboveReb:
		return unit{label: "%", digits: 1, number: func(v float64, d int) string {
			return quantity.Shown(quantity.Share, quantity.Metric).Number(v, d)
		}}
	case roadtest.Strikes, roadtest.TopOuts:
		return unitOf("stop-hits", "1/m", t.System)
	case roadtest.StopPeak:
		return unitOf("", "N", t.System)
	case roadtest.BodyRate:
		return unitOf("", "Hz", t.System)
	case roadtest.Speeds:
	}
	return unitOf("", "m/s", t.System)
}

// TestFigure is a figure of a road test with its unit.
func (t *Teller) TestFigure(c roadtest.Code, v float64) string { return t.testUnit(c).format(v) }

// TestPredicted is a prediction with its band.
func (t *Teller) TestPredicted(f *roadtest.Figure) string {
	u := t.testUnit(f.Code)
	return u.number(f.Predicted, u.digits) + u.band(f.Low, f.High, true)
}

// TestHeadline says how many figures came out as predicted, and the worst of the others.
func (t *Teller) TestHeadline(o *roadtest.Outcome, worst []roadtest.Figure, m roadtest.Marks) string {
	if len(o.Figures) == 0 {
		return "Nothing can be compared: a channel is not what it is said to be."
	}
	text := fmt.Sprintf("%d of %d figures came out as predicted.", len(o.Figures)-len(worst), len(o.Figures))
	if len(worst) > 0 {
		w := &worst[0]
		text += " Worst: " + Lower(t.TestCode(w.Code, m)) + ", " + Corner(w.Corner) + ", " + t.TestFigure(w.Code, w.Measured) + ", predicted " + t.TestPredicted(w) + "."
	}
	return text
}

// InputName is what an input of the model is called.
func InputName(n roadtest.Name) string {
	return map[roadtest.Name]string{
		roadtest.SpringRate: "spring rate", roadtest.BumpDamping: "bump damping", roadtest.ReboundDamping: "rebound damping", roadtest.Friction: "friction",
		roadtest.StopGap: "stop gap", roadtest.TravelGain: "gain of the travel channel", roadtest.TravelZero: "zero of the travel channel", roadtest.TyreRate: "tyre rate", roadtest.UnsprungMass: "unsprung mass",
		roadtest.SprungMass: "sprung mass", roadtest.Balance: "weight distribution", roadtest.RollInertia: "roll inertia", roadtest.PitchInertia: "pitch inertia", roadtest.Delay: "speed",
	}[n]
}

// Offer says from what to what, and with what band.
func (t *Teller) Offer(o *roadtest.Offer) string {
	half := o.Half
	if o.Value != 0 {
		half *= math.Abs((o.Corrected - o.Entered) / o.Value)
	}
	var u unit
	at := ""
	switch o.Name {
	case roadtest.SpringRate:
		u, at = unitOf("", "N/m", t.System), " at the wheel"
	case roadtest.Friction:
		u, at = unitOf("", "N", t.System), " at the wheel"
	case roadtest.StopGap:
		u, at = unitOf("", "m", t.System), " at the damper"
	case roadtest.BumpDamping, roadtest.ReboundDamping, roadtest.TravelGain, roadtest.TravelZero, roadtest.TyreRate, roadtest.UnsprungMass, roadtest.SprungMass, roadtest.Balance, roadtest.RollInertia, roadtest.PitchInertia, roadtest.Delay:
		u, at = unit{digits: 2, number: func(v float64, d int) string {
			return quantity.Shown(quantity.Ratio, quantity.Metric).Number(v, d)
		}}, " of its curves"
	}
	low, high := u.ends(o.Corrected-half, o.Corrected+half)
	return u.number(o.Entered, u.digits) + " → " + u.format(o.Corrected) + " (" + low + " to " + high + ")" + at
}

// OfferWhy says what in the log speaks for a correction.
func OfferWhy(o *roadtest.Offer) string {
	switch {
	case o.Name == roadtest.StopGap && o.Value < 0:
		return "The stop is met earlier than entered. A packer left on the rod would do this: look before taking it."
	case o.Name == roadtest.StopGap:
		return "The stop is met later than entered. A stop that has set or lost its nose would do this."
	case o.Name == roadtest.Friction && o.Value > 0:
		return "The wheel stands still longer than entered. A tight bush, a bent rod or side load would do this."
	case o.Name == roadtest.Friction:
		return "The wheel stands still less than entered."
	case o.Name == roadtest.SpringRate:
		return "The corner answers the road as with another spring rate. Read the spring on a tester before taking it."
	case o.Value < 0:
		return "The damper gives less force in this stroke than its curves say. Count the clicks first; then sweep it."
	}
	return "The damper gives more force in this stroke than its curves say. Count the clicks first; then sweep it."
}

// NotApart says what the log cannot tell from a correction; empty: all.
func NotApart(o *roadtest.Offer) string {
	if len(o.With) == 0 {
		return ""
	}
	var names []string
	for _, w := range o.With {
		name := InputName(w.Name)
		if w.Corner >= 0 && w.Name != roadtest.TyreRate && w.Name != roadtest.UnsprungMass {
			name += " " + Corner(w.Corner)
		}
		names = append(names, name)
	}
	return "The log cannot tell it from " + strings.Join(names, ", ") + ": measure one of them."
}

// Wrong says that a channel is not what it is said to be, and what to do.
func (t *Teller) Wrong(w *roadtest.Wrong) string {
	switch w.Mistake {
	case roadtest.WrongSign:
		if w.Corner < 0 {
			return "Travel has the wrong sign at all corners: rebound is positive in this log. Answer the sign again."
		}
		return "Travel " + Corner(w.Corner) + " has the other sign than the rest. Give it a sign of its own."
	case roadtest.Swapped:
		return "Travel " + Corner(w.Corner) + " and " + Corner(w.Other) + " are exchanged. Exchange their roles."
	case roadtest.WrongGain:
		return fmt.Sprintf("Travel %s reads %s times what the wheel does (± %s): its gain or the motion ratio is wrong, and the log cannot say which. Move it over a block of known height.",
			Corner(w.Corner), quantity.Shown(quantity.Ratio, quantity.Metric).Number(w.Value, 2), quantity.Shown(quantity.Ratio, quantity.Metric).Number(w.Half, 2))
	case roadtest.WrongBuild:
		return fmt.Sprintf("The log is of another build or load: all four springs would have to differ by %s. Choose the build that was driven.", PerCent(math.Abs(w.Value)))
	case roadtest.WrongZero:
		return "Travel " + Corner(w.Corner) + " has its mean " + t.length(math.Abs(w.Value)) + " from where the build drives: its zero is wrong. Take the zero again, at rest with the driver in."
	}
	return string(w.Mistake)
}

// TestNote says what a road test rests on.
const TestNote = "The road is taken out of the log through the model, from both axles. The build as entered is driven over it again. A correction is one way to explain the log; look at the part before taking it."

// TestChange says what a correction does to a finding. A finding stands at its worst
// place: where that is another one than before, both are said.
func TestChange(before, after *Teller, was, is *finding.Finding) string {
	switch {
	case is == nil:
		return "No longer found: " + before.Finding(was).What
	case was == nil:
		return "New, " + string(is.Verdict) + ": " + after.Finding(is).What
	}
	text := Upper(string(is.Verdict)) + ": "
	if was.Verdict != is.Verdict {
		text = Upper(string(was.Verdict)) + " → " + string(is.Verdict) + ": "
	}
	text += after.Finding(is).What
	from := beforeThat(before, was, is)
	if was.Verdict == is.Verdict || from != "" {
		text += " Before: " + before.Value(was.Value) + from + "."
	}
	return text
}

// beforeThat is where a finding stood, where that differs from where it stands now.
func beforeThat(before *Teller, was, is *finding.Finding) string {
	if was.Value == nil || is.Value == nil {
		return ""
	}
	p, now := was.Value.Place, is.Value.Place
	p.Build, now.Build = "", ""
	if p == now {
		return ""
	}
	return " (" + before.Place(p) + ")"
}

// What is said of corrections where there are none, and where none was written.
const (
	NoCorrection      = "The log speaks for no correction."
	NoFindingChanges  = "No finding changes."
	CorrectionUnsaved = "Nothing was written: --out FILE writes the job with the corrections."
)

// What stands above the parts of a road test.
const (
	LogAlone     = "Travel from the log's zero, and time by damper speed"
	TestRoads    = "Road, taken out of the log"
	TestExplains = "What would explain it"
	TestEffects  = "What it changes in the findings"
)

// CannotType says why a job cannot hold a correction.
func CannotType(why string) string { return "It cannot be typed into this job: " + why + "." }

// RoadClass is a stretch's class and roughness with its band.
func RoadClass(class road.Class, roughness, low, high float64) string {
	if !(roughness > 0) {
		return "too short for a class"
	}
	text := func(v float64) string { return strings.Replace(strconv.FormatFloat(v, 'e', 1, 64), "e-0", "e-", 1) }
	return "class " + class.String() + ", Gd(n₀) " + text(roughness) + " m³ (" + text(low) + " to " + text(high) + ")"
}

// What stands on the page's drawings.
const (
	DamperTravel = "Damper travel from rest"
	ShareOfTime  = "Share of time"
)

// MeasuredPredicted name the two lines of a drawing.
var MeasuredPredicted = [2]string{"measured", "predicted"}

// Stretch is a stretch of the log with its road.
func (t *Teller) Stretch(s *roadtest.Stretch) string {
	metre, _ := quantity.Find("m", quantity.Length)
	return "From " + t.Amount("", "s", s.Start) + ", " + metre.Format(s.Length, 0) + " at " + quantity.Format(s.Speed, quantity.SpeedRoad, t.System, 0) + ": " + RoadClass(s.Class, s.Roughness, s.Low, s.High)
}
