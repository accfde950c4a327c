// Package store keeps what the workshop must find again: jobs, drafts, the
// catalogue of parts, presets, readings, runs, people and sessions.
//
// In: texts as they were written, with who, when and why. Out: the same texts,
// to the byte, and where they are found. Every save is a revision; nothing is
// overwritten. A revision of a job is the job file's own text; what is searched
// (owner, plate, car, parts, serial numbers, builds) is derived from it and can
// be rebuilt from it.
//
// One Go API stands on two databases: SQLite in a folder of one machine, held by
// one program at a time, and PostgreSQL for several branches. One suite of tests
// runs on both.
//
// It does not compute, does not judge whether a job can be answered (that is
// jobfile), does not check passphrases or roles, and runs nothing that is
// stored in it.
package store
