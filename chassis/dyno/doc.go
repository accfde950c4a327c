// Package dyno makes curves of what a damper dynamometer wrote: it takes gas and
// seal friction off, gives bump and rebound force over shaft speed with a band at
// every setting measured, and says what the runs show that a curve hides.
//
// In: runs in SI with bump positive in position, velocity and force, whatever the
// file had. Out: a Set with curves, the gas and friction that were taken off, signs
// in the loops, checks of the runs against themselves, faults of the ladder of
// clicks, fade; a Pair of two sets. What lies between clicks is for package clicks.
//
// It reads no file, knows no car and gives no force past the clicks measured. What
// a file does not say is for whoever read it to ask.
package dyno
