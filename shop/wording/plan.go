package wording

import (
	"math"
	"strconv"
	"strings"

	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
	"trunnion/chassis/remedy"
	"trunnion/shop/quantity"
)

// PlanStory is the plan of a build in sentences.
type PlanStory struct {
	TooLow []string // where parts of a build are too low for the car, by axle
	NotFor string   // that these parts are not for this car; empty where they are
	Steps  []string // what to change; none where nothing has to be, or nothing helps
	Told   string   // why there are no steps; empty where there are some
	Stands string   // how high it stands then; empty where it stands as before
	Clears string   // what is clear then
	Left   string   // what stays over or close
	Breaks string   // what was clear and is not then
	Work   string   // hours and price
}

// Lines are a plan as it is printed, without its steps.
func (s *PlanStory) Lines() []string {
	var out []string
	for _, text := range []string{s.Breaks, s.Left, s.Clears, s.Stands, s.Work} {
		if text != "" {
			out = append(out, text)
		}
	}
	return out
}

// Text is the plan in one paragraph.
func (s *PlanStory) Text() string {
	return joined(append(append(append(append([]string{}, s.TooLow...), s.NotFor, s.Told), s.Steps...), s.Lines()...))
}

// Plan tells the plan of a build.
func (t *Teller) Plan(p *remedy.Plan) PlanStory {
	var s PlanStory
	for i := range p.TooLow {
		s.TooLow = append(s.TooLow, t.tooLow(&p.TooLow[i]))
	}
	for i := range p.Steps {
		s.Steps = append(s.Steps, t.Change(&p.Steps[i])+".")
	}
	var cleared, over, close, broken []string
	for i := range p.Rows {
		r := &p.Rows[i]
		switch {
		case r.Was != finding.Over && r.Was != finding.Close && (r.Now == finding.Over || r.Now == finding.Close):
			broken = append(broken, t.planRow(r))
		case r.Now == finding.Over:
			over = append(over, t.planRow(r))
		case r.Now == finding.Close:
			close = append(close, t.planRow(r))
		default:
			cleared = append(cleared, t.planRow(r))
		}
	}
	if len(p.Steps) == 0 {
		s.Told = "Nothing is over, and nothing is likelier to be than not: no plan is needed."
		if p.Unknown > 0 {
			s.Told = "Of what is known nothing is over, and nothing is likelier to be than not. " + counted(p.Unknown, "limit") + " cannot be judged yet: measure first."
		}
		if len(over) > 0 || t.likely(p) {
			s.Told = "Nothing that is sold, turned or made to order mends it without breaking something as hard."
		}
		if over != nil {
			s.Left = "Over: " + strings.Join(over, "; ") + "."
		}
		s.NotFor = t.notFor(p)
		return s
	}
	if broken != nil {
		s.Breaks = "It breaks: " + strings.Join(broken, "; ") + "."
	}
	var left []string
	if over != nil {
		left = append(left, "It does not clear: "+strings.Join(over, "; ")+".")
	}
	if close != nil {
		left = append(left, "Close with it: "+strings.Join(close, "; ")+".")
	}
	s.Left = strings.Join(left, " ")
	if cleared != nil {
		s.Clears = "It clears: " + strings.Join(cleared, "; ") + "."
	}
	if over == nil && close == nil && broken == nil {
		s.Left = "All is clear with it."
	}
	s.Stands = t.stands(p)
	s.NotFor = t.notFor(p)
	s.Work = t.work(p)
	return s
}

// likely reports whether something is likelier to be over than not.
func (t *Teller) likely(p *remedy.Plan) bool {
	for i := range p.Rows {
		if p.Rows[i].Probability >= 0.5 {
			return true
		}
	}
	return false
}

// planRow is a finding before and after a plan: "bump travel to the stop, rear, 21.7 mm
// into → 6.3 mm clear (4 in 100)".
func (t *Teller) planRow(r *remedy.Row) string {
	text := strings.ToLower(Row(r.Code)[:1]) + Row(r.Code)[1:]
	if r.Axle >= 0 {
		text += " " + axle(2*r.Axle)
	}
	if r.Judges == "" {
		return text
	}
	u := unitOf(r.Judges, siOf(r.Judges), t.System)
	switch {
	case math.IsNaN(r.Before) && math.IsNaN(r.After):
		return text
	case math.IsNaN(r.Before):
		text += ", " + t.side(r.Judges, u, r.After)
	case math.IsNaN(r.After) || t.side(r.Judges, u, r.Before) == t.side(r.Judges, u, r.After):
		text += ", " + t.side(r.Judges, u, r.Before)
	default:
		text += ", " + t.side(r.Judges, u, r.Before) + " → " + t.side(r.Judges, u, r.After)
	}
	if n := math.Round(r.Probability / quantity.Percent); r.Now == finding.Close && n >= 1 && n <= 99 {
		text += " (" + strconv.Itoa(int(n)) + " in 100 that it is over)"
	}
	return text
}

// tooLow says at which height most findings of an axle are gone.
func (t *Teller) tooLow(l *remedy.TooLow) string {
	var list []string
	for _, c := range l.Codes {
		list = append(list, strings.ToLower(Row(c)[:1])+Row(c)[1:])
	}
	end := axle(2 * l.Axle)
	return "Too low at the " + end + " for these parts: " + strconv.Itoa(len(l.Codes)) + " of its " + strconv.Itoa(l.Of) + " findings are gone at " +
		t.Amount("arch-height", "m", l.Height) + " hub to arch in the usual load state, " + tidy(t.Amount("arch-height", "m", l.Higher)) + " higher: " + strings.Join(list, ", ") + "."
}

// stands says how high the axles stand with a plan.
func (t *Teller) stands(p *remedy.Plan) string {
	var list []string
	for i := range p.Stands {
		s := &p.Stands[i]
		way := "higher"
		if s.After < s.Before {
			way = "lower"
		}
		text := "the " + axle(2*s.Axle) + " " + t.Amount("arch-height", "m", math.Abs(s.After-s.Before)) + " " + way + ", at " + t.Amount("arch-height", "m", s.After)
		if drop := s.Baseline - s.Before; !math.IsNaN(s.Baseline) && drop > 2e-3 && s.After > s.Before {
			text += ", of a drop of " + t.Amount("arch-height", "m", drop)
		}
		list = append(list, text)
	}
	if list == nil {
		return ""
	}
	return "Heights with it: " + strings.Join(list, "; ") + "."
}

// notFor says that these parts are not for this car.
func (t *Teller) notFor(p *remedy.Plan) string {
	if !p.NotThese {
		return ""
	}
	for i := range p.Rows {
		r := &p.Rows[i]
		if r.Now == finding.Over && finding.AtLeastAsHard(r.Code, "stop-carries-load") {
			return "Not these parts on this car: " + t.planRow(r) + " stays over whatever is added that can be bought."
		}
	}
	return "Not these parts on this car: what mends them takes back most of the drop."
}

// work is what a plan costs, where it is known.
func (t *Teller) work(p *remedy.Plan) string {
	hours := strings.TrimSuffix(strconv.FormatFloat(p.Hours/quantity.Hour, 'f', 1, 64), ".0")
	text := "About " + hours + " h of work (common practice, no source)"
	if p.Made != nil && p.Made.Hours.Known() {
		text += ", less where it is done with the build's own"
	}
	return text + "; " + partsOf(p) + "."
}

// partsOf are the parts of a plan with their price, as far as it is known.
func partsOf(p *remedy.Plan) string {
	var known []string
	parts, sum, currency := 0, 0.0, ""
	for i := range p.Steps {
		r := &p.Steps[i]
		if k := r.Kind; k == finding.Raise && r.Code != "longer-spring" || k == finding.Level || k == finding.Clicks || k == finding.Bar {
			continue
		}
		parts++
		if r.Part == nil || r.Part.Price == "" {
			continue
		}
		pieces := 2
		if r.Side != figure.NoCorner {
			pieces = 1
		}
		known = append(known, strconv.Itoa(pieces)+" × “"+r.Choice+"” at "+r.Part.Price)
		typed, err := quantity.Parse(r.Part.Price, quantity.Price)
		switch {
		case err != nil || currency != "" && typed.Unit != currency:
			sum = math.NaN()
		default:
			sum, currency = sum+float64(pieces)*typed.Value, typed.Unit
		}
	}
	switch {
	case parts == 0:
		return "no parts"
	case known == nil:
		return "the price of its parts is not known"
	}
	text := "parts " + strings.Join(known, ", ")
	if !math.IsNaN(sum) {
		text += ", " + strings.TrimSuffix(strconv.FormatFloat(sum, 'f', 2, 64), ".00") + " " + currency + " together"
	}
	if len(known) < parts {
		text += ", the others' price is not known"
	}
	return text
}
