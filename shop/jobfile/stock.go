package jobfile

import (
	"slices"
	"strings"

	"trunnion/chassis/car"
)

// stockShape is a list of parts without a job around it.
var stockShape = anObject(may("parts", "each by its id", jobShape.has("parts")))

// StockIn are the springs of a text that has parts as a job has them: a catalogue's
// file, or another job.
func StockIn(text []byte) []Stocked {
	var out []Stocked
	for _, f := range Fields(text) {
		words := strings.Split(f.Path, ".")
		if len(words) < 4 || words[0] != "parts" || words[1] != "springs" || slices.ContainsFunc(out, func(s Stocked) bool { return s.Slug == words[2] }) {
			continue
		}
		piece, err := Piece(text, strings.Join(words[:3], "."))
		if err == nil {
			out = append(out, Stocked{Kind: "spring", Section: "springs", Slug: words[2], Name: words[2], Text: piece})
		}
	}
	return out
}

// Springs makes springs of a catalogue's parts. One that cannot be read is left out:
// whoever fits it is told why.
func Springs(list []Stocked) []*car.SpringSpec {
	var out []*car.SpringSpec
	for i := range list {
		if s := spring(&list[i]); s != nil {
			out = append(out, s)
		}
	}
	return out
}

func spring(p *Stocked) *car.SpringSpec {
	if p.Section != "springs" {
		return nil
	}
	piece, err := OnOneLine(p.Text)
	if err != nil {
		return nil
	}
	root, fault := parse([]byte("parts: {springs: {" + p.Slug + ": " + piece + "}}"))
	if fault != nil {
		return nil
	}
	w := &walker{}
	top := w.walk(root, stockShape, "")
	if top == nil || w.refused() {
		return nil
	}
	b := newBuilder(w, top.at("parts"))
	b.allParts()
	s := b.springs[p.Slug]
	if s == nil || w.refused() {
		return nil
	}
	s.Stocked, s.Called = p.Kind+":"+p.Slug, p.Name
	return s
}
