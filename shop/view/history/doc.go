// Package history shows what was kept of a job: every revision and note, what differs
// between two states and the way back, the record and what was measured again, past
// jobs that are like this one, come-backs and the lives of dampers.
//
// In: what the store holds and what pastjobs made of it. Out: the trees of the pages,
// words ready.
package history
