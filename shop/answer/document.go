package answer

import "trunnion/chassis/figure"

// Format and FaultsFormat name the two contracts.
const (
	Format       = "trunnion.answer/2"
	FaultsFormat = "trunnion.faults/1"
)

// Document is trunnion.answer/2.
type Document struct {
	Format         string              `json:"format"`
	Program        string              `json:"program"`
	JobSHA256      string              `json:"job_sha256"`
	ReferenceBuild string              `json:"reference_build"`
	Settings       Settings            `json:"settings"`
	Builds         []Named             `json:"builds"`
	Loads          []Named             `json:"loads"`
	Values         []Value             `json:"values"`
	Findings       []Finding           `json:"findings"`
	InShort        *InShort            `json:"in_short"` // null where nothing of the owner's words was understood
	Plans          []Plan              `json:"plans"`    // one a build; empty where remedies are left out
	Laws           map[string]Law      `json:"laws"`     // by code
	Workings       map[string]Working  `json:"workings"` // by id
	Sources        map[string]Origin   `json:"sources"`  // by id
	Given          map[string][]string `json:"given"`    // paths of inputs, by id
	Curves         []Curve             `json:"curves"`
	Warnings       []Warning           `json:"warnings"`
	Failures       []Failure           `json:"failures"`
	Estimates      []Estimate          `json:"estimates"`

	behind []*figure.Value            // of Values, in their order
	made   map[string]*figure.Working // by the ids of Workings
}

// Settings are what the whole answer shares.
type Settings struct {
	G        float64 `json:"g"` // standard free fall [m/s2]
	Seed     uint64  `json:"seed"`
	Samples  int     `json:"samples"`
	Band     float64 `json:"band"` // share of the draws that a band holds [-]
	Signs    string  `json:"signs"`
	Velocity float64 `json:"damping_ratio_velocity"` // of the damper, of the ratio that is judged [m/s]
}

// Named is a build or a load state.
type Named struct {
	ID   string `json:"id"`
	Name string `json:"name,omitempty"`
}

// Place is the place keys of a value: all always present, null where one does
// not apply. Code and place together are unique.
type Place struct {
	Build     *string  `json:"build"`
	Load      *string  `json:"load"`
	Corner    *string  `json:"corner"`
	At        *string  `json:"at"`
	Click     *int     `json:"click"` // counted from closed [-]
	Direction *string  `json:"direction"`
	Velocity  *float64 `json:"velocity"` // of the damper [m/s]
	Road      *string  `json:"road"`
	Event     *string  `json:"event"`
	Speed     *float64 `json:"speed"` // of the car [m/s]
	Mode      *string  `json:"mode"`
	Threshold *float64 `json:"threshold"` // force above which an event counts [N]
}

// Value is one result.
type Value struct {
	ID   string `json:"id"`
	Code string `json:"code"`
	Place
	Tier  string   `json:"tier"`
	Value *float64 `json:"value"` // null when the state is unknown [SI]
	Unit  string   `json:"unit"`
	Low   *float64 `json:"low"`  // lower end of the band [SI]
	High  *float64 `json:"high"` // upper end of the band [SI]
	// BandOf says what the band of a driven figure is made of: draws (of the car and how it is driven), runs (over
	// samples of a road) or both; left out elsewhere. CarShare is, of both, the share of the squared half-width that
	// the draws of the car make.
	BandOf   string   `json:"band_of,omitempty"`
	CarShare *float64 `json:"band_car_share,omitempty"` // [-]
	State    string   `json:"state"`
	Reason   *string  `json:"reason"`
	Working  *string  `json:"working"`
	Warnings []string `json:"warnings"`
	Narrow   *Narrow  `json:"narrow,omitempty"`
}

// Narrow is what to measure next.
type Narrow struct {
	Path      string   `json:"path"`
	Share     *float64 `json:"share"`      // of the variance it explains [-]
	HalfAfter *float64 `json:"half_after"` // half-width of the band with it known exactly [SI]
	Effort    *float64 `json:"effort"`     // to measure it [s]
}

// Finding is one judged value.
type Finding struct {
	Rank        int      `json:"rank"`
	Code        string   `json:"code"`
	Verdict     string   `json:"verdict"`
	Value       string   `json:"value"`       // id of a value
	Versus      *string  `json:"versus"`      // id of the reference build's value
	Probability *float64 `json:"probability"` // that the limit is broken [-]
	Consequence *float64 `json:"consequence"` // weight of it, 0 to 1 [-]
	Limit       *Limit   `json:"limit"`
	Also        []string `json:"also"` // ids of values in other load states that are not clear
	Causes      []Cause  `json:"causes"`
	Remedy      *Remedy  `json:"remedy"` // the best of Remedies
	Remedies    []Remedy `json:"remedies"`
	Narrow      *Narrow  `json:"narrow"`
	Text        string   `json:"text"` // carries no contract
}

// Limit is what a value is judged by.
type Limit struct {
	Value *float64 `json:"value"` // [SI]
	Unit  string   `json:"unit"`
	Upper bool     `json:"upper"` // the value must stay below
	From  string   `json:"from"`
	Basis string   `json:"basis,omitempty"`
}

// Cause is a figure that explains a finding.
type Cause struct {
	Code  string   `json:"code"`
	Value *float64 `json:"value"` // [SI]
	Unit  string   `json:"unit"`
}

// Remedy is a change that was put through the study again.
type Remedy struct {
	Path       string   `json:"path"`
	Code       string   `json:"code"`
	Change     *float64 `json:"change"` // [SI]
	Unit       string   `json:"unit"`
	ValueAfter *float64 `json:"value_after"` // of the finding's value [SI]
	Verdict    string   `json:"verdict_after"`
	Cures      bool     `json:"cures"`
	Worsens    []Effect `json:"worsens"`
	Betters    []Effect `json:"betters"`
	Kind       string   `json:"kind"` // raise, spring, stop, clicks, bar, helper, damper or made-to-order
	Sizes      []Size   `json:"sizes"`
	Breaks     []Break  `json:"breaks"`       // findings that get worse, hardest first
	Front      *float64 `json:"front_higher"` // hub to arch in the usual load state [m]
	Rear       *float64 `json:"rear_higher"`  // [m]
	Bought
	Text string `json:"text"` // carries no contract
}

// Bought is a certain part that a change needs; empty where any of its size will do.
type Bought struct {
	Part  string `json:"part,omitempty"`  // its id in the job, or in the catalogue, as "spring:rear-65"
	Price string `json:"price,omitempty"` // of one; left out where it is not known
}

// Size is a size of a part or setting that a remedy changes.
type Size struct {
	Code   string   `json:"code"`
	Corner *string  `json:"corner"` // null: of both sides of the axle
	Before *float64 `json:"value_before"`
	After  *float64 `json:"value_after"`
	Unit   string   `json:"unit"`
}

// Break is a finding that a change makes worse than it was.
type Break struct {
	Code        string   `json:"code"` // of the finding
	Judges      string   `json:"judges"`
	Load        *string  `json:"load"`
	Corner      *string  `json:"corner"`
	Before      *float64 `json:"value_before"` // null where it was no finding [SI]
	After       *float64 `json:"value_after"`  // [SI]
	Was         string   `json:"verdict_before"`
	Now         string   `json:"verdict_after"`
	Probability *float64 `json:"probability"` // that the limit is then broken [-]
}

// InShort is which build answers the owner's words.
type InShort struct {
	Words  string      `json:"words"`
	Load   string      `json:"load"`
	Cause  string      `json:"cause"`
	Builds []Answering `json:"builds"`
	Text   string      `json:"text"` // carries no contract
}

// Answering is one build's figure behind the owner's words.
type Answering struct {
	Build   string  `json:"build"`
	Verdict string  `json:"verdict"`
	Value   *string `json:"value"` // id of a value
}

// Plan is the smallest set of changes of a build that makes it clear together.
type Plan struct {
	Build    string     `json:"build"`
	Steps    []PlanStep `json:"steps"`
	Findings []PlanRow  `json:"findings"` // that are not clear before it or after
	TooLow   []TooLow   `json:"too_low"`
	NotThese bool       `json:"not_these_parts"`
	Hours    *float64   `json:"work"` // common practice, no source [s]
	Text     string     `json:"text"` // carries no contract
}

// PlanStep is one change of a plan.
type PlanStep struct {
	Path   string   `json:"path"`
	Code   string   `json:"code"`
	Kind   string   `json:"kind"`
	Change *float64 `json:"change"` // [SI]
	Unit   string   `json:"unit"`
	Choice string   `json:"choice,omitempty"`
	Sizes  []Size   `json:"sizes"`
	Bought
	Text string `json:"text"` // carries no contract
}

// PlanRow is a finding before and after a plan, its worst place each time.
type PlanRow struct {
	Code        string   `json:"code"`
	Axle        *string  `json:"axle"`
	Judges      string   `json:"judges"`
	Load        *string  `json:"load"` // where it is worst after it
	Corner      *string  `json:"corner"`
	Before      *float64 `json:"value_before"` // [SI]
	After       *float64 `json:"value_after"`  // [SI]
	Was         string   `json:"verdict_before"`
	Now         string   `json:"verdict_after"`
	Probability *float64 `json:"probability"` // that the limit is broken after it [-]
}

// TooLow is an axle that is too low for the parts of a build.
type TooLow struct {
	Axle     string   `json:"axle"`
	Higher   *float64 `json:"higher"` // at which the findings are gone [m]
	Height   *float64 `json:"height"` // hub to arch there in the usual load state [m]
	Findings []string `json:"findings"`
	Of       int      `json:"of"` // findings of the axle [-]
}

// Effect is what a remedy does to another value of the same build.
type Effect struct {
	Code   string   `json:"code"`
	Load   *string  `json:"load"`
	Corner *string  `json:"corner"`
	Before *float64 `json:"value_before"` // [SI]
	After  *float64 `json:"value_after"`  // [SI]
	Unit   string   `json:"unit"`
}

// Law is an equation, said once. Where solves names a symbol, that symbol was found so
// that both sides agree; else the left side is the result.
type Law struct {
	Equation string    `json:"equation"`
	Solves   string    `json:"solves,omitempty"`
	Unit     string    `json:"unit"` // of the result
	Source   string    `json:"source"`
	Note     string    `json:"note,omitempty"`
	Terms    []LawTerm `json:"terms"`
}

// LawTerm is one symbol of a law.
type LawTerm struct {
	Symbol string `json:"symbol"`
	Name   string `json:"name"`
	Unit   string `json:"unit"`
}

// Working is a law with numbers: it can be evaluated from its terms.
type Working struct {
	Law    string          `json:"law"`
	Result *float64        `json:"result"`          // [SI]
	Terms  map[string]Term `json:"terms"`           // by symbol
	Given  string          `json:"given,omitempty"` // id of what its solution was given
	Note   string          `json:"note,omitempty"`  // where it is not the law's
}

// Term is a number of a working: solved for with others, or what another working or a
// source says. In JSON it is the number, or the id of that working (w1) or source
// (s1); with a name of its own, where the law has another, {"is": …, "name": …}.
type Term struct {
	Value *float64 // of what was solved [SI]
	Of    string   // id of a working or a source
	Name  string
}

// Origin is where a number comes from that no working computed.
type Origin struct {
	Value  *float64 `json:"value"`  // [SI]
	Origin string   `json:"origin"` // measured, makers, estimated, computed, chosen, constant, solved or not-given
	Path   string   `json:"path,omitempty"`
	Line   int      `json:"line,omitempty"`
	Typed  string   `json:"typed,omitempty"`
	Basis  string   `json:"basis,omitempty"`
	Source string   `json:"source,omitempty"` // publication of a constant
}

// Curve is a result along an axis.
type Curve struct {
	Code   string   `json:"code"`
	Build  *string  `json:"build"`
	Load   *string  `json:"load"`
	Corner *string  `json:"corner"`
	Road   *string  `json:"road"`
	Speed  *float64 `json:"speed"` // of the car [m/s]
	X      Axis     `json:"x"`
	Y      Axis     `json:"y"`
}

// Axis is one side of a curve.
type Axis struct {
	Name   string     `json:"name"`
	Unit   string     `json:"unit"`
	Values []*float64 `json:"values"` // [SI]
}

// Warning is what the reader must know about a build or a corner.
type Warning struct {
	Code   string   `json:"code"`
	Build  *string  `json:"build"`
	Load   *string  `json:"load"`
	Corner *string  `json:"corner"`
	Path   *string  `json:"path"`
	Value  *float64 `json:"value"` // [SI]
	Unit   *string  `json:"unit"`
	Text   string   `json:"text"` // carries no contract
}

// Failure is a case without an answer.
type Failure struct {
	Build string `json:"build"`
	Load  string `json:"load"`
	Text  string `json:"text"`
}

// Estimate is an input that was missing and for which an estimate stands in.
type Estimate struct {
	Path  string   `json:"path"`
	Value *float64 `json:"value"` // null for a whole table [SI]
	Half  *float64 `json:"half"`  // half-width of its band [SI]
	Basis string   `json:"basis"`
}
