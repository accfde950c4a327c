package desk

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"

	"trunnion/chassis/drives"
	"trunnion/chassis/search"
	"trunnion/shop/jobfile"
)

// SearchInputs are what a search is made ready of, so that its pieces can be computed by
// another program of the same version.
type SearchInputs struct {
	Ask       []byte // a SearchAsk in JSON, seed and draws said
	Text      []byte // of the job
	Catalogue []jobfile.Stocked
	// Base is what driving the job's own builds gave. It follows from the rest, and is
	// handed on so that nobody drives them again.
	Base *drives.Driven
}

// Mark is the fingerprint of what a search follows from; program says which program
// computes it.
func (in *SearchInputs) Mark(program string) string {
	h := sha256.New()
	_, _ = fmt.Fprintf(h, "%q\n%q\n%q\n", program, in.Ask, in.Text)
	for i := range in.Catalogue {
		_, _ = fmt.Fprintf(h, "%q %q %q %q\n", in.Catalogue[i].Kind, in.Catalogue[i].Slug, in.Catalogue[i].Name, in.Catalogue[i].Text)
	}
	return hex.EncodeToString(h.Sum(nil))
}

// Hands have the pieces of searches computed.
type Hands interface {
	// Base is what an earlier search of the same inputs kept; nil where there was none.
	Base(ctx context.Context, in *SearchInputs) (*drives.Driven, error)
	// Crew begins a search; ready computes its pieces here. leave ends it.
	Crew(ctx context.Context, in *SearchInputs, ready *search.Ready) (crew search.Crew, leave func(), err error)
}
