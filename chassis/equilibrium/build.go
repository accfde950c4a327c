package equilibrium

import (
	"math"

	"trunnion/chassis/car"
	"trunnion/chassis/corner"
	"trunnion/chassis/figure"
	"trunnion/chassis/numeric"
	"trunnion/chassis/part"
)

// NewSystem puts a build on the calibrated car under a draw.
//
// The bushes are slack where the build rests in the state as weighed, or where
// they were before, as the build says; the bars are slack at the stance in
// which the car was weighed. Heights that are wanted are met by the platforms,
// and readings taken after fitting correct what was predicted.
func NewSystem(ds *corner.Design, base *Baseline, h *Hangup, d figure.Draw) (System, error) {
	c, b := ds.Car, ds.Build
	s := System{Base: *base}
	for i := range 4 {
		a := car.AxleOf(i)
		ba := &b.Corner[i]
		m := ds.Corner(i, d)
		if base.Inferred[i] {
			m.Compressed0 -= base.SeatLength[i]
		}
		if base.Carries(ba, i) {
			m.Compressed0 += base.Longer[i]
			m.Spring.Stiffen(base.Stiffer[i])
		}
		m.MountLoad0 = base.Force[i] // the sag under the load as weighed is in the lengths
		m.BushZero = base.Travel[i]
		s.Corner[i] = m
		s.TyreRate[i] = c.Axle[a].TyreRate.At(d)
		if ba.TyreRate.Known() {
			s.TyreRate[i] = ba.TyreRate.At(d)
		}
		s.Unsprung[i] = c.Unsprung[a].At(d) + ba.UnsprungMore.At(d)
		s.Behind[i] = float64(a) * c.Wheelbase.At(d)
		s.Left[i] = 0.5 * c.Track[a].At(d)
		if i&1 == 1 {
			s.Left[i] = -s.Left[i]
		}
		s.Stuck[i] = h.Rest[i].At(d) * m.Friction
		s.SprungWeight += base.Force[i]
		s.MomentBehind += base.Force[i] * s.Behind[i]
		s.MomentLeft += base.Force[i] * s.Left[i]
	}
	for a := range 2 {
		if l, r := 2*a, 2*a+1; b.Corner[l].Spring == b.Corner[r].Spring {
			s.setDropLength(ds, base, d, l, r)
		} else {
			s.setDropLength(ds, base, d, l)
			s.setDropLength(ds, base, d, r)
		}
	}
	added := Of(b.Mass, d)
	s.SprungWeight += added.Down
	s.MomentBehind += added.Behind
	s.MomentLeft += added.Left
	behind := s.MomentBehind / s.SprungWeight
	axis := c.RollCentre[0].At(d) + (c.RollCentre[1].At(d)-c.RollCentre[0].At(d))*behind/c.Wheelbase.At(d)
	s.RollArm = c.CGHeight.At(d) - axis

	if err := s.settleBushes(b, base); err != nil {
		return s, err
	}
	if err := s.meetHeights(ds, d); err != nil {
		return s, err
	}
	s.fitBars(ds, base, d)
	return s, s.condition(ds, d)
}

// setDropLength finds the free length of a spring known only by how far it
// lowers the car: at that height it must carry what the corners need that have
// it, in the mean.
func (s *System) setDropLength(ds *corner.Design, base *Baseline, d figure.Draw, corners ...int) {
	sp := ds.Build.Corner[corners[0]].Spring
	if sp == nil || sp.Free.Known() || !sp.Drop.Known() {
		return
	}
	drop, free := sp.Drop.At(d), 0.0
	for _, i := range corners {
		m := &s.Corner[i]
		w := base.Travel[i] + drop
		sh := m.At(w)
		spring, r, _ := m.SpringTravel.At(w)
		needed := (base.Force[i] - (sh.Gas + sh.Stop + sh.Metal + sh.Open)) / r
		free += 1 / float64(len(corners)) * (m.Spring.Compression(needed) - (m.Compressed0 + spring))
	}
	for _, i := range corners {
		s.Corner[i].Compressed0 += free
		s.Corner[i].Spring.Free = free
	}
}

// settleBushes finds the travel at which the bushes are tightened.
func (s *System) settleBushes(b *car.Build, base *Baseline) error {
	loosen := false
	for i := range 4 {
		loosen = loosen || b.Corner[i].BushTightened != BushAsWeighed
	}
	if !loosen {
		return nil
	}
	slack := *s
	for i := range 4 {
		slack.Corner[i].BushRate = 0
		slack.Stuck[i] = 0
	}
	st, err := slack.Solve(Weights{}, nil)
	if err != nil {
		return err
	}
	for i := range 4 {
		if b.Corner[i].BushTightened != BushAsWeighed {
			s.Corner[i].BushZero = st.Travel[i]
		}
	}
	return nil
}

// BushAsWeighed marks bushes whose bolts were not released for a build.
const BushAsWeighed = "as-weighed"

// meetHeights raises or lowers the platforms until the car stands at the
// wanted heights in the state as weighed: Newton on the wanted corners, whose
// heights depend on all of their platforms.
func (s *System) meetHeights(ds *corner.Design, d figure.Draw) error {
	wanted := &ds.Build.Setup.WantedHeight
	asked := false
	for i := range 4 {
		asked = asked || wanted[i].Known()
	}
	if !asked {
		return nil
	}
	free := *s
	free.Stuck = [4]float64{}
	var at State
	var err error
	guess := (*State)(nil)
	var slopes [7][7]float64
	for round := range 25 {
		if at, err = free.Solve(Weights{}, guess); err != nil {
			return err
		}
		guess = &at
		var short [7]float64
		most := 0.0
		for j := range 7 {
			if j >= 4 || !wanted[j].Known() {
				slopes[j][j] = 1
				continue
			}
			short[j] = wanted[j].At(d) - (ds.Car.ZeroHeight[car.AxleOf(j)].At(d) - at.Travel[j])
			most = math.Max(most, math.Abs(short[j]))
			if round%6 != 0 {
				continue // the slopes of a few rounds before serve
			}
			const h = 1e-4
			raised := free
			raised.Corner[j].Compressed0 += h
			up, err := raised.Solve(Weights{}, guess)
			if err != nil {
				return err
			}
			for i := range 4 {
				if wanted[i].Known() {
					slopes[i][j] = (at.Travel[i] - up.Travel[i]) / h
				}
			}
		}
		slope := slopes // Solve7 destroys it
		if most < 1e-7 || !numeric.Solve7(&slope, &short) {
			break
		}
		for j := range 4 {
			raise := math.Max(-0.03, math.Min(0.03, short[j]))
			free.Corner[j].Compressed0 += raise
			s.Corner[j].Compressed0 += raise
			if ds.Build.Corner[j].BushTightened != BushAsWeighed {
				free.Corner[j].BushZero, s.Corner[j].BushZero = at.Travel[j], at.Travel[j]
			}
		}
	}
	return nil
}

func (s *System) fitBars(ds *corner.Design, base *Baseline, d figure.Draw) {
	c := ds.Car
	if ds.Build.Setup.BarsOff {
		return
	}
	for a := range 2 {
		rate, link := c.Axle[a].BarIn(ds.Build.Setup.BarHole[a], d)
		s.Bar[a] = part.Bar{
			Rate: rate, LinkRatio: link,
			Zero: base.Travel[2*a] - base.Travel[2*a+1],
		}
	}
}

// WithoutBars returns the system with its drop links off.
func (s *System) WithoutBars() System {
	off := *s
	off.Bar = [2]part.Bar{}
	return off
}

// Of returns what payloads put on the body under a draw.
func Of(items []car.Payload, d figure.Draw) Weights {
	var w Weights
	for i := range items {
		down := items[i].Mass.At(d) * Gravity
		w.Down += down
		w.Behind += down * items[i].Behind.At(d)
		w.Left += down * items[i].Left.At(d)
	}
	return w
}

// Plus adds weights.
func (w Weights) Plus(o Weights) Weights {
	return Weights{Down: w.Down + o.Down, Behind: w.Behind + o.Behind, Left: w.Left + o.Left}
}
