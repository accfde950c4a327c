package pastjobs

import (
	"fmt"
	"testing"

	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
)

// BenchmarkFindNearestOf200 looks through 200 jobs whose traits were derived
// before.
func BenchmarkFindNearestOf200(b *testing.B) {
	s, text := openStore(b), demo(b)
	for i := range 200 {
		t := changed(b, text, "front_left: 426 kg", fmt.Sprintf("front_left: %d kg", 400+i%60))
		keep(b, s, fmt.Sprint("j", i), 0, t)
	}
	if _, err := FindNearest(b.Context(), s, text, "", 5, quantity.Metric, plain); err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if got, err := FindNearest(b.Context(), s, text, "", 5, quantity.Metric, plain); err != nil || got.Of != 200 {
			b.Fatalf("%+v: %v", got, err)
		}
	}
}

// BenchmarkTraits derives the traits of one job.
func BenchmarkTraits(b *testing.B) {
	text := demo(b)
	for i := 0; b.Loop(); i++ {
		t, err := jobfile.Put(text, "job.number", fmt.Sprint(i))
		if err != nil {
			b.Fatal(err)
		}
		if _, err := TraitsOf(b.Context(), t, plain); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkWayBack makes the list of turns between two states.
func BenchmarkWayBack(b *testing.B) {
	then := demo(b)
	now := changed(b, then, kitSetup, "setup:\n      click: {front: 10, rear: 6}\n      platform: {front_left: 6 mm, rear_left: -1.5 mm}")
	for b.Loop() {
		if _, err := WayBack(now, then, quantity.Metric); err != nil {
			b.Fatal(err)
		}
	}
}
