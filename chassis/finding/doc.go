// Package finding says what the figures of a study mean: rules that look at
// values and limits and give verdicts, ranked by how likely and how grave they
// are, each with a remedy that was run through the same study and shows what
// it cures and what it worsens.
//
// In: an answer of a study. Out: findings as codes, places, figures and
// verdicts. It writes no sentence; wording stands in another room.
package finding
