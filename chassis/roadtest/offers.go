package roadtest

import (
	"context"
	"math"
	"slices"
)

// worth is how much an input has to differ before it is worth a correction: less is
// within what a workshop can read. Chosen.
var worth = map[Name]float64{SpringRate: 0.03, BumpDamping: 0.06, ReboundDamping: 0.06, Friction: 15, StopGap: 1.5e-3}

// together is the correlation from which two inputs are not told apart. Chosen.
const together = 0.9

// explain ranks the inputs that the log shows to differ by what of the figures outside
// their bands each would explain, driven over the same road alone.
func (o *Outcome) explain(ctx context.Context, b *Build, roads []laid, marks Marks, tell func(int)) error {
	for k := range o.Fit.Estimates {
		e := &o.Fit.Estimates[k]
		need, named := worth[e.Name]
		if !named || math.Abs(e.Value) < need || math.Abs(e.Value) <= e.Half || e.Half > 0.6*e.Prior {
			continue
		}
		offer := Offer{Estimate: *e}
		offer.Entered, offer.Corrected = entered(b, o.Fit.legs, e)
		for j := range o.Fit.Estimates {
			if j != k && math.Abs(o.Fit.Related[k][j]) > together {
				offer.With = append(offer.With, o.Fit.Estimates[j].Input)
			}
		}
		o.Offers = append(o.Offers, offer)
	}
	for k := range o.Offers {
		if ctx.Err() != nil {
			return ctx.Err()
		}
		offer := &o.Offers[k]
		figures, err := o.With(ctx, b, roads, marks, offer.Estimate)
		if err != nil {
			continue
		}
		for j := range figures {
			if figures[j].Outside {
				offer.Left++
			} else if o.Figures[j].Outside {
				offer.Explains = append(offer.Explains, j)
			}
		}
		tell(16 + 4*k/len(o.Offers))
	}
	slices.SortStableFunc(o.Offers, func(a, b Offer) int {
		if d := len(b.Explains) - len(a.Explains); d != 0 {
			return d
		}
		x, y := math.Abs(a.Value)/a.Half, math.Abs(b.Value)/b.Half
		switch {
		case x > y:
			return -1
		case x < y:
			return 1
		}
		return 0
	})
	return nil
}

// With are the figures with one correction taken, the bands as wide as they were.
func (o *Outcome) With(ctx context.Context, b *Build, roads []laid, marks Marks, e Estimate) ([]Figure, error) {
	var s shift
	*s.of(e.Input) = e.Value
	way, err := overRoads(ctx, shifted(b.Car, &s), roads)
	if err != nil {
		return nil, err
	}
	got, _ := tallied(o.Fit.legs, way, s.gap, o.Distance, marks)
	out := slices.Clone(o.Figures)
	for k := range out {
		f := &out[k]
		half := (f.High - f.Predicted)
		f.Predicted = got[f.Corner][f.Code]
		f.Low, f.High = f.Predicted-half, f.Predicted+half
		f.Outside = f.Measured < f.Low || f.Measured > f.High
	}
	return out, nil
}

// entered is what a build has of an input, and what it would have: the tangent rate at
// the wheel [N/m], a factor on the damper's force [-], friction at the wheel [N], damper
// travel from rest to the stop [m].
func entered(b *Build, legs *[4]leg, e *Estimate) (is, would float64) {
	c, l := &b.Car.Corners[e.Corner], &legs[e.Corner]
	_, r, _ := l.travel(l.rest)
	switch e.Name {
	case SpringRate:
		_, rate := c.Spring(l.rest)
		return rate, rate * (1 + e.Value)
	case BumpDamping, ReboundDamping:
		return 1, 1 + e.Value
	case Friction:
		return c.Friction * r, (c.Friction + e.Value) * r
	case StopGap:
		return c.Stop.TouchTravel - l.start, c.Stop.TouchTravel - l.start + e.Value
	case TravelGain, TravelZero, TyreRate, UnsprungMass, SprungMass, Balance, RollInertia, PitchInertia, Delay:
	}
	return math.NaN(), math.NaN()
}
