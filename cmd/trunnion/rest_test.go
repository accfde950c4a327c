package main

import (
	"bytes"
	"encoding/json"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"trunnion/chassis/figure"
	"trunnion/examples"
	"trunnion/shop/answer"
	"trunnion/shop/desk"
	"trunnion/shop/quantity"
	"trunnion/shop/view"
	"trunnion/shop/view/builds"
	"trunnion/shop/wording"
)

// printed are the command's figures and verdicts, by the id that a page gives a figure.
type printed struct {
	document answer.Document
	text     map[string]string   // as the page would write it
	verdict  map[string][]string // of those that were judged, one a finding, worst first
}

func printedOf(t *testing.T, job string) *printed {
	t.Helper()
	var out, said bytes.Buffer
	run([]string{"assess", job, "--format", "json"}, streams{strings.NewReader(""), &out, &said})
	p := &printed{text: map[string]string{}, verdict: map[string][]string{}}
	if err := json.Unmarshal(out.Bytes(), &p.document); err != nil {
		t.Fatalf("%v: %s", err, said.String())
	}
	teller := wording.New(nil, quantity.Metric)
	ids := map[string]string{}
	for i := range p.document.Values {
		v := valueOf(&p.document.Values[i])
		id := desk.ValueID(v)
		ids[p.document.Values[i].ID] = id
		p.text[id] = teller.Value(v)
	}
	for _, f := range p.document.Findings {
		id := ids[f.Value]
		p.verdict[id] = append(p.verdict[id], f.Verdict)
	}
	return p
}

// valueOf is a value of the command's document as the program has it.
func valueOf(j *answer.Value) *figure.Value {
	text := func(s *string) string { return or(s, "") }
	v := &figure.Value{
		Code: j.Code, Tier: figure.Tier(j.Tier), Value: or(j.Value, 0), State: figure.State(j.State), Reason: text(j.Reason), HasBand: j.Low != nil, Low: or(j.Low, 0), High: or(j.High, 0),
		Place: figure.Place{
			Build: text(j.Build), Load: text(j.Load), Corner: slices.Index(figure.CornerNames[:], text(j.Corner)), At: text(j.At), HasClick: j.Click != nil, Click: or(j.Click, 0),
			Direction: text(j.Direction), Velocity: or(j.Velocity, 0), Road: text(j.Road), Event: text(j.Event), Speed: or(j.Speed, 0), Mode: text(j.Mode), Threshold: or(j.Threshold, 0),
		},
	}
	return v
}

func or[T any](p *T, otherwise T) T {
	if p == nil {
		return otherwise
	}
	return *p
}

// A page that rests says what the command says: every figure, every verdict. While the
// hand moves it is rough, and says so.
func TestAPageAtRestAgreesWithTheCommand(t *testing.T) {
	served := startServer(t, serveCommand{place: place{Data: t.TempDir()}, Listen: "127.0.0.1:0", Units: "metric"})
	jobs := map[string][]byte{"each side its own": fromScratch(t)["each side its own"]}
	for _, name := range []string{"marl-estate/job.yaml", "sedley-hatch/job.yaml", "wend-roadster/job.yaml"} {
		text, err := examples.Jobs.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		jobs[name] = text
	}
	for name, text := range jobs {
		path := filepath.Join(t.TempDir(), "job.yaml")
		if err := os.WriteFile(path, text, 0o600); err != nil {
			t.Fatal(err)
		}
		command := printedOf(t, path)
		for _, full := range []bool{false, true} {
			body, err := json.Marshal(view.TryRequest{Text: string(text), Edits: nil, Units: "metric", Full: full})
			if err != nil {
				t.Fatal(err)
			}
			status, got := ask(t, served.address+"/api/try", bytes.Replace(body, []byte(`"edits":null`), []byte(`"edits":[]`), 1))
			if status != http.StatusOK {
				t.Fatalf("%s: HTTP %d: %.300s", name, status, got)
			}
			var page builds.View
			if err := json.Unmarshal(got, &page); err != nil {
				t.Fatal(err)
			}
			if page.Full != full {
				t.Fatalf("%s: asked for full %t, the page is full %t", name, full, page.Full)
			}
			if full {
				compareRest(t, name, &page, command)
			}
		}
	}
}

func compareRest(t *testing.T, name string, page *builds.View, command *printed) {
	t.Helper()
	compared, judged := 0, 0
	figureOf := func(where, id, text, verdict string) {
		if id == "" {
			return
		}
		compared++
		if want, there := command.text[id]; !there || text != want {
			t.Errorf("%s, %s: the page says %q, the command %q (%s)", name, where, text, want, id)
		}
		if want, there := command.verdict[id]; there {
			judged++
			if !slices.Contains(want, verdict) {
				t.Errorf("%s, %s: the page says %s, the command %v (%s)", name, where, verdict, want, id)
			}
		}
	}
	for _, row := range page.Rows {
		for _, c := range row.Cells {
			figureOf(row.Label+", "+row.Sub, c.ValueID, c.Text, c.Verdict)
		}
	}
	for _, table := range page.Tables {
		for _, row := range table.Rows {
			for _, c := range row.Cells {
				if c.ValueID != "" && c.Verdict != "" {
					figureOf(table.Title+", "+row.Label, c.ValueID, c.Text, c.Verdict)
				}
			}
		}
	}
	// The first finding of every build leads both.
	for _, b := range page.Builds {
		worst := "no-limit"
		for _, f := range command.document.Findings {
			for i := range command.document.Values {
				if v := &command.document.Values[i]; v.ID == f.Value && or(v.Build, "") == b.ID && view.Grades[f.Verdict] < view.Grades[worst] {
					worst = f.Verdict
				}
			}
		}
		if b.Verdict != worst {
			t.Errorf("%s: the page calls %s %s, the command's worst is %s", name, b.ID, b.Verdict, worst)
		}
	}
	if compared < 20 || judged < 5 {
		t.Errorf("%s: %d figures and %d verdicts were compared", name, compared, judged)
	}
}
