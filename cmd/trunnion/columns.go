package main

import (
	"sort"
	"strconv"
	"strings"

	"github.com/rivo/uniseg"

	"trunnion/chassis/car"
	"trunnion/chassis/drives"
	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
	"trunnion/shop/wording"
)

// labelWidth is the width of the rows' names; mostAcross builds stand beside
// each other, more go below.
const (
	labelWidth = 20
	mostAcross = 4
)

// cell is some lines under a build, the first of which may carry a verdict.
type cell struct {
	verdict finding.Verdict // empty for none
	lines   []string
}

// side prints rows of cells with the builds in columns.
func (r *report) side(builds []*car.Build, rows []string, cells func(row int, b *car.Build) cell, apart bool) {
	width := (lineWidth - labelWidth) / min(mostAcross, max(len(builds), 2))
	head := make([][]string, len(builds))
	high := 0
	for i, b := range builds {
		head[i] = lines(r.tell.Build(b.ID), width-1)
		high = max(high, len(head[i]))
	}
	for k := range high {
		line := strings.Repeat(" ", labelWidth)
		for i := range builds {
			text := ""
			if k < len(head[i]) {
				text = head[i][k]
			}
			line += padded(text, width)
		}
		r.line("%s", line)
	}
	for row, name := range rows {
		label := lines(name, labelWidth-1)
		all := make([]cell, len(builds))
		high := len(label)
		for i, b := range builds {
			all[i] = cells(row, b)
			high = max(high, len(all[i].lines))
		}
		if apart {
			r.line("")
		}
		for k := range high {
			line := ""
			if k < len(label) {
				line = label[k]
			}
			line = padded(line, labelWidth)
			for i := range all {
				text := ""
				if k < len(all[i].lines) {
					text = all[i].lines[k]
				}
				if k == 0 && all[i].verdict != "" {
					word := verdictWidth(all[i].verdict)
					line += r.verdict(all[i].verdict, word) + padded(text, width-word)
					continue
				}
				line += padded(text, width)
			}
			r.line("%s", line)
		}
	}
}

// verdictWidth is the room of a verdict's word: the three short ones leave a
// figure more.
func verdictWidth(v finding.Verdict) int {
	if v == finding.NoLimit || v == finding.Unknown {
		return 9
	}
	return 7
}

// across calls print for as many builds as fit beside each other at a time.
func (r *report) across(print func(builds []*car.Build)) {
	for from := 0; from < len(r.builds); from += mostAcross {
		if from > 0 {
			r.line("")
		}
		print(r.builds[from:min(from+mostAcross, len(r.builds))])
	}
}

// matrix is the findings with the builds in columns, worst row first. Rows that
// are clear everywhere, or have no limit, are named below it.
func (r *report) matrix() {
	best := map[string]*finding.Finding{} // by code and build: the gravest
	rank := map[string]int{}              // by code: of its gravest finding
	loud := map[string]bool{}
	var codes, quiet []string
	seen := map[string]bool{}
	for _, b := range r.builds {
		for _, f := range r.shown(b.ID) {
			key := f.Code + " " + b.ID
			if g := best[key]; g == nil || f.Rank < g.Rank {
				best[key] = f
			}
			if n, ok := rank[f.Code]; !ok || f.Rank < n {
				rank[f.Code] = f.Rank
			}
			if f.Verdict == finding.Over || f.Verdict == finding.Close || f.Verdict == finding.Unknown {
				loud[f.Code] = true
			}
			if !seen[f.Code] {
				seen[f.Code] = true
				codes = append(codes, f.Code)
			}
		}
	}
	sort.SliceStable(codes, func(i, j int) bool { return rank[codes[i]] < rank[codes[j]] })
	var rows, shown []string
	for _, code := range codes {
		if !loud[code] {
			quiet = append(quiet, strings.ToLower(wording.Row(code)))
			continue
		}
		name := wording.Row(code)
		for _, b := range r.builds {
			if f := best[code+" "+b.ID]; f != nil {
				if unit := r.tell.Unit(f.Value.Code); unit != "" {
					name += ", " + unit
				}
				break
			}
		}
		rows, shown = append(rows, name), append(shown, code)
	}
	r.title("Findings, worst first")
	if len(rows) == 0 {
		r.line("%s", wording.NothingFound)
		return
	}
	r.across(func(builds []*car.Build) {
		r.side(builds, rows, func(row int, b *car.Build) cell { return r.findingCell(best[shown[row]+" "+b.ID]) }, true)
	})
	r.line("")
	r.para(wording.MatrixNote, "")
	r.listed("Clear or without a limit everywhere: ", quiet)
}

func (r *report) findingCell(f *finding.Finding) cell {
	if f == nil {
		return cell{lines: []string{"not judged"}}
	}
	v := f.Value
	c := cell{verdict: f.Verdict}
	c.lines = append(c.lines, r.tell.Cell(v))
	width := (lineWidth-labelWidth)/mostAcross - 1
	if band := r.tell.Span(v); band != "" {
		c.lines = append(c.lines, lines(band, width)...)
	}
	where := strings.TrimSpace(cornerMark(&v.Place) + " " + wording.Lower(r.tell.Load(v.Place.Load)))
	if uniseg.StringWidth(where) > width {
		c.lines = append(c.lines, lines(where, width)...)
	} else {
		c.lines = append(c.lines, where)
	}
	return c
}

// mainFigures are the rows of a load state's table, front and rear.
var mainFigures = []struct {
	code, name string
}{
	{"arch-height", "Height"},
	{"travel-to-stop", "To stop"},
	{"travel-to-solid", "To solid"},
	{"travel-to-open", "Rebound"},
	{"spring-gap-open", "Preload"},
	{"wheel-rate", "Wheel rate"},
	{"corner-frequency", "No tyre"},
	{"corner-frequency-on-tyre", "On tyre"},
	{"damping-ratio", "Ratio"},
}

// figures is the main figures of every load state.
func (r *report) figures() {
	r.title("Main figures, left and right")
	r.para(r.tell.FiguresNote(r.answer.Options.MainSpeed), "")
	for i := range r.loads {
		l := &r.loads[i]
		r.line("")
		r.line("%s", r.tell.Load(l.ID))
		var rows []string
		var keys []int
		for k, row := range mainFigures {
			for a, side := range [2]string{", front", ", rear"} {
				if r.known(row.code, l.ID, 2*a) {
					rows, keys = append(rows, row.name+side), append(keys, 2*k+a)
				}
			}
		}
		r.across(func(builds []*car.Build) {
			r.side(builds, rows, func(row int, b *car.Build) cell {
				k, a := keys[row]/2, keys[row]%2
				return cell{lines: []string{r.pair(mainFigures[k].code, b.ID, l.ID, 2*a)}}
			}, false)
		})
	}
	r.modes()
}

// known reports whether any build has the code at either corner of an axle.
func (r *report) known(code, load string, left int) bool {
	for _, b := range r.builds {
		for i := left; i < left+2; i++ {
			if v := r.answer.Get(code, b.ID, load, i); v != nil && v.State != figure.Unknown {
				return true
			}
		}
	}
	return false
}

// pair is the values of the two corners of an axle.
func (r *report) pair(code, build, load string, left int) string {
	out := ""
	for i := left; i < left+2; i++ {
		v := r.answer.Get(code, build, load, i)
		text := "–"
		if v != nil && v.State != figure.Unknown {
			text = r.tell.Number(code, wording.Sided(code, v.Value)) + mark(v)
			if wording.Wrong(code, v.Value) {
				text += wording.WrongMark
			}
		}
		out += padded(text, 9)
	}
	return out
}

func mark(v *figure.Value) string {
	switch v.State {
	case figure.FromGuesses:
		return "~"
	case figure.Outside:
		return ">"
	case figure.OK, figure.Unknown:
	}
	return ""
}

// modes are the seven modes of the usual load state, with their ratio.
func (r *report) modes() {
	load := ""
	for i := range r.loads {
		if r.loads[i].ID == r.job.Brief.UsualLoad {
			load = r.loads[i].ID
		}
	}
	if load == "" && len(r.loads) > 0 {
		load = r.loads[0].ID
	}
	var rows []string
	found := map[string][2]*figure.Value{}
	for i := range r.answer.Values {
		v := &r.answer.Values[i]
		if v.Place.Load != load || v.Place.Mode == "" || v.Tier != figure.ModesTier {
			continue
		}
		key := v.Place.Mode + " " + v.Place.Build
		pair := found[key]
		switch v.Code {
		case "mode-frequency":
			pair[0] = v
		case "mode-damping":
			pair[1] = v
		}
		found[key] = pair
		if len(r.builds) > 0 && v.Place.Build == r.builds[0].ID && v.Code == "mode-frequency" {
			rows = append(rows, v.Place.Mode)
		}
	}
	if len(rows) == 0 {
		return
	}
	r.line("")
	r.line("%s", "Modes, "+wording.Lower(r.tell.Load(load))+": frequency in Hz and damping ratio")
	names := make([]string, len(rows))
	for i, m := range rows {
		names[i] = strings.ToUpper(m[:1]) + strings.ReplaceAll(m[1:], "-", " ")
	}
	r.across(func(builds []*car.Build) {
		r.side(builds, names, func(row int, b *car.Build) cell {
			pair := found[rows[row]+" "+b.ID]
			if pair[0] == nil || pair[1] == nil {
				return cell{lines: []string{"–"}}
			}
			return cell{lines: []string{padded(r.tell.Number("mode-frequency", pair[0].Value), 9) + r.tell.Number("mode-damping", pair[1].Value)}}
		}, false)
	})
}

// drive is one row of the drives: a code at a place without its build.
type drive struct {
	code  string
	place figure.Place
}

// block is one kind of result of the drives.
type block struct {
	code  string
	event bool
	level int // of the forces from which a hit counts, from 1; 0: it is about none
	at    string
}

// drives prints what the brief's roads and obstacles did.
func (r *report) drives(blocks []block) {
	titled := false
	for _, want := range blocks {
		force := 0.0
		if forces := drives.OptionsOf(r.answer).StopForces; want.level > 0 {
			if want.level > len(forces) {
				continue
			}
			force = forces[want.level-1]
		}
		var rows []drive
		var names, quiet []string
		seen := map[string]int{}
		loud := map[int]bool{}
		for i := range r.answer.Values {
			v := &r.answer.Values[i]
			p := v.Place
			if v.Code != want.code || v.Tier != figure.Time || (p.Event != "") != want.event || p.Threshold != force ||
				!r.keep(p.Build, p.Load) || want.at != "" && p.At != want.at {
				continue
			}
			p.Build, p.Corner, p.Mode = "", figure.NoCorner, "" // of all corners and of both axles
			key := p.Road + p.Event + p.Load + strconv.FormatFloat(p.Speed, 'g', -1, 64)
			if _, ok := seen[key]; !ok {
				seen[key] = len(rows)
				rows = append(rows, drive{v.Code, p})
			}
			loud[seen[key]] = loud[seen[key]] || want.code != "stop-hits" || v.Value > 0 || v.State == figure.Unknown
		}
		shown := rows[:0:0]
		for k, d := range rows {
			if name := r.tell.Drive(&d.place); loud[k] {
				shown, names = append(shown, d), append(names, name)
			} else {
				quiet = append(quiet, wording.Lower(name))
			}
		}
		if len(rows) == 0 {
			continue
		}
		if !titled {
			r.title("Full simulation, worst corner")
			titled = true
		} else {
			r.line("")
		}
		r.line("%s", r.tell.Driven(want.code, want.at, force))
		if len(shown) > 0 {
			r.across(func(builds []*car.Build) {
				r.side(builds, names, func(row int, b *car.Build) cell { return r.worstOf(shown[row], b.ID) }, false)
			})
		}
		if len(quiet) > 0 {
			r.para(wording.NoneOn(quiet), "")
		}
	}
}

// worstOf is the greatest value over the corners.
func (r *report) worstOf(d drive, build string) cell {
	var worst *figure.Value
	for i := range r.answer.Values {
		v := &r.answer.Values[i]
		p := v.Place
		if v.Code != d.code || p.Build != build || v.Tier != figure.Time {
			continue
		}
		p.Build, p.Corner, p.Mode = "", figure.NoCorner, "" // of all corners and of both axles
		if p == d.place && v.State != figure.Unknown && (worst == nil || v.Value > worst.Value) {
			worst = v
		}
	}
	if worst == nil {
		return cell{lines: []string{"–"}}
	}
	text := r.tell.Cell(worst) + mark(worst)
	if m := cornerMark(&worst.Place); m != "" {
		text += " " + m
	}
	out := cell{lines: []string{text}}
	if band := r.tell.Span(worst); band != "" {
		out.lines = append(out.lines, band)
	}
	return out
}
