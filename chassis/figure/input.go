package figure

import "slices"

// Origin says where a number comes from.
type Origin string

// The origins a number can have.
const (
	Measured  Origin = "measured"  // read on this car or part by the workshop
	Makers    Origin = "makers"    // stated by the part's or the car's maker
	Estimated Origin = "estimated" // filled in by a stated rule, because nothing better was given
	Computed  Origin = "computed"  // the result of another working
	Chosen    Origin = "chosen"    // decided by the workshop: a setting, a limit, a load
	Solved    Origin = "solved"    // found together with others so that a stated balance holds
	Constant  Origin = "constant"  // of nature or of a published rule: Path names the publication
)

// Shape is the distribution a band stands for.
type Shape uint8

// The shapes of a band. A typed ± is a 95 % half-width of a normal
// distribution; a maker's tolerance is a limit, uniform between its ends.
const (
	Exact Shape = iota
	Normal95
	Limit
)

// Input is one number that a person gave, or the estimate that stands in for
// it: in SI, with how far it may be off and where it was typed.
type Input struct {
	Value  float64 // in the SI unit of the quantity it stands for [SI]
	Half   float64 // half-width of the band, same unit as Value [SI]
	Shape  Shape
	Origin Origin
	Path   string // where in the job: "car.weighed.load.front_left"
	Line   int    // line in the job file; 0 when nothing was typed
	Typed  string // the text as typed, empty for an estimate
	Basis  string // why this value, when it is an estimate or a default band
	Dim    int    // column in the table of draws, plus one; 0 is never drawn
}

// Known reports whether the input has a value at all.
func (in Input) Known() bool { return in.Origin != "" }

// At returns the input's value under a draw: the nominal value when d is nil.
func (in *Input) At(d Draw) float64 {
	if d == nil {
		return in.Value
	}
	if d.reads != nil {
		d.reads(in)
		return in.Value
	}
	if in.Dim == 0 {
		return in.Value
	}
	z := d.Variates[in.Dim-1]
	switch in.Shape {
	case Normal95:
		return in.Value + in.Half*z.Normal95
	case Limit:
		return in.Value + in.Half*z.Uniform
	default:
		return in.Value
	}
}

// Variate is one standardised draw in the two shapes a band can have, made
// from the same underlying uniform number.
type Variate struct {
	Normal95 float64 // standard normal over 1.959964, so that ±1 is the 95 % band [-]
	Uniform  float64 // uniform in −1…1 [-]
}

// Draw is what the inputs are read under: one sample of their bands, or, where it
// is nil, each as it stands.
type Draw = *Sample

// Sample is a variate per dimension.
type Sample struct {
	Variates []Variate

	reads func(*Input) // told of each input that is asked for; nil in a draw
}

// DrawOf is a draw of these variates, one per dimension.
func DrawOf(variates []Variate) Draw { return &Sample{Variates: variates} }

// Reads is the nominal case that tells of each input it is asked for, as often as
// it is: what a solution was given is found by solving it once under it.
func Reads(note func(*Input)) Draw { return &Sample{reads: note} }

// ReadBy returns the inputs that a computation reads, each once, in the order in
// which it first does.
func ReadBy(compute func(Draw)) []*Input {
	var out []*Input
	seen := map[*Input]bool{}
	compute(Reads(func(in *Input) {
		if in.Known() && !seen[in] {
			seen[in] = true
			out = append(out, in)
		}
	}))
	return out
}

// Together returns the inputs of both lists, each once, in a list of its own.
func Together(first, more []*Input) []*Input {
	out := make([]*Input, 0, len(first)+len(more))
	seen := make(map[*Input]bool, len(first)+len(more))
	for _, in := range slices.Concat(first, more) {
		if !seen[in] {
			seen[in] = true
			out = append(out, in)
		}
	}
	return out
}
