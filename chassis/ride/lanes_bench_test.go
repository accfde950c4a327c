package ride

import (
	"context"
	"fmt"
	"syscall"
	"testing"
	"time"
)

// spent is the processor time of this process: other work on the machine then counts only by what it does to the caches.
func spent() time.Duration {
	var u syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &u) != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

// BenchmarkLanes drives eight cars over one road and over one obstacle, everything reported, by one after the other and in
// lanes; microseconds of processor time a car and second of driving.
func BenchmarkLanes(b *testing.B) {
	for _, base := range []struct {
		name string
		car  Car
	}{{"rigid", estate()}, {"mount", mounted()}} {
		var models []*Model
		for _, c := range fleet(base.car, 8) {
			models = append(models, compile(b, c))
		}
		road := benchCourse(b, models[0], 1e-3)
		hole, err := NewCourse(nil, pit{5, 1.0, 0.07}, 2.7, 60/3.6, 3, 1e-3)
		if err != nil {
			b.Fatal(err)
		}
		for _, way := range []struct {
			name string
			run  Run
		}{
			{"road", Run{Course: road, Duration: benchSeconds, Settle: 1, Step: 1e-3}},
			{"obstacle", Run{Course: hole, Duration: 3, Step: 1e-3, Event: true}},
		} {
			for _, lanes := range []Lanes{Alone, Four, Eight} {
				b.Run(fmt.Sprintf("%s/%s/%d", base.name, way.name, lanes), func(b *testing.B) {
					runs, results := make([]Run, len(models)), make([]*Result, len(models))
					for k := range models {
						runs[k], results[k] = way.run, new(Result)
					}
					drive := func() {
						for _, err := range SimulateEach(context.Background(), lanes, models, runs, results) {
							if err != nil {
								b.Fatal(err)
							}
						}
					}
					drive()
					b.ReportAllocs()
					from := spent()
					for b.Loop() {
						drive()
					}
					b.ReportMetric((spent()-from).Seconds()/float64(b.N)/8/way.run.Duration*1e6, "us/s")
				})
			}
		}
	}
}
