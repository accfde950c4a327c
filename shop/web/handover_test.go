package web

import (
	"bytes"
	"image"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"trunnion/shop/intake"
	"trunnion/shop/jobfile"
	"trunnion/shop/sheet"
	"trunnion/shop/view/scales"
	"trunnion/shop/view/viewtest"
)

// left is the demo on the day that its kit leaves.
func left(t *testing.T) string {
	t.Helper()
	list, err := os.ReadFile(filepath.Join("..", "sheet", "testdata", "left.txt"))
	if err != nil {
		t.Fatal(err)
	}
	text := []byte(viewtest.DemoText(t))
	for line := range strings.Lines(string(list)) {
		path, piece, ok := strings.Cut(strings.TrimSuffix(line, "\n"), "\t")
		if !ok {
			continue
		}
		put := jobfile.Put
		if strings.HasPrefix(piece, "{") || strings.HasPrefix(piece, "[") {
			put = jobfile.Insert
		}
		if text, err = put(text, path, piece); err != nil {
			t.Fatal(err)
		}
	}
	return string(text)
}

// TestSheet: a draft until all is done, complete then, and files of what was
// saved.
func TestSheet(t *testing.T) {
	s := openShop(t, t.TempDir(), true)
	ask := func(text string, edits ...jobfile.Edit) *sheet.Sheet {
		var got sheet.Sheet
		s.want(200, &got, "POST", "/api/sheet", SheetRequest{Text: text, Edits: append([]jobfile.Edit{}, edits...), Units: "metric"})
		return &got
	}
	if got := ask(viewtest.DemoText(t)); !got.Draft || len(got.Missing) < 10 || got.Build != "kit" {
		t.Errorf("draft %v, %d missing, build %s", got.Draft, len(got.Missing), got.Build)
	}
	done := left(t)
	if got := ask(done); got.Draft {
		t.Errorf("complete and a draft: %q", got.Missing)
	}
	no := "not-done"
	if got := ask(done, jobfile.Edit{Path: "handover.checks.hoses.state", Value: &no}); !got.Draft || len(got.Missing) != 1 {
		t.Errorf("hoses not done: %q", got.Missing)
	}
	for path, want := range map[string]string{"build": "nobody", "load": "nobody"} {
		body := map[string]any{"text": done, "edits": []jobfile.Edit{}, "units": "metric", path: want}
		if path == "load" {
			continue // an unknown load state of a try falls back to the usual one
		}
		s.want(422, nil, "POST", "/api/sheet", body)
	}
	s.want(422, nil, "POST", "/api/sheet", SheetRequest{Text: "trunnion: job/1\n", Edits: []jobfile.Edit{}, Units: "metric"})

	for format, begin := range map[string]string{"pdf": "%PDF-", "card": "%PDF-", "xlsx": "PK", "csv": "section,what,text", "json": "{", "certifier": ""} {
		status, header, file := s.ask("GET", "/api/jobs/demo/sheet?paper=letter&format="+format, nil)
		if status != 200 || !bytes.HasPrefix(file, []byte(begin)) || !strings.Contains(header.Get("Content-Disposition"), "sheet-n-0042-marl-2-0-estate.") {
			t.Errorf("%s: %d, %s, %.20q", format, status, header.Get("Content-Disposition"), file)
		}
	}
	s.want(422, nil, "GET", "/api/jobs/demo/sheet?format=doc", nil)
	s.want(422, nil, "GET", "/api/jobs/demo/sheet?format=pdf&build=nobody", nil)
	s.want(404, nil, "GET", "/api/jobs/none/sheet?format=pdf", nil)
}

// TestWorkshop keeps name, words and picture, and refuses what is none.
func TestWorkshop(t *testing.T) {
	s := openShop(t, t.TempDir(), true)
	var got WorkshopView
	s.want(200, &got, "GET", "/api/workshop", nil)
	if got.Revision != 0 || got.HasLogo {
		t.Errorf("a new shop says %+v", got)
	}
	s.want(404, nil, "GET", "/api/workshop/logo", nil)
	var picture bytes.Buffer
	if err := png.Encode(&picture, image.NewGray(image.Rect(0, 0, 40, 20))); err != nil {
		t.Fatal(err)
	}
	s.want(200, &got, "PUT", "/api/workshop", WorkshopRequest{Name: "Tarrowby Works", Words: "springs and dampers", RecheckDays: 28, RecheckKm: 800, Logo: picture.Bytes(), Who: "Ines"})
	if got.Revision != 1 || !got.HasLogo || got.Who != "Ines" {
		t.Errorf("saved as %+v", got)
	}
	if status, header, logo := s.ask("GET", "/api/workshop/logo", nil); status != 200 || header.Get("Content-Type") != "image/png" || !bytes.Equal(logo, picture.Bytes()) {
		t.Errorf("the picture comes back as %d %s", status, header.Get("Content-Type"))
	}
	s.want(422, nil, "PUT", "/api/workshop", WorkshopRequest{Name: "T", Revision: 1, Logo: []byte("no picture at all")})
	s.want(409, nil, "PUT", "/api/workshop", WorkshopRequest{Name: "T", Revision: 0})
	var made sheet.Sheet
	s.want(200, &made, "POST", "/api/sheet", SheetRequest{Text: viewtest.DemoText(t), Edits: []jobfile.Edit{}, Units: "imperial"})
	if made.Workshop.Name != "Tarrowby Works" || made.Workshop.Words != "springs and dampers" || made.Units != "imperial" {
		t.Errorf("the sheet says %+v, %s", made.Workshop, made.Units)
	}
	s.want(200, &got, "PUT", "/api/workshop", WorkshopRequest{Name: "Tarrowby Works", Revision: 1, NoLogo: true})
	if got.HasLogo {
		t.Error("the picture was not taken away")
	}
}

// TestDue: a re-check that was agreed is on the list when its day is near, or past.
func TestDue(t *testing.T) {
	s := openShop(t, t.TempDir(), true)
	var got DueList
	s.want(200, &got, "GET", "/api/due", nil)
	if len(got.Due) != 0 {
		t.Errorf("nothing was agreed, and due is %+v", got.Due)
	}
	var job Job
	header := s.want(200, &job, "GET", "/api/jobs/demo", nil)
	past := "2020-02-29"
	s.want(200, nil, "PUT", "/api/jobs/demo", SaveRequest{Text: job.Text, Edits: []jobfile.Edit{{Path: "handover.recheck.date", Value: &past}}, Who: "Ines", Why: "handed over"}, "If-Match", header.Get("ETag"))
	s.want(200, &got, "GET", "/api/due", nil)
	if len(got.Due) != 1 || got.Due[0].Job != "demo" || got.Due[0].Days >= 0 || got.Due[0].Owner != "Mrs Ollerwick" {
		t.Errorf("due is %+v", got.Due)
	}
}

// TestSheetAfterTheScales: what the collars' moves opened again is on the sheet,
// and a check that was done before them counts no more.
func TestSheetAfterTheScales(t *testing.T) {
	s := openShop(t, t.TempDir(), true)
	ask := func() *sheet.Sheet {
		var got sheet.Sheet
		s.want(200, &got, "POST", "/api/sheet", SheetRequest{Text: left(t), Edits: []jobfile.Edit{}, Units: "metric", Job: "demo"})
		return &got
	}
	one := s.round("r1", readAs())
	if got := ask(); got.Draft {
		t.Errorf("a round without a move opened %q", got.Missing)
	}
	second := readAs(func(r *intake.RoundTyped) {
		for i := range 4 {
			r.Loads[i], r.Heights[i] = one.Corners[i].After.Load, one.Corners[i].After.Height
		}
	})
	later := func(r *scales.RoundRequest) { r.Taken = "2026-12-24T10:42:00Z" } // a month after the checks
	s.round("r2", second, later)
	got := ask()
	if whole := strings.Join(got.Missing, "\n"); !got.Draft || !strings.Contains(whole, "alignment at the final height: done 2026-11-23, but the collars were moved again 2026-12-24") {
		t.Errorf("after a move on the scales is missing: %s", whole)
	}
}
