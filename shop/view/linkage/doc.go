// Package linkage shows how an axle's linkage moves: its places frame by frame, its
// ratios, angles and roll centre over the travel, and what a change of it does.
//
// In: a job as it is tried, an axle and how it is moved. Out: the page's tree, words
// and plain numbers ready. The motion is study's and chassis/linkage's.
package linkage
