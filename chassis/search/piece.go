package search

import (
	"context"
	"math"

	"trunnion/chassis/drives"
)

// Steps of a search.
const (
	AtStart  = "start" // the job's own builds, before the search
	AtRest   = "rest"
	Spectrum = "spectrum"
	InTime   = "time"
	Longer   = "longer"
	Drawn    = "draws"
)

// Steps that are computed in pieces beside those that are told, see [Piece].
const (
	OverRoad  = "road"    // one axle's choices over the roughest road by spectrum
	InCorners = "corners" // pairs at rest and in corners
)

// Piece is a piece of a search that can be computed by itself, anywhere: what comes out
// depends on what the search was made ready of and on the piece, and on nothing else.
type Piece struct {
	Step    string
	Axle    int      // of a step that looks at one axle
	Choices [][2]int // by their places in the space, front and rear
	From    int      // how many builds were drawn before those of the piece
}

// Worth is what a piece says of one of its choices.
type Worth struct {
	Figures Figures
	Short   []Short
	Dead    bool // it has no rest, or cannot be driven
}

// Result is what comes out of a piece: a worth for each choice, or, of the step that draws,
// what its builds gave when they were driven.
type Result struct {
	Worth  []Worth
	Driven *drives.Driven
	// Aside, where it is not empty, is why the piece could not be computed and was set
	// aside: the search goes on without its choices.
	Aside string
}

// Crew computes pieces elsewhere. It returns a result for every piece, in their order; done
// is called with a piece's place as soon as it has come, perhaps from several goroutines.
type Crew interface {
	Compute(ctx context.Context, pieces []Piece, done func(piece int)) ([]Result, error)
}

// Aside is what a search went on without.
type Aside struct {
	Step    string
	Choices int
	Reason  string
}

// together is how many candidates are driven side by side: as many as the lanes hold in
// 32 bits. What a build is worth does not hang on it beyond the step, which is that of the
// one that needs the shortest.
const together = 8

// cost is what one choice takes of one core: measured on the demo, and of no effect on any
// figure. [s]
var cost = map[string]float64{AtRest: 0.15e-3, OverRoad: 0.25e-3, Spectrum: 0.9e-3, InCorners: 1.5e-3, InTime: 7e-3, Longer: 20e-3}

// How long a piece takes: long beside the way to a worker and back, short enough that one
// lost with its worker is not missed, and where a step is small an eighth of it, so that
// several workers have something to do. Chosen. [s of one core]
const (
	longestPiece  = 2.0
	shortestPiece = 0.25
	fewestPieces  = 8
)

// cut cuts a step into pieces. Where it is cut changes no figure: what is driven side by
// side stays together.
func cut(step string, axle int, choices [][2]int) []Piece {
	n := float64(len(choices))
	size := math.Max(math.Min(n/fewestPieces, longestPiece/cost[step]), shortestPiece/cost[step])
	each := int(math.Ceil(size/together)) * together
	var out []Piece
	for from := 0; from < len(choices); from += each {
		out = append(out, Piece{Step: step, Axle: axle, Choices: choices[from:min(from+each, len(choices))]})
	}
	return out
}
