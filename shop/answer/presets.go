package answer

import (
	"io"

	"trunnion/chassis/presets"
)

// PresetsFormat names the contract of presets that were found.
const PresetsFormat = "trunnion.presets/1"

// Presets is trunnion.presets/1: clicks found for what the car is used for, each driven
// over the brief's roads, and what full soft and full hard give in every load state.
type Presets struct {
	Format    string         `json:"format"`
	Program   string         `json:"program"`
	JobSHA256 string         `json:"job_sha256"`
	Build     string         `json:"build"`
	AsSet     PresetClicks   `json:"as_set"`
	Driven    int            `json:"settings_driven"`
	Hump      bool           `json:"usual_hump"` // the brief has no obstacle: a usual hump stands for it
	Presets   []PresetFound  `json:"presets"`
	Wanted    []PresetWanted `json:"wanted"`
}

// PresetClicks are clicks from closed; null where an axle has none.
type PresetClicks struct {
	Front *int `json:"front"`
	Rear  *int `json:"rear"`
}

// PresetFound is the preset of one purpose.
type PresetFound struct {
	Purpose string        `json:"purpose"`
	Clicks  PresetClicks  `json:"clicks"`
	Roads   []PresetRoad  `json:"roads"`
	Is      PresetFigures `json:"is"`
	AsSet   PresetFigures `json:"as_set"`
	Soft    PresetFigures `json:"full_soft"`
	Hard    PresetFigures `json:"full_hard"`
	Least   PresetClicks  `json:"as_good_from"` // settings within 1 % of the score
	Most    PresetClicks  `json:"as_good_to"`
	Seat    float64       `json:"weight_floor"` // [-]
	Tyre    float64       `json:"weight_tyre"`  // [-]
	Body    float64       `json:"weight_body"`  // [-]
	Tried   []PresetTried `json:"tried"`
}

// PresetTried is what one setting that was driven gives for a purpose.
type PresetTried struct {
	Clicks PresetClicks  `json:"clicks"`
	Is     PresetFigures `json:"is"`
}

// PresetRoad is a road that counts.
type PresetRoad struct {
	Road  string  `json:"road"`
	Load  string  `json:"load"`
	Speed float64 `json:"speed"` // of the car [m/s]
	Brief bool    `json:"of_the_brief"`
}

// PresetFigures are what a setting gives.
type PresetFigures struct {
	Seat   *float64 `json:"floor_acceleration"`  // [m/s2]
	Tyre   *float64 `json:"tyre_load_variation"` // [-]
	Bounce *float64 `json:"bounce_left"`         // [-]
}

// PresetWanted is what the adjuster does in one load state.
type PresetWanted struct {
	Load        string       `json:"load"`
	TownSoft    *float64     `json:"town_full_soft"`   // floor acceleration [m/s2]
	TownHard    *float64     `json:"town_full_hard"`   // [m/s2]
	BounceSoft  *float64     `json:"bounce_full_soft"` // [-]
	BounceHard  *float64     `json:"bounce_full_hard"` // [-]
	Comfortable bool         `json:"comfortable"`
	Enough      bool         `json:"enough"`
	Firm        bool         `json:"firm"`
	EnoughFrom  PresetClicks `json:"enough_from"` // softest clicks that hold the bounce; null: none do
	Failed      bool         `json:"failed"`
}

// WriteJSON writes the document.
func (d *Presets) WriteJSON(w io.Writer) error { return WriteJSON(w, d) }

// NewPresets makes the document.
func NewPresets(program, sha256 string, f *presets.Found) *Presets {
	d := &Presets{Format: PresetsFormat, Program: program, JobSHA256: sha256, Build: f.Build.ID, AsSet: presetClicks(f.AsSet), Driven: f.Driven, Hump: f.Hump, Presets: []PresetFound{}, Wanted: []PresetWanted{}}
	for i := range f.Presets {
		p := &f.Presets[i]
		one := PresetFound{
			Purpose: p.Purpose.Code, Clicks: presetClicks(p.Setting), Roads: []PresetRoad{},
			Is: presetFigures(&p.Is), AsSet: presetFigures(&p.AsSet), Soft: presetFigures(&p.Soft), Hard: presetFigures(&p.Hard),
			Least: presetClicks(presets.Setting{p.AsGood[0][0], p.AsGood[1][0]}), Most: presetClicks(presets.Setting{p.AsGood[0][1], p.AsGood[1][1]}),
			Seat: p.Purpose.Seat, Tyre: p.Purpose.Tyre, Body: p.Purpose.Body,
		}
		for _, w := range p.Ways {
			one.Roads = append(one.Roads, PresetRoad(w))
		}
		for n := range p.Tried {
			one.Tried = append(one.Tried, PresetTried{presetClicks(p.Tried[n].Setting), presetFigures(&p.Tried[n].Figures)})
		}
		d.Presets = append(d.Presets, one)
	}
	for i := range f.Wanted {
		w := &f.Wanted[i]
		one := PresetWanted{w.Load, Finite(w.TownSoft), Finite(w.TownHard), Finite(w.BounceSoft), Finite(w.BounceHard), w.Comfortable, w.Enough, w.Firm, PresetClicks{}, w.Failed}
		if Finite(w.EnoughAt) != nil {
			one.EnoughFrom = presetClicks(w.Clicks)
		}
		d.Wanted = append(d.Wanted, one)
	}
	return d
}

func presetClicks(s presets.Setting) PresetClicks {
	of := func(n int) *int {
		if n < 0 {
			return nil
		}
		return &n
	}
	return PresetClicks{of(s[0]), of(s[1])}
}

func presetFigures(f *presets.Figures) PresetFigures {
	return PresetFigures{Finite(f.Seat), Finite(f.Tyre), Finite(f.Bounce)}
}
