package symptom

import (
	"math"
	"strings"
	"testing"

	"trunnion/chassis/car"
	"trunnion/chassis/study"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
	"trunnion/shop/wording"
)

// TestChangesOfSidesThatDiffer: where left and right are set or built unlike, each side is turned from where it stands, and the edits say so.
func TestChangesOfSidesThatDiffer(t *testing.T) {
	text := string(demo(t))
	for old, now := range map[string]string{
		"setup:\n      click: {front: 7, rear: 7}": "setup:\n      click: {front: 7, front_left: 3, rear: 7, rear_left: 7, rear_right: 7}",
		"rear: {spring: rear-80, ":                 "rear: {left: {spring: rear-60, packer: 4 mm}, spring: rear-80, ",
	} {
		if !strings.Contains(text, old) {
			t.Fatalf("the demo has no %q", old)
		}
		text = strings.Replace(text, old, now, 1)
	}
	job, faults := jobfile.ReadBytes([]byte(text), "job.yaml")
	if job == nil {
		t.Fatal(faults)
	}
	opt := study.Defaults()
	opt.Samples, opt.NoWorkings, opt.NoRemedies = 0, true, true
	a, err := study.Run(t.Context(), study.Job{Car: job.Car, Builds: job.Builds, Loads: job.Loads, Brief: &job.Brief}, opt)
	if err != nil {
		t.Fatal(err)
	}
	m := &mender{ctx: t.Context(), scene: &scene{was: a, now: a, build: "kit", load: "driver", bothSides: func(path string) []string { return jobfile.BothSides(job.Text, path) }}}
	m.tell = wording.New(a, quantity.Metric)
	try := func(do string, by float64, axles ...int) *trial {
		t.Helper()
		b := *m.base()
		st := &step{do: do, by: by}
		tr := &trial{build: &b}
		switch do {
		case "softer-clicks":
			return m.clicks(st, tr, axles)
		case "more-packer":
			return m.packer(st, tr, axles)
		}
		return m.spring(st, tr, axles)
	}
	edits := func(tr *trial) string {
		var out []string
		for _, e := range tr.edits {
			out = append(out, strings.TrimPrefix(e.Path, "builds.kit.")+" "+e.Value)
		}
		return strings.Join(out, "; ")
	}
	tr := try("softer-clicks", 2, car.Front, car.Rear)
	if tr.build.Setup.Click != [4]int{5, 9, 9, 9} {
		t.Errorf("clicks %v", tr.build.Setup.Click)
	}
	if want := "Front left 2 clicks softer, from 3 to 5; front right 2 clicks softer, from 7 to 9; rear 2 clicks softer, from 7 to 9 (counted from closed)."; tr.text != want {
		t.Errorf("clicks: %s", tr.text)
	}
	if got, want := edits(tr), "setup.click.front_left 5; setup.click.front_right 9; setup.click.rear_left 9; setup.click.rear_right 9"; got != want {
		t.Errorf("edits: %s", got)
	}
	tr = try("more-packer", 0.005, car.Rear)
	if got, want := edits(tr), "rear.left.packer 9 mm; rear.right.packer 5 mm"; got != want || math.Abs(tr.build.Corner[2].Packer.Value-0.009) > 1e-9 || math.Abs(tr.build.Corner[3].Packer.Value-0.005) > 1e-9 {
		t.Errorf("packers: %s, want %s", got, want)
	}
	tr = try("firmer-spring", 0.2, car.Rear)
	if got := edits(tr); !strings.Contains(got, "rear.left.spring {use: rear-60, rate: 70.0 N/mm, free: 240.0 mm") || !strings.Contains(got, "rear.right.spring {use: rear-80, rate: 95.0 N/mm") {
		t.Errorf("springs: %s", got)
	}
	if ends := clicksAt(a, "kit"); ends[0] != ends[1] || ends[0] == [2]int{} {
		t.Errorf("ends of the clicks: %v", ends)
	}
	for _, e := range tr.edits {
		if _, err := jobfile.Insert(job.Text, e.Path, e.Value); err != nil {
			t.Errorf("%s: %v", e.Path, err)
		}
	}
}
