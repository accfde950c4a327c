// Package jobfile turns the text of a job into the inputs of the physics, and
// changes single values in such a text.
//
// In: a job in YAML or JSON, values as typed in trade units. Out: a Job with
// the car, the builds, the load states and the brief in SI, every number with
// its path, line, band and origin; and every fault of the text at once, each
// with its line, what stands there and what could.
//
// One table of keys (keys.go) says what a job may contain. The reader walks
// it, and Schema writes it as a JSON Schema, so that the two cannot drift.
//
// A value is written as
//
//	[est | maker | measured] number unit [± band | tol ± band]
//
// "±" is half of a 95 % interval and "tol ±" a maker's limit. Where no band is
// typed the table gives one by the kind of value and its origin, and the input
// says so. In a row of numbers the unit may stand once, behind the last.
//
// It does not compute: estimates for what is missing and checks of what is
// there are those of chassis/car. It does not open files.
package jobfile
