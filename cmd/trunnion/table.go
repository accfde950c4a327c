package main

import (
	"io"
	"strings"

	"github.com/rivo/uniseg"
)

// lineWidth is how many columns a printed text takes at most.
const lineWidth = 100

// table is rows of texts in columns. The last column takes what is left of the
// line and is wrapped.
type table struct {
	gap  int
	rows [][]string
}

func (t *table) row(cells ...string) { t.rows = append(t.rows, cells) }

func (t *table) write(w io.Writer, width int) {
	var widths []int
	for _, r := range t.rows {
		for i, c := range r {
			if i == len(widths) {
				widths = append(widths, 0)
			}
			widths[i] = max(widths[i], uniseg.StringWidth(c))
		}
	}
	left := 0
	for _, n := range widths[:len(widths)-1] {
		left += n + t.gap
	}
	var out strings.Builder
	for _, r := range t.rows {
		for i, c := range r {
			if i == len(r)-1 {
				out.WriteString(wrapped(c, max(width-left, 20), strings.Repeat(" ", left)))
				break
			}
			out.WriteString(padded(c, widths[i]+t.gap))
		}
		out.WriteByte('\n')
	}
	_, _ = io.WriteString(w, trimmed(out.String()))
}

// padded fills a text with blanks to a width of columns.
func padded(s string, width int) string {
	return s + strings.Repeat(" ", max(0, width-uniseg.StringWidth(s)))
}

// right puts a text at the right of a width of columns.
func right(s string, width int) string {
	return strings.Repeat(" ", max(0, width-uniseg.StringWidth(s))) + s
}

// trimmed takes the blanks off the ends of lines.
func trimmed(s string) string {
	lines := strings.Split(s, "\n")
	for i, l := range lines {
		lines[i] = strings.TrimRight(l, " ")
	}
	return strings.Join(lines, "\n")
}

// lines breaks a text at blanks into lines of a width of columns.
func lines(s string, width int) []string {
	var out []string
	line, used := "", 0
	for _, word := range glued(strings.Fields(s)) {
		n := uniseg.StringWidth(word)
		if used > 0 && used+1+n > width {
			out = append(out, line)
			line, used = "", 0
		}
		if used > 0 {
			line += " "
			used++
		}
		line += word
		used += n
	}
	if used > 0 || len(out) == 0 {
		out = append(out, line)
	}
	return out
}

// units are the words that are not parted from the figure before them.
var units = map[string]bool{
	"mm": true, "in": true, "N": true, "lbf": true, "kg": true, "lb": true, "N/mm": true, "lbf/in": true, "mm/s": true, "in/s": true,
	"km/h": true, "mph": true, "Hz": true, "%": true, "s": true, "min": true, "g": true, "m/s²": true, "bar": true, "psi": true,
}

// glued joins a figure with the unit that follows it.
func glued(words []string) []string {
	var out []string
	for _, w := range words {
		last := len(out) - 1
		if last >= 0 && strings.HasSuffix(out[last], "±") {
			out[last] += " " + w
			continue
		}
		if last >= 0 && units[strings.TrimRight(w, ".,;:)")] && figured(out[last]) {
			out[last] += " " + w
			continue
		}
		out = append(out, w)
	}
	return out
}

func figured(s string) bool {
	return s[len(s)-1] >= '0' && s[len(s)-1] <= '9'
}

// hung is a text over lines that hang below the end of its lead.
func hung(lead, text string) string {
	width := uniseg.StringWidth(lead)
	return lead + wrapped(text, lineWidth-width, strings.Repeat(" ", width))
}

// wrapped is a text over lines, all but the first indented.
func wrapped(s string, width int, indent string) string {
	return strings.Join(lines(s, width), "\n"+indent)
}
