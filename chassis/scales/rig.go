package scales

import (
	"math"

	"trunnion/chassis/car"
	"trunnion/chassis/corner"
	"trunnion/chassis/equilibrium"
)

// Kind is the way a collar sets a height.
type Kind string

// The kinds of adjuster. On a seat the collar moves the spring alone: it sets
// height and preload. On a body the damper is screwed longer or shorter in its
// bracket: it sets height, and preload and the gap to the stop stay.
const (
	Fixed Kind = "fixed"
	Seat  Kind = "seat"
	Body  Kind = "body"
)

// Adjuster is the collar of a corner.
type Adjuster struct {
	Kind     Kind
	Pitch    float64 // of the thread, per turn [m]
	Up, Down float64 // usable range from the start mark [m]
	Step     float64 // smallest turn that is asked for, as a part of one [-]
	LeftHand bool    // thread

	// Thread in engagement at the start mark, and the least that has to stay. A
	// body that is screwed longer loses what it gains. Both 0: not known, and
	// the usable range alone holds. [m]
	Engaged, LeastEngaged float64
}

// EighthTurn is the smallest turn asked for where nothing else is known: common
// practice, no source. [-]
const EighthTurn = 1.0 / 8

// Clockwise reports whether a collar that goes up turns clockwise, seen from
// above with the collar under its spring or the body over its bracket: a nut on
// a right-hand thread comes towards the eye anticlockwise.
func (a *Adjuster) Clockwise(up bool) bool { return up == a.LeftHand }

// Smallest is the smallest move that is asked for [m].
func (a *Adjuster) Smallest() float64 { return a.Step * a.Pitch }

// Reach returns how far the collar may stand from the start mark [m].
func (a *Adjuster) Reach() (low, high float64) {
	low, high = -a.Down, a.Up
	if a.Kind == Body && a.Engaged > 0 {
		high = math.Min(high, math.Max(0, a.Engaged-a.LeastEngaged))
	}
	return low, high
}

// Rig is a build standing on the scales, in plain numbers.
type Rig struct {
	System   equilibrium.System  // with its collars where they are now, drop links off, friction out
	Aboard   equilibrium.Weights // ballast or driver, and what else is in the car
	Zero     [4]float64          // hub-to-arch height at which wheel travel is 0 [m]
	Adjuster [4]Adjuster
	At       [4]float64 // each collar's place from its start mark [m]
	Guards   []Guard    // margins that a move may not use up

	Linked [2]equilibrium.System // the same with the front or the rear drop links on
	Links  [2]bool               // Linked is known
}

// Guard is a margin that a move has to leave in one load state.
type Guard struct {
	Load      string              // id of the load state
	Aboard    equilibrium.Weights // in it
	StopLeast float64             // gap to the first touch of the stop, at the wheel; NaN: not watched [m]
	LooseMost float64             // looseness of the spring with the damper open, at the spring; NaN: not watched [m]
}

// Loose is how loose a spring may get at full droop where nothing was chosen:
// none. [m]
const Loose = 0

// NewRig puts a build on the scales with payloads aboard. Heights that are
// wanted of the build are not met first: the car stands with its collars where
// the build's setup says. Readings kept with the build correct nothing here;
// they are a round of their own.
func NewRig(ds *corner.Design, base *equilibrium.Baseline, aboard []car.Payload) (*Rig, error) {
	b := *ds.Build
	b.Readings = nil
	b.Setup.WantedHeight = [4]car.Input{}
	b.Setup.BarsOff = false
	plain := *ds
	plain.Build = &b
	sys, err := equilibrium.NewSystem(&plain, base, equilibrium.NewHangup(), nil)
	if err != nil {
		return nil, err
	}
	sys.Stuck = [4]float64{}
	r := &Rig{System: sys.WithoutBars(), Aboard: equilibrium.Of(aboard, nil)}
	for a := range 2 {
		r.Linked[a] = r.System
		r.Linked[a].Bar[a] = sys.Bar[a]
		r.Links[a] = sys.Bar[a].Rate > 0
		for i := 2 * a; i < 2*a+2; i++ {
			r.Zero[i] = ds.Car.ZeroHeight[a].At(nil)
			r.Adjuster[i] = AdjusterOf(b.Corner[i].Platform)
			r.At[i] = b.Setup.Platform[i].At(nil)
			if r.Adjuster[i].Kind == Body {
				r.At[i] = b.Setup.BodyLength[i].At(nil)
			}
		}
	}
	return r, nil
}

// usualReach is how far a collar may stand from its mark where the job does not
// say: common practice, no source. [m]
const usualReach = 0.02

// AdjusterOf is the collar of a platform: what the job does not say of it is as usual.
func AdjusterOf(p *car.PlatformSpec) Adjuster {
	if p == nil || !p.Pitch.Known() {
		return Adjuster{Kind: Fixed}
	}
	a := Adjuster{Kind: Seat, Pitch: p.Pitch.At(nil), Up: usualReach, Down: usualReach, Step: EighthTurn, LeftHand: p.LeftHand}
	if p.Kind == string(Body) {
		a.Kind = Body
	}
	if p.Up.Known() {
		a.Up = p.Up.At(nil)
	}
	if p.Down.Known() {
		a.Down = p.Down.At(nil)
	}
	if p.Engaged.Known() && p.LeastEngaged.Known() {
		a.Engaged, a.LeastEngaged = p.Engaged.At(nil), p.LeastEngaged.At(nil)
	}
	if p.Flats > 0 {
		a.Step = 1 / float64(p.Flats)
	}
	return a
}

// moved returns the system with its collars moved, up positive [m].
func (r *Rig) moved(sys *equilibrium.System, move [4]float64) equilibrium.System {
	s := *sys
	for i := range 4 {
		by := move[i]
		if by == 0 {
			continue
		}
		m := &s.Corner[i]
		m.Compressed0 += by
		if r.Adjuster[i].Kind == Body {
			m.Open += by
			m.Closed += by
			m.Touch += by
			m.Gas = m.Gas.Pushed(by)
		}
	}
	return s
}

// Stand is a car at rest on the scales.
type Stand struct {
	Reading Reading // friction out
	System  equilibrium.System
	State   equilibrium.State
}

// Stand finds the rest after the collars were moved from where they are, up
// positive [m].
func (r *Rig) Stand(move [4]float64) (Stand, error) { return r.standFrom(move, nil) }

func (r *Rig) standFrom(move [4]float64, guess *equilibrium.State) (Stand, error) {
	st := Stand{System: r.moved(&r.System, move)}
	var err error
	st.State, err = st.System.Solve(r.Aboard, guess)
	st.Reading = r.read(&st.State)
	return st, err
}

// read is what scales and tape show of a state.
func (r *Rig) read(st *equilibrium.State) Reading {
	var out Reading
	for i := range 4 {
		out.Load[i] = st.Load[i] / equilibrium.Gravity
		out.Height[i] = r.Zero[i] - st.Travel[i]
	}
	return out
}

// Slopes are the derivatives of what is read by something at each corner.
type Slopes struct {
	Load   [4][4]float64 // of load i by corner j [SI]
	Height [4][4]float64 // of height i by corner j [SI]
}

// Sensitivity returns what a collar's move does to loads and heights, by
// solving anew with each collar a tenth of a millimetre up [per m].
func (r *Rig) Sensitivity(at *Stand) (Slopes, error) {
	const h = 1e-4
	return r.slopes(at, h, func(s *equilibrium.System, j int) {
		var move [4]float64
		move[j] = h
		*s = r.moved(s, move)
	})
}

// ByFriction returns what a force that holds a wheel does to loads and heights,
// positive when it pushes the wheel down [per N].
func (r *Rig) ByFriction(at *Stand) (Slopes, error) {
	const h = 1.0
	return r.slopes(at, h, func(s *equilibrium.System, j int) { s.Stuck[j] += h })
}

// ByPad returns what raising the pad under a wheel does to loads and heights
// [per m].
func (r *Rig) ByPad(at *Stand) (Slopes, error) {
	const h = 1e-4
	return r.slopes(at, h, func(s *equilibrium.System, j int) { s.Base.Tyre[j] += h })
}

func (r *Rig) slopes(at *Stand, h float64, change func(*equilibrium.System, int)) (Slopes, error) {
	var out Slopes
	for j := range 4 {
		s := at.System
		change(&s, j)
		st, err := s.Solve(r.Aboard, &at.State)
		if err != nil {
			return out, err
		}
		got := r.read(&st)
		for i := range 4 {
			out.Load[i][j] = (got.Load[i] - at.Reading.Load[i]) / h
			out.Height[i][j] = (got.Height[i] - at.Reading.Height[i]) / h
		}
	}
	return out, nil
}
