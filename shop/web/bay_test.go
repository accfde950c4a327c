package web

import (
	"net/http"
	"net/http/httptest"
	"strconv"
	"strings"
	"testing"

	"trunnion/shop/access"
	"trunnion/shop/jobfile"
	"trunnion/shop/store"
	"trunnion/shop/view/viewtest"
)

// Every kind of change of a job, asked for by the bay: readings and settings pass,
// nothing else does, however it is written.
func TestBayChangesReadingsAndSettingsAlone(t *testing.T) {
	s := openShop(t, t.TempDir(), false)
	hash, err := access.Hash(t.Context(), "correct horse of Bea")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.store.SavePerson(t.Context(), store.Person{Name: "Bea", Role: store.Bay, Passphrase: hash}); err != nil {
		t.Fatal(err)
	}
	s.want(200, nil, "POST", "/api/session", map[string]string{"person": "Bea", "passphrase": "correct horse of Bea"})
	text := viewtest.DemoText(t)
	other := func(from, to string) string {
		t.Helper()
		if !strings.Contains(text, from) {
			t.Fatalf("the demo has no %q", from)
		}
		return strings.Replace(text, from, to, 1)
	}
	set := viewtest.Set
	for name, c := range map[string]struct {
		want  int
		text  string
		edits []jobfile.Edit
	}{
		"a click":                       {200, text, []jobfile.Edit{set("builds.kit.setup.click.front", "6")}},
		"a collar":                      {200, text, []jobfile.Edit{set("builds.kit.setup.platform.front_left", "2 mm")}},
		"a reading":                     {200, text, []jobfile.Edit{set("builds.kit.readings.load.front_left", "431 kg")}},
		"as it was weighed":             {200, text, []jobfile.Edit{set("car.weighed.load.front_left", "427 kg")}},
		"a reading taken out":           {200, text, []jobfile.Edit{{Path: "car.weighed.rod_showing.front_left"}}},
		"which build was weighed":       {403, text, []jobfile.Edit{set("car.weighed.build", "kit")}},
		"a part of a build":             {403, text, []jobfile.Edit{set("builds.kit.front.spring", "front-31")}},
		"a build's name":                {403, text, []jobfile.Edit{set("builds.kit.name", "The other")}},
		"a part's figure":               {403, text, []jobfile.Edit{set("parts.springs.front-31.rate", "40 N/mm")}},
		"a part of the catalogue":       {403, text, []jobfile.Edit{{Path: "builds.kit.front.spring", Part: "spring:front-46"}}},
		"a build copied":                {403, text, []jobfile.Edit{{Path: "builds.more", CopyOf: "kit", Name: "More"}}},
		"a build of a preset":           {403, text, []jobfile.Edit{{Path: "builds.more", Preset: "kit", Name: "More"}}},
		"a build taken out":             {403, text, []jobfile.Edit{{Path: "builds.kit"}}},
		"all settings taken out":        {403, text, []jobfile.Edit{{Path: "builds.kit.setup"}}},
		"readings of no build":          {403, text, []jobfile.Edit{set("builds.none.readings.load.front_left", "431 kg")}},
		"a load state's payload":        {403, text, []jobfile.Edit{set("loads.driver.items[0].mass", "90 kg")}},
		"the brief":                     {403, text, []jobfile.Edit{set("brief.limits.bump_left", "1 mm")}},
		"the car":                       {403, text, []jobfile.Edit{set("car.wheelbase", "2700 mm")}},
		"a signature":                   {403, text, []jobfile.Edit{set("handover.signed.who", "Bea")}},
		"the owner's words":             {403, text, []jobfile.Edit{set("job.words", "all is well")}},
		"one of two":                    {403, text, []jobfile.Edit{set("builds.kit.setup.click.front", "7"), set("car.wheelbase", "2700 mm")}},
		"a comment":                     {403, "# all is well\n" + text, nil},
		"a text with another wheelbase": {403, other("wheelbase: ", "wheelbase: 1"), nil},
		"a text in another order":       {403, other("    bars: off\n    settled: yes\n", "    settled: yes\n    bars: off\n"), nil},
		"a text with another click":     {403, other("click: {front: 7, rear: 7}", "click: {front: 4, rear: 7}"), nil},
	} {
		t.Run(name, func(t *testing.T) {
			now, err := s.store.Job(t.Context(), "demo")
			if err != nil {
				t.Fatal(err)
			}
			asked := c.text
			if asked == text {
				asked = string(now.Text) // as it is saved by now
			}
			if c.edits == nil {
				c.edits = []jobfile.Edit{}
			}
			s.want(c.want, nil, "PUT", "/api/jobs/demo", SaveRequest{Text: asked, Edits: c.edits}, "If-Match", `"`+strconv.Itoa(now.Number)+`"`)
			after, err := s.store.Head(t.Context(), "demo")
			if err != nil {
				t.Fatal(err)
			}
			if saved := after.Revision != now.Number; saved != (c.want == 200) {
				t.Errorf("saved: %t", saved)
			}
		})
	}
}

// unread is a body that must not be read.
type unread struct{ read int }

func (u *unread) Read(p []byte) (int, error) { u.read += len(p); return len(p), nil }

// Nothing of what a stranger sends is read, and nothing of what somebody sends who may
// not do it.
func TestRightsComeBeforeReading(t *testing.T) {
	s := openShop(t, t.TempDir(), false)
	for _, one := range []struct{ method, path string }{
		{"POST", "/api/try"},
		{"POST", "/api/jobs"},
		{"PUT", "/api/jobs/demo"},
		{"PUT", "/api/jobs/demo/draft"},
		{"POST", "/api/sheet"},
		{"POST", "/api/ask/assess"},
		{"POST", "/api/people"},
		{"POST", "/api/backups"},
		{"PUT", "/api/catalogue"},
		{"POST", "/api/jobs/demo/scales/rounds"},
		{"POST", "/api/support"},
		{"PUT", "/api/workshop"},
	} {
		body := &unread{}
		req := httptest.NewRequest(one.method, one.path, body)
		req.Host, req.ContentLength = "127.0.0.1", -1
		req.Header.Set("Content-Type", "application/json")
		req.Header.Set("If-Match", `"1"`)
		rec := httptest.NewRecorder()
		s.server.Handler().ServeHTTP(rec, req)
		if rec.Code != http.StatusUnauthorized || body.read > 0 {
			t.Errorf("%s %s: %d, %d bytes read: %s", one.method, one.path, rec.Code, body.read, rec.Body)
		}
	}
}

func TestWrongMethodsAreSaid(t *testing.T) {
	s := openShop(t, t.TempDir(), true)
	status, header, _ := s.ask("DELETE", "/api/jobs", nil)
	if status != http.StatusMethodNotAllowed || header.Get("Allow") != "GET, POST" {
		t.Errorf("DELETE /api/jobs: %d, allowed %q", status, header.Get("Allow"))
	}
	s.want(405, nil, "POST", "/api/schema", map[string]string{})
	s.want(404, nil, "GET", "/api/nothing", nil)
	// A draft is of a job that is there.
	s.want(404, nil, "PUT", "/api/jobs/none/draft", DraftBody{Edits: []jobfile.Edit{}, Undone: []jobfile.Edit{}})
}

func TestDescriptionIsBehindTheDoor(t *testing.T) {
	open, shut := openShop(t, t.TempDir(), true), openShop(t, t.TempDir(), false)
	open.want(200, nil, "GET", "/api/openapi.json", nil)
	shut.want(401, nil, "GET", "/api/openapi.json", nil)
}
