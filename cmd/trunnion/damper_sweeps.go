package main

import (
	"context"
	"encoding/json"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"trunnion/shop/desk"
	"trunnion/shop/intake"
	"trunnion/shop/quantity"
	"trunnion/shop/wording"
)

// sweepFlags are what the files of a sweep do not say.
type sweepFlags struct {
	Compression string            `enum:",positive,negative" default:"" help:"Sign of the force in compression: positive or negative."`
	Counted     string            `enum:",closed,open" default:"" help:"End that clicks are counted from: closed or open."`
	Clicks      []int             `help:"Clicks from closed to open; of several adjusters in their order." placeholder:"N"`
	Gas         string            `help:"Gas in a table's forces: removed, included, or its push-out." placeholder:"FORCE"`
	Friction    string            `help:"Friction in a table's forces: removed, left-in, included, or the force." placeholder:"FORCE"`
	Unit        map[string]string `help:"Unit of a column that names none: --unit force=lbf." placeholder:"ROLE=UNIT"`
	Column      map[string]string `help:"What a column holds, by its heading or number: --column 3=rebound." placeholder:"NAME=ROLE"`
	Decimal     string            `enum:",point,comma" default:"" help:"Decimal sign: point or comma."`
	Frequency   string            `help:"Of the crank, where neither velocity nor time stands there." placeholder:"FREQUENCY"`
	Mapping     string            `help:"Answers as a JSON file; flags go before it." placeholder:"FILE"`
	Partial     bool              `help:"Go on with what can be read when some cannot."`
	inUnits
	Format string `enum:"text,json" default:"text" help:"What to print: ${enum}."`
}

// readMapping reads the answers that a file holds; none is named by an empty path.
func readMapping(path string, into any) error {
	if path == "" {
		return nil
	}
	text, err := os.ReadFile(path)
	if err != nil {
		return usage("%s cannot be read: %w", path, err)
	}
	if err := json.Unmarshal(text, into); err != nil {
		return usage("%s is no mapping: %w", path, err)
	}
	return nil
}

// mapping is what flags and file answer.
func (c *sweepFlags) mapping() (m intake.SweepMapping, err error) {
	if err := readMapping(c.Mapping, &m); err != nil {
		return m, err
	}
	for _, one := range []struct {
		to   *string
		from string
	}{{&m.Compression, c.Compression}, {&m.Counted, c.Counted}, {&m.Gas, c.Gas}, {&m.Friction, c.Friction}, {&m.Decimal, c.Decimal}, {&m.Frequency, c.Frequency}} {
		if one.from != "" {
			*one.to = one.from
		}
	}
	if c.Clicks != nil {
		m.Clicks = c.Clicks
	}
	for role, unit := range c.Unit {
		if m.Units == nil {
			m.Units = map[string]string{}
		}
		m.Units[role] = unit
	}
	for name, role := range c.Column {
		if m.Columns == nil {
			m.Columns = map[string]string{}
		}
		m.Columns[name] = role
	}
	return m, nil
}

// into puts files and what the flags say of them into an ask.
func (c *sweepFlags) into(ask *desk.SweepsAsk, paths []string) (err error) {
	if ask.Mapping, err = c.mapping(); err != nil {
		return err
	}
	ask.Files, err = sweepFiles(paths)
	return err
}

// reduced reads files and makes curves of every damper in them that is wanted.
func (c *sweepFlags) reduced(ctx context.Context, s streams, ask desk.SweepsAsk, paths []string) (*desk.Sweeps, error) {
	if err := c.into(&ask, paths); err != nil {
		return nil, err
	}
	got, err := asking().Sweeps(ctx, ask)
	if err != nil {
		return nil, unanswered(ctx, err)
	}
	return got, c.unready(s, got)
}

// unready says what is asked of the files and what could not be read in them; it is an
// error where that ends the command.
func (c *sweepFlags) unready(s streams, got *desk.Sweeps) error {
	for _, f := range got.Faults {
		say(s.err, "%s\n", sweepFault(f))
	}
	for _, q := range got.Questions {
		say(s.err, "%s\n", wrapped(sweepPlace(q.File, q.Line)+wording.SweepQuestion(q.Code, q.About, q.Seen, q.Points, q.Choices), lineWidth, "  "))
	}
	switch {
	case len(got.Questions) > 0:
		return &status{exitUsage, errors.New("the files do not say this and nothing was taken for granted: answer and ask again")}
	case len(got.Faults) > 0 && len(got.Dampers) == 0:
		return &status{exitFaults, errors.New("nothing could be read")}
	case len(got.Faults) > 0 && !c.Partial:
		return &status{exitFaults, errors.New("the rest can be read: --partial goes on with it")}
	}
	for i := range got.Bare {
		set := &got.Bare[i].Set
		tell := wording.New(nil, quantity.Metric)
		for k := range set.LeftOut {
			say(s.err, "%s\n", tell.LeftOut(&set.LeftOut[k], set.Reference))
		}
	}
	if len(got.Bare) > 0 {
		return &status{exitNoAnswer, errors.New("no curve: no run that can be used has force in both strokes near one temperature")}
	}
	return nil
}

// sweepPlace is the file and line before a message.
func sweepPlace(file string, line int) string {
	if line > 0 {
		return file + ", line " + itoa(line) + ": "
	}
	return file + ": "
}

func sweepFault(f intake.SweepFault) string {
	return sweepPlace(f.File, f.Line) + f.Got + "; " + f.Want
}

// sweepFiles reads the files named, and those of the kinds of a sweep in the folders
// named.
func sweepFiles(paths []string) ([]intake.SweepFile, error) {
	var names []string
	for _, path := range paths {
		info, err := os.Stat(path)
		if err != nil {
			return nil, usage("%s cannot be read: %w", path, err)
		}
		if !info.IsDir() {
			names = append(names, path)
			continue
		}
		found := 0
		err = filepath.WalkDir(path, func(at string, e fs.DirEntry, err error) error {
			if err == nil && !e.IsDir() && slices.Contains([]string{".csv", ".txt", ".tsv", ".dat", ".xlsx", ".xlsm"}, strings.ToLower(filepath.Ext(at))) {
				names, found = append(names, at), found+1
			}
			return err
		})
		if err != nil {
			return nil, usage("%s cannot be read: %w", path, err)
		}
		if found == 0 {
			return nil, usage("%s holds no file of a sweep: .csv, .txt, .tsv, .dat or .xlsx", path)
		}
	}
	var out []intake.SweepFile
	for _, name := range names {
		data, err := readMost(name)
		if err != nil {
			return nil, usage("%s cannot be read: %w", name, err)
		}
		out = append(out, intake.SweepFile{Name: filepath.ToSlash(name), Data: data})
	}
	return out, nil
}

// readMost reads a file, up to a byte more than intake takes.
func readMost(name string) (data []byte, err error) {
	file, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer file.Close() //nolint:errcheck // it was only read
	return io.ReadAll(io.LimitReader(file, intake.MostBytes+1))
}
