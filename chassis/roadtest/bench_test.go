package roadtest

import (
	"context"
	"testing"
)

// Ten minutes at 500 Hz: the log that docs/roadtest.md states the time of.
func BenchmarkTenMinutes(b *testing.B) {
	by := usualSensor()
	by.rate = 500
	l := driven(b, estate(), 64e-6, 16, 600, 3, by)
	build := &Build{Car: estate(), Drawn: drawnEstates(16)}
	b.Run("fit", func(b *testing.B) {
		for b.Loop() {
			if _, err := FitTo(context.Background(), l, build, 0, nil); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("compare", func(b *testing.B) {
		for b.Loop() {
			if _, err := Compare(context.Background(), l, build, 0, UsualMarks(), nil); err != nil {
				b.Fatal(err)
			}
		}
	})
}
