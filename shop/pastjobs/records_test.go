package pastjobs

import (
	"bytes"
	"context"
	"encoding/csv"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"trunnion/chassis/car"
	"trunnion/chassis/figure"
	"trunnion/chassis/study"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
	"trunnion/shop/store"
)

func TestLinesPutTheSettingsFirst(t *testing.T) {
	s := openStore(t)
	text := demo(t)
	keep(t, s, "j", 0, text)
	keep(t, s, "j", 1, changed(t, text, "owner: Mrs Ollerwick", "owner: Mr Quill", "click: {front: 7, rear: 7}", "click: {front: 7, rear: 9}"))
	steps, err := s.Steps(t.Context(), "j")
	if err != nil {
		t.Fatal(err)
	}
	want := []Line{
		{"builds.kit.setup.click.rear", "Rear click, kit", "7", "9", "setup"},
		{"job.owner", "Owner", "Mrs Ollerwick", "Mr Quill", "words"},
	}
	if diff := cmp.Diff(want, Lines(steps[1].Changes)); diff != "" {
		t.Errorf("lines (-want +got):\n%s", diff)
	}
}

func TestRemeasureFindsWhatIsOffByMoreThanBothBands(t *testing.T) {
	text := changed(t, demo(t), kitSetup, "readings:\n      load: {front_left: 420 ± 2 kg, front_right: 421 ± 2 kg, rear_left: 315 ± 2 kg, rear_right: 300 ± 2 kg}\n      arch_height: {front_left: 350 ± 1 mm, front_right: 350 ± 1 mm, rear_left: 352 ± 1 mm, rear_right: 352 ± 1 mm}\n    "+kitSetup)
	job, a := computed(t, text)
	r, err := RecordOf(job, "kit", a)
	if err != nil {
		t.Fatal(err)
	}
	in := func(v, half float64) figure.Input { return figure.Input{Value: v, Half: half, Origin: figure.Measured} }
	// √(1² + 1²) = 1.414 mm: 1.4 mm agrees and 1.5 mm is off; √(2² + 2²) = 2.83 kg.
	heights := [4]figure.Input{in(0.3514, 1e-3), in(0.3515, 1e-3), in(0.352, 1e-3), {}}
	loads := [4]figure.Input{in(422.8, 2), in(423.9, 2), {}, in(300, 2)}
	got := Remeasure(r, heights, loads, quantity.Metric)
	want := map[string]bool{"height 0": false, "height 1": true, "height 2": false, "load 0": false, "load 1": true, "load 3": false}
	if len(got) != len(want) {
		t.Errorf("%d figures were compared: %+v", len(got), got)
	}
	for _, o := range got {
		key := fmt.Sprint(o.What, " ", o.Corner)
		if over, there := want[key]; !there || over != o.Over || o.Record.From != "measured after fitting" {
			t.Errorf("%s: %+v; want over %v", key, o, over)
		}
	}
	if !strings.Contains(got[1].Text, "Off by 1.5 mm") {
		t.Errorf("it says %q", got[1].Text)
	}
	// Without readings the record is computed, as the car is weighed.
	job, a = computed(t, demo(t))
	r, err = RecordOf(job, "kit", a)
	if err != nil || r.State != "empty" || !r.Height[0].There || r.Height[0].From != "computed" || r.Height[0].Half <= 0 {
		t.Errorf("the record is %+v (%v)", r, err)
	}
	if r, err = RecordOf(job, "arrived", nil); err != nil || r.Load[0].Value != 426 || r.Load[0].From != "measured as it arrived" {
		t.Errorf("the record of the build weighed is %+v (%v)", r, err)
	}
	if _, err = RecordOf(job, "none", a); err == nil {
		t.Error("a build that is not there has a record")
	}
}

func TestComeBacksAreCounted(t *testing.T) {
	s := openStore(t)
	for _, id := range []string{"a", "b", "c", "d"} {
		keep(t, s, id, 0, changed(t, demo(t), "Mrs Ollerwick", "Owner "+id))
	}
	for _, n := range []struct{ job, cause, step, part, cost, hours string }{
		{"a", "top nut loose", "fitting", "kit-front", "120 EUR", "1 h"},
		{"a", "Top  nut loose", "fitting", "kit-front", "80.50 EUR", "0.5 h"},
		{"b", "bushes wound", "settling", "", "", ""},
		{"c", "top nut loose", "bench-check", "kit-rear", "90 GBP", ""},
	} {
		note(t, s, store.Note{Job: n.job, Kind: store.ComeBackNote, NoteBody: store.NoteBody{ComeBack: &store.ComeBack{Cause: n.cause, Step: n.step, Part: n.part, Cost: n.cost, Hours: n.hours}}})
	}
	notes, err := s.FindNotes(t.Context(), store.NoteQuery{Kind: store.ComeBackNote})
	if err != nil {
		t.Fatal(err)
	}
	got := CountComeBacks(notes, 4)
	if got.All != 4 || got.Share != 0.75 || len(got.ByCause) != 2 || len(got.ByStep) != 3 || len(got.Part) != 2 {
		t.Fatalf("counted %+v", got)
	}
	if c := got.ByCause[0]; c.What != "top nut loose" || c.Times != 3 || c.Jobs != 2 || c.Hours != 1.5 || !cmp.Equal(c.Cost, []string{"200.50 EUR", "90.00 GBP"}) {
		t.Errorf("the first cause is %+v", c)
	}
	if c := got.ByStep[0]; c.What != "fitting" || c.Times != 2 {
		t.Errorf("the first step is %+v", c)
	}
	if empty := CountComeBacks(nil, 0); empty.All != 0 || empty.Share != 0 {
		t.Errorf("nothing counts as %+v", empty)
	}
}

const leaves = "\nhandover:\n  build: kit\n  recheck: {date: %s, after: 800 km, what: heights and rings}\n  service: {date: 2028-11-20, what: oil and seals}\n"

func TestDueListByTheDayItIs(t *testing.T) {
	s := openStore(t)
	today := time.Date(2026, 12, 1, 15, 0, 0, 0, time.FixedZone("", 3600))
	for id, date := range map[string]string{"late": "2026-11-20", "today": "2026-12-01", "soon": "2026-12-05", "far": "2027-06-01", "done": "2026-11-25"} {
		keep(t, s, id, 0, append(changed(t, demo(t), "Mrs Ollerwick", "Owner "+id), []byte(fmt.Sprintf(leaves, date))...))
	}
	keep(t, s, "none", 0, demo(t))
	keep(t, s, "broken", 0, []byte("trunnion: job/1\ncar: {name: half}\n"))
	note(t, s, store.Note{Job: "done", Kind: store.RecheckNote, NoteBody: store.NoteBody{Recheck: &store.Recheck{Km: 700, Next: &store.RecheckAt{Date: "2026-12-03"}}}})
	for range 2 { // derived, then kept
		got, err := DueList(t.Context(), s, today, 14)
		if err != nil {
			t.Fatal(err)
		}
		var list []string
		for _, d := range got {
			list = append(list, fmt.Sprint(d.Job, " ", d.Days))
		}
		if want := []string{"late -11", "today 0", "done 2", "soon 4"}; !cmp.Equal(list, want) {
			t.Errorf("due are %v; want %v", list, want)
		}
		if want := "Owner late, Marl 2.0 estate, TW 42 OLW: follow-up check: heights and rings on 2026-11-20, 11 days overdue, or after 800 km."; got[0].Text != want {
			t.Errorf("it says %q; want %q", got[0].Text, want)
		}
	}
	// A new revision is read anew.
	keep(t, s, "late", 1, append(changed(t, demo(t), "Mrs Ollerwick", "Owner late"), []byte(fmt.Sprintf(leaves, "2027-01-01"))...))
	got, err := DueList(t.Context(), s, today, 14)
	if err != nil || len(got) != 3 || got[0].Job != "today" {
		t.Errorf("after the new date due are %+v (%v)", got, err)
	}
}

func TestDampersAddUpTheirHours(t *testing.T) {
	s := openStore(t)
	keep(t, s, "j", 0, demo(t))
	day := time.Date(2026, 1, 10, 0, 0, 0, 0, time.UTC)
	for _, v := range []store.Service{
		{Serial: "K 1", Work: store.RanHours, Use: "circuit", Hours: 30},
		{Serial: "k1", Work: store.Serviced, Gas: "18 bar"},
		{Serial: "K 1", Work: store.RanHours, Hours: 42},
		{Serial: "K 2", Work: store.RanHours, Use: "circuit", Hours: 51},
		{Serial: "K 3", Work: store.RanHours, Use: "road", Km: 12_000},
		{Serial: "K 4", Work: store.RanHours, Hours: 9},
		{Serial: "K 5", Work: store.RanHours, Use: "circuit", Hours: 99},
		{Serial: "K 5", Work: store.Rebuilt},
		{Serial: "K 6", Work: store.Serviced, Use: "road"},
	} {
		note(t, s, store.Note{Job: "j", Kind: store.ServiceNote, Taken: day, NoteBody: store.NoteBody{Service: &v}})
	}
	notes, err := s.FindNotes(t.Context(), store.NoteQuery{})
	if err != nil {
		t.Fatal(err)
	}
	verdicts := func(today time.Time) map[string]string {
		out := map[string]string{}
		for _, d := range Dampers(notes, today) {
			out[d.Serial] = d.Verdict
		}
		return out
	}
	want := map[string]string{"K 1": "soon", "K 2": "due", "K 3": "not yet", "K 4": "not known", "K 5": "not yet", "K 6": "not yet"}
	if got := verdicts(day.AddDate(0, 6, 0)); !cmp.Equal(got, want) {
		t.Errorf("verdicts %v; want %v", got, want)
	}
	want["K 1"], want["K 5"], want["K 6"] = "due", "due", "due"
	if got := verdicts(day.AddDate(4, 0, 0)); !cmp.Equal(got, want) {
		t.Errorf("four years later %v; want %v", got, want)
	}
	list := Dampers(notes, day)
	for _, d := range list {
		if d.Serial == "K 1" && (d.Hours != 42 || d.SinceRebuild != 72 || d.AllHours != 72 || d.Gas != "18 bar" || !strings.Contains(d.Text, "common practice, no source")) {
			t.Errorf("the damper is %+v", d)
		}
	}
	if list[0].Serial != "K 2" {
		t.Errorf("the first is %s", list[0].Serial)
	}
}

func TestNearestIsTheCarThatIsMostAlike(t *testing.T) {
	s := openStore(t)
	text := demo(t)
	heavier := func(kg int) []byte {
		return changed(t, text, "front_left: 426 kg, front_right: 428 kg", fmt.Sprintf("front_left: %d kg, front_right: %d kg", 426+kg, 428+kg))
	}
	keep(t, s, "same", 0, changed(t, text, "Mrs Ollerwick", "Owner same"))
	keep(t, s, "near", 0, heavier(10))
	keep(t, s, "far", 0, heavier(90))
	keep(t, s, "stiff", 0, changed(t, text, "front-46: {rate: maker 46 N/mm", "front-46: {rate: maker 90 N/mm", "free: maker 230 mm", "free: maker 190 mm"))
	keep(t, s, "broken", 0, []byte("trunnion: job/1\ncar: {name: half}\n"))
	keep(t, s, "self", 0, text)
	note(t, s, store.Note{Job: "near", Kind: store.ComeBackNote, NoteBody: store.NoteBody{ComeBack: &store.ComeBack{Cause: "top nut loose", Step: "fitting", Cost: "120 EUR"}}})
	note(t, s, store.Note{Job: "same", Kind: store.ChangeNote, NoteBody: store.NoteBody{Change: &store.Changed{What: "rear click", From: "7", To: "9", Verdict: "keep", Words: "better over the bridge"}}})
	got, err := FindNearest(t.Context(), s, text, "self", 3, quantity.Metric, plain)
	if err != nil {
		t.Fatal(err)
	}
	if got.Of != 4 || got.Doubt == "" || len(got.Near) != 3 {
		t.Fatalf("found %+v", got)
	}
	if a := got.Near[0]; a.Job.ID != "same" || a.Distance > 1e-9 || a.Build != "kit" || len(a.Why) != 7 || !cmp.Equal(a.Became, []string{"1 change kept, 0 reverted", "in the owner's words: “better over the bridge”"}) {
		t.Errorf("the nearest is %+v", a)
	}
	if b := got.Near[1]; b.Job.ID != "near" || b.Became[0] != "came back: top nut loose, 120 EUR" || b.Distance <= 0 {
		t.Errorf("the second is %+v", b)
	}
	for i := 1; i < len(got.Near); i++ {
		if got.Near[i].Distance < got.Near[i-1].Distance {
			t.Error("they are not in order")
		}
	}
	if none, err := FindNearest(t.Context(), openStore(t), text, "", 0, quantity.Metric, plain); err != nil || len(none.Near) != 0 {
		t.Errorf("an empty store gives %+v (%v)", none, err)
	}
	if _, err := FindNearest(t.Context(), s, []byte("trunnion: job/1\n"), "", 0, quantity.Metric, plain); err == nil {
		t.Error("a job that cannot be computed has neighbours")
	}
}

func TestEvidencePackJudgesNothing(t *testing.T) {
	text := append(demo(t), []byte(`
handover:
  build: kit
  limits:
    - {figure: droop-left, least: 45 mm, says: "=some droop must be left", from: a leaflet, dated: "2024"}
    - {figure: height-change, most: 50 mm, says: no more, from: another, dated: "2023-05-01"}
    - {figure: other, says: ask, from: a third, dated: "2020"}
`)...)
	job, a := computed(t, text)
	p, err := EvidencePack(job, a, "", "", quantity.Metric)
	if err != nil {
		t.Fatal(err)
	}
	var words, table bytes.Buffer
	if err := p.WriteText(&words); err != nil {
		t.Fatal(err)
	}
	if err := p.WriteCSV(&table); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"some droop must be left", "a leaflet", "2024", "droop left", "Signature: ____", "Fingerprint", "kit-front", "376.0 mm", "to be measured on the car", "hub to arch after fitting, measured; front left: ____"} {
		if !strings.Contains(words.String(), want) {
			t.Errorf("the pack does not say %q", want)
		}
	}
	for _, never := range []string{"approved", "passed", "complies", "compliant", "is legal", "is safe", " ok"} {
		if strings.Contains(strings.ToLower(words.String()), never) {
			t.Errorf("the pack says %q", never)
		}
	}
	r := csv.NewReader(&table)
	r.FieldsPerRecord = -1
	rows, err := r.ReadAll()
	if err != nil || len(rows) < 50 {
		t.Errorf("the table has %d rows (%v)", len(rows), err)
	}
	for _, row := range rows {
		for _, cell := range row {
			if strings.HasPrefix(cell, "=") {
				t.Errorf("a cell begins a formula: %q", cell)
			}
		}
	}
	if _, err := EvidencePack(job, a, "none", "", quantity.Metric); err == nil {
		t.Error("a build that is not there has a pack")
	}
}

func TestRevisionAtAMoment(t *testing.T) {
	day := time.Date(2026, 11, 16, 10, 0, 0, 0, time.UTC)
	history := []store.Revision{{Number: 3, When: day.Add(2 * time.Hour)}, {Number: 2, When: day.Add(time.Microsecond)}, {Number: 1, When: day}}
	for at, want := range map[time.Time]int{day.Add(-time.Second): 0, day: 1, day.Add(time.Hour): 2, day.Add(2 * time.Hour): 3, day.AddDate(1, 0, 0): 3} {
		if got := RevisionAt(history, at); got != want {
			t.Errorf("at %v stood revision %d; want %d", at, got, want)
		}
	}
}

// plain is the study behind traits, as the desk makes it.
func plain(ctx context.Context, job *jobfile.Job, build *car.Build, loads []car.Load) (*study.Answer, error) {
	opt := study.Defaults()
	opt.Samples, opt.NoModes, opt.NoCorners, opt.NoWorkings, opt.Lowering = 0, true, true, true, nil
	builds := []*car.Build{build}
	if w := job.Car.Weighed.Build; build.ID != w {
		builds = append(builds, buildOf(job, w))
	}
	return study.Run(ctx, study.Job{Car: job.Car, Builds: builds, Loads: loads}, opt)
}
