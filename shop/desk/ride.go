package desk

import (
	"cmp"
	"context"
	"slices"
	"strconv"
	"strings"

	"trunnion/chassis/drives"
	"trunnion/chassis/route"

	"trunnion/chassis/brief"
	"trunnion/chassis/car"
	"trunnion/chassis/figure"
	"trunnion/chassis/road"
	"trunnion/shop/intake"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
)

// RideAsk is what the builds are driven over, in place of the brief's roads and
// obstacles where it names one.
type RideAsk struct {
	Road    string   `help:"A road by name in place of the brief's: town-street, village-lane, motorway and others, a class such as class-C, or a measured roughness such as gd-256e-6." json:"road,omitempty" maxLength:"100" placeholder:"NAME"`
	Profile string   `json:"profile,omitempty" kong:"-" maxLength:"2097152"` // text of a measured road
	Name    string   `json:"name,omitempty" kong:"-" maxLength:"100"`        // of the measured road
	Event   string   `help:"An obstacle in place of the brief's: pothole, round-hump, sine-hump, dip, hollow, crest, kerb, joint." json:"event,omitempty" maxLength:"100" placeholder:"KIND"`
	Size    string   `help:"How high or deep the obstacle is." json:"size,omitempty" maxLength:"60" placeholder:"75mm"`
	Length  string   `help:"How long the obstacle is along the road." json:"length,omitempty" maxLength:"60" placeholder:"3.7m"`
	Speed   []string `help:"Road speeds." json:"speeds,omitempty" maxItems:"50" placeholder:"60km/h"`
	Load    string   `help:"Load state, by id." json:"load,omitempty" maxLength:"100" placeholder:"ID"`
	Build   []string `help:"Only these builds, by id." json:"builds,omitempty" maxItems:"100" placeholder:"ID"`
	Click   []string `help:"Clicks from closed: front=7, rear=5, or front-left=7 of one corner, for every build that has them." json:"clicks,omitempty" maxItems:"10" placeholder:"PLACE=N"`
	Settings
}

// Ridden is how the builds ride.
type Ridden struct {
	*Result
	Doubts []string // of the measured road
}

// Keeps reports whether a build is asked for.
func (a *RideAsk) Keeps(build, _ string) bool { return build == "" || asks(a.Build, build) }

// Ride drives the builds over the brief's roads and obstacles, or over what is
// asked for in their place. No bands of draws: those of a road come from its
// samples.
func (d *Desk) Ride(ctx context.Context, job *jobfile.Job, ask RideAsk) (*Ridden, error) {
	s := &ask.Settings
	if err := cmp.Or(s.check(), known(job, ask.Build, []string{ask.Load})); err != nil {
		return nil, err
	}
	q := &asked{job: job, opt: s.options(0), shown: s.Progress, strict: true}
	q.opt.NoModes, q.opt.NoPlans = true, true // a plan is made for the whole job: assess shows it
	b, err := ask.brief(job)
	if err != nil {
		return nil, err
	}
	q.study = studied(job)
	q.brief = &b
	if q.study.Builds, err = ask.clicked(job.Builds); err != nil {
		return nil, err
	}
	drive := s.drive()
	out := &Ridden{}
	if ask.Profile != "" {
		if out.Doubts, err = ask.measured(&drive); err != nil {
			return nil, err
		}
	}
	q.drive = &drive
	if out.Result, err = d.answer(ctx, q); err != nil {
		return nil, err
	}
	return out, nil
}

// brief is the job's brief with what is asked for in its place.
func (a *RideAsk) brief(job *jobfile.Job) (brief.Brief, error) {
	b := job.Brief
	if n := len(slices.DeleteFunc([]string{a.Road, a.Event, a.Profile}, func(s string) bool { return s == "" })); n > 1 {
		return b, bad("road", "does not go together with a profile or an obstacle: drive one after the other")
	}
	var speeds []brief.Input
	for _, text := range a.Speed {
		v, err := quantity.Parse(text, quantity.SpeedRoad)
		if err != nil {
			return b, bad("speed", "%s: %w", text, err)
		}
		speeds = append(speeds, brief.Input{Value: v.Value, Origin: figure.Chosen, Typed: text, Path: "--speed"})
	}
	switch {
	case a.Profile != "":
		if len(speeds) == 0 {
			return b, bad("profile", "needs a speed, such as --speed 60km/h")
		}
		b.Roads, b.Events = nil, nil
		return b, nil
	case a.Road != "":
		if len(speeds) == 0 {
			return b, bad("road", "needs a speed, such as --speed 60km/h")
		}
		b.Roads, b.Events = []brief.Road{{Name: a.Road, Speeds: speeds, Load: a.Load}}, nil
	case a.Event != "":
		if len(speeds) != 1 {
			return b, bad("event", "needs one speed, such as --speed 30km/h")
		}
		e, err := a.event(speeds[0])
		if err != nil {
			return b, err
		}
		b.Roads, b.Events = nil, []brief.Event{e}
	default:
		b.Roads, b.Events = slices.Clone(b.Roads), slices.Clone(b.Events)
		for i := range b.Roads {
			if len(speeds) > 0 {
				b.Roads[i].Speeds = speeds
			}
			b.Roads[i].Load = cmp.Or(a.Load, b.Roads[i].Load)
		}
		for i := range b.Events {
			b.Events[i].Load = cmp.Or(a.Load, b.Events[i].Load)
		}
	}
	for _, p := range brief.Check(&b) {
		if p.Refuse {
			return b, absent("%s %s; %s", p.Path, jobfile.Phrase(p.Got), jobfile.Phrase(p.Want))
		}
	}
	if len(b.Roads)+len(b.Events) == 0 {
		return b, absent("the brief names no road and no obstacle: give --road or --event")
	}
	return b, nil
}

// event is the obstacle that is asked for.
func (a *RideAsk) event(speed brief.Input) (brief.Event, error) {
	e := brief.Event{Kind: a.Event, Speed: speed, Load: a.Load}
	read := func(field, text string) (brief.Input, error) {
		if text == "" {
			return brief.Input{}, bad("event", "%s needs --%s", a.Event, field)
		}
		v, err := length(field, text, 0)
		return brief.Input{Value: v, Origin: figure.Chosen, Typed: text, Path: "--" + field}, err
	}
	size, err := read("size", a.Size)
	if err != nil {
		return e, err
	}
	if e.Length, err = read("length", a.Length); err != nil {
		return e, err
	}
	switch a.Event {
	case "pothole", "dip", "hollow", "joint":
		e.Depth = size
	default:
		e.Height = size
	}
	if _, err := route.Shape(&e); err != nil {
		return e, absent("%w", err)
	}
	return e, nil
}

// measured puts the measured road into the drive.
func (a *RideAsk) measured(drive *drives.Options) (doubts []string, err error) {
	readings, err := intake.Profile(strings.NewReader(a.Profile))
	if err != nil {
		return nil, absent("%s: %w", cmp.Or(a.Name, "profile"), err)
	}
	p, warnings, err := road.FromReadings(readings)
	if err != nil {
		return nil, absent("%s is no road: %w", cmp.Or(a.Name, "profile"), err)
	}
	for _, w := range warnings {
		doubts = append(doubts, w.String())
	}
	drive.Profile, drive.ProfileName, drive.Load = &p, cmp.Or(a.Name, "profile"), a.Load
	for _, text := range a.Speed {
		v, err := quantity.Parse(text, quantity.SpeedRoad)
		if err != nil || v.Value < 0.5 || v.Value > 100 {
			return nil, bad("speed", "%s: enter a road speed of 2 to 360 km/h", text)
		}
		drive.Speeds = append(drive.Speeds, v.Value)
	}
	return doubts, nil
}

// clicked are the builds at the clicks that are asked for, of an axle or of a corner.
func (a *RideAsk) clicked(builds []*car.Build) ([]*car.Build, error) {
	out := slices.Clone(builds)
	for _, text := range a.Click {
		name, count, _ := strings.Cut(text, "=")
		at := clickedAt(name)
		n, err := strconv.Atoi(count)
		if at == nil || err != nil || n < 0 {
			return nil, bad("click", "is front=7, rear=7 or a corner's such as front-left=7, counted from closed; %q is not", text)
		}
		set := false
		for i, b := range out {
			changed := *b
			for _, corner := range at {
				d := b.Corner[corner].Damper
				if d == nil || d.ClickMost == 0 {
					continue
				}
				if n > d.ClickMost {
					return nil, bad("click", "%s: %s has %d clicks", text, d.ID, d.ClickMost)
				}
				changed.Setup.Click[corner], changed.Setup.HasClick[corner] = n, true
				out[i], set = &changed, true
			}
		}
		if !set {
			return nil, bad("click", "%s: no build has %s dampers with clicks", text, strings.ReplaceAll(name, "-", " "))
		}
	}
	return out, nil
}

// clickedAt are the corners of a name, front or front-left; nil where it is none.
func clickedAt(name string) []int {
	name = strings.ReplaceAll(name, "_", "-")
	if axle := slices.Index(car.AxleNames[:], name); axle >= 0 {
		return []int{2 * axle, 2*axle + 1}
	}
	if i := slices.Index(figure.CornerNames[:], name); i >= 0 {
		return []int{i}
	}
	return nil
}
