package desk

import (
	"cmp"
	"context"

	"trunnion/chassis/car"
	"trunnion/chassis/study"
	"trunnion/shop/jobfile"
	"trunnion/shop/pastjobs"
	"trunnion/shop/quantity"
	"trunnion/shop/store"
)

// CertifierAsk is whose figures somebody licensed to judge is given.
type CertifierAsk struct {
	Build string `help:"The build, by id; else that of the handover." json:"build,omitempty" maxLength:"100" placeholder:"ID"`
	Load  string `help:"The load state, by id; else the usual one." json:"load,omitempty" maxLength:"100" placeholder:"ID"`
}

// Certifier gathers the measured figures of a changed suspension.
func (d *Desk) Certifier(ctx context.Context, job *jobfile.Job, system quantity.System, ask CertifierAsk) (*pastjobs.Pack, error) {
	if err := known(job, nil, []string{ask.Load}); err != nil {
		return nil, err
	}
	r, err := d.Figures(ctx, job, Settings{})
	if err != nil {
		return nil, err
	}
	pack, err := pastjobs.EvidencePack(job, r.Answer, ask.Build, ask.Load, system)
	if err != nil {
		return nil, absent("%w", err)
	}
	return pack, nil
}

// Nearest finds the past jobs that are nearest to a text of a job; self, where
// given, is that job among them.
func (d *Desk) Nearest(ctx context.Context, kept *store.Store, text []byte, self string, most *int, system quantity.System) (*pastjobs.Nearest, error) {
	if most != nil && (*most < 1 || *most > 100) {
		return nil, bad("most", "is 1 to 100")
	}
	return pastjobs.FindNearest(ctx, kept, text, self, or(most, 0), system, d.Plain)
}

// Plain is the study of a build alone beside the one that was weighed, in load
// states of its own: nominal figures, without bands.
func (d *Desk) Plain(ctx context.Context, job *jobfile.Job, build *car.Build, loads []car.Load) (*study.Answer, error) {
	if err := cmp.Or(known(job, nil, nil)); err != nil {
		return nil, err
	}
	r, err := d.plain(ctx, job, build, loads)
	if err != nil {
		return nil, err
	}
	return r.Answer, nil
}
