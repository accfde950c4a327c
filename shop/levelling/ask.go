package levelling

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"trunnion/chassis/car"
	"trunnion/chassis/corner"
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/figure"
	"trunnion/chassis/scales"
	"trunnion/chassis/study"
	"trunnion/shop/intake"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
)

// AskError is something asked for that the job does not have or that cannot be
// read. Field is build, load, preset, diagonal, price, step, flats, only or
// target.
type AskError struct {
	Field string
	Wish  string // name of the wish, of target
	Text  string
}

func (e *AskError) Error() string { return e.Text }

func unasked(field, format string, args ...any) error {
	return &AskError{Field: field, Text: fmt.Sprintf(format, args...)}
}

// NoRest says that the car finds no rest as it was described.
type NoRest struct{ Err error }

func (e *NoRest) Error() string { return "no answer: " + e.Err.Error() }
func (e *NoRest) Unwrap() error { return e.Err }

func noRest(err error) error { return &NoRest{Err: err} }

// Find returns a build of the job: the one of the id, else the only one that has
// collars.
func Find(job *jobfile.Job, id string) (*car.Build, error) {
	var ids []string
	var with []*car.Build
	for _, b := range job.Builds {
		if b.ID == id {
			return b, nil
		}
		ids = append(ids, b.ID)
		if HasCollars(b) {
			with = append(with, b)
		}
	}
	switch {
	case id != "":
		return nil, unasked("build", "%v", jobfile.NoBuild(job, id))
	case len(with) != 1:
		return nil, unasked("build", "%d builds have collars; say which one: %s", len(with), strings.Join(ids, ", "))
	}
	return with[0], nil
}

// HasCollars reports whether a build has a collar at one corner at least.
func HasCollars(b *car.Build) bool {
	for i := range 4 {
		if b.Corner[i].Platform != nil {
			return true
		}
	}
	return false
}

// Step reads the smallest turn, "1/8", or makes it of the collar's flats; 0 where
// nothing is said [-].
func Step(step string, flats int) (float64, error) {
	if step == "" && flats == 0 {
		return 0, nil
	}
	if flats != 0 {
		if flats < 2 || flats > 60 {
			return 0, unasked("flats", "is 2 to 60")
		}
		return 1 / float64(flats), nil
	}
	v, err := intake.Turns(step)
	if err != nil || !(v >= 0.01 && v <= 2) {
		return 0, unasked("step", "is a turn or a part of one, such as 1/8, not %q", step)
	}
	return v, nil
}

// Price reads what a millimetre is worth in cross weight, "0.25 %" [1/m].
func Price(text string) (float64, error) {
	v, err := quantity.Parse(text, quantity.Share)
	if err != nil || !(v.Value > 0 && v.Value < 0.1) {
		return 0, unasked("price", "is the cross weight worth one millimetre, such as 0.25%%, not %q", text)
	}
	return v.Value / quantity.Millimetre, nil
}

// Wishes are the names of what can be wanted, in the order in which they are
// shown.
var Wishes = []string{"front", "rear", "rake", "level-front", "level-rear", "cross", "front-share", "left-share"}

// Wish puts one wish into a target: "front" and "350 mm"; "none" wants nothing.
func Wish(t *scales.Target, name, value string) error {
	at, kind := wishOf(t, name)
	if at == nil {
		return &AskError{Field: "target", Wish: name, Text: fmt.Sprintf("%q is no target: enter front=350mm, rear=360mm, rake=10mm, level-front=0mm, level-rear=0mm, cross=50%%, front-share=55%%, left-share=50%%", name+"="+value)}
	}
	if value == "none" {
		*at = math.NaN()
		return nil
	}
	v, err := quantity.Parse(value, kind)
	if err != nil {
		return &AskError{Field: "target", Wish: name, Text: err.Error()}
	}
	low, high := -0.2, 0.2
	switch {
	case kind == quantity.Share:
		low, high = 0.2, 0.8
	case name == "front" || name == "rear":
		low, high = 0.1, 1
	}
	if v.Value < low || v.Value > high {
		show := func(v float64) string { return quantity.Format(v, kind, quantity.Metric, quantity.Auto) }
		return &AskError{Field: "target", Wish: name, Text: fmt.Sprintf("%q is out of range: enter %s to %s", value, show(low), show(high))}
	}
	*at = v.Value
	return nil
}

func wishOf(t *scales.Target, name string) (*float64, quantity.Kind) {
	switch name {
	case "front":
		return &t.Mean[0], quantity.Length
	case "rear":
		return &t.Mean[1], quantity.Length
	case "rake":
		return &t.Rake, quantity.Length
	case "level-front":
		return &t.Level[0], quantity.Length
	case "level-rear":
		return &t.Level[1], quantity.Length
	case "cross":
		return &t.Cross, quantity.Share
	case "front-share":
		return &t.FrontShare, quantity.Share
	case "left-share":
		return &t.LeftShare, quantity.Share
	}
	return nil, quantity.Length
}

// Only locks every collar but those named; nobody named locks none.
func Only(t *scales.Target, names []string) error {
	if len(names) == 0 {
		return nil
	}
	locked := [4]bool{true, true, true, true}
	for _, name := range names {
		i := slices.Index(figure.CornerNames[:], strings.ReplaceAll(name, "_", "-"))
		if i < 0 {
			return unasked("only", "%q is no corner; they are %s", name, strings.Join(figure.CornerNames[:], ", "))
		}
		locked[i] = false
	}
	t.Locked = locked
	return nil
}

// LoadOf is the load state that stands on the scales where none is named: that of
// the readings that the job holds, else the usual one. Empty is as weighed.
func LoadOf(job *jobfile.Job, build *car.Build) string {
	if r, state := firstRound(job, build); r != nil {
		return state
	}
	return study.UsualLoad(&job.Brief, job.Loads)
}

// firstRound is what the job holds of a build on the scales, and the load state it
// was read in: its readings after fitting, in the state they name or as weighed;
// of the build on which the car was weighed, the weighing itself.
func firstRound(job *jobfile.Job, build *car.Build) (r *intake.RoundTyped, state string) {
	if k := build.Readings; k != nil {
		if r = intake.Kept(k.Load, k.Height, k.BarsOn); r != nil {
			return r, k.State
		}
	}
	if w := &job.Car.Weighed; w.Build == build.ID {
		if r = intake.Kept(w.Load, w.Height, w.BarsOn); r != nil && w.Settled {
			r.Settled = "yes"
		}
	}
	return r, ""
}

// Stand puts a build on the scales in a load state, with the margins that the
// brief wants kept. Collars are from the start mark [m] where they are given,
// else where the build's setup, or the heights wanted in it, have them; a step of 0 is one of the collar's flats,
// else an eighth of a turn.
func Stand(job *jobfile.Job, build *car.Build, load string, collars *[4]float64, step float64) (*scales.Rig, error) {
	aboard := job.Car.Weighed.Aboard // as weighed, where no load state is named
	found := load == ""
	for i := range job.Loads {
		if job.Loads[i].ID == load {
			aboard, found = job.Loads[i].Items, true
		}
	}
	if !found {
		return nil, unasked("load", "%v", jobfile.NoLoad(job, load))
	}
	var fitted *car.Build
	for _, b := range job.Builds {
		if b.ID == job.Car.Weighed.Build {
			fitted = b
		}
	}
	if fitted == nil {
		return nil, unasked("build", "the build that was weighed, %q, is not among the builds", job.Car.Weighed.Build)
	}
	old, err := corner.NewDesign(job.Car, fitted)
	if err != nil {
		return nil, noRest(err)
	}
	base := equilibrium.Calibrate(old, equilibrium.NewHangup(), nil)
	if collars == nil {
		stand, err := start(job, build, &base)
		if err != nil {
			return nil, err
		}
		collars = &stand
	}
	design, err := corner.NewDesign(job.Car, at(build, *collars))
	if err != nil {
		return nil, noRest(err)
	}
	rig, err := scales.NewRig(design, &base, aboard)
	if err != nil {
		return nil, noRest(err)
	}
	for i := range rig.Adjuster {
		if step > 0 {
			rig.Adjuster[i].Step = step
		}
	}
	rig.Guards = guards(job)
	return rig, nil
}

// Collars are where the setup of a build has its collars from their start marks
// [m].
func Collars(b *car.Build) (at [4]float64) {
	for i := range 4 {
		in := &b.Setup.Platform[i]
		if isBody(b, i) {
			in = &b.Setup.BodyLength[i]
		}
		if in.Known() {
			at[i] = in.Value
		}
	}
	return at
}

// start is where the collars of a build stand from their start marks by its
// setup: where heights are wanted, where these put them [m].
func start(job *jobfile.Job, b *car.Build, base *equilibrium.Baseline) (stand [4]float64, err error) {
	stand = Collars(b)
	if !wantsHeights(b) {
		return stand, nil
	}
	wanted := *b
	wanted.Readings = nil
	plain := wanted
	plain.Setup.WantedHeight = [4]car.Input{}
	var seats [2][4]float64
	for k, build := range []*car.Build{&plain, &wanted} {
		design, err := corner.NewDesign(job.Car, build)
		if err != nil {
			return stand, noRest(err)
		}
		sys, err := equilibrium.NewSystem(design, base, equilibrium.NewHangup(), nil)
		if err != nil {
			return stand, noRest(err)
		}
		for i := range 4 {
			seats[k][i] = sys.Corner[i].Compressed0
		}
	}
	for i := range 4 {
		stand[i] += seats[1][i] - seats[0][i]
	}
	return stand, nil
}

func wantsHeights(b *car.Build) bool {
	for i := range 4 {
		if b.Setup.WantedHeight[i].Known() {
			return true
		}
	}
	return false
}

func isBody(b *car.Build, i int) bool {
	p := b.Corner[i].Platform
	return p != nil && p.Kind == string(scales.Body)
}

// at is a build with its collars elsewhere.
func at(b *car.Build, collars [4]float64) *car.Build {
	moved := *b
	moved.Setup.WantedHeight = [4]car.Input{}
	for i := range 4 {
		in := figure.Input{Value: collars[i], Origin: figure.Measured}
		switch {
		case b.Corner[i].Platform == nil:
		case isBody(b, i):
			moved.Setup.BodyLength[i] = in
		default:
			moved.Setup.Platform[i] = in
		}
	}
	return &moved
}

// guards are the margins of every load state that a move may not use up.
func guards(job *jobfile.Job) []scales.Guard {
	or := func(in *figure.Input, otherwise float64) float64 {
		if in.Known() {
			return in.Value
		}
		return otherwise
	}
	limits := &job.Brief.Limits
	loose := or(&limits.SpringLoose, scales.Loose)
	var list []scales.Guard
	for i := range job.Loads {
		l := &job.Loads[i]
		least := or(&limits.BumpLeftLaden, math.NaN())
		if l.ID == job.Brief.UsualLoad {
			least = or(&limits.BumpLeft, math.NaN())
		}
		list = append(list, scales.Guard{Load: l.ID, Aboard: equilibrium.Of(l.Items, nil), StopLeast: least, LooseMost: loose})
		loose = math.NaN() // how loose a spring is at full droop does not hang on the load
	}
	return list
}
