package store

import (
	"database/sql"
	"strconv"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"trunnion/shop/store/storetest"
)

// The database server is stopped and started again under two programs that save: each
// save that fails says that the server does not answer, both go on without being started
// again, and every save that was answered is there.
func TestServerStoppedAndStartedAgain(t *testing.T) {
	if server == nil {
		t.Log("left out: " + why) // TestMain says so too, and fails in CI
		return
	}
	own, err := storetest.Start()
	if err != nil {
		t.Fatal(err)
	}
	defer own.Stop()
	where := own.Fresh(t)
	var kept [2][]int // numbers of the revisions that were answered
	var refused [2]atomic.Int64
	var saving sync.WaitGroup
	done := make(chan struct{})
	for k := range kept {
		s := open(t, where, Options{Who: "branch " + strconv.Itoa(k)})
		saving.Go(func() {
			job := "j" + strconv.Itoa(k)
			for n := 0; ; {
				select {
				case <-done:
					return
				default:
				}
				r, err := s.Save(t.Context(), Change{Job: job, Expected: n, Who: "Ada", Text: killText(job, n+1)})
				if err != nil {
					trouble(t, err, Unreachable)
					refused[k].Add(1)
					time.Sleep(5 * time.Millisecond)
					// A save whose answer was lost may have been kept.
					if head, err := s.Head(t.Context(), job); err == nil {
						n = head.Revision
					}
					continue
				}
				n = r.Number
				kept[k] = append(kept[k], n)
			}
		})
	}
	wait := func(what string, until func() bool) {
		for deadline := time.Now().Add(60 * time.Second); !until(); time.Sleep(5 * time.Millisecond) {
			if time.Now().After(deadline) {
				t.Error(what)
				return
			}
		}
	}
	wait("nothing was saved", func() bool { return revisionsIn(t, where) >= 20 })
	own.Halt()
	wait("no save was refused while the server was away", func() bool { return refused[0].Load() > 3 && refused[1].Load() > 3 })
	if err := own.Again(); err != nil {
		t.Fatal(err)
	}
	before := revisionsIn(t, where)
	wait("nobody saved after the server was back", func() bool { return revisionsIn(t, where) >= before+20 })
	close(done)
	saving.Wait()
	s := open(t, where, Options{})
	if err := s.Check(t.Context()); err != nil {
		t.Error(err)
	}
	for k, list := range kept {
		for _, n := range list {
			if _, err := s.Revision(t.Context(), "j"+strconv.Itoa(k), n); err != nil {
				t.Errorf("branch %d: revision %d was answered: %v", k, n, err)
			}
		}
	}
	t.Logf("answered %d and %d, refused %d and %d", len(kept[0]), len(kept[1]), refused[0].Load(), refused[1].Load())
}

// revisionsIn is how many revisions a database holds.
func revisionsIn(t *testing.T, where string) (n int) {
	t.Helper()
	db := must[*sql.DB](t)(sql.Open("pgx", where))
	defer func() {
		if err := db.Close(); err != nil {
			t.Error(err)
		}
	}()
	if err := db.QueryRowContext(t.Context(), `SELECT COUNT(*) FROM job_revisions`).Scan(&n); err != nil {
		t.Log(err)
	}
	return n
}
