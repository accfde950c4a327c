package wording

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"trunnion/chassis/car"
	"trunnion/chassis/figure"
	"trunnion/chassis/scales"
	"trunnion/chassis/search"
	"trunnion/shop/quantity"
)

// Search is what the sentences of a search are made of.
type Search struct {
	*Teller
	Found    *search.Found
	From     *car.Build // the build that was started from
	Currency string
}

// planNames are what the kinds of plan are called.
var planNames = map[string]string{search.MostComfort: "Most comfort", search.MostControl: "Most control", search.LeastMoney: "Least money", search.LeastWork: "Least work"}

// PlanName is what a plan is called: "Most comfort, least money".
func PlanName(p *search.Plan) string {
	out := planNames[p.Kinds[0]]
	for _, k := range p.Kinds[1:] {
		out += ", " + lower(planNames[k])
	}
	return out
}

// aimNames are what is wanted, by code.
var aimNames = map[string]string{
	"comfort": "floor acceleration", "control": "second bounce", "grip": "tyre load variation", "price": "parts", "hours": "work", "stance": "height against the baseline",
}

// FoundName is what a build that was found and is no plan is called, by its number from 0.
func FoundName(k int) string { return "Found, number " + strconv.Itoa(k+1) }

// AimName is what an aim is called.
func AimName(aim int) string { return aimNames[search.Aims[aim]] }

// Aim is an aim's figure with its unit.
func (t *Search) Aim(aim int, v float64) string {
	if math.IsNaN(v) {
		if aim == search.Price {
			return "price not known"
		}
		return "not known"
	}
	switch aim {
	case search.Comfort:
		return t.floor(v)
	case search.Control:
		if v <= search.LeastBounce {
			return short(PerCent(search.LeastBounce)) + " or less"
		}
		return t.Amount("bounce-left", "1", v)
	case search.Grip:
		return t.Amount("tyre-load-variation", "1", v)
	case search.Price:
		return t.Money(v)
	case search.Hours:
		return hoursOf(v)
	}
	return t.stands(v)
}

func hoursOf(v float64) string {
	return strings.TrimSuffix(strconv.FormatFloat(v/quantity.Hour, 'f', 1, 64), ".0") + " h"
}

// Money is an amount with its currency.
func (t *Search) Money(v float64) string { return quantity.FormatPrice(v, t.Currency, 0) }

// stands is a height against the baseline: "18 mm lower".
func (t *Search) stands(v float64) string {
	way := "higher"
	if v < 0 {
		way = "lower"
	}
	return t.length(math.Abs(v)) + " " + way
}

// SearchTitle says what was looked for.
func (t *Search) SearchTitle(name string) string {
	return fmt.Sprintf("%s: builds from %s, %s that can be made", name, t.AsBuild(t.From.ID), count(t.Found.Space.Size()))
}

// count is a number of builds: "1,214,400".
func count(n float64) string {
	s := strconv.FormatFloat(n, 'f', 0, 64)
	for k := len(s) - 3; k > 0; k -= 3 {
		s = s[:k] + "," + s[k:]
	}
	return s
}

// SearchStep is a step of a search: what it is called, how many came, how many held.
func SearchStep(s *search.Step) (name, came, hold string) {
	name = SearchStepName(s.Name)
	return name, count(s.Tried) + " tried", count(s.Hold) + " hold"
}

// SearchStepName is what a step is called.
func SearchStepName(code string) string {
	switch code {
	case search.AtStart:
		return "The job's own builds"
	case search.AtRest:
		return "Statics and seats"
	case search.OverRoad, search.Spectrum:
		return "Road screening"
	case search.InCorners:
		return "Corners"
	case search.InTime:
		return "Full simulation"
	case search.Longer:
		return "Full simulation, longer"
	}
	return "Tolerances drawn"
}

// SearchLimit names a limit that must hold: "Bump travel to the stop, at least 10 mm".
func (t *Search) SearchLimit(r *search.Removed) string {
	s := search.Short{Code: r.Code, Axle: r.Axle, Limit: r.Limit, Unit: r.Unit, Upper: r.Upper, Judges: r.Judges}
	return t.wish(&s)
}

// wish names what must hold.
func (t *Search) wish(s *search.Short) string {
	axle := "The car"
	if s.Axle >= 0 {
		axle = upper(car.AxleNames[s.Axle])
	}
	switch s.Code {
	case search.NotLow:
		return axle + " at least " + t.length(s.Limit) + " lower than the baseline"
	case search.TooHigh:
		return axle + " at most " + t.length(s.Limit) + " higher than the baseline"
	case search.Thread:
		return "Collars within their thread"
	case search.Overpaid:
		return "Parts for at most " + t.Money(s.Limit)
	}
	if math.IsNaN(s.Limit) || s.Unit == "" {
		return Row(s.Code)
	}
	word := ", at least "
	if s.Upper {
		word = ", at most "
	}
	return Row(s.Code) + word + t.Amount(s.Judges, s.Unit, s.Limit)
}

// Removes says which share of the candidates a limit removes.
func Removes(share float64) string {
	switch {
	case share >= 0.9995:
		return "removes all"
	case share < 0.005:
		return "removes under 1 in 100"
	}
	return "removes " + strconv.Itoa(int(math.Round(share/quantity.Percent))) + " in 100"
}

// Parts are what is changed at an axle of a build, against the build that was started from;
// nil where nothing is.
func (t *Search) Parts(b *car.Build, axle int) []string {
	var out []string
	i := 2 * axle
	was, is := &t.From.Corner[i], &b.Corner[i]
	if s := is.Spring; s != nil && (was.Spring == nil || s.Rate.Value != was.Spring.Rate.Value || s.Free.Value != was.Spring.Free.Value || s.Called != was.Spring.Called) { //nolint:floateq // changed or not
		text := "springs of " + t.Amount("", "N/m", s.Rate.Value) + ", " + t.Amount("", "m", s.Free.Value) + " free"
		if s.Called != "" {
			text += " (" + s.Called + ")"
		}
		out = append(out, text)
	}
	if h := is.Helper; h != nil && was.Helper == nil {
		text := "helpers of " + t.Amount("", "N/m", h.Rate.Value) + ", " + t.Amount("", "m", h.Free.Value) + " free"
		if h.Called != "" {
			text += " (" + h.Called + ")"
		}
		out = append(out, text)
	}
	dampers := t.damperSaid(was.Damper, is.Damper, i)
	if dampers != "" {
		out = append(out, dampers)
	}
	if text := t.stopSaid(was.Stop, is.Stop, i); text != "" {
		out = append(out, text)
	}
	if is.Packer.Value != was.Packer.Value { //nolint:floateq // changed or not
		if is.Packer.Value == 0 { //nolint:floateq // none
			out = append(out, "no packers")
		} else {
			out = append(out, "packers of "+t.length(is.Packer.Value))
		}
	}
	if text := t.collars(b, axle); text != "" {
		out = append(out, text)
	}
	if b.Setup.Click[i] != t.From.Setup.Click[i] || dampers != "" && is.Damper.ClickMost > 0 {
		out = append(out, "click "+strconv.Itoa(b.Setup.Click[i])+" from closed")
	}
	if h := b.Setup.BarHole[axle]; h != t.From.Setup.BarHole[axle] && h != "" {
		out = append(out, "bar in hole "+h)
	}
	return out
}

// forYou is said of a part out of a list that does not say whether it goes on this car.
const forYou = " (whether %s is for you to see)"

// damperSaid says which dampers a corner gets in place of what it had; empty where none.
func (t *Search) damperSaid(was, is *car.DamperSpec, corner int) string {
	switch {
	case is == nil || was == nil || is == was || is.ID == was.ID && is.Called == was.Called:
		return ""
	case is.Called != "":
		return "dampers " + is.Called + ", " + t.length(is.Closed.Value) + " closed, " + t.length(is.Open.Value) + " open" + fmt.Sprintf(forYou, "their ends fit")
	}
	return "the dampers " + t.ofBuild(is.ID, func(c *car.BuildCorner) bool { return c.Damper != nil && c.Damper.ID == is.ID }, corner)
}

// stopSaid says which stops a corner gets in place of what it had; empty where none.
func (t *Search) stopSaid(was, is *car.StopSpec, corner int) string {
	switch {
	case is == nil || was == nil || is == was || is.ID == was.ID && is.Called == was.Called && is.Length.Value == was.Length.Value: //nolint:floateq // changed or not
		return ""
	case is.Called != "":
		return "stops " + is.Called + ", " + t.length(is.Length.Value) + fmt.Sprintf(forYou, "their bore fits the rod")
	case is.ID == was.ID:
		return "stops cut to " + t.length(is.Length.Value)
	}
	return "the stops " + t.ofBuild(is.ID, func(c *car.BuildCorner) bool { return c.Stop != nil && c.Stop.ID == is.ID }, corner)
}

// ofBuild names a part of the job by the first build that has it at a corner; by its id
// where none has.
func (t *Search) ofBuild(id string, has func(*car.BuildCorner) bool, corner int) string {
	for _, b := range t.Found.Study.Job.Builds {
		if has(&b.Corner[corner]) {
			return "of " + t.AsBuild(b.ID)
		}
	}
	return id
}

// collars says how the collars of an axle are turned.
func (t *Search) collars(b *car.Build, axle int) string {
	i := 2 * axle
	in, was := b.Setup.Platform[i], t.From.Setup.Platform[i]
	what := "collars"
	if scales.AdjusterOf(b.Corner[i].Platform).Kind == scales.Body {
		in, was, what = b.Setup.BodyLength[i], t.From.Setup.BodyLength[i], "bodies"
	}
	by := in.Value - was.Value
	if by == 0 { //nolint:floateq // not turned
		return ""
	}
	way := "up"
	if by < 0 {
		way = "down"
	}
	return what + " " + t.length(math.Abs(by)) + " " + way
}

// PartsSaid is what is changed at an axle in a line: "Front: springs of 40 N/mm, …".
func (t *Search) PartsSaid(b *car.Build, axle int) string {
	list := t.Parts(b, axle)
	if list == nil {
		return upper(car.AxleNames[axle]) + ": as on " + t.AsBuild(t.From.ID) + "."
	}
	return upper(car.AxleNames[axle]) + ": " + strings.Join(list, ", ") + "."
}

// Why is the reason for a plan.
func (t *Search) Why(p *search.Plan) string {
	b := &t.Found.Builds[p.Build]
	var list []string
	for _, k := range p.Kinds {
		switch k {
		case search.MostComfort:
			list = append(list, "the least floor acceleration over the brief's roads, "+t.high(b, search.Comfort)+t.beside(search.Comfort))
		case search.MostControl:
			where := "behind the brief's humps"
			if t.Found.NoHump {
				where = "by the spectrum (the brief names no hump)"
			}
			list = append(list, "the least second bounce "+where+", "+t.high(b, search.Control)+t.beside(search.Control)+", and of builds alike in that the best ride")
		case search.LeastMoney:
			list = append(list, "the cheapest parts, "+t.Aim(search.Price, b.Figures[search.Price])+", "+t.Aim(search.Hours, b.Figures[search.Hours])+" of work")
		case search.LeastWork:
			list = append(list, "the least work, "+t.Aim(search.Hours, b.Figures[search.Hours])+"; what parts cost is not known without a catalogue")
		}
	}
	return upper(strings.Join(list, "; ")) + "."
}

// high is a figure with what 95 draws in 100 keep to.
func (t *Search) high(b *search.Build, aim int) string {
	is, high := t.Aim(aim, b.Figures[aim]), t.Aim(aim, b.High[aim])
	if is == high {
		return is
	}
	return is + " (95 draws in 100 below " + strings.TrimSuffix(high, " or less") + ")"
}

// beside is the figure of the build that was started from.
func (t *Search) beside(aim int) string {
	for k := range t.Found.Present {
		if p := &t.Found.Present[k]; p.Build.ID == t.From.ID && !math.IsNaN(p.Figures[aim]) {
			return "; " + t.AsBuild(t.From.ID) + " has " + t.Aim(aim, p.Figures[aim])
		}
	}
	return ""
}

// GivesUp are what a plan gives up against each of the others.
func (t *Search) GivesUp(p *search.Plan) []string {
	by := map[int][]string{}
	for _, g := range p.GiveUp {
		by[g.Against] = append(by[g.Against], AimName(g.Aim)+" "+t.Aim(g.Aim, g.Is)+" instead of "+t.Aim(g.Aim, g.Was))
	}
	var out []string
	for k := range t.Found.Plans {
		if list := by[k]; list != nil {
			out = append(out, "Gives up against plan "+strconv.Itoa(k+1)+": "+strings.Join(list, ", ")+".")
		}
	}
	return out
}

// guessedSaid is how many figures that rest on estimates are named. Chosen.
const guessedSaid = 4

// Room is the thread left and what of a build rests on estimates.
func (t *Search) Room(b *search.Build) []string {
	var out []string
	if !math.IsNaN(b.Thread) {
		if b.Thread >= 0 {
			out = append(out, "Thread left on the collar with least: "+t.length(b.Thread)+".")
		} else {
			out = append(out, "A collar is "+t.length(-b.Thread)+" past the end of its thread.")
		}
	}
	if len(b.Guessed) > 0 {
		var list []string
		for _, code := range b.Guessed[:min(len(b.Guessed), guessedSaid)] {
			list = append(list, Name(code))
		}
		if more := len(b.Guessed) - len(list); more > 0 {
			list = append(list, strconv.Itoa(more)+" more")
		}
		out = append(out, "Rests on estimates: "+strings.Join(list, ", ")+".")
	}
	return out
}

// Heights says how both axles stand against the baseline.
func (t *Search) Heights(b *search.Build) string {
	if math.IsNaN(b.Stance[0]) || math.IsNaN(b.Stance[1]) {
		return ""
	}
	return "Against the baseline: front " + t.stands(b.Stance[0]) + ", rear " + t.stands(b.Stance[1]) + "."
}

// ShortSaid says what a build does not hold, and by how much.
func (t *Search) ShortSaid(s *search.Short) string {
	text := t.wish(s) + ": "
	value := t.side(s.Judges, unitOf(s.Judges, s.Unit, t.System), s.Value)
	if s.Unit == search.Currency {
		value = t.Money(s.Value)
	}
	text += value
	if s.Judges != "" {
		text += t.at(s)
		if s.Probability < 1 {
			text += ", over in " + strconv.Itoa(int(math.Round(s.Probability/quantity.Percent))) + " draws of 100"
		}
	}
	return text + "."
}

// at is the place of a shortfall: " at rear left, four aboard".
func (t *Search) at(s *search.Short) string {
	p := s.Place
	p.Build = ""
	if p.Corner == figure.NoCorner && p.Load == "" {
		return ""
	}
	return ", " + t.Place(p)
}

// Blocked says what stands in the way where nothing holds everything.
func (t *Search) Blocked() (head, text string) {
	if len(t.Found.Gives) == 0 {
		return "", ""
	}
	g := &t.Found.Gives[0]
	switch len(g.Codes()) {
	case 1:
		return "One wish stands in the way: " + lower(t.wish(&g.Shorts[0])) + ".", t.ShortSaid(&g.Shorts[0])
	}
	var list []string
	for i := range g.Shorts {
		list = append(list, lower(t.wishOf(g, &g.Shorts[i])))
	}
	return "No build of these parts holds everything. Least short: " + strings.Join(list, "; ") + ".", t.ShortSaid(&g.Shorts[0])
}

// wishOf is a wish of several that have to give: with its axle, where both have it.
func (t *Search) wishOf(g *search.Give, s *search.Short) string {
	text := t.wish(s)
	if s.Axle >= 0 && slices.ContainsFunc(g.Shorts, func(o search.Short) bool { return o.Code == s.Code && o.Axle != s.Axle }) {
		text += ", " + car.AxleNames[s.Axle]
	}
	return text
}

// GiveSaid says what would have to give, and by how much.
func (t *Search) GiveSaid(g *search.Give) string {
	var list []string
	for i := range g.Shorts {
		s := &g.Shorts[i]
		text := t.wishOf(g, s)
		switch {
		case math.IsNaN(s.Need):
			text += ": no amount of it helps"
		case s.Unit == search.Currency:
			text += ": " + t.Money(s.Limit+s.Need) + " instead"
		case s.Code == search.Thread:
			text += ": " + t.length(s.Need) + " more thread"
		default:
			to := s.Limit - s.Need
			if s.Upper {
				to = s.Limit + s.Need
			}
			text += ": " + t.Amount(s.Judges, s.Unit, to) + " instead, in 95 draws of 100"
		}
		list = append(list, text)
	}
	return strings.Join(list, "; ") + "."
}

// setAside says what the search went on without.
func (t *Search) setAside() string {
	out := ""
	for i := range t.Found.Aside {
		a := &t.Found.Aside[i]
		out += fmt.Sprintf("%s: %s could not be computed and were left out (%s). ", SearchStepName(a.Step), counted(a.Choices, "candidate"), a.Reason)
	}
	return out
}

// SearchBasis says what the figures of a search rest on.
func (t *Search) SearchBasis() string {
	return t.setAside() + "Every plan went through the whole study with its draws, beside the job's own builds and on the same roads. Before that, candidates are put in order by the spectrum and judged over ever longer drives; what was passed over was not judged whole. Work is common practice, no source, and counted as if the build stood on the car. A plan is a proposal: try it in Builds, and on the road."
}
