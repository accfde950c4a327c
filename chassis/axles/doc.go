// Package axles says what an axle's points do: how its linkage moves the wheel,
// and what its struts carry in each build, standing, in a bend, under braking and
// power, and over the brief's obstacles.
//
// In: an answer of a study, or a car alone for its linkage. Out: curves, cases with
// forces and moments, and what the usual changes of a workshop would do. It judges
// nothing and only reads the answer.
package axles
