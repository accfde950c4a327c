package builds

import (
	"math"
	"strconv"
	"strings"

	"trunnion/chassis/car"
	"trunnion/shop/quantity"
	"trunnion/shop/view"
	"trunnion/shop/wording"
)

// warnings lists what the reader must know, failures first.
func (s *page) warnings(v *View) {
	for i := range s.Answer.Failures {
		f := &s.Answer.Failures[i]
		v.Warnings = append(v.Warnings, Note{Text: s.Teller.Failure(f), Build: f.Build})
	}
	for i := range s.Answer.Warnings {
		w := &s.Answer.Warnings[i]
		if w.Load != "" && w.Load != s.Load && w.Code != "draws-without-rest" {
			continue
		}
		v.Warnings = append(v.Warnings, Note{Text: s.Teller.Warning(w), Build: w.Build, Path: w.Path})
	}
	for i := range s.Job.Open {
		o := &s.Job.Open[i]
		v.Warnings = append(v.Warnings, Note{Text: wording.Label(o.Path) + ": " + phrase(o.Got) + "; " + phrase(o.Want), Path: o.Path})
	}
}

// phrase is a problem's text without figures of its own.
func phrase(p car.Phrase) string {
	text := p.Text
	for _, a := range p.Amounts {
		shown := a.Typed
		if shown == "" {
			shown = strconv.FormatFloat(a.Value, 'g', 4, 64) + " " + a.Unit
		}
		text = strings.Replace(text, "{}", shown, 1)
	}
	return text
}

// input names a reading as the page calls its part or build: no id is shown.
func (v *View) input(path string) string {
	words := strings.Split(path, ".")
	if len(words) < 4 {
		return wording.Input(path)
	}
	switch words[0] {
	case "parts":
		for _, list := range [][]Outlined{v.Outline.Springs, v.Outline.Dampers, v.Outline.Stops, v.Outline.Platforms} {
			for _, o := range list {
				if o.ID == words[2] {
					_, what, _ := strings.Cut(wording.Input(path), ": ")
					return strings.TrimSuffix(words[1], "s") + " (" + o.Label + "): " + what
				}
			}
		}
		return strings.Replace(wording.Input(path), words[2], strings.ReplaceAll(words[2], "-", " "), 1)
	case "builds":
		for i := range v.Builds {
			if b := &v.Builds[i]; b.ID == words[1] {
				return strings.Replace(wording.Input(path), words[1], "“"+b.Name+"”,", 1)
			}
		}
	}
	return wording.Input(path)
}

// measureNext names what figures stay open without, then the inputs that would narrow
// the gravest findings most.
func (s *page) measureNext(v *View) {
	const most = 4
	seen := map[string]bool{}
	for _, m := range wording.MissingReadings(s.Job.Open) {
		if len(v.MeasureNext) < most-1 {
			v.MeasureNext = append(v.MeasureNext, Measure{Text: m.Text, Path: m.Path, Minutes: float64(m.Minutes)})
		}
	}
	looked := 0
	for i := range s.Findings {
		f := &s.Findings[i]
		if !view.Loud(f) || looked >= 6 || len(v.MeasureNext) >= most {
			continue
		}
		looked++
		n := s.Answer.Narrow(f.Value)
		if n == nil || seen[n.Path] {
			continue
		}
		seen[n.Path] = true
		told := s.Teller.Measure(f.Value, n)
		narrows := strings.TrimPrefix(told, wording.Upper(wording.Input(n.Path)))
		text := wording.Upper(v.input(n.Path))
		if at := strings.Index(narrows, ": "); at >= 0 {
			narrows = narrows[at+2:]
		}
		v.MeasureNext = append(v.MeasureNext, Measure{Text: text, Path: n.Path, Minutes: math.Round(n.Effort / quantity.Minute), Narrows: narrows})
	}
}
