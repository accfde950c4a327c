package corner

import (
	"fmt"
	"math"

	"trunnion/chassis/car"
	"trunnion/chassis/clicks"
	"trunnion/chassis/dyno"
	"trunnion/chassis/part"
)

// ClicksOf is the surface of a damper's click table; nil where it has no curves. Its
// forces are as typed, without the factor on them.
func ClicksOf(d *car.DamperSpec) (*clicks.Surface, error) {
	if len(d.Curves) == 0 {
		return nil, nil
	}
	tables := make([]clicks.Table, len(d.Curves))
	for i, c := range d.Curves {
		tables[i] = clicks.Table{Click: c.Click, Bump: readings(c.Bump), Rebound: readings(c.Rebound)}
	}
	set, err := clicks.Typed(d.ClickMost, tables)
	if err != nil {
		return nil, err
	}
	return clicks.Of(set)
}

func readings(points []car.Point) []clicks.Reading {
	out := make([]clicks.Reading, len(points))
	for i, p := range points {
		out[i] = clicks.Reading{Speed: p.X, Force: p.F}
	}
	return out
}

// CurveAt returns a damper's curve at a click counted from closed, as its surface
// gives it. Past the outermost measured click the nearest one is used. Between is set
// for each click that was not measured. A damper whose click is not said has the
// first of its curves.
func CurveAt(d *car.DamperSpec, click int, hasClick bool) (part.DamperCurve, error) {
	f, err := ClicksOf(d)
	if f == nil || err != nil {
		return part.DamperCurve{}, err
	}
	var at dyno.Setting
	measured := true
	if d.ClickMost > 0 {
		at[0] = d.Curves[0].Click
		if hasClick {
			hard, soft := f.Range(0)
			at[0] = min(max(click, hard), soft)
			measured = at[0] == click && f.Measured(at)
		}
	}
	c, err := f.Curve(at)
	if err != nil {
		return part.DamperCurve{}, fmt.Errorf("click %d: %w", at[0], err)
	}
	return Law(&c, !measured), nil
}

// Law is a measured curve as the damper's force law; between says that it was made of
// two.
func Law(c *dyno.Curve, between bool) part.DamperCurve {
	return part.DamperCurve{Bump: c.Bump.Mean(), Rebound: c.Rebound.Mean(), TopSpeed: math.Min(c.Bump.Top(), c.Rebound.Top()), Between: between}
}
