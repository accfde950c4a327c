package main

import (
	"bytes"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"trunnion/examples"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"trunnion": main})
}

// TestScripts runs the commands as a person would. Each script starts in a
// folder that holds the examples.
func TestScripts(t *testing.T) {
	scripts, err := filepath.Glob("testdata/script/*.txtar")
	if err != nil || len(scripts) < 8 {
		t.Fatalf("%d scripts were found: %v", len(scripts), err)
	}
	testscript.Run(t, testscript.Params{
		Dir: "testdata/script",
		Setup: func(env *testscript.Env) error {
			binary := append([]byte("trunnion: job/1\n"), 0, 1, 2, 0xff, 0xfe)
			if err := os.WriteFile(filepath.Join(env.WorkDir, "binary.yaml"), binary, 0o644); err != nil {
				return err
			}
			if err := tipping(filepath.Join(env.WorkDir, "tipping.yaml")); err != nil {
				return err
			}
			if err := histories(env.WorkDir); err != nil {
				return err
			}
			return errors.Join(os.CopyFS(filepath.Join(env.WorkDir, "examples"), examples.Jobs), os.CopyFS(filepath.Join(env.WorkDir, "examples"), examples.Sweeps))
		},
		Cmds: map[string]func(ts *testscript.TestScript, neg bool, args []string){"exits": exits},
	})
}

// tipping writes the demo with so much behind it that it cannot stand.
func tipping(path string) error {
	text, err := examples.Jobs.ReadFile("marl-estate/job.yaml")
	if err != nil {
		return err
	}
	const luggage = "{name: luggage, mass: 95 kg, behind_front_axle: 3050 mm"
	if !bytes.Contains(text, []byte(luggage)) {
		return errors.New("the demo has no such luggage")
	}
	text = bytes.Replace(text, []byte(luggage), []byte("{name: luggage, mass: 1400 kg, behind_front_axle: 7000 mm"), 1)
	return os.WriteFile(path, text, 0o644)
}

// exits is: exits STATUS PROGRAM ARGS...
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits STATUS PROGRAM ARGS...")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	err = ts.Exec(args[1], args[2:]...)
	got := 0
	var failed *exec.ExitError
	switch {
	case errors.As(err, &failed):
		got = failed.ExitCode()
	case err != nil:
		ts.Fatalf("%v", err)
	}
	if got != want {
		ts.Fatalf("exit status is %d, want %d", got, want)
	}
}
