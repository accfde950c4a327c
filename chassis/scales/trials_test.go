package scales

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"

	"trunnion/chassis/corner"
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/numeric"
	"trunnion/chassis/part"
	"trunnion/chassis/spread"
)

// Trial is what random cars are put through. Half-widths are of 95 %.
type Trial struct {
	Cars     int
	Seed     uint64
	Preset   Preset
	Pitch    float64 // error of the thread as stated, relative [-]
	Rate     float64 // error of the springs as stated, relative [-]
	Ratio    float64 // error of the motion ratio as stated, relative [-]
	Load     float64 // of one pad [kg]
	Height   float64 // of one height [m]
	Friction float64 // that may hold each wheel, uniform either way [N]
	Crooked  float64 // of each arch against the shell [m]
	Collar   float64 // how far collars stand from where they belong, uniform either way [m]
}

// Trials returns the trial that is published.
func Trials() Trial {
	return Trial{
		Cars: 1000, Seed: 1, Preset: Road, Pitch: 0.05, Rate: 0.05, Ratio: 0.04,
		Load: 1, Height: 1e-3, Friction: 50, Crooked: 3e-3, Collar: 10e-3,
	}
}

// Tally is how many cars stood inside all tolerances, with friction out.
type Tally struct {
	Cars      int
	AtStart   int     // as the fitter left them
	Reachable int     // that exact knowledge would have brought inside in whole steps
	After     [2]int  // after one round and after two
	Habit     int     // by the usual habit
	HabitIn   [2]int  // of these, after as many visits to the collars as rounds
	Moves     float64 // visits to the car that the habit took, mean [-]
	Turned    float64 // collars turned in two rounds, mean [-]
	Level     [4]Mark // worst left-right difference: start, one round, two, habit [m]
	Cross     [4]Mark // cross off the half, in the same order [-]
	Failed    int     // cars without a rest position, left out
}

// Mark is a middle and a bad case of a spread.
type Mark struct {
	Median, Worst95 float64 // half and 95 % of the cars are below [SI]
}

// Study puts random cars through one and two rounds of this package and through
// the usual habit, with the same cars, readings' noise and wrong parts data.
// The same seed gives the same tally for any number of workers.
//
// The habit is the worst corner first, nearest half turn, ten moves at most:
// common practice, no source.
func Study(ctx context.Context, t Trial, each func(ctx context.Context, n int, do func(k int)) error) (Tally, error) {
	results := make([]outcome, t.Cars)
	err := each(ctx, t.Cars, func(k int) { results[k] = t.one(uint64(k)) })
	if err != nil {
		return Tally{}, err
	}
	var out Tally
	var level, cross [4][]float64
	for k := range results {
		r := &results[k]
		if r.failed {
			out.Failed++
			continue
		}
		out.Cars++
		out.AtStart += one(r.meets[0])
		out.After[0] += one(r.meets[1])
		out.After[1] += one(r.meets[2])
		out.Habit += one(r.meets[3])
		out.Reachable += one(r.reachable)
		for v := range 2 {
			out.HabitIn[v] += one(r.habitIn[v])
		}
		out.Moves += float64(r.moves)
		out.Turned += float64(r.turned)
		for s := range 4 {
			level[s] = append(level[s], r.level[s])
			cross[s] = append(cross[s], r.cross[s])
		}
	}
	out.Moves /= float64(max(1, out.Cars))
	out.Turned /= float64(max(1, out.Cars))
	for s := range 4 {
		out.Level[s], out.Cross[s] = markOf(level[s]), markOf(cross[s])
	}
	return out, nil
}

func one(b bool) int {
	if b {
		return 1
	}
	return 0
}

type outcome struct {
	failed, reachable bool
	meets             [4]bool
	habitIn           [2]bool
	level, cross      [4]float64
	moves, turned     int
}

// subject is a random car: as it is, and as the workshop believes it to be.
type subject struct {
	truth, stated Rig
	pitch         [2]float64 // true over stated [-]
	friction      float64
	load, height  float64 // standard deviations
	rng           *rand.Rand
	target        Target
}

// one puts car k through the trial.
func (t *Trial) one(k uint64) outcome {
	rng := rand.New(rand.NewPCG(t.Seed, k))
	s := t.subject(rng)
	var o outcome
	note := func(at int, moved [4]float64) bool {
		st, err := s.truth.Stand(s.really(moved))
		if err != nil {
			o.failed = true
			return false
		}
		r := &st.Reading
		o.meets[at] = s.target.Meets(r)
		o.level[at] = math.Max(math.Abs(r.Level(0)), math.Abs(r.Level(1)))
		o.cross[at] = math.Abs(r.Cross(s.target.Diagonal) - s.target.Cross)
		return true
	}
	if !note(0, [4]float64{}) {
		return o
	}
	// Exact knowledge: the truth with threads as they are.
	exact := NewModel(&s.truth, Priors(), Noises([4]float64{}))
	if p, err := exact.Plan(s.target); err == nil {
		o.reachable = p.Meets
	}
	// This package: read, learn, turn; twice.
	f := t.Friction
	m := NewModel(&s.stated, Priors(), Noises([4]float64{f, f, f, f}))
	var rounds []Round
	var moved, turned [4]float64
	for visit := range 2 {
		got, err := s.reading(moved)
		if err != nil {
			o.failed = true
			return o
		}
		rounds = append(rounds, Round{Turned: turned, Got: got})
		learnt, err := m.Learn(rounds)
		if err != nil {
			o.failed = true
			return o
		}
		p, err := learnt.Plan(s.target)
		if err != nil {
			o.failed = true
			return o
		}
		for i := range 4 {
			turned[i] = p.Collar[i].Move
			moved[i] += turned[i]
			o.turned += one(turned[i] != 0)
		}
		if !note(1+visit, moved) {
			return o
		}
	}
	s.habit(&o, note)
	return o
}

// reading is one settled reading of the true car: friction holds every wheel
// somewhere, and scales and tape have their noise.
func (s *subject) reading(moved [4]float64) (Reading, error) {
	r := s.truth
	for i := range 4 {
		r.System.Stuck[i] = s.friction * (2*s.rng.Float64() - 1)
	}
	st, err := r.Stand(s.really(moved))
	got := st.Reading
	for i := range 4 {
		got.Load[i] += s.load * s.rng.NormFloat64()
		got.Height[i] += s.height * s.rng.NormFloat64()
	}
	return got, err
}

// really is how far collars go on the true threads.
func (s *subject) really(moved [4]float64) [4]float64 {
	for i := range 4 {
		moved[i] *= s.pitch[i/2]
	}
	return moved
}

// habit turns one collar at a time: while an axle's height or its two sides are
// off, the corner that is farthest from its height by as much as it is off;
// then, while cross is off, half a turn at the corner that is farthest from its
// share of the diagonal. It ends when a reading lies inside, or after ten.
func (s *subject) habit(o *outcome, note func(int, [4]float64) bool) {
	const most = 10
	var moved [4]float64
	start := [2]float64{s.target.Mean[0], s.target.Mean[1]}
	for o.moves < most {
		got, err := s.reading(moved)
		if err != nil {
			o.failed = true
			return
		}
		if s.target.Meets(&got) {
			break
		}
		worst, off := -1, 0.0
		heights := false
		for i := range 4 {
			a := i / 2
			d := start[a] - got.Height[i]
			if math.Abs(d) > math.Abs(off) {
				worst, off = i, d
			}
			heights = heights || math.Abs(got.Level(a)) > s.target.LevelWithin[a] || math.Abs(got.Mean(a)-start[a]) > s.target.MeanWithin
		}
		pitch := s.stated.Adjuster[worst].Pitch
		turns := 0.0
		if heights {
			_, ratio, _ := s.stated.System.Corner[worst].SpringTravel.At(0)
			turns = math.Round(2*off*ratio/pitch) / 2
			if turns == 0 {
				turns = math.Copysign(0.5, off)
			}
		} else {
			// The heavier diagonal goes down at its heavier end, the lighter up.
			heavy := got.Cross(s.target.Diagonal) > s.target.Cross
			worst, off = -1, 0
			for i := range 4 {
				on := s.target.Diagonal.sign(i) > 0
				side := 1.0
				if on == heavy {
					side = -1
				}
				// Of the four, the one whose height wants that move most.
				want := side * (start[i/2] - got.Height[i])
				if worst < 0 || want > off {
					worst, off = i, want
				}
			}
			turns = 0.5
			if (s.target.Diagonal.sign(worst) > 0) == heavy {
				turns = -0.5
			}
		}
		moved[worst] += turns * pitch
		o.moves++
		if o.moves <= 2 {
			st, err := s.truth.Stand(s.really(moved))
			if err != nil {
				o.failed = true
				return
			}
			o.habitIn[o.moves-1] = s.target.Meets(&st.Reading)
		}
	}
	for v := o.moves; v < 2; v++ { // it stopped before: it stays as it is
		st, err := s.truth.Stand(s.really(moved))
		if err != nil {
			o.failed = true
			return
		}
		o.habitIn[v] = s.target.Meets(&st.Reading)
	}
	note(3, moved)
}

// subject draws a car between a light two-seater and a heavy estate, on soft
// road springs to firm ones, with crooked arches and collars left anywhere.
func (t *Trial) subject(rng *rand.Rand) subject {
	between := func(low, high float64) float64 { return low + (high-low)*rng.Float64() }
	normal := func(half float64) float64 { return half / spread.Normal95 * rng.NormFloat64() }
	s := subject{rng: rng, friction: t.Friction, load: t.Load / spread.Normal95, height: t.Height / spread.Normal95}
	mass, front, left := between(850, 1800), between(0.42, 0.62), between(0.48, 0.52)
	base := between(2.25, 2.9)
	kind := [2]Kind{Seat, Seat}
	pitch := [4]float64{1e-3, 1.25e-3, 1.5e-3, 2e-3}[rng.IntN(4)]
	truth := &s.truth
	sys := &truth.System
	tyre := between(180e3, 280e3)
	var crooked [4]float64
	for i := range 4 {
		crooked[i] = normal(t.Crooked)
	}
	height := [2]float64{between(0.32, 0.4), between(0.32, 0.4)}
	for a := range 2 {
		share := front
		if a == 1 {
			share = 1 - front
		}
		axle := mass * share
		unsprung := between(28, 45)
		hertz := between(1.2, 2.4)
		ratio := between(0.85, 1)
		if a == 1 {
			ratio = between(0.6, 1)
		}
		wheelRate := 4 * math.Pi * math.Pi * hertz * hertz * (0.5*axle - unsprung)
		spring := wheelRate / (ratio * ratio)
		bend := between(-0.3, 0.3)
		track := between(1.4, 1.6)
		truth.Adjuster[2*a] = Adjuster{Kind: kind[a], Pitch: pitch, Up: 0.03, Down: 0.03, Step: EighthTurn}
		truth.Adjuster[2*a+1] = truth.Adjuster[2*a]
		for i := 2 * a; i < 2*a+2; i++ {
			side := left
			if i&1 == 1 {
				side = 1 - left
			}
			load := axle * side * equilibrium.Gravity
			force := load - unsprung*equilibrium.Gravity
			sys.Corner[i] = corner.Model{
				SpringTravel: numeric.Smooth{Poly: numeric.Poly{C: [numeric.PolyDegree]float64{ratio, bend}, N: 2}},
				Spring:       part.Spring{Rate: spring, Free: 0.4, Block: 0.05},
				Compressed0:  force / (ratio * spring),
			}
			sys.TyreRate[i], sys.Unsprung[i] = tyre, unsprung
			sys.Base.Force[i], sys.Base.Tyre[i] = force, load/tyre
			sys.Behind[i], sys.Left[i] = float64(a)*base, 0.5*track
			if i&1 == 1 {
				sys.Left[i] = -sys.Left[i]
			}
			sys.SprungWeight += force
			sys.MomentBehind += force * sys.Behind[i]
			sys.MomentLeft += force * sys.Left[i]
			truth.Zero[i] = height[a] + crooked[i]
		}
	}
	// The workshop's figures are off by as much as the trial says; what it
	// weighed and measured before fitting put its seats where it believes them.
	s.stated = s.truth
	s.pitch = [2]float64{1 + normal(t.Pitch), 1 + normal(t.Pitch)}
	for a := range 2 {
		rate, ratio := 1+normal(t.Rate), 1+normal(t.Ratio)
		for i := 2 * a; i < 2*a+2; i++ {
			c := &s.stated.System.Corner[i]
			c.Spring.Rate *= rate
			c.SpringTravel.C[0] *= ratio
			c.Compressed0 = s.stated.System.Base.Force[i] / (c.SpringTravel.C[0] * c.Spring.Rate)
			s.stated.Zero[i] = height[a] // nobody knows which arch is crooked
		}
	}
	// The fitter left the collars anywhere; their seats are where they are.
	for i := range 4 {
		s.truth.System.Corner[i].Compressed0 += t.Collar * (2*rng.Float64() - 1)
	}
	s.target = t.Preset.Level(FrontRightRearLeft)
	s.target.Mean = height
	return s
}

func markOf(v []float64) Mark {
	if len(v) == 0 {
		return Mark{Median: math.NaN(), Worst95: math.NaN()}
	}
	s := slices.Clone(v)
	slices.Sort(s)
	at := func(q float64) float64 { return s[int(q*float64(len(s)-1)+0.5)] }
	return Mark{Median: at(0.5), Worst95: at(0.95)}
}
