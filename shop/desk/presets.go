package desk

import (
	"cmp"
	"context"
	"errors"

	"trunnion/chassis/presets"
	"trunnion/shop/answer"
	"trunnion/shop/jobfile"
)

// PresetsAsk is the build whose clicks are looked for.
type PresetsAsk struct {
	Build string `help:"Build, by id; the first whose dampers have clicks without it." json:"build,omitempty" maxLength:"100" placeholder:"ID"`
	Settings
}

// PresetsFound are presets found by driving.
type PresetsFound struct {
	Job   *jobfile.Job
	Found *presets.Found
}

// Presets finds clicks for town, motorway, fast road, wet, a bumpy closed road and
// track, by driving every setting over the brief's roads.
func (d *Desk) Presets(ctx context.Context, job *jobfile.Job, ask PresetsAsk) (*PresetsFound, error) {
	s := &ask.Settings
	if err := cmp.Or(s.check(), known(job, nil, nil)); err != nil {
		return nil, err
	}
	build, err := adjustable(job, ask.Build)
	if err != nil {
		return nil, err
	}
	done, err := d.patient.turn(ctx)
	if err != nil {
		return nil, err
	}
	defer done()
	of := presets.Ask{Build: build, Seed: or(s.Seed, Seed), Workers: or(s.Workers, Workers())}
	found, err := presets.Find(ctx, studied(job), of, s.Progress)
	if errors.Is(err, presets.ErrNoClicks) {
		return nil, absent("no damper of build %q has curves at two clicks; read its sweeps into the job, or type them", build)
	}
	if err != nil {
		return nil, err
	}
	return &PresetsFound{job, found}, nil
}

// Document is what was found, for programs.
func (p *PresetsFound) Document(program string) *answer.Presets {
	return answer.NewPresets(program, p.Job.SHA256, p.Found)
}
