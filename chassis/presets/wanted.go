package presets

import (
	"context"
	"math"

	"trunnion/chassis/brief"
	"trunnion/chassis/car"
	"trunnion/chassis/study"
)

// Wanted is what an owner wants of an adjuster, in one load state: comfortable in town
// at full soft, still enough on the motorway there, noticeably firm at full hard. That
// these three are wanted, and their limits, are common practice, no source.
type Wanted struct {
	Load        string
	TownSoft    float64 // floor acceleration over the town road at full soft [m/s2]
	TownHard    float64 // at full hard [m/s2]
	BounceSoft  float64 // left one cycle after the hump at full soft [-]
	BounceHard  float64 // at full hard [-]
	Comfortable bool
	Enough      bool
	Firm        bool
	// EnoughAt is the softest position of both knobs, 0 full soft to 1 full hard, at
	// which the bounce is held; NaN where full hard does not hold it. [-]
	EnoughAt float64
	Clicks   Setting // there
	Failed   bool    // the drives did not come to their end
}

// Limits of what is wanted.
const (
	// MostTown is the acceleration from which a ride is fairly uncomfortable,
	// ISO 2631-1:1997 annex C.2.3. It is stated for the seat; the floor stands for it. [m/s2]
	MostTown = 0.5
	// MostBounce is what a damping ratio of 0.2, the least of a comfortable road car,
	// leaves after a cycle: exp(−2π·0.2/√(1 − 0.2²)). The ratio is common practice, no source. [-]
	MostBounce = 0.277
	// LeastFirmer is by how much full hard is to be felt over full soft in town. Chosen. [-]
	LeastFirmer = 0.15
	// positions between full soft and full hard that are looked at
	positions = 6
)

// wanted looks at both knobs moved together in every load state.
func wanted(ctx context.Context, job study.Job, b *car.Build, ladder [2][]int, ask Ask) ([]Wanted, error) {
	tries := make([]Setting, positions)
	for k := range tries {
		for axle, list := range ladder {
			tries[k][axle] = list[len(list)-1-k*(len(list)-1)/(positions-1)]
		}
	}
	town := &Purposes[0]
	var over []brief.Road
	var events []brief.Event
	for i := range job.Loads {
		load := job.Loads[i].ID
		over = append(over, brief.Road{Name: town.Road, Load: load, Speeds: []brief.Input{chosen(town.Speed)}})
		events = append(events, hump(load))
	}
	run, err := drive(ctx, job, b, tries, over, events, ask, nil)
	if err != nil {
		return nil, err
	}
	var out []Wanted
	for i := range job.Loads {
		w := Wanted{Load: job.Loads[i].ID, EnoughAt: math.NaN()}
		var bounce [positions]float64
		var seat [positions]float64
		for k := range tries {
			seat[k] = run.figures(k, []Way{{Road: town.Road, Load: w.Load, Speed: town.Speed}}).Seat
			w.Failed = w.Failed || math.IsNaN(seat[k])
			for p, v := range run.values[k] {
				if p.Event != "" && p.Load == w.Load {
					bounce[k] = v["bounce-left"]
				}
			}
		}
		w.TownSoft, w.TownHard, w.BounceSoft, w.BounceHard = seat[0], seat[positions-1], bounce[0], bounce[positions-1]
		w.Comfortable, w.Enough, w.Firm = w.TownSoft <= MostTown, w.BounceSoft <= MostBounce, w.TownHard >= (1+LeastFirmer)*w.TownSoft
		for k := range tries {
			if bounce[k] <= MostBounce {
				w.EnoughAt, w.Clicks = float64(k)/(positions-1), tries[k]
				break
			}
		}
		out = append(out, w)
	}
	return out, nil
}
