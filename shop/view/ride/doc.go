// Package ride shows the builds on one road or over one obstacle, side by side, and
// an obstacle moment by moment.
//
// In: a job as it is tried, which says what is looked at. Out: the tree of the page,
// words and plain numbers ready. The drive is study's.
package ride
