// Package car holds the car as measured, the parts and builds proposed for it,
// setups and load states: every number an input with its band, origin and
// place in the job.
//
// It answers what is known about the car and what is missing, fills what is
// missing with estimates marked as such, and finds impossible readings. It
// does not compute where the car sits.
//
// Axes are those of ISO 8855 (x forward, y left, z up) with the origin on the
// ground in the middle of the front axle; places behind the front axle are
// given as a positive distance behind it. Corners stand in the order front
// left, front right, rear left, rear right; axles front, rear. Wheel travel is
// positive in bump and zero at the axle's reference height.
package car

import "trunnion/chassis/figure"

// Input is a number as given, with its band and origin.
type Input = figure.Input

// Axle indices.
const (
	Front = 0
	Rear  = 1
)

// AxleOf returns the axle of a corner.
func AxleOf(corner int) int { return corner / 2 }

// AxleNames are the names of the axles in their order.
var AxleNames = [2]string{"front", "rear"}

// SideNames are the names of the sides in their order.
var SideNames = [2]string{"left", "right"}
