// Package symptom proposes what could be behind what an owner says of the car,
// and what to look at and change first.
//
// In: an answer of a study, the owner's words, when it happens, and rules: a
// table of symptoms and causes with how likely each is before anything is
// looked at, and what of this car's own figures speaks for or against it. Out:
// two or three causes with that evidence, the quickest check that separates
// them, the first change with its size on this car, what it costs elsewhere, and
// the way back.
//
// The table is a file that a specialist can read, and extend with one of their
// own. Its thresholds and weights are common practice without a source.
//
// It proposes and never diagnoses. What is not computed speaks neither for nor
// against, and the answer says so. It looks at no road log and no photograph.
package symptom
