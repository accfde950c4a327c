package history

import (
	"fmt"

	"trunnion/shop/pastjobs"
	"trunnion/shop/view"
)

// NearestJobs are past jobs that are like this one.
type NearestJobs struct {
	Jobs  []NearJob `json:"jobs"`
	Of    int       `json:"of" doc:"jobs that could be compared"`
	Doubt string    `json:"doubt,omitempty"`
}

// NearJob is one of them.
type NearJob struct {
	ID       string   `json:"id"`
	Number   string   `json:"number"`
	Car      string   `json:"car"`
	Owner    string   `json:"owner"`
	Saved    string   `json:"saved"`
	Build    string   `json:"build"`
	Distance string   `json:"distance"`
	Why      []string `json:"why"`
	Became   []string `json:"became"`
	Left     bool     `json:"left" doc:"it was handed over"`
}

// NearestOf shows the past jobs that are like one.
func NearestOf(found *pastjobs.Nearest) *NearestJobs {
	out := &NearestJobs{Jobs: []NearJob{}, Of: found.Of, Doubt: found.Doubt}
	for i := range found.Near {
		n := &found.Near[i]
		out.Jobs = append(out.Jobs, NearJob{
			ID: n.Job.ID, Number: n.Job.Number, Car: n.Job.Car, Owner: n.Job.Owner, Saved: view.When(n.Job.SavedAt), Build: n.Build,
			Distance: fmt.Sprintf("%.1f standard deviations away", n.Distance), Why: view.Listed(n.Why), Became: view.Listed(n.Became), Left: n.Left,
		})
	}
	return out
}
