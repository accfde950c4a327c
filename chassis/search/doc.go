// Package search finds builds for a brief: which springs, heights, stops, clicks and
// bar holes, out of what can be had.
//
// In: an answer of a study with its drives, one of its builds to start from, what may be
// chosen, what must hold. Out: the builds worth having, judged as every build is, three
// plans among them, what stands in the way where nothing holds everything, and how many
// candidates each step let through. It writes no sentence and reads no price.
//
// The way is from cheap to dear. Springs, heights, stops and holes of one axle are put
// through the statics with the other axle as soft and as stiff as it can be had, and
// every rule of package finding is asked; what holds goes over the brief's roads by
// spectrum, first axle by axle, then in pairs; the best pairs are cornered and driven in
// time, ever fewer for ever longer; the last few go through the whole study with its
// draws, the same for all. The same seed gives the same answer for any number of workers.
package search
