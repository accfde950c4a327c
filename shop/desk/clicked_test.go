package desk

import (
	"strings"
	"testing"

	"trunnion/examples"
	"trunnion/shop/jobfile"
)

// TestClicksOfACorner: an axle's clicks set both sides, a corner's that one, later ones over earlier ones.
func TestClicksOfACorner(t *testing.T) {
	text, err := examples.Jobs.ReadFile("marl-estate/job.yaml")
	if err != nil {
		t.Fatal(err)
	}
	job, faults := jobfile.ReadBytes(text, "job.yaml")
	if job == nil {
		t.Fatal(faults)
	}
	ask := RideAsk{Click: []string{"front=5", "front-left=3", "rear_right=4"}}
	builds, err := ask.clicked(job.Builds)
	if err != nil {
		t.Fatal(err)
	}
	for i, b := range builds {
		if b.ID == "kit" {
			if b.Setup.Click != [4]int{3, 5, 7, 4} {
				t.Errorf("clicks are %v", b.Setup.Click)
			}
			if job.Builds[i].Setup.Click != [4]int{7, 7, 7, 7} {
				t.Error("the job's own build was changed")
			}
		}
	}
	for _, bad := range []string{"middle=3", "front-left=99", "front", "rear-left=-1"} {
		ask.Click = []string{bad}
		if _, err := ask.clicked(job.Builds); err == nil || !strings.Contains(err.Error(), strings.SplitN(bad, "=", 2)[0]) {
			t.Errorf("%s: %v", bad, err)
		}
	}
}
