// Package answer is the one contract of results for the page, the command
// line, paper and outsiders: a document in JSON, trunnion.answer/2, a table of
// its values in CSV, and the faults of a job, trunnion.faults/1.
//
// In: an answer of a study, its findings and how the reader wants texts. Out:
// SI values with their unit, every place key always there, and the workings by
// which anybody can check a value without knowing the program. The format only
// ever gains keys within /2.
//
// Every equation stands once, under laws, with the names and units of its symbols. A
// working says which law it is and what each symbol was: the id of another working, the
// id of a source (typed, estimated, constant), or a number that was solved for together
// with others; given then lists the inputs of that solution.
//
// It computes and judges nothing. There is no NaN and no clock in a document,
// and it is the same bytes for any number of workers.
package answer
