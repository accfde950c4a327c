package drives

import (
	"context"
	"sync"
	"testing"

	"trunnion/chassis/study"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"trunnion/chassis/brief"
	"trunnion/chassis/demo"
	"trunnion/chassis/figure"
)

// small is a case for the race detector: two builds, two loads, a road and an obstacle.
func small(t *testing.T) study.Job {
	job := study.Job(demo.Marl())
	job.Builds, job.Loads = job.Builds[:2], job.Loads[:2]
	in := func(v float64) figure.Input { return figure.Input{Value: v, Origin: figure.Chosen} }
	job.Brief.Roads = job.Brief.Roads[:1]
	job.Brief.Events = []brief.Event{{Kind: "pothole", Depth: in(0.05), Length: in(0.6), Speed: in(12), Load: job.Loads[1].ID}}
	return job
}

// What workers share, and what drives share that begin from one earlier answer. Each study has its own job: its inputs
// are numbered by the study.
func TestDrivesAtOnce(t *testing.T) {
	opt := study.Defaults()
	opt.Samples = 8
	drive := Defaults()
	drive.Samples, drive.Duration, drive.Unchecked = 2, 1, true
	first, err := study.Run(context.Background(), small(t), opt)
	if err != nil {
		t.Fatal(err)
	}
	var all sync.WaitGroup
	var answers [2]*study.Answer
	for k, workers := range []int{1, 3} {
		job := small(t)
		all.Go(func() {
			opt := opt
			opt.Workers = workers
			var earlier *study.Answer
			if k > 0 {
				earlier = first
			}
			a, err := study.Rerun(context.Background(), earlier, job, opt)
			if err == nil {
				err = Ride(context.Background(), a, drive, func(int, int) {})
			}
			if err != nil {
				t.Error(err)
				return
			}
			answers[k] = a
		})
	}
	all.Wait()
	if t.Failed() {
		return
	}
	if d := cmp.Diff(answers[0].Values, answers[1].Values, cmpopts.EquateNaNs(), cmp.Comparer(demo.SameWorkings())); d != "" {
		t.Errorf("a study by three workers from an earlier answer has another answer:\n%.2000s", d)
	}
}
