package main

import (
	"fmt"
	"math"

	"trunnion/chassis/ride"
	"trunnion/chassis/road"
)

// drive is one drive that every solver makes.
type drive struct {
	name     string
	event    bool
	speed    float64 // [m/s]
	duration float64 // [s]
	settle   float64 // [s]
	profile  road.Profile
}

const (
	roadTime = 30.0     // [s]
	obstacle = 60 / 3.6 // speed over an obstacle [m/s]
	contact  = 0.12     // the tyre's averaging length; common practice, no source [m]
	radius   = 0.31     // of the wheel that bridges an edge; common practice, no source [m]
	gridTime = 0.25e-3  // grid of the written road [s]
	settling = 1.0      // heights grow over this time on a road [s]
	eventEnd = 3.0      // [s]
)

// drives returns ISO 8608 class C at four speeds, a pothole and a hump.
func drives() ([]drive, error) {
	var out []drive
	for _, v := range []float64{10, 20, 30, 50} {
		g, err := road.NewGenerator(road.UsualRoad(road.ClassC.Spectrum(), v*roadTime+20))
		if err != nil {
			return nil, err
		}
		p := g.Generate(8608)
		if p, err = p.Averaged(contact); err != nil {
			return nil, err
		}
		out = append(out, drive{
			name: fmt.Sprintf("class-c-%.0f", v), speed: v, duration: roadTime, settle: settling, profile: p,
		})
	}
	pothole, err := road.Pothole(0.070, 0.60, 0.05, road.RightSide)
	if err != nil {
		return nil, err
	}
	hump, err := road.RoundHump(0.100, 3.7)
	if err != nil {
		return nil, err
	}
	for _, e := range []struct {
		name  string
		shape road.Event
	}{{"pothole-70", pothole}, {"hump-100", hump}} {
		flat := road.Profile{Step: 0.02, Left: make([]float64, 2), Right: make([]float64, 2), Interpolation: road.Linear}
		p := flat.With(e.shape, 2)
		laid, err := p.Laid(0.01, 0, 12)
		if err != nil {
			return nil, err
		}
		if p, err = laid.Enveloped(radius); err != nil {
			return nil, err
		}
		out = append(out, drive{name: e.name, event: true, speed: obstacle, duration: eventEnd, profile: p})
	}
	return out, nil
}

// heights are what the four wheels stand on, on the grid of the written road.
func (d *drive) heights(wheelbase float64) [][4]float64 {
	n := int(math.Round(d.duration/gridTime)) + 8
	rows := make([][4]float64, n)
	line := make([]float64, n)
	left, right := ride.Tracks(&d.profile)
	for i := range 4 {
		x0 := 0.0
		if i >= ride.RearLeft {
			x0 = -wheelbase
		}
		track := left
		if i%2 == 1 {
			track = right
		}
		track.Sample(line, x0, d.speed*gridTime)
		for k := range rows {
			s := 1.0
			if t := float64(k) * gridTime; t < d.settle {
				s = t / d.settle
				s = s * s * (3 - 2*s)
			}
			rows[k][i] = s * line[k]
		}
	}
	return rows
}
