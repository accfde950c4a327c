// Package clicks gives a damper's force at any setting of its knobs within those
// measured: force over shaft speed, bump clicks and rebound clicks.
//
// In: the curves of a dyno set; a click table typed into a job is such a set with one
// knob. Out: a curve with its band at a setting; what one knob does to each stroke;
// how well a click is predicted by the others.
//
// It never goes past the clicks measured, knows no car and judges nothing.
package clicks
