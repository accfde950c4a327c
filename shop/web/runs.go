package web

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/gob"
	"encoding/hex"
	"errors"
	"fmt"
	"log/slog"
	"os"
	"slices"
	"sync"
	"time"

	"trunnion/chassis/drives"

	"trunnion/shop/desk"
	"trunnion/shop/jobfile"
	"trunnion/shop/store"
	"trunnion/shop/view"
	"trunnion/shop/view/builds"
)

// Run is a full judgement in the background.
type Run struct {
	ID       string       `json:"id"`
	Job      string       `json:"job"`
	State    string       `json:"state" enum:"waiting,running,done,failed,cancelled"`
	Progress float64      `json:"progress"`
	Said     string       `json:"said"`
	Revision int          `json:"revision" doc:"that its answer belongs to; 0 for a text that is not saved"`
	View     *builds.View `json:"view,omitempty"`
}

// kindJudgement is what a run works out.
const kindJudgement = "judgement"

// How a run is done, and how much of it is kept at hand. Chosen.
const (
	judgedKept  = 2
	unsavedKept = 20
	tellEvery   = 150 * time.Millisecond
	noteEvery   = time.Second
	lookEvery   = 2 * time.Second
	lostAfter   = 2 * time.Minute
	shareStatic = 0.1
	shareRide   = 0.88
)

// unsavedRun is a run on a text that is not saved: its answer lasts as long as this
// server, as the text does.
type unsavedRun struct {
	run    Run
	text   []byte
	cancel context.CancelFunc
}

// runner works runs off, one at a time.
type runner struct {
	store *store.Store
	tries *view.Desk
	hub   *hub
	log   *slog.Logger
	now   func() time.Time
	name  string
	wake  chan struct{}

	mu      sync.Mutex
	unsaved map[string]*unsavedRun
	waiting []string // lone ones
	order   []string // of lone, oldest first
	active  map[string]context.CancelFunc
	live    map[string]Run // stored ones that run here, newer than the store
	kept    map[string]*desk.Result
	recent  []string
}

func newRunner(from *store.Store, tries *view.Desk, tell *hub, log *slog.Logger, now func() time.Time) *runner {
	host, err := os.Hostname()
	if err != nil {
		host = "a machine"
	}
	return &runner{
		store: from, tries: tries, hub: tell, log: log, now: now, name: fmt.Sprintf("%s, process %d", host, os.Getpid()), wake: make(chan struct{}, 1), unsaved: map[string]*unsavedRun{},
		active: map[string]context.CancelFunc{}, live: map[string]Run{}, kept: map[string]*desk.Result{},
	}
}

func fingerprint(text []byte) string {
	h := sha256.Sum256(text)
	return hex.EncodeToString(h[:])
}

func (r *runner) wakeUp() {
	select {
	case r.wake <- struct{}{}:
	default:
	}
}

// work takes runs until the server stops.
func (r *runner) work(ctx context.Context) {
	tick := time.NewTicker(lookEvery)
	defer tick.Stop()
	for {
		for ctx.Err() == nil && r.next(ctx) {
		}
		select {
		case <-ctx.Done():
			return
		case <-r.wake:
		case <-tick.C:
			if _, err := r.store.RequeueRuns(ctx, r.now().Add(-lostAfter)); err != nil && ctx.Err() == nil {
				r.log.Warn("runs of other servers", "err", err)
			}
		}
	}
}

// next does one run, and reports whether there was one.
func (r *runner) next(ctx context.Context) bool {
	r.mu.Lock()
	var one *unsavedRun
	for len(r.waiting) > 0 && one == nil {
		one = r.unsaved[r.waiting[0]]
		r.waiting = r.waiting[1:]
		if one != nil && one.run.State != "waiting" {
			one = nil
		}
	}
	r.mu.Unlock()
	if one != nil {
		r.doUnsaved(ctx, one)
		return true
	}
	run, err := r.store.ClaimRun(ctx, r.name)
	var none *store.NotFound
	if err != nil {
		if !errors.As(err, &none) && ctx.Err() == nil {
			r.log.Warn("no run can be taken", "err", err)
		}
		return false
	}
	r.doStored(ctx, run)
	return true
}

func (r *runner) doUnsaved(ctx context.Context, l *unsavedRun) {
	mine, cancel := context.WithCancel(ctx)
	defer cancel()
	r.mu.Lock()
	l.run.State, l.cancel = "running", cancel
	r.mu.Unlock()
	got, err := r.judge(mine, l.text, func(done float64, said string) error {
		r.mu.Lock()
		l.run.Progress, l.run.Said = done, said
		now := l.run
		r.mu.Unlock()
		r.hub.tell(now)
		return nil
	})
	r.mu.Lock()
	switch {
	case mine.Err() != nil:
		l.run.State, l.run.Said = "cancelled", "stopped"
	case err != nil:
		l.run.State, l.run.Said = "failed", faultText(err)
	default:
		l.run.State, l.run.Progress, l.run.Said = "done", 1, "done"
		r.keep(l.run.ID, got)
	}
	now := l.run
	r.mu.Unlock()
	r.hub.tell(now)
}

// faultText is why a run gave no answer, for people.
func faultText(err error) string { return view.Cut(err.Error(), 300) }

func (r *runner) doStored(ctx context.Context, run store.Run) {
	mine, cancel := context.WithCancel(ctx)
	defer cancel()
	r.mu.Lock()
	r.active[run.ID] = cancel
	r.mu.Unlock()
	defer func() {
		r.mu.Lock()
		delete(r.active, run.ID)
		delete(r.live, run.ID)
		r.mu.Unlock()
	}()
	text, err := r.store.Revision(mine, run.Job, run.Revision)
	var got *desk.Result
	if err == nil {
		var noted time.Time
		got, err = r.judge(mine, text.Text, func(done float64, said string) error {
			r.mu.Lock()
			now := Run{ID: run.ID, Job: run.Job, State: "running", Progress: done, Said: said, Revision: run.Revision}
			r.live[run.ID] = now
			r.mu.Unlock()
			r.hub.tell(now)
			if at := time.Now(); at.Sub(noted) >= noteEvery {
				noted = at
				return r.store.Progress(mine, run.ID, r.name, min(1, max(0, done)), said)
			}
			return nil
		})
	}
	var packed []byte
	if err == nil {
		packed, err = pack(got)
	}
	switch {
	case ctx.Err() != nil:
		return // the server stops: the run is taken up when it starts again
	case errors.Is(err, store.ErrCancelled), mine.Err() != nil:
	case err != nil:
		err = r.store.FailRun(ctx, run.ID, r.name, faultText(err))
	default:
		r.mu.Lock()
		r.keep(run.ID, got)
		r.mu.Unlock()
		err = r.store.FinishRun(ctx, run.ID, r.name, packed)
	}
	if err != nil && !errors.Is(err, store.ErrCancelled) && mine.Err() == nil {
		r.log.Error("a run cannot be kept", "run", run.ID, "err", err)
	}
	if now, err := r.store.Run(ctx, run.ID); err == nil {
		r.hub.tell(runOf(now))
	}
}

// judge is the full judgement of a text.
func (r *runner) judge(ctx context.Context, text []byte, tell func(done float64, said string) error) (*desk.Result, error) {
	job, faults := jobfile.ReadBytes(text, "job.yaml")
	if err := jobfile.AsError("job.yaml", faults); err != nil {
		return nil, err
	}
	if job == nil {
		return nil, errors.New("the job cannot be read")
	}
	if err := tell(0, "rest positions and bands"); err != nil {
		return nil, err
	}
	mine, cancel := context.WithCancelCause(ctx)
	defer cancel(nil)
	var telling sync.Mutex
	var last time.Time
	got, err := r.tries.Judge(mine, job, nil, desk.Settings{Workers: backgroundWorkers(), Progress: func(done, total int) {
		telling.Lock()
		defer telling.Unlock()
		if now := time.Now(); now.Sub(last) < tellEvery && done < total {
			return
		}
		last = time.Now()
		said := fmt.Sprintf("drive %d of %d", done, total)
		if err := tell(shareStatic+shareRide*float64(done)/float64(max(1, total)), said); err != nil {
			cancel(err)
		}
	}})
	if cause := context.Cause(mine); cause != nil && ctx.Err() == nil {
		return nil, cause
	}
	if err != nil {
		return nil, err
	}
	got.Faults = faults
	return got, nil
}

// backgroundWorkers is how many workers a run in the background has: one of the machine's is
// left to those who try.
func backgroundWorkers() *int {
	n := max(1, desk.Workers()-1)
	return &n
}

// storedRun is what is stored of a judgement: the slow part. The rest is computed
// again from the revision's text when it is looked at.
type storedRun struct {
	Format string
	SHA256 string
	Drives drives.Driven
}

const storedRunFormat = "trunnion.drives/1"

func pack(j *desk.Result) ([]byte, error) {
	var b bytes.Buffer
	err := gob.NewEncoder(&b).Encode(storedRun{storedRunFormat, fingerprint(j.Job.Text), drives.Of(j.Answer)})
	return b.Bytes(), err
}

// unpack makes a judgement of what was stored.
func unpack(ctx context.Context, d *desk.Desk, packed, text []byte) (*desk.Result, error) {
	var k storedRun
	if err := gob.NewDecoder(bytes.NewReader(packed)).Decode(&k); err != nil {
		return nil, fmt.Errorf("the stored judgement cannot be read: %w", err)
	}
	if k.Format != storedRunFormat || k.SHA256 != fingerprint(text) {
		return nil, errors.New("the stored judgement belongs to another text")
	}
	job, faults := jobfile.ReadBytes(text, "job.yaml")
	if job == nil {
		return nil, jobfile.AsError("job.yaml", faults)
	}
	got, err := d.Judge(ctx, job, &k.Drives, desk.Settings{Workers: backgroundWorkers()})
	if err != nil {
		return nil, err
	}
	got.Faults = faults
	return got, nil
}

// keep holds a judgement at hand; the mutex is held.
func (r *runner) keep(id string, j *desk.Result) {
	r.kept[id] = j
	r.recent = append(slices.DeleteFunc(r.recent, func(k string) bool { return k == id }), id)
	for len(r.recent) > judgedKept {
		delete(r.kept, r.recent[0])
		r.recent = r.recent[1:]
	}
}

// judged returns the judgement of a run when it is done and belongs to a text;
// nil otherwise.
func (r *runner) judged(ctx context.Context, id string, text []byte) *desk.Result {
	r.mu.Lock()
	j := r.kept[id]
	r.mu.Unlock()
	if j == nil {
		run, err := r.store.Run(ctx, id)
		if err != nil || run.State != store.Done {
			return nil
		}
		rev, err := r.store.Revision(ctx, run.Job, run.Revision)
		if err != nil || !bytes.Equal(rev.Text, text) {
			return nil
		}
		packed, err := r.store.Answer(ctx, id)
		if err == nil {
			j, err = unpack(ctx, r.tries.Desk, packed, rev.Text)
		}
		if err != nil {
			if ctx.Err() == nil {
				r.log.Warn("a stored judgement is not shown", "run", id, "err", err)
			}
			return nil
		}
		r.mu.Lock()
		r.keep(id, j)
		r.mu.Unlock()
	}
	if !bytes.Equal(j.Job.Text, text) {
		return nil
	}
	return j
}

func runOf(r store.Run) Run {
	out := Run{ID: r.ID, Job: r.Job, State: string(r.State), Progress: r.Progress, Said: r.Stage, Revision: r.Revision}
	switch r.State {
	case store.Queued:
		out.State, out.Said = "waiting", "waits for its turn"
	case store.Failed:
		out.Said = r.Fault
	case store.Done:
		out.Said = "done"
	case store.Cancelled:
		out.Said = "stopped"
	case store.Running:
	}
	return out
}

// find returns a run as it stands now.
func (r *runner) find(ctx context.Context, id string) (Run, error) {
	r.mu.Lock()
	if l := r.unsaved[id]; l != nil {
		defer r.mu.Unlock()
		return l.run, nil
	}
	now, live := r.live[id]
	r.mu.Unlock()
	run, err := r.store.Run(ctx, id)
	if err != nil {
		return Run{}, err
	}
	if live && run.State == store.Running {
		return now, nil
	}
	return runOf(run), nil
}

// ask queues a run on a text that is not saved.
func (r *runner) ask(job string, text []byte) Run {
	r.mu.Lock()
	defer r.mu.Unlock()
	for _, id := range r.order {
		if l := r.unsaved[id]; l != nil && l.run.Job == job {
			if bytes.Equal(l.text, text) && (l.run.State == "waiting" || l.run.State == "running" || l.run.State == "done" && r.kept[id] != nil) {
				return l.run
			}
			// A newer text of the same job: the older one is no longer asked for.
			if l.run.State == "waiting" {
				l.run.State, l.run.Said = "cancelled", "a newer text came"
			} else if l.run.State == "running" && l.cancel != nil {
				l.cancel()
			}
		}
	}
	l := &unsavedRun{run: Run{ID: "lone-" + store.NewID(), Job: job, State: "waiting", Said: "waits for its turn"}, text: text}
	r.unsaved[l.run.ID] = l
	r.order = append(r.order, l.run.ID)
	r.waiting = append(r.waiting, l.run.ID)
	for len(r.order) > unsavedKept {
		delete(r.unsaved, r.order[0])
		r.order = r.order[1:]
	}
	r.wakeUp()
	return l.run
}

// textOf is the text that a run works on.
func (r *runner) textOf(ctx context.Context, run Run) ([]byte, error) {
	r.mu.Lock()
	l := r.unsaved[run.ID]
	r.mu.Unlock()
	if l != nil {
		return l.text, nil
	}
	rev, err := r.store.Revision(ctx, run.Job, run.Revision)
	return rev.Text, err
}
