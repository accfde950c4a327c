package sheet

import (
	"fmt"
	"io"

	"codeberg.org/go-pdf/fpdf"
)

// Size of a card for the pocket. Source: ISO/IEC 7810, ID-1.
const (
	cardWide = 85.60 // [mm]
	cardTall = 53.98 // [mm]
)

// WriteCardPDF writes the presets on a card for the pocket.
func WriteCardPDF(w io.Writer, s *Sheet) error {
	for scale := 1.0; ; scale -= 0.06 {
		p := newPage(s, A4, &fpdf.SizeType{Wd: cardWide, Ht: cardTall}, scale)
		p.AddPage()
		end := p.card(s)
		if err := p.Error(); err != nil {
			return fmt.Errorf("sheet: %w", err)
		}
		if end <= cardTall-2 || scale < 0.5 {
			return p.Output(w)
		}
	}
}

func (p *page) card(s *Sheet) float64 {
	const edge = 4.0
	w := cardWide - 2*edge
	c := &s.Card
	p.line(edge, 2.6, w*0.7, c.Title, "B", sizeHead, false)
	p.line(edge, 2.9, w, c.Under, "", sizeBody, true)
	y := 2.6 + p.leading(sizeHead) + 0.4
	p.rule(edge, y, w, 0.3)
	y = p.table(&c.Table, edge, y+0.3, w, false) + 0.6
	p.rule(edge, y, w, 0.3)
	y = p.put(edge, y+0.5, w, "Back: "+c.Home, "B", sizeSmall, false)
	y = p.put(edge, y, w, "From fully closed, by hand, no force. "+c.Foot, "", sizeSmall-0.6, false)
	if s.Draft {
		y = p.put(edge, y, w, "Draft.", "B", sizeSmall, false)
	}
	p.SetLineWidth(0.15)
	p.RoundedRect(0.4, 0.4, cardWide-0.8, cardTall-0.8, 3, "1234", "D")
	return y
}
