// Package drawing holds the shapes that page and paper share: the travel strip
// of a corner, and the car in plan with its four wheels.
//
// In: an answer of a study. Out: lengths in SI along an axis of their own, with
// what each means. It chooses no colour, no scale and no unit, and writes no
// words.
package drawing
