package view

import "trunnion/chassis/finding"

// Grades orders verdicts, gravest first.
var Grades = map[string]int{"over": 0, "close": 1, "unknown": 2, "clear": 3, "no-limit": 4}

// Loud reports that a finding is one to act on.
func Loud(f *finding.Finding) bool { return f.Verdict == finding.Over || f.Verdict == finding.Close }
