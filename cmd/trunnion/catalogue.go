package main

import (
	"context"
	"errors"
	"os"

	"trunnion/shop/jobfile"
	"trunnion/shop/store"
)

// catalogue names the springs that remedies and plans choose from.
type catalogue struct {
	Catalogue string `help:"Springs that can be bought: a file with parts.springs as in a job, or the folder or database that holds the workshop's catalogue. Without it, rates and lengths as they are usually sold." placeholder:"PATH"`
}

// mostCatalogue is how much of a file is read at all.
const mostCatalogue = 8 << 20

// buy makes the desk choose from the catalogue that was named.
func (c *catalogue) buy(ctx context.Context) error {
	if c.Catalogue == "" {
		asking().Buying(nil)
		return nil
	}
	list, err := c.springs(ctx)
	if err != nil {
		return err
	}
	if len(jobfile.Springs(list)) == 0 {
		return usage("%s has no spring that can be read and bought; a catalogue has parts, springs and under an id of its own each {rate: maker 60 N/mm, free: maker 250 mm, inside: 60 mm, price: 85 EUR}", nameOf(c.Catalogue))
	}
	asking().Buying(springsAtHand(list))
	return nil
}

func (c *catalogue) springs(ctx context.Context) ([]jobfile.Stocked, error) {
	if info, err := os.Stat(c.Catalogue); !store.IsServer(c.Catalogue) && (err != nil || !info.IsDir()) {
		text, err := readUpTo(c.Catalogue, mostCatalogue)
		if err != nil {
			return nil, usage("%w", err)
		}
		return jobfile.StockIn(text), nil
	}
	kept, err := store.Open(ctx, c.Catalogue, store.Options{Who: "trunnion assess"})
	if err != nil {
		return nil, serving(err)
	}
	list, err := kept.StockedSprings(ctx)
	return list, errors.Join(err, kept.Close())
}

// springsAtHand are springs that were read already.
type springsAtHand []jobfile.Stocked

func (s springsAtHand) StockedSprings(context.Context) ([]jobfile.Stocked, error) { return s, nil }
