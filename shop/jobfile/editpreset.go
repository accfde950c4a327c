package jobfile

import (
	"context"
	"errors"
	"fmt"
	"strconv"
	"strings"

	"trunnion/chassis/car"
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
	text := []byte(p.Text)
	out, renamed, build, err := presetParts(ed.Text, text)
	if err != nil {
		return err
	}
	if build == "" {
		return fmt.Errorf("the preset %s has no build", p.Name)
	}
	piece, err := Piece(text, "builds."+build)
	if err != nil {
		return err
	}
	if out, err = Insert(out, to, piece); err != nil {
		return err
	}
	for _, r := range renamed {
		for _, axle := range car.AxleNames {
			at := to + "." + axle + "." + r.key
			if there, err := Piece(out, at); err == nil && strings.Trim(there, `'"`) == r.from {
				if out, err = Put(out, at, r.to); err != nil {
					return err
				}
			}
		}
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

// renamedPart is a part of a preset that stands under another id in the job.
type renamedPart struct{ key, from, to string }

// presetParts copies the parts of a preset into a job and finds its build.
func presetParts(job, preset []byte) (out []byte, renamed []renamedPart, build string, err error) {
	out = job
	done := map[string]bool{}
	for _, f := range Fields(preset) {
		words := strings.Split(f.Path, ".")
		switch {
		case words[0] == "builds" && len(words) > 1 && build == "":
			build = words[1]
		case words[0] == "parts" && len(words) > 2 && !done[words[1]+"."+words[2]]:
			done[words[1]+"."+words[2]] = true
			piece, err := Piece(preset, "parts."+words[1]+"."+words[2])
			if err != nil {
				return job, nil, "", err
			}
			var to string
			if out, to, err = addPart(out, words[1], words[2], piece); err != nil {
				return job, nil, "", err
			}
			if to != words[2] {
				renamed = append(renamed, renamedPart{strings.TrimSuffix(words[1], "s"), words[2], to})
			}
		}
	}
	return out, renamed, build, nil
}
