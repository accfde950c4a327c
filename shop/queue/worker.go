package queue

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"time"

	"trunnion/chassis/search"
	"trunnion/shop/desk"
	"trunnion/shop/store"
)

// searchesReady are how many searches a worker keeps ready: each holds some megabytes.
// Chosen.
const searchesReady = 3

// Computed is told of a piece that a worker computed, or tried to.
type Computed struct {
	Step    string
	Choices int
	Took    time.Duration
	Err     error // nil: its result is kept
}

// worker computes one piece after the other.
type worker struct {
	q      *Queue
	name   string
	search string // that it computes for alone; empty: for all of its program
	ready  func(ctx context.Context, id string) (*search.Ready, error)
	tell   func(Computed)
}

// Work computes pieces of every search of this program that somebody waits for, one at a
// time on so many goroutines, until ctx ends. It gives back what it has not finished then.
func (q *Queue) Work(ctx context.Context, workers int, tell func(Computed)) error {
	kept := &readyOnes{q: q, workers: workers}
	w := &worker{q: q, name: name(), ready: kept.get, tell: tell}
	told := map[string]bool{}
	gone := false
	var looked time.Time
	for wait := lookLeast; ctx.Err() == nil; {
		did, err := w.one(ctx)
		switch {
		case ctx.Err() != nil:
			return nil
		case err != nil && !away(err):
			return err
		case err != nil:
			if !gone {
				q.o.Note("the database does not answer; waiting for it")
			}
			gone = true
			pause(ctx, 4*lookMost)
			continue
		}
		gone = false
		if did {
			wait = lookLeast // the next step of the search comes soon
			continue
		}
		if time.Since(looked) > lookMost {
			looked = time.Now()
			q.refuse(ctx, told)
		}
		pause(ctx, wait)
		wait = min(2*wait, lookMost)
	}
	return nil
}

// refuse says once of every other program that its searches are not computed here.
func (q *Queue) refuse(ctx context.Context, told map[string]bool) {
	others, err := q.store.OtherPrograms(ctx, q.o.Program, q.o.LostAfter)
	if err != nil {
		return // looked for again soon
	}
	for _, other := range others {
		if !told[other] {
			told[other] = true
			q.o.Note(fmt.Sprintf("a search is asked for by another program (%s; this is %s): its pieces are not computed here, since a figure could differ in its last digit; run the same program, built alike, on both machines", other, q.o.Program))
		}
	}
}

// one takes a piece and computes it, and reports whether there was one.
func (w *worker) one(ctx context.Context) (bool, error) {
	p, err := w.q.store.ClaimPiece(ctx, w.q.o.Program, w.search, w.name, w.q.o.LostAfter)
	var none *store.NotFound
	if errors.As(err, &none) {
		return false, nil
	}
	if err != nil {
		return false, err
	}
	began := time.Now()
	mine, stop := context.WithTimeout(ctx, longestTry)
	held := make(chan struct{})
	go func() {
		defer close(held)
		for pause(mine, w.q.o.LostAfter/beats) {
			if errors.Is(w.q.store.HoldPiece(mine, &p, w.q.o.LostAfter), store.ErrCancelled) {
				stop() // it is somebody else's now, or nobody waits for it
			}
		}
	}()
	told := Computed{}
	result, err := w.compute(mine, &p, &told)
	took := mine.Err()
	stop()
	<-held
	told.Took, told.Err = time.Since(began), err
	err = w.end(ctx, &p, result, err, took)
	if w.tell != nil {
		if told.Err == nil {
			told.Err = err
		}
		w.tell(told)
	}
	if errors.Is(err, store.ErrCancelled) {
		err = nil
	}
	return true, err
}

// end keeps what came of a piece, as soon as the database answers.
func (w *worker) end(ctx context.Context, p *store.Piece, result []byte, failed, took error) error {
	last := ctx
	do := func() error { return w.q.store.FinishPiece(last, p, result) }
	switch {
	case failed == nil:
	case ctx.Err() != nil || errors.Is(took, context.Canceled):
		// Stopped: the piece waits again, at once and not only when it is missed.
		var cancel context.CancelFunc
		last, cancel = context.WithTimeout(context.WithoutCancel(ctx), stopsWithin)
		defer cancel()
		return w.q.store.ReturnPiece(last, p)
	case away(failed):
		do = func() error { return w.q.store.ReturnPiece(last, p) }
	case errors.Is(took, context.DeadlineExceeded):
		failed = fmt.Errorf("it was not done after %v", longestTry)
		fallthrough
	default:
		do = func() error { return w.q.store.FailPiece(last, p, failed.Error()) }
	}
	for {
		err := do()
		if err == nil || !away(err) || !pause(ctx, lookMost) {
			return err
		}
	}
}

// compute computes a piece; what breaks the program breaks the piece alone.
func (w *worker) compute(ctx context.Context, p *store.Piece, told *Computed) (out []byte, err error) {
	defer func() {
		if broken := recover(); broken != nil {
			err = fmt.Errorf("the program is broken here: %v", broken)
		}
	}()
	var piece search.Piece
	if err := decode(p.Body, &piece); err != nil {
		return nil, err
	}
	told.Step, told.Choices = piece.Step, len(piece.Choices)
	if w.q.o.fails != nil {
		if err := w.q.o.fails(&piece); err != nil {
			return nil, err
		}
	}
	ready, err := w.ready(ctx, p.Search)
	if err != nil {
		return nil, err
	}
	result, err := ready.Compute(ctx, &piece)
	if err != nil {
		return nil, err
	}
	return encode(&result)
}

// readyOnes keeps the last searches ready.
type readyOnes struct {
	q       *Queue
	workers int
	order   []string
	of      map[string]*search.Ready
}

func (r *readyOnes) get(ctx context.Context, id string) (*search.Ready, error) {
	if have := r.of[id]; have != nil {
		return have, nil
	}
	in, err := r.q.inputs(ctx, id)
	if err != nil {
		return nil, err
	}
	if in.Mark(r.q.o.Program) != id {
		return nil, errors.New("its inputs are not those that were asked for")
	}
	made, err := desk.ReadySearch(ctx, r.q.o.Version, in, r.workers)
	if err != nil {
		return nil, err
	}
	if r.of == nil {
		r.of = map[string]*search.Ready{}
	}
	r.of[id] = made
	r.order = append(r.order, id)
	if len(r.order) > searchesReady {
		delete(r.of, r.order[0])
		r.order = slices.Delete(r.order, 0, 1)
	}
	return made, nil
}
