package finding

import "trunnion/chassis/figure"

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

// Remedy is a change that was put through the study again, at the height the
// owner wants.
type Remedy struct {
	Path       string  // what is changed: builds.lower-old.rear.stop.length
	Code       string  // the kind of change, for wording
	Change     float64 // [SI unit of Unit]
	Unit       string
	Choice     string // id of what is chosen, where the change is a choice: a hole of the bar
	Alone      bool   // only the finding's own corner is changed, not both sides of its axle
	Cures      bool
	After      float64 // the finding's value with the change made [SI]
	VerdictNow Verdict
	Worsens    []Effect
	Betters    []Effect
}

// Effect is what a remedy does to another value.
type Effect struct {
	Code          string
	Place         figure.Place
	Before, After float64 // [SI unit of the code]
	Unit          string
}
