package finding

import (
	"trunnion/chassis/car"
	"trunnion/chassis/figure"
)

// Verdict is what a value means against its limit.
type Verdict string

// The verdicts.
const (
	Clear   Verdict = "clear"    // the whole band is on the right side
	Close   Verdict = "close"    // the band crosses the limit
	Over    Verdict = "over"     // the whole band is on the wrong side
	NoLimit Verdict = "no-limit" // nothing to judge by
	Unknown Verdict = "unknown"  // there is no value
)

// Limit is what a value is judged by.
type Limit struct {
	Value float64 // [SI unit of the judged code]
	Unit  string
	Upper bool   // the value must stay below; otherwise above
	Self  bool   // the rule's own words say it: the zero of its figure, no number that anybody chose
	From  string // path in the job, or "default" with its basis
	Basis string
}

// Finding is one row: a value at a place, its verdict, why and what to do.
type Finding struct {
	Rank        int
	Code        string // of the finding: rests-on-bump-stop, spring-loose-at-droop, …
	Verdict     Verdict
	Value       *figure.Value
	Versus      *figure.Value // the reference build's value at the same place, if it says something
	Limit       *Limit
	Probability float64         // that the limit is broken, from the draws [-]
	Consequence float64         // weight of it, 0 to 1; common practice, no source [-]
	Also        []*figure.Value // the same at this axle in other load states that are not clear either
	Cause       []Cause
	Remedies    []Remedy
	Narrow      *figure.Narrow // what to measure next
}

// Cause is a figure that explains a finding.
type Cause struct {
	Code  string  // of the explanation, for wording
	Value float64 // [SI unit of Unit]
	Unit  string
}

// Kind is a kind of remedy.
type Kind string

// The kinds of remedy, in the order a specialist thinks of them: what costs an
// hour before what costs a part, a part that lies on a shelf before one that is
// made to order. Common practice, no source.
const (
	Raise       Kind = "raise"         // the collar, the body's thread, or a longer spring on fixed seats
	Level       Kind = "level"         // one collar of an axle against the other
	Spring      Kind = "spring"        // another rate or free length
	Stop        Kind = "stop"          // another stop, or a packer
	Clicks      Kind = "clicks"        // of the damper
	Bar         Kind = "bar"           // another hole of the anti-roll bar
	Helper      Kind = "helper"        // stacked on the spring
	Damper      Kind = "damper"        // another of the job's own list, with its stop
	MadeToOrder Kind = "made-to-order" // a damper of another length or valving
)

// Kinds lists them in their order.
func Kinds() []Kind {
	return []Kind{Raise, Level, Spring, Stop, Clicks, Bar, Helper, Damper, MadeToOrder}
}

// Remedy is a change that was put through the study again.
type Remedy struct {
	Path       string  // what is changed: builds.lower-old.rear.stop.length
	Code       string  // the change, for wording
	Kind       Kind    // of it
	Change     float64 // [SI unit of Unit]
	Unit       string
	Sizes      []Size          // of what is bought or turned, from what it is to what it becomes
	Choice     string          // id of what is chosen, where the change is a choice: a hole of the bar
	Part       *car.SpringSpec // that is bought, where it is a certain one of a list
	Unsure     bool            // whether it fits the seats: an inside diameter is missing
	Axle       int             // where it is made
	Side       int             // the one corner it is made at; figure.NoCorner for both sides
	Cures      bool
	After      float64      // the finding's worst value with the change made [SI]
	AfterAt    figure.Place // where that is
	VerdictNow Verdict
	Higher     [2]float64 // how much higher it stands by axle, hub to arch in the usual load state [m]
	Breaks     []Break    // findings that get worse, hardest first
	Worsens    []Effect
	Betters    []Effect

	// Build is the build with the change made.
	Build *car.Build
}

// Size is a size of a part or a setting that a remedy changes.
type Size struct {
	Code    string  // spring-rate, spring-free, stop-length, packer, collar, flats, click, helper-travel, damper-open, …
	Was, Is float64 // [SI unit of Unit]
	Unit    string
	Corner  int // figure.NoCorner: of both sides of the axle
}

// Break is a finding that a change makes worse than it was: a verdict that
// turns, or one that is over already and goes farther.
type Break struct {
	Code          string // of the finding
	Place         figure.Place
	Judges        string  // code of the figure
	Before, After float64 // [SI unit of the figure]
	Was, Now      Verdict
	Probability   float64 // that the limit is then broken [-]
}

// Effect is what a remedy does to another value.
type Effect struct {
	Code          string
	Place         figure.Place
	Before, After float64 // [SI unit of the code]
	Unit          string
}
