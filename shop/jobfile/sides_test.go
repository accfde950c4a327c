package jobfile

import (
	"os"
	"strings"
	"testing"

	"trunnion/chassis/car"
	"trunnion/shop/quantity"
)

// sided is the demo with sides that differ.
func sided(t *testing.T, more ...string) *Job {
	t.Helper()
	text := strings.NewReplacer(append([]string{
		"front: {spring: front-46, damper: kit-front, stop: f42, seats_closer: 32 mm,", "front: {left: {spring: front-31, packer: 4 mm, platform: none}, right: {seats_closer: 30 mm}, spring: front-46, damper: kit-front, stop: f42, seats_closer: 32 mm,",
		"click: {front: 7, rear: 7}\n\nloads", "click: {front: 7, front_right: 9, rear_left: 5, rear_right: 6}\n\nloads",
	}, more...)...).Replace(string(demo(t)))
	job, faults := ReadBytes([]byte(text), "job.yaml")
	if job == nil {
		t.Fatal(faults)
	}
	return job
}

func buildCalled(t *testing.T, job *Job, id string) *car.Build {
	t.Helper()
	for _, b := range job.Builds {
		if b.ID == id {
			return b
		}
	}
	t.Fatalf("no build %s", id)
	return nil
}

// TestASideOfItsOwn: what a side names is its own; what it does not name is the axle's.
func TestASideOfItsOwn(t *testing.T) {
	b := buildCalled(t, sided(t), "kit")
	l, r := &b.Corner[0], &b.Corner[1]
	switch {
	case l.Spring.ID != "front-31" || r.Spring.ID != "front-46":
		t.Errorf("springs %s and %s", l.Spring.ID, r.Spring.ID)
	case l.Damper != r.Damper || l.Stop != r.Stop || l.Damper.ID != "kit-front":
		t.Error("what no side names is one part on both")
	case l.Packer.Value != 0.004 || r.Packer.Known():
		t.Errorf("packers %+v and %+v", l.Packer, r.Packer)
	case l.SeatsCloser.Value != 0.032 || r.SeatsCloser.Value != 0.030:
		t.Errorf("seats %g and %g", l.SeatsCloser.Value, r.SeatsCloser.Value)
	case l.Platform != nil || r.Platform == nil:
		t.Error("a side's none takes the axle's collar off that side alone")
	case l.Friction.Path != "builds.kit.front.friction" || l.Packer.Path != "builds.kit.front.left.packer":
		t.Errorf("paths %s and %s", l.Friction.Path, l.Packer.Path)
	case b.Setup.Click != [4]int{7, 9, 5, 6} || b.Setup.HasClick != [4]bool{true, true, true, true}:
		t.Errorf("clicks %v %v", b.Setup.Click, b.Setup.HasClick)
	case !b.Alike(car.Rear) || b.Alike(car.Front):
		t.Error("the rear is alike, the front is not")
	}
}

// TestASideStays: what a build does not name stays as it was on the car, each side as its own side was.
func TestASideStays(t *testing.T) {
	job := sided(t, "front: {spring: front-25, damper: old-front, stop: f60, mount: old-front, friction: 80 ± 50 N}", "front: {spring: front-25, damper: old-front, stop: f60, mount: old-front, friction: 80 ± 50 N, left: {stop: f48}}",
		"\nbuilds:\n", "\nbuilds:\n  same: {}\n  one: {front: {right: {spring: front-31}}}\n")
	same, one := buildCalled(t, job, "same"), buildCalled(t, job, "one")
	if l, r := same.Corner[0].Stop.ID, same.Corner[1].Stop.ID; l != "f48" || r != "f60" {
		t.Errorf("stops that stay: %s and %s", l, r)
	}
	if l, r := one.Corner[0].Spring.ID, one.Corner[1].Spring.ID; l != "front-25" || r != "front-31" {
		t.Errorf("one side's spring: %s and %s", l, r)
	}
}

// TestMotionOfOneSide: one side's table is its own; what it lacks is the axle's, and where the axle has none it serves both.
func TestMotionOfOneSide(t *testing.T) {
	table := "{motion: {wheel: [-60, -30, 30, 60 mm], spring: [-39, -19.4, 19.6, 39.8 mm]}}"
	job := sided(t, "  rear:\n    type: multilink\n", "  rear:\n    type: multilink\n    right: "+table+"\n")
	rear := &job.Car.Axle[car.Rear]
	if rear.SpringOf(0) != &rear.Spring || rear.DamperOf(1) != &rear.Damper {
		t.Error("what no side has is the axle's")
	}
	own := rear.SpringOf(1)
	if own == &rear.Spring || len(own.Part) != 4 || own.Path != "car.rear.right.motion.spring" {
		t.Errorf("the right side's table is %+v", own)
	}
	if own.Reading.Half != 0.0005 {
		t.Errorf("the band of its readings is %g m, and the axle's is ± 0.5 mm", own.Reading.Half)
	}
	text := string(load(t, exampleFiles[0]))
	at, end := strings.Index(text, "    motion:   # mm"), strings.Index(text, "    tyre_rate: 225")
	lone := text[:at] + "    left: " + strings.Replace(table, "[-39, -19.4, 19.6, 39.8 mm]", "[-57, -28.5, 28.6, 57.4 mm]", 1) + "\n" + text[end:]
	alone, faults := ReadBytes([]byte(lone), "job.yaml")
	if alone == nil {
		t.Fatal(faults)
	}
	if front := &alone.Car.Axle[car.Front]; !front.Spring.Known() || front.SpringOf(1) != &front.Spring || front.Spring.Path != "car.front.left.motion.spring" {
		t.Errorf("one side's table alone: %+v", front.Spring)
	}
}

// TestListsOfClicks: two are of the axles, four of the corners, and no other number is taken.
func TestListsOfClicks(t *testing.T) {
	for list, want := range map[string][4]int{"[3, 4]": {3, 3, 4, 4}, "[3, 4, 5, 6]": {3, 4, 5, 6}} {
		job, faults := ReadBytes([]byte(strings.Replace(string(demo(t)), "click: {front: 7, rear: 7}\n\nloads", "click: "+list+"\n\nloads", 1)), "job.yaml")
		if job == nil {
			t.Fatal(faults)
		}
		if got := buildCalled(t, job, "kit").Setup.Click; got != want {
			t.Errorf("%s are %v", list, got)
		}
	}
	job, faults := ReadBytes([]byte(strings.Replace(string(demo(t)), "click: {front: 7, rear: 7}\n\nloads", "click: [1, 2, 3]\n\nloads", 1)), "job.yaml")
	if job != nil || len(faults) == 0 || faults[0].Path != "builds.kit.setup.click" {
		t.Errorf("three clicks: %v", faults)
	}
}

// TestEditOfOneSide: the page's edits reach a side's keys, whether or not anything stands there yet.
func TestEditOfOneSide(t *testing.T) {
	ed := Editor{Text: demo(t)}
	for path, value := range map[string]string{
		"builds.kit.front.left.spring": "front-31", "builds.kit.rear.right.packer": "5 mm", "builds.kit.setup.click.rear_left": "4",
	} {
		ed.Apply(t.Context(), Edit{Path: path, Value: &value})
		if kind, ok := KindAt(path); strings.HasSuffix(path, "packer") && (!ok || kind != quantity.Length) {
			t.Errorf("%s is a %v", path, kind)
		}
	}
	ed.Apply(t.Context(), Edit{Path: "builds.kit.rear.right.spring", Part: "sprung"})
	if len(ed.Faults) != 1 {
		t.Fatal(ed.Faults) // there is no catalogue here
	}
	job, faults := ReadBytes(ed.Text, "job.yaml")
	if job == nil {
		t.Fatal(faults)
	}
	b := buildCalled(t, job, "kit")
	if b.Corner[0].Spring.ID != "front-31" || b.Corner[1].Spring.ID != "front-46" || b.Corner[3].Packer.Value != 0.005 || b.Setup.Click != [4]int{7, 7, 4, 7} {
		t.Errorf("edited: %s, %s, %g, %v", b.Corner[0].Spring.ID, b.Corner[1].Spring.ID, b.Corner[3].Packer.Value, b.Setup.Click)
	}
}

// TestAPresetOfOneSide: a preset whose sides differ brings the parts of both sides, renamed where the job has others by their names.
func TestAPresetOfOneSide(t *testing.T) {
	preset := "parts:\n  springs:\n    front-31: {rate: 35 N/mm, free: 300 mm}\n    lone: {rate: 40 N/mm, free: 280 mm}\nbuilds:\n  p: {front: {spring: lone, left: {spring: front-31}, right: {spring: {use: front-31, free: 290 mm}}}}\n"
	out, err := WithPreset(demo(t), []byte(preset), "town")
	if err != nil {
		t.Fatal(err)
	}
	job, faults := ReadBytes(out, "job.yaml")
	if job == nil {
		t.Fatal(faults)
	}
	b := buildCalled(t, job, "town")
	if l, r := b.Corner[0].Spring, b.Corner[1].Spring; l.ID != "front-31-2" || l.Rate.Value != 35e3 || r.Rate.Value != 35e3 || r.Free.Value != 0.290 {
		t.Errorf("left %s of %g N/m, right %g N/m, %g m", l.ID, l.Rate.Value, r.Rate.Value, r.Free.Value)
	}
}

// TestFaultOfOneSide: a fault of one side's part names that side, and the line it stands in.
func TestFaultOfOneSide(t *testing.T) {
	text, err := os.ReadFile("../../proof/testdata/corners.yaml")
	if err != nil {
		t.Fatal(err)
	}
	broken := strings.Replace(string(text), "click: {front: 6, front_left: 5,", "click: {front: 6, front_left: 15,", 1)
	job, faults := ReadBytes([]byte(broken), "corners.yaml")
	if job != nil {
		t.Fatal("a damper of 12 clicks was set to 15")
	}
	line := 1 + strings.Count(broken[:strings.Index(broken, "front_left: 15,")], "\n")
	for _, f := range faults {
		if f.Kind == Refuse {
			if f.Path != "builds.staggered.setup.click.front_left" || f.Line != line {
				t.Errorf("%+v, line %d is due", f, line)
			}
		}
	}
}

// TestMoveOfSidesThatDiffer: each side is pulled by what it has: its own collar, or its own seats, by its own ratio; sides that are alike are pulled by their mean.
func TestMoveOfSidesThatDiffer(t *testing.T) {
	moved := func(text string) *car.Build {
		ed := edits(t, text, Edit{Path: "builds.kit.front", Move: "10 mm"})
		if len(ed.Faults) > 0 {
			t.Fatal(ed.Faults)
		}
		job, faults := ReadBytes(ed.Text, "job.yaml")
		if job == nil {
			t.Fatal(faults)
		}
		return buildCalled(t, job, "kit")
	}
	near := func(got, want float64) bool { return got > want-1e-9 && got < want+1e-9 }
	text := string(demo(t))
	if b := moved(text); !near(b.Setup.Platform[0].Value, 0.005) || !near(b.Setup.Platform[1].Value, 0.005) {
		t.Errorf("alike: %g and %g", b.Setup.Platform[0].Value, b.Setup.Platform[1].Value)
	}
	b := moved(strings.Replace(text, "front: {spring: front-46, ", "front: {left: {platform: none}, spring: front-46, ", 1))
	if !near(b.Corner[0].SeatsCloser.Value, 0.036) || !near(b.Corner[1].SeatsCloser.Value, 0.032) || b.Setup.Platform[0].Known() || !near(b.Setup.Platform[1].Value, 0.006) {
		t.Errorf("one side without a collar: seats %g and %g, platforms %g and %g", b.Corner[0].SeatsCloser.Value, b.Corner[1].SeatsCloser.Value, b.Setup.Platform[0].Value, b.Setup.Platform[1].Value)
	}
}

// TestBothSides: what both sides of an axle get is typed over what one of them has of its own.
func TestBothSides(t *testing.T) {
	text := []byte("builds:\n  a:\n    front: {packer: 1 mm, left: {packer: 2 mm}}\n    rear: {left: {packer: 1 mm}, right: {packer: 2 mm}}\n    setup: {click: {front: 3, front_right: 4}}\n")
	for path, want := range map[string]string{
		"builds.a.front.packer":      "builds.a.front.packer builds.a.front.left.packer",
		"builds.a.rear.packer":       "builds.a.rear.left.packer builds.a.rear.right.packer",
		"builds.a.front.spring":      "builds.a.front.spring",
		"builds.a.setup.click.front": "builds.a.setup.click.front builds.a.setup.click.front_right",
		"builds.a.setup.click.rear":  "builds.a.setup.click.rear",
		"builds.a.front.left.packer": "builds.a.front.left.packer",
		"builds.a.name":              "builds.a.name",
	} {
		if got := strings.Join(BothSides(text, path), " "); got != want {
			t.Errorf("%s: %s, want %s", path, got, want)
		}
	}
}
