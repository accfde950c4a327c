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

// damage is Σ n·rᵐ.
func damage(cycles []Cycle, slope float64) (sum float64) {
	l := Line{Rated: 1, Cycles: 1, Slope: slope, Below: slope}
	for i := range cycles {
		sum += l.Take(&cycles[i])
	}
	return sum
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
		if d := damage(Count(dense), 5); math.Abs(d-base) > 1e-9*base {
			t.Fatalf("denser points: %g for %g", d, base)
		}
		if d := damage(Count(mirrored), 5); math.Abs(d-base) > 1e-9*base {
			t.Fatalf("mirrored: %g for %g", d, base)
		}
		if d := damage(Count(doubled), 5); math.Abs(d-32*base) > 1e-9*32*base {
			t.Fatalf("doubled: %g for %g", d, base)
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
}

func BenchmarkPush(b *testing.B) {
	d := Tally{Least: 0.001}
	r := Rainflow{Each: d.Take}
	x := 0.0
	for b.Loop() {
		x += 0.61803398875
		r.Push(math.Sin(x) + 0.4*math.Sin(7.3*x))
	}
}

// A force that is told by its parts: the parts of a cycle add up to its range, and
// mirror with it.
func TestPartsOfACycle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := history(t), history(t)
		n := 0
		r := Rainflow{Each: func(c Cycle) {
			n++
			if d := c.Parts.Sum() - c.Range; math.Abs(d) > 1e-12 {
				t.Fatalf("parts %v of a range of %g", c.Parts, c.Range)
			}
		}}
		var sums []float64
		for i := range min(len(a), len(b)) {
			p := Parts{a[i], 0, b[i]}
			sums = append(sums, p.Sum())
			r.PushParts(&p)
		}
		r.Close()
		if want := len(Count(sums)); n != want {
			t.Fatalf("%d cycles by parts, %d of the sum", n, want)
		}
	})
}

// Below the knee a line is steeper, or counts nothing; it is one line at the knee.
func TestKnee(t *testing.T) {
	l := Line{Rated: 3000, Cycles: 1e6, Slope: 5, Below: Haibach(5)}
	if at := l.Life(3000); math.Abs(at-1e6) > 1e-6 || l.Below != 9 {
		t.Errorf("%g cycles at the knee, below it a slope of %g", at, l.Below)
	}
	if up, down := l.Life(6000)*32, l.Life(1500)/512; math.Abs(up-1e6) > 1e-3 || math.Abs(down-1e6) > 1e-3 {
		t.Errorf("%g and %g", up, down)
	}
	// What went wrong without a knee: a thousand trifles outweighed one blow.
	trifle, blow := Cycle{Range: 600, Count: 1e5}, Cycle{Range: 6000, Count: 1}
	straight := Line{Rated: 3000, Cycles: 1e6, Slope: 5, Below: 5}
	if !(straight.Take(&trifle) > 0.99*straight.Take(&blow)) || !(l.Take(&trifle) < 0.01*l.Take(&blow)) {
		t.Errorf("trifles %g of the blow on a straight line, %g with a knee", straight.Take(&trifle)/straight.Take(&blow), l.Take(&trifle)/l.Take(&blow))
	}
	l.Below = 0
	if l.Take(&trifle) != 0 {
		t.Error("trifles count on a line that ends at its knee")
	}
	// Left out of a tally: what is smaller than its least, and what is no range.
	var none Tally
	none.Take(blow)
	some := Tally{Least: 1000}
	some.Take(trifle)
	for _, tally := range []*Tally{&none, &some} {
		if sum, _ := tally.Damage(&straight); sum != 0 {
			t.Errorf("%g of cycles that are left out", sum)
		}
	}
}
