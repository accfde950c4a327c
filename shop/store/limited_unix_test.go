//go:build unix

package store

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"os/signal"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
)

func init() { children["limited"] = limited }

// files sets how long a file of this process may become; a write past it fails as on a
// disk that has no room, at whichever write comes to it [bytes].
func files(most uint64) error {
	var now syscall.Rlimit
	if err := syscall.Getrlimit(syscall.RLIMIT_FSIZE, &now); err != nil {
		return err
	}
	now.Cur = min(most, now.Max)
	return syscall.Setrlimit(syscall.RLIMIT_FSIZE, &now)
}

// limited does one thing to a store with files of a limited length, then the same again
// without a limit, and says how each went. Where it is to die, the write that goes too far
// ends the process there and then.
func limited() int {
	if os.Getenv("TRUNNION_STORE_DIES") == "" {
		signal.Ignore(syscall.SIGXFSZ)
	}
	ctx := context.Background()
	dir, doing := os.Getenv("TRUNNION_STORE_DIR"), os.Getenv("TRUNNION_STORE_DOING")
	most, err := strconv.ParseUint(os.Getenv("TRUNNION_STORE_LIMIT"), 10, 64)
	if err != nil {
		return 1
	}
	say := func(what string, err error) {
		var trouble *Trouble
		switch {
		case err == nil:
			fmt.Println("done", what)
		case errors.As(err, &trouble):
			fmt.Println("told", what, trouble.Kind)
		default:
			fmt.Println("untold", what, err)
		}
	}
	var s *Store
	open := func() error {
		if s != nil {
			return nil
		}
		s, err = Open(ctx, dir, Options{Who: "limited"})
		if err != nil {
			s = nil
		}
		return err
	}
	number := 2
	do := map[string]func() error{
		"open": open,
		"save": func() error {
			_, err := s.Save(ctx, Change{Job: "j", Expected: number, Who: "Ada", Text: killText("j", number+1)})
			if err == nil {
				number++
			}
			return err
		},
		"backup": func() error { _, err := s.BackupNow(ctx); return err },
		"restore": func() error {
			_, err := Restore(ctx, os.Getenv("TRUNNION_STORE_FROM"), dir)
			return err
		},
	}[doing]
	if doing == "save" || doing == "backup" {
		if err := open(); err != nil {
			say("open", err)
			return 1
		}
	}
	if err := files(most); err != nil {
		return 1
	}
	for range 2 {
		say("limited", do())
	}
	if err := files(1 << 40); err != nil {
		return 1
	}
	say("again", do())
	if s != nil {
		say("close", s.Close())
	}
	return 0
}

// Every write of a save, of a backup, of a restore and of making the tables fails once, and
// is once where the program is killed: files may be 0 bytes long, then a little longer, and
// so on until nothing fails. What was answered is there, what was refused is told as a
// trouble and is not there, and the same goes through when there is room again.
//
// In full (TRUNNION_STUDIES=1) files grow by 512 bytes from run to run.
func TestEveryWriteFailsOnce(t *testing.T) {
	seed := t.TempDir()
	seeded(t, seed)
	saved := must[[]byte](t)(os.ReadFile(filepath.Join(seed, databaseName)))
	backup := filepath.Join(t.TempDir(), "kept.db")
	if err := os.WriteFile(backup, saved, 0o600); err != nil {
		t.Fatal(err)
	}
	for _, doing := range []string{"save", "backup", "restore", "open"} {
		for _, dies := range []bool{false, true} {
			name := doing
			if dies {
				name += ", killed"
			}
			t.Run(name, func(t *testing.T) { failing(t, doing, dies, saved, backup) })
		}
	}
}

func failing(t *testing.T, doing string, dies bool, saved []byte, backup string) {
	step := len(saved) / 10
	if inFull() {
		step = 512
	}
	runs, failed := 0, 0
	for most := 0; ; most += step {
		dir := t.TempDir()
		if doing != "open" {
			if err := os.WriteFile(filepath.Join(dir, databaseName), saved, 0o600); err != nil {
				t.Fatal(err)
			}
		}
		cmd, err := child(t.Context(), "limited", "TRUNNION_STORE_DIR="+dir, "TRUNNION_STORE_DOING="+doing, "TRUNNION_STORE_FROM="+backup, "TRUNNION_STORE_LIMIT="+strconv.Itoa(most))
		if err != nil {
			t.Fatal(err)
		}
		cmd.Stderr = nil
		if dies {
			cmd.Env = append(cmd.Env, "TRUNNION_STORE_DIES=1")
		}
		out, err := cmd.Output()
		said := string(out)
		runs++
		died := dies && err != nil
		if !died && (err != nil || strings.Contains(said, "untold") || !strings.Contains(said, "done again")) {
			t.Errorf("files of %d bytes: %v\n%s", most, err, said)
		}
		afterLimit(t, dir, doing, backup, most, said)
		if t.Failed() {
			return
		}
		if !died && !strings.Contains(said, "told limited") {
			break
		}
		failed++
	}
	if failed < 3 {
		t.Errorf("only %d of %d runs failed: nothing was tried", failed, runs)
	}
	t.Logf("%d runs, %d of them at a write", runs, failed)
}

// afterLimit looks at what such a run left.
func afterLimit(t *testing.T, dir, doing, backup string, most int, said string) {
	t.Helper()
	s, err := Open(t.Context(), dir, Options{})
	var trouble *Trouble
	if doing == "restore" && errors.As(err, &trouble) {
		// Killed between setting the old one aside and putting the new one there: it is told, and restored.
		if _, err = Restore(t.Context(), backup, dir); err == nil {
			s, err = Open(t.Context(), dir, Options{})
		}
	}
	if err != nil {
		t.Fatalf("files of %d bytes, then: %v\n%s", most, err, said)
	}
	defer func() {
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	}()
	if err := s.Check(t.Context()); err != nil {
		t.Errorf("files of %d bytes: %v", most, err)
	}
	if doing == "open" {
		return
	}
	number := 2
	if doing == "save" {
		number += strings.Count(said, "done limited") + strings.Count(said, "done again")
	}
	r := must[Revision](t)(s.Job(t.Context(), "j"))
	if r.Number != number || !bytes.Equal(r.Text, killText("j", number)) {
		t.Errorf("files of %d bytes: the job is at revision %d, answered was %d", most, r.Number, number)
	}
	list := must[[]Saved](t)(s.Backups())
	for _, b := range list {
		if _, err := inspect(t.Context(), b.Path); err != nil {
			t.Errorf("files of %d bytes: backup %s: %v", most, b.Path, err)
		}
	}
	if parts := must[[]string](t)(filepath.Glob(filepath.Join(dir, "*", "*.part"))); len(parts) > 0 {
		t.Errorf("files of %d bytes leave %v", most, parts)
	}
}
