package main

import (
	"bytes"
	"strings"

	"github.com/rivo/uniseg"

	"trunnion/chassis/car"
	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
	"trunnion/shop/wording"
)

// report is an assessment being printed.
type report struct {
	*assessed
	paint
	bytes.Buffer
	builds []*car.Build
	loads  []car.Load
}

func (r *report) line(format string, args ...any) { say(&r.Buffer, format+"\n", args...) }

func (r *report) para(text, indent string) {
	r.line("%s%s", indent, wrapped(text, lineWidth-len(indent), indent))
}

func cornerMark(p *figure.Place) string {
	if p.Corner >= 0 && p.Corner < 4 {
		return wording.Corners[p.Corner]
	}
	return p.Mode
}

func (r *report) listed(lead string, names []string) {
	var once []string
	seen := map[string]bool{}
	for _, n := range names {
		if !seen[n] {
			seen[n] = true
			once = append(once, n)
		}
	}
	if len(once) > 0 {
		r.line("%s", hung(lead, strings.Join(once, ", ")+"."))
	}
}

// paint says whether marks carry colour on top of their word.
type paint bool

// verdict is a verdict's word, coloured where that is wanted, padded first so
// that columns stay where they are.
func (p paint) verdict(v finding.Verdict, width int) string {
	text := padded(wording.Verdict(v), width)
	if !p {
		return text
	}
	switch v {
	case finding.Over:
		return "\x1b[1;31m" + text + "\x1b[0m"
	case finding.Close:
		return "\x1b[33m" + text + "\x1b[0m"
	case finding.Clear:
		return "\x1b[32m" + text + "\x1b[0m"
	case finding.NoLimit, finding.Unknown:
	}
	return text
}

// shown are the findings of a build that the flags leave in.
func (r *report) shown(build string) []*finding.Finding {
	var out []*finding.Finding
	for i := range r.findings {
		f := &r.findings[i]
		if p := &f.Value.Place; p.Build == build && r.keep(p.Build, p.Load) {
			out = append(out, f)
		}
	}
	return out
}

// title is a section's name, ruled off from what is above.
func (r *report) title(text string) {
	r.line("")
	r.line("%s %s", text, strings.Repeat("─", max(0, lineWidth-uniseg.StringWidth(text)-1)))
}
