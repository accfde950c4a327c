package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"net/http"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"

	"trunnion/examples"
	"trunnion/shop/desk"
	"trunnion/shop/intake"
	"trunnion/shop/jobfile"
	"trunnion/shop/web"
)

// pair is a question asked at the command line and over HTTP.
type pair struct {
	command string
	method  string // of the desk
	args    []string
	words   string
	with    string // the same options as JSON
	on      string // the one job that is asked; empty: every job
}

var pairs = []pair{
	{"assess", "Assess", []string{"--samples", "20"}, "", `{"samples":20}`, ""},
	{"ride", "Ride", []string{"--event", "pothole", "--size", "50mm", "--length", "0.6m", "--speed", "50km/h"}, "", `{"event":"pothole","size":"50mm","length":"0.6m","speeds":["50km/h"]}`, ""},
	{"corner", "Corner", []string{"--to", "0.8g", "--points", "5", "--samples", "20"}, "", `{"to":"0.8g","points":5,"samples":20}`, ""},
	{"loads", "Struts", []string{"--cornering", "0.8"}, "", `{"cornering":0.8}`, ""},
	{"linkage", "Linkage", []string{"--lower", "20mm"}, "", `{"lower":"20mm"}`, ""},
	{"level", "Level", []string{"--build", "BUILD"}, "", `{"build":"BUILD"}`, ""},
	{"damper clicks", "Clicks", []string{"--build", "BUILD", "--ratio", "0.5", "--mid", "100mm/s", "--roads", "--samples", "20"}, "", `{"build":"BUILD","ratio":0.5,"mid":"100mm/s","roads":true,"samples":20}`, ""},
	{"damper presets", "Presets", []string{"--build", "BUILD"}, "", `{"build":"BUILD"}`, "marl-estate/job.yaml"}, // drives dozens of settings
	{"damper target", "Target", []string{"--build", "BUILD", "--hard", "0.7", "--knee", "70mm/s"}, "", `{"build":"BUILD","hard":0.7,"knee":"70mm/s"}`, ""},
	{"search", "Search", []string{"--build", "BUILD", "--effort", "quick", "--keep", "springs,stops,packers,bars,helpers", "--rear-lower", "5mm", "--samples", "20"}, "", `{"build":"BUILD","effort":"quick","keep":["springs,stops,packers,bars,helpers"],"rearLower":"5mm","samples":20}`, "sedley-hatch/job.yaml"}, // drives dozens of builds
	{"symptom", "Symptom", []string{"it bottoms out", "--build", "BUILD", "--samples", "20"}, "it bottoms out", `{"build":"BUILD","samples":20}`, ""},
}

// alone are the methods of the desk that a command and the page do not share as a
// question of their own, each with its reason.
var alone = map[string]string{
	"Try":        "answers while a hand moves; Full replaces it",
	"Full":       "Assess, for a page at rest: TestAPageAtRestAgreesWithTheCommand",
	"TryCorners": "Corner, of a text that is tried",
	"Proposals":  "what Symptom and the page look an answer up with",
	"TrySymptom": "what Symptom is looked up in, of a text that is tried",
	"Show":       "a full judgement for the page",
	"Standing":   "a trial that is kept",
	"Kept":       "a trial that is kept",
	"Judge":      "Assess, with workings and remedies left until they are opened",
	"Buying":     "what Assess and the page choose springs from: TestACatalogueByCommandAndHTTP",
	"Preview":    "the list of jobs on the page",
	"Figures":    "what Sheet and Certifier are made of",
	"Sheet":      "the page and the command write the same sheet document",
	"Certifier":  "text on both",
	"Nearest":    "asks the store",
	"Plain":      "what Nearest is made of",
	"Ratios":     "an edit of the page",
	"Effects":    "what one of RoadTest's corrections changes, for the page",
	"Lift":       "an axle lifted on the scales: the page alone has it",
	"OnScales":   "what Level is made of, with the rounds that the page keeps",
}

// fromScratch is the demo as another workshop would write it. The demo itself is compared
// on all its roads and with all its builds; these, which share them, on one road and with
// the car as it arrived and the kit.
func fromScratch(t *testing.T) map[string][]byte {
	t.Helper()
	text := oneRoad(t)
	for _, build := range []string{"lower-old", "lower-uprated"} {
		var err error
		if text, err = jobfile.Remove(text, "builds."+build); err != nil {
			t.Fatal(err)
		}
	}
	change := func(text []byte, from, to string) []byte {
		if !bytes.Contains(text, []byte(from)) {
			t.Fatalf("the demo has no %q", from)
		}
		return bytes.Replace(text, []byte(from), []byte(to), 1)
	}
	uneven := change(text, "    bars: off\n", "    bars: off\n    aboard: [{name: driver, mass: 78 kg, behind_front_axle: 1450 mm, left: 370 mm}]\n")
	uneven = change(uneven, "    rod_showing: {front_left: 103 mm, front_right: 104 mm, rear_left: 100.2 mm, rear_right: 103.8 mm}\n", "")
	uneven = change(uneven, "front_left: 426 kg, front_right: 428 kg", "front_left: 441 kg, front_right: 413 kg")
	corners, err := os.ReadFile("../../proof/testdata/corners.yaml")
	if err != nil {
		t.Fatal(err)
	}
	hatch, err := examples.Jobs.ReadFile("sedley-hatch/job.yaml")
	if err != nil {
		t.Fatal(err)
	}
	return map[string][]byte{
		"each side its own":  corners,
		"struts that differ": bytes.Replace(hatch, []byte("front: {spring: kit-front, "), []byte("front: {left: {spring: old-front, seats_closer: 0 mm}, spring: kit-front, "), 1),
		"weighed with the driver, uneven, readings missing": uneven,
		"readings without a state":                          change(text, "    setup:\n      click: {front: 7, rear: 7}\n", "    readings:\n      bars: off\n      load: {front_left: 432 kg, front_right: 464 kg, rear_left: 327 kg, rear_right: 321 kg}\n      arch_height: {front_left: 350 mm, front_right: 345 mm, rear_left: 358 mm, rear_right: 355 mm}\n    setup:\n      click: {front: 7, rear: 7}\n"),
	}
}

// oneRoad is the demo on one of its roads.
func oneRoad(t *testing.T) []byte {
	t.Helper()
	text, err := examples.Jobs.ReadFile("marl-estate/job.yaml")
	if err != nil {
		t.Fatal(err)
	}
	for _, road := range []string{
		"    - {road: town-street, speeds: [40, 60 km/h], load: driver}\n",
		"    - {road: motorway, speeds: [120 km/h], load: driver}\n",
		"    - {road: closed-hill-road, speeds: [80, 100 km/h], load: hill-climb}\n",
	} {
		if !bytes.Contains(text, []byte(road)) {
			t.Fatalf("the demo has no %q", road)
		}
		text = bytes.Replace(text, []byte(road), nil, 1)
	}
	return text
}

func TestCommandLineAndHTTPAgree(t *testing.T) {
	served := startServer(t, serveCommand{place: place{Data: t.TempDir()}, Listen: "127.0.0.1:0", Units: "metric"})
	jobs := fromScratch(t)
	for _, name := range []string{"marl-estate/job.yaml", "sedley-hatch/job.yaml", "wend-roadster/job.yaml"} {
		text, err := examples.Jobs.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		jobs[name] = text
	}
	var lock sync.Mutex
	answered := map[string]int{}
	t.Run("each", func(t *testing.T) { // ends when the last job has
		for name, text := range jobs {
			t.Run(name, func(t *testing.T) {
				t.Parallel()
				for _, command := range agreed(t, served.address, name, text) {
					lock.Lock()
					answered[command]++
					lock.Unlock()
				}
			})
		}
	})
	for _, p := range pairs {
		if answered[p.command] == 0 {
			t.Errorf("no job answers %s: nothing was compared", p.command)
		}
	}
}

// filePairs are the questions about files of sweeps, by the files of each; they have no
// job.
var filePairs = []struct {
	command, method string
	args            []string
	files, other    []string
	order           string
	with            string
}{
	{"damper read", "Sweeps", []string{"--gas", "removed", "--friction", "removed"}, []string{"peaks-front-left.csv"}, nil, "", `"mapping":{"gas":"removed","friction":"removed"}`},
	{"damper read", "Sweeps", nil, []string{"averaged-front-right.txt"}, nil, "", ``}, // asks
	{"damper pair", "Pair", []string{"--compression", "negative", "--counted", "closed", "--share", "4 %"}, []string{"loops-rear.csv"}, nil, "", `"mapping":{"compression":"negative","counted":"closed"},"share":"4 %"`},
	{"damper pair", "Pair", []string{"--gas", "removed", "--friction", "removed", "--use", "race"}, []string{"peaks-front-left.csv"}, []string{"peaks-front-right.csv"}, "", `"mapping":{"gas":"removed","friction":"removed"},"use":"race"`},
	{"damper accept", "Accept", []string{"--gas", "removed", "--friction", "removed", "--for", "front"}, []string{"peaks-front-left.csv"}, nil, "damper,click,stroke,speed mm/s,force N,least N,most N\nfront,7,rebound,130,690,655,725\n", `"mapping":{"gas":"removed","friction":"removed"},"for":"front"`},
}

func TestCommandLineAndHTTPAgreeOnSweeps(t *testing.T) {
	served := startServer(t, serveCommand{place: place{Data: t.TempDir()}, Listen: "127.0.0.1:0", Units: "metric"})
	folder := t.TempDir()
	read := func(names []string) (paths []string, list []intake.SweepFile) {
		for _, name := range names {
			text, err := examples.Sweeps.ReadFile("sweeps/" + name)
			if err != nil {
				t.Fatal(err)
			}
			path := filepath.Join(folder, name)
			if err := os.WriteFile(path, text, 0o600); err != nil {
				t.Fatal(err)
			}
			paths, list = append(paths, path), append(list, intake.SweepFile{Name: filepath.ToSlash(path), Data: text})
		}
		return paths, list
	}
	for _, p := range filePairs {
		paths, files := read(p.files)
		more, other := read(p.other)
		with := map[string]any{}
		if p.with != "" {
			if err := json.Unmarshal([]byte("{"+p.with+"}"), &with); err != nil {
				t.Fatal(err)
			}
		}
		with["files"] = files
		args := strings.Fields(p.command)
		if p.order != "" {
			with["order"] = p.order
			path := filepath.Join(folder, "order.csv")
			if err := os.WriteFile(path, []byte(p.order), 0o600); err != nil {
				t.Fatal(err)
			}
			args = append(args, path)
		}
		if len(other) > 0 {
			with["other"] = other
		}
		args = append(append(append(append(args, paths...), more...), p.args...), "--format", "json")
		var out, said bytes.Buffer
		code := run(args, streams{strings.NewReader(""), &out, &said})
		options, err := json.Marshal(with)
		if err != nil {
			t.Fatal(err)
		}
		body, err := json.Marshal(web.Ask{With: options})
		if err != nil {
			t.Fatal(err)
		}
		status, got := ask(t, served.address+"/api/ask/"+strings.ReplaceAll(p.command, " ", "-"), body)
		var one, second any
		if err := errors.Join(json.Unmarshal(out.Bytes(), &one), json.Unmarshal(got, &second)); err != nil || status != http.StatusOK {
			t.Errorf("%s %v: the command ends with %d (%s), HTTP with %d (%.300s): %v", p.command, p.files, code, said.String(), status, got, err)
			continue
		}
		if !reflect.DeepEqual(one, second) {
			t.Errorf("%s %v: command line and HTTP differ (-command +HTTP): %.2000s", p.command, p.files, cmp.Diff(one, second))
		}
	}
}

// agreed asks a job every question both ways, and returns the commands that answered.
func agreed(t *testing.T, address, name string, text []byte) (answered []string) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "job.yaml")
	if err := os.WriteFile(path, text, 0o600); err != nil {
		t.Fatal(err)
	}
	build := "arrived"
	if bytes.Contains(text, []byte("\n  kit:")) {
		build = "kit"
	}
	if bytes.Contains(text, []byte("\n  staggered:")) {
		build = "staggered"
	}
	for _, p := range pairs {
		if p.on != "" && p.on != name {
			continue
		}
		args := append(append(strings.Fields(p.command), path), p.args...)
		for i := range args {
			args[i] = strings.ReplaceAll(args[i], "BUILD", build)
		}
		var out, said bytes.Buffer
		code := run(append(args, "--format", "json"), streams{strings.NewReader(""), &out, &said})
		body, err := json.Marshal(web.Ask{Text: string(text), Units: "metric", Words: p.words, With: json.RawMessage(strings.ReplaceAll(p.with, "BUILD", build))})
		if err != nil {
			t.Fatal(err)
		}
		status, got := ask(t, address+"/api/ask/"+strings.ReplaceAll(p.command, " ", "-"), body)
		if out.Len() == 0 {
			if status == http.StatusOK {
				t.Errorf("%s: the command ends with %d (%s), HTTP answers", p.command, code, said.String())
			}
			continue
		}
		var one, other any
		if err := json.Unmarshal(out.Bytes(), &one); err != nil {
			t.Fatalf("%s: %v", p.command, err)
		}
		if err := json.Unmarshal(got, &other); err != nil || status != http.StatusOK {
			t.Errorf("%s: HTTP %d: %.300s", p.command, status, got)
			continue
		}
		if !reflect.DeepEqual(one, other) { // what differs is looked for only then: it takes seconds
			t.Errorf("%s: command line and HTTP differ (-command +HTTP): %.2000s", p.command, cmp.Diff(one, other))
		}
		answered = append(answered, p.command)
	}
	return answered
}

func ask(t *testing.T, address string, body []byte) (int, []byte) {
	t.Helper()
	req, err := http.NewRequestWithContext(t.Context(), http.MethodPost, address, bytes.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	req.Header.Set("Content-Type", "application/json")
	r, err := http.DefaultClient.Do(req)
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close() //nolint:errcheck // it was only read
	var got bytes.Buffer
	if _, err := got.ReadFrom(r.Body); err != nil {
		t.Fatal(err)
	}
	return r.StatusCode, got.Bytes()
}

// Every question of the desk has its pair, or a reason to have none; every one that
// HTTP answers is compared.
func TestEveryQuestionHasItsPair(t *testing.T) {
	var commands, methods []string
	for _, p := range pairs {
		commands, methods = append(commands, strings.ReplaceAll(p.command, " ", "-")), append(methods, p.method)
	}
	for _, p := range filePairs {
		commands, methods = append(commands, strings.ReplaceAll(p.command, " ", "-")), append(methods, p.method)
	}
	commands, methods = append(commands, "catalogue-read"), append(methods, "Parts")
	for _, p := range logPairs {
		commands, methods = append(commands, strings.ReplaceAll(p.command, " ", "-")), append(methods, p.method)
	}
	of := reflect.TypeFor[*desk.Desk]()
	for i := range of.NumMethod() {
		name := of.Method(i).Name
		if !slices.Contains(methods, name) && alone[name] == "" {
			t.Errorf("the desk answers %s: it has no pair of command line and HTTP here, and no reason to have none", name)
		}
	}
	for _, name := range web.Questions() {
		if !slices.Contains(commands, name) {
			t.Errorf("HTTP answers %s, and no command is compared with it", name)
		}
	}
}
