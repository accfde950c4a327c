package change

import (
	"trunnion/chassis/car"
	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
)

// How far one side of an axle is turned against the other: common practice, no source.
const (
	levelStep = 2e-3  // at the wheel, side against side [m]
	mostLevel = 20e-3 // [m]
)

// Levels turn the collars of an axle against each other, the left up or down: what is
// done about cross weight and about a side that stands low. Nothing where an axle has no
// collars.
func (t *Bench) Levels(axle int) []*Move {
	var out []*Move
	for _, way := range []float64{1, -1} {
		for n := levelStep; n <= mostLevel+1e-9; n += levelStep {
			if m := t.level(axle, way*n); m != nil {
				out = append(out, m.costs(0.1+n))
			}
		}
	}
	return out
}

// level lets the left of an axle stand higher against the right by so much at the wheel,
// half of it at each; nil where nothing can be turned so far.
func (t *Bench) level(axle int, n float64) *Move {
	left := 2 * axle
	code := "left-up-"
	if n < 0 {
		code = "right-up-"
	}
	m := &Move{Kind: finding.Level, Code: code + car.AxleNames[axle], Axle: axle, Side: figure.NoCorner, Unit: "m", Slot: "level" + car.AxleNames[axle], By: n}
	set := &t.build.Setup
	if set.WantedHeight[left].Known() || set.WantedHeight[left+1].Known() {
		return nil // it stands as high as was asked for
	}
	if _, ok := t.collars(m, axle, [2]float64{0.5 * n, -0.5 * n}); !ok {
		return nil
	}
	return m
}
