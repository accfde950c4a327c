package sheet

import "codeberg.org/go-pdf/fpdf"

// plan draws the car from above, front up, with what stands at each corner beside
// its wheel and the cross weight on its diagonal.
func (p *page) plan(d *Plan, x, y, w float64, dry bool) float64 {
	const carWide = 24.0
	side := (w - carWide) / 2
	label := 13.0
	corner := func(i int, x, y float64, dry bool) float64 {
		y = p.put(x, y, side-2, d.Corners[i].Name, "B", sizeBody, dry)
		for _, l := range d.Corners[i].Lines {
			style := ""
			if l.Label == "height" || l.Label == "load" {
				style = "B"
			}
			if !dry {
				p.line(x, y, label, l.Label, "", sizeSmall, false)
			}
			y = p.put(x+label, y, side-2-label, l.Text, style, sizeSmall+0.6, dry)
		}
		return y
	}
	front := max(corner(0, 0, 0, true), corner(1, 0, 0, true))
	rear := max(corner(2, 0, 0, true), corner(3, 0, 0, true))
	gap := 4.0
	rearTop := y + max(front+gap, 26)
	right := x + side + carWide + 2
	bottom := rearTop + max(rear, 14)
	if !dry {
		corner(0, x, y, false)
		corner(1, right, y, false)
		corner(2, x, rearTop, false)
		corner(3, right, rearTop, false)
		left := x + side
		p.body(left, y, carWide, bottom-y)
		wheel := [4]fpdf.PointType{{X: left + 2.2, Y: y + 9}, {X: left + carWide - 2.2, Y: y + 9}, {X: left + 2.2, Y: bottom - 9}, {X: left + carWide - 2.2, Y: bottom - 9}}
		a, b := wheel[d.Diagonal[0]], wheel[d.Diagonal[1]]
		p.SetLineWidth(0.35)
		p.SetDashPattern([]float64{1.4, 0.9}, 0)
		p.Line(a.X, a.Y, b.X, b.Y)
		p.SetDashPattern(nil, 0)
		for _, c := range wheel {
			p.SetFillColor(60, 60, 60)
			p.RoundedRect(c.X-1.7, c.Y-4, 3.4, 8, 0.8, "1234", "F")
		}
		// The figure stands on its line, on paper left white.
		p.font("B", sizeBody)
		set, _ := letters(d.Cross)
		half := p.GetStringWidth(set) / 2
		midX, midY := (a.X+b.X)/2, (a.Y+b.Y)/2
		p.SetFillColor(255, 255, 255)
		p.Rect(midX-half-0.8, midY-2.9, 2*half+1.6, 5.6, "F")
		p.line(midX-half, midY-2.8, 2*half+2, d.Cross, "B", sizeBody, false)
		p.line(midX-4, midY, 12, "cross", "", sizeSmall-0.8, false)
	}
	y = bottom + 1.2
	text := ""
	for i, t := range d.Totals {
		if i > 0 {
			text += " · "
		}
		text += t.Label + " " + t.Text
	}
	y = p.put(x, y, w, text, "B", sizeSmall+0.6, dry)
	return p.put(x, y, w, d.Note, "I", sizeSmall-0.3, dry)
}

// body is the outline of a car from above with its nose marked.
func (p *page) body(x, y, w, h float64) {
	p.SetLineWidth(0.3)
	p.RoundedRect(x+3.2, y, w-6.4, h, 5, "1234", "D")
	p.SetLineWidth(0.2)
	p.Line(x+6, y+h*0.27, x+w-6, y+h*0.27)
	p.line(x+w/2-4, y+1.4, 12, "front", "", sizeSmall-0.6, false)
}

// strips draws the four travel strips where the four wheels stand.
func (p *page) strips(d *Strips, x, y, w float64, dry bool) float64 {
	tall := 38.0 * p.scale
	wide := 11.0
	gap := 6.0
	if !dry && d.High > d.Low {
		for i := range d.Corners {
			left := x + w*0.25 - wide/2
			if i%2 == 1 {
				left = x + w*0.75 - wide/2
			}
			top := y
			if i >= 2 {
				top += tall + gap
			}
			p.strip(&d.Corners[i], d, left, top, wide, tall)
		}
	}
	y += 2*tall + gap + 4.4
	return p.put(x, y, w, d.Note, "I", sizeSmall-0.3, dry)
}

func (p *page) strip(c *Strip, d *Strips, x, y, w, h float64) {
	at := func(v float64) float64 { return y + h*(d.High-v)/(d.High-d.Low) }
	band := func(from, to *float64) (top, height float64, ok bool) {
		if from == nil || to == nil || *to <= *from {
			return 0, 0, false
		}
		return at(*to), at(*from) - at(*to), true
	}
	p.SetLineWidth(0.2)
	if top, height, ok := band(c.Touch, first(c.Solid, c.Closed)); ok {
		p.dots(x, top, w, height)
		p.Rect(x, top, w, height, "D")
	}
	if top, height, ok := band(first(c.Solid, c.Touch), c.Closed); ok {
		p.SetFillColor(90, 90, 90)
		p.Rect(x, top, w, height, "FD")
	}
	if top, height, ok := band(c.Open, c.Loose); ok {
		p.hatch(x, top, w, height)
	}
	if top, height, ok := band(c.Open, first(c.Closed, c.Solid, c.Touch)); ok {
		p.Rect(x, top, w, height, "D")
	}
	if c.Arch != nil && *c.Arch <= d.High {
		p.SetDashPattern([]float64{1.2, 0.6, 0.3, 0.6}, 0)
		p.Line(x-2, at(*c.Arch), x+w+2, at(*c.Arch))
		p.SetDashPattern(nil, 0)
		p.line(x+w+2.4, at(*c.Arch)-1.4, 9, "arch", "", sizeSmall-1, false)
	}
	if c.Before != nil {
		p.SetLineWidth(0.2)
		p.Circle(x+w+3.2, at(*c.Before), 0.9, "D")
	}
	if c.Rest != nil {
		if c.RestLow != nil && c.RestHigh != nil {
			p.SetFillColor(190, 190, 190)
			p.Rect(x-1.2, at(*c.RestHigh), w+2.4, at(*c.RestLow)-at(*c.RestHigh), "F")
		}
		p.SetLineWidth(0.9)
		p.Line(x-2.4, at(*c.Rest), x+w+2.4, at(*c.Rest))
		p.line(x-13, at(*c.Rest)-4.4, 10, c.Bump, "B", sizeHead, true)
		p.line(x-13, at(*c.Rest)+0.7, 10, c.Droop, "B", sizeHead, true)
	}
	p.line(x-4, y+h+0.5, 30, c.Name, "", sizeSmall, false)
}

func first(list ...*float64) *float64 {
	for _, v := range list {
		if v != nil {
			return v
		}
	}
	return nil
}

// dots and hatch are patterns that survive a copier.
func (p *page) dots(x, y, w, h float64) {
	p.ClipRect(x, y, w, h, false)
	p.SetFillColor(0, 0, 0)
	for row := 0; float64(row)*1.1 < h+1.1; row++ {
		for col := 0; float64(col)*1.5 < w+1.5; col++ {
			p.Circle(x+0.4+float64(col)*1.5+0.75*float64(row%2), y+0.4+float64(row)*1.1, 0.17, "F")
		}
	}
	p.ClipEnd()
}

func (p *page) hatch(x, y, w, h float64) {
	p.ClipRect(x, y, w, h, false)
	p.SetLineWidth(0.15)
	for at := -h; at < w; at += 1.3 {
		p.Line(x+at, y+h, x+at+h, y)
	}
	p.ClipEnd()
	p.Rect(x, y, w, h, "D")
}
