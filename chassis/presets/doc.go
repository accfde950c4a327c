// Package presets finds clicks for what a car is used for, by driving every setting
// within the clicks measured over the brief's roads and obstacles, and says where the
// adjuster does what an owner wants of it and where not.
//
// In: a job, a build. Out: for each purpose a pair of clicks with the figures that it
// was chosen by, and per load state what full soft and full hard give. What is weighed
// against what is in Purposes and is common practice, no source. It makes no sentence.
package presets
