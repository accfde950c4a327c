package comfort

import "math"

// Reaction is what people in public transport are likely to say of a ride.
type Reaction int

// The reactions, mildest first.
const (
	NotUncomfortable Reaction = iota
	ALittleUncomfortable
	FairlyUncomfortable
	Uncomfortable
	VeryUncomfortable
	ExtremelyUncomfortable
)

// reactionBands are overlapping on purpose, as in the standard.
//
// Source: ISO 2631-1:1997 annex C.2.3 (the two highest from memory).
var reactionBands = [...]struct {
	name     string
	from, to float64 // [m/s²]
}{
	{"not uncomfortable", 0, 0.315},
	{"a little uncomfortable", 0.315, 0.63},
	{"fairly uncomfortable", 0.5, 1},
	{"uncomfortable", 0.8, 1.6},
	{"very uncomfortable", 1.25, 2.5},
	{"extremely uncomfortable", 2, math.Inf(1)},
}

func (r Reaction) String() string {
	if r < 0 || int(r) >= len(reactionBands) {
		return "unknown reaction"
	}
	return reactionBands[r].name
}

// Band returns the range of total weighted acceleration [m/s²] the reaction
// goes with. Bands overlap; they are likely reactions, not limits.
func (r Reaction) Band() (from, to float64) {
	if r < 0 || int(r) >= len(reactionBands) {
		return 0, 0
	}
	return reactionBands[r].from, reactionBands[r].to
}

// Reactions returns every reaction whose band holds a total weighted
// acceleration [m/s²], mildest first: usually one or two. The milder of two
// bands that only touch (0.315) gives way to the next. A negative or
// non-finite acceleration has none.
//
// Source: ISO 2631-1:1997 annex C.2.3; the standard calls them approximate
// indications for public transport and sets no limit.
func Reactions(total float64) []Reaction {
	if !(total >= 0) || math.IsInf(total, 1) {
		return nil
	}
	var out []Reaction
	for i, b := range reactionBands {
		inside := total >= b.from && total <= b.to
		if Reaction(i) == NotUncomfortable {
			inside = total < b.to
		}
		if Reaction(i) == ExtremelyUncomfortable {
			inside = total > b.from
		}
		if inside {
			out = append(out, Reaction(i))
		}
	}
	return out
}
