package desk

import (
	"context"

	"trunnion/shop/sheet"
)

// Sheet makes what the owner takes home. The source says which build and load
// state, and what is printed beside the figures; answer, findings and what was understood are filled in
// here.
func (d *Desk) Sheet(ctx context.Context, src sheet.Source, s Settings) (*sheet.Sheet, *Result, error) {
	r, err := d.Figures(ctx, src.Job, s)
	if err != nil {
		return nil, nil, err
	}
	src.Answer, src.Findings, src.InShort = r.Answer, r.Findings, r.InShort
	made, err := sheet.New(src)
	return made, r, err
}
