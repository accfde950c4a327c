package jobfile

import (
	"bytes"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func demoText(t testing.TB) []byte {
	t.Helper()
	text, err := os.ReadFile("../../examples/marl-estate/job.yaml")
	if err != nil {
		t.Fatal(err)
	}
	return text
}

func swap(t testing.TB, text []byte, pairs ...string) []byte {
	t.Helper()
	for i := 0; i < len(pairs); i += 2 {
		if !bytes.Contains(text, []byte(pairs[i])) {
			t.Fatalf("the job has no %q", pairs[i])
		}
		text = bytes.Replace(text, []byte(pairs[i]), []byte(pairs[i+1]), 1)
	}
	return text
}

func TestDifferFindsValuesNotWriting(t *testing.T) {
	before := demoText(t)
	after := swap(
		t, before,
		"click: {front: 7, rear: 7}", "click: {front: 7, rear: 9}\n      platform: {front_left: 3 mm}",
		"seats_closer: 32 mm", "seats_closer: 3.2 cm", // the same length
		"price: 420 EUR", "price:   420 EUR",
		"stop: r36, seats_closer: 69 mm", "stop: r42, packer: 4 mm, seats_closer: 69 mm",
		", friction: 60 ± 35 N}", "}",
		"# An invented car", "# Another invented car",
	)
	want := []Difference{
		{"builds.kit.rear.stop", "r36", "r42"},
		{"builds.kit.rear.packer", "", "4 mm"},
		{"builds.kit.setup.click.rear", "7", "9"},
		{"builds.kit.setup.platform.front_left", "", "3 mm"},
		{"builds.kit.rear.friction", "60 ± 35 N", ""},
	}
	if diff := cmp.Diff(want, Differ(before, after)); diff != "" {
		t.Errorf("differences (-want +got):\n%s", diff)
	}
	if d := Differ(before, before); len(d) != 0 {
		t.Errorf("a text differs from itself: %v", d)
	}
	if d := Differ([]byte("a: ["), before); len(d) < 100 {
		t.Errorf("against a broken text only %d values came", len(d))
	}
}

func TestPutBackGivesTheValuesOfTheOtherText(t *testing.T) {
	then := demoText(t)
	now := swap(
		t, then,
		"click: {front: 7, rear: 7}", "click: {front: 7, rear: 9}\n      platform: {front_left: 3 mm}",
		"stop: r36, seats_closer: 69 mm", "stop: r42, packer: 4 mm, seats_closer: 69 mm",
		", friction: 60 ± 35 N}", "}",
		"# An invented car", "# My own words",
		"words: >-", "by: Bo\n  words: >-",
		"{name: driver, mass: 82 kg", "{name: driver, mass: 90 kg",
		"rear: {spring: rear-60, damper: uprated-rear,", "rear: {spring: {use: rear-60, rate: 62 N/mm}, damper: uprated-rear,",
	)
	back, done, err := PutBack(now, then, func(path string) bool { return strings.HasPrefix(path, "builds.") })
	if err != nil {
		t.Fatal(err)
	}
	left := Differ(back, then)
	want := []Difference{{"loads.driver.items[0].mass", "90 kg", "82 kg"}, {"job.by", "Bo", ""}}
	if diff := cmp.Diff(want, left); diff != "" {
		t.Errorf("left over (-want +got):\n%s", diff)
	}
	if len(done) < 6 || !bytes.Contains(back, []byte("# My own words")) {
		t.Errorf("it did %v", done)
	}
	if job, faults := ReadBytes(back, "job.yaml"); job == nil {
		t.Errorf("the text put back is refused: %v", faults)
	}
	// The other way round a name becomes a part that is spelled out.
	forth, _, err := PutBack(then, now, nil)
	if err != nil || len(Differ(forth, now)) != 0 {
		t.Errorf("brought forward it still differs: %v (%v)", Differ(forth, now), err)
	}
	all, _, err := PutBack(now, then, nil)
	if err != nil || len(Differ(all, then)) != 0 {
		t.Errorf("put back wholly it still differs: %v (%v)", Differ(all, then), err)
	}
}

// Whatever clicks, collars and packers were set in between, the way back gives
// the same values.
func TestPutBackUndoesAnySetting(t *testing.T) {
	then := demoText(t)
	rapid.Check(t, func(t *rapid.T) {
		now := then
		var err error
		for range rapid.IntRange(1, 6).Draw(t, "edits") {
			path := rapid.SampledFrom([]string{
				"builds.kit.setup.click.front", "builds.kit.setup.click.rear", "builds.kit.setup.platform.rear_left", "builds.kit.front.packer",
				"builds.kit.front.stop", "builds.lower-old.rear.packer", "builds.arrived.setup.bars",
			}).Draw(t, "path")
			value := rapid.SampledFrom([]string{"1", "12", "3 mm", "-2.5 mm", "r36", "off"}).Draw(t, "value")
			if now, err = Put(now, path, value); err != nil {
				t.Fatal(err)
			}
		}
		back, _, err := PutBack(now, then, nil)
		if err != nil {
			t.Fatal(err)
		}
		if d := Differ(back, then); len(d) != 0 {
			t.Fatalf("left over: %v", d)
		}
	})
}

// No two texts end in a panic, and a text does not differ from itself.
func FuzzDiffer(f *testing.F) {
	f.Add([]byte("trunnion: job/1\ncar: {name: a}"), []byte("trunnion: job/1\nbuilds: {a: {front: {spring: x}}}"))
	f.Add([]byte("a: ["), []byte("{}"))
	f.Fuzz(func(t *testing.T, a, b []byte) {
		if d := Differ(a, a); len(d) != 0 {
			t.Fatalf("a text differs from itself: %v", d)
		}
		Differ(a, b)
		if out, _, err := PutBack(a, b, nil); err == nil {
			Differ(out, b)
		}
	})
}
