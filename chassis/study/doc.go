// Package study answers a brief: it puts every build on the car in every load
// state, solves where it sits, takes the travel budget, frequencies, damping,
// corners and yaw from there, and repeats it over draws of all inputs for the bands.
//
// In: a car, its builds, its load states, a brief, options. Out: values with
// bands and workings, curves, warnings, and which cases have no answer. The
// same bytes come out for any number of workers. What drives it over roads, moves
// its linkage and judges it stands on floors of its own above.
package study
