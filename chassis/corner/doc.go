// Package corner is one build at one wheel: what the springs, gas, stop,
// bushes and metal ends push with at any wheel travel, and at which travels
// each of them begins.
//
// In: a car, a build, a draw of their inputs. Out: forces at the wheel [N],
// tangent rates [N/m], limits of wheel travel [m]. It does not find where the
// car rests; it has no tyre, no anti-roll bar and no body.
//
// Wheel travel w is positive in bump and 0 at the axle's reference height.
// Spring travel s(w) and damper travel d(w) are positive in compression and 0
// at w = 0. Forces at the wheel are positive when they push the wheel down.
package corner
