package desk

import "trunnion/shop/jobfile"

// cornerAsked is how builds corner, with the movements of one load state: nothing
// is driven.
func cornerAsked(job *jobfile.Job, load string, s *Settings) *asked {
	q := &asked{job: job, opt: s.options(CornerDraws), shown: s.Progress}
	q.opt.NoWorkings, q.opt.NoRemedies, q.opt.ModesIn = true, true, load
	return q
}
