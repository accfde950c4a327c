// Package storetest starts a PostgreSQL server for a suite of tests.
package storetest

import (
	"crypto/rand"
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
	"syscall"
	"testing"
	"time"

	_ "github.com/jackc/pgx/v5/stdlib" // the driver that waits for the server
)

// LeftOut says that a suite has no server: never in silence, a line for the person, a line
// for the file that collects them. It is false, a failure, where everything must be there.
func LeftOut(suite, why string) bool {
	line := "left out: " + suite + " on PostgreSQL: " + why + "\n"
	fmt.Fprint(os.Stderr, line)
	if path := os.Getenv("TRUNNION_LEFT_OUT"); path != "" {
		if err := appendTo(path, line); err != nil {
			fmt.Fprintln(os.Stderr, err)
			return false
		}
	}
	return os.Getenv("CI") != "true"
}

func appendTo(path, line string) error {
	file, err := os.OpenFile(path, os.O_WRONLY|os.O_APPEND|os.O_CREATE, 0o600)
	if err != nil {
		return err
	}
	_, err = file.WriteString(line)
	return errors.Join(err, file.Close())
}

// Cluster is a database server of a suite's own, in a folder of its own, on a
// socket that nobody else reaches.
type Cluster struct {
	dir   string
	as    *syscall.SysProcAttr // who runs it
	cmd   *exec.Cmd
	admin *sql.DB
}

// Start makes a cluster and starts it. PostgreSQL does not run as root,
// so that for root it runs as nobody.
func Start() (c *Cluster, err error) {
	bin, err := findPostgres()
	if err != nil {
		return nil, err
	}
	dir, err := os.MkdirTemp("", "pg") // a short name: sockets have at most 107 letters
	if err != nil {
		return nil, err
	}
	c = &Cluster{dir: dir}
	defer func() {
		if err != nil {
			c.Stop()
		}
	}()
	as := Credential(-1, -1)
	if os.Getuid() == 0 {
		uid, gid, err := Nobody()
		if err != nil {
			return nil, err
		}
		if err := os.Chown(dir, uid, gid); err != nil {
			return nil, err
		}
		as = Credential(uid, gid)
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
func (c *Cluster) run(bin string) error {
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

// Again starts a server that was halted.
func (c *Cluster) Again() error {
	bin, err := findPostgres()
	if err != nil {
		return err
	}
	return c.run(bin)
}

// Halt stops the server as its operator does, at once and in order.
func (c *Cluster) Halt() {
	_ = c.cmd.Process.Signal(os.Interrupt)
	_ = c.cmd.Wait()
}

// Stop stops the server and throws it away.
func (c *Cluster) Stop() {
	if c.admin != nil {
		_ = c.admin.Close()
	}
	if c.cmd != nil && c.cmd.Process != nil {
		c.Halt()
	}
	_ = os.RemoveAll(c.dir)
}

func (c *Cluster) url(database string) string {
	return "postgres://trunnion@/" + database + "?host=" + c.dir
}

// Fresh makes an empty database.
func (c *Cluster) Fresh(t testing.TB) string {
	t.Helper()
	name := "t" + strings.ToLower(rand.Text())
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

// Nobody is the person who owns nothing.
func Nobody() (uid, gid int, err error) {
	who, err := user.Lookup("nobody")
	if err != nil {
		return 0, 0, err
	}
	uid, errU := strconv.Atoi(who.Uid)
	gid, errG := strconv.Atoi(who.Gid)
	return uid, gid, errors.Join(errU, errG)
}
