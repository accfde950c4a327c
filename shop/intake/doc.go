// Package intake reads what comes from other machines: measured roads as
// comma-separated values, readings of the scales typed, pasted or from a file,
// round by round, sweeps of a damper's dynamometer, logs of drives.
//
// In: text as a profiler or a spreadsheet wrote it. Out: plain readings in SI,
// or an error that names the line, or, of a sweep or a log, a question where the file does
// not say what somebody has to. It judges nothing: whether the readings make
// a road is for the road itself to say.
package intake
