package jobfile

import (
	"bytes"
	"os"
	"strings"
	"testing"
)

func demo(t *testing.T) []byte {
	t.Helper()
	text, err := os.ReadFile("../../examples/marl-estate/job.yaml")
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// TestPut changes and adds values all over the demo job: the result must read,
// hold the value where it was put, and keep every other line.
func TestPut(t *testing.T) {
	for _, row := range []struct{ path, value, line string }{
		{"builds.kit.front.spring", "front-31", "    front: {spring: front-31, damper: kit-front"},
		{"builds.kit.setup.platform.front_left", "2 mm", "platform: {front_left: 2 mm}"},
		{"builds.kit.setup.platform", "[2, 2, 1, 1 mm]", ""},
		{"builds.lower-old.rear.packer", "5 mm", "friction: 45 ± 30 N, packer: 5 mm}"},
		{"builds.lower-old.setup.bars", "off", "    setup: {bars: off}"},
		{"builds.kit.note", "for the hill: softer, later", `    note: 'for the hill: softer, later'`},
		{"brief.usual_load", "driver", "  usual_load: driver"},
		{"brief.limits.firm_left", "20 mm", "    firm_left: 20 mm"},
		{"loads.driver.items[0].left", "-350 mm", "left: -350 mm}"},
		{"loads.empty.items", "nobody", ""},
		{"job.by", "the bay", "  by: the bay"},
		{"car.weighed.settled", "no", "    settled: no"},
		{"brief.events[1].load", "driver", "speed: 30 km/h, load: driver}"},
		{"brief.roads[0].speeds", "40, 50 km/h", "'40, 50 km/h'"},
	} {
		before := demo(t)
		after, err := Put(before, row.path, row.value)
		if row.line == "" {
			if err == nil {
				if job, _ := ReadBytes(after, "x"); job != nil && row.path != "builds.kit.setup.platform" {
					t.Errorf("%s = %s: read as a good job, want a fault", row.path, row.value)
				}
			}
			continue
		}
		if err != nil {
			t.Errorf("%s = %s: %v", row.path, row.value, err)
			continue
		}
		if !strings.Contains(string(after), row.line) {
			t.Errorf("%s = %s: no line with %q", row.path, row.value, row.line)
		}
		if job, faults := ReadBytes(after, "x"); job == nil {
			t.Errorf("%s = %s: %v", row.path, row.value, faults)
		}
		missing := 0
		for _, line := range bytes.Split(before, []byte("\n")) {
			if !bytes.Contains(after, line) {
				missing++
			}
		}
		if missing > 1 {
			t.Errorf("%s = %s: %d lines of the job went, want at most the one that was changed", row.path, row.value, missing)
		}
	}
}

func TestRemove(t *testing.T) {
	for _, row := range []struct{ path, gone string }{
		{"builds.kit.front.seats_closer", "seats_closer: 32 mm, "},
		{"builds.kit.rear.friction", ", friction: 60 ± 35 N"},
		{"builds.lower-uprated", "Lower springs, uprated dampers"},
		{"car.plate", "  plate: TW 42 OLW\n"},
		{"brief.events", "pothole"},
		{"brief.limits.bump_left", "bump_left: 10 mm"},
		{"parts.springs.rear-80", "rear-80: {"},
	} {
		after, err := Remove(demo(t), row.path)
		if err != nil {
			t.Errorf("%s: %v", row.path, err)
			continue
		}
		if strings.Contains(string(after), row.gone) {
			t.Errorf("%s: %q still stands there", row.path, row.gone)
		}
	}
	if _, err := Remove(demo(t), "builds.nobody"); err == nil {
		t.Error("what is not there was removed")
	}
}

// TestPieceInsert copies a build and a part.
func TestPieceInsert(t *testing.T) {
	text := demo(t)
	for _, row := range [][2]string{
		{"builds.kit", "builds.kit-2"},
		{"builds.lower-old", "builds.copy"},
		{"parts.springs.rear-80", "parts.springs.rear-81"},
		{"parts.dampers.kit-rear", "parts.dampers.kit-rear-2"},
		{"brief.limits", "brief.limits"},
	} {
		piece, err := Piece(text, row[0])
		if err != nil {
			t.Fatal(err)
		}
		after, err := Insert(text, row[1], piece)
		if err != nil {
			t.Errorf("%s to %s: %v", row[0], row[1], err)
			continue
		}
		job, faults := ReadBytes(after, "x")
		if job == nil {
			t.Errorf("%s to %s: %v", row[0], row[1], faults)
			continue
		}
		if again, err := Piece(after, row[1]); err != nil || again != piece {
			t.Errorf("%s to %s: came back as %s, want %s", row[0], row[1], again, piece)
		}
	}
}

// TestItems adds to lists and takes from them: nothing else may change, and what
// was added and taken out again leaves the text as it was, but for spaces.
func TestItems(t *testing.T) {
	text := demo(t)
	bare := []byte("trunnion: job/1\nbrief:\n  usual_load: driver\n")
	block := []byte("loads:\n  two:\n    items:\n      - name: one\n        mass: 1 kg\n      # of the second\n      - name: other\n        mass: 2 kg\n    name: Two\n")
	for _, row := range []struct {
		text        []byte
		path, piece string
	}{
		{text, "brief.roads[4]", "{road: motorway, speeds: [130 km/h], load: driver}"},
		{text, "brief.events[2]", "{event: joint, height: 12 mm, length: 0.1 m, speed: 60 km/h, load: driver}"},
		{text, "loads.driver.items[1]", "{name: bag, mass: 20 kg, behind_front_axle: 3000 mm, left: 0 mm}"},
		{text, "loads.empty.items[0]", "{name: bag, mass: 20 kg, behind_front_axle: 3000 mm, left: 0 mm}"},
		{text, "brief.roads[0].speeds[2]", "70 km/h"},
		{bare, "brief.roads[0]", "{road: motorway, speeds: [130 km/h]}"},
		{block, "loads.two.items[2]", "{name: third, mass: 3 kg}"},
	} {
		after, err := Insert(row.text, row.path, row.piece)
		if err != nil {
			t.Errorf("%s: %v", row.path, err)
			continue
		}
		if got, err := Piece(after, row.path); err != nil || got != row.piece {
			t.Errorf("%s: %s %v, want %s", row.path, got, err, row.piece)
		}
		if len(after) <= len(row.text) || len(after) > len(row.text)+len(row.piece)+30 {
			t.Errorf("%s: %d bytes became %d", row.path, len(row.text), len(after))
		}
		back, err := Remove(after, row.path)
		if err != nil {
			t.Errorf("%s taken out: %v", row.path, err)
			continue
		}
		if !bytes.Equal(bytes.TrimSpace(back), bytes.TrimSpace(row.text)) && row.path[len(row.path)-3:] != "[0]" {
			t.Errorf("%s: added and taken out leaves\n%s", row.path, back)
		}
	}
	for _, path := range []string{"brief.roads[0]", "brief.events[1]", "loads.four-aboard.items[2]", "loads.four-aboard.items[0]", "brief.roads[0].speeds[0]"} {
		after, err := Remove(text, path)
		if err != nil {
			t.Errorf("%s: %v", path, err)
			continue
		}
		if gone, err := Piece(text, path); err != nil || bytes.Count(after, []byte("\n")) < bytes.Count(text, []byte("\n"))-1 || len(after) >= len(text) {
			t.Errorf("%s: %s %v", path, gone, err)
		}
	}
	after, err := Remove(block, "loads.two.items[1]")
	if err != nil || !strings.Contains(string(after), "name: one\n        mass: 1 kg\n") || strings.Contains(string(after), "other") || !strings.Contains(string(after), "name: Two") {
		t.Errorf("second of a block list: %v\n%s", err, after)
	}
	out, err := Put(text, "handover.normal[2]", "a hiss: short, at standstill")
	if err != nil || !strings.Contains(string(out), "\n    - 'a hiss: short, at standstill'\n") {
		t.Errorf("words added to a list: %v", err)
	}
	for _, path := range []string{"brief.roads[6]", "brief.roads[-1]", "car[0]", "brief.nothing[3]"} {
		if _, err := Insert(text, path, "{road: motorway}"); err == nil {
			t.Errorf("%s was added", path)
		}
		if _, err := Remove(text, path); err == nil {
			t.Errorf("%s was taken out", path)
		}
	}
}

func TestFields(t *testing.T) {
	got := map[string]Field{}
	for _, f := range Fields(demo(t)) {
		got[f.Path] = f
	}
	for path, typed := range map[string]string{
		"loads.driver.items[0].mass": "82 kg", "brief.events[0].depth": "50 mm", "builds.kit.price": "2950 EUR", "parts.springs.rear-48.rate": "maker 48 N/mm",
		"car.weighed.load.front_left": "426 kg", "builds.kit.front.spring": "front-46", "brief.roads[1].speeds": "60, 80 km/h", "car.weighed.bars": "off",
	} {
		if got[path].Typed != typed {
			t.Errorf("%s is %q, want %q", path, got[path].Typed, typed)
		}
	}
	if f := got["car.weighed.load.front_left"]; f.In.Value != 426 || f.In.Half != 1 {
		t.Errorf("front left is %g ± %g kg, want 426 ± 1 kg", f.In.Value, f.In.Half)
	}
}

func TestFieldsListsAPartThatNothingIsKnownOf(t *testing.T) {
	fields := Fields([]byte("trunnion: job/1\nparts:\n  dampers:\n    front-60: {}\n"))
	for i := range fields {
		if fields[i].Path == "parts.dampers.front-60" {
			return
		}
	}
	t.Errorf("a part without a value is not listed: %+v", fields)
}
