package jobfile

import (
	"context"
	"strings"
)

// Apply makes one edit.
func (ed *Editor) Apply(ctx context.Context, e Edit) {
	e.Path = ed.shortened(e.Path)
	text, applied := ed.Text, len(ed.Applied)
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
	default:
		err = ed.value(e)
	}
	if err == nil {
		err = ed.readBefore(text, ed.Applied[applied:])
	}
	if err != nil {
		// An edit of several steps that fails at a later one has done none of them.
		ed.Text, ed.Applied = text, ed.Applied[:applied]
		ed.refuse(e.Path, "cannot be changed: "+strings.TrimPrefix(err.Error(), e.Path+": "), "")
	}
}

// value types a value, or a piece of a job in braces, or takes a key out.
func (ed *Editor) value(e Edit) error {
	was := ed.at(e.Path)
	typed, change := "", func() ([]byte, error) { return Remove(ed.Text, e.Path) }
	if e.Value != nil {
		typed = *e.Value
		put := Put
		if inBrackets(typed, "{", "}") || inBrackets(typed, "[", "]") {
			put = Insert
		}
		change = func() ([]byte, error) { return put(ed.Text, e.Path, typed) }
	}
	if err := ed.take(change()); err != nil {
		return err
	}
	ed.note(e.Path, typed, was, "")
	return nil
}

func inBrackets(text, open, shut string) bool {
	return strings.HasPrefix(text, open) && strings.HasSuffix(text, shut)
}

// copy makes a new build of another one.
func (ed *Editor) copy(e Edit) error {
	to, err := ed.newBuild(e.Path, "a copy is a build of its own, such as builds.second")
	if err != nil {
		return err
	}
	piece, err := Piece(ed.Text, ed.shortened("builds."+e.CopyOf))
	if err != nil {
		return err
	}
	if err := ed.take(Insert(ed.Text, to, piece)); err != nil {
		return err
	}
	if e.Name != "" {
		if err := ed.take(Put(ed.Text, to+".name", e.Name)); err != nil {
			return err
		}
	}
	ed.note(to, e.Name, "", "a copy of "+e.CopyOf)
	return nil
}
