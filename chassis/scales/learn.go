package scales

import (
	"fmt"
	"math"

	"trunnion/chassis/car"
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/spread"
)

// Prior is how far what the model stands on may be off before anything was
// read, as one standard deviation.
type Prior struct {
	Pitch float64 // of an axle's threads, relative [-]
	Rate  float64 // of an axle's springs, relative [-]
	Ratio float64 // spring travel over wheel travel of an axle, relative [-]
	Tyre  float64 // rate of the tyres, relative [-]
	Seat  float64 // of one spring seat [m]
	Arch  float64 // of one arch against where the car's measuring has it [m]
	Mass  float64 // aboard, against what was said [kg]
	Arm   float64 // at which that mass may sit, off the middle and off the front axle [m]
}

// Priors returns what is taken where nothing else is known: threads and rates
// ±5 %, ratios ±4 %, tyres ±12 % as 95 % half-widths, seats 5 mm, arches
// 1.5 mm and 6 kg aboard as standard deviations. Common practice, no source.
func Priors() Prior {
	const z = spread.Normal95
	return Prior{Pitch: 0.05 / z, Rate: 0.05 / z, Ratio: 0.04 / z, Tyre: 0.12 / z, Seat: 5e-3, Arch: 1.5e-3, Mass: 6, Arm: 0.7}
}

// Noise is what one settled reading may be off by.
type Noise struct {
	Load     float64    // of one pad, one standard deviation [kg]
	Height   float64    // of one height, one standard deviation [m]
	Friction [4]float64 // that may hold a wheel, either way [N]
}

// Noises returns the noise of a good workshop: scales ±1 kg, heights ±1 mm (95 %
// half-widths), and the friction stated. Common practice, no source.
func Noises(friction [4]float64) Noise {
	const z = spread.Normal95
	return Noise{Load: 1 / z, Height: 1e-3 / z, Friction: friction}
}

// Round is one settled reading and the turns made since the one before.
type Round struct {
	Turned [4]float64 // each collar's move before this reading, by count of turns and stated thread, up positive [m]
	Got    Reading
}

// outputs are four loads and four heights.
const outputs = 8

// Model is a rig with what the readings say about it.
type Model struct {
	Rig    Rig // as the parts say
	Prior  Prior
	Noise  Noise
	Rounds []Round

	Moved  [4]float64 // by the collars since Rig, as counted [m]
	Misfit float64    // sum of squares of what is left over, in standard deviations [-]
	Data   int        // readings behind it

	z        vector // most probable unknowns
	wide     vector // factor on each prior standard deviation; 0 stands for 1
	inverse  square // Cholesky factor of the inverse covariance
	evidence float64

	normal square  // that factor's matrix
	lines  []lined // the rounds on their tangents at z
}

// lined is one round on its tangent.
type lined struct {
	cov    square         // Cholesky factor of the scatter of what was read
	rows   [params]vector // derivative by each unknown, over that factor
	index  [outputs]int   // of what was read
	n      int            // how many were
	logDet float64        // of the scatter
	state  *equilibrium.State
}

// NewModel is the model before anything was read.
func NewModel(rig *Rig, prior Prior, noise Noise) *Model {
	m := &Model{Rig: *rig, Prior: prior, Noise: noise}
	for i := range params {
		m.inverse[i][i] = 1
	}
	return m
}

// Learned is one unknown as the readings have it.
type Learned struct {
	Code   string  // thread, spring-rate, motion-ratio, tyre-rate, seat, arch, mass-aboard
	Axle   int     // 0 front, 1 rear; −1 for none
	Corner int     // −1 for none
	Value  float64 // factor for the first four [-]; seat and arch [m]; mass [kg]
	SD     float64 // one standard deviation, in the unit of Value [SI]
	Before float64 // standard deviation before anything was read, in the unit of Value [SI]
}

// Learned lists what the readings made of the unknowns.
func (m *Model) Learned() []Learned {
	sd := m.deviations()
	var out []Learned
	axle := func(code string, at int, scale float64) {
		for a := range 2 {
			out = append(out, Learned{Code: code, Axle: a, Corner: -1, Value: 1 + m.z[at+a]*scale, SD: sd[at+a] * scale, Before: scale})
		}
	}
	axle("thread", ofPitch, m.Prior.Pitch)
	axle("spring-rate", ofRate, m.Prior.Rate)
	axle("motion-ratio", ofRatio, m.Prior.Ratio)
	out = append(out, Learned{Code: "tyre-rate", Axle: -1, Corner: -1, Value: 1 + m.z[ofTyre]*m.Prior.Tyre, SD: sd[ofTyre] * m.Prior.Tyre, Before: m.Prior.Tyre})
	for i := range 4 {
		out = append(out, Learned{Code: "seat", Axle: -1, Corner: i, Value: m.z[ofSeat+i] * m.Prior.Seat, SD: sd[ofSeat+i] * m.Prior.Seat, Before: m.Prior.Seat})
	}
	for i := range 4 {
		out = append(out, Learned{Code: "arch", Axle: -1, Corner: i, Value: m.z[ofArch+i] * m.Prior.Arch, SD: sd[ofArch+i] * m.Prior.Arch, Before: m.Prior.Arch})
	}
	return append(out, Learned{Code: "mass-aboard", Axle: -1, Corner: -1, Value: m.z[ofMass] * m.Prior.Mass, SD: sd[ofMass] * m.Prior.Mass, Before: m.Prior.Mass})
}

// deviations are the standard deviations of the unknowns, in units of the prior.
func (m *Model) deviations() (sd vector) {
	for i := range params {
		var e vector
		e[i] = 1
		m.inverse.forward(&e, params)
		for k := range params {
			sd[i] += e[k] * e[k]
		}
		sd[i] = math.Sqrt(sd[i])
	}
	return sd
}

// with returns the rig under values of the unknowns.
func (m *Model) with(z *vector) Rig {
	r := m.Rig
	for i := range 4 {
		a := car.AxleOf(i)
		c := &r.System.Corner[i]
		c.Spring.Stiffen(math.Max(0.2, 1+z[ofRate+a]*m.Prior.Rate))
		c.SpringTravel.Scale(math.Max(0.2, 1+z[ofRatio+a]*m.Prior.Ratio))
		r.System.TyreRate[i] *= math.Max(0.2, 1+z[ofTyre]*m.Prior.Tyre)
		c.Compressed0 += z[ofSeat+i] * m.Prior.Seat
		r.Zero[i] += z[ofArch+i] * m.Prior.Arch
	}
	weight := m.Prior.Mass * equilibrium.Gravity
	r.Aboard.Down += z[ofMass] * weight
	r.Aboard.Behind += z[ofMass]*weight*m.middle() + z[ofBehind]*weight*m.Prior.Arm
	r.Aboard.Left += z[ofLeft] * weight * m.Prior.Arm
	return r
}

// middle is where a mass sits that presses all tyres alike [m].
func (m *Model) middle() float64 { return 0.5 * m.Rig.System.Behind[2] }

// turned is how far collars really go for a move as counted [m].
func (m *Model) turned(move [4]float64, z *vector) [4]float64 {
	for i := range 4 {
		move[i] *= 1 + z[ofPitch+car.AxleOf(i)]*m.Prior.Pitch
	}
	return move
}

// Stand returns where the car rests by what was learned, after a move from
// where it stands now [m].
func (m *Model) Stand(move [4]float64) (Stand, error) {
	for i := range 4 {
		move[i] += m.Moved[i]
	}
	return m.stand(move, &m.z, nil)
}

func (m *Model) stand(total [4]float64, z *vector, guess *equilibrium.State) (Stand, error) {
	r := m.with(z)
	return r.standFrom(m.turned(total, z), guess)
}

// outputsOf lays loads and heights out in one row.
func outputsOf(r *Reading) (y [outputs]float64) {
	copy(y[:4], r.Load[:])
	copy(y[4:], r.Height[:])
	return y
}

// byUnknown is the derivative of what is read by each unknown.
func (m *Model) byUnknown(total [4]float64, z *vector, at *Stand) (j [outputs][params]float64, err error) {
	const h = 1e-2
	y := outputsOf(&at.Reading)
	for i := range 4 { // an arch moves its own height and nothing else
		j[4+i][ofArch+i] = m.Prior.Arch
	}
	for p := range ofArch {
		other := *z
		other[p] += h
		st, err := m.stand(total, &other, &at.State)
		if err != nil {
			return j, err
		}
		for o, v := range outputsOf(&st.Reading) {
			j[o][p] = (v - y[o]) / h
		}
	}
	return j, nil
}

// scatter is the covariance of one reading: noise of the instruments and the
// friction that may hold each wheel, uniform between its limits.
//
//	R = diag(σ²) + J_f·diag(F²/3)·J_fᵀ
func (m *Model) scatter(at *Stand, z *vector) (r [outputs][outputs]float64, err error) {
	rig := m.with(z)
	s, err := rig.ByFriction(at)
	if err != nil {
		return r, err
	}
	var j [outputs][4]float64
	for o := range 4 {
		j[o], j[4+o] = s.Load[o], s.Height[o]
	}
	for o := range outputs {
		for q := range outputs {
			for i := range 4 {
				r[o][q] += j[o][i] * j[q][i] * m.Noise.Friction[i] * m.Noise.Friction[i] / 3
			}
		}
		sd := m.Noise.Load
		if o >= 4 {
			sd = m.Noise.Height
		}
		r[o][o] += sd * sd
	}
	return r, nil
}

// Learn returns the model that is most probable after all rounds so far: the
// least squares of what was read against what the unknowns predict, each
// weighted with its own scatter, and of the unknowns against their prior.
//
//	min over z:  Σ_k (y_k − f(z))ᵀ·R⁻¹·(y_k − f(z)) + zᵀ·z
//
// Method: Gauss-Newton. The covariance left over is the inverse of the normal
// matrix. Friction is taken anew in every round, because the car is settled
// again.
//
// Source: linear least squares with a prior, e.g. A. Tarantola, Inverse Problem
// Theory, 2005 (from memory).
func (m *Model) Learn(rounds []Round) (*Model, error) { return m.learn(rounds, vector{}) }

// learn begins its search at values of the unknowns.
func (m *Model) learn(rounds []Round, begin vector) (*Model, error) {
	next := NewModel(&m.Rig, m.Prior, m.Noise)
	next.wide, next.z = m.wide, begin
	next.Rounds = rounds
	totals := make([][4]float64, len(rounds))
	for k := range rounds {
		for i := range 4 {
			next.Moved[i] += rounds[k].Turned[i]
		}
		totals[k] = next.Moved
	}
	if err := next.fit(totals); err != nil {
		return nil, fmt.Errorf("scales: round with readings that no rest position is near: %w", err)
	}
	return next, nil
}

const (
	mostFits  = 12   // chosen: springs and gas need three or four
	fitted    = 1e-5 // step that counts as none, in prior standard deviations
	mostScale = 3.0  // longest step of an unknown, in prior standard deviations
)

func (m *Model) fit(totals [][4]float64) error {
	states := make([]*equilibrium.State, len(totals))
	m.lines = make([]lined, len(totals))
	for range mostFits {
		var normal square
		var right vector
		m.Misfit, m.Data, m.evidence = 0, 0, 0
		for p := range params {
			prior := 1.0
			if m.wide[p] > 0 {
				prior = 1 / (m.wide[p] * m.wide[p])
			}
			normal[p][p] = prior
			right[p] = -prior * m.z[p]
			m.Misfit += prior * m.z[p] * m.z[p]
			m.evidence -= math.Log(prior)
		}
		for k := range totals {
			at, err := m.stand(totals[k], &m.z, states[k])
			if err != nil {
				return err
			}
			states[k] = &at.State
			if err := m.take(&at, totals[k], &m.Rounds[k].Got, &normal, &right, &m.lines[k]); err != nil {
				return err
			}
		}
		m.normal = normal
		logDet, ok := normal.factor(params)
		if !ok {
			break
		}
		m.inverse = normal
		m.evidence += m.Misfit + logDet
		step := right
		normal.solve(&step, params)
		most := 0.0
		for p := range params {
			m.z[p] += math.Max(-mostScale, math.Min(mostScale, step[p]))
			most = math.Max(most, math.Abs(step[p]))
		}
		if most < fitted || len(totals) == 0 {
			break
		}
	}
	return nil
}

// take adds one round to the normal equations.
func (m *Model) take(at *Stand, total [4]float64, got *Reading, normal *square, right *vector, line *lined) error {
	j, err := m.byUnknown(total, &m.z, at)
	if err != nil {
		return err
	}
	r, err := m.scatter(at, &m.z)
	if err != nil {
		return err
	}
	want, have := outputsOf(&at.Reading), outputsOf(got)
	var cov square
	var miss vector
	var rows [params]vector
	n := 0
	var index [outputs]int
	for o := range outputs {
		if math.IsNaN(have[o]) {
			continue
		}
		index[n] = o
		miss[n] = have[o] - want[o]
		for p := range params {
			rows[p][n] = j[o][p]
		}
		n++
	}
	for a := range n {
		for b := range n {
			cov[a][b] = r[index[a]][index[b]]
		}
	}
	logDet, ok := cov.factor(n)
	if !ok {
		return fmt.Errorf("scales: the scatter of %d readings is no covariance", n)
	}
	m.evidence += logDet
	m.Data += n
	cov.forward(&miss, n)
	for p := range params {
		cov.forward(&rows[p], n)
	}
	*line = lined{cov: cov, rows: rows, index: index, n: n, logDet: logDet, state: &at.State}
	for a := range n {
		m.Misfit += miss[a] * miss[a]
		for p := range params {
			right[p] += rows[p][a] * miss[a]
			for q := range params {
				normal[p][q] += rows[p][a] * rows[q][a]
			}
		}
	}
	return nil
}

// again learns from rounds of which the last was not yet taken: its turns are
// already in the model's place.
func (m *Model) again(rounds []Round) (*Model, error) {
	k := len(rounds) - 1
	var sum [4]float64
	for _, r := range rounds[:k] {
		for i := range 4 {
			sum[i] += r.Turned[i]
		}
	}
	for i := range 4 {
		rounds[k].Turned[i] = m.Moved[i] - sum[i]
	}
	return m.Learn(rounds)
}

// Turn returns the model with its collars moved and nothing read yet [m].
func (m *Model) Turn(move [4]float64) *Model {
	next := *m
	for i := range 4 {
		next.Moved[i] += move[i]
	}
	return &next
}
