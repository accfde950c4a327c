// Package finding says what the figures of a study mean: rules that look at
// values and limits and give verdicts, ranked by how likely and how grave they
// are, and the order of how hard each is on the car.
//
// In: an answer of a study. Out: findings as codes, places, figures and
// verdicts. What could be done about them is tried elsewhere. It writes no
// sentence; wording stands in another room.
package finding
