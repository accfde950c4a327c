package desk

import (
	"fmt"
	"runtime"
	"strings"
	"testing"

	"trunnion/chassis/scales"
	"trunnion/examples"
	"trunnion/shop/jobfile"
	"trunnion/shop/levelling"
	"trunnion/shop/quantity"
	"trunnion/shop/symptom"
	"trunnion/shop/wording"
)

// demo is the demo's job with pieces of it changed, path after path.
func demo(t *testing.T, changes ...string) *jobfile.Job {
	t.Helper()
	text, err := examples.Jobs.ReadFile("marl-estate/job.yaml")
	if err != nil {
		t.Fatal(err)
	}
	for i := 0; i < len(changes); i += 2 {
		put := jobfile.Put
		if changes[i+1][0] == '{' || changes[i+1][0] == '[' {
			put = jobfile.Insert
		}
		if text, err = put(text, changes[i], changes[i+1]); err != nil {
			t.Fatal(err)
		}
	}
	job, faults := jobfile.ReadBytes(text, "job.yaml")
	if job == nil {
		t.Fatal(faults)
	}
	return job
}

// Readings that name no state are as weighed: the page chooses that state too, and
// does not leave them out.
func TestReadingsWithoutAStateAreAsWeighed(t *testing.T) {
	job := demo(t, "builds.kit.readings", "{bars: off, load: {front_left: 432 kg, front_right: 464 kg, rear_left: 327 kg, rear_right: 321 kg}, arch_height: {front_left: 350 mm, front_right: 345 mm, rear_left: 358 mm, rear_right: 355 mm}}")
	got, err := New("test").Level(t.Context(), job, LevelAsk{Build: "kit"}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(got.Rounds) != 1 || !got.Stopped {
		t.Errorf("%d rounds, stopped %t: 1544 kg are no empty car of 1463 kg", len(got.Rounds), got.Stopped)
	}
	if load := levelling.LoadOf(job, got.Build); load != got.Load {
		t.Errorf("the page takes load state %q, the command %q", load, got.Load)
	}
	list, _ := levelling.Read(nil).Weighings(job, got.Build, got.Load)
	if len(list) != 1 {
		t.Errorf("the page has %d rounds of it, want 1", len(list))
	}
	// Asked in another state, they are left out, and that is said.
	other, err := New("test").Level(t.Context(), job, LevelAsk{Build: "kit", Load: "driver"}, nil)
	if err != nil {
		t.Fatal(err)
	}
	said := false
	for _, c := range other.Gates[len(other.Gates)-1].Checks {
		said = said || c.Code == "read-in-another-state" && c.Verdict == scales.Caution
	}
	if len(other.Rounds) != 0 || !said {
		t.Errorf("%d rounds in another state, said %t", len(other.Rounds), said)
	}
}

// The build on which the car was weighed has its weighing for a first round.
func TestTheWeighingIsTheFirstRound(t *testing.T) {
	job := demo(t, "builds.arrived.front.platform", "kit-collar", "builds.arrived.rear.platform", "kit-collar")
	got, err := New("test").Level(t.Context(), job, LevelAsk{Build: "arrived"}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(got.Rounds) != 1 || got.Plan == nil {
		t.Fatalf("%d rounds, stopped %t: the weighing is the first", len(got.Rounds), got.Stopped)
	}
	for i := range 4 {
		if h := got.Plan.Now.Height[i]; h.Half > 0.005 {
			t.Errorf("corner %d stands at %.1f ± %.1f mm, weighed and still as wide as from the parts", i, 1e3*h.Value, 1e3*h.Half)
		}
	}
}

// Readings that name no state were taken with who was aboard at the weighing.
func TestReadingsAsWeighedHaveWhoWasAboard(t *testing.T) {
	job := demo(t, "car.weighed.aboard", "[{name: driver, mass: 78 kg, behind_front_axle: 1300 mm, left: 370 mm}]",
		"builds.kit.readings", "{bars: off, arch_height: {front_left: 350 mm, front_right: 345 mm, rear_left: 358 mm, rear_right: 355 mm}}")
	for _, b := range job.Builds {
		if b.ID == "kit" && (b.Readings == nil || len(b.Readings.Aboard) != 1) {
			t.Errorf("readings of the kit: %+v, want the driver aboard", b.Readings)
		}
	}
}

// Weighed with the driver, that is said: the weighing is one with him aboard.
func TestTheWeighingHasWhoWasAboard(t *testing.T) {
	job := demo(t, "builds.arrived.front.platform", "kit-collar", "builds.arrived.rear.platform", "kit-collar",
		"car.weighed.aboard", "[{name: driver, mass: 78 kg, behind_front_axle: 1300 mm, left: 370 mm}]")
	got, err := New("test").Level(t.Context(), job, LevelAsk{Build: "arrived"}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(got.Rounds) != 1 {
		t.Fatalf("%d rounds, want the weighing", len(got.Rounds))
	}
	for i := range 4 {
		if off := got.Forecast[0].Load[i].Value - got.Rounds[0].Got.Load[i]; off > 1 || off < -1 {
			t.Errorf("corner %d: %.1f kg off its own weighing", i, off)
		}
	}
}

// Nobody who does not say gets fewer workers than the machine has cores.
func TestEveryCoreWorks(t *testing.T) {
	var s Settings
	if opt := s.options(Draws); opt.Workers != runtime.GOMAXPROCS(0) || opt.Samples != Draws || opt.Seed != Seed {
		t.Errorf("%d workers on %d cores, %d draws, seed %d", opt.Workers, runtime.GOMAXPROCS(0), opt.Samples, opt.Seed)
	}
}

// The page's sheet and its PDF are one stored answer with all draws.
func TestFiguresOfATextAreOneAnswer(t *testing.T) {
	d, job := New("test"), demo(t)
	draws := 20
	one, err := d.Figures(t.Context(), job, Settings{Draws: &draws})
	if err != nil {
		t.Fatal(err)
	}
	again, err := d.Figures(t.Context(), demo(t), Settings{Draws: &draws})
	if err != nil || again != one {
		t.Errorf("the same text has another answer: %v", err)
	}
}

// Cross weight far off half: support's first change is the move that the scales ask for, collar by collar and word
// for word.
func TestSupportTurnsCollarsAsTheScales(t *testing.T) {
	setup := "{click: {front: 7, rear: 7}, platform: {front_left: 6 mm, front_right: -6 mm, rear_left: -6 mm, rear_right: 6 mm}}"
	job := demo(t, "builds.kit.setup", setup)
	d := New("test")
	level, err := d.Level(t.Context(), job, LevelAsk{Build: "kit"}, nil)
	if err != nil || !level.Stopped {
		t.Fatalf("turns before a reading: %v", err)
	}
	// Weighed as its parts lead to.
	kg := func(i int) string {
		return quantity.Format(level.Plan.Now.Load[i].Value, quantity.Mass, quantity.Metric, 1)
	}
	mm := func(i int) string {
		return quantity.Format(level.Plan.Now.Height[i].Value, quantity.Length, quantity.Metric, 1)
	}
	job = demo(t, "builds.kit.setup", setup, "builds.kit.readings", fmt.Sprintf(
		"{state: driver, bars: off, load: {front_left: %s, front_right: %s, rear_left: %s, rear_right: %s}, arch_height: {front_left: %s, front_right: %s, rear_left: %s, rear_right: %s}}",
		kg(0), kg(1), kg(2), kg(3), mm(0), mm(1), mm(2), mm(3)))
	level, err = d.Level(t.Context(), job, LevelAsk{Build: "kit"}, nil)
	if err != nil || level.Plan == nil || level.Stopped {
		t.Fatal(err)
	}
	rules, err := symptom.Standard()
	if err != nil {
		t.Fatal(err)
	}
	few, one := 20, 1
	got, err := d.Symptom(t.Context(), job, rules, "it turns in fine to the left but not to the right", quantity.Metric, SymptomAsk{Build: "kit", When: "bends", Most: &one, Settings: Settings{Draws: &few}})
	if err != nil {
		t.Fatal(err)
	}
	first := got.Asked.Causes[0].First.Text
	tell := wording.New(nil, quantity.Metric)
	for i := range level.Plan.Collar {
		c := level.Plan.Collar[i]
		if c.Held = ""; c.Turns == 0 {
			continue
		}
		if want := wording.Corner(i) + " " + tell.ScalesTurn(&c); !strings.Contains(strings.ToLower(first), want) {
			t.Errorf("support says %q, the scales %q", first, want)
		}
	}
}
