package sheet

import (
	"strings"
	"time"

	"codeberg.org/go-fonts/liberation/liberationsansbold"
	"codeberg.org/go-fonts/liberation/liberationsansitalic"
	"codeberg.org/go-fonts/liberation/liberationsansregular"
	"codeberg.org/go-pdf/fpdf"
)

// Paper is a size of paper.
type Paper string

// The papers.
const (
	A4     Paper = "a4"
	Letter Paper = "letter"
)

const (
	margin  = 12.0 // of a page [mm]
	gutter  = 6.0  // between its two columns [mm]
	between = 3.2  // blocks [mm]
	point   = 25.4 / 72
)

// page is a PDF being set. Everything is black on white.
type page struct {
	*fpdf.Fpdf
	scale  float64 // of all type, 1 as designed
	all    bool    // every letter could be set
	bottom float64 // last line of a page [mm]
	width  float64 // between the margins [mm]
}

func newPage(s *Sheet, p Paper, size *fpdf.SizeType, scale float64) *page {
	name := "A4"
	if p == Letter {
		name = "Letter"
	}
	init := fpdf.InitType{OrientationStr: "P", UnitStr: "mm", SizeStr: name}
	if size != nil {
		init = fpdf.InitType{OrientationStr: "P", UnitStr: "mm", Size: *size}
	}
	pdf := fpdf.NewCustom(&init)
	pdf.AddUTF8FontFromBytes("sans", "", liberationsansregular.TTF)
	pdf.AddUTF8FontFromBytes("sans", "B", liberationsansbold.TTF)
	pdf.AddUTF8FontFromBytes("sans", "I", liberationsansitalic.TTF)
	// The same sheet is the same bytes: dates come from the sheet, not the clock.
	when, err := time.Parse(time.DateOnly, s.Printed)
	if err != nil {
		when = time.Unix(0, 0).UTC()
	}
	pdf.SetCreationDate(when)
	pdf.SetModificationDate(when)
	pdf.SetCatalogSort(true)
	pdf.SetProducer("Trunnion "+s.Program, true)
	title, _ := letters(s.Title + ", job " + s.Number)
	pdf.SetTitle(title, true)
	pdf.SetLang("en-GB")
	pdf.SetAutoPageBreak(false, 0)
	pdf.SetMargins(margin, margin, margin)
	w, h := pdf.GetPageSize()
	return &page{Fpdf: pdf, scale: scale, all: true, bottom: h - margin, width: w - 2*margin}
}

// type sizes [pt]
const (
	sizeTitle = 17.0
	sizeHead  = 10.0
	sizeBody  = 8.4
	sizeSmall = 7.0
)

func (p *page) font(style string, size float64) { p.SetFont("sans", style, size*p.scale) }

// leading is the height of a line of a size [mm].
func (p *page) leading(size float64) float64 { return size * p.scale * point * 1.24 }

// lines breaks a text to a width [mm] in the font that is set.
func (p *page) lines(text string, w float64) []string {
	set, all := letters(text)
	p.all = p.all && all
	if strings.TrimSpace(set) == "" {
		return nil
	}
	return p.SplitText(set, w+2*p.GetCellMargin()-0.01)
}

// put sets lines from a top edge and returns the bottom edge. dry measures only.
func (p *page) put(x, y, w float64, text, style string, size float64, dry bool) float64 {
	p.font(style, size)
	for _, line := range p.lines(text, w) {
		if !dry {
			p.Text(x, y+size*p.scale*point*0.95, line)
		}
		y += p.leading(size)
	}
	return y
}

// line sets one line, cut to a width; right sets it against the right edge.
func (p *page) line(x, y, w float64, text, style string, size float64, right bool) {
	p.font(style, size)
	set, all := letters(text)
	p.all = p.all && all
	for p.GetStringWidth(set) > w && len(set) > 1 {
		r := []rune(strings.TrimSuffix(set, "…"))
		set = string(r[:len(r)-1]) + "…"
	}
	if right {
		x += w - p.GetStringWidth(set)
	}
	p.Text(x, y+size*p.scale*point*0.95, set)
}

func (p *page) rule(x, y, w, thick float64) {
	p.SetLineWidth(thick)
	p.Line(x, y, x+w, y)
}

// block is a piece of a page: it draws itself at a place in a width and returns
// its bottom edge; dry measures only.
type block struct {
	span int // columns, 1 or 2
	draw func(p *page, x, y, w float64, dry bool) float64
}

// flow sets blocks into two columns, page by page: a wide one below both, a narrow
// one into the shorter column. Where a wide one asks for the next page, narrow ones that
// follow fill the room before it.
func (p *page) flow(y float64, blocks []block, next func()) {
	col := (p.width - gutter) / 2
	at := [2]float64{y, y}
	set := make([]bool, len(blocks))
	for n, b := range blocks {
		if set[n] {
			continue
		}
		w, k := col, 0
		top := at[0]
		if b.span == 2 {
			w = p.width
			top = max(at[0], at[1])
		} else if at[1] < at[0] {
			k, top = 1, at[1]
		}
		h := b.draw(p, 0, 0, w, true)
		if b.span == 2 && top+h <= p.bottom {
			at = [2]float64{top, top}
		}
		if at[k]+h > p.bottom && b.span == 1 && at[1-k]+h <= p.bottom {
			k = 1 - k
		}
		if at[k]+h > p.bottom || b.span == 2 && top+h > p.bottom {
			for m := n + 1; m < len(blocks) && b.span == 2; m++ {
				if later := &blocks[m]; later.span == 1 && !set[m] {
					side := 0
					if at[1] < at[0] {
						side = 1
					}
					if at[side]+later.draw(p, 0, 0, col, true) <= p.bottom {
						at[side] = later.draw(p, margin+float64(side)*(col+gutter), at[side], col, false) + between
						set[m] = true
					}
				}
			}
			next()
			at = [2]float64{margin, margin}
			k = 0
		}
		end := b.draw(p, margin+float64(k)*(col+gutter), at[k], w, false) + between
		at[k] = end
		if b.span == 2 {
			at[1] = end
		}
	}
}
