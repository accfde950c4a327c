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

	"trunnion/chassis/dyno"
	"trunnion/shop/intake"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
	"trunnion/shop/wording"
)

type damperCommand struct {
	Read    damperReadCommand    `cmd:"" help:"Sweeps from the dyno to force over speed by click, with bands."`
	Pair    damperPairCommand    `cmd:"" help:"Two dampers side by side, or one beside its older sweep."`
	Clicks  damperClicksCommand  `cmd:"" help:"What each click is worth on the car: forces, damping ratios, range, steps that feel equal."`
	Presets damperPresetsCommand `cmd:"" help:"Clicks for town, motorway, fast road, wet, bumpy closed road and track, found by driving them."`
	Target  damperTargetCommand  `cmd:"" help:"What to ask the builder for: forces by click and speed from wanted damping ratios."`
	Accept  damperAcceptCommand  `cmd:"" help:"A returned damper's sweep against its order, line by line."`
}

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
	Damper      string            `help:"Which damper, where the files hold several." placeholder:"NAME"`
	At          string            `help:"Skin temperature that the curves are for; that of most runs without it." placeholder:"TEMPERATURE"`
	Partial     bool              `help:"Go on with what can be read when some cannot."`
	Units       string            `enum:"metric,imperial,mixed" default:"metric" help:"Units of the text: ${enum}."`
}

type damperReadCommand struct {
	Files []string `arg:"" optional:"" help:"Files or folders of sweeps."`
	Into  string   `help:"Put the curves into this job file, where the damper has none yet." placeholder:"JOB"`
	As    string   `help:"With --into: id of the damper in the job." placeholder:"ID"`
	sweepFlags
}

type damperPairCommand struct {
	Files []string `arg:"" optional:"" help:"Two files or folders, or one that holds two dampers."`
	Use   string   `enum:"club,race,road" default:"club" help:"Tolerance of common practice: ${enum}."`
	Share string   `help:"A tolerance of your own, such as 4 %." placeholder:"SHARE"`
	Least string   `help:"The least force that counts as apart." placeholder:"FORCE"`
	sweepFlags
}

// errNoFiles is said where no sweep was named.
var errNoFiles = usage("enter the files of a sweep, or their folder")

// Run reads sweeps of dampers into curves.
func (c *damperReadCommand) Run(ctx context.Context, s streams) error {
	system, err := wording.System(c.Units)
	if err != nil {
		return usage("%w", err)
	}
	if len(c.Files) == 0 {
		return errNoFiles
	}
	if (c.Into == "") != (c.As == "") {
		return usage("--into JOB and --as ID go together")
	}
	tell := wording.New(nil, system)
	list, err := c.reduced(ctx, s, c.Files)
	if err != nil {
		return err
	}
	if c.Into != "" && len(list) > 1 {
		return usage("the files hold %s: choose one with --damper: %s", many(len(list), "damper", "dampers"), names(list))
	}
	for i := range list {
		if i > 0 {
			say(s.out, "\n")
		}
		printSwept(s.out, &list[i], tell)
	}
	if c.Into != "" {
		return c.put(s, &list[0])
	}
	return nil
}

func names(list []swept) string {
	var out []string
	for i := range list {
		out = append(out, list[i].name)
	}
	return strings.Join(out, ", ")
}

// mapping is what flags and file answer.
func (c *sweepFlags) mapping() (m intake.SweepMapping, err error) {
	if c.Mapping != "" {
		text, err := os.ReadFile(c.Mapping)
		if err != nil {
			return m, usage("%s cannot be read: %w", c.Mapping, err)
		}
		if err := json.Unmarshal(text, &m); err != nil {
			return m, usage("%s is no mapping: %w", c.Mapping, err)
		}
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
		if !slices.Contains(intake.SweepRoles, role) {
			return m, usage("--column %s=%s: a column is one of %s", name, role, strings.Join(intake.SweepRoles, ", "))
		}
		if m.Columns == nil {
			m.Columns = map[string]string{}
		}
		m.Columns[name] = role
	}
	return m, nil
}

// reduced reads files and makes curves of every damper in them that is wanted.
func (c *sweepFlags) reduced(ctx context.Context, s streams, paths []string) ([]swept, error) {
	m, err := c.mapping()
	if err != nil {
		return nil, err
	}
	reference := 0.0
	if c.At != "" {
		at, err := quantity.Parse(c.At, quantity.Temperature)
		kelvin, err2 := quantity.Find("K", quantity.Temperature)
		if err := errors.Join(err, err2); err != nil {
			return nil, usage("--at: %w", err)
		}
		reference = kelvin.FromSI(at.Value)
	}
	files, err := sweepFiles(paths)
	if err != nil {
		return nil, err
	}
	got, err := intake.ReadSweeps(ctx, files, m)
	if err != nil {
		return nil, err
	}
	for _, f := range got.Faults {
		say(s.err, "%s\n", sweepFault(f))
	}
	for _, q := range got.Questions {
		say(s.err, "%s\n", wrapped(sweepPlace(q.File, q.Line)+wording.SweepQuestion(q.Code, q.About, q.Seen, q.Points, q.Choices), lineWidth, "  "))
	}
	switch {
	case len(got.Questions) > 0:
		return nil, &status{exitUsage, errors.New("the files do not say this and nothing was taken for granted: answer and ask again")}
	case len(got.Faults) > 0 && len(got.Dampers) == 0:
		return nil, &status{exitFaults, errors.New("nothing could be read")}
	case len(got.Faults) > 0 && !c.Partial:
		return nil, &status{exitFaults, errors.New("the rest can be read: --partial goes on with it")}
	}
	var out []swept
	for _, d := range got.Dampers {
		if c.Damper != "" && d.Name != c.Damper {
			continue
		}
		d.Options.Reference = reference
		set, err := dyno.Reduce(d.Runs, d.Options)
		if err != nil {
			tell := wording.New(nil, quantity.Metric)
			for i := range set.LeftOut {
				say(s.err, "%s\n", tell.LeftOut(&set.LeftOut[i], set.Reference))
			}
			return nil, &status{exitNoAnswer, errors.New("no curve: no run that can be used has force in both strokes near one temperature")}
		}
		name := d.Name
		if name == "" {
			name = strings.TrimSuffix(filepath.Base(paths[0]), filepath.Ext(paths[0]))
		}
		out = append(out, swept{name, set, got.Assumptions})
	}
	if len(out) == 0 {
		return nil, usage("no damper is called %q in these files", c.Damper)
	}
	return out, nil
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

// put writes the curves into a job, where the damper has none.
func (c *damperReadCommand) put(s streams, d *swept) error {
	if len(d.set.Adjusters) > 1 {
		return usage("%s has %d adjusters; a job holds the clicks of one: nothing was written", d.name, len(d.set.Adjusters))
	}
	piece, _, err := curvesOf(&d.set)
	if err != nil {
		return err
	}
	text, err := os.ReadFile(c.Into)
	if err != nil {
		return usage("%s cannot be read: %w", c.Into, err)
	}
	path := "parts.dampers." + c.As
	if there, err := jobfile.Piece(text, path+".curves"); err == nil {
		if there == piece {
			say(s.out, "\n%s holds these curves already.\n", c.Into)
			return nil
		}
		return usage("%s has curves in %s already: nothing was written; take them out first, or choose another id", c.As, c.Into)
	}
	after, err := jobfile.Insert(text, path+".curves", piece)
	if err == nil && len(d.set.Adjusters) == 1 {
		clicks := itoa(d.set.Adjusters[0].Clicks)
		if was, missing := jobfile.Piece(after, path+".clicks"); missing == nil && was != clicks {
			return usage("%s has %s clicks in %s, and %s here: nothing was written", c.As, was, c.Into, clicks)
		}
		after, err = jobfile.Put(after, path+".clicks", clicks)
	}
	if err == nil {
		after, err = jobfile.Put(after, path+".origin", "measured")
	}
	if err != nil {
		return usage("the curves cannot be put into %s: %w", c.Into, err)
	}
	if _, faults := jobfile.Read(strings.NewReader(string(after)), c.Into); refused(faults) > 0 {
		before, was := jobfile.Read(strings.NewReader(string(text)), c.Into)
		if before != nil && refused(was) < refused(faults) {
			listFaults(s.err, c.Into, faults)
			return &status{exitFaults, errors.New("with these curves the job has faults: nothing was written")}
		}
	}
	if err := (outFile{Force: true}).write(c.Into, after); err != nil {
		return err
	}
	say(s.out, "\nWritten into %s: %s.curves.\n", c.Into, path)
	return nil
}

// Run holds two dampers side by side.
func (c *damperPairCommand) Run(ctx context.Context, s streams) error {
	system, err := wording.System(c.Units)
	if err != nil {
		return usage("%w", err)
	}
	if len(c.Files) == 0 {
		return errNoFiles
	}
	tell := wording.New(nil, system)
	tolerance := map[string]dyno.Tolerance{"club": dyno.Club, "race": dyno.Race, "road": dyno.Road}[c.Use]
	for _, one := range []struct {
		text string
		kind quantity.Kind
		to   *float64
	}{{c.Share, quantity.Share, &tolerance.Share}, {c.Least, quantity.Force, &tolerance.Least}} {
		if one.text == "" {
			continue
		}
		v, err := quantity.Parse(one.text, one.kind)
		if err != nil {
			return usage("%w", err)
		}
		if v.Value < 0 {
			return usage("a tolerance is not negative")
		}
		*one.to = v.Value
	}
	var both []swept
	switch len(c.Files) {
	case 1:
		list, err := c.reduced(ctx, s, c.Files)
		if err != nil {
			return err
		}
		if len(list) != 2 {
			return usage("%s holds %s: name two files or folders", c.Files[0], many(len(list), "damper", "dampers"))
		}
		both = list
	case 2:
		for _, path := range c.Files {
			list, err := c.reduced(ctx, s, []string{path})
			if err != nil {
				return err
			}
			if len(list) != 1 {
				return usage("%s holds %s: choose one with --damper: %s", path, many(len(list), "damper", "dampers"), names(list))
			}
			both = append(both, list[0])
		}
	default:
		return usage("pair takes two files or folders, or one that holds two dampers")
	}
	a, b := &both[0], &both[1]
	p, err := dyno.Compare(&a.set, &b.set, tolerance)
	if err != nil {
		return &status{exitNoAnswer, err}
	}
	for _, line := range tell.Pair(&p, a.name, b.name, a.set.Adjusters) {
		say(s.out, "%s\n", wrapped(line, lineWidth, ""))
	}
	printDifferences(s.out, &p, a, tell)
	return nil
}
