// Package wording says what an answer means, in the words of the trade and in
// the units of the reader: the names of codes, places and verdicts, figures
// with their bands, sentences for findings, remedies and warnings, workings as
// text, and the cautions that go with every job.
//
// In: an answer of a study, its findings, and a system of units. Out: text. It
// judges nothing and computes nothing but the change of unit. It writes no
// layout: tables and columns belong to whoever prints.
//
// A metric text holds no imperial unit and an imperial one no metric unit: what
// a person typed in other units is shown converted.
package wording
