// Package strut answers what a strut carries: the forces in ball joint, tie rod
// and top mount under wheel forces, what guide and piston or the two bushes of
// an inverted strut bear over the travel, and what that bends, presses, rubs and
// could buckle.
//
// In: the joints' places at one travel (from package linkage, or typed), wheel
// forces at the contact patch and the wheel centre, the spring's line, and the
// diameters and spacings of rod, body and bearings. Out: forces, moments,
// stresses, deflection, pressures, friction and what it takes to break it away.
//
// Statics of rigid parts without clearance: rod and body bend as beams, the
// bearings press evenly over diameter times length. Friction coefficients and
// material limits are inputs. Every verdict is a comparison with another build
// or with a limit that somebody stated: nothing here says that a part will hold.
//
// Source: statics and beam theory, derived here; the mechanism as in J.
// Reimpell, H. Stoll, J. W. Betzler, The Automotive Chassis, ch. 5 (from memory).
package strut
