package web

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"trunnion/shop/jobfile"
	"trunnion/shop/store"
	"trunnion/shop/view"
	"trunnion/shop/view/history"
	"trunnion/shop/view/viewtest"
)

// saved saves the demo with edits and returns the revision.
func (s *shop) saved(why string, edits ...jobfile.Edit) int {
	s.t.Helper()
	var now, then Job
	s.want(200, &now, "GET", "/api/jobs/demo", nil)
	s.want(200, &then, "PUT", "/api/jobs/demo", SaveRequest{Text: now.Text, Edits: edits, Who: "Ines", Why: why}, "If-Match", etag(now.Revision))
	return then.Revision
}

func (s *shop) wayOf(req history.WayRequest) *history.WayBack {
	s.t.Helper()
	v := new(history.WayBack)
	req.Units = "metric"
	if req.Edits == nil {
		req.Edits = []jobfile.Edit{}
	}
	s.want(200, v, "POST", "/api/jobs/demo/way", req)
	return v
}

// Clicks, a collar and a spring are changed over three revisions; the way back
// says what to turn, and its edits give the builds as they were.
func TestWayBackPutsTheBuildsAsTheyWere(t *testing.T) {
	s := openShop(t, t.TempDir(), true)
	s.saved("clicks", viewtest.Set("builds.kit.setup.click.front", "10"), viewtest.Set("builds.kit.setup.click.rear", "5"))
	s.saved("height", viewtest.Set("builds.kit.setup.platform.front_left", "3 mm"), viewtest.Set("builds.kit.setup.platform.front_right", "3 mm"))
	newest := s.saved("spring", viewtest.Set("parts.springs.rear-60.rate", "maker 70 N/mm"), viewtest.Set("builds.kit.price", "3100 EUR"))
	text := s.demo()

	w := s.wayOf(history.WayRequest{Text: text, To: 1})
	if len(w.Turns) < 4 || !strings.Contains(w.Turns[len(w.Turns)-1].Text, "clicks") || len(w.Cautions) == 0 || len(w.After) == 0 || w.Refuse != "" {
		t.Fatalf("the way back is %+v", w)
	}
	if len(w.Edits) == 0 || len(w.Record) == 0 {
		t.Fatalf("edits %+v, on paper %+v", w.Edits, w.Record)
	}
	// Tried on the desk, nothing is left to turn.
	again := s.wayOf(history.WayRequest{Text: text, Edits: w.Edits, To: 1})
	if len(again.Turns) != 0 || len(again.Edits) != 0 {
		t.Errorf("after the edits there is left %+v", again.Turns)
	}
	// Two revisions: the difference, and the other way round.
	there, back := s.wayOf(history.WayRequest{From: 1, To: newest}), s.wayOf(history.WayRequest{From: newest, To: 1})
	if len(there.Lines) != 6 || len(back.Lines) != 6 || there.Lines[0].From != back.Lines[0].To || there.Lines[0].Kind != "setup" {
		t.Errorf("there %+v, back %+v", there.Lines, back.Lines)
	}
	s.want(404, nil, "POST", "/api/jobs/demo/way", history.WayRequest{From: 1, To: 99, Units: "metric", Edits: []jobfile.Edit{}})
	s.want(422, nil, "POST", "/api/jobs/demo/way", history.WayRequest{To: 1, Units: "metric", Edits: []jobfile.Edit{}})
}

// What value by value does not bring back comes back whole: a spring that was
// swapped for another and taken out of the job, a bar that was taken off.
func TestWayBackBringsLostPartsAlong(t *testing.T) {
	s := openShop(t, t.TempDir(), true)
	first := s.demo()
	spring := "rear-60"
	if !strings.Contains(first, spring+":") {
		t.Fatal("the demo has no such spring")
	}
	s.saved("another spring", viewtest.Set("parts.springs.rear-99", "{rate: maker 99 N/mm, free: maker 230 mm, block: maker 77 mm}"), viewtest.Set("builds.kit.rear.spring", "rear-99"))
	w := s.wayOf(history.WayRequest{Text: s.demo(), To: 1})
	if len(w.Edits) == 0 {
		t.Fatalf("no edits: %q, %+v", w.Refuse, w.Lines)
	}
	again := s.wayOf(history.WayRequest{Text: s.demo(), Edits: w.Edits, To: 1})
	if len(again.Turns) != 0 {
		t.Errorf("after the edits there is left %+v", again.Turns)
	}
	// And forward again from the first, which has no such spring.
	forth := s.wayOf(history.WayRequest{Text: first, To: 2})
	if len(forth.Edits) == 0 || forth.Edits[0].Path != "parts.springs.rear-99" {
		t.Fatalf("forth: %q, %+v", forth.Refuse, forth.Edits)
	}
	done := s.wayOf(history.WayRequest{Text: first, Edits: forth.Edits, To: 2})
	if len(done.Turns) != 0 {
		t.Errorf("after the edits there is left %+v", done.Turns)
	}
}

func TestHistoryHasRevisionsAndNotesInOrder(t *testing.T) {
	s := openShop(t, t.TempDir(), true)
	s.saved("clicks", viewtest.Set("builds.kit.setup.click.front", "10"))
	s.want(201, nil, "POST", "/api/jobs/demo/notes", NoteRequest{Kind: "change", Who: "Tam", Change: &store.Changed{
		What: "builds.kit.setup.click.rear", From: "7", To: "9", Reason: "nervous under brakes", Words: "calmer", Where: "lap 4", Verdict: "keep",
	}})
	s.saved("clicks again", viewtest.Set("builds.kit.setup.click.front", "9"))
	var h history.View
	s.want(200, &h, "GET", "/api/jobs/demo/history", nil)
	var got []string
	for _, e := range h.Entries {
		got = append(got, e.ID)
	}
	if h.Newest != 3 || len(got) != 4 || got[0] != "r3" || got[2] != "r2" || got[3] != "r1" {
		t.Fatalf("the history is %v", got)
	}
	if l := h.Entries[0].Lines; len(l) != 1 || l[0].From != "10" || l[0].To != "9" || h.Entries[0].Why != "clicks again" {
		t.Errorf("revision 3 changed %+v", l)
	}
	n := h.Entries[1].Note
	if n == nil || n.Title != "Rear click, kit" || n.Verdict != "keep" || n.Words != "calmer" || !slices.Contains(n.Facts, "lap 4") {
		t.Errorf("the note is %+v", n)
	}
	s.want(404, nil, "GET", "/api/jobs/none/history", nil)
}

// Five hundred revisions are told in one answer that a page can hold.
func TestHistoryOfFiveHundred(t *testing.T) {
	s := openShop(t, t.TempDir(), true)
	r, err := s.store.Job(t.Context(), "demo")
	if err != nil {
		t.Fatal(err)
	}
	for k := 2; k <= 500; k++ {
		text, err := s.server.edited(t.Context(), string(r.Text), []jobfile.Edit{viewtest.Set("builds.kit.setup.click.front", fmt.Sprint(k%20))})
		if err != nil {
			t.Fatal(err)
		}
		if r, err = s.store.Save(t.Context(), store.Change{Job: "demo", Expected: r.Number, Who: "Ines", Why: fmt.Sprint("step ", k), Text: text}); err != nil {
			t.Fatal(err)
		}
	}
	start := time.Now()
	var h history.View
	s.want(200, &h, "GET", "/api/jobs/demo/history", nil)
	t.Logf("500 revisions in %v", time.Since(start))
	if len(h.Entries) != 500 || h.Entries[0].Lines[0].To != "0" || h.Entries[498].Lines[0].To != "2" {
		t.Errorf("%d entries", len(h.Entries))
	}
}

func TestRemeasureAgainstTheRecord(t *testing.T) {
	s := openShop(t, t.TempDir(), true)
	ask := func(build string, heights, loads []string) *history.Remeasured {
		t.Helper()
		v := new(history.Remeasured)
		s.want(200, v, "POST", "/api/jobs/demo/remeasure", history.RemeasureRequest{TryRequest: view.TryRequest{Text: s.demo(), Edits: []jobfile.Edit{}, Units: "metric"}, Build: build, Heights: heights, Loads: loads})
		return v
	}
	empty := ask("kit", []string{}, []string{})
	if len(empty.Record) != 4 || len(empty.Off) != 0 || empty.BuildName == "" || strings.Contains(empty.Record[0].Height, "–") {
		t.Fatalf("the record is %+v", empty)
	}
	height := empty.Record[0].Height // as it is shown
	bare, _, _ := strings.Cut(height, " ")
	v := ask("kit", []string{bare, "", "500 mm", "tall"}, []string{})
	if len(v.Off) != 2 || v.Off[0].Over || !v.Off[1].Over || v.Off[1].Corner != "rear-left" {
		t.Errorf("off: %+v", v.Off)
	}
	if len(v.Faults) != 1 || v.Faults[0].Path != "height.rear-right" {
		t.Errorf("faults: %+v", v.Faults)
	}
	s.want(422, nil, "POST", "/api/jobs/demo/remeasure", history.RemeasureRequest{TryRequest: view.TryRequest{Text: s.demo(), Edits: []jobfile.Edit{}, Units: "metric"}, Build: "none", Heights: []string{}, Loads: []string{}})
}
