package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"net/http"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"trunnion/examples"
	"trunnion/shop/intake"
	"trunnion/shop/web"
)

// logPairs are the questions about a log of a drive.
var logPairs = []struct {
	command, method string
	job             bool
	args            []string
	with            string
}{
	{"roadtest read", "RoadTestRead", false, nil, ``}, // asks
	{"roadtest read", "RoadTestRead", false, []string{"--low", "50 mm/s"}, `"low":"50 mm/s"`},
	{"roadtest compare", "RoadTest", true, []string{"--build", "kit", "--load", "driver"}, `"build":"kit","load":"driver"`},
	{"roadtest correct", "RoadTestCorrect", true, []string{"--build", "kit", "--load", "driver", "--take", "stop-gap-front-left", "--date", "22 Nov 2026"}, `"build":"kit","load":"driver","take":["stop-gap-front-left"],"date":"22 Nov 2026"`},
}

// answeredLog is what the example log does not say, as flags and as an ask.
var (
	answeredFlags = []string{"--sign", "travel=bump", "--sign", "acceleration=up", "--sign", "lateral=left", "--zero", "start", "--rest", "5 s", "--along", "damper"}
	answeredLog   = `"mapping":{"signs":{"travel":"bump","acceleration":"up","lateral":"left"},"zero":"start","rest":"5 s","along":"damper"}`
)

func TestCommandLineAndHTTPAgreeOnLogs(t *testing.T) {
	served := startServer(t, serveCommand{place: place{Data: t.TempDir()}, Listen: "127.0.0.1:0", Units: "metric"})
	folder := t.TempDir()
	log, err := examples.RoadTests.ReadFile("roadtest/kit-driver.csv")
	if err != nil {
		t.Fatal(err)
	}
	// The rough lane and a little more is enough here.
	lines := bytes.SplitAfter(log, []byte("\n"))
	log = bytes.Join(lines[:9000], nil)
	text, err := examples.Jobs.ReadFile("marl-estate/job.yaml")
	if err != nil {
		t.Fatal(err)
	}
	job, path := filepath.Join(folder, "job.yaml"), filepath.Join(folder, "log.csv")
	if err := errors.Join(os.WriteFile(job, text, 0o600), os.WriteFile(path, log, 0o600)); err != nil {
		t.Fatal(err)
	}
	for k, p := range logPairs {
		args := strings.Fields(p.command)
		if p.job {
			args = append(args, job)
		}
		args = append(append(append(args, path), p.args...), "--format", "json")
		with := p.with
		if k > 0 {
			args, with = append(args, answeredFlags...), answeredLog+","+with
		}
		var out, said bytes.Buffer
		code := run(args, streams{strings.NewReader(""), &out, &said})
		options := map[string]any{}
		if with != "" {
			if err := json.Unmarshal([]byte("{"+with+"}"), &options); err != nil {
				t.Fatal(err)
			}
		}
		options["file"] = intake.SweepFile{Name: filepath.ToSlash(path), Data: log}
		raw, err := json.Marshal(options)
		if err != nil {
			t.Fatal(err)
		}
		asked := web.Ask{With: raw, Units: "metric"}
		if p.job {
			asked.Text = string(text)
		}
		body, err := json.Marshal(asked)
		if err != nil {
			t.Fatal(err)
		}
		status, got := ask(t, served.address+"/api/ask/"+strings.ReplaceAll(p.command, " ", "-"), body)
		var one, second any
		if err := errors.Join(json.Unmarshal(out.Bytes(), &one), json.Unmarshal(got, &second)); err != nil || status != http.StatusOK {
			t.Errorf("%s: the command ends with %d (%s), HTTP with %d (%.300s): %v", p.command, code, said.String(), status, got, err)
			continue
		}
		if !reflect.DeepEqual(one, second) {
			t.Errorf("%s: command line and HTTP differ (-command +HTTP): %.2000s", p.command, cmp.Diff(one, second))
		}
	}
}
