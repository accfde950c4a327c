package main

import (
	"bytes"
	"context"
	"errors"
	"path/filepath"
	"strings"
	"time"

	"trunnion/shop/desk"
	"trunnion/shop/intake"
	"trunnion/shop/store"
	"trunnion/shop/wording"
)

// catalogueCommand takes lists of parts into the workshop's catalogue, and writes them out.
type catalogueCommand struct {
	Read  catalogueReadCommand  `cmd:"" help:"A maker's price list, CSV or XLSX: what it holds, and with --save into the catalogue."`
	Write catalogueWriteCommand `cmd:"" help:"The catalogue's parts of a kind as CSV or XLSX, to be changed and read again."`
}

type catalogueReadCommand struct {
	Path     string            `arg:"" name:"file" help:"List of parts: CSV, text in columns, or XLSX."`
	Kind     string            `enum:"spring,damper,stop,mount,platform,tyre,wheel" default:"spring" help:"What the parts are: ${enum}."`
	Column   map[string]string `help:"What a column holds, by its heading or number: --column 3=rate." placeholder:"NAME=WHAT"`
	Unit     map[string]string `help:"Unit of what the list names none for: --unit rate=N/mm." placeholder:"WHAT=UNIT"`
	Currency string            `help:"Of the prices, where the list names none." placeholder:"CODE"`
	Decimal  string            `enum:",point,comma" default:"" help:"Decimal sign: point or comma."`
	Source   string            `help:"Whose list it is; it stands with every part." placeholder:"TEXT"`
	Mapping  string            `help:"Answers as a JSON file; flags go before it." placeholder:"FILE"`
	Partial  bool              `help:"Go on with the rows that can be read when some cannot."`
	Save     bool              `help:"Take the parts into the catalogue."`
	Format   string            `enum:"text,json" default:"text" help:"What to print: ${enum}."`
	place
}

// ask is the question with what flags and file answer.
func (c *catalogueReadCommand) ask() (desk.PartsAsk, error) {
	var m intake.PartsMapping
	if err := readMapping(c.Mapping, &m); err != nil {
		return desk.PartsAsk{}, err
	}
	m.Kind = c.Kind
	for to, from := range map[*string]string{&m.Currency: c.Currency, &m.Decimal: c.Decimal, &m.Source: c.Source} {
		if from != "" {
			*to = from
		}
	}
	for to, from := range map[*map[string]string]map[string]string{&m.Columns: c.Column, &m.Units: c.Unit} {
		for k, v := range from {
			if *to == nil {
				*to = map[string]string{}
			}
			(*to)[k] = v
		}
	}
	data, err := readMost(c.Path)
	if err != nil {
		return desk.PartsAsk{}, usage("%s cannot be read: %w", c.Path, err)
	}
	return desk.PartsAsk{File: intake.SweepFile{Name: filepath.ToSlash(c.Path), Data: data}, Mapping: m}, nil
}

// Run reads a list, and takes it in where that is asked.
func (c *catalogueReadCommand) Run(ctx context.Context, s streams) error {
	ask, err := c.ask()
	if err != nil {
		return err
	}
	got, err := asking().Parts(ctx, ask)
	if err != nil {
		return unanswered(ctx, err)
	}
	if c.Format == "json" && !c.Save {
		return got.Document(version).WriteJSON(s.out)
	}
	for _, f := range got.Faults {
		say(s.err, "%s\n", sweepFault(f))
	}
	for _, q := range got.Questions {
		say(s.err, "%s\n", wrapped(sweepPlace(q.File, q.Line)+wording.PartsQuestion(q.Code, q.About, q.Seen, q.Choices), lineWidth, "  "))
	}
	switch {
	case len(got.Questions) > 0:
		return &status{exitUsage, errors.New("the list does not say this and nothing was taken for granted: answer and ask again")}
	case len(got.PartsList.Parts) == 0:
		return &status{exitFaults, errors.New("no part could be read")}
	case len(got.Faults) > 0 && !c.Partial:
		return &status{exitFaults, errors.New("the rest can be read: --partial goes on with it")}
	}
	c.print(s, got)
	if !c.Save {
		return nil
	}
	return c.save(ctx, s, got, ask.Mapping.Source)
}

// print shows what was read.
func (c *catalogueReadCommand) print(s streams, got *desk.PartsListed) {
	for _, p := range got.PartsList.Parts {
		stock := ""
		if p.Stock != "" {
			stock = "; " + p.Stock
		}
		say(s.out, "%s\n", wrapped(p.Name+": "+strings.Trim(p.Text, "{}")+stock, lineWidth, "  "))
	}
	say(s.out, "\n")
	for _, a := range got.Assumptions {
		say(s.out, "%s\n", wrapped(wording.PartsAssumed(a.Code, a.About, a.Value, a.Line), lineWidth, ""))
	}
}

// save takes the list into the catalogue.
func (c *catalogueReadCommand) save(ctx context.Context, s streams, got *desk.PartsListed, source string) error {
	where, err := c.where()
	if err != nil {
		return err
	}
	kept, err := store.Open(ctx, where, store.Options{Who: "trunnion catalogue"})
	if err != nil {
		return serving(err)
	}
	if source == "" {
		source = filepath.Base(c.Path)
	}
	took, err := kept.TakeParts(ctx, got.Stock(source, "trunnion catalogue"), false)
	if err := errors.Join(err, kept.Close()); err != nil {
		return serving(err)
	}
	say(s.out, "\n%s\n", wording.PartsTaken(took.New, took.Changed, took.Same, true))
	return nil
}

type catalogueWriteCommand struct {
	Kind   string `enum:"spring,damper,stop,mount,platform,tyre,wheel" default:"spring" help:"What the parts are: ${enum}."`
	Format string `enum:"csv,xlsx" default:"csv" help:"What to write: ${enum}."`
	Out    string `help:"File to write; needed for xlsx." placeholder:"FILE"`
	place
	outFile
}

// Run writes the parts of a kind.
func (c *catalogueWriteCommand) Run(ctx context.Context, s streams) error {
	if c.Out == "" && c.Format == "xlsx" {
		return usage("name a file with --out")
	}
	where, err := c.where()
	if err != nil {
		return err
	}
	kept, err := store.Open(ctx, where, store.Options{Who: "trunnion catalogue"})
	if err != nil {
		return serving(err)
	}
	parts, err := kept.Parts(ctx, store.PartQuery{Kind: c.Kind})
	if err := errors.Join(err, kept.Close()); err != nil {
		return serving(err)
	}
	if len(parts) == 0 {
		return &status{exitNoAnswer, errors.New("the catalogue has no " + c.Kind + " yet")}
	}
	var out bytes.Buffer
	tabled, err := desk.WriteParts(&out, parts, c.Kind, c.Format, version, time.Now().Format(time.DateOnly))
	if err != nil {
		return err
	}
	if text := wording.PartsLeftOut(tabled); text != "" {
		say(s.err, "%s\n", text)
	}
	if c.Out == "" {
		_, err = s.out.Write(out.Bytes())
		return err
	}
	if err := c.write(c.Out, out.Bytes()); err != nil {
		return err
	}
	say(s.out, "%d parts in %s\n", len(parts), c.Out)
	return nil
}
