package search

import (
	"context"
	"runtime"
	"testing"
)

// BenchmarkSearched is a million builds and more through the statics and the spectrum, with
// the neighbours of the best. Goal: 30 s on two cores.
func BenchmarkSearched(b *testing.B) {
	a := adjustable(b, 60)
	space, err := Offer(a, "kit", Everything(), Shop{})
	if err != nil {
		b.Fatal(err)
	}
	for x := range space.Axle {
		ax := &space.Axle[x]
		ax.Stops, ax.Packers = ax.Stops[:1], ax.Packers[:2]
		ax.Springs = ax.Springs[:12]
		ax.Dampers = ax.Dampers[:1]
		ax.Dampers[0].Clicks = spreadOut(ax.Dampers[0].Clicks, 6)
	}
	must := UsualMust()
	opt := Usual()
	opt.Workers = runtime.GOMAXPROCS(0)
	looked := 0
	for b.Loop() {
		s, err := newSeeker(a, &space, &must, opt, nil)
		if err != nil {
			b.Fatal(err)
		}
		out := new(Found)
		stand, kept, err := s.axles(context.Background(), out)
		if err != nil {
			b.Fatal(err)
		}
		if _, err := s.pairs(context.Background(), stand, kept, out); err != nil {
			b.Fatal(err)
		}
		looked = out.Steps[0].Looked + out.Steps[1].Looked
	}
	b.ReportMetric(space.Size(), "builds")
	b.ReportMetric(float64(looked), "looked-at")
}

// BenchmarkJudgedInTime drives candidates over the brief for a short time, with all its
// obstacles, and judges them. Goal: 2 s per 1,000 on two cores in lanes.
func BenchmarkJudgedInTime(b *testing.B) {
	a := adjustable(b, 60)
	space := small(b, a, 4, 2, 1, 3)
	must := UsualMust()
	opt := Usual()
	opt.Workers = runtime.GOMAXPROCS(0)
	s, err := newSeeker(a, &space, &must, opt, nil)
	if err != nil {
		b.Fatal(err)
	}
	list := make([][2]int, together)
	for k := range list {
		list[k] = [2]int{k, k}
	}
	for b.Loop() {
		if err := s.drive(context.Background(), list, shortDrive, make([]Worth, together)); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(b.Elapsed().Seconds()/float64(b.N)/together*1e3, "s/1000-of-one-core")
}
