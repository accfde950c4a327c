package spread

import (
	"context"
	"math"
	"testing"
)

func sampleOf(t *Table) []float64 {
	y := make([]float64, t.Samples)
	for k := range y {
		for d, z := range t.Draw(k) {
			y[k] += z.Normal95 / float64(1+d)
		}
	}
	return y
}

func BenchmarkNewTable2000x120(b *testing.B) {
	for b.Loop() {
		NewTable(1, 2000, 120, 2)
	}
}

func BenchmarkInfluences2000x120(b *testing.B) {
	t := NewTable(1, 2000, 120, 2)
	y := sampleOf(t)
	b.ReportAllocs()
	for b.Loop() {
		t.Influences(y)
	}
}

func BenchmarkBandOf2000(b *testing.B) {
	y := sampleOf(NewTable(1, 2000, 8, 2))
	scratch := make([]float64, 0, 2000)
	b.ReportAllocs()
	for b.Loop() {
		if _, _, ok := Band(y, 0.95, scratch); !ok {
			b.Fatal("no band")
		}
	}
}

func BenchmarkEach(b *testing.B) {
	out := make([]float64, 2000)
	for b.Loop() {
		if err := Each(context.Background(), len(out), 2, func(_, i int) { out[i] = math.Sqrt(float64(i)) }); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkRegressionMade2000x120(b *testing.B) {
	t := NewTable(1, 2000, 120, 2)
	for b.Loop() {
		t.Regression()
	}
}

func BenchmarkRegressionShares2000x120(b *testing.B) {
	t := NewTable(1, 2000, 120, 2)
	r, y := t.Regression(), sampleOf(t)
	b.ReportAllocs()
	for b.Loop() {
		r.Influences(y)
	}
}

func BenchmarkRegressionShares256x120(b *testing.B) {
	t := NewTable(1, 256, 120, 2)
	r, y := t.Regression(), sampleOf(t)
	for b.Loop() {
		r.Influences(y)
	}
}
