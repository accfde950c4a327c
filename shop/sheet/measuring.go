package sheet

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"codeberg.org/go-pdf/fpdf"

	"trunnion/shop/jobfile"
	"trunnion/shop/measuring"
	"trunnion/shop/quantity"
)

// Measuring is what a measuring sheet is made of: what a job still lacks, with drawings, and
// boxes to write in.
type Measuring struct {
	Title, Owner, Number, Workshop, Program, Printed string
	Todo                                             []measuring.Todo
}

// MeasuringOf is the measuring sheet of a job's text, which need not be complete.
func MeasuringOf(text []byte, system quantity.System, program, printed string) *Measuring {
	said := func(path string) string {
		for _, f := range jobfile.Fields(text) {
			if f.Path == path {
				return f.Typed
			}
		}
		return ""
	}
	return &Measuring{
		Title: said("car.name"), Owner: said("job.owner"), Number: said("job.number"), Workshop: said("job.workshop"),
		Program: program, Printed: printed, Todo: measuring.ToMeasure(text, system),
	}
}

// before is what is looked at before a tape is laid on. Common practice, no source.
var before = []string{"tyres at pressure", "fuel noted", "rolled and bounced", "handbrake off", "doors shut"}

const (
	boxTall    = 8.2  // of a box for a thick pencil [mm]
	sketchWide = 30.0 // width of a drawing [mm]
	notesOff   = 0.86 // type size under which notes are left out, before a box is: common practice, no source
	tableRow   = 6    // rows of an empty table
)

// WriteMeasuringPDF writes a measuring sheet on two pages of A4 or Letter, in black and
// white: boxes keep their size; notes go first, then the cards that take longest, which
// the sheet names.
func WriteMeasuringPDF(w io.Writer, m *Measuring, paper Paper) error {
	if paper != A4 && paper != Letter {
		return fmt.Errorf("sheet: paper is a4 or letter, not %q", paper)
	}
	todo := m.Todo
	var out []string
	for scale := 1.0; ; {
		p := newPage(&Sheet{Title: "Measuring sheet, " + m.Title, Number: m.Number, Printed: m.Printed, Program: m.Program}, paper, nil, scale)
		p.setMeasuring(m, todo, out, scale > notesOff)
		if err := p.Error(); err != nil {
			return fmt.Errorf("sheet: %w", err)
		}
		switch {
		case p.PageCount() <= 2 || len(todo) == 1:
			return p.Output(w)
		case scale-0.04 >= smallest:
			scale -= 0.04
		default:
			longest := 0
			for i := range todo {
				if todo[i].Minutes >= todo[longest].Minutes {
					longest = i
				}
			}
			out = append(out, todo[longest].Title)
			todo = append(append([]measuring.Todo{}, todo[:longest]...), todo[longest+1:]...)
		}
	}
}

func (p *page) setMeasuring(m *Measuring, todo []measuring.Todo, out []string, notes bool) {
	drawings := map[string]*measuring.Drawing{}
	list := measuring.Drawings()
	for i := range list {
		drawings[list[i].ID] = &list[i]
	}
	pages := 0
	foot := func() {
		p.rule(margin, p.bottom+1.5, p.width, 0.15)
		text := "Take a reading again that differs by more than 2 mm. Type the figures in the order of the numbers, on the pages Car and Parts."
		if len(out) > 0 {
			text = "Not on this sheet: " + strings.Join(out, ", ") + ". " + text
		}
		p.line(margin, p.bottom+2.2, p.width*0.9, text, "", 6.8, false)
		p.line(margin, p.bottom+2.2, p.width, fmt.Sprintf("page %d", pages), "", 6.8, true)
	}
	next := func() {
		if pages > 0 {
			foot()
		}
		p.AddPage()
		pages++
	}
	p.bottom -= 4
	next()
	y := p.put(margin, margin, p.width, "Measuring sheet", "B", sizeTitle, false)
	const written = "date ______________  by ______________________"
	p.font("", sizeHead)
	room := p.width - p.GetStringWidth(written) - 4 // a long name goes on below, not under the date
	p.line(margin, y, p.width, written, "", sizeHead, true)
	y = p.put(margin, y, room, joined(m.Title, m.Owner, "job "+m.Number, m.Workshop), "", sizeHead, false) + 1
	p.rule(margin, y, p.width, 0.8)
	p.line(margin, y+1, p.width, "Before the tape:   □ "+strings.Join(before, "    □ "), "", sizeBody, false)
	y += p.leading(sizeBody) + 2.5
	if len(todo) == 0 {
		p.put(margin, y, p.width, "Nothing is lacking: every reading of this job is typed.", "", sizeHead, false)
		foot()
		return
	}
	var blocks []block
	group := ""
	for i := range todo {
		t, number, head := &todo[i], i+1, todo[i].Group != group
		group = t.Group
		blocks = append(blocks, block{1, func(p *page, x, y, w float64, dry bool) float64 {
			if head {
				y = p.group(t.Group, todo, x, y, w, dry)
			}
			return p.todo(t, number, drawings[t.Drawing], notes, x, y, w, dry)
		}})
	}
	p.fill(y, blocks, next)
	foot()
}

func joined(parts ...string) string {
	var out []string
	for _, part := range parts {
		if strings.TrimSpace(part) != "" && part != "job " {
			out = append(out, part)
		}
	}
	return strings.Join(out, " · ")
}

// fill sets blocks down one column after the other: the order of work is the order of the
// figures.
func (p *page) fill(top float64, blocks []block, next func()) {
	col := (p.width - gutter) / 2
	k, y := 0, top
	for _, b := range blocks {
		h := b.draw(p, 0, 0, col, true)
		if y+h > p.bottom && y > top {
			if k++; k > 1 {
				next()
				k, top = 0, margin
			}
			y = top
		}
		y = b.draw(p, margin+float64(k)*(col+gutter), y, col, false) + between
	}
}

// group is the bar over what is read in one go, with its minutes and what a hand has to know.
func (p *page) group(id string, todo []measuring.Todo, x, y, w float64, dry bool) float64 {
	minutes := 0
	for i := range todo {
		if todo[i].Group == id {
			minutes += todo[i].Minutes
		}
	}
	title, note := id, ""
	for _, g := range measuring.Groups() {
		if g.ID == id {
			title, note = g.Title, g.Note
		}
	}
	tall := p.leading(sizeHead) + 1.6
	if !dry {
		p.SetFillColor(0, 0, 0)
		p.Rect(x, y, w, tall, "F")
		p.SetTextColor(255, 255, 255)
		p.line(x+2, y+0.8, w-30, title, "B", sizeHead, false)
		p.line(x, y+0.8, w-2, strconv.Itoa(minutes)+" min", "", sizeHead, true)
		p.SetTextColor(0, 0, 0)
	}
	y += tall + 1.2
	if note != "" {
		y = p.put(x, y, w, "Safety: "+note, "B", sizeSmall, dry) + 1
	}
	return y
}

// todo is one card: its number, drawing, boxes and notes.
func (p *page) todo(t *measuring.Todo, number int, d *measuring.Drawing, notes bool, x, y, w float64, dry bool) float64 {
	tool := t.Tool
	if t.Minutes > 0 {
		tool += "  " + strconv.Itoa(t.Minutes) + " min"
	}
	p.font("", sizeSmall)
	room := w - p.GetStringWidth(tool) - 3
	if !dry {
		p.line(x, y, w, tool, "", sizeSmall, true)
	}
	y = p.put(x, y, room, strconv.Itoa(number)+"  "+t.Title+"  "+t.Unit, "B", sizeHead, dry) + 0.6
	left := x
	low := y
	if d != nil {
		if !dry {
			p.drawing(d, x, y+2, sketchWide)
		}
		left, low = x+sketchWide+2, y+2+sketchWide*d.Height/d.Width
	}
	end := p.boxes(t, left, y, x+w-left, dry)
	for _, table := range t.Tables {
		end = p.grid(&table, left, end+1, x+w-left, dry)
	}
	y = max(end, low) + 0.8
	if notes {
		text := t.How
		if t.Watch != "" {
			text += " Watch for: " + strings.ToLower(t.Watch[:1]) + t.Watch[1:]
		}
		y = p.put(x, y, w, text, "", sizeSmall, dry)
	}
	if !dry {
		p.rule(x, y+1, w, 0.15)
	}
	return y + 1
}

// boxes are rows of boxes beside their labels; what was typed stands in its box, struck
// through with grey.
func (p *page) boxes(t *measuring.Todo, x, y, w float64, dry bool) float64 {
	if len(t.Rows) == 0 {
		return y
	}
	label := w * 0.36
	if len(t.Columns) == 1 {
		label = w * 0.45
	}
	each := (w - label) / float64(len(t.Columns))
	for k, column := range t.Columns {
		if !dry {
			p.line(x+label+float64(k)*each+1, y, each-1, column, "B", sizeSmall, false)
		}
	}
	y += p.leading(sizeSmall) + 0.4
	for _, row := range t.Rows {
		text := row.Label
		if row.Unit != "" {
			text += ", " + row.Unit
		}
		p.font("", sizeSmall)
		tall := max(boxTall, float64(len(p.lines(text, label-1)))*p.leading(sizeSmall)+1)
		if !dry {
			p.SetLineWidth(0.25)
			p.put(x, y+1, label-1, text, "", sizeSmall, false)
			wide := (w - label) / float64(max(1, len(row.Typed)))
			if len(row.Typed) == 1 && len(t.Columns) == 2 { // of the car, not of an axle
				p.Rect(x+label, y, w-label, tall, "D")
			} else {
				for k := range t.Columns {
					p.Rect(x+label+float64(k)*each, y, each, tall, "D")
				}
			}
			for k, typed := range row.Typed {
				if typed == "" {
					continue
				}
				p.SetFillColor(225, 225, 225)
				p.Rect(x+label+float64(k)*wide, y, wide, tall, "FD")
				p.line(x+label+float64(k)*wide+1, y+tall/2-1.4, wide-2, typed, "B", sizeSmall, false)
			}
		}
		y += tall
	}
	return y
}

// grid is an empty table.
func (p *page) grid(t *measuring.TodoTable, x, y, w float64, dry bool) float64 {
	each := w / float64(len(t.Columns))
	if !dry {
		for k, column := range t.Columns {
			text := column
			if k == 0 {
				text = t.Title + ": " + column
			}
			p.line(x+float64(k)*each+0.5, y, each-1, text, "B", sizeSmall, false)
		}
	}
	y += p.leading(sizeSmall) + 0.4
	const tall = 6.2
	for range tableRow {
		if !dry {
			p.SetLineWidth(0.25)
			for k := range t.Columns {
				p.Rect(x+float64(k)*each, y, each, tall, "D")
			}
		}
		y += tall
	}
	return y
}

// drawing sets a drawing of how a reading is taken, in black and grey.
func (p *page) drawing(d *measuring.Drawing, x, y, w float64) {
	f := w / d.Width
	at := func(k int, points []float64) (float64, float64) { return x + points[2*k]*f, y + points[2*k+1]*f }
	p.SetLineWidth(0.25)
	fill := func(name string) string {
		grey := map[string]int{"body": 238, "metal": 200, "rubber": 150}[name]
		if grey == 0 {
			return "D"
		}
		p.SetFillColor(grey, grey, grey)
		return "FD"
	}
	for i := range d.Shapes {
		s := &d.Shapes[i]
		n := len(s.Points) / 2
		switch s.Form {
		case "line", "tape":
			if s.Dashed {
				p.SetDashPattern([]float64{0.5, 0.5}, 0)
			}
			if s.Form == "tape" {
				p.SetLineWidth(0.5)
			}
			for k := 1; k < n; k++ {
				x0, y0 := at(k-1, s.Points)
				x1, y1 := at(k, s.Points)
				p.Line(x0, y0, x1, y1)
			}
			p.SetDashPattern(nil, 0)
			p.SetLineWidth(0.25)
			if s.Form == "tape" && n > 1 {
				p.heads(s.Points, at)
			}
		case "area":
			style := fill(s.Fill)
			pts := make([]fpdf.PointType, n)
			for k := range n {
				pts[k].X, pts[k].Y = at(k, s.Points)
			}
			p.Polygon(pts, style)
		case "circle", "dot":
			style := fill(s.Fill)
			if s.Form == "dot" {
				p.SetFillColor(0, 0, 0)
				style = "F"
			}
			cx, cy := at(0, s.Points)
			p.Circle(cx, cy, s.Radius*f, style)
		case "ground":
			x0, y0 := at(0, s.Points)
			x1 := x + s.Points[2]*f
			p.Line(x0, y0, x1, y0)
			for g := x0; g < x1-0.5; g += 1.2 {
				p.Line(g+0.8, y0, g, y0+0.9)
			}
		case "text":
			style := ""
			if s.Bold {
				style = "B"
			}
			tx, ty := at(0, s.Points)
			p.font(style, 5.4/p.scale)
			text, _ := letters(s.Text)
			if s.End {
				tx -= p.GetStringWidth(text)
			}
			p.Text(max(x, tx), ty, text)
		}
	}
}

// heads are the arrowheads and end bars of a tape.
func (p *page) heads(points []float64, at func(int, []float64) (float64, float64)) {
	x0, y0 := at(0, points)
	x1, y1 := at(1, points)
	long := math.Hypot(x1-x0, y1-y0)
	if long == 0 {
		return
	}
	ux, uy := (x1-x0)/long, (y1-y0)/long
	p.SetFillColor(0, 0, 0)
	for _, end := range [][3]float64{{x0, y0, 1}, {x1, y1, -1}} {
		bx, by := end[0]+end[2]*ux*1.3, end[1]+end[2]*uy*1.3
		p.Polygon([]fpdf.PointType{{X: end[0], Y: end[1]}, {X: bx - uy*0.5, Y: by + ux*0.5}, {X: bx + uy*0.5, Y: by - ux*0.5}}, "F")
		p.Line(end[0]-uy*0.9, end[1]+ux*0.9, end[0]+uy*0.9, end[1]-ux*0.9)
	}
}
