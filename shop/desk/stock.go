package desk

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"sync"

	"trunnion/chassis/car"
	"trunnion/shop/jobfile"
)

// Springs is where the desk finds the springs that the workshop can buy.
type Springs interface {
	StockedSprings(ctx context.Context) ([]jobfile.Stocked, error)
}

// SpringsAtHand are springs that were read already.
type SpringsAtHand []jobfile.Stocked

// StockedSprings are all of them.
func (s SpringsAtHand) StockedSprings(context.Context) ([]jobfile.Stocked, error) { return s, nil }

// stock are springs that can be bought.
type stock struct {
	mu   sync.Mutex
	from Springs // nil for none
	mark string  // of the texts that were read last; empty without any
	list []*car.SpringSpec
}

// read reads the catalogue, and makes springs of it where it is another than before.
func (s *stock) read(ctx context.Context) ([]*car.SpringSpec, error) {
	parts, err := s.parts(ctx)
	if err != nil {
		return nil, err
	}
	mark := markOf(parts)
	s.mu.Lock()
	defer s.mu.Unlock()
	if mark != s.mark {
		s.mark, s.list = mark, jobfile.Springs(parts)
	}
	return s.list, nil
}

// parts are the catalogue's springs as they are kept; none without a catalogue.
func (s *stock) parts(ctx context.Context) ([]jobfile.Stocked, error) {
	s.mu.Lock()
	from := s.from
	s.mu.Unlock()
	if from == nil {
		return nil, nil
	}
	parts, err := from.StockedSprings(ctx)
	if err != nil {
		return nil, fmt.Errorf("the catalogue: %w", err)
	}
	return parts, nil
}

// markOf is the fingerprint of springs; empty of none.
func markOf(parts []jobfile.Stocked) string {
	if len(parts) == 0 {
		return ""
	}
	h := sha256.New()
	for i := range parts {
		_, _ = fmt.Fprintf(h, "%q %q %q\n", parts[i].Slug, parts[i].Name, parts[i].Text)
	}
	return hex.EncodeToString(h.Sum(nil)[:12])
}

// now is the mark of what was read last.
func (s *stock) now() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.mark
}
