package jobfile

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"trunnion/chassis/car"
	"trunnion/shop/quantity"
)

// mostMoved is how far a car may be moved at a wheel; chosen, more than any
// platform has. [m]
const mostMoved = 0.2

// move pulls the static line of an axle by an amount at the wheel: it turns the
// platform, or without one puts the spring seats nearer or farther, each side by its
// own where the two are not alike.
//
//	p = p_0 + h·r      h the change of height, r spring (or body) travel per wheel travel
func (ed *Editor) move(ctx context.Context, e Edit) error {
	build, axle, ok := buildAxleOf(e.Path)
	if !ok {
		return errors.New("enter an axle of a build, such as builds.kit.front")
	}
	typed, err := quantity.Parse(e.Move, quantity.Length)
	if err != nil {
		return err
	}
	if math.Abs(typed.Value) > mostMoved {
		return fmt.Errorf("the car cannot be moved by %s", e.Move)
	}
	if ed.Ratios == nil {
		return errors.New("nothing is moved here")
	}
	job, faults := ReadBytes(ed.Text, "job.yaml")
	if job == nil {
		if err := AsError("job", faults); err != nil {
			return err
		}
		return errors.New("the job cannot be read")
	}
	at := slices.IndexFunc(job.Builds, func(b *car.Build) bool { return b.ID == build })
	if at < 0 {
		return fmt.Errorf("no build is called %s", build)
	}
	b := job.Builds[at]
	spring, body, err := ed.Ratios(ctx, job, b, axle)
	if err != nil {
		return err
	}
	l, r := &b.Corner[2*axle], &b.Corner[2*axle+1]
	mean := func(v [2]float64) [2]float64 { return [2]float64{0.5 * (v[0] + v[1]), 0.5 * (v[0] + v[1])} }
	if ax := &job.Car.Axle[axle]; b.Alike(axle) && ax.Side[0] == ax.Side[1] {
		// What is said of the axle stays said of the axle: both sides by the same.
		spring, body = mean(spring), mean(body)
	}
	if l.Platform == nil && r.Platform == nil && l.SeatsCloser.Value == r.SeatsCloser.Value && spring[0] == spring[1] {
		for _, path := range BothSides(ed.Text, e.Path+".seats_closer") {
			if err := ed.closer(path, l.SeatsCloser.Value+typed.Value*spring[0]); err != nil {
				return err
			}
		}
		return nil
	}
	for side := range 2 {
		i := 2*axle + side
		p := b.Corner[i].Platform
		if p == nil {
			if err := ed.closer(e.Path+"."+sideKeys[side]+".seats_closer", b.Corner[i].SeatsCloser.Value+typed.Value*spring[side]); err != nil {
				return err
			}
			continue
		}
		key, now := ".setup.platform.", b.Setup.Platform[i].Value+typed.Value*spring[side]
		if p.Kind == "body" {
			key, now = ".setup.body_length.", b.Setup.BodyLength[i].Value+typed.Value*body[side]
		}
		note := "raised from its start mark"
		if p.Pitch.Known() && p.Pitch.Value > 0 {
			note = strconv.FormatFloat(now/p.Pitch.Value, 'f', 1, 64) + " turns from its start mark"
		}
		if err := ed.length("builds."+build+key+cornerKeys[i], now, note); err != nil {
			return err
		}
	}
	return nil
}

// closer puts how much nearer spring seats stand.
func (ed *Editor) closer(path string, metres float64) error {
	return ed.length(path, metres, "the spring seats stand that much nearer than those measured")
}

// buildAxleOf takes "builds.kit.front" apart.
func buildAxleOf(path string) (build string, axle int, ok bool) {
	words := strings.Split(path, ".")
	if len(words) != 3 || words[0] != "builds" {
		return "", 0, false
	}
	axle = slices.Index(axleKeys, words[2])
	return words[1], axle, axle >= 0
}

// length puts a length into the job, in the units on the screen, to the tenth of
// a millimetre.
func (ed *Editor) length(path string, metres float64, note string) error {
	const tenth = 1e-4 // [m]
	was := ed.at(path)
	value := quantity.Format(math.Round(metres/tenth)*tenth, quantity.Length, ed.System, quantity.Auto)
	if err := ed.take(Put(ed.Text, path, value)); err != nil {
		return err
	}
	ed.note(path, value, was, note)
	return nil
}
