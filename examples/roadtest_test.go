package examples_test

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"testing"

	"trunnion/chassis/drives"
	"trunnion/chassis/ride"
	"trunnion/chassis/road"
	"trunnion/chassis/study"
	"trunnion/examples"
	"trunnion/shop/jobfile"
)

const logRate = 200.0 // of the invented logger [Hz]

// demoKit is the ride engine's car of the demo's kit with the driver aboard.
func demoKit(t *testing.T) ride.Car {
	t.Helper()
	text, err := examples.Jobs.ReadFile("marl-estate/job.yaml")
	if err != nil {
		t.Fatal(err)
	}
	job, faults := jobfile.ReadBytes(text, "job.yaml")
	if job == nil {
		t.Fatal(faults)
	}
	opt := study.Defaults()
	opt.Samples, opt.NoWorkings, opt.NoModes, opt.NoCorners, opt.NoRemedies = 0, true, true, true, true
	a, err := study.Run(context.Background(), study.Job{Car: job.Car, Builds: job.Builds, Loads: job.Loads, Brief: &job.Brief}, opt)
	if err != nil {
		t.Fatal(err)
	}
	c, _, err := drives.Cars(a, "kit", "driver", 1, 0)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// planted are the known faults of the car that the example log is of: the front left stop
// 6 mm nearer than entered, rebound 15 % soft at the rear right, 60 N more friction at the
// front left damper.
func planted(c ride.Car) ride.Car {
	c.Corners[ride.FrontLeft].Stop.TouchTravel -= 0.006
	c.Corners[ride.FrontLeft].Friction += 60
	damper := c.Corners[ride.RearRight].Damper
	c.Corners[ride.RearRight].Damper = func(v float64) float64 {
		if v < 0 {
			return 0.85 * damper(v)
		}
		return damper(v)
	}
	return c
}

// outing is one stretch of the invented drive.
type outing struct {
	roughness, speed, seconds float64
	seed                      uint64
	hump                      float64 // in front of which the stretch is half over [m]
}

// roadTestLog is the log as an invented logger writes it: five seconds at rest with the
// driver in, a lane with two humps, a faster road; 12-bit sensors of 150 mm, noise, a
// rear left sensor that drifts, a few samples dropped.
func roadTestLog(t *testing.T) []byte {
	c := planted(demoKit(t))
	m, err := ride.Compile(c)
	if err != nil {
		t.Fatal(err)
	}
	rest := m.Rest().Travel
	r := rand.New(rand.NewPCG(22, 11))
	var b bytes.Buffer
	b.WriteString("Log of an invented car;kit, driver aboard\n")
	b.WriteString("time,damper FL,damper FR,damper RL,damper RR,speed,lateral,floor\n")
	b.WriteString("s,mm,mm,mm,mm,km/h,g,g\n")
	row, lost := 0, 0
	put := func(x [4]float64, speed, floor float64) {
		if lost == 0 && r.Float64() < 1.0/4000 {
			lost = 3
		}
		at := float64(row) / logRate
		row++
		if lost > 0 {
			lost--
			return
		}
		fmt.Fprintf(&b, "%.3f", at)
		for i := range 4 {
			v := x[i] + 0.02e-3*r.NormFloat64() + 41e-3
			if i == ride.RearLeft {
				v += 2.2e-3 * at / 90
			}
			const bit = 0.150 / 4096
			b.WriteString("," + strconv.FormatFloat(1e3*bit*math.Round(v/bit), 'f', 2, 64))
		}
		fmt.Fprintf(&b, ",%.1f,%.2f,%.3f\n", 3.6*speed+0.05*r.NormFloat64(), 0.01*r.NormFloat64(), 1+floor/9.80665+0.003*r.NormFloat64())
	}
	for range int(5 * logRate) {
		put([4]float64{}, 0, 0)
	}
	for _, o := range []outing{{128e-6, 50 / 3.6, 45, 4, 0.055}, {32e-6, 80 / 3.6, 32, 9, 0}} {
		g, err := road.NewGenerator(road.UsualRoad(road.Spectrum{Roughness: o.roughness, Waviness: 2}, o.speed*o.seconds+40))
		if err != nil {
			t.Fatal(err)
		}
		p := g.Generate(o.seed)
		if o.hump > 0 {
			hump, err := road.RoundHump(o.hump, 3.7)
			if err != nil {
				t.Fatal(err)
			}
			p = p.With(hump, o.speed*o.seconds*0.4).With(hump, o.speed*o.seconds*0.7)
		}
		if p, err = p.Averaged(0.12); err != nil {
			t.Fatal(err)
		}
		left, right := ride.Tracks(&p)
		var res ride.Result
		err = m.Simulate(context.Background(), ride.Run{
			Left: left, Right: right, Speed: o.speed, Duration: o.seconds, Settle: 1, Step: 1 / logRate / 5, Every: 5,
			Each: func(now *ride.Moment) {
				var x [4]float64
				for i := range 4 {
					a, _, _ := c.Corners[i].DamperTravel(now.Travel[i])
					z, _, _ := c.Corners[i].DamperTravel(rest[i])
					x[i] = a - z
				}
				put(x, o.speed, now.Acceleration[0]+now.Acceleration[1]*0.1)
			},
		}, &res)
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("front left stop %.0f N, hits %v, low load %.4f", res.Corners[0].StopPeak, res.Corners[0].StopHits, res.Corners[0].LiftOff)
		for range int(2 * logRate) {
			put([4]float64{}, 0, 0)
		}
	}
	return b.Bytes()
}

// The example log is what its generator makes of the example job: -update writes it anew.
func TestRoadTestLogIsThatOfItsGenerator(t *testing.T) {
	const name = "roadtest/kit-driver.csv"
	made := roadTestLog(t)
	if *update {
		if err := os.MkdirAll("roadtest", 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, made, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	have, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(have, made) {
		t.Errorf("%s is not what the generator makes of the job any more: go test ./examples -run RoadTest -update", name)
	}
	if len(have) > 1_500_000 {
		t.Errorf("%s has %d bytes, wanted 1.5 MB at most", name, len(have))
	}
}
