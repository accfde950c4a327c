package pastjobs

import (
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
)

const kitSetup = "setup:\n      click: {front: 7, rear: 7}"

func TestWayBackIsInTheOrderOfWork(t *testing.T) {
	then := changed(t, demo(t), kitSetup, kitSetup+"\n      platform: {front_left: 3 mm, front_right: 2 mm}\n      pressures: 2.2 bar all round")
	now := changed(
		t, demo(t), kitSetup, "setup:\n      click: {front: 10, rear: 6}\n      platform: {front_left: 6 mm, front_right: 2 mm, rear_left: -1.5 mm}\n      bars: off\n      pressures: 2.4 bar",
		"damper: kit-rear, stop: r36", "damper: kit-rear, stop: r42, packer: 5 mm",
		"price: 2950 EUR", "price: 3100 EUR", "seats_closer: 32 mm", "seats_closer: 30 mm", "rear-60: {rate: maker 60 N/mm", "rear-60: {rate: maker 61 N/mm",
	)
	way, err := WayBack(now, then, quantity.Metric)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for i, turn := range way.Turns {
		if turn.Order != i+1 {
			t.Errorf("turn %d has order %d", i, turn.Order)
		}
		got = append(got, turn.Text)
	}
	want := []string{
		"Rear bump stop: r42 out, r36 in, both sides.",
		"Rear packers: 5.0 mm out, from 5.0 mm to 0.0 mm, both sides.",
		"Front left collar: 2 turns down, clockwise from above (3.0 mm), from 6.0 mm to 3.0 mm from its start mark.",
		"Rear left collar: 1 turn up, anticlockwise from above (1.5 mm), from -1.5 mm to 0.0 mm from its start mark.",
		"Fit the drop links with the driver aboard: the last one goes in by hand.",
		"Tyre pressures, cold: 2.2 bar all round (now 2.4 bar).",
		"Front clicks: 3 clicks firmer, towards closed, from 10 to 7 counted from closed, both sides. To be sure: close gently, then 7 open.",
		"Rear clicks: 1 click softer, towards open, from 6 to 7 counted from closed, both sides. To be sure: close gently, then 7 open.",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("turns (-want +got):\n%s", diff)
	}
	if way.Turns[2].Amount != -2 || way.Turns[2].Unit != "turns" || way.Turns[6].Amount != -3 || way.Turns[6].Unit != "clicks" {
		t.Errorf("amounts are %+v and %+v", way.Turns[2], way.Turns[6])
	}
	var record []string
	for _, l := range way.Record {
		record = append(record, l.Path)
	}
	if want := []string{"parts.springs.rear-60.rate", "builds.kit.price", "builds.kit.front.seats_closer"}; !cmp.Equal(record, want) {
		t.Errorf("on paper only: %v; want %v", record, want)
	}
	if len(way.Cautions) < 4 || len(way.After) < 5 {
		t.Errorf("cautions %v, after %v", way.Cautions, way.After)
	}
	left := jobfile.Differ(way.Text, then)
	for _, d := range left {
		if strings.HasPrefix(d.Path, "builds.kit.setup") || strings.HasPrefix(d.Path, "builds.kit.rear") {
			t.Errorf("the edits leave %+v", d)
		}
	}
	if len(left) != 2 {
		t.Errorf("the edits leave %+v", left)
	}
	same, err := WayBack(now, now, quantity.Metric)
	if err != nil || len(same.Turns)+len(same.Record)+len(same.Cautions)+len(same.Edits) != 0 || same.Text != nil {
		t.Errorf("from a state to itself: %+v (%v)", same, err)
	}
}

func TestWayBackDoesNotTellWhatItDoesNotKnow(t *testing.T) {
	now := demo(t)
	beyond := changed(t, now, kitSetup, kitSetup+"\n      platform: {front_left: 30 mm}")
	way, err := WayBack(now, beyond, quantity.Metric)
	if err == nil {
		if i := slices.IndexFunc(way.Turns, func(x Turn) bool { return x.Kind == "collar" }); i < 0 || way.Turns[i].Refuse == "" || strings.Contains(way.Turns[i].Text, "turn") {
			t.Errorf("beyond the thread it says %+v", way.Turns)
		}
	}
	noPitch := changed(t, now, "thread: 1.5 mm/turn, ", "")
	moved := changed(t, noPitch, kitSetup, kitSetup+"\n      platform: {front_left: 3 mm}")
	if way, err = WayBack(noPitch, moved, quantity.Metric); err != nil || len(way.Turns) != 1 || !strings.Contains(way.Turns[0].Text, "pitch") {
		t.Errorf("without a pitch: %+v (%v)", way, err)
	}
	left := changed(t, now, "hand: right", "hand: left")
	moved = changed(t, left, kitSetup, kitSetup+"\n      platform: {front_left: 3 mm}")
	if way, err = WayBack(left, moved, quantity.Metric); err != nil || !strings.Contains(way.Turns[0].Text, "2 turns up, clockwise from above") {
		t.Errorf("on a left-hand thread: %+v (%v)", way, err)
	}
	wanted := changed(t, now, kitSetup, kitSetup+"\n      heights: {front_left: 350 mm, front_right: 350 mm, rear_left: 352 mm, rear_right: 352 mm}")
	if way, err = WayBack(now, wanted, quantity.Metric); err != nil || len(way.Turns) != 4 || way.Turns[0].Kind != "heights" {
		t.Errorf("wanted heights: %+v (%v)", way, err)
	}
	if _, err := WayBack(now, []byte("trunnion: job/1\n"), quantity.Metric); err == nil {
		t.Error("a job that is no job was taken")
	}
	if _, err := WayBack(now, now, quantity.Metric, "none"); err == nil {
		t.Error("a build that is not there was taken")
	}
}

// A part that went with its name for other values, a part that is gone, curves
// that were measured anew: the turns stand, and the text is whole or not there.
func TestWayBackStandsWhereTheTextIsTangled(t *testing.T) {
	then := demo(t)
	for name, pairs := range map[string][]string{
		"another damper": {"damper: kit-rear, stop: r36", "damper: kit-front, stop: r36"},
		"part gone": {
			"    r36: {length: 36 mm, crush: [0, 5, 10, 15, 18, 21, 23, 24 mm], force: [0, 110, 270, 580, 980, 1850, 3400, 5200 N]}\n", "",
			"stop: r36", "stop: r42",
		},
		"figures of its own": {"damper: kit-rear, stop: r36", "damper: kit-rear, stop: {use: r36, loss: 30 %}"},
		"spelled out":        {"rear: {spring: rear-80, damper: kit-rear", "rear: {spring: {rate: 82 N/mm, free: 168 mm, block: 66 mm}, damper: kit-rear"},
		"names":              {"worn: {speed: &speeds [25, 50, 130, 260, 390, 520, 1040 mm/s], bump: [35,", "worn: {speed: &speeds [26, 50, 130, 260, 390, 520, 1040 mm/s], bump: [36,"},
		"a build more":       {"\nloads:\n", "  fifth:\n    front: {spring: front-46, damper: kit-front, stop: f42, seats_closer: 32 mm}\n    rear: {spring: rear-80, damper: kit-rear, stop: r36, seats_closer: 69 mm}\n    setup: {click: {front: 7, rear: 7}}\n\nloads:\n"},
	} {
		now := changed(t, then, pairs...)
		for _, direction := range [][2][]byte{{now, then}, {then, now}} {
			way, err := WayBack(direction[0], direction[1], quantity.Metric)
			if err != nil {
				t.Errorf("%s: %v", name, err)
				continue
			}
			if len(way.Turns)+len(way.Record) == 0 {
				t.Errorf("%s: nothing is said", name)
			}
			if way.Fault != "" {
				t.Errorf("%s: %s", name, way.Fault)
			}
			if way.Text == nil {
				continue
			}
			for _, d := range jobfile.Differ(way.Text, direction[1]) {
				if strings.HasPrefix(d.Path, "builds.kit.") {
					t.Errorf("%s: left over %+v", name, d)
				}
			}
		}
	}
}

// There and back again: the turns of the way out and of the way home undo each
// other, for every setting by make studies, for one in 13 by make test.
func TestWayThereUndoesTheWayBack(t *testing.T) {
	base := demo(t)
	values := []string{"1", "4", "7", "12"}
	every := 13
	if os.Getenv("TRUNNION_STUDIES") != "" {
		every = 1
	}
	for k := 0; k < 256; k += every {
		other, setting := base, k
		for _, path := range []string{"click.front", "click.rear", "platform.front_left", "platform.rear_right"} {
			value := values[setting%4]
			setting /= 4
			if strings.HasPrefix(path, "platform") {
				value += " mm"
			}
			var err error
			if other, err = jobfile.Put(other, "builds.kit.setup."+path, value); err != nil {
				t.Fatal(err)
			}
		}
		there, err := WayBack(base, other, quantity.Metric)
		if err != nil {
			t.Fatal(err)
		}
		home, err := WayBack(other, base, quantity.Metric)
		if err != nil {
			t.Fatal(err)
		}
		if len(there.Turns) != len(home.Turns) {
			t.Fatalf("setting %d: %d turns there, %d home", k, len(there.Turns), len(home.Turns))
		}
		for i := range there.Turns {
			if a, b := there.Turns[i], home.Turns[i]; a.Place != b.Place || a.Amount != -b.Amount || a.From != b.To {
				t.Fatalf("setting %d: %+v is not undone by %+v", k, a, b)
			}
		}
		if d := jobfile.Differ(home.Text, base); len(home.Turns) > 0 && len(d) != 0 {
			t.Fatalf("setting %d: left over: %v", k, d)
		}
	}
}
