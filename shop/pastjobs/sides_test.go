package pastjobs

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
)

// TestWayBackOfOneSide: what was changed on one side is brought back on that side, and the text put back says the same.
func TestWayBackOfOneSide(t *testing.T) {
	then := changed(t, demo(t), kitSetup, "setup:\n      click: {front: 7, rear: 7, rear_left: 5}", "front: {spring: front-46, ", "front: {left: {packer: 4 mm}, spring: front-46, ")
	now := changed(t, demo(t), kitSetup, "setup:\n      click: {front: 7, rear: 7, rear_right: 6}", "front: {spring: front-46, ", "front: {left: {spring: front-31, helper: front-25}, right: {packer: 2 mm}, spring: front-46, ")
	way, err := WayBack(now, then, quantity.Metric)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, turn := range way.Turns {
		got = append(got, turn.Text)
	}
	if diff := cmp.Diff([]string{
		"Front left spring: front-31 out, front-46 in. Clock both ends into their seats.",
		"Front left helper: front-25 out, nothing in its place.",
		"Front left packers: 4.0 mm in, from 0.0 mm to 4.0 mm.",
		"Front right packers: 2.0 mm out, from 2.0 mm to 0.0 mm.",
		"Rear left clicks: 2 clicks firmer, towards closed, from 7 to 5 counted from closed. To be sure: close gently, then 5 open.",
		"Rear right clicks: 1 click softer, towards open, from 6 to 7 counted from closed. To be sure: close gently, then 7 open.",
	}, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	if len(way.Record) > 0 {
		t.Errorf("said besides: %+v", way.Record)
	}
	if way.Fault != "" {
		t.Fatal(way.Fault)
	}
	back, faults := jobfile.ReadBytes(way.Text, "back")
	if back == nil {
		t.Fatal(faults)
	}
	is, was := buildOf(back, "kit"), buildOf(must(jobfile.ReadBytes(then, "then")), "kit")
	if is.Setup.Click != was.Setup.Click || is.Corner[0].Spring.ID != was.Corner[0].Spring.ID || is.Corner[0].Packer.Value != was.Corner[0].Packer.Value || is.Corner[1].Packer.Value != was.Corner[1].Packer.Value || is.Corner[0].Helper != nil {
		t.Errorf("put back: %+v", is)
	}
}

func must(job *jobfile.Job, _ []jobfile.Fault) *jobfile.Job { return job }
