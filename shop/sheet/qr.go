package sheet

import qrcode "github.com/piglig/go-qr"

// qr draws a code as squares of ink, with the quiet edge it needs [mm].
// Source: ISO/IEC 18004, by the library.
func (p *page) qr(text string, x, y, size float64) {
	code, err := qrcode.EncodeText(text, qrcode.Medium)
	if err != nil {
		return // too long a text: the sheet says it in words too
	}
	n := code.Size()
	step := size / float64(n)
	p.SetFillColor(0, 0, 0)
	for row := range n {
		for col := 0; col < n; col++ {
			from := col
			for col < n && code.Module(col, row) {
				col++
			}
			if col > from {
				p.Rect(x+float64(from)*step, y+float64(row)*step, float64(col-from)*step, step, "F")
			}
		}
	}
}
