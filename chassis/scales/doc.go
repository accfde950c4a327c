// Package scales answers what to turn when a car stands on four corner scales:
// which collar, which way and how far, so that it stands level and the cross
// weight is where it is wanted.
//
// In: a solved build on its wheels, what was read in one or more rounds, what
// is wanted. Out: whether the readings bear the question (Judge), the turns
// with the readings they lead to (Plan), what the readings say about the model
// and about a slip of the hands (Learn, Suspect), the order of work (Order),
// and how often all this works on random cars (Study).
//
// Corner order is front left, front right, rear left, rear right; left is the
// driver's left, seated. A collar goes up when it moves towards its spring.
// Loads are masses on the pads [kg], heights hub to arch [m]. Drop links are off.
//
// It turns nothing that cannot be turned: collars never move the front or the
// left share of the weight. It writes no sentences and knows no job file, and
// it says nothing about whether a car is safe or legal.
package scales
