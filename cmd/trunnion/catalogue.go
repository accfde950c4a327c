package main

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"trunnion/shop/desk"
	"trunnion/shop/intake"
	"trunnion/shop/jobfile"
	"trunnion/shop/store"
)

// catalogue names the parts that remedies, plans and searches choose from.
type catalogue struct {
	Catalogue string `help:"Parts that can be bought: a file with parts as in a job (springs; for a search dampers and stops too), a list of springs, dampers or stops as CSV or XLSX, or the folder or database that holds the workshop's catalogue. Without it, springs of rates and lengths as they are usually sold." placeholder:"PATH"`
}

// mostCatalogue is how much of a file is read at all.
const mostCatalogue = 8 << 20

// buy makes the desk choose from the catalogue that was named.
func (c *catalogue) buy(ctx context.Context) error {
	if c.Catalogue == "" {
		asking().Buying(nil)
		return nil
	}
	list, err := c.parts(ctx)
	if err != nil {
		return err
	}
	if s := jobfile.ReadStock(list); len(s.Springs)+len(s.Dampers)+len(s.Stops) == 0 {
		return usage("%s has no spring, damper or stop that can be read and bought; a catalogue has parts, springs and under an id of its own each {rate: maker 60 N/mm, free: maker 250 mm, inside: 60 mm, price: 85 EUR}", nameOf(c.Catalogue))
	}
	asking().Buying(desk.PartsAtHand(list))
	return nil
}

func (c *catalogue) parts(ctx context.Context) ([]jobfile.Stocked, error) {
	if info, err := os.Stat(c.Catalogue); !store.IsServer(c.Catalogue) && (err != nil || !info.IsDir()) {
		text, err := readUpTo(c.Catalogue, mostCatalogue)
		if err != nil {
			return nil, usage("%w", err)
		}
		if slices.Contains([]string{".csv", ".tsv", ".txt", ".xlsx"}, strings.ToLower(filepath.Ext(c.Catalogue))) {
			return c.listed(ctx, text)
		}
		return jobfile.StockIn(text), nil
	}
	kept, err := store.Open(ctx, c.Catalogue, store.Options{Who: "trunnion assess"})
	if err != nil {
		return nil, serving(err)
	}
	list, err := kept.StockedParts(ctx)
	return list, errors.Join(err, kept.Close())
}

// listed are the parts of a list that says all there is to say.
func (c *catalogue) listed(ctx context.Context, data []byte) ([]jobfile.Stocked, error) {
	got, err := asking().Parts(ctx, desk.PartsAsk{File: intake.SweepFile{Name: c.Catalogue, Data: data}})
	if err != nil {
		return nil, err
	}
	if len(got.Questions) > 0 || len(got.Faults) > 0 {
		return nil, usage("%s does not say all, or has rows that cannot be read: trunnion catalogue read tells which, and takes it in with --save", nameOf(c.Catalogue))
	}
	out := make([]jobfile.Stocked, len(got.PartsList.Parts))
	for i := range out {
		p := &got.PartsList.Parts[i]
		out[i] = jobfile.Stocked{Kind: got.Kind, Section: jobfile.Sections[got.Kind], Slug: p.Slug, Name: p.Name, Text: p.Text}
	}
	return out, nil
}
