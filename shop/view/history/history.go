package history

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"trunnion/shop/pastjobs"
	"trunnion/shop/store"
	"trunnion/shop/view"
)

// Entry is a revision, or a note that was written beside one.
type Entry struct {
	ID       string          `json:"id"`
	Revision int             `json:"revision"`
	Who      string          `json:"who"`
	When     string          `json:"when"`
	Why      string          `json:"why,omitempty" doc:"of a revision"`
	Lines    []pastjobs.Line `json:"lines"`
	More     int             `json:"more,omitempty" doc:"changes that are not listed here"`
	Note     *Note           `json:"note,omitempty"`
}

// View is all that happened to a job, the newest first.
type View struct {
	Newest  int     `json:"newest" doc:"revision"`
	Entries []Entry `json:"entries"`
}

// mostLines is how many changes of one revision are listed in the history; the
// difference of two revisions lists all. Chosen.
const mostLines = 12

// Of shows all that happened to a job.
func Of(steps []store.Step, notes []store.Note) *View {
	out := &View{Entries: []Entry{}}
	type entry struct {
		at time.Time
		Entry
	}
	list := make([]entry, 0, len(steps)+len(notes))
	for i := range steps {
		st := &steps[i]
		lines := pastjobs.Lines(st.Changes)
		e := entry{st.When, Entry{ID: fmt.Sprintf("r%d", st.Number), Revision: st.Number, Who: st.Who, When: view.When(st.When), Why: st.Why, Lines: lines}}
		if len(lines) > mostLines {
			e.Lines, e.More = lines[:mostLines], len(lines)-mostLines
		}
		list = append(list, e)
		out.Newest = max(out.Newest, st.Number)
	}
	for i := range notes {
		n := NoteOf(&notes[i])
		list = append(list, entry{notes[i].Saved, Entry{ID: "n" + n.ID, Revision: n.Revision, Who: n.Who, When: n.When, Lines: []pastjobs.Line{}, Note: &n}})
	}
	// A note stands above the revision that it was written beside, whatever a clock
	// says that was set back.
	slices.SortStableFunc(list, func(a, b entry) int {
		noted := func(e *entry) int {
			if e.Note != nil {
				return 1
			}
			return 0
		}
		return -cmp.Or(cmp.Compare(a.Revision, b.Revision), cmp.Compare(noted(&a), noted(&b)), a.at.Compare(b.at))
	})
	for i := range list {
		out.Entries = append(out.Entries, list[i].Entry)
	}
	return out
}
