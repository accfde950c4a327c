package store

import (
	"fmt"
	"os"
	"testing"

	"github.com/google/go-cmp/cmp"

	"trunnion/shop/jobfile"
)

func TestStepsTellWhatEachRevisionChanged(t *testing.T) {
	onBoth(t, func(t *testing.T, s *Store) {
		ctx := t.Context()
		owners := []string{"A", "B", "B", "C"}
		for i, o := range owners {
			must[Revision](t)(s.Save(ctx, Change{Job: "j", Expected: i, Who: "Ada", Why: fmt.Sprint(i), Text: jobText(o, "P", "C", "p", "s")}))
		}
		want := [][]jobfile.Difference{nil, {{Path: "job.owner", From: "A", To: "B"}}, nil, {{Path: "job.owner", From: "B", To: "C"}}}
		look := func() {
			t.Helper()
			steps := must[[]Step](t)(s.Steps(ctx, "j"))
			if len(steps) != 4 {
				t.Fatalf("%d steps", len(steps))
			}
			for i, st := range steps {
				if st.Number != i+1 || st.Why != fmt.Sprint(i) || len(st.Changes) != len(want[i]) || len(want[i]) > 0 && !cmp.Equal(st.Changes, want[i]) {
					t.Errorf("step %d is %+v", i, st)
				}
			}
		}
		count := func() (n int) {
			t.Helper()
			if err := s.db.NewRaw(`SELECT COUNT(*) FROM derived WHERE kind = ?`, differences).Scan(ctx, &n); err != nil {
				t.Fatal(err)
			}
			return n
		}
		if n := count(); n != 3 {
			t.Errorf("after 4 saves %d steps were derived", n)
		}
		look()
		// What was derived may go, and is made again.
		if _, err := s.db.Exec(`DELETE FROM derived`); err != nil {
			t.Fatal(err)
		}
		look()
		if n := count(); n != 3 {
			t.Errorf("looked at, %d steps are kept", n)
		}
		// What is spoiled is not believed.
		if _, err := s.db.Exec(`UPDATE derived SET text = '['`); err != nil {
			t.Fatal(err)
		}
		look()
		must[int](t)(s.Reindex(ctx, nil))
		if n := count(); n != 3 {
			t.Errorf("after a reindex %d steps are kept", n)
		}
		look()
		absent(t, second(s.Steps(ctx, "nobody")))
		var heads []string
		if err := s.KeepDerived(ctx, "j", 4, "mass", "1480"); err != nil {
			t.Fatal(err)
		}
		must[Revision](t)(s.Save(ctx, Change{Job: "k", Who: "Ada", Text: jobText("K", "P", "C", "p", "s")}))
		if err := s.Derived(ctx, "mass", func(h Head, text string) error {
			heads = append(heads, h.ID+" "+h.Owner+" "+text)
			return nil
		}); err != nil || !cmp.Equal(heads, []string{"j C 1480", "k K "}) {
			t.Errorf("derived are %q: %v", heads, err)
		}
	})
}

// BenchmarkStepsOf500 opens the history of a job that was changed 500 times.
func BenchmarkStepsOf500(b *testing.B) {
	text, err := os.ReadFile("../../examples/marl-estate/job.yaml")
	if err != nil {
		b.Fatal(err)
	}
	s := open(b, b.TempDir(), Options{})
	for i := range 500 {
		if text, err = jobfile.Put(text, "builds.kit.setup.click.rear", fmt.Sprint(i%15)); err != nil {
			b.Fatal(err)
		}
		if _, err := s.Save(b.Context(), Change{Job: "j", Expected: i, Who: "Ada", Text: text}); err != nil {
			b.Fatal(err)
		}
	}
	for b.Loop() {
		steps, err := s.Steps(b.Context(), "j")
		if err != nil || len(steps) != 500 || len(steps[499].Changes) != 1 {
			b.Fatalf("%d steps: %v", len(steps), err)
		}
	}
}
