package clicks

import (
	"math"

	"trunnion/chassis/dyno"
)

// Authority is what one knob does to one stroke from its softest to its hardest click
// measured, the others held.
type Authority struct {
	Adjuster   int
	Stroke     dyno.Stroke
	Speed      float64   // [m/s]
	Soft, Hard dyno.Band // force with the knob most open and most closed [N]
	Times      float64   // hard over soft [-]
	Outside    bool      // faster than one of the two was measured
}

// Change is the force from open to closed [N].
func (a *Authority) Change() float64 { return a.Hard.Value - a.Soft.Value }

// AuthorityOf is that of a knob at a speed [m/s], the other knobs at a setting.
func (f *Surface) AuthorityOf(adjuster int, stroke dyno.Stroke, speed float64, others dyno.Setting) (Authority, error) {
	out := Authority{Adjuster: adjuster, Stroke: stroke, Speed: speed}
	hard, soft := f.Range(adjuster)
	for _, one := range []struct {
		click int
		into  *dyno.Band
	}{{hard, &out.Hard}, {soft, &out.Soft}} {
		at := others
		at[adjuster] = one.click
		b, outside, err := f.At(stroke, speed, at)
		if err != nil {
			return out, err
		}
		*one.into, out.Outside = b, out.Outside || outside
	}
	out.Times = out.Hard.Value / out.Soft.Value
	return out, nil
}

// CrossTalk is how much of what a knob does to one stroke it does to the other too: the
// smaller change of the two over the larger, as shares of the softer force [-]. Of a
// knob for one stroke it is 0 where it leaves the other alone; of a single knob 1 where
// it moves both alike. main is the stroke that it moves more.
//
//	x = (ΔF_other/F_other) / (ΔF_main/F_main)
//
// Source: derived here.
func (f *Surface) CrossTalk(adjuster int, speed float64, others dyno.Setting) (share float64, main dyno.Stroke, err error) {
	var by [2]float64
	for i, stroke := range dyno.Strokes {
		a, err := f.AuthorityOf(adjuster, stroke, speed, others)
		if err != nil {
			return math.NaN(), "", err
		}
		by[i] = a.Change() / a.Soft.Value
	}
	k := 0
	if math.Abs(by[1]) > math.Abs(by[0]) {
		k = 1
	}
	if by[k] == 0 { //nolint:floateq // a knob that does nothing at all
		return 0, dyno.Strokes[k], nil
	}
	return by[1-k] / by[k], dyno.Strokes[k], nil
}
