package history

import (
	"strconv"
	"strings"
	"time"

	"trunnion/shop/jobfile"
	"trunnion/shop/pastjobs"
	"trunnion/shop/quantity"
	"trunnion/shop/store"
	"trunnion/shop/view"
)

// Records are what the workshop wrote down about a job.
type Records struct {
	ComeBacks []Note          `json:"comeBacks"`
	Summary   string          `json:"summary" doc:"of the whole workshop"`
	ByCause   []ComeBackCount `json:"byCause"`
	ByStep    []ComeBackCount `json:"byStep"`
	Dampers   []DamperLine    `json:"dampers"`
	Serials   []DamperSerial  `json:"serials" doc:"of the dampers of the job's builds"`
	Steps     []view.Choice   `json:"steps"`
	Work      []view.Choice   `json:"work"`
	Causes    []string        `json:"causes" doc:"that were written before, the most often first"`
}

// ComeBackCount is how often something came back.
type ComeBackCount struct {
	What string `json:"what"`
	Text string `json:"text"`
}

// DamperLine is the life of a damper.
type DamperLine struct {
	Serial  string   `json:"serial"`
	Verdict string   `json:"verdict" enum:"due,soon,not yet,not known"`
	Text    string   `json:"text"`
	Gas     []string `json:"gas" doc:"each reading with its date, the oldest first"`
	Notes   []Note   `json:"notes"`
}

// DamperSerial is a damper as it is stamped, with its place.
type DamperSerial struct {
	Serial string `json:"serial"`
	Place  string `json:"place"`
}

// RecordsOf shows what the workshop wrote down about a job and its dampers: all of its
// come-backs, all that was done to dampers, and how many jobs there are.
func RecordsOf(job string, text []byte, back, served []store.Note, jobs int, today time.Time) *Records {
	out := &Records{
		ComeBacks: []Note{}, ByCause: []ComeBackCount{}, ByStep: []ComeBackCount{}, Dampers: []DamperLine{}, Serials: serialsOf(text),
		Steps: []view.Choice{}, Work: []view.Choice{}, Causes: []string{},
	}
	for i := len(back) - 1; i >= 0; i-- {
		if back[i].Job == job {
			out.ComeBacks = append(out.ComeBacks, NoteOf(&back[i]))
		}
	}
	counted := pastjobs.CountComeBacks(back, jobs)
	out.Summary = comeBackSummary(counted)
	out.ByCause, out.ByStep = countsShown(counted.ByCause, nil), countsShown(counted.ByStep, stepName)
	for _, d := range pastjobs.Dampers(served, today) {
		if line, here := damperLine(&d, job, out.Serials); here {
			out.Dampers = append(out.Dampers, line)
		}
	}
	for _, step := range store.Steps {
		out.Steps = append(out.Steps, view.Choice{Value: step, Label: stepName(step)})
	}
	for _, w := range []string{store.RanHours, store.GasCheck, store.Serviced, store.Rebuilt, store.Inspected} {
		out.Work = append(out.Work, view.Choice{Value: w, Label: workNames[w]})
	}
	for _, c := range counted.ByCause {
		out.Causes = append(out.Causes, c.What)
	}
	return out
}

// serialsOf are the dampers of a job's builds as they are stamped.
func serialsOf(text []byte) []DamperSerial {
	out, seen := []DamperSerial{}, map[string]bool{}
	for _, f := range jobfile.Fields(text) {
		words := strings.Split(f.Path, ".")
		if len(words) != 5 || words[0] != "builds" || words[3] != "serials" || f.Typed == "" || seen[f.Typed] {
			continue
		}
		seen[f.Typed] = true
		out = append(out, DamperSerial{Serial: f.Typed, Place: words[2] + " " + words[4]})
	}
	return out
}

func plural(n int, one string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + one + "s"
}

func comeBackSummary(c *pastjobs.ComeBacks) string {
	if c.All == 0 {
		return "No return visit in " + plural(c.Jobs, "job") + "."
	}
	return plural(c.All, "return visit") + " in " + plural(c.Jobs, "job") + ": " + quantity.Format(c.Share, quantity.Share, quantity.Metric, 0) + " of the cars came back."
}

func countsShown(list []pastjobs.Count, name func(string) string) []ComeBackCount {
	out := []ComeBackCount{}
	for _, c := range list {
		what := c.What
		if name != nil {
			what = name(what)
		}
		parts := []string{plural(c.Times, "time"), "in " + plural(c.Jobs, "job")}
		parts = append(parts, c.Cost...)
		if c.Hours > 0 {
			parts = append(parts, strconv.FormatFloat(c.Hours, 'f', 1, 64)+" h of work")
		}
		out = append(out, ComeBackCount{What: what, Text: strings.Join(parts, ", ")})
	}
	return out
}

// damperLine shows a damper that this job wrote about, or that stands in it.
func damperLine(d *pastjobs.Damper, job string, serials []DamperSerial) (DamperLine, bool) {
	line := DamperLine{Serial: d.Serial, Verdict: d.Verdict, Text: d.Text, Gas: []string{}, Notes: []Note{}}
	here := false
	for _, id := range d.Jobs {
		here = here || id == job
	}
	for _, one := range serials {
		here = here || strings.EqualFold(strings.ReplaceAll(one.Serial, " ", ""), strings.ReplaceAll(d.Serial, " ", ""))
	}
	for i := range d.Notes {
		n := &d.Notes[i]
		line.Notes = append(line.Notes, NoteOf(n))
		if n.Service.Gas != "" {
			line.Gas = append(line.Gas, n.Taken.Local().Format(time.DateOnly)+": "+n.Service.Gas)
		}
	}
	return line, here
}
