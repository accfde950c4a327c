// Package measuring says where every key of a job is typed and how its figure is
// measured: in which group of the work it stands, under what label, with what tool,
// from what to what, what it is for, what goes wrong, and a drawing of it.
//
// In: the job file's own table of keys. Out: cards, each a group of fields with one way
// to measure them, for the page and for the sheet that is printed and filled in beside
// the car. It computes nothing and knows no job: which figures a job lacks is the
// caller's to find.
package measuring
