package scales_test

import (
	"strings"
	"testing"

	"trunnion/shop/desk"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
	"trunnion/shop/view/scales"
	"trunnion/shop/view/viewtest"
)

// Nobody sits in a car of which one axle is raised: what was aboard on the scales is no
// part of what is lifted, so a car weighed with its driver has the height of one weighed
// without.
func TestLiftLeavesOutWhoWasAboard(t *testing.T) {
	const load = "    load: {front_left: 426 kg, front_right: 428 kg, rear_left: 314 kg, rear_right: 295 kg}"
	plain := viewtest.DemoText(t)
	if !strings.Contains(plain, load) {
		t.Fatal("the demo is weighed otherwise: write its line here")
	}
	ask := &scales.LiftRequest{Level: "780 kg", Lifted: "795 kg ± 0.5 kg", Raised: "450 mm", Radius: "310 mm"}
	height := func(text string) *scales.Lift {
		t.Helper()
		job, faults := jobfile.ReadBytes([]byte(text), "job.yaml")
		if job == nil {
			t.Fatal(faults)
		}
		v, err := scales.LiftOf(desk.New("test"), job, ask, quantity.Metric)
		if err != nil {
			t.Fatal(err)
		}
		if len(v.Faults) > 0 {
			t.Fatal(v.Faults)
		}
		return v
	}
	// 80 kg in the middle of the car, half on each axle and each side.
	laden := strings.Replace(plain, load, `    load: {front_left: 446 kg, front_right: 448 kg, rear_left: 334 kg, rear_right: 315 kg}
    aboard:
      - {name: driver, mass: 80 kg, behind_front_axle: 1350 mm, left: 0 mm}`, 1)
	empty, with := height(plain), height(laden)
	if empty.Shown != with.Shown || empty.Sprung != with.Sprung {
		t.Errorf("weighed with 80 kg aboard it stands %s (sprung %s), without %s (%s)", with.Shown, with.Sprung, empty.Shown, empty.Sprung)
	}
	typed := *ask
	typed.Total = "1463 kg"
	job, _ := jobfile.ReadBytes([]byte(plain), "job.yaml")
	if v, err := scales.LiftOf(desk.New("test"), job, &typed, quantity.Metric); err != nil || v.Shown != empty.Shown {
		t.Errorf("typed as 1463 kg it stands %s, as weighed %s", v.Shown, empty.Shown)
	}
}
