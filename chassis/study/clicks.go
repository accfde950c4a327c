package study

import (
	"trunnion/chassis/car"
	"trunnion/chassis/corner"
	"trunnion/chassis/part"
)

type click struct {
	click int
	has   bool
}

// clicksOf lists the settings a damper's ratios are given for: the build's own
// first, then every click that was measured.
func clicksOf(d *car.DamperSpec, b *car.Build, corner int) []click {
	if d.ClickMost == 0 {
		return []click{{}}
	}
	set := b.Setup.Click[corner]
	out := []click{{click: set, has: true}}
	for _, c := range d.Curves {
		if c.Click != set {
			out = append(out, click{click: c.Click, has: true})
		}
	}
	return out
}

func curveAt(d *car.DamperSpec, click int) (part.DamperCurve, error) {
	return corner.CurveAt(d, click, true)
}
