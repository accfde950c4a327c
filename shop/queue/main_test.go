package queue

import (
	"bytes"
	"context"
	"os"
	"strings"
	"sync"
	"testing"

	"trunnion/examples"
	"trunnion/shop/desk"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
	"trunnion/shop/store"
	"trunnion/shop/store/storetest"
)

// server is the PostgreSQL that the suite starts for itself; nil when the machine has none.
var server *storetest.Cluster

func TestMain(m *testing.M) {
	var err error
	if server, err = storetest.Start(); err != nil {
		server = nil
		if !storetest.LeftOut("shop/queue", err.Error()) {
			os.Exit(1)
		}
	}
	code := m.Run()
	if server != nil {
		server.Stop()
	}
	os.Exit(code)
}

// inFull says that the long studies are asked for, as make studies does.
func inFull() bool { return os.Getenv("TRUNNION_STUDIES") != "" }

// onBoth runs a test on an empty store of each database.
func onBoth(t *testing.T, f func(t *testing.T, s *store.Store)) {
	t.Helper()
	t.Run("sqlite", func(t *testing.T) { f(t, open(t, t.TempDir())) })
	if server != nil {
		t.Run("postgres", func(t *testing.T) { f(t, open(t, server.Fresh(t))) })
	}
}

func open(t *testing.T, where string) *store.Store {
	t.Helper()
	s, err := store.Open(t.Context(), where, store.Options{Who: "queue's tests"})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	})
	return s
}

// question is a small search: heights, clicks and holes of the small car, on one road.
func question(t *testing.T) (*jobfile.Job, desk.SearchAsk) {
	t.Helper()
	text, err := examples.Jobs.ReadFile("sedley-hatch/job.yaml")
	if err != nil {
		t.Fatal(err)
	}
	job, faults := jobfile.ReadBytes(text, "job.yaml")
	if job == nil {
		t.Fatal(faults)
	}
	draws, workers := 20, 1
	ask := desk.SearchAsk{Effort: "quick", Keep: []string{"springs,stops,packers,helpers"}}
	ask.Draws, ask.Workers = &draws, &workers
	return job, ask
}

// said is all that a search says, for programs.
func said(t *testing.T, f *desk.SearchFound) string {
	t.Helper()
	var b bytes.Buffer
	if err := f.Document("test", quantity.Metric).WriteJSON(&b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// once computes what the undivided search says.
var once struct {
	sync.Once
	said string
}

// undivided is what the undivided search says.
func undivided(t *testing.T) string {
	t.Helper()
	once.Do(func() {
		job, ask := question(t)
		f, err := desk.New("test").Search(t.Context(), job, ask)
		if err != nil {
			t.Fatal(err)
		}
		once.said = said(t, f)
	})
	return once.said
}

// same fails the test where a search says something else than the undivided one.
func same(t *testing.T, f *desk.SearchFound) {
	t.Helper()
	want, got := undivided(t), said(t, f)
	if want == got {
		return
	}
	a, b := strings.Split(want, "\n"), strings.Split(got, "\n")
	for k := range min(len(a), len(b)) {
		if a[k] != b[k] {
			t.Fatalf("not the undivided search's answer; line %d is %s, want %s", k+1, b[k], a[k])
		}
	}
	t.Fatalf("%d lines, want %d", len(b), len(a))
}

// seek searches through a queue.
func seek(ctx context.Context, t *testing.T, q *Queue) (*desk.SearchFound, error) {
	t.Helper()
	job, ask := question(t)
	ask.Hands = q
	return desk.New("test").Search(ctx, job, ask)
}
