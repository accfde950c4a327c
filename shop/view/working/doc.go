// Package working shows how a figure was reached: its equation with every term and
// where that came from, what it is judged by, what would help, and what to measure.
//
// In: a job as it is tried and the name of a value or of a term of its working. Out:
// the tree of the page's drawer, words ready. The working is study's.
package working
