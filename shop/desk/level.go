package desk

import (
	"cmp"
	"context"
	"errors"
	"slices"
	"strings"

	"trunnion/chassis/scales"
	"trunnion/shop/intake"
	"trunnion/shop/jobfile"
	"trunnion/shop/levelling"
)

// LevelAsk is what is wanted of a build on the scales.
type LevelAsk struct {
	Build    string   `help:"The build on the scales, by id; needed where several have collars." json:"build,omitempty" maxLength:"100" placeholder:"ID"`
	Load     string   `help:"The load state on the scales, by id; else that of the job's readings of the build, else the usual one." json:"load,omitempty" maxLength:"100" placeholder:"ID"`
	Preset   string   `default:"road" enum:"road,track,race" help:"Tolerances and the cross weight that one millimetre is worth: ${enum}." json:"preset,omitempty"`
	Target   []string `help:"Targets: front=350mm, rear=360mm, rake=10mm, level-front=0mm, level-rear=0mm, cross=50%, cross=none, front-share=55%, left-share=50%." json:"targets,omitempty" maxItems:"20" placeholder:"TARGET" sep:"none"`
	Price    string   `help:"Cross weight worth one millimetre, in %, instead of the preset's; level: cross weight counts nothing." json:"price,omitempty" maxLength:"60" placeholder:"PERCENT"`
	Diagonal string   `default:"front-right-rear-left" enum:"front-right-rear-left,front-left-rear-right" help:"Which diagonal cross weight counts: ${enum}." json:"diagonal,omitempty"`
	Only     []string `help:"Turn only these collars." json:"only,omitempty" maxItems:"4" placeholder:"CORNER"`
	Step     string   `help:"Smallest turn, as a fraction of one; else one of the collar's flats, where the job says how many, else 1/8." json:"step,omitempty" maxLength:"20" placeholder:"TURN"`
	Flats    int      `help:"Flats of the collar, instead of a step." json:"flats,omitempty" placeholder:"N"`

	Confirmed bool `help:"What looks odd was read again and is right." json:"confirmed,omitempty"`
}

// What is meant where neither is said.
const (
	UsualPreset   = scales.Road
	UsualDiagonal = scales.FrontRightRearLeft
)

// Level says which collars to turn, from the rounds that were read; nil rounds are
// those that the job holds.
func (d *Desk) Level(_ context.Context, job *jobfile.Job, ask LevelAsk, rounds []intake.Weighing) (*levelling.Result, error) {
	if job == nil {
		return nil, errNoJob
	}
	build, err := levelling.Find(job, ask.Build)
	if err != nil {
		return nil, asAsk(err)
	}
	if !levelling.HasCollars(build) {
		return nil, absent("build %q has no collars to turn: no platform is named at either axle", build.ID)
	}
	own := rounds == nil
	load := ask.Load
	switch {
	case load != "":
	case own:
		load = levelling.LoadOf(job, build)
	default:
		load = LoadOf(job, "")
	}
	target, step, faults := ask.read()
	if len(faults) > 0 {
		return nil, asAsk(faults[0])
	}
	rig, err := levelling.Stand(job, build, load, nil, step)
	if err != nil {
		return nil, asAsk(err)
	}
	history := levelling.Read(nil)
	if own {
		rounds, _ = history.Weighings(job, build, load)
	}
	for k := range rounds {
		rounds[k].Session.Confirmed = rounds[k].Session.Confirmed || ask.Confirmed
	}
	got, err := levelling.Work(build, load, rig, target, rounds)
	if err != nil {
		return nil, asAsk(err)
	}
	if _, left := history.LeftOut(job, build, load); left && own {
		got.NoteLeftOut()
	}
	got.FindSuspects()
	return got, nil
}

// read is what is wanted and the smallest turn, 0 where none is said [-]; what
// cannot be read is listed, and left as the preset has it.
func (a *LevelAsk) read() (t scales.Target, step float64, faults []*levelling.AskError) {
	fault := func(err error) {
		var ask *levelling.AskError
		if errors.As(err, &ask) {
			faults = append(faults, ask)
		}
	}
	preset := scales.Preset(cmp.Or(a.Preset, string(UsualPreset)))
	if !slices.Contains(scales.Presets(), preset) {
		fault(&levelling.AskError{Field: "preset", Text: "is road, track or race, not “" + a.Preset + "”"})
		preset = UsualPreset
	}
	diagonal := scales.Diagonal(cmp.Or(a.Diagonal, string(UsualDiagonal)))
	if diagonal != scales.FrontRightRearLeft && diagonal != scales.FrontLeftRearRight {
		fault(&levelling.AskError{Field: "diagonal", Text: "is front-right-rear-left or front-left-rear-right, not “" + a.Diagonal + "”"})
		diagonal = UsualDiagonal
	}
	t = preset.Level(diagonal)
	switch a.Price {
	case "":
	case "level":
		t.CrossPerMetre = 0
	default:
		price, err := levelling.Price(a.Price)
		if fault(err); err == nil {
			t.CrossPerMetre = price
		}
	}
	step, err := levelling.Step(a.Step, a.Flats)
	fault(err)
	fault(levelling.Only(&t, a.Only))
	for _, wish := range a.Target {
		name, value, _ := strings.Cut(wish, "=")
		fault(levelling.Wish(&t, strings.TrimSpace(name), value))
	}
	return t, step, faults
}

// asAsk names the field of a fault of levelling's.
func asAsk(err error) error {
	var ask *levelling.AskError
	switch {
	case !errors.As(err, &ask):
		return err
	case ask.Field == "target" && slices.Contains(levelling.Wishes, ask.Wish):
		return &AskError{Field: "target", Text: ask.Wish + ": " + ask.Text, err: err}
	case ask.Field == "build" || ask.Field == "load":
		return &AskError{Text: ask.Text + " (--" + ask.Field + ")", err: err}
	}
	return &AskError{Field: ask.Field, Text: ask.Text, err: err}
}
