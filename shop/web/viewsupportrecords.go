package web

import (
	"context"
	"strconv"
	"strings"
	"time"

	"trunnion/shop/jobfile"
	"trunnion/shop/pastjobs"
	"trunnion/shop/quantity"
	"trunnion/shop/store"
	"trunnion/shop/view"
	"trunnion/shop/wording"
)

// NoteShown is something that was written down.
type NoteShown struct {
	ID       string   `json:"id"`
	Kind     string   `json:"kind" enum:"change,come-back,recheck,service,remark"`
	KindName string   `json:"kindName"`
	Revision int      `json:"revision"`
	Who      string   `json:"who"`
	When     string   `json:"when"`
	Title    string   `json:"title" doc:"what it is about"`
	From     string   `json:"from,omitempty"`
	To       string   `json:"to,omitempty"`
	Facts    []string `json:"facts"`
	Words    string   `json:"words,omitempty" doc:"of the owner or driver"`
	Verdict  string   `json:"verdict,omitempty" enum:"keep,revert"`
	Text     string   `json:"text,omitempty"`
}

// noteNames are the kinds in words.
var noteNames = map[string]string{
	store.ChangeNote: "change", store.ComeBackNote: "come-back", store.RecheckNote: "re-check", store.ServiceNote: "service", store.RemarkNote: "remark",
}

// stepName is a step of a job in words.
func stepName(step string) string {
	if step == "recheck" {
		return "re-check"
	}
	return strings.ReplaceAll(step, "-", " ")
}

var workNames = map[string]string{
	store.RanHours: "ran", store.GasCheck: "gas checked", store.Serviced: "serviced", store.Rebuilt: "rebuilt", store.Inspected: "inspected",
}

func (s *Server) noteShown(n *store.Note) NoteShown {
	out := NoteShown{ID: n.ID, Kind: n.Kind, KindName: noteNames[n.Kind], Revision: n.Revision, Who: n.Who, When: view.When(n.Taken), Facts: []string{}, Text: n.Text}
	fact := func(lead, text string) {
		if text = strings.TrimSpace(text); text != "" {
			out.Facts = append(out.Facts, lead+text)
		}
	}
	switch {
	case n.Change != nil:
		c := n.Change
		out.Title, out.From, out.To, out.Words, out.Verdict = changedName(c.What), c.From, c.To, c.Words, c.Verdict
		fact("", c.Where)
		fact("why: ", c.Reason)
	case n.ComeBack != nil:
		c := n.ComeBack
		out.Title = c.Cause
		fact("would have been caught at: ", stepName(c.Step))
		fact("part: ", c.Part)
		fact("cost: ", c.Cost)
		fact("work: ", c.Hours)
	case n.Recheck != nil:
		r := n.Recheck
		out.Title = "Re-check"
		if r.Km > 0 {
			fact("", strconv.FormatFloat(r.Km, 'f', 0, 64)+" km after the handover")
		}
		fact("build: ", r.Build)
		fact("heights: ", fourOf(r.Heights))
		fact("loads: ", fourOf(r.Loads))
		fact("found: ", r.Found)
		if r.Next != nil {
			fact("next: ", r.Next.Date)
		}
	case n.Service != nil:
		v := n.Service
		out.Title = "Damper " + v.Serial + ": " + workNames[v.Work]
		fact("use: ", v.Use)
		if v.Hours > 0 {
			fact("", strconv.FormatFloat(v.Hours, 'f', -1, 64)+" h")
		}
		if v.Km > 0 {
			fact("", strconv.FormatFloat(v.Km, 'f', 0, 64)+" km")
		}
		fact("gas: ", v.Gas)
		fact("found: ", v.Found)
	}
	return out
}

// changedName is what was changed: the name of a place of the job, or the words
// that were written.
func changedName(what string) string {
	if strings.Contains(what, ".") && !strings.Contains(what, " ") {
		return wording.Label(what)
	}
	return what
}

// fourOf writes four readings, front left first; empty where there is none.
func fourOf(list [4]string) string {
	out, any := make([]string, 4), false
	for i, t := range list {
		out[i] = strings.TrimSpace(t)
		if out[i] == "" {
			out[i] = "–"
		} else {
			any = true
		}
	}
	if !any {
		return ""
	}
	return strings.Join(out, " · ")
}

// Records are what the workshop wrote down about a job.
type Records struct {
	ComeBacks []NoteShown     `json:"comeBacks"`
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
	Serial  string      `json:"serial"`
	Verdict string      `json:"verdict" enum:"due,soon,not yet,not known"`
	Text    string      `json:"text"`
	Gas     []string    `json:"gas" doc:"each reading with its date, the oldest first"`
	Notes   []NoteShown `json:"notes"`
}

// DamperSerial is a damper as it is stamped, with its place.
type DamperSerial struct {
	Serial string `json:"serial"`
	Place  string `json:"place"`
}

func (s *Server) records(ctx context.Context, _ store.Person, in *JobPath) (*body[*Records], error) {
	kept, err := s.store.Job(ctx, in.ID)
	if err != nil {
		return nil, err
	}
	back, err := s.store.FindNotes(ctx, store.NoteQuery{Kind: store.ComeBackNote})
	if err != nil {
		return nil, err
	}
	served, err := s.store.FindNotes(ctx, store.NoteQuery{Kind: store.ServiceNote})
	if err != nil {
		return nil, err
	}
	page, err := s.store.Find(ctx, store.Query{Limit: 1})
	if err != nil {
		return nil, err
	}
	out := &Records{
		ComeBacks: []NoteShown{}, ByCause: []ComeBackCount{}, ByStep: []ComeBackCount{}, Dampers: []DamperLine{}, Serials: serialsOf(kept.Text),
		Steps: []view.Choice{}, Work: []view.Choice{}, Causes: []string{},
	}
	for i := len(back) - 1; i >= 0; i-- {
		if back[i].Job == in.ID {
			out.ComeBacks = append(out.ComeBacks, s.noteShown(&back[i]))
		}
	}
	counted := pastjobs.CountComeBacks(back, page.Total)
	out.Summary = comeBackSummary(counted)
	out.ByCause, out.ByStep = countsShown(counted.ByCause, nil), countsShown(counted.ByStep, stepName)
	for _, d := range pastjobs.Dampers(served, s.o.Now()) {
		if line, here := s.damperLine(&d, in.ID, out.Serials); here {
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
	return answer(out), nil
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
		return "No come-back is on record in " + plural(c.Jobs, "job") + "."
	}
	return plural(c.All, "come-back") + " on record in " + plural(c.Jobs, "job") + ": " + quantity.Format(c.Share, quantity.Share, quantity.Metric, 0) + " of the cars came back."
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
func (s *Server) damperLine(d *pastjobs.Damper, job string, serials []DamperSerial) (DamperLine, bool) {
	line := DamperLine{Serial: d.Serial, Verdict: d.Verdict, Text: d.Text, Gas: []string{}, Notes: []NoteShown{}}
	here := false
	for _, id := range d.Jobs {
		here = here || id == job
	}
	for _, one := range serials {
		here = here || strings.EqualFold(strings.ReplaceAll(one.Serial, " ", ""), strings.ReplaceAll(d.Serial, " ", ""))
	}
	for i := range d.Notes {
		n := &d.Notes[i]
		line.Notes = append(line.Notes, s.noteShown(n))
		if n.Service.Gas != "" {
			line.Gas = append(line.Gas, n.Taken.Local().Format(time.DateOnly)+": "+n.Service.Gas)
		}
	}
	return line, here
}
