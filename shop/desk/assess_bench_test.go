package desk

import (
	"testing"

	"trunnion/examples"
	"trunnion/shop/jobfile"
)

// BenchmarkAssess is everything there is to ask of the demo, nothing kept.
func BenchmarkAssess(b *testing.B) {
	text, err := examples.Jobs.ReadFile("marl-estate/job.yaml")
	if err != nil {
		b.Fatal(err)
	}
	job, faults := jobfile.ReadBytes(text, "job.yaml")
	if len(faults) > 0 {
		b.Fatal(faults)
	}
	for b.Loop() {
		if _, err := New("test").Assess(b.Context(), job, AssessAsk{}); err != nil {
			b.Fatal(err)
		}
	}
}
