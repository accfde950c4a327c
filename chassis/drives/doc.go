// Package drives takes every build of an answer over the brief's roads and obstacles:
// in time, over draws of the car, and by the roads' spectrum where time is not given.
//
// In: an answer of a study, with its rests and its draws; options. Out: values with
// bands, curves and failures, added to the answer. All builds meet the same roads,
// and the same bytes come out for any number of workers. It judges nothing.
package drives
