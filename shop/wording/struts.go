package wording

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"trunnion/chassis/axles"

	"trunnion/chassis/car"
	"trunnion/chassis/linkage"
	"trunnion/chassis/strut"
	"trunnion/shop/quantity"
)

// StrutFigure is a figure that a strut is judged by.
type StrutFigure struct {
	ID, Label, SI string
	Of            func(one *axles.BuildStrut, m *strut.Moment) float64 // NaN: not known [SI]
}

// known makes nothing of what a strut's layout does not give.
func known(v float64) float64 {
	if !(v > 0) {
		return math.NaN()
	}
	return v
}

// StrutFigures are those of an axle, in the order shown.
func StrutFigures(axle int) []StrutFigure {
	type (
		b = axles.BuildStrut
		m = strut.Moment
	)
	return []StrutFigure{
		{"side", "Side force at the top mount", "N", func(_ *b, x *m) float64 { return x.Forces.Across }},
		{"stress", "Bending stress of rod or body", Stress, func(_ *b, x *m) float64 { return x.Bearing.Stress }},
		{"deflection", "Sideways bending of the top", Fine, func(_ *b, x *m) float64 { return x.Bearing.Deflection }},
		{"guide", "Force on the guide or upper bush", "N", func(_ *b, x *m) float64 { return x.Bearing.Guide }},
		{"guide-pressure", "Pressure on the guide or upper bush", FineStress, func(_ *b, x *m) float64 { return known(x.Bearing.GuidePressure) }},
		{"lower", "Force on the piston or lower bush", "N", func(_ *b, x *m) float64 { return x.Bearing.Lower }},
		{"lower-pressure", "Pressure on the piston or lower bush", FineStress, func(_ *b, x *m) float64 { return known(x.Bearing.LowerPressure) }},
		{"friction", "Friction from side load, along the strut", "N", func(_ *b, x *m) float64 { return x.Bearing.Friction }},
		{"break-away", "Break-away of that friction, at the wheel", "N", func(_ *b, x *m) float64 { return x.BreakAway }},
		{"buckling", "Share of the buckling load, along the strut", Part, func(one *b, x *m) float64 { return buckling(one, axle, x) }},
	}
}

// buckling is the share of the force along a strut in what buckles it; not a
// number where the strut is pulled or nothing is known of it.
func buckling(one *axles.BuildStrut, axle int, m *strut.Moment) float64 {
	if !(m.Forces.Along < 0) {
		return math.NaN()
	}
	share, err := one.Layout.BucklingShare(m.Short, -m.Forces.Along, guideOf(one, axle).Yield.Value)
	if err != nil {
		return math.NaN()
	}
	return share
}

func guideOf(one *axles.BuildStrut, axle int) *car.Guide {
	return &one.Damper(axle).Guide
}

// Fine stands for a small length, FineStress for a small pressure in a solid: both
// are read with a digit more than others.
const Fine, FineStress = "fine", "fine-stress"

// plainly is the unit that Fine or FineStress is a finer reading of.
func plainly(si string) string {
	switch si {
	case Fine:
		return "m"
	case FineStress:
		return Stress
	}
	return si
}

// With is a figure with its unit.
func (t *Teller) With(si string, v float64) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return quantity.Nothing
	}
	switch {
	case si == Fine:
		u := quantity.Shown(quantity.Length, t.System)
		return u.Format(v, u.Digits()+1)
	case si == Stress && t.System == quantity.Imperial:
		return quantity.Shown(quantity.Pressure, t.System).Format(v, 0)
	case si == FineStress && t.System != quantity.Imperial:
		return quantity.Shown(quantity.Ratio, t.System).Number(v/quantity.Megapascal, 1) + " " + t.Label(Stress)
	}
	si = plainly(si)
	if label := t.Label(si); label != "" {
		return t.Figure(si, v) + " " + label
	}
	return t.Figure(si, v)
}

// StrutLimit says what a figure of a strut is held against, where somebody stated
// a limit; share is the figure over it, NaN without one.
func (t *Teller) StrutLimit(id string, one *axles.BuildStrut, axle int, v float64) (text string, share float64) {
	nothing := math.NaN()
	if math.IsNaN(v) {
		return "", nothing
	}
	switch id {
	case "stress":
		if y := &guideOf(one, axle).Yield; y.Known() && y.Value > 0 {
			return fmt.Sprintf("%s of the yield strength entered, %s", t.With(Part, v/y.Value), t.With(Stress, y.Value)), v / y.Value
		}
		return "no limit stated: yield strength not entered", nothing
	case "buckling":
		if guideOf(one, axle).Yield.Known() {
			return "limit: 100 %, by Euler or Johnson", v
		}
		return "limit: 100 %, by Euler; yield strength not entered", v
	case "break-away":
		if f := &one.Parts(axle).Friction; f.Known() {
			return "friction entered for the build: " + t.With("N", f.Value), nothing
		}
	}
	return "no limit stated", nothing
}

// StrutBand is " (430 to 498)", the 95 % band of a strut's figure over the draws of a
// case; empty where there is none.
func (t *Teller) StrutBand(f *StrutFigure, drawn []axles.StrutFound) string {
	low, high, ok := axles.StrutBand(drawn, f.Of)
	if !ok {
		return ""
	}
	a, b := t.With(f.SI, low), t.With(f.SI, high)
	bare := func(s string) string {
		if i := strings.LastIndex(s, " "); i > 0 {
			return s[:i]
		}
		return s
	}
	if a == b {
		return ""
	}
	return " (" + bare(a) + " to " + bare(b) + ")"
}

// StrutChance says how likely a strut is over a limit that somebody stated, where the
// draws do not settle it; empty else.
func (t *Teller) StrutChance(id string, axle int, drawn []axles.StrutFound) string {
	p := axles.StrutChance(drawn, func(d *axles.StrutFound) bool {
		switch id {
		case "stress":
			return d.Yield > 0 && d.Moment.Stress > d.Yield
		case "buckling":
			return buckling(&d.Strut, axle, &d.Moment) > 1
		}
		return false
	})
	n := math.Round(p / quantity.Percent)
	if !(n >= 1 && n <= 99) {
		return ""
	}
	return fmt.Sprintf("The chance that it is over is about %.0f in 100.", n)
}

// banded are the figures that a sentence tells with their bands.
var banded = []string{"side", "stress", "guide-pressure", "lower-pressure", "buckling"}

// StrutBanded is a case's figures with their bands in a sentence; empty without draws.
func (t *Teller) StrutBanded(axle int, one *axles.BuildStrut, k *axles.StrutCase, drawn []axles.StrutFound) string {
	var list []string
	for _, f := range StrutFigures(axle) {
		if !slices.Contains(banded, f.ID) {
			continue
		}
		if band := t.StrutBand(&f, drawn); band != "" {
			list = append(list, lower(f.Label)+" "+t.With(f.SI, f.Of(one, &k.Moment))+band)
			if chance := t.StrutChance(f.ID, axle, drawn); chance != "" {
				list[len(list)-1] += ", " + lower(strings.TrimSuffix(chance, "."))
			}
		}
	}
	if len(list) == 0 {
		return ""
	}
	return t.StrutCaseLoaded(k) + ", with 95 % of the draws: " + strings.Join(list, "; ") + "."
}

// StrutBands says what the bands of struts are made of.
func StrutBands() string {
	return "Bands are 95 % of the draws: each coordinate of a point read to ± 3 mm (common practice, no source), wheel and tyre, guide, rod and body by their own tolerances, the wheel's load by the weighing. Not in them: how the tyres of an axle share the lateral force, friction coefficients that nobody entered, and what is not known of an obstacle. The points are the same for every build: a ratio of two builds is known better than either."
}

// Times says how a figure stands to another; empty where there is nothing to
// compare.
func Times(is, was float64, whose string) string {
	if !(was > 0) || math.IsNaN(is) {
		return ""
	}
	return fmt.Sprintf("× %.2f of %s", is/was, whose)
}

// NoPower says why there is no case under power.
func NoPower() string {
	return "There is no case under power: which axle drives is not known. Enter car.drive_share, the front axle's share of the driving force."
}

// StrutHolds says what is drawn of a case.
func (t *Teller) StrutHolds(k *axles.StrutCase) string {
	if k == nil {
		return "The road pushes straight up against spring, gas, stop and bushes at each travel: no cornering, no braking."
	}
	return fmt.Sprintf("The loads of “%s” are held while the wheel moves; they belong to the marked travel.", t.StrutCase(k))
}

// Carried is the name of the case that follows springs and stop.
const Carried = "What springs and stop carry"

// StrutLoaded says what the road presses a wheel with in a case.
func (t *Teller) StrutLoaded(k *axles.StrutCase) string {
	text := fmt.Sprintf("The wheel carries %s, × %.2f of its load at rest", t.With("N", k.Road.Z), k.Factor)
	if math.Abs(k.Road.Y) > 1 {
		text += ", with " + t.With("N", math.Abs(k.Road.Y)) + " across"
	}
	if math.Abs(k.Road.X) > 1 {
		text += ", with " + t.With("N", math.Abs(k.Road.X)) + " along"
	}
	return text + "."
}

// StrutWorst is a figure of a build's strut in one of its cases.
type StrutWorst struct {
	Figure string // its id
	Label  string
	Case   string // its name
	Value  float64
	Share  float64 // of a stated limit, or over the reference [-]
	Chance string  // that it is over a limit, where the draws do not settle it
	Band   string  // behind its value; empty without draws
}

// StrutFirst says what gives out first on a strut, by what can be said of it.
func (t *Teller) StrutFirst(nearest, stress, worst, best *StrutWorst, reference string) []string {
	var out []string
	if nearest != nil {
		of := "its buckling load"
		if nearest.Figure == "stress" {
			of = "the yield strength entered, in bending"
		}
		out = append(out, fmt.Sprintf("Nearest to a stated limit: %s of %s, %s.", t.With(Part, nearest.Share), of, during(nearest.Case)))
		if nearest.Chance != "" {
			out = append(out, nearest.Chance)
		}
	}
	if stress != nil {
		out = append(out, fmt.Sprintf("Highest bending stress: %s, %s.", t.With(Stress, stress.Value)+stress.Band, during(stress.Case)))
	}
	if worst != nil && worst.Share > 1.005 {
		out = append(out, fmt.Sprintf("Furthest above “%s”: %s × %.2f, %s.", reference, lower(worst.Label), worst.Share, during(worst.Case)))
	} else if worst != nil {
		out = append(out, fmt.Sprintf("Nothing above “%s”.", reference))
	}
	if best != nil && best.Share < 0.995 {
		out = append(out, fmt.Sprintf("Furthest below “%s”: %s × %.2f, %s.", reference, lower(best.Label), best.Share, during(best.Case)))
	}
	return out
}

func during(name string) string { return "in “" + lower(name) + "”" }

// StrutFault says why a strut has no figures at a travel.
func (t *Teller) StrutFault(err error) string {
	var over *strut.OverrunError
	var lock *linkage.LockError
	var fault *linkage.FaultError
	switch {
	case errors.As(err, &over) && over.Over < 0:
		return fmt.Sprintf("The top mount would be %s past the guide: the strut is not that short.", t.With("m", -over.Over))
	case errors.As(err, &over):
		return fmt.Sprintf("Only %s are left between the bearings.", t.With("m", over.Apart))
	case errors.As(err, &lock):
		return t.Lock(lock)
	case errors.As(err, &fault):
		return strings.Join(t.LinkageFaults(fault), " ")
	case errors.Is(err, strut.ErrUnheld):
		return "The joints do not hold the carrier: some stand in one line."
	case errors.Is(err, strut.ErrSection):
		return "Rod or body, bore and bearings do not fit together: one of the diameters or spacings is impossible."
	}
	return "No answer: " + err.Error() + "."
}

// linkageFaults say what is wrong with hardpoints.
var linkageFaults = map[linkage.Code]string{
	linkage.NotFinite: "is no number", linkage.WrongCount: "hold the wheel in more or fewer than one movement", linkage.ZeroLength: "coincide",
	linkage.Collinear: "stand in one line", linkage.OtherSide: "lies on the other side of the car", linkage.MixedUnits: "is nowhere near the wheel",
	linkage.TopUnder: "lies under the wheel centre", linkage.NotClosed: "do not close: lengths and points do not fit together",
	linkage.Undetermined: "do not fix where the wheel goes", linkage.UnknownPart: "stands on a part that is not there", linkage.BadRadius: "cannot be the wheel's",
	linkage.NotInMiddle: "is off the middle of the car", linkage.NotAPart: "does not belong to this kind of suspension", linkage.NothingSteered: "are not steered",
}

// LinkageFaults say what is wrong with hardpoints, with points and travel.
func (t *Teller) LinkageFaults(e *linkage.FaultError) []string {
	out := make([]string, 0, len(e.Faults))
	for i := range e.Faults {
		f := &e.Faults[i]
		what := linkageFaults[f.Code]
		if what == "" {
			what = spaced(string(f.Code))
		}
		text := upper(spoken(f.Points)) + " " + what
		switch f.Code {
		case linkage.NotClosed:
			text += ", " + t.With("m", f.Value) + " are missing"
		case linkage.ZeroLength, linkage.Collinear, linkage.OtherSide, linkage.MixedUnits, linkage.TopUnder, linkage.NotInMiddle, linkage.BadRadius:
			text += " (" + t.With("m", f.Value) + ")"
		case linkage.NotFinite, linkage.WrongCount, linkage.Undetermined, linkage.UnknownPart, linkage.NotAPart, linkage.NothingSteered:
		}
		out = append(out, text+fmt.Sprintf(", at %s of wheel travel.", t.With("m", f.Travel)))
	}
	return out
}

// MeasurePoints say what to measure of an axle whose link points are not known.
func MeasurePoints(kind, axle string) []string {
	head := "Nothing is known of the link points of the " + axle + " axle: with a motion table alone there is no camber, toe, roll centre or force in a link. On the lift, left side, from the front axle's line, the middle of the car and the floor, all in one height of the car:"
	common := []string{"wheel centre, and its height over the ground (the wheel's radius under load)", "camber and toe as they stand"}
	var more []string
	switch linkage.Kind(kind) {
	case linkage.Strut:
		more = []string{"lower arm: centre of its front and rear pivot, and the ball joint", "track rod: inner and outer joint; whether it is steered", "strut: centre of the top mount, and a second point on the damper's axis at the carrier", "the anti-roll bar's drop link: both ends, and two points of the bar's own axis"}
	case linkage.DoubleWishbone:
		more = []string{"each wishbone: front and rear pivot, and its ball joint", "track rod: inner and outer joint", "spring and damper: upper and lower end, and the part the lower end stands on"}
	case linkage.FiveLink:
		more = []string{"each of the five links: inner and outer joint", "spring and damper: upper and lower end, and the part the lower end stands on"}
	case linkage.TrailingArm:
		more = []string{"the arm's two pivots at the body", "spring and damper: upper and lower end"}
	case linkage.TwistBeam:
		more = []string{"the bush at the body", "shear centre of the cross member, in the middle of the car", "spring and damper: upper and lower end"}
	case linkage.LiveAxle:
		more = []string{"each of the four links: inner and outer joint", "spring and damper: upper and lower end"}
	default:
		more = []string{"the joints of every link", "spring and damper: upper and lower end"}
	}
	return append(append([]string{head}, common...), more...)
}

// MeasureGuides says what to measure of struts whose guides are not known.
func MeasureGuides() string {
	return "Of these struts nothing is known of how they are guided. With the strut on the bench, measure from the top mount to the middle of the guide (of an inverted strut: to the upper bush) and from there to the piston (to the lower bush), both at travel zero; the guide's and the piston band's length along the strut; the rod's diameter, or the sliding body's with its bore."
}

// NoStrut says that an axle has no strut to be drawn.
func NoStrut(kind, axle string) string {
	if kind == "" {
		kind = "other suspension"
	}
	return fmt.Sprintf("The %s axle is a %s: it has no strut that carries the wheel sideways. Its linkage stands below.", axle, strings.ReplaceAll(kind, "-", " "))
}

// MountNotes say what the mounts' figures are, and what a spherical one changes.
func MountNotes(full bool) []string {
	out := []string{
		"Wear of the mount is compared, not predicted; 1 is as much as the baseline. What passes through it on the same roads is counted in cycles (ASTM E1049), each cycle takes its share of the mount's life (Miner), and cycles below the rated range count by Haibach's second slope, so that trifles do not outweigh blows. Each mount stands on its own rated range and slope; the band says what they leave open.",
		"Not known: how long a mount lasts. Nobody tested it to its end, and heat, oil, ozone and tilting are left out. Where no rated range was entered, one like the corner's load is taken for both builds (± 50 %, common practice, no source); a softer or thicker mount then counts as the baseline's, until its own range is entered.",
		"A spherical mount gives way to no force and turns freely: the series stiffness is the spring's alone, the rod's side friction falls by what rubber held back in tilt, and stop, damper and road noise reach the body without loss. It wears where rubber cracks, and knocks when it has play. Common practice, no source.",
	}
	if !full {
		out = append(out, "How the mounts wear on the brief's roads, and how often the stops are met there, comes with the full answer, a moment later. The brief's obstacles stand here already.")
	}
	return out
}

// Mount says what the mount of a corner is and what it leaves of the spring.
func (t *Teller) Mount(p *car.BuildCorner) string {
	m, spring := p.Mount, 0.0
	if p.Spring != nil {
		spring = p.Spring.Rate.Value
	}
	if m == nil {
		return "as the car had it; nothing was entered of it, and it counts as rigid"
	}
	rated := ""
	if m.Rated.Known() {
		rated = "; bears a range of " + t.With("N", m.Rated.Value) + " a million times"
	}
	if !m.Stiffness.Known() || m.Stiffness.Value <= 0 {
		return m.KindName() + rated + "; its stiffness is not known, and it counts as rigid"
	}
	text := fmt.Sprintf("%s, %s", m.KindName(), t.With("N/m", m.Stiffness.Value)) + rated
	if m.Kind == car.MountDoublePath {
		return text + "; spring and stop have their own way to the body: the damper alone pushes through it"
	}
	if spring > 0 {
		k := spring * m.Stiffness.Value / (spring + m.Stiffness.Value)
		if m.CarriesSpring {
			return text + fmt.Sprintf("; the spring stands on it: %s of spring and mount in series are %s", t.With("N/m", spring), t.With("N/m", k))
		}
		return text + "; the spring stands beside it: damper and stop alone push through it"
	}
	return text
}

// StrutDrawn says what of the drawings is measured and what is a sketch.
func StrutDrawn(sketched []string) string {
	text := "To scale: link points, diameters and lengths that were entered."
	if len(sketched) > 0 {
		text += " Sketched, not measured: " + strings.Join(sketched, ", ") + "."
	}
	return text
}

// LinkageChange names what a change of a linkage is.
func (t *Teller) LinkageChange(code string, by float64) string {
	switch code {
	case axles.LinkageLower:
		return "Standing lower by " + t.With("m", by)
	case axles.LinkageFurtherOut:
		return "Wheel further out by " + t.With("m", by) + ", by offset or spacer"
	case axles.LinkagePlate:
		return "Top mount inward by " + t.With("m", by) + ", by a camber plate"
	case axles.LinkageLongerArm:
		return "Arm longer by " + t.With("m", by)
	}
	return "All that was moved above"
}

// Plain is a figure as a plain number in the reader's unit, for drawing.
func (t *Teller) Plain(si string, v float64) float64 {
	si = plainly(si)
	switch {
	case si == Stress && t.System != quantity.Imperial:
		return v / quantity.Megapascal
	case si == Stress:
		si = "Pa"
	case si == Part:
		return quantity.Shown(quantity.Share, t.System).FromSI(v)
	case si == Sideways:
		return quantity.Shown(quantity.Acceleration, quantity.Imperial).FromSI(v)
	}
	if kind, ok := kinds[si]; ok {
		return quantity.Shown(kind, t.System).FromSI(v)
	}
	return v
}

// StrutForces name the forces that are drawn of a strut, in that order.
func StrutForces(inverted bool) []string {
	out := []string{"road on the tyre", "spring", "top mount, sideways", "guide on the rod", "tube on the piston", "ball joint", "tie rod"}
	if inverted {
		out[3], out[4] = "upper bush on the body", "lower bush on the body"
	}
	return out
}

// Unit is the label of a figure's unit.
func (f *StrutFigure) Unit(t *Teller) string { return t.Label(plainly(f.SI)) }
