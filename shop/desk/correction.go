package desk

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"trunnion/chassis/car"
	"trunnion/chassis/figure"
	"trunnion/chassis/roadtest"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
)

// Correction is an input that the log speaks for, with the edits that take it.
type Correction struct {
	Name   string // stop-gap-front-left
	Offer  *roadtest.Offer
	Edits  []jobfile.Edit
	Unable string // why the job cannot hold it; empty: it can
}

// correction makes an offer one of a job.
func correction(job *jobfile.Job, build string, o *roadtest.Offer, date string) Correction {
	c := Correction{Name: string(o.Name) + "-" + figure.CornerNames[o.Corner], Offer: o}
	var b *car.Build
	for _, one := range job.Builds {
		if one.ID == build {
			b = one
		}
	}
	path := "builds." + build + "." + car.AxleNames[o.Corner/2] + "." + car.SideNames[o.Corner%2] + "."
	key, value, unable := corrected(&b.Corner[o.Corner], o)
	if c.Unable = unable; unable != "" {
		return c
	}
	label := "road test"
	if date != "" {
		label += ", " + date
	}
	label += ": " + strings.ReplaceAll(c.Name, "-", " ")
	c.Edits = []jobfile.Edit{{Path: path + key, Value: &value, Label: label}}
	return c
}

// corrected is what is typed at a corner of a build in place of what was entered.
func corrected(b *car.BuildCorner, o *roadtest.Offer) (key, value, unable string) {
	switch o.Name {
	case roadtest.Friction:
		half := o.Half * o.Entered / math.Max(o.Corrected-o.Value, 1)
		if o.Corrected != o.Entered { //nolint:floateq // two figures of one offer
			half = o.Half * math.Abs((o.Corrected-o.Entered)/o.Value)
		}
		return "friction", typed(math.Max(o.Corrected, 0), half, quantity.Force, "N", 0), ""
	case roadtest.StopGap:
		nearer := -o.Value
		if have := b.Packer.Value; have+nearer >= 0 {
			return "packer", typed(have+nearer, o.Half, quantity.Length, "mm", 1), ""
		}
		if b.Stop == nil || !b.Stop.Length.Known() || b.Packer.Value > 0 {
			return "", "", "the stop has no length to shorten"
		}
		return "stop", piece(b.Stop.ID, "length: "+typed(b.Stop.Length.Value+nearer, o.Half, quantity.Length, "mm", 1)), ""
	case roadtest.SpringRate:
		s := b.Spring
		if s == nil || !s.Rate.Known() || s.RateTo.Known() || len(s.Table) > 0 {
			return "", "", "the spring is not entered by one rate"
		}
		return "spring", piece(s.ID, "rate: "+typed(s.Rate.Value*(1+o.Value), s.Rate.Value*o.Half, quantity.Stiffness, "N/mm", 2)), ""
	case roadtest.BumpDamping, roadtest.ReboundDamping:
		d := b.Damper
		if d == nil || len(d.Curves) == 0 {
			return "", "", "the damper has no curves"
		}
		curves := slices.Clone(d.Curves)
		for i := range curves {
			branch := &curves[i].Bump
			if o.Name == roadtest.ReboundDamping {
				branch = &curves[i].Rebound
			}
			*branch = slices.Clone(*branch)
			for k := range *branch {
				(*branch)[k].F *= 1 + o.Value
			}
		}
		text, _, err := jobfile.CurvesPiece(curves, d.ClickMost > 0)
		if err != nil {
			return "", "", err.Error()
		}
		return "damper", piece(d.ID, "curves: "+text), ""
	case roadtest.TravelGain, roadtest.TravelZero, roadtest.TyreRate, roadtest.UnsprungMass, roadtest.SprungMass, roadtest.Balance, roadtest.RollInertia, roadtest.PitchInertia, roadtest.Delay:
	}
	return "", "", "it is not corrected from a log"
}

// piece is a part of the list with a key of its own; one that was written in its place
// keeps the rest of it.
func piece(id, change string) string {
	return "{use: " + id + ", " + change + "}"
}

// typed is a value as a job holds it, with its band.
func typed(value, half float64, kind quantity.Kind, unit string, digits int) string {
	u, err := quantity.Find(unit, kind)
	if err != nil {
		return ""
	}
	return fmt.Sprintf("%.*f ± %.*f %s", digits, u.FromSI(value), digits, u.FromSI(half), unit)
}

// taken is a job's text with corrections made.
func taken(ctx context.Context, job *jobfile.Job, list []*Correction) ([]byte, error) {
	ed := jobfile.Editor{Text: job.Text}
	for _, c := range list {
		for _, e := range c.Edits {
			ed.Apply(ctx, e)
		}
	}
	if len(ed.Faults) > 0 {
		return nil, absent("the correction cannot be typed at %s: %s", ed.Faults[0].Path, ed.Faults[0].Got)
	}
	return ed.Text, nil
}
