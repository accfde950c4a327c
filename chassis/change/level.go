package change

import (
	"trunnion/chassis/car"
	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
	"trunnion/chassis/scales"
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
	var by [2]float64
	body := [2]bool{}
	for k := range 2 {
		i := left + k
		if set.WantedHeight[i].Known() {
			return nil // it stands as high as was asked for
		}
		ad := scales.AdjusterOf(t.build.Corner[i].Platform)
		ratio, _ := t.ratios(i)
		in := &set.Platform[i]
		switch ad.Kind {
		case scales.Seat:
		case scales.Body:
			in, body[k] = &set.BodyLength[i], true
		default:
			return nil
		}
		step := ad.Smallest()
		by[k] = toStep(0.5*n*float64(1-2*k)*ratio, step)
		low, high := ad.Reach()
		if by[k] == 0 || in.Value+by[k] > high+1e-9 || in.Value+by[k] < low-1e-9 {
			return nil
		}
		what := "collar"
		if body[k] {
			what = "body-length"
		}
		m.Sizes = append(m.Sizes,
			finding.Size{Code: what, Was: in.Value, Is: in.Value + by[k], Unit: "m", Corner: i},
			finding.Size{Code: "turns", Is: by[k] / ad.Pitch, Was: ad.Step, Unit: "1", Corner: i})
	}
	m.Path = "builds." + t.build.ID + ".setup.platform"
	if body[0] {
		m.Path = "builds." + t.build.ID + ".setup.body_length"
	}
	m.Apply = func(b *car.Build) {
		for k := range 2 {
			in := &b.Setup.Platform[left+k]
			if body[k] {
				in = &b.Setup.BodyLength[left+k]
			}
			turn(in, by[k])
		}
	}
	return m
}
