package presets

import (
	"slices"
	"strings"

	"trunnion/chassis/brief"
	"trunnion/chassis/figure"
	"trunnion/chassis/study"
)

// Purpose is what a preset is for: which of the brief's roads count, what is driven
// where it has none, and what is weighed.
type Purpose struct {
	Code        string
	Roads       []string // by name
	Least, Most float64  // speeds that count [m/s]
	Road        string   // driven where the brief has none that fits
	Speed       float64  // of that [m/s]
	// The score of a setting is Seat·a + Tyre·t + Body·b: floor acceleration and load
	// variation of the worst tyre, each over the least of all settings, and the bounce
	// left one cycle after the brief's obstacles. Common practice, no source. [-]
	Seat, Tyre, Body float64
}

// perHour is a thousand metres in an hour [m/s].
const perHour = 1000.0 / 3600

// Purposes are those that presets are found for. Their roads, speeds and weights are
// common practice, no source.
var Purposes = []Purpose{
	{"town", []string{"town-street", "village-lane", "patched-B-road", "broken-lane"}, 20 * perHour, 60 * perHour, "town-street", 50 * perHour, 1, 0.2, 0.5},
	{"motorway", []string{"motorway", "main-road"}, 100 * perHour, 400 * perHour, "motorway", 120 * perHour, 0.6, 0.2, 2},
	{"fast-road", []string{"country-road", "main-road", "village-lane", "patched-B-road"}, 60 * perHour, 130 * perHour, "country-road", 90 * perHour, 0.4, 0.6, 1.2},
	{"wet", []string{"country-road", "main-road", "village-lane", "patched-B-road"}, 50 * perHour, 100 * perHour, "country-road", 70 * perHour, 0.1, 1, 0.3},
	{"bumpy-closed-road", []string{"closed-hill-road", "broken-lane"}, 60 * perHour, 400 * perHour, "closed-hill-road", 90 * perHour, 0.1, 1, 1},
	{"track", []string{"circuit"}, 60 * perHour, 400 * perHour, "circuit", 140 * perHour, 0, 0.8, 2},
}

// Way is one road at one speed in one load state.
type Way struct {
	Road, Load string
	Speed      float64 // of the car [m/s]
	Brief      bool    // the brief names it
}

// ways are the roads of a purpose, of the brief where it has any.
func (p *Purpose) ways(job *study.Job) []Way {
	var out []Way
	usual := study.UsualLoad(job.Brief, job.Loads)
	for _, r := range job.Brief.Roads {
		if !slices.ContainsFunc(p.Roads, func(name string) bool { return strings.EqualFold(name, r.Name) }) {
			continue
		}
		load := r.Load
		if load == "" {
			load = usual
		}
		for _, v := range r.Speeds {
			if v.Value >= p.Least-1e-9 && v.Value <= p.Most+1e-9 {
				out = append(out, Way{r.Name, load, v.Value, true})
			}
		}
	}
	if len(out) == 0 {
		out = append(out, Way{p.Road, usual, p.Speed, false})
	}
	return out
}

// roads are ways as a brief names them, each once.
func roads(ways []Way) []brief.Road {
	var out []brief.Road
	var seen []Way
	for _, w := range ways {
		w.Brief = false
		if slices.Contains(seen, w) {
			continue
		}
		seen = append(seen, w)
		out = append(out, brief.Road{Name: w.Road, Load: w.Load, Speeds: []brief.Input{chosen(w.Speed)}})
	}
	return out
}

func chosen(v float64) brief.Input { return brief.Input{Value: v, Origin: figure.Chosen} }

// obstacles are the brief's, each in every load state of some ways.
func obstacles(job *study.Job, ways []Way) []brief.Event {
	var out []brief.Event
	var loads []string
	for _, w := range ways {
		if slices.Contains(loads, w.Load) {
			continue
		}
		loads = append(loads, w.Load)
		for _, e := range job.Brief.Events {
			e.Load = w.Load
			out = append(out, e)
		}
		if len(job.Brief.Events) == 0 {
			out = append(out, hump(w.Load))
		}
	}
	return out
}

// hump is the obstacle after which the bounce is looked at where the brief has none:
// a usual speed hump. Common practice, no source.
func hump(load string) brief.Event {
	return brief.Event{Kind: "round-hump", Height: chosen(0.075), Length: chosen(3.7), Speed: chosen(30 * perHour), Load: load}
}
