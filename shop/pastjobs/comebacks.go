package pastjobs

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"trunnion/shop/quantity"
	"trunnion/shop/store"
)

// Count is how often something came back, and what it cost.
type Count struct {
	What  string    `json:"what"`
	Times int       `json:"times"`
	Jobs  int       `json:"jobs"`  // different ones
	Cost  []string  `json:"cost"`  // by currency: "240.00 EUR"
	Hours float64   `json:"hours"` // [h]
	Last  time.Time `json:"last"`
}

// ComeBacks counts what came back by cause, by the step of the job that would
// have caught it, and by part, the most often first.
type ComeBacks struct {
	All     int     `json:"all"`
	Jobs    int     `json:"jobs"` // that the workshop has on record
	Share   float64 `json:"share"`
	ByCause []Count `json:"by_cause"`
	ByStep  []Count `json:"by_step"`
	Part    []Count `json:"part"`
}

// CountComeBacks counts the come-backs among notes. jobs is how many jobs are on
// record: the rate is of those.
func CountComeBacks(notes []store.Note, jobs int) *ComeBacks {
	out := &ComeBacks{Jobs: jobs}
	came := map[string]bool{}
	var cause, step, part []store.Note
	for i := range notes {
		n := notes[i]
		if n.Kind != store.ComeBackNote || n.ComeBack == nil {
			continue
		}
		out.All++
		came[n.Job] = true
		cause, step = append(cause, n), append(step, n)
		if n.ComeBack.Part != "" {
			part = append(part, n)
		}
	}
	if jobs > 0 {
		out.Share = float64(len(came)) / float64(jobs)
	}
	out.ByCause = counted(cause, func(c *store.ComeBack) string { return c.Cause })
	out.ByStep = counted(step, func(c *store.ComeBack) string { return c.Step })
	out.Part = counted(part, func(c *store.ComeBack) string { return c.Part })
	return out
}

// counted counts notes by a word; case and blanks do not count.
func counted(notes []store.Note, of func(*store.ComeBack) string) []Count {
	type tally struct {
		Count
		jobs map[string]bool
		cost map[string]float64
	}
	by := map[string]*tally{}
	var order []string
	for i := range notes {
		n := &notes[i]
		word := strings.Join(strings.Fields(of(n.ComeBack)), " ")
		key := strings.ToLower(word)
		t := by[key]
		if t == nil {
			t = &tally{Count: Count{What: word}, jobs: map[string]bool{}, cost: map[string]float64{}}
			by[key] = t
			order = append(order, key)
		}
		t.Times++
		t.jobs[n.Job] = true
		if n.Saved.After(t.Last) {
			t.Last = n.Saved
		}
		if v, err := quantity.Parse(n.ComeBack.Cost, quantity.Price); err == nil && n.ComeBack.Cost != "" {
			t.cost[v.Unit] += v.Value
		}
		if v, err := quantity.Parse(n.ComeBack.Hours, quantity.Time); err == nil && n.ComeBack.Hours != "" {
			t.Hours += v.Value / quantity.Hour
		}
	}
	out := make([]Count, 0, len(order))
	for _, key := range order {
		t := by[key]
		t.Jobs = len(t.jobs)
		for unit, v := range t.cost {
			t.Cost = append(t.Cost, quantity.FormatPrice(v, unit, 2))
		}
		slices.Sort(t.Cost)
		out = append(out, t.Count)
	}
	slices.SortStableFunc(out, func(a, b Count) int { return cmp.Or(b.Times-a.Times, strings.Compare(a.What, b.What)) })
	return out
}
