package web

import (
	"context"
	"errors"
	"strings"

	"trunnion/shop/jobfile"
	"trunnion/shop/store"
)

// Seed gives an empty store the demo job, and the catalogue the parts in it, so
// that a workshop's first look is at something. It does nothing to a store that
// holds a job.
func Seed(ctx context.Context, s *store.Store, demo []byte) error {
	page, err := s.Find(ctx, store.Query{Limit: 1})
	if err != nil || page.Total > 0 {
		return err
	}
	const who, why = "Trunnion", store.Invented
	if _, err := s.Save(ctx, store.Change{Job: DemoJob, Who: who, Why: why, Text: demo}); err != nil {
		var conflict *store.Conflict
		if errors.As(err, &conflict) {
			return nil // another server on the same database was first
		}
		return err
	}
	seen := map[string]bool{}
	for _, f := range jobfile.Fields(demo) {
		words := strings.Split(f.Path, ".")
		if len(words) < 4 || words[0] != "parts" {
			continue
		}
		path := strings.Join(words[:3], ".")
		if seen[path] {
			continue
		}
		seen[path] = true
		piece, err := jobfile.Piece(demo, path)
		if err != nil {
			return err
		}
		_, err = s.SavePart(ctx, store.Part{
			Kind: strings.TrimSuffix(words[1], "s"), Slug: words[2], Name: strings.ReplaceAll(words[2], "-", " "), Text: piece,
			Source: store.Invented, Who: who, Why: why,
		})
		var stale *store.Stale
		if err != nil && !errors.As(err, &stale) {
			return err
		}
	}
	return nil
}
