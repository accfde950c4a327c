package validation

import (
	"flag"
	"os"
	"slices"
	"testing"

	"trunnion/chassis/figure"
)

var (
	publish = flag.String("publish", "", "write the page there, from the records in -records")
	records = flag.String("records", "", "what the tests wrote")
)

const root = "../.."

// TestPageNamesEveryModel fails when docs/validation.md does not name the models that
// the tests say they hold, each against the same. Its digits are those of the last
// make validation.
func TestPageNamesEveryModel(t *testing.T) {
	subjects, err := Subjects(root)
	if err != nil {
		t.Fatal(err)
	}
	if len(subjects) < 50 {
		t.Fatalf("only %d tests say what they hold", len(subjects))
	}
	var want []string
	seen := map[string]string{}
	for _, s := range subjects {
		want = append(want, s.Model+" | "+s.Source)
		if other := seen[s.Model]; other != "" {
			t.Errorf("%s and %s are about a model of one name, %q", other, s.Test, s.Model)
		}
		seen[s.Model] = s.Test
		for _, c := range s.Codes {
			if _, ok := figure.Look(c); !ok {
				t.Errorf("%s: no result is called %s", s.Test, c)
			}
		}
	}
	slices.Sort(want)
	if *publish != "" {
		page(t, subjects)
	}
	text, err := os.ReadFile(root + "/docs/validation.md")
	if err != nil {
		t.Fatal(err)
	}
	got := Models(string(text))
	for _, m := range want {
		if !slices.Contains(got, m) {
			t.Errorf("docs/validation.md does not name %q: make validation", m)
		}
	}
	for _, m := range got {
		if !slices.Contains(want, m) {
			t.Errorf("docs/validation.md names %q, which no test holds any more: make validation", m)
		}
	}
}

// page writes the page anew.
func page(t *testing.T, subjects []Subject) {
	t.Helper()
	f, err := os.Open(*records)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close() //nolint:errcheck // only read
	found, err := Read(f)
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range subjects {
		if found[s.Test].Values == 0 {
			t.Errorf("%s wrote no record: it did not run, or failed", s.Test)
		}
	}
	practices, err := Practices(root)
	if err != nil {
		t.Fatal(err)
	}
	if t.Failed() {
		return
	}
	if err := os.WriteFile(*publish, []byte(Page(subjects, found, practices)), 0o644); err != nil {
		t.Fatal(err)
	}
}

// A comparison is counted for the test that it stands in, with the worst of them.
func TestWorstIsKept(t *testing.T) {
	r := &Record{}
	r.take(Worst{Off: 1, Allowed: 10})
	r.take(Worst{Off: 3, Allowed: 4})
	r.take(Worst{Off: 2, Allowed: 100})
	if r.Values != 3 || r.Worst.Off != 3 {
		t.Errorf("%+v", r)
	}
}
