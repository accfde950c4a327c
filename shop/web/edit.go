package web

import (
	"context"
	"fmt"
	"math"
	"strconv"
	"strings"

	"trunnion/chassis/car"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
	"trunnion/shop/wording"
)

// editor changes the text of a job edit by edit. An edit that cannot be made is
// a fault; the others stand.
type editor struct {
	tries   *tries
	text    []byte
	system  quantity.System
	applied []Applied
	faults  []jobfile.Fault
}

func (ed *editor) refuse(path, got, want string) {
	ed.faults = append(ed.faults, jobfile.Fault{Path: path, Got: got, Want: want, Kind: jobfile.Refuse})
}

// apply makes one edit.
func (ed *editor) apply(ctx context.Context, e Edit) {
	var err error
	switch {
	case e.Path != "" && e.CopyOf == "" && e.Preset == "" && !ed.owned(e.Path):
		ed.refuse(e.Path, "cannot be changed: what it belongs to is not in the job", "copy a build or a part first")
		return
	case e.Path == "":
		ed.refuse("", "has an edit without a path", "say where it belongs")
		return
	case e.Part != "":
		err = ed.part(ctx, e)
	case e.Move != "":
		err = ed.move(ctx, e)
	case e.CopyOf != "":
		err = ed.copy(e)
	case e.Preset != "":
		err = ed.preset(ctx, e)
	case e.Value == nil:
		was := ed.at(e.Path)
		if ed.text, err = changed(ed.text)(jobfile.Remove(ed.text, e.Path)); err == nil {
			ed.note(e.Path, "", was, "")
		}
	default:
		was := ed.at(e.Path)
		put := jobfile.Put
		if strings.HasPrefix(*e.Value, "{") && strings.HasSuffix(*e.Value, "}") || strings.HasPrefix(*e.Value, "[") && strings.HasSuffix(*e.Value, "]") {
			put = jobfile.Insert // a piece of a job, in braces
		}
		if ed.text, err = changed(ed.text)(put(ed.text, e.Path, *e.Value)); err == nil {
			ed.note(e.Path, *e.Value, was, "")
		}
	}
	if err != nil {
		ed.refuse(e.Path, "cannot be changed: "+strings.TrimPrefix(err.Error(), e.Path+": "), "")
	}
}

// owned reports whether the build, part or load state that a path leads into
// stands in the job: a slip of a name must not make a new one.
func (ed *editor) owned(path string) bool {
	words := strings.Split(path, ".")
	deep := 2
	switch words[0] {
	case "parts":
		deep = 3
	case "builds", "loads":
	default:
		return true
	}
	if len(words) <= deep {
		return true
	}
	_, err := jobfile.Piece(ed.text, strings.Join(words[:deep], "."))
	return err == nil
}

// changed keeps the old text where a change failed.
func changed(old []byte) func([]byte, error) ([]byte, error) {
	return func(text []byte, err error) ([]byte, error) {
		if err != nil {
			return old, err
		}
		return text, nil
	}
}

func (ed *editor) note(path, value, was, note string) {
	ed.applied = append(ed.applied, Applied{Path: path, Value: value, Was: was, Label: labelOf(path), Note: note})
}

// at is what stands at a path, on one line; empty where nothing does.
func (ed *editor) at(path string) string {
	piece, err := jobfile.Piece(ed.text, path)
	if err != nil {
		return ""
	}
	return strings.Trim(piece, `'"`)
}

// labelOf is what a path is called: "Front spring, kit".
func labelOf(path string) string {
	for _, l := range limitKeys {
		if l.Path == path {
			return strings.ToUpper(l.Label[:1]) + l.Label[1:]
		}
	}
	return wording.Label(path)
}

// sections are where the parts of an axle stand in a job.
var sections = map[string]string{"spring": "springs", "helper": "springs", "damper": "dampers", "stop": "stops", "mount": "mounts", "platform": "platforms"}

// part copies a part of the catalogue into the job and points the path at it.
func (ed *editor) part(ctx context.Context, e Edit) error {
	key := e.Path[strings.LastIndexByte(e.Path, '.')+1:]
	section := sections[key]
	if section == "" {
		return fmt.Errorf("no part of the catalogue belongs there")
	}
	if ed.tries.parts == nil {
		return fmt.Errorf("there is no catalogue here")
	}
	kind, slug, found := strings.Cut(e.Part, ":")
	if !found {
		kind, slug = strings.TrimSuffix(section, "s"), e.Part
	}
	p, err := ed.tries.parts.Part(ctx, kind, slug)
	if err != nil {
		return err
	}
	if p.Section() != section {
		return fmt.Errorf("%s is a %s: it does not belong there", p.Name, p.Kind)
	}
	id := p.Slug
	for n := 2; ; n++ {
		there := ed.at("parts." + section + "." + id)
		if there == "" {
			piece, err := onOneLine(p.Text)
			if err != nil {
				return err
			}
			if ed.text, err = changed(ed.text)(jobfile.Insert(ed.text, "parts."+section+"."+id, piece)); err != nil {
				return err
			}
			break
		}
		if piece, err := onOneLine(p.Text); err == nil && piece == there {
			break // the same part, copied before
		}
		id = p.Slug + "-" + strconv.Itoa(n)
	}
	was := ed.at(e.Path)
	if ed.text, err = changed(ed.text)(jobfile.Put(ed.text, e.Path, id)); err != nil {
		return err
	}
	ed.note(e.Path, id, was, p.Name+", copied from the catalogue as of revision "+strconv.Itoa(p.Revision))
	return nil
}

// onOneLine writes a part's text as a job holds it in braces.
func onOneLine(text string) (string, error) {
	return jobfile.Piece([]byte("part: "+indented(text)), "part")
}

// indented makes a block of lines stand below a key.
func indented(text string) string {
	trimmed := strings.TrimSpace(text)
	if strings.HasPrefix(trimmed, "{") {
		return trimmed
	}
	return "\n  " + strings.ReplaceAll(trimmed, "\n", "\n  ")
}

// preset makes a new build of one of the workshop's presets: the parts it names
// are copied into the job, under names of their own where the job has others by
// the same.
func (ed *editor) preset(ctx context.Context, e Edit) error {
	id, ok := strings.CutPrefix(e.Path, "builds.")
	if !ok || id == "" || strings.ContainsAny(id, ".[") {
		return fmt.Errorf("a preset becomes a build of its own, such as builds.town")
	}
	if ed.at(e.Path) != "" {
		return fmt.Errorf("a build of this id is there already")
	}
	if ed.tries.parts == nil {
		return fmt.Errorf("there are no presets here")
	}
	p, err := ed.tries.parts.Preset(ctx, e.Preset)
	if err != nil {
		return err
	}
	text := []byte(p.Text)
	var build string
	type renamed struct{ key, from, to string }
	var names []renamed
	out := ed.text
	done := map[string]bool{}
	for _, f := range jobfile.Fields(text) {
		words := strings.Split(f.Path, ".")
		switch {
		case words[0] == "builds" && len(words) > 1 && build == "":
			build = words[1]
		case words[0] == "parts" && len(words) > 2 && !done[words[1]+"."+words[2]]:
			done[words[1]+"."+words[2]] = true
			piece, err := jobfile.Piece(text, "parts."+words[1]+"."+words[2])
			if err != nil {
				return err
			}
			to := words[2]
			for n := 2; ; n++ {
				there, err := jobfile.Piece(out, "parts."+words[1]+"."+to)
				if err != nil {
					if out, err = jobfile.Insert(out, "parts."+words[1]+"."+to, piece); err != nil {
						return err
					}
					break
				}
				if there == piece {
					break
				}
				to = words[2] + "-" + strconv.Itoa(n)
			}
			if to != words[2] {
				names = append(names, renamed{strings.TrimSuffix(words[1], "s"), words[2], to})
			}
		}
	}
	if build == "" {
		return fmt.Errorf("the preset %s has no build", p.Name)
	}
	piece, err := jobfile.Piece(text, "builds."+build)
	if err != nil {
		return err
	}
	if out, err = jobfile.Insert(out, e.Path, piece); err != nil {
		return err
	}
	for _, r := range names {
		for _, axle := range car.AxleNames {
			at := e.Path + "." + axle + "." + r.key
			if there, err := jobfile.Piece(out, at); err == nil && strings.Trim(there, `'"`) == r.from {
				if out, err = jobfile.Put(out, at, r.to); err != nil {
					return err
				}
			}
		}
	}
	name := e.Name
	if name == "" {
		name = p.Name
	}
	if out, err = jobfile.Put(out, e.Path+".name", name); err != nil {
		return err
	}
	ed.text = out
	ed.note(e.Path, name, "", "the preset "+p.Name+" as of revision "+strconv.Itoa(p.Revision))
	return nil
}

// copy makes a new build of another one.
func (ed *editor) copy(e Edit) error {
	id, ok := strings.CutPrefix(e.Path, "builds.")
	if !ok || id == "" || strings.ContainsAny(id, ".[") {
		return fmt.Errorf("a copy is a build of its own, such as builds.second")
	}
	if ed.at(e.Path) != "" {
		return fmt.Errorf("a build of this id is there already")
	}
	piece, err := jobfile.Piece(ed.text, "builds."+e.CopyOf)
	if err != nil {
		return err
	}
	if ed.text, err = changed(ed.text)(jobfile.Insert(ed.text, e.Path, piece)); err != nil {
		return err
	}
	if e.Name != "" {
		if ed.text, err = changed(ed.text)(jobfile.Put(ed.text, e.Path+".name", e.Name)); err != nil {
			return err
		}
	}
	ed.note(e.Path, e.Name, "", "a copy of "+e.CopyOf)
	return nil
}

// move pulls the static line of an axle by an amount at the wheel: it turns the
// platform, or without one puts the spring seats nearer or farther.
//
//	p = p_0 + h·r      h the change of height, r spring (or body) travel per wheel travel
func (ed *editor) move(ctx context.Context, e Edit) error {
	words := strings.Split(e.Path, ".")
	axle := -1
	if len(words) == 3 && words[0] == "builds" {
		for a, name := range car.AxleNames {
			if name == words[2] {
				axle = a
			}
		}
	}
	if axle < 0 {
		return fmt.Errorf("an axle of a build is due, such as builds.kit.front")
	}
	typed, err := quantity.Parse(e.Move, quantity.Length)
	if err != nil {
		return err
	}
	if math.Abs(typed.Value) > 0.2 {
		return fmt.Errorf("the car cannot be moved by %s", e.Move)
	}
	job, faults := jobfile.ReadBytes(ed.text, "job.yaml")
	if job == nil {
		if err := jobfile.AsError("job", faults); err != nil {
			return err
		}
		return fmt.Errorf("the job cannot be read")
	}
	var build *car.Build
	for _, b := range job.Builds {
		if b.ID == words[1] {
			build = b
		}
	}
	if build == nil {
		return fmt.Errorf("no build is called %s", words[1])
	}
	spring, body, err := ed.tries.Ratios(ctx, job, build, axle)
	if err != nil {
		return err
	}
	p := build.Corner[2*axle].Platform
	if p == nil {
		now := build.Corner[2*axle].SeatsCloser.Value + typed.Value*spring
		return ed.length(e.Path+".seats_closer", now, "the spring seats stand that much nearer than those measured")
	}
	places := [2]string{"front_left", "front_right"}
	if axle == 1 {
		places = [2]string{"rear_left", "rear_right"}
	}
	for k, name := range places {
		i := 2*axle + k
		key, now := ".setup.platform.", build.Setup.Platform[i].Value+typed.Value*spring
		if p.Kind == "body" {
			key, now = ".setup.body_length.", build.Setup.BodyLength[i].Value+typed.Value*body
		}
		note := "raised from its start mark"
		if p.Pitch.Known() && p.Pitch.Value > 0 {
			note = strconv.FormatFloat(now/p.Pitch.Value, 'f', 1, 64) + " turns from its start mark"
		}
		if err := ed.length("builds."+words[1]+key+name, now, note); err != nil {
			return err
		}
	}
	return nil
}

// length puts a length into the job, in the units on the screen, to the tenth of
// a millimetre.
func (ed *editor) length(path string, metres float64, note string) error {
	was := ed.at(path)
	value := quantity.Format(math.Round(metres*1e4)/1e4, quantity.Length, ed.system, quantity.Auto)
	text, err := jobfile.Put(ed.text, path, value)
	if err != nil {
		return err
	}
	ed.text = text
	ed.note(path, value, was, note)
	return nil
}
