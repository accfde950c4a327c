package counting

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func history(t *rapid.T) []float64 {
	// Small whole numbers make equal ranges and flat places frequent.
	whole := rapid.SliceOfN(rapid.IntRange(-6, 6), 0, 60).Draw(t, "history")
	out := make([]float64, len(whole))
	for i, x := range whole {
		out[i] = float64(x)
	}
	return out
}

func damage(cycles []Cycle, slope float64) Damage {
	d := Damage{Slope: slope}
	for _, c := range cycles {
		d.Take(c)
	}
	return d
}

// Every way up and down is part of exactly one cycle: the ranges add up to half
// the way the history goes, and no range is longer than its span.
func TestAllOfTheWayIsCounted(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := history(t)
		way, low, high := 0.0, math.Inf(1), math.Inf(-1)
		for i, x := range h {
			low, high = math.Min(low, x), math.Max(high, x)
			if i > 0 {
				way += math.Abs(x - h[i-1])
			}
		}
		sum, widest := 0.0, 0.0
		for _, c := range Count(h) {
			sum += c.Count * c.Range
			widest = math.Max(widest, c.Range)
			if !(c.Range > 0) || c.Count != 1 && c.Count != 0.5 {
				t.Fatalf("cycle %+v", c)
			}
		}
		if math.Abs(2*sum-way) > 1e-9 {
			t.Fatalf("the history goes %g, its cycles %g", way, 2*sum)
		}
		if len(h) > 0 && widest != high-low {
			t.Fatalf("the widest cycle is %g, the history spans %g", widest, high-low)
		}
	})
}

// Points between reversals, repeated points and a mirror change no damage; a
// doubled history in size makes 2^m of it.
func TestWhatDoesNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := history(t)
		base := damage(Count(h), 5)
		var dense, mirrored, doubled []float64
		for i, x := range h {
			if i > 0 {
				dense = append(dense, 0.75*h[i-1]+0.25*x, 0.5*(h[i-1]+x))
			}
			dense = append(dense, x, x)
			mirrored, doubled = append(mirrored, -x), append(doubled, 2*x)
		}
		dense = append(dense, math.NaN(), math.Inf(1))
		if d := damage(Count(dense), 5); math.Abs(d.Sum-base.Sum) > 1e-9*base.Sum {
			t.Fatalf("denser points: %g for %g", d.Sum, base.Sum)
		}
		if d := damage(Count(mirrored), 5); math.Abs(d.Sum-base.Sum) > 1e-9*base.Sum {
			t.Fatalf("mirrored: %g for %g", d.Sum, base.Sum)
		}
		if d := damage(Count(doubled), 5); math.Abs(d.Sum-32*base.Sum) > 1e-9*32*base.Sum {
			t.Fatalf("doubled: %g for %g", d.Sum, base.Sum)
		}
		twice := damage(Count(doubled), 5)
		if base.Sum > 0 {
			if share, ok := twice.Relative(&base); !ok || math.Abs(share-32) > 1e-9 {
				t.Fatalf("relative %g, %t", share, ok)
			}
		}
	})
}

// A counter that was closed starts again, and does not remember.
func TestCloseEmpties(t *testing.T) {
	n := 0
	r := Rainflow{Each: func(Cycle) { n++ }}
	for range 2 {
		n = 0
		for _, x := range []float64{0, 3, 1, 4} {
			r.Push(x)
		}
		r.Close()
		if n != 2 {
			t.Errorf("%d cycles", n)
		}
	}
	if got := Count([]float64{7}); got != nil {
		t.Errorf("one value has cycles: %v", got)
	}
	if _, ok := (&Damage{Slope: 3}).Relative(&Damage{Slope: 5, Sum: 1}); ok {
		t.Error("damages of two slopes are compared")
	}
	if (&Damage{}).EquivalentRange(0) != 0 {
		t.Error("no cycles have a range")
	}
}

func BenchmarkPush(b *testing.B) {
	d := Damage{Slope: 5}
	r := Rainflow{Each: d.Take}
	x := 0.0
	for b.Loop() {
		x += 0.61803398875
		r.Push(math.Sin(x) + 0.4*math.Sin(7.3*x))
	}
}
