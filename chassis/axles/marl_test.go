package axles

import (
	"testing"

	"trunnion/chassis/demo"
	"trunnion/chassis/study"
)

// marl is the demo as a job.
func marl(t testing.TB) study.Job {
	t.Helper()
	d, err := demo.Marl()
	if err != nil {
		t.Fatal(err)
	}
	return study.Job{Car: d.Car, Builds: d.Builds, Loads: d.Loads, Brief: d.Brief}
}
