// Package dampers shows what the clicks of a build's dampers are worth on the car, the
// presets that were found for what it is used for, and an order of forces for the
// builder.
//
// In: a job as it is tried and the desk's answers about it. Out: the page's trees, words
// and plain numbers ready.
package dampers
