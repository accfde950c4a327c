package change

import (
	"math"

	"trunnion/chassis/car"
	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
	"trunnion/chassis/scales"
)

// Raises let an axle stand higher by its collars, or by the heights that are
// wanted. On fixed seats a longer spring does it, which is a spring's.
func (t *Bench) Raises(axle int) []*Move {
	var out []*Move
	for n := HeightStep; n <= mostRaise+1e-9; n += HeightStep {
		if m := t.raise(axle, n); m != nil {
			out = append(out, m.costs(0.1+m.By))
		}
	}
	return out
}

// raise lets an axle stand higher by so much at the wheel; nil where nothing can
// be turned so far.
func (t *Bench) raise(axle int, n float64) *Move {
	left := 2 * axle
	set := &t.build.Setup
	m := &Move{Kind: finding.Raise, Code: "raise-" + car.AxleNames[axle], Axle: axle, Side: figure.NoCorner, Unit: "m", Slot: "height" + car.AxleNames[axle]}
	if set.WantedHeight[left].Known() || set.WantedHeight[left+1].Known() {
		m.Path, m.By = "builds."+t.build.ID+".setup.heights", n
		for i := left; i < left+2; i++ {
			if h := &set.WantedHeight[i]; h.Known() {
				m.Sizes = append(m.Sizes, finding.Size{Code: "height", Was: h.Value, Is: h.Value + n, Unit: "m", Corner: i})
			}
		}
		m.Apply = func(b *car.Build) {
			for i := left; i < left+2; i++ {
				if b.Setup.WantedHeight[i].Known() {
					b.Setup.WantedHeight[i].Value += n
				}
			}
		}
		return m
	}
	wheel, ok := t.collars(m, axle, [2]float64{n, n})
	if !ok {
		return nil
	}
	m.By = 0.5 * (wheel[0] + wheel[1])
	return m
}

// collars makes a move one that turns the collars of an axle, or its bodies, so that the
// car stands higher at the left and the right wheel by so much [m], minus is lower; what
// whole steps make of it at the wheel is returned [m]. Not ok where a corner has no
// collar, less than a step is asked of it, or its thread ends before.
func (t *Bench) collars(m *Move, axle int, higher [2]float64) (wheel [2]float64, ok bool) {
	left := 2 * axle
	set := &t.build.Setup
	var by [2]float64
	body := [2]bool{}
	for k := range 2 {
		i := left + k
		ad := scales.AdjusterOf(t.build.Corner[i].Platform)
		ratio, _ := t.ratios(i) // seat and body alike bring the spring seats nearer
		in := &set.Platform[i]
		switch ad.Kind {
		case scales.Seat:
		case scales.Body:
			in, body[k] = &set.BodyLength[i], true
		default:
			return wheel, false
		}
		by[k] = toStep(higher[k]*ratio, ad.Smallest())
		low, high := ad.Reach()
		if by[k] == 0 || in.Value+by[k] > high+1e-9 || in.Value+by[k] < low-1e-9 {
			return wheel, false
		}
		wheel[k] = by[k] / ratio
		code := "collar"
		if body[k] {
			code = "body-length"
		}
		m.Sizes = append(m.Sizes,
			finding.Size{Code: code, Was: in.Value, Is: in.Value + by[k], Unit: "m", Corner: i},
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
	return wheel, true
}

// turn moves a setting.
func turn(in *figure.Input, by float64) {
	if !in.Known() {
		in.Origin = figure.Chosen
	}
	in.Value += by
}

// Stood is the build with an axle higher by so much at the wheel, whatever it
// stands on: the seats nearer, or the body longer where a body is screwed.
func (t *Bench) Stood(axle int, n float64) *car.Build {
	out := *t.build
	for k := range 2 {
		i := 2*axle + k
		spring, _ := t.ratios(i)
		switch {
		case out.Setup.WantedHeight[i].Known():
			out.Setup.WantedHeight[i].Value += n
		case scales.AdjusterOf(out.Corner[i].Platform).Kind == scales.Body:
			turn(&out.Setup.BodyLength[i], n*spring)
		default:
			turn(&out.Corner[i].SeatsCloser, n*spring)
		}
	}
	out.ReadAs(t.build)
	return &out
}

// reach is how much higher collars could stand at a corner; 0 where nothing is
// turned.
func (t *Bench) reach(i int) (down, up, step float64) {
	ad := scales.AdjusterOf(t.build.Corner[i].Platform)
	if ad.Kind != scales.Seat || t.build.Setup.WantedHeight[i].Known() {
		return 0, 0, 0
	}
	low, high := ad.Reach()
	at := t.build.Setup.Platform[i].Value
	return math.Max(0, at-low), math.Max(0, high-at), ad.Smallest()
}
