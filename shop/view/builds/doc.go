// Package builds shows the builds of a job side by side: strips of travel, verdicts,
// tables, what can be changed, every field of the job, the brief, and what to measure
// next.
//
// In: a job as it is tried. Out: the tree of the page, words and plain numbers ready.
// The order and the road beside it are those of view/order and view/ride.
package builds
