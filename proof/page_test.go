package proof

import (
	"bytes"
	"encoding/json"
	"io"
	"net/http"
	"net/http/httptest"
	"testing"
	"testing/fstest"
	"time"

	"trunnion/shop/access"
	"trunnion/shop/store"
	"trunnion/shop/web"
)

// page is the program's page on a store of its own.
type page struct {
	t   testing.TB
	url string
}

func openPage(t testing.TB) *page {
	t.Helper()
	kept, err := store.Open(t.Context(), t.TempDir(), store.Options{Who: "a test"})
	if err != nil {
		t.Fatal(err)
	}
	now := time.Now()
	s := web.New(t.Context(), web.Options{
		Store: kept, Guard: access.New(access.Options{People: kept, Sessions: kept.Sessions(), Open: true, Now: func() time.Time { return now }}),
		Version: "test", Hosts: []string{"127.0.0.1"}, Loopback: true, Page: fstest.MapFS{"index.html": {Data: []byte("page")}},
	})
	h := httptest.NewServer(s.Handler())
	t.Cleanup(func() {
		s.Close()
		h.Close()
		if err := kept.Close(); err != nil {
			t.Error(err)
		}
	})
	return &page{t, h.URL}
}

// edit is one change as the page sends it.
type edit struct {
	Path  string  `json:"path"`
	Value *string `json:"value"`
}

// try asks the page for a job with edits. What only repeats the text or counts
// time is left out.
func (p *page) try(text []byte, edits ...edit) map[string]any {
	p.t.Helper()
	if edits == nil {
		edits = []edit{}
	}
	in, err := json.Marshal(map[string]any{"text": string(text), "edits": edits, "units": "metric"})
	if err != nil {
		p.t.Fatal(err)
	}
	r, err := http.NewRequestWithContext(p.t.Context(), http.MethodPost, p.url+"/api/try", bytes.NewReader(in))
	if err != nil {
		p.t.Fatal(err)
	}
	r.Header.Set("Content-Type", "application/json")
	got, err := http.DefaultClient.Do(r)
	if err != nil {
		p.t.Fatal(err)
	}
	defer got.Body.Close() //nolint:errcheck // it is read whole
	data, err := io.ReadAll(got.Body)
	if err != nil || got.StatusCode != http.StatusOK {
		p.t.Fatalf("try: %v, %d: %s", err, got.StatusCode, data[:min(len(data), 400)])
	}
	var tree map[string]any
	if err := json.Unmarshal(data, &tree); err != nil {
		p.t.Fatal(err)
	}
	for _, name := range []string{"key", "ms", "fields", "applied"} {
		delete(tree, name)
	}
	return tree
}

// shown is a page's answer taken apart.
func shown(tree map[string]any) *asked {
	a := &asked{figures: map[string]float64{}, words: map[string]string{}}
	for name, v := range tree {
		a.tree("page:"+name, "", v)
	}
	return a
}
