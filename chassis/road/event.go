package road

import "math"

// Sides says which tracks an obstacle lies on.
type Sides int

// The tracks an obstacle may lie on.
const (
	BothSides Sides = iota
	LeftSide
	RightSide
)

// Event is one obstacle with its real shape, beginning at x = 0. Make it with
// one of the constructors; the zero value is nothing on the road.
type Event struct {
	Name   string  // what it is, in words
	Length float64 // how far the shape reaches [m]
	Sides  Sides
	Source string // where shape and usual size come from

	shape shape
	size  float64 // height (up) or depth (down, negative) [m]
	edge  float64 // length of each ramp [m]
	after float64 // height that stays behind the shape [m]
}

type shape int

const (
	nothing    shape = iota
	arcShape         // segment of a circle
	sineShape        // one whole 1 − cos
	plateShape       // ramp with soft ends, plateau, ramp down
	stepShape        // ramp with soft ends, stays
	wedgeShape       // straight ramp, plateau, straight ramp down
)

func (e *Event) on(track Track) bool {
	switch e.Sides {
	case LeftSide:
		return track == LeftTrack
	case RightSide:
		return track == RightTrack
	default:
		return true
	}
}

// On says whether the obstacle lies on a track.
func (e Event) On(track Track) bool { return e.on(track) }

// Edge returns the length over which the obstacle's edge rises or falls [m], 0 where
// it has none or a vertical one.
func (e Event) Edge() float64 { return e.edge }

// Size returns the greatest height [m], negative for a depth.
func (e Event) Size() float64 { return e.size }

// Height returns the height [m] at a distance [m] from the obstacle's
// beginning, on the tracks it lies on.
func (e Event) Height(x float64) float64 {
	if !(x > 0) {
		return 0
	}
	if x >= e.Length {
		return e.after
	}
	switch e.shape {
	case arcShape:
		// z = √(R² − (x − L/2)²) − (R − h), written without the difference of
		// two large numbers.
		r := (e.Length*e.Length/4 + e.size*e.size) / (2 * e.size)
		d := x - e.Length/2
		return e.size - d*d/(r+math.Sqrt(r*r-d*d))
	case sineShape:
		s := math.Sin(math.Pi * x / e.Length)
		return e.size * s * s
	case plateShape:
		return e.size * soft(math.Min(x, e.Length-x), e.edge)
	case stepShape:
		return e.size * soft(x, e.edge)
	case wedgeShape:
		return e.size * straight(math.Min(x, e.Length-x), e.edge)
	default:
		return 0
	}
}

// Slope returns dz/dx [-] at a distance [m] from the obstacle's beginning.
// Across a vertical edge it is zero: the jump has no slope.
func (e Event) Slope(x float64) float64 {
	if !(x >= 0) || x >= e.Length {
		return 0
	}
	mirror := 1.0
	near := x
	if e.shape != stepShape && x > e.Length/2 {
		mirror, near = -1, e.Length-x
	}
	switch e.shape {
	case arcShape:
		r := (e.Length*e.Length/4 + e.size*e.size) / (2 * e.size)
		d := x - e.Length/2
		return -d / math.Sqrt(r*r-d*d)
	case sineShape:
		return e.size * math.Pi / e.Length * math.Sin(2*math.Pi*x/e.Length)
	case plateShape, stepShape:
		if e.edge == 0 || near >= e.edge {
			return 0
		}
		return mirror * e.size * math.Pi / (2 * e.edge) * math.Sin(math.Pi*near/e.edge)
	case wedgeShape:
		if e.edge == 0 || near >= e.edge {
			return 0
		}
		return mirror * e.size / e.edge
	default:
		return 0
	}
}

// soft rises from 0 to 1 over edge as half a cosine.
func soft(x, edge float64) float64 {
	if x >= edge {
		return 1
	}
	s := math.Sin(math.Pi / 2 * x / edge)
	return s * s
}

// straight rises from 0 to 1 over edge in a straight line.
func straight(x, edge float64) float64 {
	if x >= edge {
		return 1
	}
	return x / edge
}

// sized checks height or depth, length and ramp of an obstacle.
func sized(what string, size, length, edge float64, sides Sides) error {
	if sides != BothSides && sides != LeftSide && sides != RightSide {
		return &InputError{"sides of " + what, float64(sides), "both, left or right"}
	}
	if err := need("height or depth of "+what, size, 1e-4, 2, "m"); err != nil {
		return err
	}
	if err := need("length of "+what, length, 1e-3, 1000, "m"); err != nil {
		return err
	}
	return need("ramp of "+what, edge, 0, length/2, "m (half the length)")
}

// Pothole returns a flat-bottomed hole: depth [m], length along the road [m],
// and the length [m] over which each broken edge falls as half a cosine (0 for
// a vertical edge). A wheel of finite radius does not reach the bottom of a
// short hole: roll it over with Enveloped.
//
// Severity by depth: low below 25 mm, moderate 25 to 50 mm, high above.
//
// Source: FHWA-RD-03-031, LTPP distress identification manual (severity);
// shape: common practice, no source.
func Pothole(depth, length, edge float64, sides Sides) (Event, error) {
	if err := sized("a pothole", depth, length, edge, sides); err != nil {
		return Event{}, err
	}
	return Event{
		Name: "pothole", Length: length, Sides: sides, Source: "severity FHWA-RD-03-031; shape common practice, no source",
		shape: plateShape, size: -depth, edge: edge,
	}, nil
}

// RoundHump returns a round-top speed hump: a segment of a cylinder of a
// height [m] and a length [m]; the usual ones are 75 to 100 mm by 3.7 m.
//
//	R = (L²/4 + h²)/(2·h),  z = √(R² − (x − L/2)²) − (R − h)
//
// Source: G.R. Watts, "Road humps for the control of vehicle speeds", TRRL LR
// 597 (1973), from memory; sizes TRL 377.
func RoundHump(height, length float64) (Event, error) {
	if err := sized("a hump", height, length, 0, BothSides); err != nil {
		return Event{}, err
	}
	if err := need("height of a hump", height, 0, length/2, "m (half the length)"); err != nil {
		return Event{}, err
	}
	return Event{
		Name: "round hump", Length: length, Source: "Watts, TRRL LR 597 (1973), from memory; TRL 377",
		shape: arcShape, size: height,
	}, nil
}

// flatRamp is the length of a flat-topped hump's ramp over its height: inside the
// 1:10 to 1:15 that TRL report 186 studied. [-]
const flatRamp = 12.0

// FlatHump returns a hump with a level top: straight ramps of 1 in 12 up to a
// height [m] and down again inside a length along the road [m]. On one too short
// for that the ramps are steeper and meet.
//
// Source: shape and gradients TRL report 186.
func FlatHump(height, length float64) (Event, error) {
	ramp := math.Min(flatRamp*height, length/2)
	if err := sized("a flat hump", height, length, ramp, BothSides); err != nil {
		return Event{}, err
	}
	return Event{
		Name: "flat hump", Length: length, Source: "shape and gradients TRL report 186",
		shape: wedgeShape, size: height, edge: ramp,
	}, nil
}

// Dip returns a short hollow, z = −h/2·(1 − cos(2·π·x/L)), of a depth [m] and a
// length [m].
//
// Source: common practice, no source.
func Dip(depth, length float64, sides Sides) (Event, error) {
	return wave("dip", depth, length, -1, sides, "common practice, no source")
}

// Crest returns a long rise across both tracks, z = h/2·(1 − cos(2·π·x/L)), of
// a height [m] and a length [m]; 80 mm by 12 m for a rise at speed.
//
// Source: common practice, no source.
func Crest(height, length float64) (Event, error) {
	return wave("crest", height, length, 1, BothSides, "common practice, no source")
}

func wave(name string, size, length, sign float64, sides Sides, source string) (Event, error) {
	if err := sized("a "+name, size, length, 0, sides); err != nil {
		return Event{}, err
	}
	return Event{Name: name, Length: length, Sides: sides, Source: source, shape: sineShape, size: sign * size}, nil
}

// Kerb returns a kerb that is struck and left again: up by a height [m] over a
// straight ramp [m], level for a run [m], down over the same ramp.
//
// Source: common practice, no source.
func Kerb(height, ramp, run float64, sides Sides) (Event, error) {
	if err := need("run on a kerb", run, 0, 1000, "m"); err != nil {
		return Event{}, err
	}
	if err := need("ramp of a kerb", ramp, 0, 100, "m"); err != nil {
		return Event{}, err
	}
	if err := sized("a kerb", height, 2*ramp+run, ramp, sides); err != nil {
		return Event{}, err
	}
	return Event{
		Name: "kerb", Length: 2*ramp + run, Sides: sides, Source: "common practice, no source",
		shape: wedgeShape, size: height, edge: ramp,
	}, nil
}

// StepUp is what a rolling wheel is held against. It returns a change of level that stays: by a height [m] (negative for a
// drop) over a ramp [m] with soft ends.
//
// Source: common practice, no source.
func StepUp(height, ramp float64, sides Sides) (Event, error) {
	if err := sized("a step", math.Abs(height), math.Max(2*ramp, 0.002), ramp, sides); err != nil {
		return Event{}, err
	}
	return Event{
		Name: "step", Length: math.Max(ramp, 1e-9), Sides: sides, Source: "common practice, no source",
		shape: stepShape, size: height, edge: ramp, after: height,
	}, nil
}

// JointGap returns an open expansion joint: a gap of a width along the road
// [m] and a depth [m] with vertical edges. A point would fall in; roll a wheel
// over it with Enveloped.
//
// Source: common practice, no source.
func JointGap(width, depth float64) (Event, error) {
	if err := sized("a joint", depth, width, 0, BothSides); err != nil {
		return Event{}, err
	}
	return Event{
		Name: "joint gap", Length: width, Source: "common practice, no source", shape: plateShape, size: -depth,
	}, nil
}

// JointLip returns a proud expansion joint: a strip of a height [m] and a
// width along the road [m], with soft ramps [m] inside the width at both edges.
//
// Source: common practice, no source.
func JointLip(height, width, ramp float64) (Event, error) {
	if err := sized("a joint", height, width, ramp, BothSides); err != nil {
		return Event{}, err
	}
	return Event{
		Name: "joint lip", Length: width, Source: "common practice, no source", shape: plateShape, size: height, edge: ramp,
	}, nil
}
