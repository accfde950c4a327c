package queue

import (
	"context"
	"errors"
	"strings"
	"sync"
	"testing"
	"time"

	"trunnion/chassis/search"
	"trunnion/shop/desk"
	"trunnion/shop/store"
	"trunnion/shop/store/storetest"
)

// crowd are workers in this process, and what they computed.
type crowd struct {
	mu    sync.Mutex
	kept  int
	lost  int
	notes []string
	group sync.WaitGroup
	stop  context.CancelFunc
}

func (c *crowd) note(text string) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.notes = append(c.notes, text)
}

// working starts workers on a store; they stop with the test at the latest.
func working(t *testing.T, s *store.Store, n int, o Options) *crowd {
	t.Helper()
	ctx, stop := context.WithCancel(t.Context())
	c := &crowd{stop: stop}
	o.Note = c.note
	for range n {
		c.group.Go(func() {
			if err := New(s, o).Work(ctx, 1, func(p Computed) {
				c.mu.Lock()
				defer c.mu.Unlock()
				if p.Err == nil {
					c.kept++
				} else {
					c.lost++
				}
			}); err != nil {
				t.Error(err)
			}
		})
	}
	t.Cleanup(c.end)
	return c
}

func (c *crowd) end() { c.stop(); c.group.Wait() }

func (c *crowd) computed() (kept, lost int) {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.kept, c.lost
}

var p1 = Options{Program: "p1", Version: "test"}

// A search says the same, bit for bit, undivided, computed by two workers, and asked again,
// when nothing is computed; a worker of another program says that it computes nothing.
func TestSameWhoeverComputes(t *testing.T) {
	undivided(t)
	onBoth(t, func(t *testing.T, s *store.Store) {
		two, other := working(t, s, 2, p1), working(t, s, 1, Options{Program: "p2", Version: "test"})
		found, err := seek(t.Context(), t, New(s, p1))
		if err != nil {
			t.Fatal(err)
		}
		same(t, found)
		kept, _ := two.computed()
		if kept < 8 {
			t.Errorf("the workers computed %d pieces", kept)
		}
		if found, err = seek(t.Context(), t, New(s, p1)); err != nil {
			t.Fatal(err)
		}
		same(t, found)
		if again, _ := two.computed(); again != kept {
			t.Errorf("%d pieces were computed again", again-kept)
		}
		other.end()
		if took, tried := other.computed(); took+tried > 0 || len(other.notes) != 1 || !strings.Contains(other.notes[0], "p1; this is p2") {
			t.Errorf("another program's worker computed %d pieces and said %q", took+tried, other.notes)
		}
	})
}

// A search that is stopped leaves nothing running, and goes on where it was when it is
// asked for again, as after a restart: no piece is computed twice.
func TestStoppedAndGoesOn(t *testing.T) {
	undivided(t)
	s := open(t, t.TempDir())
	var mu sync.Mutex
	pieces := map[string]bool{}
	counting := p1
	counting.fails = func(p *search.Piece) error {
		body, err := encode(p)
		mu.Lock()
		defer mu.Unlock()
		pieces[string(body)] = true
		return err
	}
	crew := working(t, s, 1, counting)
	ctx, cancel := context.WithCancel(t.Context())
	job, ask := question(t)
	ask.Hands = New(s, p1)
	ask.Tell = func(p search.Progress) {
		if p.Step == search.InTime && p.Done > 0 {
			cancel()
		}
	}
	if _, err := desk.New("test").Search(ctx, job, ask); !errors.Is(err, context.Canceled) {
		t.Fatalf("a stopped search ends with %v", err)
	}
	// The worker is told, gives back what it has, and nothing more is handed out.
	time.Sleep(4 * lookMost)
	before, lost := crew.computed()
	time.Sleep(2 * lookMost)
	if after, more := crew.computed(); after != before || more != lost {
		t.Errorf("%d pieces of a stopped search were handed out", after+more-before-lost)
	}
	found, err := seek(t.Context(), t, New(s, p1))
	if err != nil {
		t.Fatal(err)
	}
	same(t, found)
	crew.end()
	if kept, _ := crew.computed(); kept != len(pieces) || before == 0 || before == kept {
		t.Errorf("%d of %d pieces were computed before it was stopped, %d altogether", before, len(pieces), kept)
	}
}

// A piece that always fails is set aside with its reason; the search goes on and says so.
func TestPoisonedPiece(t *testing.T) {
	s := open(t, t.TempDir())
	bad := p1
	var once sync.Once
	var poison string
	bad.fails = func(p *search.Piece) error {
		if p.Step != search.InTime {
			return nil
		}
		body, err := encode(p)
		once.Do(func() { poison = string(body) })
		if string(body) == poison {
			panic("this one always breaks")
		}
		return err
	}
	crew := working(t, s, 1, bad)
	found, err := seek(t.Context(), t, New(s, p1))
	if err != nil {
		t.Fatal(err)
	}
	if len(found.Found.Aside) != 1 || found.Found.Aside[0].Step != search.InTime || found.Found.Aside[0].Choices == 0 || len(found.Found.Builds) == 0 {
		t.Fatalf("%d builds were found, set aside is %+v", len(found.Found.Builds), found.Found.Aside)
	}
	text := said(t, found)
	if want := "could not be computed and were left out (the program is broken here: this one always breaks)"; !strings.Contains(text, want) {
		t.Errorf("the answer does not say %q", want)
	}
	if _, lost := crew.computed(); lost != 3 {
		t.Errorf("it was tried %d times, want 3", lost)
	}
}

// The database is stopped and started again in the middle of a search.
func TestDatabaseStoppedAndStartedAgain(t *testing.T) {
	if server == nil {
		t.Log("left out: no PostgreSQL") // TestMain says so too, and fails in CI
		return
	}
	undivided(t)
	own, err := storetest.Start()
	if err != nil {
		t.Fatal(err)
	}
	defer own.Stop()
	s := open(t, own.Fresh(t))
	crew := working(t, s, 2, p1)
	var once sync.Once
	var noted crowd
	o := p1
	o.Note = noted.note
	job, ask := question(t)
	ask.Hands = New(s, o)
	var again sync.WaitGroup
	ask.Tell = func(p search.Progress) {
		if p.Step == search.Spectrum {
			once.Do(func() {
				again.Go(func() {
					own.Halt()
					time.Sleep(400 * time.Millisecond)
					if err := own.Again(); err != nil {
						t.Error(err)
					}
				})
			})
		}
	}
	found, err := desk.New("test").Search(t.Context(), job, ask)
	again.Wait()
	if err != nil {
		t.Fatal(err)
	}
	same(t, found)
	if len(noted.notes)+len(crew.notes) == 0 {
		t.Error("nobody noticed that the database was away: the test shows nothing")
	}
}

// What goroutines share, on the smallest search.
func TestWorkersAtOnce(t *testing.T) {
	s := open(t, t.TempDir())
	working(t, s, 2, p1)
	o := p1
	o.Here = true
	job, ask := question(t)
	ask.Keep = []string{"springs,stops,packers,bars,helpers"}
	draws := 0
	ask.Draws = &draws
	ask.Hands = New(s, o)
	if _, err := desk.New("test").Search(t.Context(), job, ask); err != nil {
		t.Fatal(err)
	}
}
