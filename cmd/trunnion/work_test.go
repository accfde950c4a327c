package main

import (
	"bytes"
	"context"
	"database/sql"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"strings"
	"sync"
	"testing"
	"time"

	"trunnion/examples"
	"trunnion/shop/desk"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
	"trunnion/shop/queue"
	"trunnion/shop/store"
	"trunnion/shop/store/storetest"
)

// database starts a PostgreSQL server for a test; nil where the machine has none, which
// fails in CI.
func database(t *testing.T) *storetest.Cluster {
	t.Helper()
	server, err := storetest.Start()
	if err != nil {
		if !storetest.LeftOut("cmd/trunnion, workers", err.Error()) {
			t.Fatal(err)
		}
		return nil
	}
	t.Cleanup(server.Stop)
	return server
}

// lost is how long a worker of these tests may say nothing.
const lost = "1s"

// atWork is a process of trunnion work.
type atWork struct {
	cmd *exec.Cmd
	out *bytes.Buffer
}

func workOn(t *testing.T, where string) *atWork {
	t.Helper()
	w := &atWork{exec.Command("trunnion", "work", "--postgres", where, "--workers", "1", "--lost", lost), new(bytes.Buffer)}
	w.cmd.Stdout, w.cmd.Stderr = w.out, w.out
	if err := w.cmd.Start(); err != nil {
		t.Fatal(err)
	}
	return w
}

// stop interrupts a worker, as Ctrl+C does, and returns what it said.
func (w *atWork) stop(t *testing.T) string {
	t.Helper()
	if err := w.cmd.Process.Signal(os.Interrupt); err != nil {
		t.Error(err)
	}
	if err := w.cmd.Wait(); err != nil {
		t.Errorf("a worker that was interrupted ends with %v\n%s", err, w.out)
	}
	return w.out.String()
}

// kill ends a worker at once, as a power cut does.
func (w *atWork) kill() {
	_ = w.cmd.Process.Kill()
	_ = w.cmd.Wait()
}

// Two processes of trunnion work compute a search on PostgreSQL, and are killed again and
// again; what is found is what the undivided search finds, bit for bit, and every piece has
// counted once.
func TestWorkersKilledDuringSearches(t *testing.T) {
	server := database(t)
	if server == nil {
		return
	}
	where := server.Fresh(t)
	kept, err := store.Open(t.Context(), where, store.Options{Who: "the test"})
	if err != nil {
		t.Fatal(err)
	}
	defer func() {
		if err := kept.Close(); err != nil {
			t.Error(err)
		}
	}()
	db, err := sql.Open("pgx", where)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close() //nolint:errcheck // of a database that is thrown away
	for _, step := range []string{
		`CREATE TABLE counted (id TEXT, result BYTEA)`,
		`CREATE FUNCTION count_one() RETURNS trigger AS 'BEGIN INSERT INTO counted VALUES (NEW.id, NEW.result); RETURN NEW; END' LANGUAGE plpgsql`,
		`CREATE TRIGGER count_all AFTER UPDATE OF result ON search_pieces FOR EACH ROW EXECUTE FUNCTION count_one()`,
	} {
		if _, err := db.ExecContext(t.Context(), step); err != nil {
			t.Fatal(err)
		}
	}
	wanted, name, effort := 4, "sedley-hatch/job.yaml", "quick"
	if inFull() {
		wanted, name, effort = 50, "marl-estate/job.yaml", "usual"
	}
	text, err := examples.Jobs.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	job, faults := jobfile.ReadBytes(text, "job.yaml")
	if job == nil {
		t.Fatal(faults)
	}
	killers := &killing{workers: []*atWork{workOn(t, where), workOn(t, where)}, random: rand.New(rand.NewPCG(3, 4))}
	seed := uint64(0)
	for killers.done() < wanted {
		seed++
		ask := desk.SearchAsk{Effort: effort, Keep: []string{"stops,packers"}}
		if inFull() {
			ask.Keep = nil
		}
		ask.Seed = &seed
		want, err := desk.New(version).Search(t.Context(), job, ask)
		if err != nil {
			t.Fatal(err)
		}
		ctx, stop := context.WithCancel(t.Context())
		var group sync.WaitGroup
		group.Go(func() { killers.killOn(ctx, t, where, wanted) })
		ask.Hands = queue.New(kept, queue.Options{Program: queue.Program(version), Version: version, LostAfter: time.Second})
		got, err := desk.New(version).Search(t.Context(), job, ask)
		stop()
		group.Wait()
		if err != nil {
			t.Fatal(err)
		}
		if a, b := document(t, want), document(t, got); a != b {
			t.Fatalf("seed %d: killed, it is another answer:\n%s\nwant\n%s", seed, b, a)
		}
		if seed > 40 {
			t.Fatalf("%d kills in %d searches", killers.done(), seed)
		}
	}
	var pieces, counted, distinct, open int
	row := db.QueryRowContext(t.Context(), `SELECT (SELECT COUNT(*) FROM search_pieces WHERE state = 'done'), COUNT(*), COUNT(DISTINCT id), (SELECT COUNT(*) FROM search_pieces WHERE state <> 'done') FROM counted`)
	if err := row.Scan(&pieces, &counted, &distinct, &open); err != nil {
		t.Fatal(err)
	}
	if counted != pieces || distinct != pieces || open != 0 || pieces < 8 {
		t.Errorf("%d pieces are done, %d results were kept for %d of them, %d have not ended", pieces, counted, distinct, open)
	}
	for k, w := range killers.workers {
		text := w.stop(t)
		if !strings.Contains(text, "computes pieces of searches for ") || !strings.Contains(text, "Stopped. ") {
			t.Errorf("worker %d says\n%s", k, text)
		}
	}
	t.Logf("%d kills in %d searches, %d pieces, each kept once", killers.done(), seed, pieces)
}

func document(t *testing.T, f *desk.SearchFound) string {
	t.Helper()
	var b bytes.Buffer
	if err := f.Document("test", quantity.Metric).WriteJSON(&b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// killing kills workers and starts others in their place.
type killing struct {
	workers []*atWork
	random  *rand.Rand
	mu      sync.Mutex
	n       int
}

func (k *killing) done() int {
	k.mu.Lock()
	defer k.mu.Unlock()
	return k.n
}

// killOn kills until it has killed so often in all, or ten times in a search.
func (k *killing) killOn(ctx context.Context, t *testing.T, where string, wanted int) {
	for range min(10, wanted-k.done()) {
		least := 150
		if inFull() {
			least = 600
		}
		wait := time.NewTimer(time.Duration(least+k.random.IntN(3*least)) * time.Millisecond)
		select {
		case <-ctx.Done():
			wait.Stop()
			return
		case <-wait.C:
		}
		at := k.random.IntN(len(k.workers))
		k.workers[at].kill()
		k.workers[at] = workOn(t, where)
		k.mu.Lock()
		k.n++
		k.mu.Unlock()
	}
}

// What the command prints is the same in one go, and in pieces in a folder; a
// folder that a server has is said.
func TestSearchInPiecesPrintsTheSame(t *testing.T) {
	text, err := examples.Jobs.ReadFile("sedley-hatch/job.yaml")
	if err != nil {
		t.Fatal(err)
	}
	data := t.TempDir()
	search := func(more ...string) (out, said string) {
		var a, b bytes.Buffer
		args := append([]string{"search", "-", "--effort", "quick", "--keep", "springs,stops,packers,helpers", "--samples", "20"}, more...)
		if code := run(args, streams{bytes.NewReader(text), &a, &b}); code != exitAnswered && code != exitNoAnswer {
			t.Fatalf("%v: exit status %d\n%s", args, code, &b)
		}
		return a.String(), b.String()
	}
	want, _ := search()
	if got, said := search("--data", data); got != want || said != "" {
		t.Errorf("in pieces it prints\n%s%s\nwant\n%s", got, said, want)
	}
	kept, err := store.Open(t.Context(), data, store.Options{Who: "trunnion serve"})
	if err != nil {
		t.Fatal(err)
	}
	got, said := search("--data", data)
	if err := kept.Close(); err != nil {
		t.Fatal(err)
	}
	if got != want || !strings.Contains(said, "is computed here in one go") {
		t.Errorf("beside a server it says %q and prints\n%s", said, got)
	}
}

func TestWorkNeedsADatabase(t *testing.T) {
	for want, args := range map[string][]string{
		"work needs a database that several programs use": {"work"},
		"it is written postgres://user@host/database":     {"work", "--postgres", "workshop"},
		"--workers is 1 or more":                          {"work", "--postgres", "postgres://nobody@/none", "--workers=-1"},
	} {
		var out bytes.Buffer
		t.Setenv("TRUNNION_POSTGRES", "")
		if code := run(args, streams{strings.NewReader(""), io.Discard, &out}); code != exitUsage || !strings.Contains(out.String(), want) {
			t.Errorf("%v: exit status %d, %s", args, code, &out)
		}
	}
}

// inFull says that the long studies are asked for, as make studies does.
func inFull() bool { return os.Getenv("TRUNNION_STUDIES") != "" }
