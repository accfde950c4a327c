// Package change lists what could be changed about a build, in the steps in which
// parts are sold and settings are made: collars by their flats, springs by rate and
// free length, stops, packers, clicks, holes of the bar, helpers, dampers.
//
// In: a build of an answer, at rest. Out: changes of the build, kind by kind and size
// by size. It judges none of them.
package change
