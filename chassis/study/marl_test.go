package study

import (
	"testing"

	"trunnion/chassis/demo"
)

// marl is the demo as a job of this package.
func marl(t testing.TB) Job {
	t.Helper()
	d, err := demo.Marl()
	if err != nil {
		t.Fatal(err)
	}
	return Job{Car: d.Car, Builds: d.Builds, Loads: d.Loads, Brief: d.Brief}
}
