package history

import (
	"strconv"
	"strings"

	"trunnion/shop/store"
	"trunnion/shop/view"
	"trunnion/shop/wording"
)

// Note is something that was written down.
type Note struct {
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
	store.ChangeNote: "change", store.ComeBackNote: "return visit", store.RecheckNote: "follow-up check", store.ServiceNote: "service", store.RemarkNote: "remark",
}

// stepName is a step of a job in words.
func stepName(step string) string {
	if step == "recheck" {
		return "follow-up check"
	}
	return strings.ReplaceAll(step, "-", " ")
}

var workNames = map[string]string{
	store.RanHours: "ran", store.GasCheck: "gas checked", store.Serviced: "serviced", store.Rebuilt: "rebuilt", store.Inspected: "inspected",
}

// NoteOf shows a note.
func NoteOf(n *store.Note) Note {
	out := Note{ID: n.ID, Kind: n.Kind, KindName: noteNames[n.Kind], Revision: n.Revision, Who: n.Who, When: view.When(n.Taken), Facts: []string{}, Text: n.Text}
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
		out.Title = "Follow-up check"
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
