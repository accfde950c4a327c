package web

import (
	"compress/gzip"
	"encoding/json"
	"io"
	"net/http"
	"strings"
	"testing"

	"trunnion/shop/jobfile"
	"trunnion/shop/view"
	"trunnion/shop/view/viewtest"
)

// fetch asks as a browser does, which says itself what it can unpack, and returns the
// answer as it came over the wire.
func (s *shop) fetch(method, path, body, accepts string) (*http.Response, []byte) {
	s.t.Helper()
	r, err := http.NewRequestWithContext(s.t.Context(), method, s.url+path, strings.NewReader(body))
	if err != nil {
		s.t.Fatal(err)
	}
	r.Header.Set("Accept-Encoding", accepts)
	r.Header.Set("Content-Type", "application/json")
	answer, err := s.client.Do(r)
	if err != nil {
		s.t.Fatal(err)
	}
	defer answer.Body.Close() //nolint:errcheck // a test reads it whole
	text, err := io.ReadAll(answer.Body)
	if err != nil {
		s.t.Fatal(err)
	}
	return answer, text
}

// TestAnswersArePacked holds the largest answer of the page to a fifth of its size on the
// wire, and to the same content.
func TestAnswersArePacked(t *testing.T) {
	s := openShop(t, t.TempDir(), true)
	text, err := json.Marshal(view.TryRequest{Text: viewtest.DemoText(t), Units: "metric", Edits: []jobfile.Edit{}})
	if err != nil {
		t.Fatal(err)
	}
	ask := string(text)
	plain, whole := s.fetch("POST", "/api/try", ask, "identity")
	if got := plain.Header.Get("Content-Encoding"); got != "" {
		t.Errorf("packed as %q for a browser that cannot unpack", got)
	}
	if plain.StatusCode != http.StatusOK {
		t.Fatalf("%d: %s", plain.StatusCode, view.Cut(string(whole), 300))
	}
	answer, packed := s.fetch("POST", "/api/try", ask, "gzip")
	if got := answer.Header.Get("Content-Encoding"); got != "gzip" {
		t.Fatalf("Content-Encoding %q, want gzip", got)
	}
	if !strings.Contains(answer.Header.Get("Vary"), "Accept-Encoding") {
		t.Error("an answer that hangs on what the browser can unpack does not say so")
	}
	if 5*len(packed) > len(whole) {
		t.Errorf("%d B on the wire for an answer of %d B", len(packed), len(whole))
	}
	unpacked, err := gzip.NewReader(strings.NewReader(string(packed)))
	if err != nil {
		t.Fatal(err)
	}
	text, err = io.ReadAll(unpacked)
	if err != nil || len(text) == 0 || text[0] != '{' {
		t.Errorf("unpacked: %v, %.40q", err, text)
	}
}

// TestWhatCarriesASessionIsNotPacked holds the answer about who is here, and the stream, to
// their plain form.
func TestWhatCarriesASessionIsNotPacked(t *testing.T) {
	s := openShop(t, t.TempDir(), true)
	if answer, _ := s.fetch("GET", "/api/session", "", "gzip"); answer.Header.Get("Content-Encoding") != "" {
		t.Error("the session's answer is packed")
	}
	// Small answers are left as they are.
	if answer, _ := s.fetch("GET", "/", "", "gzip"); answer.Header.Get("Content-Encoding") != "" {
		t.Error("an answer of a few bytes is packed")
	}
}
