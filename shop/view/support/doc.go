// Package support shows what may be behind what an owner says: each cause with the
// figures that speak for and against it, the check, and the first change with what it
// costs.
//
// In: a job as it is tried and the answer of the table of symptoms. Out: the tree of
// the page, words ready.
package support
