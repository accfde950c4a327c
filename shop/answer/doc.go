// Package answer is the one contract of results for the page, the command
// line, paper and outsiders: a document in JSON, trunnion.answer/1, a table of
// its values in CSV, and the faults of a job, trunnion.faults/1.
//
// In: an answer of a study, its findings and how the reader wants texts. Out:
// SI values with their unit, every place key always there, and the workings by
// which anybody can check a value without knowing the program. The format only
// ever gains keys within /1.
//
// It computes and judges nothing. There is no NaN and no clock in a document,
// and it is the same bytes for any number of workers.
package answer
