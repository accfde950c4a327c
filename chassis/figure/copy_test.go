package figure_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"trunnion/chassis/demo"
	"trunnion/chassis/figure"
)

// A copy of a job says the same, shares no input with it, and keeps what is shared within.
func TestCopySharesNoInput(t *testing.T) {
	job := demo.Marl()
	other := figure.Copy(&job)
	all := map[*figure.Input]bool{}
	figure.Walk(&job, func(in *figure.Input) { all[in] = true })
	n := 0
	figure.Walk(other, func(in *figure.Input) {
		n++
		if all[in] {
			t.Errorf("input %q = %v is in both", in.Path, in.Value)
		}
	})
	if n != len(all) || n < 100 {
		t.Errorf("%d inputs in the copy, want the %d of the job, and many", n, len(all))
	}
	if job.Builds[0].Corner[0].Damper != job.Builds[1].Corner[0].Damper {
		t.Fatal("the demo's first two builds no longer share a damper")
	}
	if other.Builds[0].Corner[0].Damper != other.Builds[1].Corner[0].Damper {
		t.Error("a damper that two builds share is two in the copy")
	}
	if d := cmp.Diff(job.Builds[3].Corner[2].Spring, other.Builds[3].Corner[2].Spring); d != "" {
		t.Errorf("a spring differs: %s", d)
	}
}
