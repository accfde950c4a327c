package sheet

import (
	"encoding/csv"
	"io"
	"strconv"
	"strings"
)

// rows is the whole tree as a list: section, what, and the texts behind it.
func (s *Sheet) rows() [][]string {
	out := [][]string{{"section", "what", "text"}}
	add := func(section, what string, texts ...string) {
		out = append(out, append([]string{section, what}, texts...))
	}
	add("sheet", "format", s.Format)
	add("sheet", "program", s.Program)
	add("sheet", "workshop", s.Workshop.Name)
	add("sheet", "car", s.Title)
	add("sheet", "draft", strconv.FormatBool(s.Draft))
	for _, m := range s.Missing {
		add("sheet", "missing", m)
	}
	for _, h := range s.Head {
		add("sheet", h.Label, h.Text)
	}
	for i := range s.Sections {
		for j := range s.Sections[i].Parts {
			s.Sections[i].Parts[j].rows(s.Sections[i].ID, add)
		}
	}
	for _, r := range s.Card.Table.Rows {
		add("card", r[0], r[1:]...)
	}
	add("card", "restore", s.Card.Home)
	add("sheet", "find", s.Find)
	return out
}

func (p *Part) rows(section string, add func(section, what string, texts ...string)) {
	switch {
	case p.Words != "":
		add(section, "words", p.Words)
	case p.Quote != nil:
		add(section, p.Quote.Who, p.Quote.Words)
	case p.Table != nil:
		add(section, or(p.Table.Columns[0], "table"), p.Table.Columns[1:]...)
		for _, r := range p.Table.Rows {
			add(section, r[0], r[1:]...)
		}
		if p.Table.Note != "" {
			add(section, "note", p.Table.Note)
		}
	case p.Plan != nil:
		for _, c := range p.Plan.Corners {
			for _, l := range c.Lines {
				add(section, c.Name+", "+l.Label, l.Text)
			}
		}
		for _, t := range p.Plan.Totals {
			add(section, t.Label, t.Text)
		}
		add(section, "cross weight, front right and rear left", p.Plan.Cross)
		add(section, "note", p.Plan.Note)
	case p.Strips != nil:
		for _, c := range p.Strips.Corners {
			add(section, c.Name+", bump travel to the stop, rebound travel left ["+p.Strips.Unit+"]", c.Bump, c.Droop)
		}
	}
	for _, text := range p.List {
		add(section, "", text)
	}
	for _, pair := range p.Pairs {
		add(section, pair.Label, pair.Text)
	}
	for _, c := range p.Checks {
		add(section, c.What, c.Shown, c.By, c.Date, c.Note)
	}
	for _, text := range p.Sign {
		add(section, "signature", text)
	}
}

// harmless keeps a spreadsheet from taking a text for a formula.
// Source: OWASP, CSV Injection.
func harmless(text string) string {
	if text != "" && strings.ContainsRune("=+-@\t\r", rune(text[0])) {
		return "'" + text
	}
	return text
}

// WriteCSV writes the tree as rows of section, what and texts.
func WriteCSV(w io.Writer, s *Sheet) error { return WriteRowsCSV(w, s.rows()) }

// WriteRowsCSV writes rows of texts.
func WriteRowsCSV(w io.Writer, rows [][]string) error {
	c := csv.NewWriter(w)
	for _, row := range rows {
		safe := make([]string, len(row))
		for i, text := range row {
			safe[i] = harmless(text)
		}
		if err := c.Write(safe); err != nil {
			return err
		}
	}
	c.Flush()
	return c.Error()
}
