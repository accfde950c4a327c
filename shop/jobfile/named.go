package jobfile

import (
	"fmt"
	"strings"
)

// NoBuild says that a job has no build of an id, and which it has.
func NoBuild(job *Job, id string) error {
	have := make([]string, 0, len(job.Builds))
	for _, b := range job.Builds {
		have = append(have, b.ID)
	}
	return fmt.Errorf("the job has no build %q; it has %s", id, strings.Join(have, ", "))
}

// NoLoad says that a job has no load state of an id, and which it has.
func NoLoad(job *Job, id string) error {
	have := make([]string, 0, len(job.Loads))
	for i := range job.Loads {
		have = append(have, job.Loads[i].ID)
	}
	return fmt.Errorf("the job has no load state %q; it has %s", id, strings.Join(have, ", "))
}
