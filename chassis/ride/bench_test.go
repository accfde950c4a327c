package ride

import (
	"context"
	"testing"
)

const benchSeconds = 30.0

func benchCourse(b *testing.B, m *Model, step float64) *Course {
	b.Helper()
	c, err := NewCourse(newQuick(newWavy(3, 256e-6, 60), 700, 0.01), newQuick(newWavy(4, 256e-6, 60), 700, 0.01), m.car.Wheelbase, 20, benchSeconds, step)
	if err != nil {
		b.Fatal(err)
	}
	return c
}

func benchmarkRun(b *testing.B, car Car, step float64) {
	m := compile(b, car)
	course := benchCourse(b, m, step)
	var res Result
	run := Run{Course: course, Duration: benchSeconds, Settle: 1, Step: step}
	if err := m.Simulate(context.Background(), run, &res); err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if err := m.Simulate(context.Background(), run, &res); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(b.Elapsed().Seconds()/float64(b.N)/benchSeconds*1e6, "us/s")
}

func mounted() Car {
	c := estate()
	for i := range c.Corners {
		c.Corners[i].MountStiffness = 500e3
	}
	return c
}

func BenchmarkRun1000us(b *testing.B)      { benchmarkRun(b, estate(), 1e-3) }
func BenchmarkRun1500us(b *testing.B)      { benchmarkRun(b, estate(), 1.5e-3) }
func BenchmarkRunMount1000us(b *testing.B) { benchmarkRun(b, mounted(), 1e-3) }

// BenchmarkStepsAlone is the loop without anything that looks at it.
func BenchmarkStepsAlone(b *testing.B) {
	m := compile(b, estate())
	course := benchCourse(b, m, 1e-3)
	var s scratch
	var res Result
	b.ReportAllocs()
	for b.Loop() {
		m.begin(&s, &Run{}, &res)
		for n := 0; n+blockSteps <= len(course.heights); n += blockSteps {
			m.advance(&s.state, course.heights[n:n+blockSteps], &s.block, 1e-3)
		}
	}
	b.ReportMetric(b.Elapsed().Seconds()/float64(b.N)/benchSeconds*1e6, "us/s")
}

// BenchmarkRungeKutta is the peer at 2 ms, its own 0.5 % step, without anything that looks at it.
func BenchmarkRungeKutta(b *testing.B) {
	m := compile(b, lossless(estate()))
	course := benchCourse(b, m, 1e-3)
	for b.Loop() {
		p := &peer{m: m}
		p.drive(course, int(benchSeconds/2e-3), 1, func(int, *[7]float64, *[7]float64, *[7]float64) {})
	}
	b.ReportMetric(b.Elapsed().Seconds()/float64(b.N)/benchSeconds*1e6, "us/s")
}

func BenchmarkCompile(b *testing.B) {
	car := estate()
	for b.Loop() {
		if _, err := Compile(car); err != nil {
			b.Fatal(err)
		}
	}
}
