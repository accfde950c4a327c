package levelling_test

import (
	"math"
	"strings"
	"testing"

	"trunnion/chassis/scales"
	"trunnion/shop/jobfile"
	"trunnion/shop/levelling"
	"trunnion/shop/quantity"
	"trunnion/shop/wording"
)

// What the job says of thread and flats holds the move: a body is screwed out no
// farther than its least engagement, and turned by whole flats.
func TestThreadAndFlatsOfTheJob(t *testing.T) {
	text, _, _ := demo(t)
	changed := strings.Replace(string(text), "kit-collar: {type: seat,", "kit-collar: {type: body, engaged: 30 mm, least_engaged: 29 mm, flats: 6,", 1)
	job, faults := jobfile.ReadBytes([]byte(changed), "job.yaml")
	if job == nil {
		t.Fatal(faults)
	}
	b, err := levelling.Find(job, "kit")
	if err != nil {
		t.Fatal(err)
	}
	rig, err := levelling.Stand(job, b, "driver", nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	target := scales.Road.Level(scales.FrontRightRearLeft)
	if err := levelling.Wish(&target, "rear", "370 mm"); err != nil {
		t.Fatal(err)
	}
	l, err := levelling.Work(b, "driver", rig, target, nil)
	if err != nil {
		t.Fatal(err)
	}
	held := false
	for i := range 4 {
		c := &l.Plan.Collar[i]
		if sixths := c.Turns * 6; math.Abs(sixths-math.Round(sixths)) > 1e-9 {
			t.Errorf("corner %d turns %v: no whole flats of six", i, c.Turns)
		}
		if c.At > 1e-3+1e-9 {
			t.Errorf("corner %d is screwed out by %.2f mm, and 1 mm is there", i, c.At*1e3)
		}
		held = held || c.Held == "engagement"
	}
	if !held || !l.Stopped {
		t.Errorf("stopped %v; collars %+v", l.Stopped, l.Plan.Collar)
	}
	if says := l.Says(wording.New(nil, quantity.Metric)); !strings.Contains(says, "outside the thread") || !strings.Contains(says, "+1.0 mm is left") {
		t.Errorf("says %q", says)
	}
	// A step that is asked for goes before the flats.
	if rig, err = levelling.Stand(job, b, "driver", nil, 0.25); err != nil || rig.Adjuster[0].Step != 0.25 {
		t.Errorf("step %v, %v", rig.Adjuster[0].Step, err)
	}
}
