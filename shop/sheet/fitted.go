package sheet

import (
	"strconv"
	"strings"

	"trunnion/chassis/car"
	"trunnion/chassis/figure"
	"trunnion/shop/quantity"
	"trunnion/shop/wording"
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
	corners := func(label string, text func(p *car.BuildCorner) string) {
		row(label, func(a int) string {
			return wording.Sides(text(&m.build.Corner[2*a]), text(&m.build.Corner[2*a+1]), "none")
		})
	}
	corners("springs", func(p *car.BuildCorner) string { return m.spring(p.Spring) })
	corners("helpers", func(p *car.BuildCorner) string { return m.spring(p.Helper) })
	corners("dampers", func(p *car.BuildCorner) string { return m.damper(p.Damper) })
	row("serial numbers", func(a int) string {
		l, r := &m.build.Corner[2*a], &m.build.Corner[2*a+1]
		if l.Serial == "" && r.Serial == "" {
			return wording.Sides(or(stamped(l), "not entered"), or(stamped(r), "not entered"), "")
		}
		return "left " + or(l.Serial, "not entered") + ", right " + or(r.Serial, "not entered")
	})
	corners("bump stops", func(p *car.BuildCorner) string {
		if p.Stop == nil {
			return ""
		}
		text := ""
		if l := p.Stop.Length; l.Known() {
			text += ", " + m.length(&l) + " long"
		}
		if p.Packer.Known() && p.Packer.Value != 0 {
			text += ", packer " + m.length(&p.Packer)
		}
		return called(p.Stop.ID, text)
	})
	corners("top mounts", func(p *car.BuildCorner) string {
		if p.Mount == nil {
			return ""
		}
		return called(p.Mount.ID, p.Mount.Kind)
	})
	corners("platforms", func(p *car.BuildCorner) string {
		pl := p.Platform
		if pl == nil {
			return ""
		}
		text := ""
		if pl.Pitch.Known() {
			text += ", " + quantity.Format(pl.Pitch.Value, quantity.Length, m.System, 2) + " a turn"
		}
		if pl.From != "" {
			text += ", counted from " + pl.From
		}
		return called(pl.ID, text)
	})
	row("tyres", func(a int) string { return m.hand.Tyres[a].Size })
	row("bar hole", func(a int) string { return m.build.Setup.BarHole[a] })
	return Part{Table: t}
}

// stamped is the serial number of a damper that stands for one piece.
func stamped(p *car.BuildCorner) string {
	if p.Damper == nil {
		return ""
	}
	return p.Damper.Serial
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
	text := ""
	if s.Rate.Known() {
		text += ", " + quantity.Format(s.Rate.Value, quantity.Stiffness, m.System, quantity.Auto)
	}
	if s.RateTo.Known() {
		text += " to " + quantity.Format(s.RateTo.Value, quantity.Stiffness, m.System, quantity.Auto)
	}
	if s.Free.Known() {
		text += ", " + m.length(&s.Free) + " free"
	}
	return called(s.ID, text)
}

// called is a part by what it is; by its name in the job where nothing else is known of it.
func called(id, text string) string {
	return or(strings.TrimPrefix(text, ", "), spaced(id))
}

func (m *maker) damper(d *car.DamperSpec) string {
	if d == nil {
		return ""
	}
	text := ""
	if d.Construction != "" {
		text += ", " + spaced(d.Construction)
	}
	if d.Open.Known() && d.Closed.Known() {
		text += ", " + m.length(&d.Open) + " open, " + m.length(&d.Closed) + " closed"
	}
	if d.ClickMost > 0 {
		text += ", " + strconv.Itoa(d.ClickMost) + " clicks"
	}
	return called(d.ID, text)
}
