package jobfile

import (
	"context"
	"testing"

	"trunnion/shop/quantity"
)

// FuzzEdit: no edit of a job stops the editor; one that it takes leaves a text that can be
// taken apart, and one that it refuses leaves the text as it was.
func FuzzEdit(f *testing.F) {
	text := load(f, exampleFiles[0])
	for _, e := range []Edit{
		{Path: "builds.kit.setup.click.front"},
		{Path: "builds.more", CopyOf: "kit", Name: "More"},
		{Path: "builds.kit", Move: "-5 mm"},
		{Path: "builds.kit.front.spring", Part: "spring:front-46"},
		{Path: "brief.roads[0].speeds"},
		{Path: "loads.driver.items[9].mass"},
		{Path: "..[]"},
		{Path: "builds"},
	} {
		f.Add(e.Path, "7", e.Part, e.Move, e.CopyOf, e.Name, false)
	}
	f.Add("car.wheelbase", "{a: b}\n- c", "", "", "", "", false)
	f.Add("parts.springs.rear-48", "", "", "", "", "", true)
	f.Fuzz(func(t *testing.T, path, value, part, move, copyOf, name string, out bool) {
		e := Edit{Path: path, Part: part, Move: move, CopyOf: copyOf, Name: name}
		if !out {
			e.Value = &value
		}
		ed := &Editor{Text: text, System: quantity.Metric, Label: func(path string) string { return path }}
		ed.Apply(context.Background(), e)
		if len(ed.Faults) > 0 {
			if string(ed.Text) != string(text) {
				t.Fatalf("%+v is refused, and the text is another", e)
			}
			return
		}
		if _, fault := parse(ed.Text); fault != nil {
			t.Fatalf("after %+v the text cannot be taken apart: %v", e, fault)
		}
	})
}
