package main

import (
	"trunnion/chassis/finding"
	"trunnion/chassis/remedy"
	"trunnion/chassis/study"
	"trunnion/shop/answer"
	"trunnion/shop/desk"
	"trunnion/shop/jobfile"
	"trunnion/shop/wording"
)

// assessed is all that is known of a job when it is printed.
type assessed struct {
	job      *jobfile.Job
	faults   []jobfile.Fault // that only warn
	answer   *study.Answer
	findings []finding.Finding
	plans    []remedy.Plan
	inShort  *wording.InShort
	tell     *wording.Teller
	keep     func(build, load string) bool
}

// document is what was found, for programs.
func (a *assessed) document() *answer.Document {
	r := desk.Result{Job: a.job, Answer: a.answer, Findings: a.findings, Plans: a.plans, InShort: a.inShort}
	return r.Document(version, a.tell, a.keep)
}
