package jobfile

import (
	"math"
	"strings"
	"testing"

	"trunnion/chassis/car"
)

// An adjustable bar: what stands beside the holes is true of the one in use, the
// others follow from arm, rate and link ratio, and a build picks one.
func TestBarHoles(t *testing.T) {
	text := string(load(t, exampleFiles[0]))
	text = strings.Replace(text, "bar: {rate: 9.5 N/mm ± 15 %, link_ratio: 0.94 ± 4 %}",
		"bar: {rate: 9.5 N/mm ± 15 %, link_ratio: 0.94 ± 4 %, hole: outer, holes: {outer: {arm: 240 mm}, 2: {arm: 200 mm}, inner: {rate: 16 N/mm, link_ratio: 0.92}}}", 1)
	text = strings.Replace(text, "      click: {front: 7, rear: 7}", "      click: {front: 7, rear: 7}\n      bar_hole: {front: 2}", 1)
	job, faults := Read(strings.NewReader(text), "holes.yaml")
	if job == nil {
		t.Fatal(faults)
	}
	ax := &job.Car.Axle[car.Front]
	for _, want := range []struct {
		hole       string
		rate, link float64
	}{
		{"outer", 9.5e3, 0.94}, {"", 9.5e3, 0.94}, {"2", 9.5e3 * 240 * 240 / (200 * 200), 0.94}, {"inner", 16e3, 0.92},
	} {
		if rate, link := ax.BarIn(want.hole, 0, nil); math.Abs(rate-want.rate) > 1e-6 || link != want.link {
			t.Errorf("in hole %q the rate is %g N/m with a link ratio of %g; wanted %g and %g", want.hole, rate, link, want.rate, want.link)
		}
	}
	picked := ""
	for _, b := range job.Builds {
		if b.ID == "kit" {
			picked = b.Setup.BarHole[car.Front]
		}
	}
	if picked != "2" {
		t.Errorf("the kit hangs in hole %q", picked)
	}

	// A hole that is none, and holes of a bar that has none.
	if job, faults := Read(strings.NewReader(strings.Replace(text, "bar_hole: {front: 2}", "bar_hole: {front: innr}", 1)), "holes.yaml"); job != nil || !tells(faults, "builds.kit.setup.bar_hole.front", "did you mean inner?") {
		t.Error(faults)
	}
	plain := strings.Replace(text, "bar_hole: {front: 2}", "bar_hole: {rear: 2}", 1)
	if job, faults := Read(strings.NewReader(plain), "holes.yaml"); job == nil || !tells(faults, "builds.kit.setup.bar_hole.rear", "changes nothing") {
		t.Error(faults)
	}
}

func tells(faults []Fault, path, words string) bool {
	for _, f := range faults {
		if f.Path == path && strings.Contains(f.Got+" "+f.Want, words) {
			return true
		}
	}
	return false
}
