package remedy

import (
	"math"

	"trunnion/chassis/car"
	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
	"trunnion/chassis/scales"
)

// raises let an axle stand higher by its collars, or by the heights that are
// wanted. On fixed seats a longer spring does it, which is a spring's.
func (r *review) raises(axle int) []*move {
	var out []*move
	for n := heightStep; n <= mostRaise+1e-9; n += heightStep {
		if m := r.raise(axle, n); m != nil {
			out = append(out, m.costs(0.1+m.by))
		}
	}
	return out
}

// raise lets an axle stand higher by so much at the wheel; nil where nothing can
// be turned so far.
func (r *review) raise(axle int, n float64) *move {
	left := 2 * axle
	set := &r.build.Setup
	m := &move{kind: finding.Raise, code: "raise-" + car.AxleNames[axle], axle: axle, side: figure.NoCorner, unit: "m", slot: "height" + car.AxleNames[axle]}
	if set.WantedHeight[left].Known() || set.WantedHeight[left+1].Known() {
		m.path, m.by = "builds."+r.build.ID+".setup.heights", n
		for i := left; i < left+2; i++ {
			if h := &set.WantedHeight[i]; h.Known() {
				m.sizes = append(m.sizes, finding.Size{Code: "height", Was: h.Value, Is: h.Value + n, Unit: "m", Corner: i})
			}
		}
		m.apply = func(b *car.Build) {
			for i := left; i < left+2; i++ {
				if b.Setup.WantedHeight[i].Known() {
					b.Setup.WantedHeight[i].Value += n
				}
			}
		}
		return m
	}
	var by [2]float64
	body := [2]bool{}
	for k := range 2 {
		i := left + k
		ad := scales.AdjusterOf(r.build.Corner[i].Platform)
		ratio, _ := r.ratios(i) // seat and body alike bring the spring seats nearer
		in := &set.Platform[i]
		switch ad.Kind {
		case scales.Seat:
		case scales.Body:
			in, body[k] = &set.BodyLength[i], true
		default:
			return nil
		}
		step := ad.Smallest()
		by[k] = toStep(n*ratio, step)
		_, high := ad.Reach()
		if by[k] < step || in.Value+by[k] > high+1e-9 {
			return nil
		}
		m.by += 0.5 * by[k] / ratio
		code := "collar"
		if body[k] {
			code = "body-length"
		}
		m.sizes = append(m.sizes,
			finding.Size{Code: code, Was: in.Value, Is: in.Value + by[k], Unit: "m", Corner: i},
			finding.Size{Code: "turns", Is: by[k] / ad.Pitch, Was: ad.Step, Unit: "1", Corner: i})
	}
	m.path = "builds." + r.build.ID + ".setup.platform"
	if body[0] {
		m.path = "builds." + r.build.ID + ".setup.body_length"
	}
	m.apply = func(b *car.Build) {
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

// turn moves a setting.
func turn(in *figure.Input, by float64) {
	if !in.Known() {
		in.Origin = figure.Chosen
	}
	in.Value += by
}

// stood is the build with an axle higher by so much at the wheel, whatever it
// stands on: the seats nearer, or the body longer where a body is screwed.
func (r *review) stood(axle int, n float64) *car.Build {
	out := *r.build
	for k := range 2 {
		i := 2*axle + k
		spring, _ := r.ratios(i)
		switch {
		case out.Setup.WantedHeight[i].Known():
			out.Setup.WantedHeight[i].Value += n
		case scales.AdjusterOf(out.Corner[i].Platform).Kind == scales.Body:
			turn(&out.Setup.BodyLength[i], n*spring)
		default:
			turn(&out.Corner[i].SeatsCloser, n*spring)
		}
	}
	return &out
}

// reach is how much higher collars could stand at a corner; 0 where nothing is
// turned.
func (r *review) reach(i int) (down, up, step float64) {
	ad := scales.AdjusterOf(r.build.Corner[i].Platform)
	if ad.Kind != scales.Seat || r.build.Setup.WantedHeight[i].Known() {
		return 0, 0, 0
	}
	low, high := ad.Reach()
	at := r.build.Setup.Platform[i].Value
	return math.Max(0, at-low), math.Max(0, high-at), ad.Smallest()
}
