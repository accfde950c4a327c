package pastjobs

import (
	"context"
	"encoding/json"

	"trunnion/shop/store"
)

// derived is what was derived of a job's newest revision.
type derived struct {
	head store.Head
	text string
}

func (d *derived) into(v any) bool { return json.Unmarshal([]byte(d.text), v) == nil }

// derivedOf returns what is derived of every job's newest revision under a kind,
// and derives and keeps what is not there yet. A job of which nothing can be
// derived is left out.
func derivedOf(ctx context.Context, s *store.Store, kind string, of func(head store.Head, text []byte) (any, error)) ([]derived, error) {
	var out []derived
	if err := s.Derived(ctx, kind, func(h store.Head, text string) error {
		out = append(out, derived{h, text})
		return nil
	}); err != nil {
		return nil, err
	}
	for i := range out {
		if out[i].text != "" {
			continue
		}
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		r, err := s.Job(ctx, out[i].head.ID)
		if err != nil {
			return nil, err
		}
		v, err := of(out[i].head, r.Text)
		if err != nil {
			v = nil // kept as null, so that it is not tried each time
		}
		text, err := json.Marshal(v)
		if err != nil {
			text = []byte("null")
		}
		out[i].text = string(text)
		if r.Number == out[i].head.Revision {
			if err := s.KeepDerived(ctx, r.Job, r.Number, kind, string(text)); err != nil {
				return nil, err
			}
		}
	}
	return out, nil
}
