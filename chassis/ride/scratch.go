package ride

// scratch is what a run needs while it lasts.
type scratch struct {
	state   state
	block   block
	tally   [4]tally
	account account
	floors  floors
	moment  Moment
	rows    [][4]float64
	line    []float64
	axle    [2][]float64 // height of the body over each axle, every step [m]
	ground  [4]float64   // heights of the road last seen [m]
	freed   int          // the step from which the road no longer moves
	air     airborne

	smoother smoother
}
