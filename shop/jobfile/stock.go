package jobfile

import (
	"slices"
	"strings"

	"trunnion/chassis/car"
)

// stockShape is a list of parts without a job around it.
var stockShape = anObject(may("parts", "each by its id", jobShape.has("parts")))

// Sold are the kinds of parts that can be bought, in the order in which they are looked at.
var Sold = []string{"spring", "damper", "stop"}

// sold reports a section of a job that holds a kind of part that can be bought.
func sold(kind, section string) bool { return slices.Contains(Sold, kind) && Sections[kind] == section }

// StockIn are the parts of a text that has them as a job does and that can be bought: a
// catalogue's file, or another job.
func StockIn(text []byte) []Stocked {
	var out []Stocked
	seen := map[string]bool{}
	for _, f := range Fields(text) {
		words := strings.Split(f.Path, ".")
		if len(words) < 4 || words[0] != "parts" {
			continue
		}
		kind := strings.TrimSuffix(words[1], "s")
		path := strings.Join(words[:3], ".")
		if !sold(kind, words[1]) || seen[path] {
			continue
		}
		seen[path] = true
		if piece, err := Piece(text, path); err == nil {
			out = append(out, Stocked{Kind: kind, Section: words[1], Slug: words[2], Name: words[2], Text: piece})
		}
	}
	return out
}

// ReadStock makes parts of a catalogue's texts. One that cannot be read is left out:
// whoever fits it is told why.
func ReadStock(list []Stocked) car.Stock {
	var out car.Stock
	for i := range list {
		p := &list[i]
		b := stocked(p)
		if b == nil {
			continue
		}
		named := func(s *car.Sold) { s.Stocked, s.Called = p.Kind+":"+p.Slug, p.Name }
		switch p.Section {
		case "springs":
			if s := b.springs[p.Slug]; s != nil {
				named(&s.Sold)
				out.Springs = append(out.Springs, s)
			}
		case "dampers":
			if d := b.dampers[p.Slug]; d != nil {
				named(&d.Sold)
				out.Dampers = append(out.Dampers, d)
			}
		case "stops":
			if s := b.stops[p.Slug]; s != nil {
				named(&s.Sold)
				out.Stops = append(out.Stops, s)
			}
		}
	}
	return out
}

// stocked reads one part; nil where it cannot be read.
func stocked(p *Stocked) *builder {
	if !sold(p.Kind, p.Section) {
		return nil
	}
	piece, err := OnOneLine(p.Text)
	if err != nil {
		return nil
	}
	root, fault := parse([]byte("parts: {" + p.Section + ": {" + p.Slug + ": " + piece + "}}"))
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
	if w.refused() {
		return nil
	}
	return b
}
