package desk

import "trunnion/shop/jobfile"

// symptomDrives is how many samples of a road stand behind a symptom's drives:
// enough to rank by, and quick. Chosen.
const symptomDrives = 2

// symptomAsked is what a symptom is looked up in: corners and short drives.
func symptomAsked(job *jobfile.Job, s *Settings) *asked {
	q := &asked{job: job, opt: s.options(SymptomDraws), shown: s.Progress}
	q.opt.NoWorkings, q.opt.NoRemedies = true, true
	ride := s.drive()
	ride.Samples, ride.Unchecked = symptomDrives, true
	q.drive = &ride
	return q
}
