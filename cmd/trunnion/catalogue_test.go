package main

import (
	"bytes"
	"encoding/json"
	"net/http"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"trunnion/shop/jobfile"
	"trunnion/shop/web"
)

// The page chooses from its store's catalogue, the command from a file or from the store's
// folder: the same springs give the same document. What the demo brought is not sold.
func TestACatalogueByCommandAndHTTP(t *testing.T) {
	text := oneRoad(t)
	dir, data := t.TempDir(), t.TempDir()
	path, file := filepath.Join(dir, "job.yaml"), filepath.Join(dir, "springs.yaml")
	springs := map[string]string{
		"long-55": "{rate: maker 55 N/mm, free: maker 282 mm, block: 95 mm, price: 84.50 EUR}",
		"long-60": "{rate: maker 60 N/mm, free: maker 268 mm, block: 95 mm, price: 90 EUR}",
	}
	list := "parts:\n  springs:\n"
	for _, id := range []string{"long-55", "long-60"} {
		list += "    " + id + ": " + springs[id] + "\n"
	}
	for name, what := range map[string][]byte{path: text, file: []byte(list)} {
		if err := os.WriteFile(name, what, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	assess := func(more ...string) any {
		var out, said bytes.Buffer
		run(append([]string{"assess", path, "--samples", "20", "--format", "json"}, more...), streams{strings.NewReader(""), &out, &said})
		var doc any
		if err := json.Unmarshal(out.Bytes(), &doc); err != nil {
			t.Fatalf("%v: %v: %s", more, err, said.String())
		}
		return doc
	}
	served := startServer(t, serveCommand{place: place{Data: data}, Listen: "127.0.0.1:0", Units: "metric"})
	question, err := json.Marshal(web.Ask{Text: string(text), Units: "metric", With: json.RawMessage(`{"samples":20}`)})
	if err != nil {
		t.Fatal(err)
	}
	asked := func() any {
		status, got := ask(t, served.address+"/api/ask/assess", question)
		var doc any
		if err := json.Unmarshal(got, &doc); err != nil || status != http.StatusOK {
			t.Fatalf("HTTP %d: %.300s", status, got)
		}
		return doc
	}
	if n := len(partsBought(asked())); n > 0 {
		t.Errorf("%d springs are bought of a catalogue that has the demo's alone", n)
	}
	for id, piece := range springs {
		body, err := json.Marshal(map[string]any{"kind": "spring", "slug": id, "name": id, "text": piece, "source": "list", "date": "", "stock": "", "revision": 0, "why": "sold", "who": "Olga"})
		if err != nil {
			t.Fatal(err)
		}
		req, err := http.NewRequestWithContext(t.Context(), http.MethodPut, served.address+"/api/catalogue", bytes.NewReader(body))
		if err != nil {
			t.Fatal(err)
		}
		req.Header.Set("Content-Type", "application/json")
		r, err := http.DefaultClient.Do(req)
		if err != nil {
			t.Fatal(err)
		}
		r.Body.Close() //nolint:errcheck,gosec // only its status is looked at
		if r.StatusCode != http.StatusOK {
			t.Fatalf("the catalogue takes no spring: %d", r.StatusCode)
		}
	}
	byPage, byFile := asked(), assess("--catalogue", file)
	if bought := partsBought(byFile); bought["spring:long-55 84.50 EUR"]+bought["spring:long-60 90 EUR"] == 0 || len(bought) > 2 {
		t.Errorf("bought: %v", bought)
	}
	if !reflect.DeepEqual(byPage, byFile) {
		t.Error("page and command choose differently from the same springs")
	}
	served.end(t)
	if byFolder := assess("--catalogue", data); !reflect.DeepEqual(byFolder, byFile) {
		t.Error("the folder of the catalogue and a file of the same springs differ")
	}
	var out, said bytes.Buffer
	if code := run([]string{"assess", path, "--catalogue", filepath.Join(dir, "none.yaml")}, streams{strings.NewReader(""), &out, &said}); code != exitUsage {
		t.Errorf("a catalogue that is not there ends with %d: %s", code, said.String())
	}
}

// partsBought counts parts and prices of remedies and of plans' steps, which are of the
// catalogue.
func partsBought(doc any) map[string]int {
	out := map[string]int{}
	var look func(v any)
	look = func(v any) {
		switch v := v.(type) {
		case map[string]any:
			if part, ok := v["part"].(string); ok && strings.HasPrefix(part, "spring:") {
				price, _ := v["price"].(string)
				out[part+" "+price]++
			}
			for _, w := range v {
				look(w)
			}
		case []any:
			for _, w := range v {
				look(w)
			}
		}
	}
	look(doc)
	return out
}

// The example's parts are all parts that can be bought, with a price.
func TestExampleCatalogue(t *testing.T) {
	list, err := (&catalogue{Catalogue: "../../examples/catalogue.yaml"}).parts(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	got := jobfile.ReadStock(list)
	if n := len(got.Springs) + len(got.Dampers) + len(got.Stops); n != len(list) || n < 300 {
		t.Errorf("%d of %d parts can be bought, want all of hundreds", n, len(list))
	}
	for _, d := range got.Dampers {
		if d.Price == "" || !d.Open.Known() || len(d.Curves) == 0 {
			t.Errorf("%s has no price, length or curve", d.Called)
		}
	}
	for _, s := range got.Stops {
		if s.Price == "" || !s.Length.Known() || len(s.Table) == 0 {
			t.Errorf("%s has no price, length or table", s.Called)
		}
	}
	for _, s := range got.Springs {
		if s.Price == "" || !s.Inside.Known() || !s.Block.Known() {
			t.Errorf("%s has no price, inside diameter or block length", s.Called)
		}
	}
}
