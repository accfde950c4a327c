package web

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"net/http/cookiejar"
	"net/http/httptest"
	"os"
	"slices"
	"strings"
	"sync"
	"testing"
	"testing/fstest"
	"time"

	"trunnion/shop/access"
	"trunnion/shop/desk"
	"trunnion/shop/jobfile"
	"trunnion/shop/store"
	"trunnion/shop/view"
	"trunnion/shop/view/builds"
	"trunnion/shop/view/corners"
	"trunnion/shop/view/viewtest"
	"trunnion/shop/view/working"
)

var update = flag.Bool("update", false, "write the golden files anew")

// shop is a server on a store of its own, and what a test needs to talk to it.
type shop struct {
	t      testing.TB
	server *Server
	store  *store.Store
	url    string
	client *http.Client
}

func openShop(t testing.TB, dir string, open bool) *shop {
	t.Helper()
	kept, err := store.Open(t.Context(), dir, store.Options{Who: "a test"})
	if err != nil {
		t.Fatal(err)
	}
	if err := Seed(t.Context(), kept, []byte(viewtest.DemoText(t))); err != nil {
		t.Fatal(err)
	}
	// The door's clock stands still: how many tries come at once does not hang on
	// how fast the machine is.
	now := time.Now()
	s := New(t.Context(), Options{
		Store: kept, Guard: access.New(access.Options{People: kept, Sessions: kept.Sessions(), Open: open, Now: func() time.Time { return now }}), Version: "test", Hosts: []string{"127.0.0.1"}, Loopback: open,
		Page: fstest.MapFS{"index.html": {Data: []byte("<!doctype html><title>page</title>")}, "assets/a.js": {Data: []byte("1")}},
	})
	h := httptest.NewServer(s.Handler())
	jar, err := cookiejar.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		s.Close()
		h.Close()
		if err := kept.Close(); err != nil {
			t.Error(err)
		}
	})
	return &shop{t, s, kept, h.URL, &http.Client{Jar: jar}}
}

// ask sends a request and returns status, headers and body.
func (s *shop) ask(method, path string, in any, headers ...string) (int, http.Header, []byte) {
	s.t.Helper()
	var body io.Reader
	switch v := in.(type) {
	case nil:
	case string:
		body = strings.NewReader(v)
	case []byte:
		body = bytes.NewReader(v)
	default:
		text, err := json.Marshal(v)
		if err != nil {
			s.t.Fatal(err)
		}
		body = bytes.NewReader(text)
	}
	r, err := http.NewRequestWithContext(s.t.Context(), method, s.url+path, body)
	if err != nil {
		s.t.Fatal(err)
	}
	if body != nil {
		r.Header.Set("Content-Type", "application/json")
	}
	for i := 0; i+1 < len(headers); i += 2 {
		if headers[i] == "Host" {
			r.Host = headers[i+1]
			continue
		}
		r.Header.Set(headers[i], headers[i+1])
	}
	answer, err := s.client.Do(r)
	if err != nil {
		s.t.Fatal(err)
	}
	defer answer.Body.Close() //nolint:errcheck // a test reads it whole
	text, err := io.ReadAll(answer.Body)
	if err != nil {
		s.t.Fatal(err)
	}
	return answer.StatusCode, answer.Header, text
}

// want asks and reads the answer into out.
func (s *shop) want(status int, out any, method, path string, in any, headers ...string) http.Header {
	s.t.Helper()
	got, header, text := s.ask(method, path, in, headers...)
	if got != status {
		s.t.Fatalf("%s %s: %d, want %d: %s", method, path, got, status, view.Cut(string(text), 500))
	}
	if out != nil {
		if err := json.Unmarshal(text, out); err != nil {
			s.t.Fatalf("%s %s: %v: %s", method, path, err, view.Cut(string(text), 200))
		}
	}
	return header
}

// TestDescription holds the interface to its golden copy, from which the page's
// types are generated.
func TestDescription(t *testing.T) {
	s := openShop(t, t.TempDir(), true)
	_, header, text := s.ask("GET", "/api/openapi.json", nil)
	if !strings.HasPrefix(header.Get("Content-Type"), "application/vnd.oai.openapi+json") {
		t.Errorf("content type %q", header.Get("Content-Type"))
	}
	text = append(text, '\n')
	const golden = "testdata/openapi.json"
	if *update {
		if err := os.WriteFile(golden, text, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(text, want) {
		t.Errorf("the interface is not as in %s: run go test ./shop/web -update, look at what changed, and generate the page's types", golden)
	}
	var doc struct {
		OpenAPI string                    `json:"openapi"`
		Paths   map[string]map[string]any `json:"paths"`
	}
	if err := json.Unmarshal(text, &doc); err != nil || doc.OpenAPI != "3.1.0" || len(doc.Paths) < 16 {
		t.Errorf("%s with %d paths: %v", doc.OpenAPI, len(doc.Paths), err)
	}
}

func TestJobsAndRevisions(t *testing.T) {
	s := openShop(t, t.TempDir(), true)
	var list JobList
	s.want(200, &list, "GET", "/api/jobs?search=ollerwick", nil)
	if list.Total != 1 || !list.Jobs[0].Demo || list.Jobs[0].Car != "Marl 2.0 estate" || list.Jobs[0].Matched == "" {
		t.Fatalf("got %+v", list)
	}
	var job Job
	header := s.want(200, &job, "GET", "/api/jobs/demo", nil)
	if header.Get("ETag") != `"1"` || job.Text != viewtest.DemoText(t) || job.Number != "0042" {
		t.Fatalf("revision %d, tag %s, number %s", job.Revision, header.Get("ETag"), job.Number)
	}
	save := SaveRequest{Text: job.Text, Edits: []jobfile.Edit{viewtest.Set("builds.kit.front.spring", "front-31")}, Who: "Ines", Why: "softer in front"}
	header = s.want(200, &job, "PUT", "/api/jobs/demo", save, "If-Match", `"1"`)
	if header.Get("ETag") != `"2"` || job.Revision != 2 || job.SavedBy != "Ines" || !strings.Contains(job.Text, "spring: front-31, damper: kit-front") {
		t.Fatalf("got revision %d by %s", job.Revision, job.SavedBy)
	}
	var history Revisions
	s.want(200, &history, "GET", "/api/jobs/demo/revisions", nil)
	if len(history.Revisions) != 2 || len(history.Revisions[0].Changed) != 1 || history.Revisions[0].Changed[0].Was != "front-46" || history.Revisions[0].Changed[0].Label != "Front spring, kit" {
		t.Errorf("got %+v", history)
	}
	var text RevisionText
	s.want(200, &text, "GET", "/api/jobs/demo/revisions/1", nil)
	if text.Text != viewtest.DemoText(t) {
		t.Error("the first revision is not as it was")
	}
	// The same text as a file into a second workshop.
	_, h, file := s.ask("GET", "/api/jobs/demo/file", nil)
	if string(file) != job.Text || !strings.Contains(h.Get("Content-Disposition"), `filename="job-0042-tw-42-olw`) {
		t.Errorf("the file is another text, or called %s", h.Get("Content-Disposition"))
	}
	other := openShop(t, t.TempDir(), true)
	var imported Job
	other.want(201, &imported, "POST", "/api/jobs", CreateRequest{Text: string(file), Name: "job.yaml"})
	if imported.Text != job.Text || imported.ID == "demo" {
		t.Error("the file did not come through as it was")
	}
	other.want(409, nil, "POST", "/api/jobs", CreateRequest{Text: string(file)})
	other.want(201, &imported, "POST", "/api/jobs", CreateRequest{FromJob: imported.ID})
	// No tag, a bad tag, an edit that cannot be.
	s.want(422, nil, "PUT", "/api/jobs/demo", save)
	s.want(428, nil, "PUT", "/api/jobs/demo", save, "If-Match", "*")
	var p Problem
	s.want(422, &p, "PUT", "/api/jobs/demo", SaveRequest{Text: job.Text, Edits: []jobfile.Edit{viewtest.Set("builds.nobody.front.spring", "x")}}, "If-Match", `"2"`)
	if len(p.Faults) != 1 || p.Faults[0].Path != "builds.nobody.front.spring" {
		t.Errorf("got %+v", p)
	}
	s.want(404, nil, "GET", "/api/jobs/none", nil)
}

func TestConflictShowsBothVersions(t *testing.T) {
	s := openShop(t, t.TempDir(), true)
	text := viewtest.DemoText(t)
	s.want(200, nil, "PUT", "/api/jobs/demo", SaveRequest{Text: text, Edits: []jobfile.Edit{viewtest.Set("builds.kit.setup.click.front", "5"), viewtest.Set("car.plate", "NEW 1")}, Who: "Ines"}, "If-Match", `"1"`)
	var p Problem
	s.want(409, &p, "PUT", "/api/jobs/demo", SaveRequest{
		Text: text, Edits: []jobfile.Edit{viewtest.Set("builds.kit.setup.click.front", "3"), viewtest.Set("builds.kit.setup.click.rear", "4"), viewtest.Set("car.plate", "NEW 1")}, Who: "Otto", Why: "mine",
	}, "If-Match", `"1"`)
	if p.Mine == nil || p.Theirs == nil || p.Base == nil || p.Theirs.Who != "Ines" || p.Theirs.Revision != 2 || p.Base.Text != text {
		t.Fatalf("got %+v", p)
	}
	want := []Disputed{
		{"car.plate", "Plate", "TW 42 OLW", "NEW 1", "NEW 1", true},
		{"builds.kit.setup.click.front", "Front click, kit", "7", "3", "5", false},
		{"builds.kit.setup.click.rear", "Rear click, kit", "7", "4", "7", false},
	}
	if !slices.Equal(p.Fields, want) {
		t.Errorf("disputed are %+v,\nwant %+v", p.Fields, want)
	}
}

func TestDraftsLastAndASaveEndsThem(t *testing.T) {
	dir := t.TempDir()
	s := openShop(t, dir, true)
	draft := DraftBody{Revision: 1, Edits: []jobfile.Edit{{Path: "builds.kit.front", Move: "-3 mm", Label: "pull", Step: 2}, {Path: "car.plate"}}, Undone: []jobfile.Edit{}, At: "now"}
	s.want(204, nil, "PUT", "/api/jobs/demo/draft", draft)
	var job Job
	s.want(200, &job, "GET", "/api/jobs/demo", nil)
	if job.Draft == nil || len(job.Draft.Edits) != 2 || job.Draft.Edits[0].Step != 2 || job.Draft.Edits[1].Value != nil {
		t.Fatalf("got %+v", job.Draft)
	}
	var list JobList
	s.want(200, &list, "GET", "/api/jobs", nil)
	if !list.Jobs[0].Draft {
		t.Error("the list does not say that there is a draft")
	}
	s.want(200, nil, "PUT", "/api/jobs/demo", SaveRequest{Text: job.Text, Edits: draft.Edits[:1], Who: "Ines"}, "If-Match", `"1"`)
	s.want(404, nil, "GET", "/api/jobs/demo/draft", nil)
	s.want(204, nil, "DELETE", "/api/jobs/demo/draft", nil)
}

// await waits for a run to end.
func (s *shop) await(id string) Run {
	s.t.Helper()
	for range 6000 {
		var r Run
		s.want(200, &r, "GET", "/api/runs/"+id, nil)
		if r.State != "waiting" && r.State != "running" {
			return r
		}
		time.Sleep(50 * time.Millisecond)
	}
	s.t.Fatal("the run does not end")
	return Run{}
}

func TestRunsAreKeptWithTheirRevision(t *testing.T) {
	dir := t.TempDir()
	s := openShop(t, dir, true)
	req := viewtest.Demo(t)
	req.Edits = []jobfile.Edit{}
	var run Run
	s.want(202, &run, "POST", "/api/jobs/demo/runs", req)
	done := s.await(run.ID)
	if done.State != "done" || done.Revision != 1 || done.View == nil || !done.View.Full {
		t.Fatalf("got %s: %s", done.State, done.Said)
	}
	// Ten on a kilometre are too many; whether that is over or close, the band says.
	first := rowWith(done.View, "hits-stops-hard-rear")
	if first == nil || first.Cells[1].Tier != "time" || first.Cells[1].Verdict == "clear" || first.Cells[2].Verdict != "clear" {
		t.Errorf("the full judgement does not say that the stops are hit hard: %+v", first)
	}
	// Asked for twice, it is done once.
	var again Run
	s.want(202, &again, "POST", "/api/jobs/demo/runs", req)
	if again.ID != run.ID {
		t.Error("the same work is done a second time")
	}
	// A fresh server makes the same of what was stored.
	s.server.runs.mu.Lock()
	clear(s.server.runs.kept)
	s.server.runs.mu.Unlock()
	var back Run
	s.want(200, &back, "GET", "/api/runs/"+run.ID, nil)
	if back.View == nil {
		t.Fatal("the stored answer has no view")
	}
	a, err := json.Marshal(done.View.Rows)
	if err != nil {
		t.Fatal(err)
	}
	b, err := json.Marshal(back.View.Rows)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(a, b) {
		t.Error("the stored answer says something else than the one at hand")
	}
	// A try with the run's id shows the full judgement; with an edit it does not.
	req.Run = run.ID
	var v builds.View
	s.want(200, &v, "POST", "/api/try", req)
	if !v.Full {
		t.Error("a try of the judged text does not show the judgement")
	}
	req.Edits = []jobfile.Edit{viewtest.Set("builds.kit.setup.click.front", "5")}
	s.want(200, &v, "POST", "/api/try", req)
	if v.Full {
		t.Error("a changed text shows the judgement of another")
	}
	var w working.View
	s.want(200, &w, "GET", "/api/views/"+back.View.Key+"/workings/"+first.Cells[1].ValueID+"?units=imperial", nil)
	if w.Equation == "" || !strings.Contains(w.Result, "mile") {
		t.Errorf("got %+v", w)
	}
}

func TestLoneRunsAtOnceAndCancel(t *testing.T) {
	s := openShop(t, t.TempDir(), true)
	events := s.listen()
	req := viewtest.Demo(t, viewtest.Set("builds.kit.setup.click.front", "5"))
	var first, second Run
	s.want(202, &first, "POST", "/api/jobs/demo/runs", req)
	if first.Revision != 0 || !strings.HasPrefix(first.ID, "lone-") {
		t.Fatalf("got %+v", first)
	}
	req.Edits = append(req.Edits, viewtest.Set("builds.kit.setup.click.rear", "3"))
	s.want(202, &second, "POST", "/api/jobs/demo/runs", req)
	s.want(204, nil, "DELETE", "/api/runs/"+second.ID, nil)
	if r := s.await(first.ID); r.State != "cancelled" {
		t.Errorf("a run that a newer text overtook is %s", r.State)
	}
	if r := s.await(second.ID); r.State != "cancelled" {
		t.Errorf("a run that was stopped is %s", r.State)
	}
	deadline := time.After(time.Minute) // of a busy machine
	for {
		select {
		case e := <-events:
			if strings.Contains(e, "event: run") || strings.Contains(e, `"state":"cancelled"`) {
				return
			}
		case <-deadline:
			t.Fatal("the stream told nothing of a run")
		}
	}
}

// listen opens the stream and returns its lines.
func (s *shop) listen() <-chan string {
	s.t.Helper()
	ctx, cancel := context.WithCancel(s.t.Context())
	s.t.Cleanup(cancel)
	r, err := http.NewRequestWithContext(ctx, http.MethodGet, s.url+"/api/events", nil)
	if err != nil {
		s.t.Fatal(err)
	}
	answer, err := s.client.Do(r)
	if err != nil {
		s.t.Fatal(err)
	}
	lines := make(chan string, 1000)
	go func() {
		defer answer.Body.Close() //nolint:errcheck // the test ends it
		for in := bufio.NewScanner(answer.Body); in.Scan(); {
			lines <- in.Text()
		}
		close(lines)
	}()
	select {
	case line := <-lines:
		if line != "event: ping" {
			s.t.Fatalf("the stream begins with %q", line)
		}
	case <-time.After(5 * time.Second):
		s.t.Fatal("the stream does not begin")
	}
	return lines
}

func TestSavesAreToldAtOnce(t *testing.T) {
	s := openShop(t, t.TempDir(), true)
	events := s.listen()
	s.want(200, nil, "PUT", "/api/jobs/demo", SaveRequest{Text: viewtest.DemoText(t) + "# more\n", Edits: []jobfile.Edit{}, Who: "Ines"}, "If-Match", `"1"`)
	deadline := time.After(5 * time.Second)
	for {
		select {
		case e := <-events:
			if strings.Contains(e, `{"job":"demo","revision":2,"who":"Ines"}`) {
				return
			}
		case <-deadline:
			t.Fatal("nobody was told of the save")
		}
	}
}

func TestNewJobFromFigures(t *testing.T) {
	s := openShop(t, t.TempDir(), true)
	f := Figures{
		Owner: `Mr "H" <script>`, Car: "Wend: 1.6 # roadster", Wheelbase: "90.6 in", Track: "1440 mm", LoadFrontLeft: "430 lb", LoadFrontRight: "193 kg", LoadRearLeft: "254 kg",
		LoadRearRight: "251 kg", ArchFront: "322 mm", ArchRear: "331 mm", SpringFront: "38 N/mm, 285 mm free", SpringRear: "308 lbf/in", LowerFront: "25 mm", LowerRear: "0",
	}
	var job Job
	s.want(201, &job, "POST", "/api/jobs", CreateRequest{Figures: &f})
	var v builds.View
	s.want(200, &v, "POST", "/api/try", view.TryRequest{Text: job.Text, Edits: []jobfile.Edit{}, Units: "metric"})
	if len(v.Builds) != 2 || v.Title.Owner != f.Owner || v.Title.Car != f.Car || len(v.Fields) < 40 {
		t.Errorf("%d builds of %q for %q, %d fields", len(v.Builds), v.Title.Car, v.Title.Owner, len(v.Fields))
	}
	if got := v.Fields["car.front.tyre_rate"]; !got.Filled || got.Origin != "default" {
		t.Errorf("what nobody said is not marked: %+v", got)
	}
	f.Wheelbase, f.SpringRear, f.LoadFrontLeft = "2300", "54 mm", "4 kg"
	var p Problem
	s.want(422, &p, "POST", "/api/jobs", CreateRequest{Figures: &f})
	var places []string
	for _, e := range p.Errors {
		places = append(places, e.Location)
	}
	if !slices.Equal(places, []string{"figures.wheelbase", "figures.loadFrontLeft", "figures.springRear"}) {
		t.Errorf("faults at %q", places)
	}
}

func TestCatalogueAndPresets(t *testing.T) {
	s := openShop(t, t.TempDir(), true)
	var parts Parts
	s.want(200, &parts, "GET", "/api/catalogue?kind=spring&search=rear", nil)
	if len(parts.Parts) != 3 || parts.Parts[0].ID != "spring:rear-48" || !strings.Contains(parts.Parts[0].Line, "48 N/mm") {
		t.Fatalf("got %+v", parts)
	}
	var part Part
	s.want(200, &part, "PUT", "/api/catalogue", PartRequest{Kind: "spring", Slug: "front-38", Name: "Front 38", Text: "{rate: maker 38 N/mm, free: maker 265 mm, block: maker 95 mm}", Source: "a box"})
	v := builds.View{}
	s.want(200, &v, "POST", "/api/try", viewtest.Demo(t, jobfile.Edit{Path: "builds.kit.front.spring", Part: "spring:front-38"}))
	if len(v.Faults) > 0 || len(v.Applied) != 1 || v.Applied[0].Value != "front-38" || v.Fields["parts.springs.front-38.rate"].Shown != "38.0 N/mm" {
		t.Errorf("%+v %+v", v.Applied, v.Faults)
	}
	s.want(409, nil, "PUT", "/api/catalogue", PartRequest{Kind: "spring", Slug: "front-38", Name: "Front 38", Text: "{rate: 1 N/mm}"})
	s.want(200, nil, "PUT", "/api/presets", PresetRequest{ID: "marl-town", Car: "Marl 2.0 estate", Name: "Town", Text: "builds: {town: {front: {spring: front-31}}}\nparts: {springs: {front-31: {rate: 31 N/mm, free: 304 mm}}}"})
	var presets Presets
	s.want(200, &presets, "GET", "/api/presets?car=marl+2.0+ESTATE", nil)
	if len(presets.Presets) != 1 {
		t.Errorf("got %+v", presets)
	}
	// It becomes a build; a part of the same name but other figures gets its own.
	s.want(200, &v, "POST", "/api/try", viewtest.Demo(t, jobfile.Edit{Path: "builds.town", Preset: "marl-town"}))
	if len(v.Faults) > 0 || len(v.Builds) != 5 || v.Builds[4].Name != "Town" || v.Fields["builds.town.front.spring"].Typed != "front-31-2" || v.Fields["parts.springs.front-31-2.rate"].Typed != "31 N/mm" {
		t.Errorf("%d builds, %+v %+v", len(v.Builds), v.Fields["builds.town.front.spring"], v.Faults)
	}
	// Its helper is the preset's, whatever part of the job has the same name.
	s.want(200, nil, "PUT", "/api/presets", PresetRequest{
		ID: "marl-helped", Car: "Marl 2.0 estate", Name: "Helped",
		Text: "builds: {helped: {rear: {spring: rear-60, helper: tender}}}\nparts: {springs: {rear-60: {rate: 60 N/mm, free: 250 mm}, tender: {rate: 9 N/mm, free: 60 mm, block: 20 mm}}}",
	})
	with := viewtest.Demo(t, jobfile.Edit{Path: "builds.helped", Preset: "marl-helped"})
	with.Text = strings.Replace(with.Text, "  springs:\n", "  springs:\n    tender: {rate: 3 N/mm, free: 40 mm, block: 12 mm}\n", 1)
	s.want(200, &v, "POST", "/api/try", with)
	if helper := v.Fields["builds.helped.rear.helper"].Typed; helper != "tender-2" || v.Fields["parts.springs."+helper+".rate"].Typed != "9 N/mm" {
		t.Errorf("the preset's build has the helper %q of %q, %+v", helper, v.Fields["parts.springs."+helper+".rate"].Typed, v.Faults)
	}
	var differ Differences
	s.want(200, &differ, "GET", "/api/jobs/demo/differences?preset=marl-town&build=kit", nil)
	if len(differ.Differences) == 0 || differ.Differences[0].Label == "" {
		t.Errorf("got %+v", differ)
	}
	s.want(404, nil, "GET", "/api/jobs/demo/differences?preset=none&build=kit", nil)
}

// TestHostile refuses what nobody honest sends, and gives nothing back of it.
func TestHostile(t *testing.T) {
	s := openShop(t, t.TempDir(), true)
	text := viewtest.DemoText(t)
	big := bytes.Repeat([]byte("a"), 50<<20)
	for _, row := range []struct {
		name, method, path string
		in                 any
		headers            []string
		status             int
	}{
		{"a forged host", "GET", "/api/jobs", nil, []string{"Host", "evil.example"}, 421},
		{"a forged host with our port", "GET", "/", nil, []string{"Host", "evil.example:80"}, 421},
		{"a post of another site", "POST", "/api/try", viewtest.Demo(t), []string{"Origin", "https://evil.example", "Sec-Fetch-Site", "cross-site"}, 403},
		{"a post of another site without the newer header", "POST", "/api/try", viewtest.Demo(t), []string{"Origin", "https://evil.example"}, 403},
		{"50 MB", "POST", "/api/jobs", big, nil, 413},
		{"50 MB as a job", "POST", "/api/jobs", map[string]string{"text": string(big)}, nil, 413},
		{"no list", "POST", "/api/try", `{"text":"x","edits":null,"units":"metric"}`, nil, 422},
		{"no number", "POST", "/api/try", `{"text":"x","edits":[],"units":"metric","event":1e999}`, nil, 400},
		{"broken JSON", "POST", "/api/try", `{"text":`, nil, 400},
		{"more keys", "POST", "/api/try", `{"text":"x","edits":[],"units":"metric","secret":"s3cr3t"}`, nil, 422},
		{"other units", "POST", "/api/try", `{"text":"x","edits":[],"units":"furlongs"}`, nil, 422},
		{"up the folders", "GET", "/../../etc/passwd", nil, nil, 200},
		{"up the folders, hidden", "GET", "/assets/..%2f..%2f..%2fgo.mod", nil, nil, 404},
		{"a job up the folders", "GET", "/api/jobs/..%2f..%2fdata", nil, nil, 404},
		{"a job of quotes", "GET", "/api/jobs/'%20OR%201=1--", nil, nil, 404},
		{"a method", "POST", "/", nil, nil, 405},
		{"nothing there", "GET", "/api/none", nil, nil, 404},
		{"a view that is not kept", "GET", "/api/views/abc/workings/x", nil, nil, 410},
		{"a run that is not there", "DELETE", "/api/runs/x", nil, nil, 404},
	} {
		t.Run(row.name, func(t *testing.T) {
			status, header, got := s.ask(row.method, row.path, row.in, row.headers...)
			if status != row.status {
				t.Fatalf("%d, want %d: %s", status, row.status, view.Cut(string(got), 200))
			}
			if status >= 400 && header.Get("Content-Type") != "application/problem+json" {
				t.Errorf("the problem is %s", header.Get("Content-Type"))
			}
			if len(got) > 4000 || strings.Contains(string(got), "s3cr3t") || strings.Contains(string(got), "root:") {
				t.Errorf("gives back %s", view.Cut(string(got), 200))
			}
			if header.Get("Content-Security-Policy") != policy || header.Get("X-Content-Type-Options") != "nosniff" {
				t.Error("without the headers that every answer has")
			}
		})
	}
	// A name with markup is kept as a name, and comes back as JSON alone.
	evil := `<img src=x onerror="alert(1)">`
	var job Job
	s.want(201, &job, "POST", "/api/jobs", CreateRequest{Text: strings.Replace(text, "owner: Mrs Ollerwick", "owner: '"+evil+"'", 1), Name: `..\..\<b>evil</b>/../../etc/passwd`})
	var history Revisions
	s.want(200, &history, "GET", "/api/jobs/"+job.ID+"/revisions", nil)
	if why := history.Revisions[0].Why; why != "from the file passwd" {
		t.Errorf("the file's name is kept as %q", why)
	}
	var list JobList
	header := s.want(200, &list, "GET", "/api/jobs?search=onerror", nil)
	if len(list.Jobs) != 1 || list.Jobs[0].Owner != evil || header.Get("Content-Type") != "application/json" {
		t.Errorf("got %+v as %s", list, header.Get("Content-Type"))
	}
	_, h, _ := s.ask("GET", "/api/jobs/"+job.ID+"/file", nil)
	if name := h.Get("Content-Disposition"); strings.ContainsAny(name, "<>/\\") {
		t.Errorf("the file is called %s", name)
	}
}

func TestPage(t *testing.T) {
	s := openShop(t, t.TempDir(), true)
	for path, want := range map[string]string{"/": "page", "/jobs": "page", "/jobs/abc/builds": "page", "/components": "page", "/assets/a.js": "1"} {
		status, header, got := s.ask("GET", path, nil)
		if status != 200 || !strings.Contains(string(got), want) {
			t.Errorf("%s: %d %s", path, status, got)
		}
		cache := header.Get("Cache-Control")
		if strings.HasPrefix(path, "/assets/") != strings.Contains(cache, "immutable") {
			t.Errorf("%s is kept %q", path, cache)
		}
	}
	if status, _, _ := s.ask("GET", "/assets/none.js", nil); status != 404 {
		t.Errorf("a file that is not there: %d", status)
	}
	bare := New(t.Context(), Options{Hosts: []string{"example.com"}})
	defer bare.Close()
	rec := httptest.NewRecorder()
	bare.Handler().ServeHTTP(rec, httptest.NewRequest(http.MethodGet, "/", nil))
	if rec.Code != 503 || !strings.Contains(rec.Body.String(), "make build") {
		t.Errorf("without a page: %d %s", rec.Code, rec.Body)
	}
}

// TestBeyondTheMachine lets nobody in without a passphrase, slows guessing, and
// holds every role to its own.
func TestBeyondTheMachine(t *testing.T) {
	s := openShop(t, t.TempDir(), false)
	for name, role := range map[string]store.Role{"Olga": store.Owner, "Sam": store.Specialist, "Bea": store.Bay, "Vic": store.Viewer} {
		hash, err := access.Hash(t.Context(), "correct horse of "+name)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := s.store.SavePerson(t.Context(), store.Person{Name: name, Role: role, Passphrase: hash}); err != nil {
			t.Fatal(err)
		}
	}
	var session Session
	s.want(200, &session, "GET", "/api/session", nil)
	if !session.NeedsLogin || session.Person != nil || len(session.People) > 0 {
		t.Fatalf("a stranger is told %+v", session)
	}
	for _, path := range []string{"/api/jobs", "/api/jobs/demo", "/api/jobs/demo/file", "/api/people", "/api/catalogue", "/api/jobs/demo/runs", "/api/events"} {
		s.want(401, nil, "GET", path, nil)
	}
	s.want(401, nil, "POST", "/api/try", viewtest.Demo(t))
	in := func(name string) {
		t.Helper()
		s.want(200, &session, "POST", "/api/session", map[string]string{"person": name, "passphrase": "correct horse of " + name})
		if session.Person == nil || session.Person.Name != name {
			t.Fatalf("%s is %+v", name, session)
		}
	}
	in("Vic")
	s.want(200, nil, "POST", "/api/try", demoTryList(t))
	s.want(403, nil, "PUT", "/api/jobs/demo", SaveRequest{Text: viewtest.DemoText(t), Edits: []jobfile.Edit{}}, "If-Match", `"1"`)
	in("Bea")
	s.want(403, nil, "POST", "/api/jobs", CreateRequest{FromJob: "demo"})
	s.want(403, nil, "PUT", "/api/jobs/demo", SaveRequest{Text: viewtest.DemoText(t), Edits: []jobfile.Edit{viewtest.Set("builds.kit.front.spring", "front-31")}}, "If-Match", `"1"`)
	s.want(200, nil, "PUT", "/api/jobs/demo", SaveRequest{Text: viewtest.DemoText(t), Edits: []jobfile.Edit{viewtest.Set("builds.kit.setup.click.front", "6")}, Who: "Olga"}, "If-Match", `"1"`)
	if head, err := s.store.Head(t.Context(), "demo"); err != nil || head.Who != "Bea" {
		t.Errorf("the bay saved as %q", head.Who)
	}
	in("Sam")
	s.want(201, nil, "POST", "/api/jobs", CreateRequest{FromJob: "demo"})
	s.want(403, nil, "POST", "/api/people", map[string]string{"name": "Eve", "role": "owner"})
	s.want(204, nil, "DELETE", "/api/session", nil)
	s.want(401, nil, "GET", "/api/jobs", nil)
	// Five tries at once from one address: the rest must wait.
	statuses := map[int]int{}
	for range 6 {
		status, _, _ := s.ask("POST", "/api/session", map[string]string{"person": "Olga", "passphrase": "wrong"})
		statuses[status]++
	}
	if statuses[401] != 2 || statuses[429] != 4 {
		t.Errorf("got %v, want two more of five tries and then to wait", statuses)
	}
}

func demoTryList(t *testing.T) view.TryRequest {
	req := viewtest.Demo(t)
	req.Edits = []jobfile.Edit{}
	return req
}

// TestManyAtOnce reads and saves side by side: no error, and no save is lost.
func TestManyAtOnce(t *testing.T) {
	s := openShop(t, t.TempDir(), true)
	const readers, writers, rounds = 25, 5, 4
	var group sync.WaitGroup
	failed := make(chan error, readers+writers)
	for range readers {
		group.Go(func() {
			for range rounds {
				for _, path := range []string{"/api/jobs?search=marl", "/api/jobs/demo", "/api/session", "/api/jobs/demo/revisions"} {
					if status, err := plainAsk(s, path); err != nil || status != 200 {
						failed <- fmt.Errorf("%s: %d %w", path, status, err)
						return
					}
				}
			}
		})
	}
	saved := make([]int, writers)
	for w := range writers {
		group.Go(func() {
			id := store.NewID()
			for k := range rounds {
				text := fmt.Sprintf("%s\n# writer %d, save %d\n", viewtest.DemoText(t), w, k)
				if _, err := s.store.Save(t.Context(), store.Change{Job: id, Expected: k, Who: "w", Text: []byte(text)}); err != nil {
					failed <- err
					return
				}
				saved[w]++
			}
		})
	}
	group.Wait()
	close(failed)
	for err := range failed {
		t.Error(err)
	}
	for w, n := range saved {
		if n != rounds {
			t.Errorf("writer %d saved %d times of %d", w, n, rounds)
		}
	}
}

func plainAsk(s *shop, path string) (int, error) {
	r, err := http.NewRequestWithContext(s.t.Context(), http.MethodGet, s.url+path, nil)
	if err != nil {
		return 0, err
	}
	answer, err := s.client.Do(r)
	if err != nil {
		return 0, err
	}
	_, err = io.Copy(io.Discard, answer.Body)
	return answer.StatusCode, errors.Join(err, answer.Body.Close())
}

// TestTroubleIsSaid gives each kind of trouble its status and its sentence, and
// hides what is nobody's business under a number.
func TestTroubleIsSaid(t *testing.T) {
	s := &Server{log: slog.New(slog.DiscardHandler)}
	for _, row := range []struct {
		err    error
		status int
		words  string
	}{
		{&store.Trouble{Kind: store.Full, Where: "/data", Got: "has no room left", Do: "make room"}, 507, "/data has no room left; make room"},
		{&store.Trouble{Kind: store.ReadOnly, Where: "/data", Got: "cannot be written"}, 503, "cannot be written"},
		{fmt.Errorf("deep: %w", &store.Trouble{Kind: store.Damaged, Where: "/data", Got: "is damaged"}), 503, "is damaged"},
		{&store.NotFound{What: "job", ID: "x"}, 404, `there is no job "x"`},
		{&store.Refused{Field: "who", Got: "is empty", Want: "say who"}, 422, "who is empty; say who"},
		{&store.Stale{What: "spring", ID: "x", Who: "Ines"}, 409, "Ines"},
		{access.ErrLocked, 423, "locked"},
		{access.ErrTooMany, 429, "too many"},
		{access.ErrRole, 403, "may not"},
		{desk.ErrNotKept, 410, "try the job again"},
		{errors.New("secret path /home/x"), 500, "nothing that was saved is lost"},
	} {
		var p *Problem
		if !asProblem(s.problemOf(t.Context(), row.err), &p) || p.Status != row.status || !strings.Contains(p.Detail, row.words) || strings.Contains(p.Detail, "secret") {
			t.Errorf("%v is told as %+v, want %d with %q", row.err, p, row.status, row.words)
		}
	}
}

func TestCornerOverHTTP(t *testing.T) {
	s := openShop(t, t.TempDir(), true)
	var v corners.View
	s.want(200, &v, "POST", "/api/corner", corners.Request{TryRequest: viewtest.Demo(t), Driving: "cornering", Direction: "left"})
	var w working.View
	for _, f := range v.Builds[0].Figures {
		if f.Cell.ValueID != "" {
			s.want(200, &w, "GET", "/api/views/"+v.Key+"/workings/"+f.Cell.ValueID, nil)
		}
	}
	if w.Result == "" {
		t.Error("no working")
	}
	s.want(422, nil, "POST", "/api/corner", corners.Request{TryRequest: viewtest.Demo(t), Driving: "flying", Direction: "left"})
}
