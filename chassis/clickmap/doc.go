// Package clickmap says what each click of a damper is worth on one car: force at
// three damper speeds, damping ratio of the corner, of heave, roll, pitch and wheel
// hop, the step from one click to the next, and which click is nearest to what is
// wanted.
//
// In: a study of one build and what is asked. Out: figures with bands. It stays within
// the clicks measured, changes nothing else on the car and judges nothing.
package clickmap
