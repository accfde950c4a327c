package store

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

func TestSaveKeepsEveryRevisionToTheByte(t *testing.T) {
	onBoth(t, func(t *testing.T, s *Store) {
		ctx, id := t.Context(), NewID()
		texts := [][]byte{
			jobText("Mrs Ollerwick", "TW 42 OLW", "Marl 2.0 estate", "front-25", "K-001"),
			[]byte("\uFEFFtrunnion: job/1\r\ncar: {name: \"'; DROP TABLE jobs; --\"}\r\n# °µ± \\ \\x00 ?0 <b>&amp;</b>\r\n"),
			[]byte("{\"trunnion\": \"job/1\", \"car\": {\"name\": \"Þórr's\"}}"),
			[]byte("trunnion: job/1\njob:\n  words: >-\n    long\n    words\n\n\n"),
		}
		var last time.Time
		for i, text := range texts {
			r := must[Revision](t)(s.Save(ctx, Change{Job: id, Expected: i, Who: "Ansgar", Why: fmt.Sprint("try ", i), Text: text}))
			if r.Number != i+1 || !r.When.After(last) {
				t.Fatalf("save %d became revision %d at %v, after one at %v", i, r.Number, r.When, last)
			}
			last = r.When
		}
		for i, text := range texts {
			r := must[Revision](t)(s.Revision(ctx, id, i+1))
			if !bytes.Equal(r.Text, text) {
				t.Errorf("revision %d is %q; saved was %q", i+1, r.Text, text)
			}
		}
		history := must[[]Revision](t)(s.History(ctx, id))
		if len(history) != 4 || history[0].Number != 4 || history[3].Why != "try 0" || history[0].Text != nil {
			t.Errorf("history is %+v", history)
		}
		now := must[Revision](t)(s.Job(ctx, id))
		head := must[Head](t)(s.Head(ctx, id))
		if now.Number != 4 || head.Revision != 4 || head.SHA256 != now.SHA256 || !head.SavedAt.Equal(last) || head.CreatedAt.After(history[3].When) {
			t.Errorf("the job is %+v, its head %+v", now, head)
		}
		absent(t, second(s.Revision(ctx, id, 5)))
		absent(t, second(s.Job(ctx, "nobody")))
		absent(t, second(s.Head(ctx, "nobody")))
		absent(t, second(s.History(ctx, "nobody")))
	})
}

func second[T any](_ T, err error) error { return err }

func TestConflictCarriesBothVersions(t *testing.T) {
	onBoth(t, func(t *testing.T, s *Store) {
		ctx, id := t.Context(), NewID()
		base, hers, his := jobText("A", "1", "C", "p", "s"), jobText("B", "1", "C", "p", "s"), jobText("A", "2", "C", "p", "s")
		must[Revision](t)(s.Save(ctx, Change{Job: id, Who: "Ada", Text: base}))
		first := Change{Job: id, Expected: 1, Who: "Ada", Why: "owner", Text: hers}
		must[Revision](t)(s.Save(ctx, first))
		must[time.Time](t)(s.SaveDraft(ctx, Draft{Person: "Ben", Job: id, Base: 1, Text: his}))
		yours := Change{Job: id, Expected: 1, Who: "Ben", Text: his}
		c := wants[*Conflict](t, second(s.Save(ctx, yours)))
		if !bytes.Equal(c.Yours.Text, his) || !bytes.Equal(c.Theirs.Text, hers) || c.Base == nil || !bytes.Equal(c.Base.Text, base) || c.Theirs.Number != 2 {
			t.Errorf("the conflict is %+v", c)
		}
		if !strings.Contains(c.Error(), `"Ada" saved revision 2`) {
			t.Errorf("the conflict says %q", c)
		}
		if d := must[Draft](t)(s.Draft(ctx, "Ben", id)); !bytes.Equal(d.Text, his) {
			t.Errorf("after a conflict the draft is %q", d.Text)
		}
		if got := must[Head](t)(s.Head(ctx, id)); got.Owner != "B" || got.Revision != 2 {
			t.Errorf("after a conflict the job is %+v", got)
		}
		// The same save again, because its answer was lost.
		if r := must[Revision](t)(s.Save(ctx, first)); r.Number != 2 {
			t.Errorf("the same save twice became revision %d", r.Number)
		}
		// A new job under an id that is taken, and a base that never was.
		if c := wants[*Conflict](t, second(s.Save(ctx, Change{Job: id, Who: "Ben", Text: his}))); c.Base != nil {
			t.Errorf("the conflict of a new job has base %+v", c.Base)
		}
		overtaken(t, second(s.Save(ctx, Change{Job: id, Expected: 7, Who: "Ben", Text: his})))
		absent(t, second(s.Save(ctx, Change{Job: "nobody", Expected: 1, Who: "Ben", Text: his})))
	})
}

// A tablet that lost the network sends what waited; an answer that got lost makes it
// send again, and meanwhile others may have saved. Its name makes the save once.
func TestANamedSaveIsMadeOnceAlsoAfterOthersSaved(t *testing.T) {
	onBoth(t, func(t *testing.T, s *Store) {
		ctx, id := t.Context(), NewID()
		must[Revision](t)(s.Save(ctx, Change{Job: id, Who: "Ada", Text: jobText("A", "1", "C", "p", "s")}))
		waited := Change{Job: id, Expected: 1, Who: "Ada", Why: "on the road", Text: jobText("B", "1", "C", "p", "s"), Name: "b0a7"}
		first := must[Revision](t)(s.Save(ctx, waited))
		must[Revision](t)(s.Save(ctx, Change{Job: id, Expected: 2, Who: "Ben", Text: jobText("B", "2", "C", "p", "s")}))
		again := must[Revision](t)(s.Save(ctx, waited))
		if again.Number != 2 || again.SHA256 != first.SHA256 || string(again.Text) != string(waited.Text) {
			t.Errorf("sent again it became revision %d, by %q", again.Number, again.Who)
		}
		if h := must[[]Revision](t)(s.History(ctx, id)); len(h) != 3 {
			t.Errorf("the job has %d revisions, not 3", len(h))
		}
		// A name belongs to one person and one job, and a save that was overtaken took none.
		for what, c := range map[string]Change{
			"another person": {Job: id, Expected: 3, Who: "Ben", Text: waited.Text, Name: "b0a7"},
			"another job":    {Job: NewID(), Who: "Ada", Text: waited.Text, Name: "b0a7"},
			"no id":          {Job: id, Expected: 3, Who: "Ada", Text: waited.Text, Name: "../b0a7"},
		} {
			if e := wants[*Refused](t, second(s.Save(ctx, c))); e.Field != "the save's name" {
				t.Errorf("%s: %v", what, e)
			}
		}
		late := Change{Job: id, Expected: 1, Who: "Ada", Text: jobText("B", "1", "D", "p", "s"), Name: "b0a8"}
		overtaken(t, second(s.Save(ctx, late)))
		late.Expected = 3
		if r := must[Revision](t)(s.Save(ctx, late)); r.Number != 4 {
			t.Errorf("after the conflict it became revision %d", r.Number)
		}
	})
}

func TestBadInputIsRefusedAndChangesNothing(t *testing.T) {
	good := Change{Job: "a-job", Who: "Ada", Text: jobText("A", "1", "C", "p", "s")}
	bad := map[string]func(c *Change){
		"no id":            func(c *Change) { c.Job = "" },
		"id is a path":     func(c *Change) { c.Job = "../../etc/passwd" },
		"id of 65 letters": func(c *Change) { c.Job = strings.Repeat("a", 65) },
		"nobody":           func(c *Change) { c.Who = " " },
		"who of two lines": func(c *Change) { c.Who = "Ada\nBen" },
		"who of 121":       func(c *Change) { c.Who = strings.Repeat("å", 121) },
		"why is broken":    func(c *Change) { c.Why = "\xff" },
		"why of 1001":      func(c *Change) { c.Why = strings.Repeat("y", 1001) },
		"negative":         func(c *Change) { c.Expected = -1 },
		"no text":          func(c *Change) { c.Text = nil },
		"no version":       func(c *Change) { c.Text = []byte("car: {}\n") },
		"other version":    func(c *Change) { c.Text = []byte("trunnion: car/1\n") },
		"a list":           func(c *Change) { c.Text = []byte("- trunnion: job/1\n") },
		"not YAML":         func(c *Change) { c.Text = []byte("trunnion: job/1\na: [") },
		"binary":           func(c *Change) { c.Text = []byte("trunnion: job/1\na: \x00\n") },
		"not UTF-8":        func(c *Change) { c.Text = []byte("trunnion: job/1\na: \xe4\n") },
		"two documents":    func(c *Change) { c.Text = []byte("trunnion: job/1\n---\ntrunnion: job/1\n") },
		"50 MB":            func(c *Change) { c.Text = append([]byte("trunnion: job/1\na: "), bytes.Repeat([]byte("x"), 50<<20)...) },
		"deep": func(c *Change) {
			c.Text = []byte("trunnion: job/1\na: " + strings.Repeat("[", 50) + strings.Repeat("]", 50))
		},
		"many words":        func(c *Change) { c.Text = []byte("trunnion: job/1\na: [" + strings.Repeat("1,", 70_000) + "1]\n") },
		"aliases multiply":  func(c *Change) { c.Text = []byte(bomb()) },
		"nested block list": func(c *Change) { c.Text = []byte("trunnion: job/1\na:\n  " + strings.Repeat("- ", 60) + "x\n") },
	}
	onBoth(t, func(t *testing.T, s *Store) {
		for name, spoil := range bad {
			c := good
			spoil(&c)
			if _, err := s.Save(t.Context(), c); !errors.As(err, new(*Refused)) {
				t.Errorf("%s: got %v; want it refused", name, err)
			} else if len(err.Error()) > 400 {
				t.Errorf("%s: the message has %d letters", name, len(err.Error()))
			}
		}
		if page := must[Page](t)(s.Find(t.Context(), Query{})); page.Total != 0 {
			t.Errorf("%d jobs were kept", page.Total)
		}
	})
}

// bomb is a text whose names unfold into millions of values.
func bomb() string {
	text := "trunnion: job/1\na0: &a0 [x,x,x,x,x,x,x,x,x,x]\n"
	for i := 1; i < 8; i++ {
		text += fmt.Sprintf("a%d: &a%d [%s]\n", i, i, strings.TrimSuffix(strings.Repeat(fmt.Sprintf("*a%d,", i-1), 10), ","))
	}
	return text
}

func TestFind(t *testing.T) {
	onBoth(t, func(t *testing.T, s *Store) {
		ctx := t.Context()
		jobs := map[string][]byte{
			"a": jobText("Mrs Ollerwick", "TW 42 OLW", "Marl 2.0 estate", "front-25", "K-001"),
			"b": jobText("Óscar Fenn", "FE-77 NN", "Tarn coupé", "front-31", "SN 900_17"),
			"c": jobText("100% Racing", "O'L 1", "Marl 2.0 saloon", "front_31", "7 %"),
			"d": []byte("trunnion: job/1\ncar: {name: Not finished}\nbuilds: {}\n"),
		}
		for _, id := range []string{"a", "b", "c", "d"} {
			must[Revision](t)(s.Save(ctx, Change{Job: id, Who: "Ada", Text: jobs[id]}))
		}
		for _, tt := range []struct {
			q    Query
			want string // ids, the last saved first
		}{
			{Query{}, "d c b a"},
			{Query{Text: "ollerwick"}, "a"},
			{Query{Text: "OLLER marl"}, "a"},
			{Query{Text: "marl"}, "c a"},
			{Query{Text: "tw42olw"}, "a"},
			{Query{Text: "tw 42 olw"}, "a"},
			{Query{Text: "42-olw"}, "a"},
			{Query{Plate: "42-olw"}, "a"},
			{Query{Text: "oscar"}, "b"},
			{Query{Text: "coupe"}, "b"},
			{Query{Text: "fe77"}, "b"},
			{Query{Text: "90017"}, "b"},
			{Query{Text: "front-31"}, "c b"}, // dashes do not count
			{Query{Text: "%"}, "c"},
			{Query{Text: "_"}, "c b"},
			{Query{Text: "o'l"}, "c"},
			{Query{Text: "\\"}, ""},
			{Query{Text: "not finished"}, "d"},
			{Query{Text: "ollerwick fenn"}, ""},
			{Query{Text: "0042"}, "c b a"},
			{Query{Owner: "ollerwick"}, "a"},
			{Query{Owner: "marl"}, ""},
			{Query{Car: "marl", Owner: "racing"}, "c"},
			{Query{Part: "front 31"}, "c b"},
			{Query{Serial: "k001"}, "a"},
			{Query{Build: "as it arrived"}, "c b a"},
			{Query{Number: "42"}, "c b a"},
			{Query{Serial: "--"}, ""},
			{Query{Limit: 2}, "d c"},
			{Query{Limit: 2, Offset: 3}, "a"},
			{Query{Offset: 9}, ""},
			{Query{Text: strings.Repeat("marl ", 50_000)}, "c a"},
			{Query{Text: "m%l"}, ""},
			{Query{Text: "m_rl"}, ""},
			{Query{Car: "m%l"}, ""},
		} {
			page, err := s.Find(ctx, tt.q)
			if err != nil {
				t.Fatalf("%+v: %v", tt.q, err)
			}
			var got []string
			for _, h := range page.Hits {
				got = append(got, h.ID)
			}
			if strings.Join(got, " ") != tt.want {
				t.Errorf("%+v found %q; want %q", tt.q, got, tt.want)
			}
		}
		page := must[Page](t)(s.Find(ctx, Query{Text: "tw42olw", Part: "25"}))
		if diff := cmp.Diff([]Word{{ByPlate, "TW 42 OLW"}, {ByPart, "front-25"}}, page.Hits[0].Found); diff != "" {
			t.Errorf("found by (-want +got):\n%s", diff)
		}
		if page := must[Page](t)(s.Find(ctx, Query{Limit: 1, Offset: 1})); page.Total != 4 {
			t.Errorf("a page of 4 jobs says %d", page.Total)
		}
		// A later revision is found by its own words only.
		must[Revision](t)(s.Save(ctx, Change{Job: "a", Expected: 1, Who: "Ada", Text: jobText("Mr Quill", "TW 42 OLW", "Marl", "p", "s")}))
		if page := must[Page](t)(s.Find(ctx, Query{Text: "ollerwick"})); page.Total != 0 {
			t.Errorf("an overwritten owner is still found")
		}
		if page := must[Page](t)(s.Find(ctx, Query{Owner: "quill"})); page.Total != 1 || page.Hits[0].ID != "a" {
			t.Errorf("the new owner is not found first")
		}
	})
}

func TestReindexMakesTheSameIndex(t *testing.T) {
	onBoth(t, func(t *testing.T, s *Store) {
		ctx := t.Context()
		for i := range 12 {
			must[Revision](t)(s.Save(ctx, Change{Job: fmt.Sprint("j", i), Who: "Ada", Text: jobText(fmt.Sprint("Owner ", i), "P", "C", "part", "S")}))
		}
		type index struct {
			Jobs  []jobRow
			Words []wordRow
		}
		read := func() (x index) {
			if err := errors.Join(
				s.db.NewSelect().Model(&x.Jobs).Order("id").Scan(ctx),
				s.db.NewSelect().Model(&x.Words).Order("job_id", "place").Scan(ctx),
			); err != nil {
				t.Fatal(err)
			}
			return x
		}
		before := read()
		if len(before.Jobs) != 12 || len(before.Words) != 12*9 {
			t.Fatalf("%d jobs have %d words", len(before.Jobs), len(before.Words))
		}
		for _, spoil := range []string{`DELETE FROM job_words`, `UPDATE jobs SET owner = '', plate = 'x', haystack = ''`} {
			if _, err := s.db.Exec(spoil); err != nil {
				t.Fatal(err)
			}
		}
		last := 0
		if n := must[int](t)(s.Reindex(ctx, func(done, all int) { last = 100*all + done })); n != 12 || last != 1212 {
			t.Errorf("went through %d jobs and told %d", n, last)
		}
		if diff := cmp.Diff(before, read()); diff != "" {
			t.Errorf("the index differs (-before +after):\n%s", diff)
		}
	})
}

func TestDraftsOutliveTheProgramAndEndWithASave(t *testing.T) {
	for name, where := range places(t) {
		t.Run(name, func(t *testing.T) {
			ctx := t.Context()
			s, err := Open(ctx, where, Options{})
			if err != nil {
				t.Fatal(err)
			}
			typed := []byte("trunnion: job/1\ncar: {name: half a lin")
			must[time.Time](t)(s.SaveDraft(ctx, Draft{Person: "Ada", Job: "j", Text: []byte("first")}))
			must[time.Time](t)(s.SaveDraft(ctx, Draft{Person: "Ada", Job: "j", Base: 0, Text: typed}))
			must[time.Time](t)(s.SaveDraft(ctx, Draft{Person: "Ben", Job: "j", Text: []byte("his")}))
			must[time.Time](t)(s.SaveDraft(ctx, Draft{Person: "Ada", Job: "k", Text: []byte("other")}))
			if err := s.Close(); err != nil {
				t.Fatal(err)
			}
			s = open(t, where, Options{})
			if d := must[Draft](t)(s.Draft(ctx, "ADA", "j")); !bytes.Equal(d.Text, typed) {
				t.Errorf("the draft is %q", d.Text)
			}
			must[Revision](t)(s.Save(ctx, Change{Job: "j", Who: "Ada", Text: jobText("A", "B", "C", "p", "s")}))
			absent(t, second(s.Draft(ctx, "Ada", "j")))
			if d := must[Draft](t)(s.Draft(ctx, "Ben", "j")); string(d.Text) != "his" {
				t.Errorf("somebody else's draft is %q", d.Text)
			}
			list := must[[]Draft](t)(s.Drafts(ctx, "Ada"))
			if len(list) != 1 || list[0].Job != "k" {
				t.Errorf("the other drafts are %+v", list)
			}
			if err := errors.Join(s.DropDraft(ctx, "Ada", "k"), s.DropDraft(ctx, "Ada", "k")); err != nil {
				t.Error(err)
			}
			absent(t, second(s.Draft(ctx, "Ada", "k")))
			refused(t, second(s.SaveDraft(ctx, Draft{Person: "Ada", Job: "j", Text: []byte("a\x00b")})))
		})
	}
}

func TestCatalogue(t *testing.T) {
	onBoth(t, func(t *testing.T, s *Store) {
		ctx := t.Context()
		spring := Part{
			Kind: "spring", Slug: "front-25", Name: "Front 25", Text: "{rate: maker 25 N/mm, free: maker 361 mm}",
			Source: "maker's list", Dated: "2026-11-16", Stock: "2 on the shelf", Who: "Ada", Why: "new",
		}
		saved := must[Part](t)(s.SavePart(ctx, spring))
		if saved.Revision != 1 || saved.When.IsZero() || saved.Section() != "springs" {
			t.Errorf("the part became %+v", saved)
		}
		second1 := saved
		second1.Text, second1.Why, second1.Who = "{rate: 26 N/mm}", "measured", "Ben"
		must[Part](t)(s.SavePart(ctx, second1))
		stale := wants[*Stale](t, second(s.SavePart(ctx, saved)))
		if stale.Now != 2 || stale.Who != "Ben" {
			t.Errorf("stale is %+v", stale)
		}
		overtaken(t, second(s.SavePart(ctx, spring)))
		history := must[[]Part](t)(s.PartHistory(ctx, "spring", "front-25"))
		if len(history) != 2 || history[1].Text != spring.Text || history[0].Text != second1.Text || !history[0].When.After(history[1].When) {
			t.Errorf("history is %+v", history)
		}
		must[Part](t)(s.SavePart(ctx, Part{Kind: "stop", Slug: "f60", Name: "Stop 60", Text: "length: 60 mm\n", Who: "Ada"}))
		must[Part](t)(s.SavePart(ctx, Part{Kind: "tyre", Slug: "t", Name: "Tyre", Text: "{width: 225 mm}", Who: "Ada", Withdrawn: true}))
		count := func(q PartQuery) int { return len(must[[]Part](t)(s.Parts(ctx, q))) }
		for _, tt := range []struct {
			q    PartQuery
			want int
		}{
			{PartQuery{}, 2},
			{PartQuery{Withdrawn: true}, 3},
			{PartQuery{Kind: "stop"}, 1},
			{PartQuery{Text: "SHELF front"}, 1},
			{PartQuery{Text: "60"}, 1},
			{PartQuery{Text: "nothing"}, 0},
		} {
			if got := count(tt.q); got != tt.want {
				t.Errorf("%+v found %d parts; want %d", tt.q, got, tt.want)
			}
		}
		for name, p := range map[string]Part{
			"kind": {Kind: "engine", Slug: "a", Name: "A", Text: "{a: 1}", Who: "A"},
			"slug": {Kind: "stop", Slug: "a b", Name: "A", Text: "{a: 1}", Who: "A"},
			"text": {Kind: "stop", Slug: "a", Name: "A", Text: "{a: ", Who: "A"},
			"word": {Kind: "stop", Slug: "a", Name: "A", Text: "60 mm", Who: "A"},
			"date": {Kind: "stop", Slug: "a", Name: "A", Text: "{a: 1}", Dated: "16.11.2026", Who: "A"},
			"who":  {Kind: "stop", Slug: "a", Name: "A", Text: "{a: 1}"},
		} {
			if _, err := s.SavePart(ctx, p); !errors.As(err, new(*Refused)) {
				t.Errorf("%s: got %v; want it refused", name, err)
			}
		}
		absent(t, second(s.Part(ctx, "stop", "x")))
		absent(t, second(s.PartHistory(ctx, "stop", "x")))
	})
}

const presetText = `
parts:
  springs: {front-46: {rate: maker 46 N/mm, free: maker 230 mm}}
builds:
  kit:
    front: {spring: front-46, seats_closer: 32 mm}
    setup: {click: [7, 8], heights: {front_left: 350 mm}}
`

func TestPresets(t *testing.T) {
	onBoth(t, func(t *testing.T, s *Store) {
		ctx := t.Context()
		p := must[Preset](t)(s.SavePreset(ctx, Preset{Slug: "marl-road", Car: "Marl 2.0 estate", Name: "Road", Text: presetText, Who: "Ada"}))
		p.Name = "Fast road"
		q := must[Preset](t)(s.SavePreset(ctx, p))
		overtaken(t, second(s.SavePreset(ctx, p)))
		if list := must[[]Preset](t)(s.Presets(ctx, "marl 2.0 ESTATE")); len(list) != 1 || list[0].Name != "Fast road" || list[0].Text != presetText {
			t.Errorf("presets are %+v", list)
		}
		if list := must[[]Preset](t)(s.Presets(ctx, "Tarn")); len(list) != 0 {
			t.Errorf("presets of another car are %+v", list)
		}
		if h := must[[]Preset](t)(s.PresetHistory(ctx, "marl-road")); len(h) != 2 || h[1].Name != "Road" {
			t.Errorf("history is %+v", h)
		}
		q.Withdrawn = true
		must[Preset](t)(s.SavePreset(ctx, q))
		if list := must[[]Preset](t)(s.Presets(ctx, "")); len(list) != 0 {
			t.Errorf("a withdrawn preset is offered: %+v", list)
		}
		refused(t, second(s.SavePreset(ctx, Preset{Slug: "x", Car: "C", Name: "N", Text: "builds: {a: {}, b: {}}", Who: "Ada"})))
		refused(t, second(s.SavePreset(ctx, Preset{Slug: "x", Car: "C", Name: "N", Text: "car: {}", Who: "Ada"})))
	})
}

func TestRounds(t *testing.T) {
	onBoth(t, func(t *testing.T, s *Store) {
		ctx := t.Context()
		must[Revision](t)(s.Save(ctx, Change{Job: "j", Who: "Ada", Text: jobText("A", "B", "C", "p", "s")}))
		taken := time.Date(2026, 11, 16, 9, 30, 0, 0, time.UTC)
		r := Round{ID: "r1", Job: "j", Build: "kit", Kind: "scales", Taken: taken, Who: "Bo", Text: "426 kg 428 kg\n314 kg 295 kg"}
		first := must[Round](t)(s.AddRound(ctx, r))
		if again := must[Round](t)(s.AddRound(ctx, r)); !cmp.Equal(first, again) || first.Number != 1 || !first.Taken.Equal(taken) {
			t.Errorf("the round is %+v, then %+v", first, again)
		}
		other := r
		other.Text = "another"
		refused(t, second(s.AddRound(ctx, other)))
		var tablets sync.WaitGroup
		for range 8 {
			tablets.Go(func() {
				if _, err := s.AddRound(ctx, Round{Job: "j", Build: "kit", Kind: "scales", Who: "Bo", Text: "x"}); err != nil {
					t.Error(err)
				}
			})
		}
		tablets.Wait()
		must[Round](t)(s.AddRound(ctx, Round{Job: "j", Build: "arrived", Kind: "heights", Who: "Bo", Text: "y"}))
		seen := map[int]bool{}
		for _, r := range must[[]Round](t)(s.Rounds(ctx, "j", "kit")) {
			seen[r.Number] = true
		}
		if len(seen) != 9 || !seen[1] || !seen[9] {
			t.Errorf("rounds have the numbers %v; want 1 to 9", seen)
		}
		if all := must[[]Round](t)(s.Rounds(ctx, "j", "")); len(all) != 10 || all[0].Text != r.Text {
			t.Errorf("all rounds are %+v", all)
		}
		must[Round](t)(s.AddRound(ctx, Round{Job: "j", Build: "kit", Kind: "road", Taken: taken.Add(-time.Hour), Who: "Bo", Text: "z"}))
		of := must[[]Round](t)(s.RoundsOf(ctx, "j", "kit", "scales"))
		for k, r := range of {
			if r.Number != k+1 || r.Kind != "scales" || r.Build != "kit" {
				t.Errorf("of the kind, the round %d is %+v", k+1, r)
			}
		}
		if all := must[[]Round](t)(s.RoundsOf(ctx, "j", "", "heights")); len(of) != 9 || len(all) != 1 || all[0].Build != "arrived" {
			t.Errorf("%d rounds of the kit's scales, want 9; of all heights %+v", len(of), all)
		}
		absent(t, second(s.AddRound(ctx, Round{Job: "nobody", Build: "kit", Kind: "scales", Who: "Bo", Text: "x"})))
	})
}

func TestRuns(t *testing.T) {
	onBoth(t, func(t *testing.T, s *Store) {
		ctx := t.Context()
		must[Revision](t)(s.Save(ctx, Change{Job: "j", Who: "Ada", Text: jobText("A", "B", "C", "p", "s")}))
		absent(t, second(s.ClaimRun(ctx, "w")))
		absent(t, second(s.AskRun(ctx, "j", 2, "time", "Ada")))
		asked := must[Run](t)(s.AskRun(ctx, "j", 1, "time", "Ada"))
		later := must[Run](t)(s.AskRun(ctx, "j", 1, "time", "Ada"))
		mine := must[Run](t)(s.ClaimRun(ctx, "w1"))
		if mine.ID != asked.ID || mine.State != Running || mine.Heard.IsZero() {
			t.Fatalf("claimed is %+v; want %s", mine, asked.ID)
		}
		if err := s.Progress(ctx, mine.ID, "w1", 0.25, "pothole"); err != nil {
			t.Fatal(err)
		}
		if err := s.Progress(ctx, mine.ID, "w2", 0.5, ""); !errors.Is(err, ErrCancelled) {
			t.Errorf("another worker's progress: %v", err)
		}
		refused(t, s.Progress(ctx, mine.ID, "w1", 1.5, ""))
		if r := must[Run](t)(s.Run(ctx, mine.ID)); r.Progress != 0.25 || r.Stage != "pothole" {
			t.Errorf("the run is %+v", r)
		}
		answer := bytes.Repeat([]byte(`{"figure":1.25},`), 40_000)
		if err := s.FinishRun(ctx, mine.ID, "w1", answer); err != nil {
			t.Fatal(err)
		}
		if got := must[[]byte](t)(s.Answer(ctx, mine.ID)); !bytes.Equal(got, answer) {
			t.Errorf("the answer has %d bytes; want %d", len(got), len(answer))
		}
		if err := s.FinishRun(ctx, mine.ID, "w1", answer); !errors.Is(err, ErrCancelled) {
			t.Errorf("finished twice: %v", err)
		}
		if r := must[Run](t)(s.CancelRun(ctx, mine.ID)); r.State != Done {
			t.Errorf("a run that was done became %s", r.State)
		}
		// Cancelled while it runs.
		two := must[Run](t)(s.ClaimRun(ctx, "w1"))
		if two.ID != later.ID {
			t.Fatalf("claimed %s; want %s", two.ID, later.ID)
		}
		if r := must[Run](t)(s.CancelRun(ctx, two.ID)); r.State != Cancelled || r.Finished.IsZero() {
			t.Errorf("cancelled is %+v", r)
		}
		if err := s.Progress(ctx, two.ID, "w1", 0.5, ""); !errors.Is(err, ErrCancelled) {
			t.Errorf("the worker is told %v", err)
		}
		if err := s.FinishRun(ctx, two.ID, "w1", answer); !errors.Is(err, ErrCancelled) {
			t.Errorf("a cancelled run was finished: %v", err)
		}
		absent(t, second(s.Answer(ctx, two.ID)))
		// A worker that was not heard of, and one that fails.
		three := must[Run](t)(s.AskRun(ctx, "j", 1, "time", "Ada"))
		must[Run](t)(s.ClaimRun(ctx, "w1"))
		if n := must[int](t)(s.RequeueRuns(ctx, time.Now().Add(-time.Hour))); n != 0 {
			t.Errorf("%d runs were taken from a worker that was heard of", n)
		}
		if n := must[int](t)(s.RequeueRuns(ctx, time.Now().Add(time.Hour))); n != 1 {
			t.Errorf("%d runs wait again", n)
		}
		must[Run](t)(s.ClaimRun(ctx, "w2"))
		if err := s.Progress(ctx, three.ID, "w1", 0.5, ""); !errors.Is(err, ErrCancelled) {
			t.Errorf("the lost worker is told %v", err)
		}
		if err := s.FailRun(ctx, three.ID, "w2", "no rest position"); err != nil {
			t.Error(err)
		}
		if r := must[Run](t)(s.Run(ctx, three.ID)); r.State != Failed || r.Fault != "no rest position" {
			t.Errorf("the failed run is %+v", r)
		}
		if list := must[[]Run](t)(s.Runs(ctx, "j", 1)); len(list) != 3 || list[0].ID != three.ID || list[2].ID != asked.ID {
			t.Errorf("runs are %+v", list)
		}
	})
}

func TestRunsClaimedAtOnce(t *testing.T) {
	onBoth(t, func(t *testing.T, s *Store) {
		ctx := t.Context()
		must[Revision](t)(s.Save(ctx, Change{Job: "j", Who: "Ada", Text: jobText("A", "B", "C", "p", "s")}))
		for range 30 {
			must[Run](t)(s.AskRun(ctx, "j", 1, "time", "Ada"))
		}
		var mu sync.Mutex
		claimed := map[string]int{}
		var workers sync.WaitGroup
		for w := range 6 {
			workers.Go(func() {
				for {
					r, err := s.ClaimRun(ctx, fmt.Sprint("w", w))
					if errors.As(err, new(*NotFound)) {
						return
					}
					if err != nil {
						t.Error(err)
						return
					}
					mu.Lock()
					claimed[r.ID]++
					mu.Unlock()
				}
			})
		}
		workers.Wait()
		if len(claimed) != 30 {
			t.Errorf("%d of 30 runs were claimed", len(claimed))
		}
		for id, n := range claimed {
			if n != 1 {
				t.Errorf("run %s was claimed %d times", id, n)
			}
		}
	})
}

func TestPeopleAndSessions(t *testing.T) {
	onBoth(t, func(t *testing.T, s *Store) {
		ctx := t.Context()
		must[Person](t)(s.SavePerson(ctx, Person{Name: "Ørjan Bø", Role: Bay, Passphrase: "$argon2id$v=19$x"}))
		p := must[Person](t)(s.SavePerson(ctx, Person{Name: "ørjan  bø", Role: Specialist, Barred: true}))
		if p.Role != Specialist || !p.Barred || p.Passphrase != "" || p.Created.IsZero() {
			t.Errorf("the person is %+v", p)
		}
		must[Person](t)(s.SavePerson(ctx, Person{Name: "Ada", Role: Owner}))
		if all := must[[]Person](t)(s.People(ctx)); len(all) != 2 || all[0].Name != "Ada" {
			t.Errorf("people are %+v", all)
		}
		refused(t, second(s.SavePerson(ctx, Person{Name: "Ben", Role: "king"})))
		absent(t, second(s.Person(ctx, "Ben")))

		x, later := s.Sessions(), time.Now().Add(time.Hour)
		if err := errors.Join(x.Commit("token", []byte{0, 1, 255}, later), x.Commit("token", []byte{2}, later), x.Commit("old", []byte{3}, time.Now().Add(-time.Second))); err != nil {
			t.Fatal(err)
		}
		if data, found, err := x.Find("token"); err != nil || !found || !bytes.Equal(data, []byte{2}) {
			t.Errorf("the session is %v %v %v", data, found, err)
		}
		if _, found, err := x.Find("old"); err != nil || found {
			t.Errorf("a session that is over: %v %v", found, err)
		}
		if n := must[int](t)(x.Sweep(ctx)); n != 1 {
			t.Errorf("%d sessions were swept", n)
		}
		var hash string
		if err := s.db.NewRaw(`SELECT token_hash FROM sessions`).Scan(ctx, &hash); err != nil || strings.Contains(hash, "token") {
			t.Errorf("the token is kept as %q (%v)", hash, err)
		}
		if err := errors.Join(x.Delete("token"), x.Delete("token"), x.Commit("b", nil, later), x.Delete("b")); err != nil {
			t.Error(err)
		}
		if _, found, err := x.Find("b"); err != nil || found {
			t.Errorf("an ended session: %v %v", found, err)
		}
	})
}

func TestExportAndImportIntoAnother(t *testing.T) {
	onBoth(t, func(t *testing.T, s *Store) {
		ctx := t.Context()
		text := jobText("A", "../../TW 42", "<b>Märl</b>", "p", "s")
		r := must[Revision](t)(s.Import(ctx, text, "Ada", "from the other branch"))
		name, out, err := s.Export(ctx, r.Job, 0)
		if err != nil || !bytes.Equal(out, text) || name != "job-0042-tw-42-b-marl-b.yaml" {
			t.Errorf("exported as %q: %v", name, err)
		}
		here := wants[*AlreadyHere](t, second(s.Import(ctx, out, "Ada", "")))
		if here.Job.ID != r.Job {
			t.Errorf("already here as %+v", here.Job)
		}
		must[Revision](t)(s.Save(ctx, Change{Job: r.Job, Expected: 1, Who: "Ada", Text: jobText("B", "", "", "p", "s")}))
		if _, old, err := s.Export(ctx, r.Job, 1); err != nil || !bytes.Equal(old, text) {
			t.Errorf("the first revision is exported as %q, %v", old, err)
		}
		other := open(t, t.TempDir(), Options{})
		got := must[Revision](t)(other.Import(ctx, out, "Ben", ""))
		if !bytes.Equal(got.Text, text) || got.Who != "Ben" || got.Number != 1 {
			t.Errorf("imported is %+v", got)
		}
	})
}

func TestClockSetBack(t *testing.T) {
	for name, where := range places(t) {
		t.Run(name, func(t *testing.T) {
			ctx, now := t.Context(), time.Date(2026, 11, 16, 12, 0, 0, 0, time.UTC)
			clock := func() time.Time { return now }
			s, err := Open(ctx, where, Options{Now: clock})
			if err != nil {
				t.Fatal(err)
			}
			text := jobText("A", "B", "C", "p", "s")
			first := must[Revision](t)(s.Save(ctx, Change{Job: "j", Who: "Ada", Text: text}))
			now = now.AddDate(-3, 0, 0)
			again := must[Revision](t)(s.Save(ctx, Change{Job: "j", Expected: 1, Who: "Ada", Text: text}))
			if !again.When.After(first.When) {
				t.Errorf("revision 2 of %v is older than revision 1 of %v", again.When, first.When)
			}
			if err := s.Close(); err != nil {
				t.Fatal(err)
			}
			s = open(t, where, Options{Now: clock})
			if len(s.Notes()) != 1 || !strings.Contains(s.Notes()[0], "set the clock") {
				t.Errorf("on opening it says %q", s.Notes())
			}
			third := must[Revision](t)(s.Save(ctx, Change{Job: "j", Expected: 2, Who: "Ada", Text: text}))
			other := must[Revision](t)(s.Save(ctx, Change{Job: "k", Who: "Ada", Text: text}))
			if !third.When.After(again.When) || !other.When.After(third.When) {
				t.Errorf("saves are at %v, %v, %v", again.When, third.When, other.When)
			}
			if page := must[Page](t)(s.Find(ctx, Query{})); page.Hits[0].ID != "k" {
				t.Errorf("the last saved is %+v", page.Hits[0])
			}
		})
	}
}

// Fifty read while ten save the same few jobs: nobody gets an error but a
// conflict, every save that was answered is a revision of its own, and the
// numbers have no gap.
func TestManyAtOnce(t *testing.T) {
	saves := 3
	if inFull() {
		saves = 12
	}
	onBoth(t, func(t *testing.T, s *Store) {
		ctx, stop := context.WithCancel(t.Context())
		defer stop()
		ids := []string{"a", "b", "c"}
		for _, id := range ids {
			must[Revision](t)(s.Save(ctx, Change{Job: id, Who: "Ada", Text: jobText(id, "P", "C", "p", "0")}))
		}
		var readers, writers sync.WaitGroup
		for i := range 50 {
			readers.Go(func() {
				for r := rand.New(rand.NewPCG(1, uint64(i))); ctx.Err() == nil; {
					id := ids[r.IntN(3)]
					head, err := s.Head(ctx, id)
					if err == nil {
						var rev Revision
						rev, err = s.Revision(ctx, id, head.Revision)
						if err == nil && rev.SHA256 != head.SHA256 {
							t.Errorf("revision %d of %s is not the one of the list", head.Revision, id)
						}
					}
					if err == nil && i%10 == 0 {
						_, err = s.Find(ctx, Query{Text: "P"})
					}
					if err != nil && ctx.Err() == nil {
						t.Error(err)
						return
					}
				}
			})
		}
		var mu sync.Mutex
		saved := map[string]map[int]string{"a": {1: ""}, "b": {1: ""}, "c": {1: ""}}
		for w := range 10 {
			writers.Go(func() {
				r := rand.New(rand.NewPCG(2, uint64(w)))
				for n := 0; n < saves; {
					id := ids[r.IntN(3)]
					head, err := s.Head(ctx, id)
					if err != nil {
						t.Error(err)
						return
					}
					rev, err := s.Save(ctx, Change{Job: id, Expected: head.Revision, Who: fmt.Sprint("w", w), Text: jobText(id, "P", "C", "p", fmt.Sprint(w, "-", n))})
					if errors.As(err, new(*Conflict)) {
						continue
					}
					if err != nil {
						t.Error(err)
						return
					}
					mu.Lock()
					if _, twice := saved[id][rev.Number]; twice {
						t.Errorf("revision %d of %s was given twice", rev.Number, id)
					}
					saved[id][rev.Number] = rev.SHA256
					mu.Unlock()
					n++
				}
			})
		}
		writers.Wait()
		stop()
		readers.Wait()
		total := 0
		for id, numbers := range saved {
			history := must[[]Revision](t)(s.History(t.Context(), id))
			total += len(history)
			for _, r := range history {
				if sha, answered := numbers[r.Number]; !answered || sha != "" && sha != r.SHA256 {
					t.Errorf("revision %d of %s was not saved so", r.Number, id)
				}
			}
			if len(history) != len(numbers) || history[0].Number != len(history) {
				t.Errorf("%s has %d revisions, the newest is %d; %d were saved", id, len(history), history[0].Number, len(numbers))
			}
		}
		if total != 3+10*saves {
			t.Errorf("%d revisions; want %d", total, 3+10*saves)
		}
		if err := s.Check(t.Context()); err != nil {
			t.Error(err)
		}
	})
}
