package clickmap

import (
	"context"

	"trunnion/chassis/figure"
	"trunnion/chassis/study"
)

// Seen is how fast one damper moves on one road of the brief, at the build's click.
type Seen struct {
	Corner          int
	Road, Load      string
	Speed           float64 // of the car [m/s]
	Slow, Mid, Fast float64 // share of the time in each range of damper speed [-]
	Bins            []Bin   // how much of the time at which damper speed, rising
	Ones            [len(Reached)]One
}

// See adds how fast the dampers move on the brief's roads, from an answer that drove
// the build over them.
func (m *Map) See(ctx context.Context, a *study.Answer) error {
	at := map[figure.Place]int{}
	for i := range a.Values {
		v := &a.Values[i]
		p := v.Place
		if v.Code != "damper-speed-share" || p.Build != m.Build.ID || v.State != figure.OK || m.Wheel(p.Corner) == nil {
			continue
		}
		p.Mode = ""
		k, there := at[p]
		if !there {
			k = len(m.Seen)
			at[p] = k
			m.Seen = append(m.Seen, Seen{Corner: p.Corner, Road: p.Road, Load: p.Load, Speed: p.Speed})
		}
		switch s := &m.Seen[k]; v.Place.Mode {
		case "low":
			s.Slow = v.Value
		case "high":
			s.Fast = v.Value
		default:
			s.Mid = v.Value
		}
	}
	return m.velocities(ctx, a)
}

// Wheel is the map of a corner; nil where it has none of its own.
func (m *Map) Wheel(corner int) *Wheel {
	for i := range m.Wheels {
		if m.Wheels[i].Corner == corner {
			return &m.Wheels[i]
		}
	}
	return nil
}
