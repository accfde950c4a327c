package desk

import (
	"context"
	"io"
	"slices"
	"strings"

	"trunnion/shop/answer"
	"trunnion/shop/intake"
	"trunnion/shop/jobfile"
	"trunnion/shop/sheet"
	"trunnion/shop/store"
	"trunnion/shop/wording"
)

// PartsAsk is a list of parts, and what it does not say.
type PartsAsk struct {
	File    intake.SweepFile    `json:"file" kong:"-"`
	Mapping intake.PartsMapping `json:"mapping,omitempty" kong:"-"`
}

// PartsListed is a list of parts as it was read.
type PartsListed struct{ *intake.PartsList }

// Parts reads a list of parts: a maker's prices, or a catalogue that was written out.
func (d *Desk) Parts(ctx context.Context, ask PartsAsk) (*PartsListed, error) {
	if len(ask.File.Data) == 0 {
		return nil, absent("choose a list of parts: a CSV or XLSX file with a row for each")
	}
	roles := intake.PartRoles(ask.Mapping.Kind)
	for _, role := range ask.Mapping.Columns {
		if ask.Mapping.Kind != "" && !slices.Contains(roles, role) {
			return nil, bad("column", "%q: a column is one of %s", role, strings.Join(roles, ", "))
		}
	}
	got, err := intake.ReadParts(ctx, ask.File, ask.Mapping)
	if err != nil {
		return nil, err
	}
	return &PartsListed{got}, nil
}

// Stock are the parts as the catalogue keeps them, from a source, by whoever takes them in.
func (l *PartsListed) Stock(source, who string) []store.Part {
	out := make([]store.Part, len(l.PartsList.Parts))
	for i := range out {
		p := &l.PartsList.Parts[i]
		out[i] = store.Part{Kind: l.Kind, Slug: p.Slug, Name: p.Name, Text: p.Text, Stock: p.Stock, Source: source, Who: who, Why: "taken in from a list"}
	}
	return out
}

// Document is what was read, for programs.
func (l *PartsListed) Document(program string) *answer.PartsList {
	d := &answer.PartsList{
		Format: answer.PartsFormat, Program: program, Kind: l.Kind,
		Questions: []answer.SweepQuestion{}, Faults: []answer.SweepFault{}, Assumptions: []answer.SweepAssumption{}, Parts: []answer.ListedPart{},
	}
	for _, q := range l.Questions {
		d.Questions = append(d.Questions, answer.SweepQuestion(q))
	}
	for _, f := range l.Faults {
		d.Faults = append(d.Faults, answer.SweepFault(f))
	}
	for _, a := range l.Assumptions {
		d.Assumptions = append(d.Assumptions, answer.SweepAssumption(a))
	}
	for i := range l.PartsList.Parts {
		p := &l.PartsList.Parts[i]
		d.Parts = append(d.Parts, answer.ListedPart{Line: p.Line, ID: p.Slug, Name: p.Name, Stock: p.Stock, Text: p.Text})
	}
	return d
}

// WriteParts writes parts of one kind as a list, CSV or XLSX, and says how many have tables
// that it cannot hold. date is that of the document, 2026-11-16.
func WriteParts(w io.Writer, parts []store.Part, kind, format, program, date string) (tabled int, err error) {
	rows, tabled, err := partRows(parts, kind)
	if err != nil {
		return 0, err
	}
	if format == "xlsx" {
		return tabled, sheet.WriteRowsXLSX(w, rows, program, wording.PartsTitle(kind), date)
	}
	return tabled, sheet.WriteRowsCSV(w, rows)
}

// partRows are parts of one kind as rows of a list, a heading first: what each is called,
// and every key of which one has a value that stands in a cell. Tables are left out; how
// many have one is told.
func partRows(parts []store.Part, kind string) (rows [][]string, tabled int, err error) {
	section := kind + "s"
	keys := jobfile.PartKeys(section)
	texts := make([]map[string]string, len(parts))
	used := map[string]bool{}
	for i := range parts {
		var all []string
		if all, texts[i], err = jobfile.Pieces(parts[i].Text); err != nil {
			return nil, 0, err
		}
		more := false
		for _, k := range all {
			if slices.ContainsFunc(keys, func(one jobfile.PartKey) bool { return one.Name == k }) {
				used[k] = true
			} else {
				more = true
			}
		}
		if more {
			tabled++
		}
	}
	head := []string{"number", "name"}
	noted := slices.ContainsFunc(parts, func(p store.Part) bool { return p.Stock != "" })
	keys = slices.DeleteFunc(keys, func(k jobfile.PartKey) bool { return !used[k.Name] })
	for _, k := range keys {
		head = append(head, k.Name)
	}
	if noted {
		head = append(head, "stock")
	}
	rows = append(rows, head)
	for i := range parts {
		row := []string{parts[i].Slug, parts[i].Name}
		for _, k := range keys {
			row = append(row, strings.Trim(texts[i][k.Name], `"'`))
		}
		if noted {
			row = append(row, parts[i].Stock)
		}
		rows = append(rows, row)
	}
	return rows, tabled, nil
}
