package cornering

import (
	"testing"

	"trunnion/chassis/equilibrium"
)

// BenchmarkSweep sweeps four builds to 1 g in 60 points each, contacts and
// their jumps in. Goal: 50 ms.
func BenchmarkSweep(b *testing.B) {
	var cars [4]*Car
	for k := range cars {
		cars[k] = demoCar(b, k, "driver", nil)
	}
	b.ReportAllocs()
	for b.Loop() {
		for _, c := range cars {
			if s := c.Sweep(Asked{Lateral: equilibrium.Gravity, Points: 60}); s.Ended != nil {
				b.Fatal(s.Ended)
			}
		}
	}
}

// BenchmarkSweepOnPaths is the same with the links' points known. Goal: 50 ms.
func BenchmarkSweepOnPaths(b *testing.B) {
	var cars [4]*Car
	for k := range cars {
		cars[k] = demoCar(b, k, "driver", led(b))
	}
	b.ReportAllocs()
	for b.Loop() {
		for _, c := range cars {
			if s := c.Sweep(Asked{Lateral: equilibrium.Gravity, Points: 60}); s.Ended != nil {
				b.Fatal(s.Ended)
			}
		}
	}
}

// BenchmarkPaths looks up the paths of two axles, as a study does once.
func BenchmarkPaths(b *testing.B) {
	for b.Loop() {
		paths(b)
	}
}

// BenchmarkPoint finds one point from a neighbour, as sliders do.
func BenchmarkPoint(b *testing.B) {
	c := demoCar(b, 0, "four-aboard", nil)
	near, err := c.At(3.9, -1, nil)
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := c.At(4, -1, &near); err != nil {
			b.Fatal(err)
		}
	}
}
