package main

import (
	"io"
	"math"
	"path/filepath"
	"strconv"

	"trunnion/chassis/clicks"
	"trunnion/chassis/dyno"
	"trunnion/shop/desk"
	"trunnion/shop/intake"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
	"trunnion/shop/wording"
)

func itoa(n int) string { return strconv.Itoa(n) }

// mostSpeeds is how many speeds a table of curves has room for.
const mostSpeeds = 9

// printSwept prints the curves of a damper and what the runs say.
func printSwept(w io.Writer, d *desk.Swept, assumed []intake.SweepAssumption, tell *wording.Teller) {
	set := &d.Set
	head := d.Name + ": " + many(len(set.Curves), "curve", "curves")
	if at := tell.Kelvin(set.Reference); at != "" {
		head += ", at " + at + " of the skin"
	}
	say(w, "%s\n", head)
	printForces(w, set, tell)
	section := func(title string, lines []string) {
		if len(lines) == 0 {
			return
		}
		say(w, "\n%s\n", title)
		for _, one := range lines {
			say(w, "  %s\n", wrapped(one, lineWidth-2, "  "))
		}
	}
	section("Taken off", tell.Static(&set.Static))
	var seen []string
	for _, f := range set.Faults() {
		seen = append(seen, tell.StepFault(&f, set.Adjusters))
	}
	seen = append(seen, tell.LoopSigns(set)...)
	for i := range set.Curves {
		if c := &set.Curves[i]; len(c.Bump.Speed) < 3 {
			seen = append(seen, wording.Upper(wording.Setting(c.Setting, set.Adjusters))+": "+many(len(c.Bump.Speed), "speed", "speeds")+" only; the curve between them is not measured.")
		}
	}
	if len(seen) == 0 {
		seen = []string{"Nothing found in clicks and loops."}
	}
	section("Findings", seen)
	if f, err := clicks.Of(set); err == nil {
		section("Range, softest to hardest", tell.Authority(f, usualSpeed))
	}
	for i := range set.LeftOut {
		seen = append(seen[:0:0], tell.LeftOut(&set.LeftOut[i], set.Reference))
		section("Left out", seen)
	}
	checks := tell.Checks(set)
	if text := tell.HeldOut(set, clicks.HoldOut(set)); text != "" {
		checks = append(checks, text)
	}
	if len(set.Curves) > 0 {
		middle := &set.Curves[len(set.Curves)/2]
		if f, _ := middle.Rebound.At(usualSpeed); !math.IsNaN(f.Value) {
			if text := tell.Fade(&set.Fade, f.Value); text != "" {
				checks = append(checks, text)
			}
		}
	}
	section("Checks", checks)
	var basis []string
	files := map[string]bool{}
	for _, a := range assumed {
		files[a.File] = true
	}
	for _, a := range assumed {
		text := wording.SweepAssumed(a.Code, a.About, a.Value)
		if a.File != "" && len(files) > 2 { // more than one file beside what belongs to none
			text = filepath.Base(a.File) + ": " + text
		}
		basis = append(basis, text)
	}
	section("Basis", basis)
	if len(set.Adjusters) > 1 {
		return
	}
	_, lines, err := jobfile.SweptPiece(set)
	if err != nil {
		return
	}
	say(w, "\nFor the job file, below parts: dampers: ID:\n")
	if len(set.Adjusters) == 1 {
		say(w, "  clicks: %d\n", set.Adjusters[0].Clicks)
	}
	say(w, "  origin: measured\n  curves:\n")
	for _, one := range lines {
		say(w, "    %s\n", one)
	}
}

// usualSpeed is the damper speed at which fade and range are printed [m/s]: that of the
// damping ratio's usual figure.
const usualSpeed = 0.130

// printForces prints both strokes of every curve over the speeds of the first.
func printForces(w io.Writer, set *dyno.Set, tell *wording.Teller) {
	speeds := set.Curves[0].Bump.Speed
	if len(speeds) > mostSpeeds {
		var some []float64
		for i := range mostSpeeds {
			some = append(some, speeds[i*(len(speeds)-1)/(mostSpeeds-1)])
		}
		speeds = some
	}
	v, f := quantity.Shown(quantity.SpeedDamper, tell.System), quantity.Shown(quantity.Force, tell.System)
	t := table{gap: 2}
	row := []string{"Force, " + f.Label()}
	for _, one := range speeds {
		row = append(row, right(v.Number(one, v.Digits()), 6))
	}
	t.row(append(row, v.Label())...)
	for i := range set.Curves {
		c := &set.Curves[i]
		for _, stroke := range dyno.Strokes {
			row := []string{wording.Setting(c.Setting, set.Adjusters) + ", " + string(stroke)}
			wide := 0.0
			for _, one := range speeds {
				b, past := c.Of(stroke).At(one)
				text := f.Number(b.Value, f.Digits())
				if past && one > c.Of(stroke).Top()*1.03 {
					text = "–"
				}
				row = append(row, right(text, 6))
				wide = math.Max(wide, b.Half)
			}
			t.row(append(row, "± "+f.Number(wide, f.Digits()))...)
		}
	}
	t.write(w, lineWidth+20)
	say(w, "Gas and friction taken off as below; ± is half of the widest 95 %% range in the row.\n")
}

// printDifferences prints how far apart two dampers are by setting and speed, in per
// cent of their mean.
func printDifferences(w io.Writer, p *dyno.Pair, a *dyno.Set, tell *wording.Teller) {
	speeds := a.Curves[0].Bump.Speed
	v := quantity.Shown(quantity.SpeedDamper, tell.System)
	t := table{gap: 2}
	row := []string{"First over second, %"}
	for _, one := range speeds[:min(len(speeds), mostSpeeds)] {
		row = append(row, right(v.Number(one, v.Digits()), 6))
	}
	t.row(append(row, v.Label())...)
	var cells []string
	name := ""
	flush := func() {
		if name != "" {
			t.row(append(append([]string{name}, cells...), "")...)
		}
		cells = nil
	}
	share := quantity.Shown(quantity.Share, quantity.Metric)
	for i := range p.All {
		d := &p.All[i]
		if now := wording.Setting(d.Setting, a.Adjusters) + ", " + string(d.Stroke); now != name {
			flush()
			name = now
		}
		text := share.Number(d.Share, 1)
		if d.Use > 1 {
			text += "!"
		}
		if len(cells) < mostSpeeds {
			cells = append(cells, right(text, 6))
		}
	}
	flush()
	say(w, "\n")
	t.write(w, lineWidth+20)
	say(w, "! is outside the tolerance.\n")
}
