package sheet

import (
	"math"
	"strings"

	"trunnion/chassis/figure"
	"trunnion/shop/drawing"
	"trunnion/shop/quantity"
	"trunnion/shop/wording"
)

// strips draws the travel of each wheel as it leaves, with where it stood before.
func (m *maker) strips() Part {
	is := drawing.Strips(m.Answer, m.build.ID, m.Load)
	if !is[0].Known {
		return Part{}
	}
	unit := quantity.Shown(quantity.Length, m.System)
	at := func(v float64) *float64 {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return nil
		}
		x := unit.FromSI(v)
		return &x
	}
	low, high := drawing.Scale(is)
	s := &Strips{Unit: unit.Label(), Low: *at(low), High: *at(high)}
	for i := range is {
		if arch := at(is[i].Arch); arch != nil {
			s.High = math.Max(s.High, *arch)
		}
	}
	var was [4]drawing.Strip
	if m.before != nil && m.before != m.build {
		was = drawing.Strips(m.Answer, m.before.ID, m.Load)
	}
	for i := range is {
		d := &is[i]
		c := Strip{
			Name: wording.Upper(spaced(figure.CornerNames[i])), Open: at(d.Open), Loose: at(d.Loose), Touch: at(d.Touch), Firm: at(d.Firm), Solid: at(d.Solid),
			Closed: at(d.Closed), Arch: at(d.Arch), Rest: at(d.Rest), RestLow: at(d.RestLow), RestHigh: at(d.RestHigh),
			Bump: m.bare("travel-to-stop", i), Droop: m.bare("travel-to-open", i),
		}
		if was[i].Known {
			c.Before = at(was[i].Rest)
		}
		s.Corners[i] = c
	}
	s.Note = unit.Label() + " at the wheel, bump upward, " + m.aboard(m.Load) +
		". Thick line: height at rest, with its band; above it the bump travel to the stop, below it the rebound travel left. Dots: in the stop. Hatched: spring loose."
	if m.before != m.build {
		s.Note += " Small ring: height at rest as it arrived."
	}
	return Part{Strips: s}
}

// bare is a figure without unit and band.
func (m *maker) bare(code string, corner int) string {
	v := m.get(code, m.build.ID, m.Load, corner)
	if v == nil {
		return quantity.Nothing
	}
	unit := quantity.Shown(quantity.Length, m.System)
	digits := 0
	if m.System == quantity.Imperial {
		digits = 2
	}
	return strings.TrimSpace(unit.Number(wording.Sided(code, v.Value), digits) + " " + wording.Side(code, v.Value))
}

// travel is the travel of each corner in figures, and what is met first.
func (m *maker) travel() Part {
	full := m.fullest()
	t := &Table{Columns: []string{"At the wheel", "front left", "front right", "rear left", "rear right"}}
	row := func(more, code, load string) {
		cells := []string{wording.Name(code) + more}
		known := false
		for i := range 4 {
			v := m.get(code, m.build.ID, load, i)
			known = known || v != nil
			if v == nil {
				cells = append(cells, notKnown)
			} else {
				cells = append(cells, m.tell.Value(v))
			}
		}
		if known {
			t.Rows = append(t.Rows, cells)
		}
	}
	row("", "travel-to-stop", m.Load)
	row("", "travel-to-stop-firm", m.Load)
	if full != m.Load {
		row(", "+wording.Lower(m.tell.Load(full)), "travel-to-stop", full)
	}
	row("", "travel-to-open", m.Load)
	row("", "spring-gap-open", m.Load)
	cells := []string{"met first in bump"}
	for i := range 4 {
		cells = append(cells, m.first(i))
	}
	t.Rows = append(t.Rows, cells)
	return Part{Table: t}
}

// first is what a wheel meets first in bump: its stop, unless tyre or coils come
// before the stop is solid.
func (m *maker) first(corner int) string {
	touch := m.get("travel-to-stop", m.build.ID, m.Load, corner)
	if touch == nil {
		return notKnown
	}
	best, at := "stop", touch.Value
	for _, other := range []struct{ code, name string }{{"travel-to-arch", "tyre to arch"}, {"travel-to-block", "coils"}, {"travel-to-closed", "metal in the damper"}} {
		if v := m.get(other.code, m.build.ID, m.Load, corner); v != nil && v.Value < at {
			best, at = other.name, v.Value
		}
	}
	if best != "stop" {
		return best
	}
	solid := m.get("travel-to-solid", m.build.ID, m.Load, corner)
	for _, other := range []struct{ code, name string }{{"travel-to-arch", "stop, then tyre to arch"}, {"travel-to-block", "stop, then coils"}} {
		if v := m.get(other.code, m.build.ID, m.Load, corner); v != nil && solid != nil && v.Value < solid.Value {
			best = other.name
		}
	}
	return best
}
