package sheet

import "math"

// LampSlope is what a change of rake does to the dipped beam: the change of its
// slope [-] and of its angle [rad], nose down positive, from how much the nose
// went down against the tail [m] and the wheelbase [m].
//
//	slope = nose/wheelbase, angle = atan(slope)
//
// Derived here: the lamp turns with the body.
func LampSlope(nose, wheelbase float64) (slope, angle float64) {
	slope = nose / wheelbase
	return slope, math.Atan(slope)
}
