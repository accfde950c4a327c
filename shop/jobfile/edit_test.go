package jobfile

import (
	"context"
	"errors"
	"strings"
	"testing"

	"trunnion/chassis/car"
	"trunnion/examples"
	"trunnion/shop/quantity"
)

// shelf holds one part and one preset.
type shelf struct{ part, preset Stocked }

func (s shelf) StockedPart(_ context.Context, kind, slug string) (Stocked, error) {
	if kind != s.part.Kind || slug != s.part.Slug {
		return Stocked{}, errors.New("no such part")
	}
	return s.part, nil
}

func (s shelf) StockedParts(context.Context) ([]Stocked, error) { return []Stocked{s.part}, nil }

func (s shelf) StockedPreset(_ context.Context, slug string) (Stocked, error) {
	if slug != s.preset.Slug {
		return Stocked{}, errors.New("no such preset")
	}
	return s.preset, nil
}

// scratch is a job as a workshop types it on a busy day: few figures, two builds.
const scratch = `trunnion: job/1
car:
  name: Borrowed estate
  wheelbase: 2650 mm
  track: [1510 mm, 1500 mm]
  weighed:
    build: now
    load: [412 kg, 398 kg, 305 kg, 311 kg]
    arch_height: [362 mm, 365 mm, 371 mm, 368 mm]
  front: {}
  rear: {}
parts:
  springs:
    f: {rate: 31 N/mm}
    r: {rate: 28 N/mm}
builds:
  now: {name: As it came, front: {spring: f}, rear: {spring: r}}
`

func edits(t *testing.T, text string, list ...Edit) *Editor {
	t.Helper()
	ed := &Editor{
		Text: []byte(text), System: quantity.Metric,
		Shelf: shelf{
			Stocked{Kind: "spring", Section: "springs", Slug: "f", Name: "Firm front", Text: "{rate: maker 38 N/mm, drop: 25 mm}", Revision: 3},
			Stocked{Slug: "town", Name: "Town", Text: "parts: {springs: {f: {rate: 36 N/mm, drop: 20 mm}}}\nbuilds: {any: {front: {spring: f}}}", Revision: 2},
		},
		Ratios: func(context.Context, *Job, *car.Build, int) (spring, damper [2]float64, err error) {
			return [2]float64{0.4, 0.6}, [2]float64{0.9, 0.9}, nil
		},
	}
	for _, e := range list {
		ed.Apply(context.Background(), e)
	}
	return ed
}

func typedIn(value string) *string { return &value }

// reads fails where a text is no longer a job.
func (ed *Editor) reads(t *testing.T) *Job {
	t.Helper()
	for _, f := range ed.Faults {
		t.Fatalf("an edit was refused: %s", f)
	}
	job, faults := ReadBytes(ed.Text, "job.yaml")
	if job == nil {
		t.Fatalf("the job is refused: %v", faults)
	}
	return job
}

func TestEditsOfAJob(t *testing.T) {
	ed := edits(
		t, scratch,
		Edit{Path: "builds.second", CopyOf: "now", Name: "Second"},
		Edit{Path: "builds.second.front.spring", Part: "spring:f"},
		Edit{Path: "builds.second.rear", Move: "-20 mm"},
		Edit{Path: "builds.town", Preset: "town"},
		Edit{Path: "job.owner", Value: typedIn("Sam")},
	)
	job := ed.reads(t)
	if len(job.Builds) != 3 || job.Builds[1].Name != "Second" || job.Builds[2].Name != "Town" || job.Info.Owner != "Sam" {
		t.Fatalf("the job has %d builds, owner %q", len(job.Builds), job.Info.Owner)
	}
	// The job's own f is another spring: the copies have ids of their own.
	for i, want := range []float64{31e3, 38e3, 36e3} {
		if got := job.Builds[i].Corner[0].Spring.Rate.Value; got != want {
			t.Errorf("build %d has a front spring of %g N/m, want %g", i, got, want)
		}
	}
	if got := job.Builds[1].Corner[2].SeatsCloser.Value; got != -0.010 {
		t.Errorf("20 mm at the wheel is %g m at the seat, want -0.010 with a ratio of 0.5", got)
	}
	if len(ed.Applied) != 5 || !strings.Contains(ed.Applied[1].Note, "revision 3") {
		t.Errorf("applied %+v", ed.Applied)
	}
	was := edits(t, string(ed.Text), Edit{Path: "job.owner"})
	if was.reads(t).Info.Owner != "" || was.Applied[0].Was != "Sam" {
		t.Errorf("taken out: %+v", was.Applied)
	}
}

func TestEditsThatCannotBeMade(t *testing.T) {
	ed := edits(
		t, scratch,
		Edit{Value: typedIn("x")},
		Edit{Path: "builds.nwo.front.spring", Value: typedIn("r")},
		Edit{Path: "builds.now", CopyOf: "now"},
		Edit{Path: "builds.x.front", CopyOf: "now"},
		Edit{Path: "builds.x", CopyOf: "none"},
		Edit{Path: "builds.x", Preset: "none"},
		Edit{Path: "builds.now.front.click", Part: "f"},
		Edit{Path: "builds.now.front.damper", Part: "spring:f"},
		Edit{Path: "builds.now.front", Move: "900 mm"},
		Edit{Path: "builds.now.middle", Move: "9 mm"},
		Edit{Path: "car.wheelbase", Value: typedIn("2655 mm")}, // stands
	)
	if len(ed.Faults) != 10 {
		t.Errorf("%d faults, want one for each of ten: %v", len(ed.Faults), ed.Faults)
	}
	ed.Faults = nil
	if ed.reads(t).Car.Wheelbase.Value != 2.655 {
		t.Error("what can be made does not stand")
	}
}

// TestLongNamesOfBuilds: a page makes ids of names. A name of a hundred letters
// gave an id that no job takes, and every later edit was refused with it.
func TestLongNamesOfBuilds(t *testing.T) {
	long := "builds.the-long-way-to-say-that-it-has-" + strings.Repeat("firmer-and-firmer-", 9) + "springs"
	name := strings.Repeat("Firmer and firmer springs for the road to the lake. ", 8)
	ed := edits(
		t, scratch,
		Edit{Path: long, CopyOf: "now", Name: name},
		Edit{Path: long + "-2", CopyOf: "now", Name: name},
		Edit{Path: long + ".front.seats_closer", Value: typedIn("5 mm")},
		Edit{Path: long + "-2.rear.seats_closer", Value: typedIn("7 mm")},
		Edit{Path: "job.owner", Value: typedIn("Sam")},
	)
	job := ed.reads(t)
	if len(job.Builds) != 3 || job.Builds[1].ID == job.Builds[2].ID || job.Builds[1].Name != strings.TrimSpace(name) && job.Builds[1].Name != name {
		t.Fatalf("%d builds, the second called %q", len(job.Builds), job.Builds[1].Name)
	}
	if got := job.Builds[1].Corner[0].SeatsCloser.Value; got != 0.005 {
		t.Errorf("a later edit under the long path put %g m, want 0.005", got)
	}
	if got := job.Builds[2].Corner[2].SeatsCloser.Value; got != 0.007 {
		t.Errorf("a later edit of the next build put %g m, want 0.007", got)
	}
	// Typed by hand it is one fault, about its length.
	_, faults := ReadBytes([]byte(strings.Replace(scratch, "builds:\n", "builds:\n  "+long[7:]+": {front: {spring: f}}\n", 1)), "job.yaml")
	if len(faults) != 1 || !strings.Contains(faults[0].String(), "letters at most") {
		t.Errorf("an id that is too long gives %v", faults)
	}
}

func TestEditsOfAnExample(t *testing.T) {
	data, err := examples.Jobs.ReadFile("marl-estate/job.yaml")
	if err != nil {
		t.Fatal(err)
	}
	ed := edits(t, string(data), Edit{Path: "builds.kit.front", Move: "10 mm"}, Edit{Path: "builds.kit.setup.click.front", Value: typedIn("5")})
	job := ed.reads(t)
	for _, b := range job.Builds {
		if b.ID == "kit" && (b.Setup.Platform[0].Value != 0.005 || b.Setup.Click[0] != 5) {
			t.Errorf("10 mm at the wheel raised the collar to %g m, want 0.005; click %d", b.Setup.Platform[0].Value, b.Setup.Click[0])
		}
	}
	if len(ed.Applied) != 3 || !strings.Contains(ed.Applied[0].Note, "turns from its start mark") {
		t.Errorf("applied %+v", ed.Applied)
	}
}
