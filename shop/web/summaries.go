package web

import (
	"context"
	"sync"
	"time"

	"trunnion/chassis/finding"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
	"trunnion/shop/store"
	"trunnion/shop/view"
	"trunnion/shop/view/builds"
	"trunnion/shop/wording"
)

// summary is what the list of jobs says about one.
type summary struct {
	builds int
	worst  Worst
}

// summaries are the gravest findings by a job's text. They are worked out in the
// background, a few at a time, for the jobs that somebody looks at.
type summaries struct {
	store *store.Store
	tries *view.Desk

	mu    sync.Mutex
	known map[string]summary // by fingerprint of the text
	due   chan [2]string     // id and fingerprint
	asked map[string]bool
}

// summariesKept bounds what is remembered. Chosen.
const summariesKept = 5000

func newSummaries(from *store.Store, tries *view.Desk) *summaries {
	return &summaries{store: from, tries: tries, known: map[string]summary{}, due: make(chan [2]string, 100), asked: map[string]bool{}}
}

// of returns what is known of a job, and asks for the rest.
func (w *summaries) of(id, sha string) (int, Worst) {
	w.mu.Lock()
	defer w.mu.Unlock()
	if got, ok := w.known[sha]; ok {
		return got.builds, got.worst
	}
	if !w.asked[sha] {
		select {
		case w.due <- [2]string{id, sha}:
			w.asked[sha] = true
		default: // looked at again when the list is
		}
	}
	return 0, Worst{Verdict: "unknown", Text: "not looked at yet"}
}

// learn takes a job's summary from a view of its text.
func (w *summaries) learn(text string, v *builds.View) {
	if len(v.Builds) == 0 {
		return
	}
	got := summary{builds: len(v.Builds), worst: Worst{Verdict: "no-limit", Text: "No limit was chosen."}}
	for _, b := range v.Builds {
		if got.worst.Text == "" || view.Grades[b.Verdict] < view.Grades[got.worst.Verdict] {
			got.worst = Worst{Verdict: b.Verdict, Text: b.Sentence}
		}
	}
	w.put(fingerprint([]byte(text)), got)
}

func (w *summaries) put(sha string, got summary) {
	w.mu.Lock()
	defer w.mu.Unlock()
	if len(w.known) >= summariesKept {
		clear(w.known)
		clear(w.asked)
	}
	w.known[sha] = got
	delete(w.asked, sha)
}

// work looks at jobs one after the other, with pauses: nobody waits for it.
func (w *summaries) work(ctx context.Context) {
	for {
		select {
		case <-ctx.Done():
			return
		case next := <-w.due:
			if got, ok := w.look(ctx, next[0]); ok {
				w.put(next[1], got)
			}
			select {
			case <-ctx.Done():
				return
			case <-time.After(100 * time.Millisecond):
			}
		}
	}
}

// look studies one job with few draws and no drive.
func (w *summaries) look(ctx context.Context, id string) (summary, bool) {
	r, err := w.store.Job(ctx, id)
	if err != nil {
		return summary{}, false
	}
	job, faults := jobfile.ReadBytes(r.Text, "job.yaml")
	if job == nil {
		text := "Not assessed yet"
		for i := range faults {
			if faults[i].Kind == jobfile.Refuse {
				text += ": " + wording.Label(faults[i].Path) + " " + faults[i].Got + "; " + faults[i].Want
				break
			}
		}
		return summary{builds: len(jobfile.IDs(r.Text, "builds")), worst: Worst{Verdict: "unknown", Text: view.Cut(text, 200)}}, true
	}
	seen, err := w.tries.Preview(ctx, job)
	if err != nil {
		return summary{builds: len(job.Builds), worst: Worst{Verdict: "unknown", Text: "has no answer"}}, ctx.Err() == nil
	}
	got := summary{builds: len(job.Builds), worst: Worst{Verdict: string(finding.NoLimit)}}
	teller := wording.New(seen.Answer, quantity.Metric)
	for i := range seen.Findings {
		f := &seen.Findings[i]
		if view.Grades[string(f.Verdict)] < view.Grades[got.worst.Verdict] {
			got.worst = Worst{Verdict: string(f.Verdict), Text: teller.Build(f.Value.Place.Build) + ": " + teller.Finding(f).What}
		}
	}
	if got.worst.Text == "" || got.worst.Verdict == string(finding.Clear) {
		got.worst.Text = wording.VerdictSays(finding.Verdict(got.worst.Verdict))
	}
	return got, true
}

// Worst is a job's gravest finding.
type Worst struct {
	Verdict string `json:"verdict" enum:"clear,close,over,no-limit,unknown"`
	Text    string `json:"text"`
}
