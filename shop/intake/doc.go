// Package intake reads what comes from other machines: measured roads as
// comma-separated values, readings of the scales typed, pasted or from a file,
// round by round.
//
// In: text as a profiler or a spreadsheet wrote it. Out: plain readings in SI,
// or an error that names the line. It judges nothing: whether the readings make
// a road is for the road itself to say.
package intake
