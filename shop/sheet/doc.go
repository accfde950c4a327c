// Package sheet makes what the owner takes home: the car as it leaves, in
// figures before and after, on one or two pages.
//
// In: a job with its answer, and what was ticked at the handover. Out: a tree of
// words, tables and shapes (trunnion.sheet/1), and the same tree as PDF, XLSX,
// CSV and JSON. The page draws that tree too, so that screen and paper never
// say different things.
//
// It has no clock: dates are given. It judges nothing beyond what was judged: a
// sheet stays a draft until everything on its list is done, and never says that
// a car is allowed on a road or that nothing can happen to it.
package sheet
