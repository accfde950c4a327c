package builds

import (
	"math"
	"strconv"
	"strings"

	"trunnion/chassis/car"
	"trunnion/chassis/finding"
	"trunnion/shop/drawing"
	"trunnion/shop/quantity"
	"trunnion/shop/view"
	"trunnion/shop/wording"
)

// builds makes one column a build.
func (s *page) builds(v *View) {
	a := s.Answer
	sets := make([][4]drawing.Strip, len(a.Job.Builds))
	for i, b := range a.Job.Builds {
		sets[i] = drawing.Strips(a, b.ID, s.Load)
	}
	low, high := drawing.Scale(sets...)
	// A few millimetres of paper on either side. Chosen.
	low, high = low-6e-3, high+6e-3
	var ghost *[4]drawing.Strip
	for i, b := range a.Job.Builds {
		if b.ID == a.Reference {
			ghost = &sets[i]
		}
	}
	for i, b := range a.Job.Builds {
		build := Build{
			ID: b.ID, Name: b.Name, Sub: s.springsOf(b), Price: b.Price, Hours: hours(b), Reference: b.ID == a.Reference,
			Strips: []Strip{}, Controls: s.controls(v, b),
		}
		build.Verdict, build.Sentence = s.summary(b.ID)
		for k := range sets[i] {
			strip := s.strip(b, &sets[i][k], low, high)
			if ghost != nil && b.ID != a.Reference && ghost[k].Known {
				g := &ghost[k]
				strip.Ghost = &Ghost{
					Open: s.KnownLength(g.Open), Loose: s.KnownLength(g.Loose), Rest: s.Length(g.Rest),
					Touch: s.KnownLength(g.Touch), Solid: s.KnownLength(g.Solid), Closed: s.KnownLength(g.Closed),
				}
			}
			build.Strips = append(build.Strips, strip)
		}
		if !sets[i][0].Known {
			build.Strips = []Strip{} // nothing to draw: its sentence says why
		}
		v.Builds = append(v.Builds, build)
	}
}

func hours(b *car.Build) string {
	if !b.Hours.Known() {
		return ""
	}
	return strconv.FormatFloat(math.Round(10*b.Hours.Value/quantity.Hour)/10, 'f', -1, 64) + " h"
}

// springsOf says what a build stands on: "31 and 60 N/mm, click 7 and 7".
func (s *page) springsOf(b *car.Build) string {
	u := quantity.Shown(quantity.Stiffness, s.System)
	var rates []string
	rate := func(i int) string {
		if sp := b.Corner[i].Spring; sp != nil && sp.Rate.Known() {
			return u.Short(sp.Rate.Value, quantity.Auto)
		}
		return ""
	}
	for l := 0; l < 4; l += 2 {
		if text := wording.Sides(rate(l), rate(l+1), "not known"); text != "" {
			rates = append(rates, text)
		}
	}
	text := strings.Join(rates, " / ")
	if text != "" {
		text += " " + u.Label()
	}
	var clicks []string
	click := func(i int) string {
		if b.Setup.HasClick[i] {
			return strconv.Itoa(b.Setup.Click[i])
		}
		return ""
	}
	for l := 0; l < 4; l += 2 {
		if text := wording.Sides(click(l), click(l+1), "none"); text != "" {
			clicks = append(clicks, text)
		}
	}
	if len(clicks) > 0 {
		text += ", click " + strings.Join(clicks, " / ") + " from closed"
	}
	return strings.TrimPrefix(text, ", ")
}

// summary is a build's gravest verdict and what there is to say about it first.
func (s *page) summary(build string) (verdict, sentence string) {
	verdict = "no-limit"
	for i := range s.Findings {
		f := &s.Findings[i]
		if f.Value.Place.Build != build {
			continue
		}
		// The sentence is the first of the worst grade, so that mark and words
		// say the same.
		if v := string(f.Verdict); view.Grades[v] < view.Grades[verdict] {
			verdict, sentence = v, ""
			if view.Loud(f) {
				sentence = s.Teller.Finding(f).What
			}
		}
	}
	for _, f := range s.Answer.Failures {
		if f.Build == build && sentence == "" {
			verdict, sentence = "unknown", s.Teller.Failure(&f)
		}
	}
	if sentence == "" {
		sentence = wording.VerdictSays(finding.Verdict(verdict))
	}
	return verdict, sentence
}
