package search

import (
	"trunnion/chassis/car"
	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
	"trunnion/chassis/study"
)

// Step is how many candidates came to a step and went on from it.
type Step struct {
	Name   string
	Tried  float64 // of builds that can be made [-]
	Looked int     // computed for it
	Hold   float64 // that hold what is judged there [-]
	On     int     // that go on
}

// Removed is a limit with the share of the candidates that it removes on its own.
type Removed struct {
	Code   string
	Judges string // code of the figure; empty where it is none of the register
	Axle   int    // of a limit that is told by axle; −1 else
	Place  figure.Place
	Limit  float64 // [SI unit of Unit]
	Unit   string
	Upper  bool
	Share  float64 // [-]
}

// Build is a build that was found.
type Build struct {
	Build    *car.Build
	Figures  Figures           // at nominal
	High     Figures           // what 95 draws in 100 keep to; as Figures where no draws were made
	Stance   [2]float64        // how much higher each axle stands than the baseline [m]
	Thread   float64           // least that is left on a collar [m]
	Short    []Short           // empty: it holds everything
	Drawn    bool              // it went through the whole study
	Findings []finding.Finding // of the whole study
	Guessed  []string          // codes of its figures that rest on estimates
	candidate
}

// Found is the answer of a search.
type Found struct {
	Space    Space
	NoHump   bool  // the brief has no obstacle behind which the body swings: control is the spectrum's estimate
	Sought   []int // aims that were set against each other
	Steps    []Step
	Removed  []Removed
	Builds   []Build // best first by what they lack, then by comfort
	Present  []Build // the job's own, judged alike
	Plans    []Plan
	Gives    []Give  // empty where something holds everything
	Screened []Pair  // the spectrum's figures against those in time
	Aside    []Aside // what no result came for, and why
	Study    *study.Answer
}

// Plan is a build worth proposing.
type Plan struct {
	Kinds  []string // what it is the best in: most-comfort, most-control, least-money, or least-work where no price is known
	Build  int      // in Found.Builds
	GiveUp []GiveUp // against the other plans
}

// Kinds of plan.
const (
	MostComfort = "most-comfort"
	MostControl = "most-control"
	LeastMoney  = "least-money"
	LeastWork   = "least-work"
)

// GiveUp is what a plan is worse in than another.
type GiveUp struct {
	Against int // in Found.Plans
	Aim     int
	Is, Was float64 // its own and the other's [unit of the aim]
}

// Give is what could be given up where nothing holds everything: limits, and by how much
// each would have to give.
type Give struct {
	Shorts []Short // of the build that needs least of it
	Builds int     // of those that were judged, that lack nothing else
	Build  int     // that build, in Found.Builds
}

// Pair is a figure by the spectrum and the same in time.
type Pair struct{ Screened, Driven Figures }
