package desk

import (
	"trunnion/chassis/finding"
	"trunnion/chassis/remedy"
	"trunnion/chassis/study"
	"trunnion/shop/jobfile"
	"trunnion/shop/wording"
)

// Result is the answer to a question about a job.
type Result struct {
	Job      *jobfile.Job
	Faults   []jobfile.Fault // those that only warn
	Answer   *study.Answer
	Findings []finding.Finding
	InShort  *wording.InShort // which build answers the owner's words; nil where nothing was understood
	Plans    []remedy.Plan    // one a build; none where remedies are left until they are opened
	// NotDriven is why the brief's roads and obstacles were not driven, where they
	// were to be; the rest stands, and the answer's warnings say it.
	NotDriven error
}
