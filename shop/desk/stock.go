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

// Stock is where the desk finds the parts that the workshop can buy.
type Stock interface {
	StockedParts(ctx context.Context) ([]jobfile.Stocked, error)
}

// PartsAtHand are parts that were read already.
type PartsAtHand []jobfile.Stocked

// StockedParts are all of them.
func (s PartsAtHand) StockedParts(context.Context) ([]jobfile.Stocked, error) { return s, nil }

// stock are parts that can be bought.
type stock struct {
	mu   sync.Mutex
	from Stock  // nil for none
	mark string // of the texts that were read last; empty without any
	list car.Stock
}

// read reads the catalogue, and makes parts of it where it is another than before.
func (s *stock) read(ctx context.Context) (car.Stock, error) {
	parts, err := s.parts(ctx)
	if err != nil {
		return car.Stock{}, err
	}
	mark := markOf(parts)
	s.mu.Lock()
	defer s.mu.Unlock()
	if mark != s.mark {
		s.mark, s.list = mark, jobfile.ReadStock(parts)
	}
	return s.list, nil
}

// parts are the catalogue's parts as they are kept; none without a catalogue.
func (s *stock) parts(ctx context.Context) ([]jobfile.Stocked, error) {
	s.mu.Lock()
	from := s.from
	s.mu.Unlock()
	if from == nil {
		return nil, nil
	}
	parts, err := from.StockedParts(ctx)
	if err != nil {
		return nil, fmt.Errorf("the catalogue: %w", err)
	}
	return parts, nil
}

// markOf is the fingerprint of parts; empty of none.
func markOf(parts []jobfile.Stocked) string {
	if len(parts) == 0 {
		return ""
	}
	h := sha256.New()
	for i := range parts {
		_, _ = fmt.Fprintf(h, "%q %q %q %q\n", parts[i].Kind, parts[i].Slug, parts[i].Name, parts[i].Text)
	}
	return hex.EncodeToString(h.Sum(nil)[:12])
}

// now is the mark of what was read last.
func (s *stock) now() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.mark
}
