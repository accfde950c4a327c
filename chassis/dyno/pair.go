package dyno

import (
	"errors"
	"math"
)

// Tolerance is how far apart two dampers may be: the share of the mean force, or the
// least force where that is larger.
type Tolerance struct {
	Share float64 // of the mean of the two forces [-]
	Least float64 // [N]
}

// Club, Race and Road are tolerances of common practice, no source: 5 % or 25 N, 3 %,
// 10 %. The least force of the last two is that of the first.
var (
	Club = Tolerance{0.05, 25}
	Race = Tolerance{0.03, 25}
	Road = Tolerance{0.10, 25}
)

// Allowed is the difference [N] that a mean force [N] allows.
func (t Tolerance) Allowed(mean float64) float64 { return math.Max(t.Share*math.Abs(mean), t.Least) }

// Difference is how far apart two dampers are at one place.
type Difference struct {
	Setting  Setting
	Stroke   Stroke
	Speed    float64 // [m/s]
	A, B     Band    // [N]
	Newton   Band    // A less B [N]
	Share    float64 // of the mean of both [-]
	Use      float64 // of the tolerance; above 1: not a pair [-]
	Distinct bool    // further apart than the band of the two
}

// Pair is two dampers held side by side, or one against its own older sweep.
type Pair struct {
	Tolerance Tolerance
	All       []Difference
	Worst     *Difference // that which uses most of the tolerance
	Matched   bool
	Warmer    float64   // A over B; NaN: not known for both [K]
	OnlyA     []Setting // measured on one alone
	OnlyB     []Setting
}

// ErrNothingShared is returned for two sets without a setting in common.
var ErrNothingShared = errors.New("the two have no setting in common")

// Compare holds two sets against each other at every setting both have, at the speeds
// of the first that lie within both.
func Compare(a, b *Set, t Tolerance) (Pair, error) {
	p := Pair{Tolerance: t, Matched: true, Warmer: a.Reference - b.Reference}
	other := map[Setting]*Curve{}
	for i := range b.Curves {
		other[b.Curves[i].Setting] = &b.Curves[i]
	}
	for i := range a.Curves {
		c := &a.Curves[i]
		d := other[c.Setting]
		if d == nil {
			p.OnlyA = append(p.OnlyA, c.Setting)
			continue
		}
		delete(other, c.Setting)
		for _, stroke := range Strokes {
			p.compare(c, d, stroke)
		}
	}
	for i := range b.Curves {
		if other[b.Curves[i].Setting] != nil {
			p.OnlyB = append(p.OnlyB, b.Curves[i].Setting)
		}
	}
	if len(p.All) == 0 {
		return p, ErrNothingShared
	}
	for i := range p.All {
		d := &p.All[i]
		if p.Worst == nil || d.Use > p.Worst.Use {
			p.Worst = d
		}
		p.Matched = p.Matched && d.Use <= 1
	}
	return p, nil
}

func (p *Pair) compare(a, b *Curve, stroke Stroke) {
	top := math.Min(a.Of(stroke).Top(), b.Of(stroke).Top()) * (1 + sameSpeed)
	for _, v := range a.Of(stroke).Speed {
		if v > top {
			break
		}
		f, _ := a.Of(stroke).At(v)
		g, _ := b.Of(stroke).At(v)
		mean := 0.5 * (f.Value + g.Value)
		d := Difference{Setting: a.Setting, Stroke: stroke, Speed: v, A: f, B: g, Newton: Band{f.Value - g.Value, math.Hypot(f.Half, g.Half)}}
		d.Share = d.Newton.Value / mean
		d.Use = math.Abs(d.Newton.Value) / p.Tolerance.Allowed(mean)
		d.Distinct = math.Abs(d.Newton.Value) > d.Newton.Half
		p.All = append(p.All, d)
	}
}
