package dampers

import (
	"context"
	"errors"
	"strconv"

	"trunnion/chassis/presets"
	"trunnion/shop/desk"
	"trunnion/shop/jobfile"
	"trunnion/shop/view"
	"trunnion/shop/wording"
)

// PresetsOf finds clicks for what the car is used for.
func PresetsOf(ctx context.Context, d *view.Desk, req *Request) (*Presets, error) {
	out := &Presets{Presets: []Preset{}, Wanted: []string{}, Heads: wording.PresetHeads[:], Tried: []TriedClick{}}
	job, system, err := d.Read(ctx, &req.TryRequest)
	if err != nil || job == nil {
		out.Missing = wording.NoJob
		return out, err
	}
	got, err := d.Presets(ctx, job, desk.PresetsAsk{Build: req.Build})
	var bad *desk.AskError
	if errors.As(err, &bad) {
		out.Missing = view.Sentence(bad.Error())
		return out, nil
	}
	if err != nil {
		return nil, err
	}
	f, tell := got.Found, wording.OfJob(job.Builds, job.Loads, system)
	out.Build, out.Title, out.Basis = f.Build.ID, tell.PresetsTitle(job.Car.Name, f), tell.PresetsBasis(f)
	for k := range f.Presets {
		p := &f.Presets[k]
		_, text, step := tell.Preset(f, k)
		one := Preset{ID: p.Purpose.Code, Name: wording.Purpose(p.Purpose.Code), Text: text, Step: step, Set: p.Setting == f.AsSet, Edits: []jobfile.Edit{}}
		for axle, to := range []**int{&one.Front, &one.Rear} {
			if n := p.Setting[axle]; n >= 0 {
				*to = &n
				for _, path := range clickPaths(job.Text, f.Build.ID, 2*axle, false) {
					value := strconv.Itoa(n)
					one.Edits = append(one.Edits, jobfile.Edit{Path: path, Value: &value, Label: wording.PresetTaken(p.Purpose.Code)})
				}
			}
		}
		out.Presets = append(out.Presets, one)
	}
	out.tried(f, tell)
	for k := range f.Wanted {
		out.Wanted = append(out.Wanted, tell.PresetWanted(&f.Wanted[k]))
	}
	return out, nil
}

// tried lists every setting with its figures by purpose.
func (o *Presets) tried(f *presets.Found, tell *wording.Teller) {
	at := map[presets.Setting]int{}
	for k := range f.Presets {
		for n := range f.Presets[k].Tried {
			t := &f.Presets[k].Tried[n]
			i, there := at[t.Setting]
			if !there {
				i = len(o.Tried)
				at[t.Setting] = i
				o.Tried = append(o.Tried, TriedClick{t.Setting[0], t.Setting[1], make([][]string, len(f.Presets))})
				for r := range o.Tried[i].Rows {
					o.Tried[i].Rows[r] = []string{}
				}
			}
			o.Tried[i].Rows[k] = tell.PresetFigures(&t.Figures)
		}
	}
}
