package brief

import (
	"testing"

	"trunnion/chassis/figure"
)

func chosen(value float64, path string) Input {
	return Input{Value: value, Origin: figure.Chosen, Path: path, Line: 3}
}

func TestCheck(t *testing.T) {
	pothole := Event{Kind: "pothole", Depth: chosen(0.05, "e.depth"), Length: chosen(0.6, "e.length"), Speed: chosen(14, "e.speed")}
	for _, row := range []struct {
		name  string
		brief Brief
		path  string // of the one problem; empty for none
	}{
		{"nothing", Brief{}, ""},
		{"a road and a pothole", Brief{Roads: []Road{{Speeds: []Input{chosen(16.7, "r")}}}, Events: []Event{pothole}}, ""},
		{"too fast", Brief{Roads: []Road{{Speeds: []Input{chosen(120, "r")}}}}, "r"},
		{"standing still", Brief{Roads: []Road{{Speeds: []Input{chosen(0, "r")}}}}, "r"},
		{"a pothole without a depth", Brief{Events: []Event{{Kind: "pothole", Height: chosen(0.05, "e.height"), Length: chosen(0.6, "e.length"), Speed: chosen(14, "brief.events[0].speed")}}}, "brief.events[0].depth"},
		{"a hump without a height", Brief{Events: []Event{{Kind: "round-hump", Length: chosen(3.7, "e.length"), Speed: chosen(8, "brief.events[0].speed")}}}, "brief.events[0].height"},
		{"a hump without a length", Brief{Events: []Event{{Kind: "round-hump", Height: chosen(0.07, "e.height"), Speed: chosen(8, "brief.events[0].speed")}}}, "brief.events[0].length"},
		{"a kerb rises at once", Brief{Events: []Event{{Kind: "kerb", Height: chosen(0.07, "e.height"), Speed: chosen(8, "brief.events[0].speed")}}}, ""},
		{"a pit", Brief{Events: []Event{{Kind: "dip", Depth: chosen(2, "e.depth"), Length: chosen(3, "e.length"), Speed: chosen(14, "e.speed")}}}, "e.depth"},
		{"a share over one", Brief{Uses: []Use{{Share: chosen(1.2, "u")}}}, "u"},
		{"a limit of half a metre", Brief{Limits: Limits{BumpLeft: chosen(0.5, "l")}}, "l"},
	} {
		got := Check(&row.brief)
		switch {
		case row.path == "" && len(got) > 0:
			t.Errorf("%s: got %+v, want nothing", row.name, got)
		case row.path != "" && (len(got) != 1 || got[0].Path != row.path || !got[0].Refuse):
			t.Errorf("%s: got %+v, want one problem at %s", row.name, got, row.path)
		}
	}
}

// A size that an obstacle has not is told: nothing is computed from it.
func TestSizeThatChangesNothing(t *testing.T) {
	b := Brief{Events: []Event{{Kind: "round-hump", Height: chosen(0.07, "e.height"), Depth: chosen(0.02, "e.depth"), Length: chosen(3.7, "e.length"), Speed: chosen(8, "e.speed")}}}
	if got := Check(&b); len(got) != 1 || got[0].Path != "e.depth" || got[0].Refuse {
		t.Errorf("got %+v, want a warning at e.depth", got)
	}
}
