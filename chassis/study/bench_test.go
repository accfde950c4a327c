package study

import (
	"context"
	"fmt"
	"runtime"
	"testing"

	"trunnion/chassis/demo"
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/figure"
)

// BenchmarkRun is a whole assessment of the demo: four builds, five load
// states, 2,000 draws, each calibrated anew. Goal: 0.5 s on two cores.
func BenchmarkRun(b *testing.B) {
	job, opt := Job(demo.Marl()), Defaults()
	for b.Loop() {
		if _, err := Run(context.Background(), job, opt); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkRunWorkers shows how the study scales with workers, up to the cores
// at hand.
func BenchmarkRunWorkers(b *testing.B) {
	for n := 1; n <= min(8, runtime.GOMAXPROCS(0)); n *= 2 {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			job, opt := Job(demo.Marl()), Defaults()
			opt.Workers = n
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Run(context.Background(), job, opt); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkSamples doubles the draws: the time should double and no more.
func BenchmarkSamples(b *testing.B) {
	for _, n := range []int{500, 1000, 2000, 4000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			job, opt := Job(demo.Marl()), Defaults()
			opt.Samples, opt.NoModes, opt.NoWorkings = n, true, true
			for b.Loop() {
				if _, err := Run(context.Background(), job, opt); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N)/float64(n), "us/draw")
		})
	}
}

// BenchmarkBuilds adds builds one by one: each should cost the same.
func BenchmarkBuilds(b *testing.B) {
	for n := 1; n <= 4; n++ {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			job, opt := Job(demo.Marl()), Defaults()
			job.Builds = job.Builds[:n]
			opt.Samples, opt.NoModes, opt.NoWorkings = 1000, true, true
			for b.Loop() {
				if _, err := Run(context.Background(), job, opt); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N)/float64(n), "us/build")
		})
	}
}

// ready prepares the demo and a draw of its inputs with its warm start.
func ready(tb testing.TB) (s *setup, nominal [][]Case, d figure.Draw) {
	tb.Helper()
	s, err := prepare(Job(demo.Marl()), Defaults())
	if err != nil {
		tb.Fatal(err)
	}
	base := equilibrium.Calibrate(s.fitted, s.hangup, nil)
	nominal = s.solveAll(&base, &Answer{})
	vs := make([]figure.Variate, len(s.banded))
	for i := range vs {
		// An uneven draw of about one standard deviation each.
		u := float64((i*7)%11)/5.0 - 1
		vs[i] = figure.Variate{Normal95: 0.5 * u, Uniform: 0.6 * u}
	}
	return s, nominal, figure.DrawOf(vs)
}

// BenchmarkEquilibrium finds one rest position of the demo, warm from the
// nominal state as every draw does. Goal: about 3 us, no allocation.
func BenchmarkEquilibrium(b *testing.B) {
	s, nominal, d := ready(b)
	base := equilibrium.Calibrate(s.fitted, s.hangup, d)
	for _, which := range []struct{ build, load int }{{0, 1}, {3, 1}, {1, 3}} {
		sys, err := equilibrium.NewSystem(s.designs[which.build], &base, s.hangup, d)
		if err != nil {
			b.Fatal(err)
		}
		extra := equilibrium.Of(s.job.Loads[which.load].Items, d)
		guess := nominal[which.build][which.load].State
		b.Run(s.job.Builds[which.build].ID+"-"+s.job.Loads[which.load].ID, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := sys.Solve(extra, &guess); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkCalibrate reads the weighing under one draw.
func BenchmarkCalibrate(b *testing.B) {
	s, _, d := ready(b)
	b.ReportAllocs()
	for b.Loop() {
		equilibrium.Calibrate(s.fitted, s.hangup, d)
	}
}

// BenchmarkNewSystem puts one build on the calibrated car under one draw; the
// bushes' rest is solved for in it.
func BenchmarkNewSystem(b *testing.B) {
	s, _, d := ready(b)
	base := equilibrium.Calibrate(s.fitted, s.hangup, d)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := equilibrium.NewSystem(s.designs[3], &base, s.hangup, d); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkWantedHeights does the same for a build whose platforms are turned
// until the car stands where it is wanted.
func BenchmarkWantedHeights(b *testing.B) {
	s, _, d := ready(b)
	base := equilibrium.Calibrate(s.fitted, s.hangup, d)
	for i, mm := range [4]float64{348, 349, 357, 356} {
		s.job.Builds[3].Setup.WantedHeight[i] = figure.Input{Value: mm * 1e-3, Origin: figure.Chosen}
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := equilibrium.NewSystem(s.designs[3], &base, s.hangup, d); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkMeasure takes every number of one solved case.
func BenchmarkMeasure(b *testing.B) {
	s, nominal, _ := ready(b)
	c := &nominal[1][2]
	var arch [4]float64
	var zero [2]float64
	var numbers [perCase]float64
	b.ReportAllocs()
	for b.Loop() {
		s.measure(&c.System, &c.State, &arch, &zero, numbers[:])
	}
}
