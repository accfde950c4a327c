package jobfile

import (
	"math"
	"strings"
	"testing"
)

// readJob is a job whose second build was fitted and read.
const readJob = scratch + `  kit:
    name: Fitted and read
    front: {spring: f, platform: {type: seat, thread: 1.5 mm/turn, up: 30 mm, down: 30 mm}}
    rear: {spring: r}
    setup: {platform: {front_left: 4 mm, front_right: 5 mm}}
    readings: {bars: off, load: [410 kg, 400 kg, 306 kg, 310 kg], arch_height: [341 mm, 342 mm, 352 mm, 353 mm]}
`

// Collars that are turned after a reading leave it with where they stood; the next turn
// changes nothing of that, and readings typed anew stand where the collars are now.
func TestTurnedSeatsKeepWhereTheyWereRead(t *testing.T) {
	ed := edits(t, readJob, Edit{Path: "builds.kit.setup.platform.front_left", Value: typedIn("12 mm")},
		Edit{Path: "builds.kit.setup.platform.front_left", Value: typedIn("14 mm")}, Edit{Path: "builds.kit.rear.seats_closer", Value: typedIn("3 mm")})
	job, faults := ReadBytes(ed.Text, "job.yaml")
	if job == nil || len(ed.Faults) > 0 {
		t.Fatal(faults, ed.Faults)
	}
	kit := job.Builds[1]
	s := kit.Readings.Seats
	if s == nil || math.Abs(s.Platform[0].Value-4e-3) > 1e-9 || math.Abs(s.Platform[1].Value-5e-3) > 1e-9 || s.SeatsCloser[2].Known() {
		t.Fatalf("read with the seats at %+v in\n%s", s, ed.Text)
	}
	if got := kit.Setup.Platform[0].Value; math.Abs(got-14e-3) > 1e-9 {
		t.Errorf("the platform stands at %g m", got)
	}
	anew := edits(t, string(ed.Text), Edit{Path: "builds.kit.readings", Value: nil}, Edit{Path: "builds.kit.readings", Value: typedIn("{arch_height: [350 mm, 351 mm, 352 mm, 353 mm]}")})
	if job, faults = ReadBytes(anew.Text, "job.yaml"); job == nil || job.Builds[1].Readings == nil || job.Builds[1].Readings.Seats != nil {
		t.Errorf("readings typed anew: %v %s", faults, anew.Text)
	}
}

// Seats that nothing was typed about stood at their start marks.
func TestSeatsAtTheirMarksKeepWhereTheyWereRead(t *testing.T) {
	ed := edits(t, strings.Replace(readJob, "    setup: {platform: {front_left: 4 mm, front_right: 5 mm}}\n", "", 1), Edit{Path: "builds.kit.setup.platform.front_left", Value: typedIn("12 mm")})
	job, faults := ReadBytes(ed.Text, "job.yaml")
	if job == nil || job.Builds[1].Readings.Seats == nil || job.Builds[1].Readings.Seats.Platform[0].Value != 0 {
		t.Fatalf("%v\n%s", faults, ed.Text)
	}
}

// Of a car with another spring nothing was read; with another stop or click it was.
func TestReadingsOfOtherPartsAreTakenOut(t *testing.T) {
	ed := edits(t, readJob, Edit{Path: "builds.kit.rear.spring", Value: typedIn("f")})
	if strings.Contains(string(ed.Text), "readings:") || len(ed.Faults) > 0 {
		t.Errorf("%v\n%s", ed.Faults, ed.Text)
	}
	if last := ed.Applied[len(ed.Applied)-1]; last.Path != "builds.kit.readings" || last.Note == "" {
		t.Errorf("nothing says so: %+v", ed.Applied)
	}
	// What is told of the spring that is fitted, by a road test say, makes it no other one.
	if ed := edits(t, readJob, Edit{Path: "builds.kit.rear.left.spring", Value: typedIn("{use: r, rate: 29 N/mm}")}); !strings.Contains(string(ed.Text), "readings:") || len(ed.Faults) > 0 {
		t.Errorf("%v\n%s", ed.Faults, ed.Text)
	}
	if ed := edits(t, readJob, Edit{Path: "builds.kit.rear.left.spring", Value: typedIn("{use: f, rate: 29 N/mm}")}); strings.Contains(string(ed.Text), "readings:") {
		t.Errorf("another spring: %s", ed.Text)
	}
	for path, value := range map[string]string{"builds.kit.front.packer": "5 mm", "builds.kit.setup.bars": "on", "builds.kit.name": "Another"} {
		if ed := edits(t, readJob, Edit{Path: path, Value: typedIn(value)}); !strings.Contains(string(ed.Text), "readings: {bars: off, load") || strings.Contains(string(ed.Text), "353 mm], ") {
			t.Errorf("%s: %v\n%s", path, ed.Faults, ed.Text)
		}
	}
}
