package main

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"time"

	"trunnion/examples"
	"trunnion/shop/jobfile"
	"trunnion/shop/store"
)

// histories writes then.yaml and now.yaml, two states of the demo, and the folder
// kept, in which they are revisions 1 and 2 of the job marl with notes.
func histories(dir string) (err error) {
	then, err := examples.Jobs.ReadFile("marl-estate/job.yaml")
	if err != nil {
		return err
	}
	now := then
	for _, e := range [][2]string{
		{"builds.kit.setup.click.rear", "9"},
		{"builds.kit.setup.platform.front_left", "3 mm"},
		{"job.owner", "Mr Quill"},
	} {
		if now, err = jobfile.Put(now, e[0], e[1]); err != nil {
			return err
		}
	}
	err = errors.Join(os.WriteFile(filepath.Join(dir, "then.yaml"), then, 0o644), os.WriteFile(filepath.Join(dir, "now.yaml"), now, 0o644))
	if err != nil {
		return err
	}
	// The clock goes back between the two: the order is that of the revisions.
	clock := time.Date(2026, 11, 16, 10, 0, 0, 0, time.UTC)
	s, err := store.Open(context.Background(), filepath.Join(dir, "kept"), store.Options{Now: func() time.Time { return clock }})
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, s.Close()) }()
	if _, err = s.Save(context.Background(), store.Change{Job: "marl", Who: "Ada", Why: "as it came", Text: then}); err != nil {
		return err
	}
	clock = clock.Add(-time.Hour)
	if _, err = s.Save(context.Background(), store.Change{Job: "marl", Expected: 1, Who: "Bo", Why: "track day", Text: now}); err != nil {
		return err
	}
	for _, n := range []store.Note{
		{Kind: store.ComeBackNote, NoteBody: store.NoteBody{ComeBack: &store.ComeBack{Cause: "top nut loose", Step: "fitting", Part: "kit-front", Cost: "120 EUR", Hours: "1.5 h"}}},
		{Kind: store.ServiceNote, NoteBody: store.NoteBody{Service: &store.Service{Serial: "K-1", Work: store.RanHours, Use: "circuit", Hours: 51, Gas: "18 bar"}}},
		{Kind: store.RecheckNote, NoteBody: store.NoteBody{Recheck: &store.Recheck{Km: 640, Next: &store.RecheckAt{Date: "2026-12-05"}}}},
	} {
		n.Job, n.Who = "marl", "Bo"
		if _, err = s.AddNote(context.Background(), n); err != nil {
			return err
		}
	}
	_, err = s.AddNote(context.Background(), store.Note{Job: "marl", Kind: store.ChangeNote, Who: "Bo", NoteBody: store.NoteBody{
		Change: &store.Changed{What: "rear click", From: "7", To: "9", Where: "lap 4", Words: "better over the kerb", Verdict: "keep"},
	}})
	return err
}
