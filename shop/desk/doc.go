// Package desk is where every question is asked. Each has a name: Assess, Ride,
// Corner, Struts, Linkage, Level, OnScales, Lift, Symptom, Sheet, Certifier, Nearest, Try. A
// question takes a job and its own small options, fills in once what was not said
// (load state, draws, seed, workers), runs the study, judges it and returns one
// result with its warnings.
//
// Command line, page and paper ask here and lay out what comes back: no other
// package runs a study or judges one, so that the same question has the same
// answer wherever it is asked. The desk opens no file and knows no page.
package desk
