package jobfile

import (
	"context"
	"errors"
	"fmt"
	"strconv"
	"strings"
)

// preset makes a new build of one of the workshop's presets: the parts it names
// are copied into the job, under names of their own where the job has others by
// the same.
func (ed *Editor) preset(ctx context.Context, e Edit) error {
	to, err := ed.newBuild(e.Path, "a preset becomes a build of its own, such as builds.town")
	if err != nil {
		return err
	}
	if ed.Shelf == nil {
		return errors.New("there are no presets here")
	}
	p, err := ed.Shelf.StockedPreset(ctx, e.Preset)
	if err != nil {
		return err
	}
	out, err := WithPreset(ed.Text, []byte(p.Text), strings.TrimPrefix(to, "builds."))
	if err != nil {
		return err
	}
	name := e.Name
	if name == "" {
		name = p.Name
	}
	if err := ed.take(Put(out, to+".name", name)); err != nil {
		return err
	}
	ed.note(to, name, "", "the preset "+p.Name+" as of revision "+strconv.Itoa(p.Revision))
	return nil
}

// partID is a part as a job names it.
type partID struct{ section, id string }

func (p partID) path() string { return "parts." + p.section + "." + p.id }

// names is the part that a field names: under a build by what stands there, a helper
// being a spring; under a part the one that it is made of.
func (f *Field) names() (part partID, ok bool) {
	words := strings.Split(strings.TrimSuffix(f.Path, ".use"), ".")
	if f.Form != "part" && !strings.HasSuffix(f.Path, ".use") {
		return partID{}, false
	}
	section := Sections[words[len(words)-1]]
	if words[0] == "parts" && len(words) > 2 {
		section = words[1]
	}
	id := strings.TrimSpace(f.Typed)
	return partID{section, id}, section != "" && id != noPart
}

// WithPreset puts a preset, the text of one build and its parts, into a job as a new
// build, and copies its parts. A part that the job has already under the id with
// other figures is copied under another one, and whoever names it in the preset names
// that. Every other byte of the job stays.
func WithPreset(job, preset []byte, to string) ([]byte, error) {
	if _, err := Piece(job, "builds."+to); err == nil {
		return nil, fmt.Errorf("a build of the id %s is there already", to)
	}
	fields := Fields(preset)
	from := ""
	for i := range fields {
		if words := strings.Split(fields[i].Path, "."); words[0] == "builds" && len(words) > 1 {
			from = words[1]
			break
		}
	}
	if from == "" {
		return nil, errors.New("the preset has no build")
	}
	c := copier{preset: preset, fields: fields, out: job, ids: map[partID]string{}}
	for i := range fields {
		if words := strings.Split(fields[i].Path, "."); words[0] == "parts" && len(words) > 2 {
			if err := c.part(partID{words[1], words[2]}, 0); err != nil {
				return nil, err
			}
		}
	}
	piece, err := Piece(preset, "builds."+from)
	if err != nil {
		return nil, err
	}
	if c.out, err = Insert(c.out, "builds."+to, piece); err != nil {
		return nil, err
	}
	return c.out, c.follow("builds."+from, "builds."+to)
}

// copier copies the parts of a preset into a job.
type copier struct {
	preset []byte
	fields []Field
	out    []byte
	ids    map[partID]string // of a part copied, in the job
}

// mostMade is how often a part may be made of another.
const mostMade = 20

// part copies a part and those it is made of, which go first.
func (c *copier) part(p partID, deep int) error {
	if _, done := c.ids[p]; done || deep > mostMade {
		return nil
	}
	piece, err := Piece(c.preset, p.path())
	if err != nil {
		return nil //nolint:nilerr // named and not there: the job says so
	}
	ownUse := ""
	for i := range c.fields {
		f := &c.fields[i]
		if f.Path != p.path() && f.Path != p.path()+".use" {
			continue
		}
		if base, ok := f.names(); ok && base != p {
			if err := c.part(base, deep+1); err != nil {
				return err
			}
			if id := c.ids[base]; id != base.id {
				ownUse = id
			}
		}
	}
	id := p.id
	if ownUse != "" {
		// Made of a part that is called otherwise here: another part, whatever its text.
		for n := 2; ; n++ {
			if _, missing := Piece(c.out, partID{p.section, id}.path()); missing != nil {
				break
			}
			id = p.id + "-" + strconv.Itoa(n)
		}
		if c.out, err = Insert(c.out, partID{p.section, id}.path(), piece); err != nil {
			return err
		}
	} else if c.out, id, err = addPart(c.out, p.section, p.id, piece); err != nil {
		return err
	}
	c.ids[p] = id
	return c.follow(p.path(), partID{p.section, id}.path())
}

// follow makes what was copied from one path to another name its parts as the job
// does.
func (c *copier) follow(from, to string) (err error) {
	for i := range c.fields {
		f := &c.fields[i]
		rest, below := strings.CutPrefix(f.Path, from)
		if !below || rest != "" && rest[0] != '.' {
			continue
		}
		part, ok := f.names()
		if id, copied := c.ids[part]; ok && copied && id != part.id && to+rest != part.path() {
			if c.out, err = Put(c.out, to+rest, id); err != nil {
				return err
			}
		}
	}
	return nil
}
