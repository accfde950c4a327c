package levelling_test

import (
	"encoding/json"
	"math"
	"os"
	"strings"
	"testing"
	"time"

	"trunnion/chassis/car"
	"trunnion/chassis/scales"
	"trunnion/shop/intake"
	"trunnion/shop/jobfile"
	"trunnion/shop/levelling"
	"trunnion/shop/quantity"
	"trunnion/shop/wording"
)

func demo(t testing.TB) ([]byte, *jobfile.Job, *car.Build) {
	t.Helper()
	text, err := os.ReadFile("../../examples/marl-estate/job.yaml")
	if err != nil {
		t.Fatal(err)
	}
	job, faults := jobfile.ReadBytes(text, "job.yaml")
	if job == nil {
		t.Fatal(faults)
	}
	b, err := levelling.Find(job, "")
	if err != nil {
		t.Fatal(err)
	}
	return text, job, b
}

func rigOf(t testing.TB, job *jobfile.Job, b *car.Build, collars *[4]float64) *scales.Rig {
	t.Helper()
	r, err := levelling.Stand(job, b, "driver", collars, scales.EighthTurn)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// typed is what a rig's stand would be typed as.
func typed(r scales.Reading) *intake.RoundTyped {
	out := &intake.RoundTyped{BarsOff: "yes"}
	for i := range 4 {
		out.Loads = append(out.Loads, quantity.Format(r.Load[i], quantity.Mass, quantity.Metric, 1))
		out.Heights = append(out.Heights, quantity.Format(r.Height[i], quantity.Length, quantity.Metric, 1))
	}
	return out
}

// keeper keeps rounds as a store does.
type keeper struct {
	t       testing.TB
	job     *jobfile.Job
	entries []levelling.Entry
	build   *car.Build
}

func (k *keeper) add(id, text string) {
	at := time.Date(2026, 3, 1, 10, len(k.entries), 0, 0, time.UTC)
	k.entries = append(k.entries, levelling.Entry{ID: id, Number: len(k.entries) + 1, Taken: at, Saved: at, Who: "Bea", Text: text})
}

func (k *keeper) round(id string, r *intake.RoundTyped, turns [4]float64) {
	k.t.Helper()
	text, err := levelling.Read(k.entries).RoundText(k.job, k.build, "driver", r, turns, levelling.Collars(k.build))
	if err != nil {
		k.t.Fatal(err)
	}
	k.add(id, text)
}

func (k *keeper) withdraw(id string) {
	k.t.Helper()
	text, err := levelling.WithdrawText(id, "typed wrong")
	if err != nil {
		k.t.Fatal(err)
	}
	k.add("undo "+id, text)
}

func turnsBehind(t testing.TB, k *keeper) (ids string, turned [][4]float64) {
	t.Helper()
	list, of := levelling.Read(k.entries).Weighings(k.job, k.build, "driver")
	for i := range list {
		if of[i] == nil {
			ids += "job "
		} else {
			ids += of[i].ID + " "
		}
		turned = append(turned, list[i].Turned)
	}
	return strings.TrimSpace(ids), turned
}

// A round taken back last takes its turns along: they are said again with what
// takes its place. One taken back later leaves its turns with the next.
func TestWithdrawnRounds(t *testing.T) {
	_, job, b := demo(t)
	r := typed(scales.Reading{Load: [4]float64{432, 465, 327, 321}, Height: [4]float64{0.35, 0.345, 0.358, 0.355}})
	k := &keeper{t: t, job: job, build: b}
	k.round("a", r, [4]float64{})
	k.round("b", r, [4]float64{1, 0, 0, -1})
	k.withdraw("b")
	k.round("c", r, [4]float64{1, 0, 0, -1})
	k.round("d", r, [4]float64{0, 0.5, 0, 0})
	if ids, turned := turnsBehind(t, k); ids != "a c d" || turned[1] != [4]float64{1, 0, 0, -1} || turned[2] != [4]float64{0, 0.5, 0, 0} {
		t.Errorf("after one was typed anew: %s, %v", ids, turned)
	}
	k.withdraw("c")
	k.withdraw("c") // twice is once
	if ids, turned := turnsBehind(t, k); ids != "a d" || turned[1] != [4]float64{1, 0.5, 0, -1} {
		t.Errorf("after an earlier one went: %s, %v", ids, turned)
	}
	k.withdraw("a")
	if ids, turned := turnsBehind(t, k); ids != "d" || turned[0] != [4]float64{1, 0.5, 0, -1} {
		t.Errorf("after the first went: %s, %v", ids, turned)
	}
	h := levelling.Read(k.entries)
	if len(h.Rounds) != 4 || h.Rounds[2].Withdrawn == nil || h.Rounds[2].Withdrawn.Why != "typed wrong" || h.Rounds[2].Withdrawn.Who != "Bea" || h.Rounds[3].Number != 4 {
		t.Errorf("what was kept is no longer all there: %+v", h.Rounds)
	}
	if len(h.Standing()) != 1 || h.Load() != "driver" {
		t.Errorf("%d rounds stand, load %q", len(h.Standing()), h.Load())
	}
}

// Rounds in another load state give their turns, not their readings.
func TestRoundsInAnotherLoad(t *testing.T) {
	_, job, b := demo(t)
	r := typed(scales.Reading{Load: [4]float64{432, 465, 327, 321}, Height: [4]float64{0.35, 0.345, 0.358, 0.355}})
	k := &keeper{t: t, job: job, build: b}
	k.round("a", r, [4]float64{})
	text, err := levelling.Read(k.entries).RoundText(k.job, b, "four-aboard", r, [4]float64{1, 1, 0, 0}, levelling.Collars(b))
	if err != nil {
		t.Fatal(err)
	}
	k.add("b", text)
	k.round("c", r, [4]float64{0, 0, 1, 1})
	if ids, turned := turnsBehind(t, k); ids != "a c" || turned[1] != [4]float64{1, 1, 1, 1} {
		t.Errorf("%s, %v", ids, turned)
	}
}

// What is kept in the job changes nothing of what the rounds say: they are
// counted from where the collars stood before the first.
func TestKeptRoundsAreNotCountedTwice(t *testing.T) {
	text, job, b := demo(t)
	k := &keeper{t: t, job: job, build: b}
	rig := rigOf(t, job, b, nil)
	model := scales.NewModel(rig, scales.Priors(), scales.Noises([4]float64{120, 120, 60, 60}))
	st, err := model.Stand([4]float64{})
	if err != nil {
		t.Fatal(err)
	}
	k.round("a", typed(st.Reading), [4]float64{})
	turns := [4]float64{0.25, -0.25, -2.125, 2.125}
	var move [4]float64
	for i := range 4 {
		move[i] = turns[i] * 1.5e-3
	}
	if st, err = model.Stand(move); err != nil {
		t.Fatal(err)
	}
	k.round("b", typed(st.Reading), turns)

	work := func(text []byte) *levelling.Result {
		job, faults := jobfile.ReadBytes(text, "job.yaml")
		if job == nil {
			t.Fatal(faults)
		}
		b, err := levelling.Find(job, "kit")
		if err != nil {
			t.Fatal(err)
		}
		h := levelling.Read(k.entries)
		list, _ := h.Weighings(job, b, "driver")
		l, err := levelling.Work(b, "driver", rigOf(t, job, b, h.Collars()), scales.Road.Level(scales.FrontRightRearLeft), list)
		if err != nil {
			t.Fatal(err)
		}
		return l
	}
	l := work(text)
	for i, at := range l.At() {
		if math.Abs(at-move[i]) > 1e-9 {
			t.Errorf("collar %d stands at %.3f mm, want %.3f mm", i, at*1e3, move[i]*1e3)
		}
	}
	length := func(v float64) string { return quantity.Format(v, quantity.Length, quantity.Metric, 2) }
	mass := func(v float64) string { return quantity.Format(v, quantity.Mass, quantity.Metric, 2) }
	puts := l.Keep(text, length, mass, &levelling.Read(k.entries).Rounds[1].Round)
	if len(puts) != 14 {
		t.Errorf("%d values go into the job, want eight readings, load state, bars and four collars: %v", len(puts), puts)
	}
	kept := text
	for _, p := range puts {
		if kept, err = jobfile.Put(kept, p.Path, p.Value); err != nil {
			t.Fatalf("%s = %s: %v", p.Path, p.Value, err)
		}
	}
	again := work(kept)
	if got, want := again.Plan.Exact, l.Plan.Exact; got != want {
		t.Errorf("after it was kept the move is %v, before %v", got, want)
	}
	if left := again.Keep(kept, length, mass, &levelling.Read(k.entries).Rounds[1].Round); len(left) != 0 {
		t.Errorf("kept twice: %v", left)
	}
	job2, _ := jobfile.ReadBytes(kept, "job.yaml")
	for _, b := range job2.Builds {
		if b.ID == "kit" && (math.Abs(b.Setup.Platform[2].Value+3.19e-3) > 1e-9 || b.Readings == nil || b.Readings.State != "driver" || b.Readings.BarsOn) {
			t.Errorf("the job has the collar at %v and the readings %+v", b.Setup.Platform[2].Value, b.Readings)
		}
	}
}

// Where heights are wanted, the collars begin where these put them; once a round
// is kept, the collars stand in the job and the heights do not.
func TestWantedHeightsOnScales(t *testing.T) {
	text, _, _ := demo(t)
	text, err := jobfile.Insert(text, "builds.kit.setup.heights", "[340, 340, 345, 345 mm]")
	if err != nil {
		t.Fatal(err)
	}
	job, faults := jobfile.ReadBytes(text, "job.yaml")
	if job == nil {
		t.Fatal(faults)
	}
	b, err := levelling.Find(job, "kit")
	if err != nil {
		t.Fatal(err)
	}
	rig, err := levelling.Stand(job, b, "empty", nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	st, err := rig.Stand([4]float64{})
	if err != nil {
		t.Fatal(err)
	}
	// Wanted in the state as weighed, which is empty; drop links off changes a
	// little from side to side.
	for i, want := range [4]float64{0.340, 0.340, 0.345, 0.345} {
		if math.Abs(st.Reading.Height[i]-want) > 0.5e-3 || rig.At[i] > -2e-3 {
			t.Errorf("corner %d stands at %.2f mm, want %.1f mm; its collar at %.2f mm", i, st.Reading.Height[i]*1e3, want*1e3, rig.At[i]*1e3)
		}
	}
	w, _ := typed(st.Reading).Weigh()
	w.Turned = [4]float64{}
	l, err := levelling.Work(b, "empty", rig, scales.Road.Level(scales.FrontRightRearLeft), []intake.Weighing{w})
	if err != nil {
		t.Fatal(err)
	}
	length := func(v float64) string { return quantity.Format(v, quantity.Length, quantity.Metric, 2) }
	mass := func(v float64) string { return quantity.Format(v, quantity.Mass, quantity.Metric, 2) }
	kept := text
	for _, p := range l.Keep(text, length, mass, typed(st.Reading)) {
		if p.Out {
			kept, err = jobfile.Remove(kept, p.Path)
		} else {
			kept, err = jobfile.Put(kept, p.Path, p.Value)
		}
		if err != nil {
			t.Fatalf("%+v: %v", p, err)
		}
	}
	job, faults = jobfile.ReadBytes(kept, "job.yaml")
	if job == nil {
		t.Fatal(faults)
	}
	if b, err = levelling.Find(job, "kit"); err != nil {
		t.Fatal(err)
	}
	for i, at := range levelling.Collars(b) {
		if math.Abs(at-rig.At[i]) > 6e-6 || b.Setup.WantedHeight[i].Known() {
			t.Errorf("corner %d is kept at %.3f mm, it stood at %.3f mm; heights wanted: %v", i, at*1e3, rig.At[i]*1e3, b.Setup.WantedHeight[i].Known())
		}
	}
}

// A round that its gate stops is not learnt, and holds up only itself.
func TestStoppedRoundHoldsUpItselfOnly(t *testing.T) {
	_, job, b := demo(t)
	rig := rigOf(t, job, b, nil)
	st, err := rig.Stand([4]float64{})
	if err != nil {
		t.Fatal(err)
	}
	good, err := rig.Stand([4]float64{1.5e-3, 0, 0, 0})
	if err != nil {
		t.Fatal(err)
	}
	three := typed(st.Reading)
	three.Loads[2] = ""
	weigh := func(r *intake.RoundTyped, turns [4]float64) intake.Weighing {
		w, faults := r.Weigh()
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		w.Turned = turns
		return w
	}
	target := scales.Road.Level(scales.FrontRightRearLeft)
	list := []intake.Weighing{weigh(typed(st.Reading), [4]float64{}), weigh(three, [4]float64{1, 0, 0, 0})}
	l, err := levelling.Work(b, "driver", rig, target, list)
	if err != nil {
		t.Fatal(err)
	}
	if !l.Stopped || l.Plan != nil || l.LastGood() != 0 {
		t.Errorf("three readings: stopped %v, last good %d", l.Stopped, l.LastGood())
	}
	if says := l.Says(wording.New(nil, quantity.Metric)); !strings.Contains(says, "1 of the eight readings are missing, the first at rear left") {
		t.Errorf("says %q", says)
	}
	list = append(list, weigh(typed(good.Reading), [4]float64{}))
	if l, err = levelling.Work(b, "driver", rig, target, list); err != nil {
		t.Fatal(err)
	}
	if l.Stopped || l.LastGood() != 2 || math.Abs(l.At()[0]-1.5e-3) > 1e-9 {
		t.Errorf("read again: stopped %v, last good %d, collar at %v", l.Stopped, l.LastGood(), l.At()[0])
	}
	for i := range 4 { // what was turned before the stopped round is in the forecast
		f := l.Forecast[2].Height[i]
		if math.Abs(f.Value-good.Reading.Height[i]) > 0.4e-3 {
			t.Errorf("corner %d: %.2f mm forecast, %.2f mm read", i, f.Value*1e3, good.Reading.Height[i]*1e3)
		}
	}
}

// Turns that are not said are those that were asked for, and the same answer
// comes every time.
func TestAskedTurns(t *testing.T) {
	_, job, b := demo(t)
	rig := rigOf(t, job, b, nil)
	target := scales.Road.Level(scales.FrontRightRearLeft)
	st, err := rig.Stand([4]float64{})
	if err != nil {
		t.Fatal(err)
	}
	nan := math.NaN()
	asIs := [4]float64{nan, nan, nan, nan}
	first, _ := typed(st.Reading).Weigh()
	l, err := levelling.Work(b, "driver", rig, target, []intake.Weighing{first})
	if err != nil {
		t.Fatal(err)
	}
	if l.Rounds[0].Turned != [4]float64{} {
		t.Errorf("before any round was asked for %v", l.Rounds[0].Turned)
	}
	asked, err := l.Asked()
	if err != nil {
		t.Fatal(err)
	}
	var move [4]float64
	for i := range 4 {
		if asked[i] != l.Plan.Collar[i].Turns {
			t.Errorf("corner %d: %v asked, the plan turns %v", i, asked[i], l.Plan.Collar[i].Turns)
		}
		move[i] = l.Plan.Collar[i].Move
	}
	if st, err = rig.Stand(move); err != nil {
		t.Fatal(err)
	}
	second, _ := typed(st.Reading).Weigh()
	second.Turned = asIs
	var documents [2]string
	for k := range documents {
		two, err := levelling.Work(b, "driver", rig, target, []intake.Weighing{first, second})
		if err != nil {
			t.Fatal(err)
		}
		two.FindSuspects()
		if two.Rounds[1].Turned != move {
			t.Errorf("turned %v, asked for %v", two.Rounds[1].Turned, move)
		}
		text, err := json.Marshal(two.Document("test", wording.New(nil, quantity.Metric)))
		if err != nil {
			t.Fatal(err)
		}
		documents[k] = string(text)
	}
	if documents[0] != documents[1] {
		t.Error("the same rounds have two answers")
	}
}

// A build without collars takes readings, and nothing is turned.
func TestBuildWithoutCollars(t *testing.T) {
	_, job, _ := demo(t)
	b, err := levelling.Find(job, "lower-uprated")
	if err != nil {
		t.Fatal(err)
	}
	rig := rigOf(t, job, b, nil)
	st, err := rig.Stand([4]float64{})
	if err != nil {
		t.Fatal(err)
	}
	w, _ := typed(st.Reading).Weigh()
	l, err := levelling.Work(b, "driver", rig, scales.Road.Level(scales.FrontRightRearLeft), []intake.Weighing{w})
	if err != nil {
		t.Fatal(err)
	}
	if l.Stopped || l.Plan.Turn || l.LastGood() != 0 || levelling.HasCollars(b) {
		t.Errorf("stopped %v, turn %v", l.Stopped, l.Plan.Turn)
	}
	if says := l.Says(wording.New(nil, quantity.Metric)); !strings.Contains(says, "This build has no collars") {
		t.Errorf("says %q", says)
	}
}

// BenchmarkRounds is what the page waits for: a job with three rounds, from what
// was kept to the move with its suspects.
func BenchmarkRounds(b *testing.B) {
	_, job, build := demo(b)
	k := &keeper{t: b, job: job, build: build}
	rig := rigOf(b, job, build, nil)
	var move [4]float64
	for _, turns := range [][4]float64{{}, {0.25, -0.25, -2.125, 2.125}, {0, 0, 0.125, 0}} {
		for i := range 4 {
			move[i] += turns[i] * 1.5e-3
		}
		st, err := rig.Stand(move)
		if err != nil {
			b.Fatal(err)
		}
		k.round("r", typed(st.Reading), turns)
	}
	b.ReportAllocs()
	for b.Loop() {
		h := levelling.Read(k.entries)
		list, _ := h.Weighings(job, build, "driver")
		l, err := levelling.Work(build, "driver", rigOf(b, job, build, h.Collars()), scales.Road.Level(scales.FrontRightRearLeft), list)
		if err != nil {
			b.Fatal(err)
		}
		l.FindSuspects()
	}
}
