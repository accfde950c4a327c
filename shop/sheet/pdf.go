package sheet

import (
	"bytes"
	"fmt"
	"io"
	"net/http"
	"strings"

	"codeberg.org/go-pdf/fpdf"
)

// smallest is how far type is set smaller so that two pages hold a sheet. Below
// it nobody reads it: a third page follows instead. Chosen.
const smallest = 0.78

// WritePDF writes a sheet on one or two pages of A4 or Letter, in black and white.
func WritePDF(w io.Writer, s *Sheet, paper Paper) error {
	if paper != A4 && paper != Letter {
		return fmt.Errorf("sheet: paper is a4 or letter, not %q", paper)
	}
	for scale := 1.0; ; scale -= 0.04 {
		p := newPage(s, paper, nil, scale)
		p.set(s)
		if err := p.Error(); err != nil {
			return fmt.Errorf("sheet: %w", err)
		}
		// No caution and no note is left out to save a page: how clicks are counted, that rules
		// change and nuts are tightened again is what the sheet is for.
		if p.PageCount() <= 2 || scale-0.04 < smallest {
			return p.Output(w)
		}
	}
}

// set puts the whole sheet on pages.
func (p *page) set(s *Sheet) {
	pages := 0
	foot := func() {
		p.rule(margin, p.bottom+1.5, p.width, 0.15)
		p.line(margin, p.bottom+2.2, p.width*0.8, s.Title+" · job "+s.Number+" · "+s.Workshop.Name+" · Trunnion "+s.Program+" · "+s.Fingerprint[:min(16, len(s.Fingerprint))], "", 6.4, false)
		p.line(margin, p.bottom+2.2, p.width, fmt.Sprintf("page %d", pages), "", 6.4, true)
	}
	next := func() {
		if pages > 0 {
			foot()
		}
		p.AddPage()
		pages++
		if s.Draft {
			p.draft()
		}
	}
	p.bottom -= 4
	next()
	y := p.heading(s)
	var blocks []block
	if s.Draft {
		blocks = append(blocks, block{2, func(p *page, x, y, w float64, dry bool) float64 { return p.missing(s, x, y, w, dry) }})
	}
	// The table of travel follows what was fitted: narrow pieces fill the room
	// beside plan and strips first.
	var after []block
	for i := range s.Sections {
		sec := &s.Sections[i]
		list := p.section(sec)
		if sec.ID == "travel" && len(list) > 1 {
			list, after = list[:1], list[1:]
		}
		if sec.ID == "presets" || sec.ID == "limits" {
			blocks, after = append(blocks, after...), nil
		}
		blocks = append(blocks, list...)
	}
	blocks = append(blocks, after...)
	p.flow(y, blocks, next)
	if !p.all {
		// Said where the reader looks first.
		p.SetPage(1)
		p.line(margin, margin-2.6, p.width, "□ stands for letters that this typeface lacks; print them from the page in the browser.", "I", sizeSmall, false)
		p.SetPage(pages)
	}
	foot()
}

// draft is a bar over the page: nothing is written across a figure.
func (p *page) draft() {
	p.SetFillColor(0, 0, 0)
	p.Rect(margin, margin-8, p.width, 5.4, "F")
	p.SetTextColor(255, 255, 255)
	p.SetFont("sans", "B", 10)
	const text = "DRAFT: not ready to be handed over"
	p.Text(margin+p.width/2-p.GetStringWidth(text)/2, margin-4.1, text)
	p.SetTextColor(0, 0, 0)
}

// heading is workshop, logo, title and what the sheet is about.
func (p *page) heading(s *Sheet) float64 {
	y := margin
	logo := 0.0
	if len(s.Workshop.Logo) > 0 && CheckLogo(s.Workshop.Logo) == nil {
		logo = p.logo(s.Workshop.Logo, margin+p.width, y)
	}
	left := p.width - logo - 30
	p.line(margin, y, left, s.Workshop.Name, "B", sizeHead, false)
	p.qr(s.Find, margin+p.width-logo-19, y-1, 18)
	p.line(margin, y+6, left, s.Title, "B", sizeTitle, false)
	y += 6 + p.leading(sizeTitle) + 0.6
	if s.Workshop.Words != "" {
		y = p.put(margin, y, left, s.Workshop.Words, "I", sizeSmall, false) + 0.5
	}
	y = max(y, margin+19)
	p.rule(margin, y, p.width, 0.5)
	y += 1.2
	// Labels and texts in four columns.
	col := p.width / 4
	x, row := margin, 0.0
	for i, h := range s.Head {
		if i%4 == 0 && i > 0 {
			y += row + 0.6
			row = 0
		}
		x = margin + float64(i%4)*col
		p.line(x, y, col-2, h.Label, "", sizeSmall, false)
		end := p.put(x, y+p.leading(sizeSmall), col-2, h.Text, "B", sizeBody, false)
		row = max(row, end-y)
	}
	return y + row + between
}

// logo draws a picture against the right edge and returns its width [mm].
func (p *page) logo(data []byte, right, y float64) float64 {
	kind := "PNG"
	if http.DetectContentType(data) == "image/jpeg" {
		kind = "JPG"
	}
	info := p.RegisterImageOptionsReader("logo", fpdf.ImageOptions{ImageType: kind}, bytes.NewReader(data))
	if p.Err() || info == nil || info.Height() <= 0 {
		p.ClearError()
		return 0
	}
	h := 17.0
	w := h * info.Width() / info.Height()
	if most := p.width * 0.3; w > most {
		w, h = most, most*info.Height()/info.Width()
	}
	p.ImageOptions("logo", right-w, y, w, h, false, fpdf.ImageOptions{ImageType: kind}, 0, "")
	return w + 3
}

// missing says what keeps a sheet a draft.
func (p *page) missing(s *Sheet, x, y, w float64, dry bool) float64 {
	pad := 1.6
	text := "Draft. Not ready: " + s.lacks() + "."
	end := p.put(x+pad, y+pad, w-2*pad, text, "B", sizeSmall, dry) + pad
	if !dry {
		p.SetLineWidth(0.4)
		p.Rect(x, y, w, end-y, "D")
	}
	return end
}

// narrow are the sections that fill one column.
var narrow = map[string]bool{"fitted": true, "lamps": true, "normal": true, "bounds": true, "again": true, "torques": true, "workshop": true}

// section makes the blocks of a section.
func (p *page) section(sec *Section) []block {
	titled := func(span int, draw func(p *page, x, y, w float64, dry bool) float64) block {
		return block{span, func(p *page, x, y, w float64, dry bool) float64 {
			if !dry {
				p.rule(x, y, w, 0.3)
			}
			y = p.put(x, y+0.9, w, sec.Title, "B", sizeHead, dry) + 0.5
			return draw(p, x, y, w, dry)
		}}
	}
	whole := func(p *page, x, y, w float64, dry bool) float64 {
		for i := range sec.Parts {
			y = p.part(&sec.Parts[i], x, y, w, dry) + 0.9
		}
		return y
	}
	switch {
	case sec.ID == "answer":
		// Words, and beside them the figures: the words are read first.
		return []block{titled(2, func(p *page, x, y, w float64, dry bool) float64 {
			left, right := w*0.44-gutter, w*0.56
			a, b := y, y
			for i := range sec.Parts {
				if sec.Parts[i].Table != nil {
					b = p.part(&sec.Parts[i], x+left+gutter, b, right, dry) + 0.9
				} else {
					a = p.part(&sec.Parts[i], x, a, left, dry) + 1.4
				}
			}
			return max(a, b)
		})}
	case sec.ID == "travel" && len(sec.Parts) > 1:
		rest := Section{ID: sec.ID, Parts: sec.Parts[1:]}
		return []block{
			titled(1, func(p *page, x, y, w float64, dry bool) float64 { return p.part(&sec.Parts[0], x, y, w, dry) }),
			{2, func(p *page, x, y, w float64, dry bool) float64 {
				for i := range rest.Parts {
					y = p.part(&rest.Parts[i], x, y, w, dry)
				}
				return y
			}},
		}
	case sec.ID == "corners" || narrow[sec.ID]:
		return []block{titled(1, whole)}
	case sec.ID == "cautions":
		return []block{titled(2, func(p *page, x, y, w float64, dry bool) float64 { return p.columns(sec.Parts[0].List, x, y, w, dry) })}
	}
	return []block{titled(2, whole)}
}

// columns sets a list in two columns of small type.
func (p *page) columns(list []string, x, y, w float64, dry bool) float64 {
	col := (w - gutter) / 2
	half := (len(list) + 1) / 2
	end := y
	for k, part := range [][]string{list[:half], list[half:]} {
		at := y
		for _, text := range part {
			at = p.item(text, x+float64(k)*(col+gutter), at, col, sizeSmall, dry)
		}
		end = max(end, at)
	}
	return end
}

func (p *page) item(text string, x, y, w, size float64, dry bool) float64 {
	if !dry {
		p.line(x, y, 3, "–", "", size, false)
	}
	return p.put(x+2.6, y, w-2.6, text, "", size, dry) + 0.3
}

func (p *page) part(part *Part, x, y, w float64, dry bool) float64 {
	switch {
	case part.Quote != nil:
		end := p.put(x+2.5, y, w-2.5, "“"+part.Quote.Words+"”", "I", sizeBody+0.6, dry)
		end = p.put(x+2.5, end, w-2.5, part.Quote.Who, "", sizeSmall, dry)
		if !dry {
			p.SetLineWidth(0.6)
			p.Line(x+0.6, y+0.4, x+0.6, end-0.4)
		}
		return end
	case part.Words != "":
		return p.put(x, y, w, part.Words, "", sizeBody, dry)
	case len(part.List) > 0:
		for i, text := range part.List {
			if i == 0 && strings.HasSuffix(text, ":") {
				y = p.put(x, y, w, text, "B", sizeBody, dry)
				continue
			}
			y = p.item(text, x, y, w, sizeBody, dry)
		}
		return y
	case len(part.Pairs) > 0:
		for _, pair := range part.Pairs {
			if !dry {
				p.line(x, y, 17, pair.Label, "B", sizeBody, false)
			}
			y = p.put(x+18, y, w-18, pair.Text, "", sizeBody, dry) + 0.3
		}
		return y
	case part.Table != nil:
		return p.table(part.Table, x, y, w, dry)
	case part.Plan != nil:
		return p.plan(part.Plan, x, y, w, dry)
	case part.Strips != nil:
		return p.strips(part.Strips, x, y, w, dry)
	case len(part.Checks) > 0:
		return p.checks(part.Checks, x, y, w, dry)
	case len(part.Sign) > 0:
		return p.sign(part.Sign, x, y, w, dry)
	}
	return y
}

// table sets a table: columns as wide as their texts ask, the first the label's.
func (p *page) table(t *Table, x, y, w float64, dry bool) float64 {
	widths := p.widths(t, w)
	row := func(cells []string, style string, y float64) float64 {
		end, at := y, x
		for i, text := range cells {
			end = max(end, p.put(at, y+0.35, widths[i]-1.6, text, style, sizeBody-0.5, dry))
			at += widths[i]
		}
		return end + 0.45
	}
	y = row(t.Columns, "B", y)
	for _, r := range t.Rows {
		if !dry {
			p.rule(x, y, w, 0.1)
		}
		y = row(r, "", y)
	}
	if t.Note != "" {
		y = p.put(x, y+0.4, w, t.Note, "I", sizeSmall-0.3, dry)
	}
	return y
}

// widths shares a width among columns by the length of their texts.
func (p *page) widths(t *Table, w float64) []float64 {
	p.font("B", sizeBody-0.5)
	want := make([]float64, len(t.Columns))
	sum := 0.0
	for i := range want {
		for _, r := range append([][]string{t.Columns}, t.Rows...) {
			set, _ := letters(r[i])
			want[i] = max(want[i], p.GetStringWidth(set)+2)
		}
		want[i] = min(want[i], w*0.5)
		sum += want[i]
	}
	if sum <= w {
		extra := (w - sum) / float64(len(want))
		for i := range want {
			want[i] += extra
		}
		return want
	}
	// Too wide: the widest give most; no column below what a word needs.
	least := w / float64(len(want)) * 0.62
	over := sum - w
	room := 0.0
	for _, v := range want {
		room += max(0, v-least)
	}
	for i, v := range want {
		if v > least {
			want[i] -= over * (v - least) / room
		}
	}
	return want
}

// checks is the list before the car leaves, in two columns.
func (p *page) checks(list []Check, x, y, w float64, dry bool) float64 {
	col := (w - gutter) / 2
	half := (len(list) + 1) / 2
	end := y
	for k, part := range [][]Check{list[:half], list[half:]} {
		at, left := y, x+float64(k)*(col+gutter)
		for _, c := range part {
			if !dry {
				p.SetLineWidth(0.25)
				box := 2.5 * p.scale
				p.Rect(left, at+0.35, box, box, "D")
				switch c.State {
				case "done":
					p.SetLineWidth(0.5)
					p.Line(left+0.4, at+0.35+box*0.55, left+box*0.42, at+0.1+box)
					p.Line(left+box*0.42, at+0.1+box, left+box, at+0.2)
				case "not-applicable":
					p.Line(left, at+0.35+box/2, left+box, at+0.35+box/2)
				}
			}
			said := c.Shown
			for _, more := range []string{c.By, c.Date, c.Note} {
				if more != "" {
					said += ", " + more
				}
			}
			at = p.put(left+4, at, col-4, c.What+": "+said, "", sizeBody-0.4, dry)
			at = p.put(left+4, at, col-4, c.Caution, "I", sizeSmall-0.6, dry) + 0.35
		}
		end = max(end, at)
	}
	return end
}

func (p *page) sign(lines []string, x, y, w float64, dry bool) float64 {
	col := w / float64(len(lines))
	h := 11.0
	if !dry {
		for i, text := range lines {
			at := x + float64(i)*col
			p.rule(at, y+h, col-5, 0.2)
			p.line(at, y+h+0.4, col-5, text, "", sizeSmall, false)
		}
	}
	return y + h + 0.4 + p.leading(sizeSmall)
}
