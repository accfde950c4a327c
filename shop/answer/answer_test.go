package answer_test

import (
	"bytes"
	"cmp"
	"context"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"trunnion/chassis/drives"

	gocmp "github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
	"trunnion/chassis/remedy"
	"trunnion/chassis/study"
	"trunnion/examples"
	"trunnion/shop/answer"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
	"trunnion/shop/wording"
)

var done = map[string]*answer.Document{}

// assess runs an example once, as the command line does, with fewer draws.
func assess(t testing.TB, path string, workers int) *answer.Document {
	t.Helper()
	key := fmt.Sprint(path, workers)
	if d := done[key]; d != nil {
		return d
	}
	done[key] = fresh(t, path, workers)
	return done[key]
}

func fresh(t testing.TB, path string, workers int) *answer.Document {
	t.Helper()
	text, err := examples.Jobs.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	job, faults := jobfile.ReadBytes(text, path)
	if job == nil {
		t.Fatalf("%s: %v", path, faults)
	}
	opt := study.Defaults()
	opt.Samples, opt.Workers = 64, workers
	ctx := context.Background()
	a, err := study.Run(ctx, study.Job{Car: job.Car, Builds: job.Builds, Loads: job.Loads, Brief: &job.Brief}, opt)
	if err != nil {
		t.Fatal(err)
	}
	drive := drives.Defaults()
	drive.Samples, drive.Duration = 3, 4
	if err := drives.Ride(ctx, a, drive, nil); err != nil {
		t.Fatal(err)
	}
	list := finding.Judge(a)
	if _, err := remedy.Judge(ctx, a, list); err != nil {
		t.Fatal(err)
	}
	return answer.New(answer.Source{
		Answer: a, Findings: list, Filled: job.Filled, Teller: wording.New(a, quantity.Metric), Program: "test", SHA256: job.SHA256,
	})
}

func written(t testing.TB, d *answer.Document) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := d.WriteJSON(&out); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

var jobs = []string{"marl-estate/job.yaml", "wend-roadster/job.yaml", "wend-roadster/measured.yaml"}

func TestWhatIsWrittenIsReadAgain(t *testing.T) {
	for _, path := range jobs {
		d := assess(t, path, 2)
		first := written(t, d)
		if !json.Valid(first) {
			t.Fatalf("%s: the document is no JSON", path)
		}
		back, err := answer.Read(bytes.NewReader(first))
		if err != nil {
			t.Fatalf("%s: %v", path, err)
		}
		if diff := gocmp.Diff(d, back, cmpopts.IgnoreUnexported(answer.Document{})); diff != "" {
			t.Errorf("%s: written and read again it differs:\n%s", path, diff)
		}
		if second := written(t, back); !bytes.Equal(first, second) {
			t.Errorf("%s: written again it has other bytes", path)
		}
	}
	if _, err := answer.Read(strings.NewReader(`{"format":"other/1"}`)); err == nil {
		t.Error("another format is read as an answer")
	}
}

func TestSameBytesForAnyNumberOfWorkers(t *testing.T) {
	one := written(t, assess(t, jobs[0], 1))
	for _, workers := range []int{2, 7} {
		if !bytes.Equal(one, written(t, assess(t, jobs[0], workers))) {
			t.Errorf("%d workers give other bytes than 1", workers)
		}
	}
}

// contract is the keys that every value has, in any case.
var contract = []string{
	"id", "code", "build", "load", "corner", "at", "click", "direction", "velocity", "road", "event", "speed", "mode",
	"tier", "value", "unit", "low", "high", "state", "reason", "working", "warnings",
}

func TestEveryKeyIsThere(t *testing.T) {
	var doc map[string]json.RawMessage
	if err := json.Unmarshal(written(t, assess(t, jobs[0], 2)), &doc); err != nil {
		t.Fatal(err)
	}
	for _, key := range []string{"format", "program", "job_sha256", "reference_build", "settings", "builds", "loads", "values", "findings", "workings", "curves", "warnings"} {
		if _, ok := doc[key]; !ok {
			t.Errorf("the document has no %q", key)
		}
	}
	var values []map[string]any
	if err := json.Unmarshal(doc["values"], &values); err != nil {
		t.Fatal(err)
	}
	if len(values) < 3000 {
		t.Fatalf("only %d values", len(values))
	}
	corners := []any{"front-left", "front-right", "rear-left", "rear-right", nil}
	states := []any{"ok", "estimated", "outside", "unknown"}
	tiers := []any{"static", "modes", "screening", "time"}
	for _, v := range values {
		for _, key := range contract {
			if _, ok := v[key]; !ok {
				t.Fatalf("value %v has no %q", v["id"], key)
			}
		}
		if !slices.Contains(corners, v["corner"]) || !slices.Contains(states, v["state"]) || !slices.Contains(tiers, v["tier"]) {
			t.Errorf("value %v: corner %v, state %v, tier %v", v["id"], v["corner"], v["state"], v["tier"])
		}
		if (v["value"] == nil) != (v["state"] == "unknown") {
			t.Errorf("value %v is %v and its state %v", v["id"], v["value"], v["state"])
		}
		if v["value"] == nil && v["reason"] == nil {
			t.Errorf("value %v is not known and no reason is given", v["id"])
		}
		entry, ok := figure.Look(v["code"].(string))
		if !ok || entry.Unit != v["unit"] {
			t.Errorf("value %v: code %v in %v is not in the register", v["id"], v["code"], v["unit"])
		}
	}
}

// key is what a value is found and sorted by.
func key(v *answer.Value) []string {
	text := func(s *string) string {
		if s == nil {
			return ""
		}
		return *s
	}
	number := func(f *float64) string {
		if f == nil {
			return ""
		}
		return fmt.Sprintf("%015.6f", *f)
	}
	click := ""
	if v.Click != nil {
		click = fmt.Sprintf("%05d", *v.Click)
	}
	return []string{
		v.Code, text(v.Build), text(v.Load), text(v.Corner), text(v.At), click, text(v.Direction), number(v.Velocity),
		text(v.Road), text(v.Event), number(v.Speed), text(v.Mode), number(v.Threshold),
	}
}

func TestCodeAndPlaceAreUniqueAndSorted(t *testing.T) {
	for _, path := range jobs {
		d := assess(t, path, 2)
		for i := range d.Values {
			if want := fmt.Sprintf("v%d", i+1); d.Values[i].ID != want {
				t.Fatalf("%s: value %d is called %s", path, i, d.Values[i].ID)
			}
			if i > 0 && slices.CompareFunc(key(&d.Values[i-1]), key(&d.Values[i]), cmp.Compare[string]) >= 0 {
				t.Errorf("%s: %v does not come before %v", path, key(&d.Values[i-1]), key(&d.Values[i]))
			}
		}
	}
}

// An outsider with the JSON alone can follow every working: from its printed
// equation and inputs to its printed result, to every digit; and on through the
// workings of its inputs.
func TestEveryWorkingFollowsFromWhatIsPrinted(t *testing.T) {
	for _, path := range jobs {
		var d answer.Document
		if err := json.Unmarshal(written(t, assess(t, path, 2)), &d); err != nil {
			t.Fatal(err)
		}
		used := map[string]bool{}
		checked, worst := 0, 0.0
		for id, w := range d.Workings {
			law, ok := d.Laws[w.Law]
			if !ok || w.Result == nil {
				t.Errorf("%s %s: no law %q, or no result", path, id, w.Law)
				continue
			}
			if w.Given != "" && len(d.Given[w.Given]) == 0 {
				t.Errorf("%s %s: nothing is said of %s", path, id, w.Given)
			}
			formula := figure.Working{Equation: law.Equation, Solves: law.Solves, Result: *w.Result}
			for symbol, in := range w.Terms {
				k := slices.IndexFunc(law.Terms, func(x answer.LawTerm) bool { return x.Symbol == symbol })
				if k < 0 {
					t.Fatalf("%s %s: the law %s has no %s", path, id, w.Law, symbol)
				}
				value := in.Value
				if behind, ok := d.Workings[in.Of]; ok {
					used[in.Of] = true
					if value = behind.Result; d.Laws[behind.Law].Unit != law.Terms[k].Unit {
						t.Errorf("%s %s: %s is in %s, its working %s in %s", path, id, symbol, law.Terms[k].Unit, in.Of, d.Laws[behind.Law].Unit)
					}
				}
				if source, ok := d.Sources[in.Of]; ok {
					value = source.Value
				}
				if value == nil {
					t.Errorf("%s %s: %s of %s has no value", path, id, symbol, law.Equation)
					continue
				}
				formula.Terms = append(formula.Terms, figure.Term{Symbol: symbol, Value: *value})
			}
			got, err := formula.Evaluate()
			if err != nil {
				t.Errorf("%s %s: %v", path, id, err)
				continue
			}
			if got != *w.Result && (law.Solves == "" || math.Abs(got-*w.Result) > 1e-9*math.Abs(*w.Result)+1e-11) {
				t.Errorf("%s %s: %s gives %.17g, printed is %.17g", path, id, law.Equation, got, *w.Result)
			}
			checked++
		}
		for i := range d.Values {
			v := &d.Values[i]
			if v.Working == nil {
				continue
			}
			used[*v.Working] = true
			w, ok := d.Workings[*v.Working]
			if !ok || v.Value == nil {
				t.Errorf("%s %s: no working %s, or no value", path, v.ID, *v.Working)
				continue
			}
			worst = max(worst, apart(*v.Value, *w.Result))
			if apart(*v.Value, *w.Result) > 1e-9 || w.Law != v.Code || d.Laws[w.Law].Unit != v.Unit {
				t.Errorf("%s %s: %s is %.12g %s, its working by %s gives %.12g", path, v.ID, v.Code, *v.Value, v.Unit, w.Law, *w.Result)
			}
		}
		if checked != len(d.Workings) || checked < 200 {
			t.Errorf("%s: %d of %d workings were followed", path, checked, len(d.Workings))
		}
		if len(used) != len(d.Workings) {
			t.Errorf("%s: %d workings, %d of them used", path, len(d.Workings), len(used))
		}
		t.Logf("%s: %d workings followed; value and working differ by %.1e at most", path, checked, worst)
	}
}

// apart is the difference of two figures, relative where they are large.
func apart(a, b float64) float64 { return math.Abs(a-b) / max(1e-3, math.Abs(a), math.Abs(b)) }

func TestFindingsPointAtValues(t *testing.T) {
	d := assess(t, jobs[0], 2)
	values := map[string]*answer.Value{}
	for i := range d.Values {
		values[d.Values[i].ID] = &d.Values[i]
	}
	verdicts := []string{"clear", "close", "over", "no-limit", "unknown"}
	remedies := 0
	for i := range d.Findings {
		f := &d.Findings[i]
		if values[f.Value] == nil || f.Rank != i+1 || !slices.Contains(verdicts, f.Verdict) || f.Text == "" {
			t.Errorf("finding %d: %+v", i+1, f)
		}
		for _, id := range f.Also {
			if values[id] == nil || values[id].Code != values[f.Value].Code {
				t.Errorf("finding %d: also %s", i+1, id)
			}
		}
		if f.Versus != nil && *values[*f.Versus].Build != d.ReferenceBuild {
			t.Errorf("finding %d is compared with build %s", i+1, *values[*f.Versus].Build)
		}
		if f.Remedy != nil {
			remedies++
			if !strings.HasPrefix(f.Remedy.Path, "builds."+*values[f.Value].Build+".") || f.Remedy.ValueAfter == nil || f.Remedy.Change == nil {
				t.Errorf("finding %d: remedy %+v", i+1, f.Remedy)
			}
		}
	}
	if remedies == 0 {
		t.Error("no finding of the demo has a remedy")
	}
}

func TestCSVHasOneRowAValue(t *testing.T) {
	d := assess(t, jobs[0], 2)
	var out bytes.Buffer
	if err := d.WriteCSV(&out); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&out).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) != len(d.Values)+1 {
		t.Fatalf("%d rows for %d values", len(rows), len(d.Values))
	}
	value := slices.Index(rows[0], "value")
	for i, r := range rows[1:] {
		v := &d.Values[i]
		if r[0] != v.ID || (r[value] == "") != (v.Value == nil) {
			t.Fatalf("row %d: %v is not value %+v", i+1, r, v)
		}
		if v.Value != nil {
			var got float64
			if _, err := fmt.Sscan(r[value], &got); err != nil || got != *v.Value {
				t.Fatalf("row %d: %s is not %v", i+1, r[value], *v.Value)
			}
		}
	}
}

// Numbers that are no numbers must not reach a document.
func TestNoNaN(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	place := figure.Place{Build: "a", Load: "b", Corner: figure.NoCorner, At: "body"}
	bad := &figure.Working{Equation: "m = x", Unit: "kg", Result: nan, Terms: []figure.Term{{Symbol: "x", Value: inf, Unit: "kg"}}}
	a := &study.Answer{
		Reference: "a",
		Values: []figure.Value{
			{Code: "sprung-mass", Place: place, Value: inf, Low: nan, High: inf, HasBand: true, State: figure.OK, Working: bad},
			{Code: "front-share", Place: place, Value: 0.5, Low: nan, High: inf, HasBand: true, State: figure.OK},
		},
		Curves:   []study.Curve{{Code: "c", Corner: figure.NoCorner, X: []float64{0, nan}, Y: []float64{inf, 1}}},
		Warnings: []study.Warning{{Code: "wheel-hangs", Corner: 2, Value: nan, Unit: "m"}},
	}
	findings := []finding.Finding{{
		Code: "droop-short", Verdict: finding.Over, Value: &a.Values[0], Probability: nan, Limit: &finding.Limit{Value: nan, Unit: "kg"},
		Remedies: []finding.Remedy{{Code: "x", Change: inf, After: nan, Unit: "m", Worsens: []finding.Effect{{Code: "sprung-mass", Before: nan, After: inf, Unit: "kg"}}}},
		Narrow:   &figure.Narrow{Share: nan},
	}}
	text := written(t, answer.New(answer.Source{Answer: a, Findings: findings, Teller: wording.New(a, quantity.Metric)}))
	back, err := answer.Read(bytes.NewReader(text))
	if err != nil {
		t.Fatalf("%v in %s", err, text)
	}
	for i := range back.Values {
		v := &back.Values[i]
		if v.Code == "sprung-mass" && (v.Value != nil || v.State != "unknown" || v.Reason == nil) {
			t.Errorf("an infinite value is written as %+v", v)
		}
		if v.Low != nil || v.High != nil {
			t.Errorf("a band without ends is written as %+v", v)
		}
	}
}

// Two drives of one name are said, not dropped in silence; the same drive asked
// for twice is no fault.
func TestSamePlaceTwice(t *testing.T) {
	place := figure.Place{Build: "a", Load: "b", Corner: figure.NoCorner, At: "floor", Event: "pothole-50", Speed: 10}
	value := func(v float64) figure.Value {
		return figure.Value{Code: "body-acceleration-peak", Place: place, Tier: figure.Time, Value: v, State: figure.OK}
	}
	for _, row := range []struct {
		second float64
		warns  int
	}{{3, 0}, {4, 1}} {
		a := &study.Answer{Values: []figure.Value{value(3), value(row.second)}}
		d := answer.New(answer.Source{Answer: a, Teller: wording.New(a, quantity.Metric)})
		if len(d.Values) != 1 || len(d.Warnings) != row.warns {
			t.Errorf("3 and %g: %d values and %d warnings, want 1 and %d", row.second, len(d.Values), len(d.Warnings), row.warns)
		}
	}
}

func TestKeep(t *testing.T) {
	text, err := examples.Jobs.ReadFile(jobs[0])
	if err != nil {
		t.Fatal(err)
	}
	job, _ := jobfile.ReadBytes(text, jobs[0])
	opt := study.Defaults()
	opt.Samples = 0
	a, err := study.Run(context.Background(), study.Job{Car: job.Car, Builds: job.Builds, Loads: job.Loads, Brief: &job.Brief}, opt)
	if err != nil {
		t.Fatal(err)
	}
	d := answer.New(answer.Source{Answer: a, Teller: wording.New(a, quantity.Metric), Keep: func(build, load string) bool {
		return (build == "" || build == "kit") && (load == "" || load == "holiday")
	}})
	if len(d.Builds) != 1 || len(d.Loads) != 1 || len(d.Values) == 0 {
		t.Fatalf("%d builds, %d loads, %d values", len(d.Builds), len(d.Loads), len(d.Values))
	}
	for i := range d.Values {
		if v := &d.Values[i]; *v.Build != "kit" || v.Load != nil && *v.Load != "holiday" {
			t.Errorf("%s is of %s, %v", v.ID, *v.Build, v.Load)
		}
	}
}

func TestFaults(t *testing.T) {
	faults := []jobfile.Fault{{Line: 41, Path: "front.damper.open", Got: "is 310 mm", Want: "longer than closed, 352 mm", Kind: jobfile.Refuse}, {Got: "odd", Kind: jobfile.Warn}}
	var out bytes.Buffer
	if err := answer.WriteFaults(&out, "job.yaml", faults); err != nil {
		t.Fatal(err)
	}
	var got answer.Faults
	if err := json.Unmarshal(out.Bytes(), &got); err != nil {
		t.Fatal(err)
	}
	want := answer.Faults{Format: "trunnion.faults/1", File: "job.yaml", Faults: []jobfile.Fault{
		{Line: 41, Path: "front.damper.open", Got: "is 310 mm", Want: "longer than closed, 352 mm", Kind: "refuse"}, {Got: "odd", Kind: "warn"},
	}}
	if diff := gocmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	out.Reset()
	if err := answer.WriteFaults(&out, "job.yaml", nil); err != nil || !json.Valid(out.Bytes()) {
		t.Errorf("no faults: %v, %s", err, out.Bytes())
	}
}

func BenchmarkDocument(b *testing.B) {
	text, err := examples.Jobs.ReadFile(jobs[0])
	if err != nil {
		b.Fatal(err)
	}
	job, _ := jobfile.ReadBytes(text, jobs[0])
	opt := study.Defaults()
	opt.Samples = 0
	a, err := study.Run(context.Background(), study.Job{Car: job.Car, Builds: job.Builds, Loads: job.Loads, Brief: &job.Brief}, opt)
	if err != nil {
		b.Fatal(err)
	}
	teller := wording.New(a, quantity.Metric)
	b.ReportAllocs()
	for b.Loop() {
		var out bytes.Buffer
		if err := answer.New(answer.Source{Answer: a, Teller: teller}).WriteJSON(&out); err != nil {
			b.Fatal(err)
		}
		b.SetBytes(int64(out.Len()))
	}
}
