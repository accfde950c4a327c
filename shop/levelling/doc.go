// Package levelling answers what to turn on the scales, from a job: it puts a
// build with its collars and load state on the scales, goes through the rounds
// that were read, and gives the next move with all that is said about it.
//
// In: a job that was read, which build and load state stand on the scales, what
// is wanted, and the rounds as they were typed or kept. Out: a Result, and of it
// the document for programs. The command and the page both go through here.
//
// It keeps nothing, reads no files, and finds no move itself: that is
// chassis/scales.
package levelling
