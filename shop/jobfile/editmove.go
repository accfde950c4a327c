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
// platform, or without one puts the spring seats nearer or farther.
//
//	p = p_0 + h·r      h the change of height, r spring (or body) travel per wheel travel
func (ed *Editor) move(ctx context.Context, e Edit) error {
	build, axle, ok := buildAxleOf(e.Path)
	if !ok {
		return errors.New("an axle of a build is due, such as builds.kit.front")
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
	p := b.Corner[2*axle].Platform
	if p == nil {
		now := b.Corner[2*axle].SeatsCloser.Value + typed.Value*spring
		return ed.length(e.Path+".seats_closer", now, "the spring seats stand that much nearer than those measured")
	}
	for _, i := range []int{2 * axle, 2*axle + 1} {
		key, now := ".setup.platform.", b.Setup.Platform[i].Value+typed.Value*spring
		if p.Kind == "body" {
			key, now = ".setup.body_length.", b.Setup.BodyLength[i].Value+typed.Value*body
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
