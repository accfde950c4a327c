package pastjobs

import (
	"bytes"
	"testing"

	"trunnion/chassis/study"
	"trunnion/examples"
	"trunnion/shop/jobfile"
	"trunnion/shop/store"
)

func demo(t testing.TB) []byte {
	t.Helper()
	text, err := examples.Jobs.ReadFile("marl-estate/job.yaml")
	if err != nil {
		t.Fatal(err)
	}
	// What the demo says of its handover is left to each test.
	if at := bytes.Index(text, []byte("\nhandover:")); at >= 0 {
		text = text[:at+1]
	}
	return text
}

// changed replaces pieces of a text, each of which must be there.
func changed(t testing.TB, text []byte, pairs ...string) []byte {
	t.Helper()
	for i := 0; i < len(pairs); i += 2 {
		if !bytes.Contains(text, []byte(pairs[i])) {
			t.Fatalf("the job has no %q", pairs[i])
		}
		text = bytes.Replace(text, []byte(pairs[i]), []byte(pairs[i+1]), 1)
	}
	return text
}

func computed(t testing.TB, text []byte) (*jobfile.Job, *study.Answer) {
	t.Helper()
	job, faults := jobfile.ReadBytes(text, "job.yaml")
	if job == nil {
		t.Fatalf("the job is refused: %v", faults)
	}
	opt := study.Defaults()
	opt.Samples, opt.NoWorkings, opt.NoModes, opt.NoCorners = 200, true, true, true
	a, err := study.Run(t.Context(), study.Job{Car: job.Car, Builds: job.Builds, Loads: job.Loads, Brief: &job.Brief}, opt)
	if err != nil {
		t.Fatal(err)
	}
	return job, a
}

func openStore(t testing.TB) *store.Store {
	t.Helper()
	s, err := store.Open(t.Context(), t.TempDir(), store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	})
	return s
}

func keep(t testing.TB, s *store.Store, id string, revision int, text []byte) store.Revision {
	t.Helper()
	r, err := s.Save(t.Context(), store.Change{Job: id, Expected: revision, Who: "Ada", Text: text})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func note(t testing.TB, s *store.Store, n store.Note) {
	t.Helper()
	n.Who = "Bo"
	if _, err := s.AddNote(t.Context(), n); err != nil {
		t.Fatal(err)
	}
}
