// Package ride answers how a car rides over a road by integrating its motion in time: it is the judge,
// where package screening is the quick estimate.
//
// In: a car as plain numbers and force laws (Car), compiled once into tables (Compile); a road as two tracks of
// heights, the contact filtering of the tyre already done; a speed.
// Out: accelerations at points of the floor, tyre load variation and lift-off, travel used, stop hits, top-outs,
// damper speeds and power, what is left of the bounce after an event, and how far all of it moves when the step is
// halved.
//
// The model has seven degrees of freedom: heave, pitch and roll of the body about its centre of gravity and the
// vertical motion of four unsprung masses, for small angles: the sines are the angles, and the height of the body is right
// to the second order, as its centre sinks when it leans. Heights over the axes of the lean do not move with the body. It knows no lateral or longitudinal forces, no bending of
// the body, no seat: what it calls a point is a place on the floor.
//
// Axes are those of ISO 8855: x forward, y left, z up; corners in the order front left, front right, rear left, rear
// right. Wheel travel is positive in bump. A force at a corner is positive when it pushes the body up and the wheel
// down. Damper travel and speed are positive in bump.
package ride
