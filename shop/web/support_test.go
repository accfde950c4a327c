package web

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"trunnion/shop/access"
	"trunnion/shop/jobfile"
	"trunnion/shop/store"
	"trunnion/shop/view"
	"trunnion/shop/view/builds"
	"trunnion/shop/view/history"
	"trunnion/shop/view/support"
	"trunnion/shop/view/working"
)

func (s *shop) demo() string {
	s.t.Helper()
	var job Job
	s.want(200, &job, "GET", "/api/jobs/demo", nil)
	return job.Text
}

func (s *shop) supported(req support.Request) *support.View {
	s.t.Helper()
	v := new(support.View)
	req.Units = "metric"
	if req.Edits == nil {
		req.Edits = []jobfile.Edit{}
	}
	s.want(200, v, "POST", "/api/support", req)
	return v
}

// The owner's words lead to two or three causes; a figure that speaks can be
// opened, and the first change can be tried and does what it says.
func TestSupportProposesWithThisCarsFigures(t *testing.T) {
	s := openShop(t, t.TempDir(), true)
	text := s.demo()
	v := s.supported(support.Request{TryRequest: view.TryRequest{Text: text}, Words: "it bangs in dips when the car is full", Build: "kit"})
	if v.Open || len(v.Causes) < 2 || len(v.Causes) > 3 || v.BuildName == "" || !strings.Contains(v.LoadWhy, "full") {
		t.Fatalf("got %+v", v)
	}
	if !strings.Contains(v.Caution, "no diagnosis") {
		t.Errorf("the caution is %q", v.Caution)
	}
	opened, edits := 0, []jobfile.Edit{}
	for _, c := range v.Causes {
		if c.Check == "" || c.Back == "" || c.First.Text == "" || len(c.Evidence) == 0 {
			t.Errorf("%s is not whole: %+v", c.ID, c)
		}
		for _, e := range c.Evidence {
			if e.ValueID == "" {
				continue
			}
			var w working.View
			s.want(200, &w, "GET", "/api/views/"+v.Key+"/workings/"+strings.ReplaceAll(e.ValueID, "/", "%2F")+"?units=metric", nil)
			number, _, _ := strings.Cut(w.Result, " ")
			if !strings.Contains(e.Figure, number) || !strings.Contains(e.Limits, "for it ") {
				t.Errorf("%s: the working says %q, the evidence %q, %q", e.ValueID, w.Result, e.Figure, e.Limits)
			}
			opened++
		}
		if len(edits) == 0 {
			edits = c.First.Edits
		}
	}
	if opened == 0 {
		t.Error("no figure of the evidence can be opened")
	}
	if len(edits) == 0 {
		t.Fatal("no change can be tried")
	}
	var shown builds.View
	s.want(200, &shown, "POST", "/api/try", view.TryRequest{Text: text, Edits: edits, Units: "metric"})
	if len(shown.Applied) != len(edits) || slices.ContainsFunc(shown.Faults, func(f jobfile.Fault) bool { return f.Kind == "refuse" }) {
		t.Errorf("the change cannot be tried: %+v, %+v", shown.Applied, shown.Faults)
	}
}

// Where the change is a finding's own remedy, its price stands apart, and it can
// be tried.
func TestSupportTakesAFindingsRemedy(t *testing.T) {
	s := openShop(t, t.TempDir(), true)
	text := s.demo()
	v := s.supported(support.Request{TryRequest: view.TryRequest{Text: text}, Words: "crashy over sharp edges", Build: "lower-old"})
	c := v.Causes[0].First
	if !strings.HasPrefix(c.Text, "Rear: ") || !strings.Contains(c.Text, "It gives ") || strings.Contains(c.Text, "It costs") || len(c.Edits) != 1 || !strings.HasPrefix(c.Edits[0].Path, "builds.lower-old.rear.") {
		t.Fatalf("the change is %q with %+v", c.Text, c.Edits)
	}
	var shown builds.View
	s.want(200, &shown, "POST", "/api/try", view.TryRequest{Text: text, Edits: c.Edits, Units: "metric"})
	if len(shown.Applied) != 1 || slices.ContainsFunc(shown.Faults, func(f jobfile.Fault) bool { return f.Kind == "refuse" }) {
		t.Fatalf("the change cannot be tried: %+v, %+v", shown.Applied, shown.Faults)
	}
	page, err := json.Marshal(shown)
	if err != nil {
		t.Fatal(err)
	}
	if len(c.Worsens) == 0 {
		t.Error("it costs nothing")
	}
	for _, price := range c.Worsens { // the page with the change made shows what was said
		_, after, there := strings.Cut(strings.TrimSuffix(price, "."), " to ")
		if number, unit, _ := strings.Cut(after, " "); !there || unit == "" || !strings.Contains(string(page), `"`+number) {
			t.Errorf("it costs %q, and the page with the change made shows no %q", price, number)
		}
	}
}

func TestSupportOffersTheTableWhereNothingIsHeard(t *testing.T) {
	s := openShop(t, t.TempDir(), true)
	text := s.demo()
	var rows support.SymptomRows
	s.want(200, &rows, "GET", "/api/symptoms", nil)
	if len(rows.Rows) != 41 || len(rows.When) == 0 {
		t.Fatalf("%d rows, %d times", len(rows.Rows), len(rows.When))
	}
	v := s.supported(support.Request{TryRequest: view.TryRequest{Text: text}, Words: "zzz qqq", Build: "kit"})
	if !v.Open || len(v.Rows) != len(rows.Rows) || len(v.Causes) != 0 {
		t.Errorf("open %v with %d rows and %d causes", v.Open, len(v.Rows), len(v.Causes))
	}
	one := s.supported(support.Request{TryRequest: view.TryRequest{Text: text}, Symptom: rows.Rows[0].ID, Build: "kit"})
	if one.Open || len(one.Causes) == 0 {
		t.Errorf("a row that was chosen gives %+v", one)
	}
	for _, bad := range []support.Request{{Build: "kit"}, {Words: "bangs", Build: "none"}, {Symptom: "none", Build: "kit"}} {
		bad.Text, bad.Units, bad.Edits = text, "metric", []jobfile.Edit{}
		if status, _, _ := s.ask("POST", "/api/support", bad); status != 422 {
			t.Errorf("%+v: %d", bad.Words, status)
		}
	}
}

func TestNotesAndRecords(t *testing.T) {
	s := openShop(t, t.TempDir(), true)
	note := func(status int, n NoteRequest) {
		t.Helper()
		s.want(status, nil, "POST", "/api/jobs/demo/notes", n)
	}
	back := NoteRequest{ID: "one", Kind: "come-back", Who: "Ines", ComeBack: &store.ComeBack{Cause: "collar moved", Step: "fitting", Part: "front collar", Cost: "120 EUR", Hours: "1.5 h"}}
	note(201, back)
	note(201, back) // sent twice, kept once
	note(201, NoteRequest{Kind: "service", Service: &store.Service{Serial: "A 17", Work: "ran", Use: "circuit", Hours: 60}})
	note(201, NoteRequest{Kind: "service", Service: &store.Service{Serial: "A17", Work: "gas-check", Use: "circuit", Gas: "18 bar"}})
	note(422, NoteRequest{Kind: "come-back", ComeBack: &store.ComeBack{Cause: "collar moved", Step: "nowhere"}})
	note(422, NoteRequest{Kind: "remark"})
	note(422, NoteRequest{Kind: "remark", Text: "fine", Taken: "yesterday"})
	var r history.Records
	s.want(200, &r, "GET", "/api/jobs/demo/records", nil)
	if len(r.ComeBacks) != 1 || r.ComeBacks[0].Title != "collar moved" || !slices.Contains(r.ComeBacks[0].Facts, "would have been caught at: fitting") {
		t.Errorf("come-backs are %+v", r.ComeBacks)
	}
	if r.Summary != "1 return visit in 1 job: 100 % of the cars came back." || len(r.ByCause) != 1 || !strings.Contains(r.ByCause[0].Text, "120") {
		t.Errorf("%q, %+v", r.Summary, r.ByCause)
	}
	if len(r.Dampers) != 1 || r.Dampers[0].Verdict != "due" || len(r.Dampers[0].Gas) != 1 || len(r.Dampers[0].Notes) != 2 {
		t.Errorf("dampers are %+v", r.Dampers)
	}
	s.want(404, nil, "GET", "/api/jobs/none/records", nil)
	s.want(404, nil, "POST", "/api/jobs/none/notes", NoteRequest{Kind: "remark", Text: "fine"})
	var near history.NearestJobs
	s.want(200, &near, "GET", "/api/jobs/demo/nearest?units=metric", nil)
	if near.Of != 0 || len(near.Jobs) != 0 {
		t.Errorf("a workshop of one job has %+v", near)
	}
	var copied Job
	s.want(201, &copied, "POST", "/api/jobs", CreateRequest{FromJob: "demo"})
	s.want(200, &near, "GET", "/api/jobs/"+copied.ID+"/nearest?units=metric", nil)
	if near.Of != 1 || len(near.Jobs) != 1 || near.Jobs[0].ID != "demo" || near.Doubt == "" || len(near.Jobs[0].Became) == 0 || len(near.Jobs[0].Why) == 0 {
		t.Errorf("its copy has %+v", near)
	}
}

// The bay writes down what it did; who may only look may not.
func TestNotesAskForTheBay(t *testing.T) {
	s := openShop(t, t.TempDir(), false)
	status, _, _ := s.ask("POST", "/api/jobs/demo/notes", NoteRequest{Kind: "remark", Text: "fine"})
	if status != 401 {
		t.Errorf("nobody may write: %d", status)
	}
	for _, one := range []struct {
		role store.Role
		want int
	}{{store.Bay, 201}, {store.Viewer, 403}} {
		secret := "correct horse of a " + string(one.role)
		hash, err := access.Hash(t.Context(), secret)
		if err != nil {
			t.Fatal(err)
		}
		name := "P " + string(one.role)
		if _, err := s.store.SavePerson(t.Context(), store.Person{Name: name, Role: one.role, Passphrase: hash}); err != nil {
			t.Fatal(err)
		}
		s.want(200, nil, "POST", "/api/session", map[string]string{"person": name, "passphrase": secret})
		s.want(one.want, nil, "POST", "/api/jobs/demo/notes", NoteRequest{Kind: "remark", Text: "fine"})
		s.want(200, nil, "GET", "/api/jobs/demo/history", nil)
	}
}
