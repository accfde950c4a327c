package main

import "trunnion/shop/answer"

type checkCommand struct {
	Job    string `arg:"" help:"Job file, or - for standard input."`
	Format string `enum:"text,json" default:"text" help:"What to print: ${enum}."`
}

// Run lists all faults of a job.
func (c *checkCommand) Run(s streams) error {
	job, faults, err := readJob(c.Job, s.in)
	if err != nil {
		return err
	}
	bad := refused(faults)
	switch c.Format {
	case "json":
		if err := answer.WriteFaults(s.out, nameOf(c.Job), faults); err != nil {
			return err
		}
	default:
		listFaults(s.out, nameOf(c.Job), faults)
		switch {
		case bad > 0:
			say(s.out, "%s: %s to mend\n", nameOf(c.Job), many(bad, "fault", "faults"))
		case job != nil:
			say(s.out, "%s: can be assessed; %s, %s, %s\n", nameOf(c.Job), many(len(job.Builds), "build", "builds"),
				many(len(job.Loads), "load state", "load states"), many(len(job.Filled), "estimate standing in", "estimates standing in"))
		}
	}
	if bad > 0 {
		return &status{code: exitFaults}
	}
	return nil
}
