package proof

// The faults that TestOneEquationPerCode, TestWorkingsReachTheJob and
// TestWorkingsLeadToWhatMoves know. The lists only shrink, and are empty.
var (
	twoEquations []string // equations that are said twice, or without a code
	loose        []string // terms of which nothing says where they come from
	astray       []string // equations that move with an input their working does not lead to
)
