package intake

import (
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
)

// ReadParts reads a list of parts: a text in columns or a workbook's first sheet that has
// a heading it knows. A figure counts as its maker's, with the band that is usual for one.
func ReadParts(ctx context.Context, file SweepFile, m PartsMapping) (*PartsList, error) {
	if m.Kind == "" {
		m.Kind = PartKinds[0]
	}
	r := &partReader{file: file, m: m, out: &PartsList{Kind: m.Kind}, slugs: map[string]int{}, keys: map[string]jobfile.PartKey{}}
	for _, k := range jobfile.PartKeys(m.Kind + "s") {
		r.keys[k.Name] = k
	}
	if !slices.Contains(PartKinds, m.Kind) || len(r.keys) == 0 {
		r.fault(0, "holds parts of the kind “"+cutShort(m.Kind)+"”", "a kind is one of "+strings.Join(PartKinds, ", "))
		return r.out, nil
	}
	if len(file.Data) > mostListBytes {
		r.fault(0, "is larger than 8 MB", "export the parts alone, without pictures")
		return r.out, nil
	}
	table, fault := listRows(file.Data)
	if fault != nil {
		r.fault(fault.Line, fault.Got, fault.Want)
		return r.out, nil
	}
	head := r.head(table)
	if head < -1 || len(r.out.Questions) > 0 {
		return r.out, nil
	}
	r.decimal(table[head+1:])
	r.units(table[head+1:])
	if len(r.out.Questions) > 0 {
		return r.out, nil
	}
	for _, one := range table[head+1:] {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		if len(r.out.Parts) == mostListParts {
			r.fault(one.line, "is more than 2,000 parts down the list", "take the list in two")
			break
		}
		r.part(one)
	}
	if r.left > 0 {
		r.out.Faults = append(r.out.Faults, SweepFault{File: file.Name, Got: fmt.Sprintf("has %d more rows that cannot be read", r.left), Want: "mend those named first; most have one cause"})
	}
	r.assumed("origin", "", "maker", 0)
	return r.out, nil
}

// part reads one row.
func (r *partReader) part(one row) {
	p := ListedPart{Line: one.line}
	texts := map[string]string{}
	wrong := false
	for i, c := range r.columns {
		if i >= len(one.cells) || c.role == roleIgnored || c.role == "" {
			continue
		}
		// A sign before the text keeps spreadsheets from computing it; it is none of it.
		cell := strings.TrimPrefix(strings.Join(strings.Fields(one.cells[i]), " "), "'")
		if cell == "" || cell == "-" || cell == "–" {
			continue
		}
		switch c.role {
		case columnNumber:
			p.Slug = jobfile.IDFrom(cell)
			if p.Name == "" {
				p.Name = cell
			}
		case columnName:
			p.Name = cell
		case columnStock:
			p.Stock = cell
		default:
			text, err := r.figure(c, cell)
			if err != nil {
				r.fault(one.line, "has “"+cutShort(cell)+"” under “"+cutShort(c.heading)+"”", r.mend(c.role, err))
				wrong = true
				continue
			}
			texts[c.role] = text
		}
	}
	if wrong || len(texts) == 0 {
		if !wrong && len(texts) == 0 && p.Name != "" {
			r.assumed("no-figure", "", p.Name, one.line)
		}
		return
	}
	p.Text = jobfile.PlacedPart(r.m.Kind+"s", texts)
	r.named(&p, texts)
	for _, f := range jobfile.PartFaults(r.m.Kind+"s", p.Slug, p.Text) {
		if f.Kind == jobfile.Refuse {
			r.fault(one.line, strings.TrimSpace(f.Path+" "+f.Got), f.Want)
			wrong = true
		}
	}
	if wrong {
		return
	}
	if line, twice := r.slugs[p.Slug]; twice {
		r.fault(one.line, "has the part of line "+strconv.Itoa(line)+" again, “"+cutShort(p.Name)+"”", "give each a number or a name of its own")
		return
	}
	r.slugs[p.Slug] = one.line
	r.out.Parts = append(r.out.Parts, p)
}

// named gives a part what it is called by, of its number, its name or its figures.
func (r *partReader) named(p *ListedPart, texts map[string]string) {
	if p.Slug != "" {
		return
	}
	if p.Name != "" {
		p.Slug = jobfile.IDFrom(p.Name)
		return
	}
	var figures []string
	for _, k := range jobfile.PartKeys(r.m.Kind + "s") {
		if t, ok := texts[k.Name]; ok && k.Figure && k.Kind != quantity.Price {
			figures = append(figures, strings.TrimPrefix(t, "maker "))
		}
	}
	p.Name = strings.Join(figures, ", ")
	p.Slug = jobfile.IDFrom(r.m.Kind + " " + p.Name)
}
