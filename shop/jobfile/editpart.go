package jobfile

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// Sections are where the parts of an axle stand in a job.
var Sections = map[string]string{"spring": "springs", "helper": "springs", "damper": "dampers", "stop": "stops", "mount": "mounts", "platform": "platforms", "tyre": "tyres", "wheel": "wheels"}

// PartPlace takes apart a path below a build that leads to a part of an axle or of one
// side of it: "front.left.spring.rate" is the rate of the spring at front.left.spring.
// It is false for other paths.
func PartPlace(path string) (place, section, tail string, ok bool) {
	words := strings.Split(path, ".")
	key := 1
	if len(words) > 2 && slices.Contains(sideKeys, words[1]) {
		key = 2
	}
	if len(words) <= key || !slices.Contains(axleKeys, words[0]) || Sections[words[key]] == "" {
		return "", "", "", false
	}
	return strings.Join(words[:key+1], "."), Sections[words[key]], strings.Join(words[key+1:], "."), true
}

// part copies a part of the catalogue into the job and points the path at it.
func (ed *Editor) part(ctx context.Context, e Edit) error {
	section := Sections[e.Path[strings.LastIndexByte(e.Path, '.')+1:]]
	if section == "" {
		return errors.New("no part of the catalogue belongs there")
	}
	if ed.Shelf == nil {
		return errors.New("there is no catalogue here")
	}
	kind, slug, found := strings.Cut(e.Part, ":")
	if !found {
		kind, slug = strings.TrimSuffix(section, "s"), e.Part
	}
	p, err := ed.Shelf.StockedPart(ctx, kind, slug)
	if err != nil {
		return err
	}
	if p.Section != section {
		return fmt.Errorf("%s is a %s: it does not belong there", p.Name, p.Kind)
	}
	piece, err := OnOneLine(p.Text)
	if err != nil {
		return err
	}
	text, id, err := addPart(ed.Text, section, p.Slug, piece)
	if err != nil {
		return err
	}
	ed.Text = text
	was := ed.at(e.Path)
	if err := ed.take(Put(ed.Text, e.Path, id)); err != nil {
		return err
	}
	ed.note(e.Path, id, was, p.Name+", copied from the catalogue as of revision "+strconv.Itoa(p.Revision))
	return nil
}

// addPart puts a part into a job under its own id, or under the next one that is
// free where the job has another part by that id. A part that stands there
// already is used as it is.
func addPart(text []byte, section, own, piece string) (out []byte, id string, err error) {
	id = own
	for n := 2; ; n++ {
		path := "parts." + section + "." + id
		there, missing := Piece(text, path)
		switch {
		case missing != nil:
			out, err = Insert(text, path, piece)
			return out, id, err
		case there == piece:
			return text, id, nil
		}
		id = own + "-" + strconv.Itoa(n)
	}
}

// OnOneLine writes a part's text as a job holds it in braces.
func OnOneLine(text string) (string, error) {
	return Piece([]byte("part: "+indented(text)), "part")
}

// indented makes a block of lines stand below a key.
func indented(text string) string {
	trimmed := strings.TrimSpace(text)
	if strings.HasPrefix(trimmed, "{") {
		return trimmed
	}
	return "\n  " + strings.ReplaceAll(trimmed, "\n", "\n  ")
}
