package intake

import (
	"bytes"
	"context"
	"errors"
	"runtime"
	"slices"
	"strings"

	"trunnion/chassis/dyno"
	"trunnion/chassis/spread"
)

// ReadSweeps reads files of sweeps: peak tables, averaged curves, full loops, slow and
// gas runs, one or many to a file. What a file does not say and the mapping does not
// either comes back as a question; what was understood, as an assumption; what cannot
// be read, as a fault with its line, and the rest is read.
func ReadSweeps(ctx context.Context, files []SweepFile, m SweepMapping) (*Sweeps, error) {
	parts := make([]blocks, len(files))
	err := spread.Each(ctx, len(files), runtime.GOMAXPROCS(0), func(_, i int) { parts[i] = parsed(files[i], &m) })
	if err != nil {
		return nil, err
	}
	out := &Sweeps{}
	s := sorter{out: out, mapping: &m}
	for i := range parts {
		out.Faults = append(out.Faults, parts[i].faults...)
		out.Assumptions = append(out.Assumptions, parts[i].notes...)
		if parts[i].untitled {
			s.untitled(&parts[i])
		}
		for _, b := range parts[i].list {
			s.add(b)
		}
	}
	s.finish()
	if len(out.Dampers) == 0 && len(out.Questions) == 0 && len(out.Faults) == 0 {
		name := ""
		if len(files) > 0 {
			name = files[0].Name
		}
		out.Faults = append(out.Faults, SweepFault{File: name, Got: "no table of a sweep was found", Want: "the columns need headings such as velocity, bump, rebound; or position, velocity, force"})
	}
	return out, nil
}

// parsed takes one file apart.
func parsed(file SweepFile, m *SweepMapping) blocks {
	b := blocks{file: file.Name, mapping: m, decimal: '.', about: said{}.clone()}
	fail := func(f SweepFault) blocks {
		f.File = file.Name
		b.faults = append(b.faults, f)
		return b
	}
	switch {
	case len(file.Data) > MostBytes:
		return fail(SweepFault{Got: "is larger than 256 MB", Want: "export one damper a file, or fewer readings a turn: 1,000 are enough"})
	case len(bytes.TrimSpace(file.Data)) == 0:
		return fail(SweepFault{Got: "is empty", Want: "export the sweep again"})
	case bytes.HasPrefix(file.Data, []byte{0xd0, 0xcf, 0x11, 0xe0}):
		return fail(SweepFault{Got: "is a workbook of the old kind, or has a password", Want: "save it as XLSX without a password, or as CSV"})
	case bytes.HasPrefix(file.Data, []byte("PK")):
		return b.workbook(file, fail)
	}
	text, from, fault := decoded(file.Data)
	if fault != nil {
		return fail(*fault)
	}
	d, ok := sniffed(text, m.Decimal)
	if !ok {
		return fail(SweepFault{Got: "has no rows of numbers", Want: "export the sweep as CSV with one reading a row"})
	}
	b.decimal = d.decimal
	if from != "UTF-8" {
		b.note("encoding", "", from, 0)
	}
	name := map[byte]string{'.': "point", ',': "comma"}[d.decimal]
	b.note("dialect", delimiterNames[d.delimiter], name, 0)
	if d.unsure {
		b.note("ask-decimal", "", name, 1)
	}
	b.fileSays()
	b.read(d.rows(text))
	return b
}

// workbook reads every sheet.
func (b *blocks) workbook(file SweepFile, fail func(SweepFault) blocks) blocks {
	w, fault := opened(file.Data)
	if fault != nil {
		return fail(*fault)
	}
	defer w.file.Close() //nolint:errcheck // it was only read
	if w.macros {
		b.note("macros-not-run", "", "", 0)
	}
	if w.formulas {
		b.note("formulas-as-saved", "", "", 0)
	}
	for _, sheet := range w.file.GetSheetList() {
		b.file = file.Name + ", sheet " + sheet
		b.now, b.columns, b.about, b.awaits = nil, nil, said{}.clone(), false
		b.fileSays()
		b.title(row{0, false, []string{sheet}})
		b.read(w.rows(sheet))
	}
	return *b
}

func (b *blocks) read(all rows) {
	err := all(b.take)
	if err != nil && !errors.Is(err, errEnough) {
		b.faults = append(b.faults, SweepFault{File: b.file, Got: clip(err.Error()), Want: "export it again"})
	}
}

// untitled asks what columns without headings are.
func (s *sorter) untitled(b *blocks) {
	for _, one := range b.list {
		roles := 0
		for _, c := range one.columns {
			if c.role != "" {
				roles++
			}
		}
		if roles < 2 {
			s.ask(SweepQuestion{Code: "columns", File: b.file, Line: one.line, Choices: SweepRoles, Seen: firstRow(one)})
			return
		}
	}
}

func firstRow(b *block) string {
	var list []string
	for i := range b.data {
		list = append(list, plain(b.data[i][0]))
	}
	return strings.Join(list, "  ")
}

// finish sorts the pieces by damper and settles what concerns all of them.
func (s *sorter) finish() {
	for i, a := range s.out.Assumptions {
		if a.Code == "ask-decimal" {
			s.out.Assumptions = slices.Delete(s.out.Assumptions, i, i+1)
			s.ask(SweepQuestion{Code: "decimal", File: a.File, Line: a.Line, Choices: []string{"point", "comma"}, Points: a.Value})
			break
		}
	}
	if len(s.pieces) == 0 {
		return
	}
	compression := s.compression()
	adjusters, roles := s.adjusters()
	off := s.gasAndFriction()
	if len(s.out.Questions) > 0 {
		return
	}
	at := map[string]int{}
	for _, p := range s.pieces {
		i, known := at[p.about.damper]
		if !known {
			i = len(s.out.Dampers)
			at[p.about.damper] = i
			s.out.Dampers = append(s.out.Dampers, SweptDamper{Name: p.about.damper, Options: dyno.Options{Adjusters: adjusters, Gas: off[0], Friction: off[1]}})
		}
		d := &s.out.Dampers[i]
		d.Runs = append(d.Runs, s.runs(p, compression, roles)...)
	}
	for i := range s.out.Dampers {
		s.gasColumn(&s.out.Dampers[i])
	}
}
