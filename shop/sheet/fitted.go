package sheet

import (
	"strconv"
	"strings"

	"trunnion/chassis/car"
	"trunnion/chassis/figure"
	"trunnion/shop/quantity"
)

// fitted is what the build put onto the car.
func (m *maker) fitted() Part {
	t := &Table{Columns: []string{"part", "front", "rear"}, Wide: []int{1, 2}}
	row := func(label string, text func(a int) string) {
		cells := []string{label, text(0), text(1)}
		if cells[1] != "" || cells[2] != "" {
			t.Rows = append(t.Rows, cells)
		}
	}
	axle := func(a int) *car.BuildCorner { return &m.build.Corner[2*a] }
	row("springs", func(a int) string { return m.spring(axle(a).Spring) })
	row("helpers", func(a int) string { return m.spring(axle(a).Helper) })
	row("dampers", func(a int) string { return m.damper(axle(a).Damper) })
	row("serial numbers", func(a int) string {
		s := [2]string{m.build.Corner[2*a].Serial, m.build.Corner[2*a+1].Serial}
		if s[0] == "" && s[1] == "" {
			if d := axle(a).Damper; d != nil && d.Serial != "" {
				return d.Serial
			}
			return "not written down"
		}
		return "left " + or(s[0], "not written down") + ", right " + or(s[1], "not written down")
	})
	row("bump stops", func(a int) string {
		if axle(a).Stop == nil {
			return ""
		}
		text := axle(a).Stop.ID
		if l := axle(a).Stop.Length; l.Known() {
			text += ", " + m.length(&l) + " long"
		}
		if p := axle(a).Packer; p.Known() && p.Value != 0 {
			text += ", packer " + m.length(&p)
		}
		return text
	})
	row("top mounts", func(a int) string {
		if axle(a).Mount == nil {
			return ""
		}
		return strings.TrimSpace(axle(a).Mount.ID + ", " + axle(a).Mount.Kind)
	})
	row("platforms", func(a int) string {
		p := axle(a).Platform
		if p == nil {
			return ""
		}
		text := p.ID
		if p.Pitch.Known() {
			text += ", " + quantity.Format(p.Pitch.Value, quantity.Length, m.System, 2) + " a turn"
		}
		if p.From != "" {
			text += ", counted from " + p.From
		}
		return text
	})
	row("tyres", func(a int) string { return m.hand.Tyres[a].Size })
	row("bar hole", func(a int) string { return m.build.Setup.BarHole[a] })
	return Part{Table: t}
}

func or(text, otherwise string) string {
	if text == "" {
		return otherwise
	}
	return text
}

func (m *maker) length(in *figure.Input) string {
	return quantity.Format(in.Value, quantity.Length, m.System, 0)
}

func (m *maker) spring(s *car.SpringSpec) string {
	if s == nil {
		return ""
	}
	text := s.ID
	if s.Rate.Known() {
		text += ", " + quantity.Format(s.Rate.Value, quantity.Stiffness, m.System, quantity.Auto)
	}
	if s.RateTo.Known() {
		text += " to " + quantity.Format(s.RateTo.Value, quantity.Stiffness, m.System, quantity.Auto)
	}
	if s.Free.Known() {
		text += ", " + m.length(&s.Free) + " free"
	}
	return text
}

func (m *maker) damper(d *car.DamperSpec) string {
	if d == nil {
		return ""
	}
	text := d.ID
	if d.Construction != "" {
		text += ", " + spaced(d.Construction)
	}
	if d.Open.Known() && d.Closed.Known() {
		text += ", " + m.length(&d.Open) + " open, " + m.length(&d.Closed) + " closed"
	}
	if d.ClickMost > 0 {
		text += ", " + strconv.Itoa(d.ClickMost) + " clicks"
	}
	return text
}
