package store

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"slices"
	"strconv"
	"testing"

	"trunnion/shop/store/storetest"
)

// server is the PostgreSQL that the suite starts for itself; nil when the
// machine has none, and why says so.
var (
	server *storetest.Cluster
	why    string
)

func TestMain(m *testing.M) {
	if child := os.Getenv("TRUNNION_STORE_CHILD"); child != "" {
		os.Exit(children[child]())
	}
	if slices.Contains(os.Args, "-test.fuzzworker") {
		os.Exit(m.Run()) // fuzzing takes texts apart and needs no database
	}
	var err error
	if server, err = storetest.Start(); err != nil {
		why = err.Error()
	}
	code := m.Run()
	if largeMade != "" {
		_ = os.RemoveAll(largeMade)
	}
	if server != nil {
		server.Stop()
	} else if !storetest.LeftOut("shop/store", why) {
		code = 1
	}
	os.Exit(code)
}

// inFull says that the long studies are asked for, as make studies does.
func inFull() bool { return os.Getenv("TRUNNION_STUDIES") != "" }

// children are programs that a test starts from its own binary.
var children = map[string]func() int{}

// child is a command that runs one of them.
func child(ctx context.Context, name string, env ...string) (*exec.Cmd, error) {
	self, err := os.Executable()
	if err != nil {
		return nil, err
	}
	cmd := exec.CommandContext(ctx, self)
	cmd.Env = append(os.Environ(), append(env, "TRUNNION_STORE_CHILD="+name)...)
	cmd.Stderr = os.Stderr
	return cmd, nil
}

// onBoth runs a test on an empty store of each database.
func onBoth(t *testing.T, f func(t *testing.T, s *Store)) {
	t.Helper()
	t.Run("sqlite", func(t *testing.T) { f(t, open(t, t.TempDir(), Options{})) })
	if server != nil {
		t.Run("postgres", func(t *testing.T) { f(t, open(t, server.Fresh(t), Options{})) })
	}
}

// places are an empty place of each database, by name.
func places(t *testing.T) map[string]string {
	t.Helper()
	p := map[string]string{"sqlite": t.TempDir()}
	if server != nil {
		p["postgres"] = server.Fresh(t)
	}
	return p
}

func open(t testing.TB, where string, options Options) *Store {
	t.Helper()
	s, err := Open(t.Context(), where, options)
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

// jobText is a small job whose words can be told apart.
func jobText(owner, plate, car, part, serial string) []byte {
	return fmt.Appendf(nil, `# as the bay typed it
trunnion: job/1
job: {number: "0042", owner: %s}
car:
  name: %s
  plate: %s
parts:
  springs:
    %s: {rate: 25 N/mm, free: 361 mm}
  dampers:
    old-front: {open: 568 mm, closed: 403 mm, serial: %s}
builds:
  arrived: {name: As it arrived, front: {spring: %s, damper: old-front}}
`, strconv.Quote(owner), strconv.Quote(car), strconv.Quote(plate), part, strconv.Quote(serial), part)
}

func must[T any](t testing.TB) func(T, error) T {
	return func(v T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

// wants returns an error as the kind it must be, and fails the test when it is
// none.
func wants[E error](t testing.TB, err error) E {
	t.Helper()
	var e E
	if !errors.As(err, &e) {
		t.Fatalf("got error %v; want a %T", err, e)
	}
	return e
}

// refused, absent and stale fail the test unless the error is of that kind.
func refused(t testing.TB, err error) {
	t.Helper()
	if !errors.As(err, new(*Refused)) {
		t.Fatalf("got error %v; want it refused", err)
	}
}

func absent(t testing.TB, err error) {
	t.Helper()
	if !errors.As(err, new(*NotFound)) {
		t.Fatalf("got error %v; want nothing to be found", err)
	}
}

func overtaken(t testing.TB, err error) {
	t.Helper()
	if !errors.As(err, new(*Stale)) && !errors.As(err, new(*Conflict)) {
		t.Fatalf("got error %v; want it overtaken", err)
	}
}
