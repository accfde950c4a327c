package main

import (
	"bytes"
	"context"
	"errors"
	"io"
	"os"
	"strings"
	"time"

	"github.com/rivo/uniseg"

	"trunnion/shop/desk"
	"trunnion/shop/jobfile"
	"trunnion/shop/sheet"
)

type sheetCommand struct {
	Job    string `arg:"" help:"Job file, or - for standard input."`
	Build  string `help:"The build that leaves, by id; else what the handover says, else the last." placeholder:"ID"`
	Load   string `help:"Load state that the figures are told in, by id; else the usual one." placeholder:"ID"`
	Format string `enum:"text,pdf,xlsx,csv,json" default:"text" help:"What to write: ${enum}."`
	Paper  string `enum:"a4,letter" default:"a4" help:"Paper of the PDF: ${enum}."`
	Card   bool   `help:"Write the presets on a card for the pocket instead, as PDF."`
	Out    string `help:"File to write; needed for pdf and xlsx." placeholder:"FILE"`
	Shop   string `name:"workshop" help:"Name of the workshop; else the job's." placeholder:"NAME"`
	Words  string `help:"A line of the workshop's own under its name."`
	Logo   string `help:"The workshop's picture, PNG or JPEG." placeholder:"FILE"`
	Find   string `help:"Address that the code on the sheet holds; else job number and fingerprint." placeholder:"TEXT"`
	Date   string `help:"Date of printing, as 2026-11-16; today when not given." placeholder:"DATE"`
	inUnits
	outFile
	desk.Settings
}

// Run makes the sheet that the owner takes home.
func (c *sheetCommand) Run(ctx context.Context, s streams) error {
	if err := c.check(); err != nil {
		return err
	}
	job, _, err := jobOrFaults(c.Job, s, "no sheet was made")
	if err != nil {
		return err
	}
	made, err := c.make(ctx, s, job)
	if err != nil {
		return err
	}
	var out bytes.Buffer
	switch {
	case c.Card:
		err = sheet.WriteCardPDF(&out, made)
	case c.Format == "pdf":
		err = sheet.WritePDF(&out, made, sheet.Paper(c.Paper))
	case c.Format == "xlsx":
		err = sheet.WriteXLSX(&out, made)
	case c.Format == "csv":
		err = sheet.WriteCSV(&out, made)
	case c.Format == "json":
		err = sheet.WriteJSON(&out, made)
	default:
		printSheet(&out, made)
	}
	if err != nil {
		return err
	}
	if c.Out == "" || c.Out == "-" {
		_, err = s.out.Write(out.Bytes())
		return err
	}
	if err := c.write(c.Out, out.Bytes(), c.Job, c.Logo); err != nil {
		return err
	}
	state := "complete"
	if made.Draft {
		state = "a draft: " + many(len(made.Missing), "thing is", "things are") + " missing, " + made.Missing[0] + " first"
	}
	say(s.err, "trunnion: %s written, %s\n", c.Out, state)
	return nil
}

func (c *sheetCommand) check() error {
	if c.Out == "" && (c.Card || c.Format == "pdf" || c.Format == "xlsx") {
		return usage("say with --out which file to write; --out - writes to standard output")
	}
	if c.Date != "" {
		if _, err := time.Parse(time.DateOnly, c.Date); err != nil {
			return usage("--date is written 2026-11-16, not %q", c.Date)
		}
	}
	return nil
}

func (c *sheetCommand) make(ctx context.Context, s streams, job *jobfile.Job) (*sheet.Sheet, error) {
	system := c.system()
	shop := sheet.Workshop{Name: c.Shop, Words: c.Words}
	if c.Logo != "" {
		logo, err := readLogo(c.Logo)
		if err != nil {
			return nil, err
		}
		shop.Logo = logo
	}
	date := c.Date
	if date == "" {
		date = time.Now().Format(time.DateOnly)
	}
	show, end := progress(s.err)
	c.Progress = show
	made, got, err := asking().Sheet(ctx, sheet.Source{
		Job: job, Build: c.Build, Load: c.Load, System: system, Program: version, Printed: date, Find: c.Find, Workshop: shop,
	}, c.Settings)
	end()
	switch {
	case errors.Is(err, sheet.ErrNoBuild) || errors.Is(err, sheet.ErrNoLoad):
		return nil, usage("%w", err)
	case err != nil:
		return nil, unanswered(ctx, err)
	}
	if got.NotDriven != nil {
		say(s.err, "trunnion: the obstacles were not driven: %v\n", got.NotDriven)
	}
	return made, err
}

// readLogo reads a picture no larger than one may be.
func readLogo(name string) ([]byte, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, usage("the logo cannot be read: %w", err)
	}
	defer f.Close() //nolint:errcheck // it was only read
	data, err := io.ReadAll(io.LimitReader(f, sheet.MostLogoBytes+1))
	if err != nil {
		return nil, usage("the logo cannot be read: %w", err)
	}
	if err := sheet.CheckLogo(data); err != nil {
		return nil, usage("%s: %w", nameOf(name), err)
	}
	return data, nil
}

// printSheet prints the tree for a terminal.
func printSheet(w io.Writer, s *sheet.Sheet) {
	say(w, "%s\n", strings.TrimSpace(s.Workshop.Name+"  "+s.Title))
	for _, h := range s.Head {
		say(w, "%s %s\n", padded(h.Label, 14), wrapped(h.Text, lineWidth-15, strings.Repeat(" ", 15)))
	}
	if s.Draft {
		say(w, "\nDRAFT, not ready:\n")
		for _, m := range s.Missing {
			say(w, "  - %s\n", wrapped(m, lineWidth-4, "    "))
		}
	}
	for i := range s.Sections {
		sec := &s.Sections[i]
		say(w, "\n%s %s\n", sec.Title, strings.Repeat("─", max(0, lineWidth-uniseg.StringWidth(sec.Title)-1)))
		for k := range sec.Parts {
			printPart(w, &sec.Parts[k])
		}
	}
	say(w, "\n%s\n", s.Find)
}

func printPart(w io.Writer, p *sheet.Part) {
	switch {
	case p.Quote != nil:
		say(w, "%s\n", wrapped(p.Quote.Who+": “"+p.Quote.Words+"”", lineWidth, ""))
	case p.Words != "":
		say(w, "%s\n", wrapped(p.Words, lineWidth, ""))
	case p.Table != nil:
		printTable(w, p.Table)
	case p.Plan != nil:
		for _, c := range p.Plan.Corners {
			line := ""
			for _, l := range c.Lines {
				line += ", " + l.Label + " " + l.Text
			}
			say(w, "%s\n", wrapped(c.Name+": "+strings.TrimPrefix(line, ", "), lineWidth, "  "))
		}
		line := "cross, front right and rear left " + p.Plan.Cross
		for _, t := range p.Plan.Totals {
			line += ", " + t.Label + " " + t.Text
		}
		say(w, "%s\n%s\n", wrapped(line, lineWidth, "  "), wrapped(p.Plan.Note, lineWidth, ""))
	}
	for i, text := range p.List {
		if i == 0 && strings.HasSuffix(text, ":") {
			say(w, "%s\n", wrapped(text, lineWidth, ""))
			continue
		}
		say(w, "- %s\n", wrapped(text, lineWidth-2, "  "))
	}
	for _, pair := range p.Pairs {
		say(w, "%s %s\n", padded(pair.Label, 10), wrapped(pair.Text, lineWidth-11, strings.Repeat(" ", 11)))
	}
	for _, c := range p.Checks {
		mark := map[string]string{"done": "x", "not-applicable": "-", "not-done": "!"}[c.State]
		said := []string{c.Shown}
		for _, more := range []string{c.By, c.Date, c.Note} {
			if more != "" {
				said = append(said, more)
			}
		}
		say(w, "[%1s] %s\n", mark, wrapped(c.What+": "+strings.Join(said, ", "), lineWidth-4, "    "))
		if c.State == "open" || c.State == "not-done" {
			say(w, "    %s\n", wrapped(c.Caution, lineWidth-4, "    "))
		}
	}
	for _, text := range p.Sign {
		say(w, "%s %s\n", padded(text, 40), strings.Repeat("_", 30))
	}
}

// printTable prints a table, its last columns wrapped under their heads where the
// line is too short.
func printTable(w io.Writer, t *sheet.Table) {
	widths := make([]int, len(t.Columns))
	for _, row := range append([][]string{t.Columns}, t.Rows...) {
		for i, cell := range row {
			widths[i] = max(widths[i], uniseg.StringWidth(cell))
		}
	}
	for _, row := range append([][]string{t.Columns}, t.Rows...) {
		line, at := "", 0
		for i, cell := range row {
			if i == len(row)-1 {
				line += wrapped(cell, max(24, lineWidth-at), strings.Repeat(" ", min(at, lineWidth-24)))
				break
			}
			line += padded(cell, widths[i]+2)
			at += widths[i] + 2
		}
		say(w, "%s\n", strings.TrimRight(line, " "))
	}
	if t.Note != "" {
		say(w, "%s\n", wrapped(t.Note, lineWidth, ""))
	}
}
