package store

import (
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"trunnion/shop/jobfile"
)

func TestDiffers(t *testing.T) {
	job := `
trunnion: job/1
parts:
  springs:
    soft: {use: base, rate: maker 46.0 N/mm}
    base: {rate: maker 40 N/mm, free: maker 230 mm}
    hard: {rate: 46 N/mm, free: maker 230 mm}
builds:
  same: {name: Same, price: 1 EUR, front: {spring: soft, seats_closer: 32  mm}, setup: {click: {front: 7, rear: 8}, heights: {front_left: 350 mm}}}
  other:
    front: {spring: hard, seats_closer: 30 mm, packer: 5 mm}
    setup: {click: [7, 9]}
  inline: {front: {spring: {use: hard, rate: maker 46 N/mm}, seats_closer: 32 mm}, setup: {click: [7, 8], heights: [350 mm, 350 mm, 340 mm, 340 mm]}}
  empty: {}
`
	preset := Preset{Text: presetText}
	for build, want := range map[string][]Difference{
		"same": nil,
		"other": {
			{"front.spring.rate", "maker 46 N/mm", "46 N/mm"},
			{"front.seats_closer", "32 mm", "30 mm"},
			{"setup.click.rear", "8", "9"},
			{"setup.heights.front_left", "350 mm", ""},
			{"front.packer", "", "5 mm"},
		},
		"inline": {
			{"setup.heights.front_right", "", "350 mm"},
			{"setup.heights.rear_left", "", "340 mm"},
			{"setup.heights.rear_right", "", "340 mm"},
		},
		"empty": {
			{"front.spring.rate", "maker 46 N/mm", ""},
			{"front.spring.free", "maker 230 mm", ""},
			{"front.seats_closer", "32 mm", ""},
			{"setup.click.front", "7", ""},
			{"setup.click.rear", "8", ""},
			{"setup.heights.front_left", "350 mm", ""},
		},
	} {
		got, err := Differs(preset, []byte(job), build)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%s (-want +got):\n%s", build, diff)
		}
	}
	absent(t, second(Differs(preset, []byte(job), "none")))
	refused(t, second(Differs(Preset{Text: "a: ["}, []byte(job), "same")))
	// A part that uses itself ends.
	loop := strings.Replace(job, "base: {rate", "base: {use: soft, rate", 1)
	if _, err := Differs(preset, []byte(loop), "same"); err != nil {
		t.Error(err)
	}
}

// The demo car's kit, made a preset, does not differ from itself, and differs
// from the build it replaces.
func TestDiffersOnTheDemo(t *testing.T) {
	text := must[[]byte](t)(os.ReadFile(demo))
	all := string(text)
	parts := all[strings.Index(all, "\nparts:"):strings.Index(all, "\nbuilds:")]
	kit := all[strings.Index(all, "\n  kit:"):strings.Index(all, "\nloads:")]
	p := Preset{Text: parts + "\nbuilds:" + kit}
	if got, err := Differs(p, text, "kit"); err != nil || len(got) != 0 {
		t.Errorf("the kit differs from itself: %v %v", got, err)
	}
	got, err := Differs(p, text, "lower-old")
	if err != nil {
		t.Fatal(err)
	}
	by := map[string]Difference{}
	for _, d := range got {
		by[d.Path] = d
	}
	if d := by["front.spring.rate"]; d.Preset != "maker 46 N/mm" || d.Job != "maker 31 N/mm" {
		t.Errorf("front spring: %+v", d)
	}
	if d := by["setup.click.front"]; d.Preset != "7" || d.Job != "" {
		t.Errorf("front click: %+v", d)
	}
}

func TestAPresetMadeFromOneJobGoesIntoAnother(t *testing.T) {
	text := must[[]byte](t)(os.ReadFile(demo))
	p := Preset{Text: must[string](t)(PresetOf(text, "kit"))}
	if strings.Contains(p.Text, "EUR") || strings.Contains(p.Text, "front-25") || !strings.Contains(p.Text, "front-46") {
		t.Errorf("the preset is\n%s", p.Text)
	}
	same := must[[]byte](t)(jobfile.WithPreset(text, []byte(p.Text), "again"))
	for name, job := range map[string][]byte{
		"the same parts": same,
		// The next car's job has a spring of its own under that id.
		"another spring": must[[]byte](t)(jobfile.WithPreset([]byte(strings.Replace(string(text), "maker 46 N/mm", "maker 52 N/mm", 1)), []byte(p.Text), "again")),
		"no such parts":  must[[]byte](t)(jobfile.WithPreset([]byte(strings.NewReplacer("kit-collar", "collar", "kit-front", "f", "front-46", "f46").Replace(string(text))), []byte(p.Text), "again")),
	} {
		if got, err := Differs(p, job, "again"); err != nil || len(got) != 0 {
			t.Errorf("%s: put into a job the preset differs: %v %v", name, got, err)
		}
		read, faults := jobfile.ReadBytes(job, "job.yaml")
		if read == nil {
			t.Errorf("%s: the job cannot be read: %v", name, faults)
		}
	}
	changed := must[[]byte](t)(jobfile.WithPreset([]byte(strings.Replace(string(text), "maker 46 N/mm", "maker 52 N/mm", 1)), []byte(p.Text), "again"))
	if got := must[[]Difference](t)(Differs(p, changed, "kit")); len(got) != 1 || got[0].Job != "maker 52 N/mm" {
		t.Errorf("the job's own spring was changed: %v", got)
	}
	if strings.Count(string(same), "front-46:") != 1 {
		t.Error("a part that was there was copied again")
	}
	if _, err := jobfile.WithPreset(text, []byte(p.Text), "kit"); err == nil {
		t.Error("a build was written over another")
	}
	absent(t, second(PresetOf(text, "none")))
	// In SI the same, typed otherwise.
	inch := strings.Replace(string(text), "seats_closer: 32 mm", "seats_closer: 3.2 cm", 1)
	if got := must[[]Difference](t)(Differs(p, []byte(inch), "kit")); len(got) != 0 {
		t.Errorf("3.2 cm is not 32 mm: %v", got)
	}
}

// TestAPresetWhoseSidesDiffer: the parts of both sides go with it, and what one side has otherwise is a difference.
func TestAPresetWhoseSidesDiffer(t *testing.T) {
	text := string(must[[]byte](t)(os.ReadFile(demo)))
	sided := strings.Replace(text, "front: {spring: front-46, ", "front: {right: {spring: {use: front-31, block: 100 mm}}, spring: front-46, ", 1)
	p := Preset{Text: must[string](t)(PresetOf([]byte(sided), "kit"))}
	if !strings.Contains(p.Text, "front-46:") || !strings.Contains(p.Text, "front-31:") {
		t.Fatalf("the preset has not both springs:\n%s", p.Text)
	}
	again := must[[]byte](t)(jobfile.WithPreset([]byte(text), []byte(p.Text), "again"))
	if got := must[[]Difference](t)(Differs(p, again, "again")); len(got) != 0 {
		t.Errorf("put into a job the preset differs: %v", got)
	}
	var paths []string
	for _, d := range must[[]Difference](t)(Differs(p, []byte(text), "kit")) {
		paths = append(paths, d.Path+" "+d.Preset)
	}
	if diff := cmp.Diff([]string{"front.right.spring.rate maker 31 N/mm", "front.right.spring.free maker 304 mm", "front.right.spring.block 100 mm"}, paths); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

func TestSerialNumbersWhereverTheyStand(t *testing.T) {
	got := serials([]byte(`
trunnion: job/1
job: {words: "no serial: 1, here"}
parts:
  dampers:
    a: {serial: K-1 left, open: 1 mm}
    b: {serials: [x, 'it''s, two']}
    c:
      serial: "7: {8}"
      other_serial: 9
`))
	if diff := cmp.Diff([]string{"K-1 left", "x", "it's, two", "7: {8}"}, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

func TestWords(t *testing.T) {
	for text, want := range map[string]string{
		"  Óscar   FENN ": "oscar fenn", "İstanbul": "istanbul", "Straße": "straße", "ﬁt": "fit", "": "",
	} {
		if got := fold(text); got != want {
			t.Errorf("%q folds to %q; want %q", text, got, want)
		}
	}
	for _, tt := range []struct{ words, want string }{
		{"../../etc/passwd", "job-etc-passwd"},
		{"CON", "job-con"},
		{"", "job"},
		{strings.Repeat("ab ", 40), "job-" + strings.TrimSuffix(strings.Repeat("ab-", 19), "-")[:56]},
		{"a\x00b\r\n\"<>|:*?", "job-a-b"},
	} {
		if got := fileName(tt.words); got != strings.TrimRight(tt.want, "-") {
			t.Errorf("%q becomes the file %q; want %q", tt.words, got, tt.want)
		}
	}
}

// Whatever a job is called, it is found by every word of its own, and what it is
// found by is shown.
func TestEveryJobIsFoundByItsOwnWords(t *testing.T) {
	onBoth(t, func(t *testing.T, s *Store) {
		ctx := t.Context()
		rapid.Check(t, func(t *rapid.T) {
			word := rapid.StringMatching(`[A-Za-zÀ-ÿ0-9 '%_\\\-\.ßİłλ]{1,20}`)
			owner, plate, car, serial := word.Draw(t, "owner"), word.Draw(t, "plate"), word.Draw(t, "car"), word.Draw(t, "serial")
			id := NewID()
			if _, err := s.Save(ctx, Change{Job: id, Who: "Ada", Text: jobText(owner, plate, car, "p", serial)}); err != nil {
				t.Fatal(err)
			}
			for _, q := range []Query{{Text: owner}, {Text: plate}, {Text: car + " " + serial}, {Owner: owner, Car: car}, {Plate: plate}, {Serial: serial}, {Text: strings.ToUpper(owner)}} {
				if a := q.asked(); a.nothing() || len(a.fields) > 0 && a.fields[0].Text == "\n\n\n" {
					continue
				}
				q.Limit = 1 // saved last, and so found first
				page, err := s.Find(ctx, q)
				if err != nil {
					t.Fatal(err)
				}
				if len(page.Hits) != 1 || page.Hits[0].ID != id {
					t.Fatalf("%+v does not find the job of %q, %q, %q, %q", q, owner, plate, car, serial)
				}
				if len(page.Hits[0].Found) == 0 {
					t.Fatalf("%+v does not say by what it found the job", q)
				}
			}
		})
	})
}

// No text from outside stops the program, and what is taken is taken again.
func FuzzFacts(f *testing.F) {
	f.Add(jobText("A", "B 1", "C", "p", "s-1"))
	for _, seed := range []string{
		bomb(), "trunnion: job/1\na: &a [*a]\n", "trunnion: job/1\n<<: {a: 1}\n", "? [a]\n: b\n", "trunnion: job/1\nparts: {springs: [a]}\nbuilds: x\n",
		"trunnion: job/1\nserial: !!binary x\nserials: [1, {a: 2}]\n", "{\"trunnion\":\"job/1\",\"job\":{\"owner\":null}}", "a: |\n  b\n", "---\n...\n",
	} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		if len(text) > 4000 {
			return
		}
		got, err := factsOf(text)
		if err != nil {
			if len(err.Error()) > 500 {
				t.Errorf("a message of %d letters", len(err.Error()))
			}
			return
		}
		var row jobRow
		got.into(&row)
		if len(got.words) > mostWords {
			t.Errorf("%d words", len(got.words))
		}
		for _, w := range got.words {
			if w.Text == "" || w.Text != oneLine(w.Text) || !strings.Contains(row.Haystack, "\n"+fold(w.Text)+"\n") {
				t.Errorf("word %+v is not kept as it is found", w)
			}
		}
		again, err := factsOf(text)
		if err != nil || !cmp.Equal(got, again, cmp.AllowUnexported(facts{})) {
			t.Errorf("the same text gives other words: %v", err)
		}
	})
}
