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
// The bushes are slack where the build rests with nobody aboard, or where they
// were before, as the build says; the bars are slack at the stance of the car as
// weighed, nobody aboard. A spring that nothing places is a *NotSeated. Heights that are wanted are met by the platforms with
// nobody aboard, and readings taken after fitting correct what was predicted; seats
// that were turned since keep the correction of where they stood.
func NewSystem(ds *corner.Design, base *Baseline, h *Hangup, d figure.Draw) (System, error) {
	b := ds.Build
	for i := range 4 {
		if path, _ := car.Unseated(ds.Car, base.fitted.Build, b, i); path != "" {
			return System{}, &NotSeated{Corner: i, Path: path}
		}
	}
	s := placed(ds, base, d)
	for i := range 4 {
		s.Stuck[i] = h.Rest[i].At(d) * s.Corner[i].Friction
	}
	for i := range 4 {
		s.setDropLength(ds, base, d, i)
	}
	added := Of(b.Mass, d)
	s.SprungWeight += added.Down - base.Fitted.Down
	s.MomentBehind += added.Behind - base.Fitted.Behind
	s.MomentLeft += added.Left - base.Fitted.Left
	s.Lean = leanOf(s.MomentBehind, s.SprungWeight, ds.Car, &base.Travel, d)
	s.Raised = added.raised(s.CGHeight) - base.Fitted.raised(s.CGHeight)

	if err := s.settleBushes(b, base); err != nil {
		return s, err
	}
	if err := s.carryReadings(ds, base, h, d); err != nil {
		return s, err
	}
	if err := s.meetHeights(ds, d); err != nil {
		return s, err
	}
	s.fitBars(ds, base, d)
	if r := b.Readings; r == nil || r.Seats != nil {
		return s, nil
	}
	return s, s.condition(ds, d)
}

// placed is a build on the calibrated car, its bushes slack there and its bars off.
func placed(ds *corner.Design, base *Baseline, d figure.Draw) System {
	c, b := ds.Car, ds.Build
	s := System{Base: *base, CGHeight: c.CGHeight.At(d), Build: b}
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
		m.MountLoad0 = base.Weighed[i] // the sag under the load as weighed is in the lengths
		m.BushZero = base.Travel[i]
		s.Corner[i] = m
		s.TyreRate[i] = c.TyreRate(b, i, d)
		s.Grown[i] = c.Grown(b, i, d)
		s.Unsprung[i] = c.UnsprungAt(b, i, d)
		s.Behind[i] = float64(a) * c.Wheelbase.At(d)
		// Where the scales stood says where the weight is; the build's wheels may stand
		// farther out.
		weighed, side := 0.5*c.Track[a].At(d), 1-2*float64(i&1)
		s.Left[i] = side * (weighed + c.Outward(b, i, d))
		s.SprungWeight += base.Force[i]
		s.MomentBehind += base.Force[i] * s.Behind[i]
		s.MomentLeft += base.Force[i] * side * weighed
	}
	return s
}

// AxleTravel is the mean of an axle's two wheels [m].
func AxleTravel(travel *[4]float64, a int) float64 { return 0.5 * (travel[2*a] + travel[2*a+1]) }

// setDropLength gives a corner's spring that is known only by how far it lowers the
// car its free length.
func (s *System) setDropLength(ds *corner.Design, base *Baseline, d figure.Draw, i int) {
	sp := ds.Build.Corner[i].Spring
	if sp == nil || sp.Free.Known() || !sp.Drop.Known() {
		return
	}
	free := s.dropLength(ds, base, d, i)
	s.Corner[i].Compressed0 += free
	s.Corner[i].Spring.Free = free
}

// dropLength finds the free length of the spring at a corner, known only by how far
// it lowers the car: on the car as it was measured, with the damper and the stop it is
// sold for, and alone in its seats, it must carry at that height what both corners of
// its axle need, in the mean. The part has that length in whatever build and on
// whichever side it is; one that was on one side of the scales is measured there. [m]
func (s *System) dropLength(ds *corner.Design, base *Baseline, d figure.Draw, at int) float64 {
	sp := ds.Build.Corner[at].Spring
	measured := base.fitted
	if measured == nil {
		measured = ds
	}
	corners := []int{at &^ 1, at | 1}
	if l, r := corners[0], corners[1]; (base.springs[l] == sp) != (base.springs[r] == sp) {
		corners = corners[:1]
		if base.springs[r] == sp {
			corners[0] = r
		}
	}
	var found DropLength
	for _, i := range corners {
		m := measured.Corner(i, d)
		w := base.Travel[i]
		if sp != base.springs[i] {
			w += sp.Drop.At(d) // one that was on the scales has lowered the car already
		}
		// Where the seats are as measured, on the car that was measured.
		seats := m.Compressed0 - m.Spring.StackFree()
		if base.Inferred[i] {
			seats -= base.SeatLength[i]
		}
		sh := m.At(w)
		spring, r, _ := m.SpringTravel.At(w)
		needed := (base.Force[i] - (sh.Gas + sh.Stop + sh.Metal + sh.Open)) / r
		alone := s.Corner[at].Spring
		if ds.Build.Corner[i].Spring == sp {
			alone = s.Corner[i].Spring
		}
		alone.Free, alone.HelperRate = 0, 0
		found.Carried += alone.Compression(needed) / float64(len(corners))
		found.Without += (seats + spring) / float64(len(corners))
	}
	s.Drop[at] = found
	return found.Carried - found.Without
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
			s.SeatRaised[j] += raise
			if ds.Build.Corner[j].BushTightened != BushAsWeighed {
				free.Corner[j].BushZero, s.Corner[j].BushZero = at.Travel[j], at.Travel[j]
			}
		}
	}
	return nil
}

func (s *System) fitBars(ds *corner.Design, base *Baseline, d figure.Draw) {
	if ds.Build.Setup.BarsOff {
		return
	}
	for a := range 2 {
		s.Bar[a] = barOf(ds, a, AxleTravel(&base.Travel, a), d)
		s.Bar[a].Zero = base.Travel[2*a] - base.Travel[2*a+1]
	}
}

// barOf is the bar of an axle in its build's hole, slack at level wheels; its link
// stands as the wheels do with nobody aboard [m].
func barOf(ds *corner.Design, a int, travel float64, d figure.Draw) part.Bar {
	rate, link := ds.Car.Axle[a].BarIn(ds.Build.Setup.BarHole[a], travel, d)
	return part.Bar{Rate: rate, LinkRatio: link}
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
		if h := &items[i].Height; h.Known() {
			w.Height += down * h.At(d)
			w.Placed += down
		}
	}
	return w
}

// Plus adds weights.
func (w Weights) Plus(o Weights) Weights {
	return Weights{Down: w.Down + o.Down, Behind: w.Behind + o.Behind, Left: w.Left + o.Left, Height: w.Height + o.Height, Placed: w.Placed + o.Placed}
}
