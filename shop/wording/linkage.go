package wording

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"trunnion/chassis/axles"

	"trunnion/chassis/car"
	"trunnion/chassis/linkage"
	"trunnion/chassis/study"
	"trunnion/shop/quantity"
)

// Column is a column of a table of figures.
type Column[T any] struct {
	Head string           // what people read, without the unit
	Name string           // in a file, with the SI unit
	SI   string           // unit as the physics writes it
	Of   func(*T) float64 // [SI]
}

// LinkageColumns are what a linkage is told by, over wheel travel. Those that a
// linkage does not have are not numbers.
func LinkageColumns() []Column[linkage.Figures] {
	given := func(known bool, v float64) float64 {
		if !known {
			return math.NaN()
		}
		return v
	}
	type f = linkage.Figures
	return []Column[f]{
		{"wheel travel", "travel_m", "m", func(p *f) float64 { return p.Travel }},
		{"spring ratio", "spring_ratio", "1", func(p *f) float64 { return given(p.Spring.Known, p.Spring.Ratio) }},
		{"damper ratio", "damper_ratio", "1", func(p *f) float64 { return given(p.Damper.Known, p.Damper.Ratio) }},
		{"bar ratio", "bar_ratio", "1", func(p *f) float64 { return given(p.Bar.Known, p.Bar.Ratio) }},
		{"camber", "camber_rad", "rad", func(p *f) float64 { return p.Camber }},
		{"toe-in", "toe_rad", "rad", func(p *f) float64 { return p.Toe }},
		{"half-track", "half_track_m", "m", func(p *f) float64 { return p.HalfTrack }},
		{"roll centre", "roll_centre_m", "m", func(p *f) float64 { return p.RollCentre }},
		{"caster", "caster_rad", "rad", func(p *f) float64 { return given(p.HasSteer, p.Caster) }},
		{"scrub radius", "scrub_m", "m", func(p *f) float64 { return given(p.HasSteer, p.Scrub) }},
		{"trail", "trail_m", "m", func(p *f) float64 { return given(p.HasSteer, p.Trail) }},
		{"brake support", "brake_support_rad", "rad", func(p *f) float64 { return p.BrakeSupport }},
		{"drive support", "drive_support_rad", "rad", func(p *f) float64 { return p.DriveSupport }},
		{"jacking angle", "jacking_rad", "rad", func(p *f) float64 { return p.Jacking }},
		{"", "spring_travel_m", "m", func(p *f) float64 { return given(p.Spring.Known, p.Spring.Travel) }},
		{"", "spring_ratio_slope_per_m", "1/m", func(p *f) float64 { return given(p.Spring.Known, p.Spring.Slope) }},
		{"", "damper_travel_m", "m", func(p *f) float64 { return given(p.Damper.Known, p.Damper.Travel) }},
		{"", "damper_ratio_slope_per_m", "1/m", func(p *f) float64 { return given(p.Damper.Known, p.Damper.Slope) }},
		{"", "bar_travel_m", "m", func(p *f) float64 { return given(p.Bar.Known, p.Bar.Travel) }},
		{"", "bar_ratio_slope_per_m", "1/m", func(p *f) float64 { return given(p.Bar.Known, p.Bar.Slope) }},
		{"", "camber_gain_rad_per_m", "rad/m", func(p *f) float64 { return p.CamberGain }},
		{"", "bump_steer_rad_per_m", "rad/m", func(p *f) float64 { return p.BumpSteer }},
		{"", "inclination_rad", "rad", func(p *f) float64 { return given(p.HasSteer, p.Inclination) }},
		{"", "hub_offset_m", "m", func(p *f) float64 { return given(p.HasSteer, p.HubOffset) }},
	}
}

// Figure is a number in the reader's unit without it; Label is that unit.
func (t *Teller) Figure(si string, v float64) string {
	if si == Stress && t.System != quantity.Imperial {
		return quantity.Shown(quantity.Ratio, t.System).Number(v/quantity.Megapascal, 0)
	}
	if si == Stress {
		si = "Pa"
	}
	if si == Part {
		u := unitOf("front-share", "1", t.System)
		return u.number(v, u.digits)
	}
	if si == Sideways {
		u := unitOf("stop-contact-acceleration", "m/s^2", t.System)
		return u.number(v, u.digits)
	}
	u := unitOf("", si, t.System)
	digits := u.digits
	if si == "rad" {
		digits = 2
	}
	if si == "1" {
		digits = 3
	}
	return u.number(v, digits)
}

// Label is the reader's unit of an SI unit; empty for a pure number.
func (t *Teller) Label(si string) string {
	switch {
	case si == Stress && t.System != quantity.Imperial:
		return "N/mm²"
	case si == Stress:
		si = "Pa"
	case si == Part:
		return unitOf("front-share", "1", t.System).label
	case si == Sideways:
		return unitOf("stop-contact-acceleration", "m/s^2", t.System).label
	}
	return unitOf("", si, t.System).label
}

// Stress stands for a pressure in a solid, which people read in N/mm², a million
// pascals, and not in bar.
const Stress = "stress"

// Part stands for a pure number that people read in per cent, Sideways for an
// acceleration that they count in g.
const Part, Sideways = "part", "sideways"

// BarHoleColumns are an adjustable bar, hole by hole.
func BarHoleColumns() []Column[study.BarHole] {
	type h = study.BarHole
	return []Column[h]{
		{"rate", "rate_n_per_m", "N/m", func(p *h) float64 { return p.Rate }},
		{"bar's share", "bar_share", Part, func(p *h) float64 { return p.BarShare }},
		{"front stiff", "front_roll_share", Part, func(p *h) float64 { return p.FrontRoll }},
		{"roll", "roll_gradient_rad_s2_per_m", "rad/(m/s^2)", func(p *h) float64 { return p.Gradient }},
		{"front transfer", "front_transfer_share", Part, func(p *h) float64 { return p.FrontTransfer }},
		{"understeer", "understeer_rad_s2_per_m", "rad/(m/s^2)", func(p *h) float64 { return p.Understeer }},
		{"stop met", "stop_contact_m_s2", Sideways, func(p *h) float64 { return p.Contact }},
		{"", "wheel_rate_n_per_m", "N/m", func(p *h) float64 { return p.Wheel }},
		{"", "roll_stiffness_nm_per_rad", "N m/rad", func(p *h) float64 { return p.RollStiffness }},
		{"", "preload_n", "N", func(p *h) float64 { return p.Preload }},
	}
}

// BarHole names a hole in a table.
func (t *Teller) BarHole(h *study.BarHole) string {
	if h.Used {
		return h.ID + ", in use"
	}
	return h.ID
}

// BarHoles heads the table of an axle's holes.
func (t *Teller) BarHoles(axle string) string {
	return upper(axle) + " bar, hole by hole: its rate at the drop links, its share of its axle's roll stiffness, the front's share of the whole, roll, front share of lateral load transfer at 0.5 g, understeer in a corner and where the axle first meets a stop"
}

func (t *Teller) length(v float64) string { return t.Amount("", "m", v) }

func (t *Teller) degrees(v float64) string { return t.Figure("rad", v) + " " + t.Label("rad") }

// Lock says where a linkage ends.
func (t *Teller) Lock(lock *linkage.LockError) string {
	return fmt.Sprintf("The linkage locks at %s of wheel travel: %s stand in line there.", t.length(lock.Reached), spoken(lock.Points))
}

// spoken is a list of names as they are said.
func spoken(names []string) string {
	all := make([]string, len(names))
	for i, n := range names {
		all[i] = strings.ReplaceAll(n, "-", " ")
	}
	if len(all) < 2 {
		return strings.Join(all, "")
	}
	return strings.Join(all[:len(all)-1], ", ") + " and " + all[len(all)-1]
}

// LinkageSentences say what matters of a linkage at its zero height.
func (t *Teller) LinkageSentences(p *linkage.Figures) []string {
	var out []string
	if p.Spring.Known {
		way := "rises"
		if p.Spring.Slope < 0 {
			way = "falls"
		}
		out = append(out, fmt.Sprintf("At travel 0 the spring moves %s for 1 of the wheel, and its ratio %s by %s over %s of bump.",
			t.Figure("1", p.Spring.Ratio), way, t.Figure("1", math.Abs(p.Spring.Slope)*0.05), t.length(0.05)))
	}
	out = append(out, fmt.Sprintf("Over %s of bump camber changes by %s and toe by %s a wheel; toe-in and top outward are positive.",
		t.length(0.03), t.degrees(p.CamberGain*0.03), t.degrees(p.BumpSteer*0.03)))
	return out
}

// Realignment says what a change did to the wheel's angles and what is due.
func (t *Teller) Realignment(what string, was, is *linkage.Figures) []string {
	camber, toe := is.Camber-was.Camber, is.Toe-was.Toe
	out := []string{fmt.Sprintf("%s: camber %s (%s), toe-in %s a wheel (%s), half-track %s (%s), roll centre %s (%s).",
		what, t.degrees(is.Camber), t.signed(camber), t.degrees(is.Toe), t.signed(toe),
		t.length(is.HalfTrack), t.more(is.HalfTrack-was.HalfTrack), t.length(is.RollCentre), t.more(is.RollCentre-was.RollCentre))}
	if is.Spring.Known && was.Spring.Known {
		out = append(out, fmt.Sprintf("Spring ratio %s, before %s.", t.Figure("1", is.Spring.Ratio), t.Figure("1", was.Spring.Ratio)))
	}
	if math.Abs(toe) > 0.0005 {
		out = append(out, "Set the toe again.")
	}
	return out
}

func (t *Teller) signed(v float64) string { return plus(v) + t.degrees(v) }

func (t *Teller) more(v float64) string { return plus(v) + t.length(v) }

func plus(v float64) string {
	if v > 0 {
		return "+"
	}
	return ""
}

// Moved says what matters of a linkage that was moved.
func (t *Teller) Moved(m *axles.Moved) []string {
	var out []string
	for _, lock := range []*linkage.LockError{m.Curves.Low, m.Curves.High} {
		if lock != nil {
			out = append(out, t.Lock(lock))
		}
	}
	out = append(out, t.LinkageSentences(&m.Home)...)
	if !m.Home.HasSteer {
		out = append(out, "Nothing of this axle is steered: caster, inclination, scrub radius and trail do not apply.")
	}
	out = append(out, t.Supports(m)...)
	if c := m.Asked; c != nil {
		var lock *linkage.LockError
		switch {
		case errors.As(c.Err, &lock):
			out = append(out, t.Lock(lock))
		case c.Err == nil:
			out = append(out, t.Realignment("With what was changed", &c.Was, &c.Is)...)
			if !math.IsNaN(c.Rod) && math.Abs(c.Rod) > 1e-5 {
				out = append(out, fmt.Sprintf("The toe is back where it was with the tie rod %s longer.", t.length(c.Rod)))
			}
		}
	}
	return out
}

// SupportNames are what the links' support of an axle is called, under braking and under
// power.
func SupportNames(axle int) (brake, drive string) {
	if axle == car.Rear {
		return "anti-lift under braking", "anti-squat"
	}
	return "anti-dive", "anti-lift under power"
}

// Supports say how much of what braking and power move the links carry past the
// springs at travel 0.
func (t *Teller) Supports(m *axles.Moved) []string {
	brake, drive := SupportNames(m.Support.Axle)
	s := &m.Support
	how := ""
	if s.Estimated {
		how = ", an estimate"
	}
	driven := "were this axle alone driven"
	if s.DriveGiven {
		driven = fmt.Sprintf("with %.0f %% of the driving force here", s.DriveShare/quantity.Percent)
	}
	if s.DriveGiven && s.DriveShare == 0 {
		return []string{fmt.Sprintf("At travel 0: %s %.0f %%, with %.0f %% of the braking force here%s.", brake, s.Brake(&m.Home)/quantity.Percent, s.BrakeShare/quantity.Percent, how)}
	}
	return []string{fmt.Sprintf("At travel 0: %s %.0f %%, with %.0f %% of the braking force here%s; %s %.0f %%, %s. Negative makes it worse.",
		brake, s.Brake(&m.Home)/quantity.Percent, s.BrakeShare/quantity.Percent, how, drive, s.Drive(&m.Home)/quantity.Percent, driven)}
}

// MotionColumns are a measured motion table beside the points.
func MotionColumns() []Column[axles.MotionRow] {
	type r = axles.MotionRow
	return []Column[r]{
		{"wheel travel", "travel_m", "m", func(p *r) float64 { return p.Travel }},
		{"measured", "measured_m", "m", func(p *r) float64 { return p.Measured }},
		{"as used", "fitted_m", "m", func(p *r) float64 { return p.Fitted }},
		{"from points", "computed_m", "m", func(p *r) float64 { return p.Computed }},
		{"difference", "difference_m", "m", func(p *r) float64 { return p.Measured - p.Computed }},
	}
}

// Disagreement says how far a measured table and the points are apart, and which
// is used.
func (t *Teller) Disagreement(m *axles.MotionTable) string {
	if m.Worst < 0 {
		return fmt.Sprintf("The measured table of the %s is used; it cannot be compared: the points give no travel there.", m.Part)
	}
	d := &m.Rows[m.Worst]
	text := fmt.Sprintf("The measured table of the %s is used. It differs from the points by %s at most, at %s of wheel travel (%s measured, %s from the points).",
		m.Part, t.length(math.Abs(d.Measured-d.Computed)), t.length(d.Travel), t.length(d.Measured), t.length(d.Computed))
	if !math.IsNaN(m.TableRatio) && !math.IsNaN(m.PointsRatio) {
		text += fmt.Sprintf(" At travel 0 its ratio is %s by the table and %s by the points.", t.Figure("1", m.TableRatio), t.Figure("1", m.PointsRatio))
	}
	return text
}
