package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"os/user"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync/atomic"
	"syscall"
	"testing"
	"time"
)

// server is the PostgreSQL that the suite starts for itself; nil when the
// machine has none, and why says so.
var (
	server *cluster
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
	if server, err = startCluster(); err != nil {
		why = err.Error()
	}
	code := m.Run()
	if largeMade != "" {
		_ = os.RemoveAll(largeMade)
	}
	if server != nil {
		server.stop()
	} else {
		// Never left out in silence: a line for the person, a line for the file that
		// collects them, a failure where everything must be there.
		line := "left out: shop/store on PostgreSQL: " + why + "\n"
		fmt.Fprint(os.Stderr, line)
		if path := os.Getenv("TRUNNION_LEFT_OUT"); path != "" {
			if err := appendTo(path, line); err != nil {
				fmt.Fprintln(os.Stderr, err)
				code = 1
			}
		}
		if os.Getenv("CI") == "true" {
			code = 1
		}
	}
	os.Exit(code)
}

func appendTo(path, line string) error {
	file, err := os.OpenFile(path, os.O_WRONLY|os.O_APPEND|os.O_CREATE, 0o600)
	if err != nil {
		return err
	}
	_, err = file.WriteString(line)
	return errors.Join(err, file.Close())
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

// cluster is a database server of the suite's own, in a folder of its own, on a
// socket that nobody else reaches.
type cluster struct {
	dir   string
	as    *syscall.SysProcAttr // who runs it
	cmd   *exec.Cmd
	admin *sql.DB
	count atomic.Int64
}

// startCluster makes a cluster and starts it. PostgreSQL does not run as root,
// so that for root it runs as nobody.
func startCluster() (c *cluster, err error) {
	bin, err := findPostgres()
	if err != nil {
		return nil, err
	}
	dir, err := os.MkdirTemp("", "pg") // a short name: sockets have at most 107 letters
	if err != nil {
		return nil, err
	}
	c = &cluster{dir: dir}
	defer func() {
		if err != nil {
			c.stop()
		}
	}()
	as := credential(-1, -1)
	if os.Getuid() == 0 {
		uid, gid, err := nobody()
		if err != nil {
			return nil, err
		}
		if err := os.Chown(dir, uid, gid); err != nil {
			return nil, err
		}
		as = credential(uid, gid)
	}
	initdb := exec.Command(filepath.Join(bin, "initdb"), "-D", filepath.Join(dir, "data"), "-A", "trust", "-U", "trunnion", "-E", "UTF8", "--locale=C", "--no-sync")
	initdb.Dir, initdb.SysProcAttr, initdb.Env = dir, as, []string{"PATH=" + os.Getenv("PATH"), "LC_ALL=C", "HOME=" + dir}
	if out, err := initdb.CombinedOutput(); err != nil {
		return nil, fmt.Errorf("initdb: %w: %s", err, out)
	}
	c.as = as
	if c.admin, err = sql.Open("pgx", c.url("postgres")); err != nil {
		return nil, err
	}
	return c, c.run(bin)
}

// run starts the server and waits until it answers.
func (c *cluster) run(bin string) error {
	log, err := os.OpenFile(filepath.Join(c.dir, "log"), os.O_CREATE|os.O_APPEND|os.O_WRONLY, 0o600)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, log.Close()) }()
	c.cmd = exec.Command(filepath.Join(bin, "postgres"), "-D", filepath.Join(c.dir, "data"), "-k", c.dir, "-c", "listen_addresses=", "-c", "fsync=off", "-c", "max_connections=200")
	c.cmd.Dir, c.cmd.SysProcAttr, c.cmd.Stdout, c.cmd.Stderr = c.dir, c.as, log, log
	c.cmd.Env = []string{"PATH=" + os.Getenv("PATH"), "LC_ALL=C", "HOME=" + c.dir}
	if err := c.cmd.Start(); err != nil {
		return err
	}
	for deadline := time.Now().Add(30 * time.Second); ; time.Sleep(50 * time.Millisecond) {
		if err = c.admin.Ping(); err == nil {
			return nil
		}
		if time.Now().After(deadline) {
			return fmt.Errorf("postgres does not answer: %w", err)
		}
	}
}

// halt stops the server as its operator does, at once and in order.
func (c *cluster) halt() {
	_ = c.cmd.Process.Signal(os.Interrupt)
	_ = c.cmd.Wait()
}

func (c *cluster) stop() {
	if c.admin != nil {
		_ = c.admin.Close()
	}
	if c.cmd != nil && c.cmd.Process != nil {
		c.halt()
	}
	_ = os.RemoveAll(c.dir)
}

func (c *cluster) url(database string) string {
	return "postgres://trunnion@/" + database + "?host=" + c.dir
}

// fresh makes an empty database.
func (c *cluster) fresh(t testing.TB) string {
	t.Helper()
	name := "t" + strconv.FormatInt(c.count.Add(1), 10)
	if _, err := c.admin.Exec("CREATE DATABASE " + name); err != nil {
		t.Fatal(err)
	}
	return c.url(name)
}

// findPostgres finds the folder of the server's programs: the newest of the
// system's packages, or the one on the path.
func findPostgres() (string, error) {
	found, err := filepath.Glob("/usr/lib/postgresql/*/bin/initdb")
	if err != nil {
		return "", err
	}
	slices.SortFunc(found, func(a, b string) int { return version(b) - version(a) })
	if len(found) > 0 {
		return filepath.Dir(found[0]), nil
	}
	path, err := exec.LookPath("initdb")
	if err != nil {
		return "", errors.New("this machine has no PostgreSQL (package postgresql)")
	}
	return filepath.Dir(path), nil
}

func version(path string) int {
	n, _ := strconv.Atoi(strings.Split(path, "/")[4]) // 0 for a folder of another name
	return n
}

func nobody() (uid, gid int, err error) {
	who, err := user.Lookup("nobody")
	if err != nil {
		return 0, 0, err
	}
	uid, errU := strconv.Atoi(who.Uid)
	gid, errG := strconv.Atoi(who.Gid)
	return uid, gid, errors.Join(errU, errG)
}

// onBoth runs a test on an empty store of each database.
func onBoth(t *testing.T, f func(t *testing.T, s *Store)) {
	t.Helper()
	t.Run("sqlite", func(t *testing.T) { f(t, open(t, t.TempDir(), Options{})) })
	if server != nil {
		t.Run("postgres", func(t *testing.T) { f(t, open(t, server.fresh(t), Options{})) })
	}
}

// places are an empty place of each database, by name.
func places(t *testing.T) map[string]string {
	t.Helper()
	p := map[string]string{"sqlite": t.TempDir()}
	if server != nil {
		p["postgres"] = server.fresh(t)
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
