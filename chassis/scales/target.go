package scales

import "math"

// Target is what is wanted of the car on the scales. NaN is not wanted.
type Target struct {
	Diagonal Diagonal

	Level [2]float64 // left over right, hub to arch, of each axle [m]
	Mean  [2]float64 // mean height of each axle; NaN: as it stands [m]
	Rake  float64    // rear mean over front mean [m]
	Cross float64    // share of the total on Diagonal [-]

	// FrontShare and LeftShare can be wanted, and can never be had by turning
	// collars: the answer says so. [-]
	FrontShare, LeftShare float64

	// CrossPerMetre is the price on the curve between height and cross: so much
	// of the total on the diagonal counts as much as one metre of difference in
	// height. [1/m]
	CrossPerMetre float64
	// Tolerances of what is wanted.
	LevelWithin [2]float64 // of each axle [m]
	MeanWithin  float64    // [m]
	CrossWithin float64    // [-]

	Locked [4]bool // collars that stay where they are
	// IgnoreMean leaves the heights of the axles to themselves where no Mean is
	// given, instead of keeping them as they stand.
	IgnoreMean bool
}

// Preset is a workshop's set of weights and tolerances.
type Preset string

// The presets.
const (
	Road  Preset = "road"
	Track Preset = "track"
	Race  Preset = "race"
)

// Presets lists them in the order in which they are shown.
func Presets() []Preset { return []Preset{Road, Track, Race} }

// Level returns the target of a level car with its cross weight at half, its
// axles at the heights at which they stand, under a preset.
//
// Tolerances: road 5 mm side to side, 3 mm of height, 1 % of cross; track 3 mm,
// 2 mm, 0.5 %; race 1 mm, 1 mm, 0.2 %. On a road car cross stays within its
// per cent and the arches may differ; on a race car cross wins: both common
// practice, no source. The prices follow from that here: 0.25 % per millimetre
// for the road, 0.1 % for track, 0.02 % for races.
func (p Preset) Level(d Diagonal) Target {
	nan := math.NaN()
	t := Target{
		Diagonal: d, Mean: [2]float64{nan, nan}, Rake: nan, Cross: 0.5, FrontShare: nan, LeftShare: nan,
		CrossPerMetre: 2.5, LevelWithin: [2]float64{5e-3, 5e-3}, MeanWithin: 3e-3, CrossWithin: 0.01,
	}
	switch p {
	case Track:
		t.CrossPerMetre, t.LevelWithin, t.MeanWithin, t.CrossWithin = 1, [2]float64{3e-3, 3e-3}, 2e-3, 0.005
	case Race:
		t.CrossPerMetre, t.LevelWithin, t.MeanWithin, t.CrossWithin = 0.2, [2]float64{1e-3, 1e-3}, 1e-3, 0.002
	case Road:
	}
	return t
}

// Meets reports whether a reading lies inside the tolerances of what is wanted.
func (t *Target) Meets(r *Reading) bool {
	for a := range 2 {
		if wanted(t.Level[a]) && math.Abs(r.Level(a)-t.Level[a]) > t.LevelWithin[a] {
			return false
		}
		if wanted(t.Mean[a]) && math.Abs(r.Mean(a)-t.Mean[a]) > t.MeanWithin {
			return false
		}
	}
	if wanted(t.Rake) && math.Abs(r.Rake()-t.Rake) > t.MeanWithin {
		return false
	}
	return !wanted(t.Cross) || math.Abs(r.Cross(t.Diagonal)-t.Cross) <= t.CrossWithin
}

func wanted(v float64) bool { return !math.IsNaN(v) }

// rows is how many residuals a target has at most.
const rows = 6

// miss is how far a reading is from what is wanted, in metres of height: cross
// at its price. What is not wanted is 0; an axle's height that nobody asked for
// is wanted as it stood before.
func (t *Target) miss(r *Reading, kept [2]float64) (out [rows]float64) {
	for a := range 2 {
		if wanted(t.Level[a]) {
			out[a] = r.Level(a) - t.Level[a]
		}
		if wanted(t.Mean[a]) {
			out[2+a] = r.Mean(a) - t.Mean[a]
		} else if !t.IgnoreMean && (a == 0 || !wanted(t.Rake)) {
			out[2+a] = r.Mean(a) - kept[a]
		}
	}
	if wanted(t.Rake) {
		out[4] = r.Rake() - t.Rake
	}
	if wanted(t.Cross) && t.CrossPerMetre > 0 {
		out[5] = (r.Cross(t.Diagonal) - t.Cross) / t.CrossPerMetre
	}
	return out
}
