package store

import (
	"bytes"
	"database/sql"
	"errors"
	"fmt"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

func TestNotesAreKeptAsWritten(t *testing.T) {
	onBoth(t, func(t *testing.T, s *Store) {
		ctx := t.Context()
		must[Revision](t)(s.Save(ctx, Change{Job: "j", Who: "Ada", Text: jobText("A", "B", "C", "p", "s")}))
		must[Revision](t)(s.Save(ctx, Change{Job: "j", Expected: 1, Who: "Ada", Text: jobText("B", "B", "C", "p", "s")}))
		must[Revision](t)(s.Save(ctx, Change{Job: "k", Who: "Ada", Text: jobText("K", "B", "C", "p", "s")}))
		taken := time.Date(2026, 11, 16, 9, 30, 0, 0, time.UTC)
		list := []Note{
			{ID: "n1", Job: "j", Kind: ChangeNote, Revision: 1, Taken: taken, Who: "Bo", NoteBody: NoteBody{
				Text: "wet\nthen dry", Change: &Changed{
					What: "builds.kit.setup.click.rear", From: "7", To: "9", Reason: "skips", Words: "better over the kerb", Where: "lap 4", Verdict: "keep",
				},
			}},
			{ID: "n2", Job: "j", Kind: ComeBackNote, Who: "Bo", NoteBody: NoteBody{ComeBack: &ComeBack{Cause: "top nut loose", Step: "fitting", Part: "kit-front", Cost: "120 EUR", Hours: "1.5"}}},
			{ID: "n3", Job: "k", Kind: RecheckNote, Who: "Bo", NoteBody: NoteBody{Recheck: &Recheck{
				Km: 640, Heights: [4]string{"350 mm", "351 mm", "355 mm", "354 mm"}, Build: "kit", Next: &RecheckAt{Date: "2027-11-16", Km: 10_000},
			}}},
			{ID: "n4", Job: "k", Kind: ServiceNote, Who: "Bo", NoteBody: NoteBody{Service: &Service{Serial: "SN 900_17", Work: RanHours, Use: "circuit", Hours: 6.5, Gas: "18 bar"}}},
			{ID: "n5", Job: "j", Kind: RemarkNote, Who: "Bo", NoteBody: NoteBody{Text: "'; DROP TABLE notes; -- °µ±"}},
		}
		for i, n := range list {
			got := must[Note](t)(s.AddNote(ctx, n))
			if !cmp.Equal(got.NoteBody, n.NoteBody) || got.Saved.IsZero() || got.Taken.IsZero() {
				t.Errorf("note %d became %+v", i, got)
			}
			if again := must[Note](t)(s.AddNote(ctx, n)); !cmp.Equal(got, again) {
				t.Errorf("the same note twice became (-first +second):\n%s", cmp.Diff(got, again))
			}
			if n.Revision == 0 && got.Revision != map[string]int{"j": 2, "k": 1}[n.Job] {
				t.Errorf("note %d is about revision %d", i, got.Revision)
			}
		}
		ids := func(q NoteQuery) string {
			var out []string
			for _, n := range must[[]Note](t)(s.FindNotes(ctx, q)) {
				out = append(out, n.ID)
			}
			return strings.Join(out, " ")
		}
		for _, tt := range []struct {
			q    NoteQuery
			want string
		}{
			{NoteQuery{}, "n1 n2 n3 n4 n5"},
			{NoteQuery{Job: "j"}, "n1 n2 n5"},
			{NoteQuery{Kind: ComeBackNote}, "n2"},
			{NoteQuery{Job: "k", Kind: ServiceNote}, "n4"},
			{NoteQuery{Limit: 2}, "n4 n5"},
			{NoteQuery{Job: "nobody"}, ""},
		} {
			if got := ids(tt.q); got != tt.want {
				t.Errorf("%+v found %q; want %q", tt.q, got, tt.want)
			}
		}
		if first := must[[]Note](t)(s.FindNotes(ctx, NoteQuery{Job: "j"}))[0]; !first.Taken.Equal(taken) {
			t.Errorf("taken at %v", first.Taken)
		}
		other := list[0]
		other.Text = "another"
		refused(t, second(s.AddNote(ctx, other)))
		absent(t, second(s.AddNote(ctx, Note{Job: "nobody", Kind: RemarkNote, Who: "Bo", NoteBody: NoteBody{Text: "x"}})))
		absent(t, second(s.AddNote(ctx, Note{Job: "j", Revision: 3, Kind: RemarkNote, Who: "Bo", NoteBody: NoteBody{Text: "x"}})))
	})
}

func TestBadNotesAreRefused(t *testing.T) {
	change := func(c Changed) Note {
		return Note{Job: "j", Kind: ChangeNote, Who: "Bo", NoteBody: NoteBody{Change: &c}}
	}
	bad := map[string]Note{
		"no kind":         {Job: "j", Who: "Bo"},
		"unknown kind":    {Job: "j", Kind: "gossip", Who: "Bo", NoteBody: NoteBody{Text: "x"}},
		"nobody":          {Job: "j", Kind: RemarkNote, NoteBody: NoteBody{Text: "x"}},
		"empty remark":    {Job: "j", Kind: RemarkNote, Who: "Bo"},
		"no body":         {Job: "j", Kind: ChangeNote, Who: "Bo"},
		"two bodies":      {Job: "j", Kind: ChangeNote, Who: "Bo", NoteBody: NoteBody{Change: &Changed{What: "w", To: "1"}, Service: &Service{Serial: "s", Work: RanHours}}},
		"another's body":  {Job: "j", Kind: RemarkNote, Who: "Bo", NoteBody: NoteBody{Text: "x", Recheck: &Recheck{}}},
		"no what":         change(Changed{To: "1"}),
		"neither":         change(Changed{What: "w"}),
		"verdict":         change(Changed{What: "w", To: "1", Verdict: "maybe"}),
		"lines":           change(Changed{What: "w", To: "1\n2"}),
		"step":            {Job: "j", Kind: ComeBackNote, Who: "Bo", NoteBody: NoteBody{ComeBack: &ComeBack{Cause: "c", Step: "lunch"}}},
		"work":            {Job: "j", Kind: ServiceNote, Who: "Bo", NoteBody: NoteBody{Service: &Service{Serial: "s", Work: "polish"}}},
		"negative hours":  {Job: "j", Kind: ServiceNote, Who: "Bo", NoteBody: NoteBody{Service: &Service{Serial: "s", Work: RanHours, Hours: -1}}},
		"date":            {Job: "j", Kind: RecheckNote, Who: "Bo", NoteBody: NoteBody{Recheck: &Recheck{Next: &RecheckAt{Date: "soon"}}}},
		"long":            {Job: "j", Kind: RemarkNote, Who: "Bo", NoteBody: NoteBody{Text: strings.Repeat("x", mostNote+1)}},
		"not UTF-8":       {Job: "j", Kind: RemarkNote, Who: "Bo", NoteBody: NoteBody{Text: "\xe4"}},
		"id is a path":    {ID: "../x", Job: "j", Kind: RemarkNote, Who: "Bo", NoteBody: NoteBody{Text: "x"}},
		"negative number": {Job: "j", Revision: -1, Kind: RemarkNote, Who: "Bo", NoteBody: NoteBody{Text: "x"}},
	}
	onBoth(t, func(t *testing.T, s *Store) {
		must[Revision](t)(s.Save(t.Context(), Change{Job: "j", Who: "Ada", Text: jobText("A", "B", "C", "p", "s")}))
		for name, n := range bad {
			if _, err := s.AddNote(t.Context(), n); !errors.As(err, new(*Refused)) {
				t.Errorf("%s: got %v; want it refused", name, err)
			}
		}
		if list := must[[]Note](t)(s.FindNotes(t.Context(), NoteQuery{})); len(list) != 0 {
			t.Errorf("%d notes were kept", len(list))
		}
	})
}

func TestWorkshopKeepsEveryRevision(t *testing.T) {
	png := append([]byte("\x89PNG\r\n\x1a\n"), 0, 1, 2, 0xFF)
	onBoth(t, func(t *testing.T, s *Store) {
		ctx := t.Context()
		if w := must[Workshop](t)(s.Workshop(ctx)); w.Revision != 0 || w.Name != "" {
			t.Errorf("an empty store says %+v", w)
		}
		first := must[Workshop](t)(s.SaveWorkshop(ctx, Workshop{Name: "Tarrowby Works", Words: "Mill Lane\nTarrowby", Logo: png, RecheckDays: 21, RecheckKm: 800, Who: "Ada"}))
		if first.Revision != 1 || !bytes.Equal(first.Logo, png) {
			t.Errorf("the first is %+v", first)
		}
		next := first
		next.Name, next.Logo = "Tarrowby Chassis", nil
		must[Workshop](t)(s.SaveWorkshop(ctx, next))
		overtaken(t, second(s.SaveWorkshop(ctx, next)))
		overtaken(t, second(s.SaveWorkshop(ctx, Workshop{Name: "x", Who: "Ada"})))
		overtaken(t, second(s.SaveWorkshop(ctx, Workshop{Name: "x", Who: "Ada", Revision: 7})))
		now := must[Workshop](t)(s.Workshop(ctx))
		if now.Name != "Tarrowby Chassis" || now.Revision != 2 || now.Logo != nil || now.RecheckKm != 800 {
			t.Errorf("now it is %+v", now)
		}
		if h := must[[]Workshop](t)(s.WorkshopHistory(ctx)); len(h) != 2 || h[1].Name != "Tarrowby Works" || h[1].Words != first.Words {
			t.Errorf("the history is %+v", h)
		}
		for name, w := range map[string]Workshop{
			"logo is text": {Name: "A", Logo: []byte("<svg/>"), Who: "Ada", Revision: 2},
			"logo is big":  {Name: "A", Logo: append(bytes.Clone(png), make([]byte, MostLogo)...), Who: "Ada", Revision: 2},
			"nobody":       {Name: "A", Revision: 2},
			"days":         {Name: "A", Who: "Ada", RecheckDays: -1, Revision: 2},
			"name":         {Name: "A\nB", Who: "Ada", Revision: 2},
		} {
			if _, err := s.SaveWorkshop(ctx, w); !errors.As(err, new(*Refused)) {
				t.Errorf("%s: got %v; want it refused", name, err)
			}
		}
	})
}

func TestBackupRestoreAndReindexCarryNotes(t *testing.T) {
	ctx, dir := t.Context(), t.TempDir()
	s := open(t, dir, Options{})
	must[Revision](t)(s.Save(ctx, Change{Job: "j", Who: "Ada", Text: jobText("A", "B", "C", "p", "s")}))
	must[Note](t)(s.AddNote(ctx, Note{ID: "n", Job: "j", Kind: RemarkNote, Who: "Bo", NoteBody: NoteBody{Text: "kept"}}))
	must[Workshop](t)(s.SaveWorkshop(ctx, Workshop{Name: "W", Who: "Ada"}))
	must[int](t)(s.Reindex(ctx, nil))
	file := filepath.Join(t.TempDir(), "b.db")
	if err := s.Backup(ctx, file); err != nil {
		t.Fatal(err)
	}
	to := t.TempDir()
	must[string](t)(Restore(ctx, file, to))
	again := open(t, to, Options{})
	if list := must[[]Note](t)(again.FindNotes(ctx, NoteQuery{})); len(list) != 1 || list[0].Text != "kept" {
		t.Errorf("after a restore the notes are %+v", list)
	}
	if w := must[Workshop](t)(again.Workshop(ctx)); w.Name != "W" || w.Revision != 1 {
		t.Errorf("after a restore the workshop is %+v", w)
	}
}

// A clock that is set back does not turn the order round.
func TestNotesOrderByRevisionThoughTheClockJumps(t *testing.T) {
	now := time.Date(2026, 11, 16, 12, 0, 0, 0, time.UTC)
	for name, where := range places(t) {
		t.Run(name, func(t *testing.T) {
			ctx := t.Context()
			clock := now
			s := open(t, where, Options{Now: func() time.Time { return clock }})
			must[Revision](t)(s.Save(ctx, Change{Job: "j", Who: "Ada", Text: jobText("A", "B", "C", "p", "s")}))
			for i := range 4 {
				clock = clock.Add(-time.Hour)
				must[Note](t)(s.AddNote(ctx, Note{ID: fmt.Sprint("n", i), Job: "j", Kind: RemarkNote, Who: "Bo", NoteBody: NoteBody{Text: fmt.Sprint(i)}}))
			}
			for i, n := range must[[]Note](t)(s.FindNotes(ctx, NoteQuery{Job: "j"})) {
				if n.Text != fmt.Sprint(i) {
					t.Errorf("note %d says %q", i, n.Text)
				}
			}
		})
	}
}

func TestWalkGivesEveryRevisionInOrder(t *testing.T) {
	onBoth(t, func(t *testing.T, s *Store) {
		ctx := t.Context()
		for i := range 5 {
			must[Revision](t)(s.Save(ctx, Change{Job: "j", Expected: i, Who: "Ada", Text: jobText(fmt.Sprint("A", i), "B", "C", "p", "s")}))
		}
		n := 0
		if err := s.Walk(ctx, "j", func(r Revision) error {
			n++
			if want := jobText(fmt.Sprint("A", n-1), "B", "C", "p", "s"); r.Number != n || !bytes.Equal(r.Text, want) {
				t.Errorf("walked over revision %d: %q", r.Number, r.Text)
			}
			return nil
		}); err != nil || n != 5 {
			t.Errorf("walked over %d revisions: %v", n, err)
		}
		stop := errors.New("enough")
		if err := s.Walk(ctx, "j", func(Revision) error { return stop }); !errors.Is(err, stop) {
			t.Errorf("a walk that was ended says %v", err)
		}
		absent(t, s.Walk(ctx, "nobody", func(Revision) error { return nil }))
	})
}

// A store of the first version is brought up with everything in it.
func TestFirstVersionIsBroughtUp(t *testing.T) {
	ctx, dir := t.Context(), t.TempDir()
	path := filepath.Join(dir, databaseName)
	db, err := sql.Open("sqlite", path)
	if err != nil {
		t.Fatal(err)
	}
	steps, err := migrator(db, true)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := steps.UpTo(ctx, 1); err != nil {
		t.Fatal(err)
	}
	text := string(jobText("A", "B", "C", "p", "s"))
	for _, statement := range []string{
		`INSERT INTO jobs VALUES ('j', 1, 5, 5, 'Ada', '', '` + sum([]byte(text)) + `', '', 'A', 'B', 'C', '', '', '', '', '', '', '', '')`,
		`INSERT INTO job_revisions VALUES ('j', 1, 5, 'Ada', '', '` + sum([]byte(text)) + `', '` + strings.ReplaceAll(text, "'", "''") + `')`,
	} {
		if _, err := db.Exec(statement); err != nil {
			t.Fatal(err)
		}
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	s := open(t, dir, Options{})
	if r := must[Revision](t)(s.Job(ctx, "j")); string(r.Text) != text {
		t.Errorf("the job is %q", r.Text)
	}
	must[Note](t)(s.AddNote(ctx, Note{Job: "j", Kind: RemarkNote, Who: "Bo", NoteBody: NoteBody{Text: "kept"}}))
	must[Revision](t)(s.Save(ctx, Change{Job: "j", Expected: 1, Who: "Ada", Text: jobText("Z", "B", "C", "p", "s")}))
	if steps := must[[]Step](t)(s.Steps(ctx, "j")); len(steps) != 2 || len(steps[1].Changes) != 1 {
		t.Errorf("the steps are %+v", steps)
	}
}
