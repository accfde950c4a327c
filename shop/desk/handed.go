package desk

import (
	"context"
	"encoding/json"
	"fmt"

	"trunnion/chassis/search"
	"trunnion/shop/jobfile"
)

// ReadySearch makes a search ready of what another program handed on. workers are how many
// goroutines compute a piece.
func ReadySearch(ctx context.Context, version string, in *SearchInputs, workers int) (*search.Ready, error) {
	var ask SearchAsk
	if err := json.Unmarshal(in.Ask, &ask); err != nil {
		return nil, fmt.Errorf("the search that was asked for: %w", err)
	}
	ask.Workers = &workers
	job, faults := jobfile.ReadBytes(in.Text, "job.yaml")
	if job == nil {
		return nil, jobfile.AsError("job.yaml", faults)
	}
	d := New(version)
	if len(in.Catalogue) > 0 {
		d.Buying(PartsAtHand(in.Catalogue))
	}
	p, err := d.prepare(ctx, job, &ask, in.Base)
	if err != nil {
		return nil, err
	}
	return search.NewReady(p.base.Answer, p.space, p.must, p.opt)
}
