// Package study answers a brief: it puts every build on the car in every load
// state, solves where it sits, takes the travel budget, frequencies, damping
// and ride from there, and repeats it over draws of all inputs for the bands.
//
// In: a car, its builds, its load states, a brief, options. Out: values with
// bands and workings, curves, warnings, and which cases have no answer. The
// same bytes come out for any number of workers. It judges nothing: verdicts
// and remedies stand one floor up.
package study
