package roadtest

import (
	"context"
	"math"
	"math/cmplx"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// Estimate is what the log says of one input.
type Estimate struct {
	Input
	Value float64 // on top of what was entered [SI]
	Half  float64 // of its 95 % band [SI]
	Prior float64 // half-width it was given before the log spoke [SI]
}

// Fit is what a log says of the model.
type Fit struct {
	Estimates []Estimate
	// Related are the correlations of the estimates, in their order [-].
	Related [][]float64
	// Left is what the model as entered leaves unexplained, as a share of what the road does; Fitted the same with the
	// estimates. [-]
	Left, Fitted float64
	Wrong        []Wrong // with the channels: with a sign or a place wrong, nothing is estimated
	Rounds       int     // of Gauss and Newton [-]
	Time         float64 // of the log that was looked at [s]

	shift  shift
	pieces []*piece
	legs   *[4]leg
	build  *Build
}

// How the fit goes. Chosen.
const (
	mostRounds  = 12
	settled     = 0.05 // of a band: no input moves more in the last round
	smoothBins  = 24   // lines either side over which the residual's spectrum is taken
	tapered     = 0.93 // of the information stays behind the taper
	gapGrid     = 1e-3 // [m]
	gapNearer   = 0.025
	gapFurther  = 0.012
	stopSeen    = 10.0 // nats by which the log has to speak for a stop against none
	leastStroke = 5.0 // samples that must be in the stop before its gap is looked for
)

// coarse is the least half-width of an estimate's band: what sampling, filtering and a
// stop that opens leave, as the recovery study shows (docs/roadtest.md). Chosen from it.
var coarse = map[Name]float64{SpringRate: 0.012, BumpDamping: 0.008, ReboundDamping: 0.008, Friction: 3.5, StopGap: 2e-3, TravelGain: 0.005, Balance: 0.003, TyreRate: 0.01, UnsprungMass: 0.01}

// solver is a fit under way.
type solver struct {
	build  *Build
	legs   [4]leg
	pieces []*piece
	priors []prior
	at     shift
	held   []moved // pieces at the shift that stops are looked for from
	wide   [4]bool // corners whose travel may have a wrong gain
}

func (s *solver) moved(p *piece, at *shift) *moved {
	var m moved
	for i := range 4 {
		m.travel[i], m.force[i] = p.spectra(&s.legs, at, i, true)
	}
	return &m
}

// slopes are the derivatives of a piece's errors by every input, by differences; what
// one corner's input does not move is computed once.
func (s *solver) slopes(p *piece, base [][]complex128, m *moved) [][][]complex128 {
	out := make([][][]complex128, len(s.priors))
	for j, in := range s.priors {
		moved := *m
		at := s.at
		*at.of(in.Input) += in.step
		if in.Name == TravelGain || slices.Contains(Named, in.Name) {
			moved.travel[in.Corner], moved.force[in.Corner] = p.spectra(&s.legs, &at, in.Corner, false)
		}
		g := geometryOf(&s.build.Car, &at)
		r := p.recover(&g, &moved)
		d := p.residuals(&r, &at)
		for c := range d {
			for k := range d[c] {
				d[c][k] = (d[c][k] - base[c][k]) / complex(in.step, 0)
			}
		}
		out[j] = d
	}
	return out
}

// whitened divides errors and slopes by the root of the residual's own spectrum, channel
// against channel, smoothed over neighbouring lines: what stays has unit size.
func whitened(base [][]complex128, all ...[][]complex128) {
	n, m := len(base[0]), len(base)
	prefix := make([][]complex128, m*m)
	for a := range m {
		for b := range m {
			row := make([]complex128, n+1)
			for k := range n {
				row[k+1] = row[k] + base[a][k]*cmplx.Conj(base[b][k])
			}
			prefix[a*m+b] = row
		}
	}
	root := make([]complex128, m*m)
	clean := make([][]complex128, n)
	for k := range n {
		lo, hi := max(k-smoothBins, 0), min(k+smoothBins+1, n)
		for a := range m {
			for b := range m {
				root[a*m+b] = (prefix[a*m+b][hi] - prefix[a*m+b][lo]) / complex(float64(hi-lo), 0)
			}
			root[a*m+a] *= 1 + 1e-9
		}
		cholesky(root, m)
		clean[k] = append([]complex128(nil), root...)
	}
	for _, e := range all {
		for k := range n {
			l := clean[k]
			for a := range m {
				v := e[a][k]
				for b := range a {
					v -= l[a*m+b] * e[b][k]
				}
				if l[a*m+a] != 0 {
					v /= l[a*m+a]
				} else {
					v = 0
				}
				e[a][k] = v
			}
		}
	}
}

// cholesky takes the lower root of a Hermitian matrix in place.
func cholesky(a []complex128, m int) {
	for j := range m {
		d := real(a[j*m+j])
		for k := range j {
			d -= real(a[j*m+k] * cmplx.Conj(a[j*m+k]))
		}
		root := math.Sqrt(math.Max(d, 0))
		a[j*m+j] = complex(root, 0)
		for i := j + 1; i < m; i++ {
			v := a[i*m+j]
			for k := range j {
				v -= a[i*m+k] * cmplx.Conj(a[j*m+k])
			}
			if root > 0 {
				v /= a[j*m+j]
			}
			a[i*m+j] = v
		}
	}
}

// round is one step of Gauss and Newton with what was known before as a prior:
//
//	(2·Re ΣJᴴJ + P⁻¹)·Δ = −2·Re ΣJᴴe − P⁻¹·θ
//
// and the covariance is the inverse of the bracket. Source: P. Whittle's likelihood of
// a stationary residual; the linear step as in any textbook of least squares.
func (s *solver) round() (step []float64, cov *mat.SymDense, ok bool) {
	n := len(s.priors)
	info, right := mat.NewSymDense(n, nil), mat.NewVecDense(n, nil)
	for _, p := range s.pieces {
		g := geometryOf(&s.build.Car, &s.at)
		m := s.moved(p, &s.at)
		r := p.recover(&g, m)
		base := p.residuals(&r, &s.at)
		j := s.slopes(p, base, m)
		noise := make([][]complex128, len(base))
		for c := range base {
			noise[c] = append([]complex128(nil), base[c]...)
		}
		whitened(noise, append([][][]complex128{base}, j...)...)
		for a := range n {
			sum := 0.0
			for c := range base {
				for i, e := range base[c] {
					sum += real(cmplx.Conj(j[a][c][i]) * e)
				}
			}
			right.SetVec(a, right.AtVec(a)-2*tapered*sum)
			for b := a; b < n; b++ {
				sum := 0.0
				for c := range base {
					ja, jb := j[a][c], j[b][c]
					for i := range ja {
						sum += real(ja[i])*real(jb[i]) + imag(ja[i])*imag(jb[i])
					}
				}
				info.SetSym(a, b, info.At(a, b)+2*tapered*sum)
			}
		}
	}
	for a, in := range s.priors {
		w := 1.96 / in.half
		info.SetSym(a, a, info.At(a, a)+w*w)
		right.SetVec(a, right.AtVec(a)-w*w**s.at.of(in.Input))
	}
	var root mat.Cholesky
	if !root.Factorize(info) {
		return nil, nil, false
	}
	cov = mat.NewSymDense(n, nil)
	if root.InverseTo(cov) != nil {
		return nil, nil, false
	}
	x := mat.NewVecDense(n, nil)
	if root.SolveVecTo(x, right) != nil {
		return nil, nil, false
	}
	return x.RawVector().Data, cov, true
}

// costOf is the negative logarithm of the likelihood of residuals, up to a constant: the
// residual's spectrum is its own.
func costOf(e [][]complex128) float64 {
	sum := 0.0
	for c := range min(len(e), 2) {
		for k := 0; k < len(e[c]); k += smoothBins {
			power, n := 0.0, 0
			for _, v := range e[c][k:min(k+smoothBins, len(e[c]))] {
				power += real(v)*real(v) + imag(v)*imag(v)
				n++
			}
			if power > 0 {
				sum += float64(n) * math.Log(power/float64(n))
			}
		}
	}
	return sum
}

// gapCost is the cost with the stop of one corner elsewhere.
func (s *solver) gapCost(i int, gap float64) float64 {
	at := s.at
	at.gap[i] = gap
	g := geometryOf(&s.build.Car, &at)
	sum := 0.0
	for k, p := range s.pieces {
		m := s.held[k]
		m.travel[i], m.force[i] = p.spectra(&s.legs, &at, i, true)
		r := p.recover(&g, &m)
		sum += costOf(p.residuals(&r, &at))
	}
	return sum
}

// left is what is not explained, as a share of the road's own size.
func (s *solver) left(at *shift) float64 {
	left, road := 0.0, 0.0
	g := geometryOf(&s.build.Car, at)
	for _, p := range s.pieces {
		r := p.recover(&g, s.moved(p, at))
		e := p.residuals(&r, at)
		first, last := p.inner[0], p.inner[1]
		for side := range 2 {
			front := p.series(r.road[side])
			for k := first; k < last; k++ {
				road += front[k] * front[k]
			}
			for _, v := range e[side] {
				left += 2 * (real(v)*real(v) + imag(v)*imag(v)) / float64(last-first)
			}
		}
	}
	return math.Sqrt(left / math.Max(road, 1e-30))
}

// FitTo finds what a log says of the inputs of a build. A speed [m/s] stands in for a
// channel of it where the log has none.
func FitTo(ctx context.Context, l *Log, b *Build, speed float64, progress func(done, total int)) (*Fit, error) {
	d, err := driveOf(l, b, speed)
	if err != nil {
		return nil, err
	}
	s := &solver{build: b, legs: d.legs, pieces: d.pieces(b.Car.Wheelbase)}
	if len(s.pieces) == 0 {
		return nil, ErrNoPiece
	}
	if w := s.misread(); w != nil {
		return &Fit{Wrong: []Wrong{*w}, Left: s.left(&shift{}), pieces: s.pieces, legs: &s.legs, build: b}, nil
	}
	out, err := s.fit(ctx, progress)
	if err != nil {
		return nil, err
	}
	if far, any := out.gains(); any {
		s.wide, s.at = far, shift{}
		if out, err = s.fit(ctx, progress); err != nil {
			return nil, err
		}
		for _, e := range out.Estimates {
			if e.Name == TravelGain && far[e.Corner] && math.Abs(e.Value) > math.Max(e.Half, gainFar*known[TravelGain]) {
				out.Wrong = append(out.Wrong, Wrong{Mistake: WrongGain, Corner: e.Corner, Other: -1, Value: 1 / (1 + e.Value), Half: e.Half})
			}
		}
	}
	return out, nil
}

func (s *solver) fit(ctx context.Context, progress func(done, total int)) (*Fit, error) {
	tell := func(k int) {
		if progress != nil {
			progress(k, mostRounds)
		}
	}
	out := &Fit{pieces: s.pieces, legs: &s.legs, build: s.build, Left: s.left(&shift{})}
	for _, p := range s.pieces {
		out.Time += float64(p.n) / p.rate
	}
	s.priors = s.build.priors(s.seek(), s.wide)
	var cov *mat.SymDense
	for out.Rounds = 1; out.Rounds <= mostRounds; out.Rounds++ {
		tell(out.Rounds - 1)
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		step, c, ok := s.round()
		if !ok {
			break
		}
		cov = c
		far := 0.0
		for a, in := range s.priors {
			limit := math.Max(in.half/2, 1e-9)
			d := math.Max(-limit, math.Min(limit, step[a]))
			*s.at.of(in.Input) += d
			far = math.Max(far, math.Abs(d)/(1.96*math.Sqrt(cov.At(a, a))))
		}
		if out.Rounds == 2 {
			s.priors = s.build.priors(s.seek(), s.wide)
			continue
		}
		if far < settled {
			break
		}
	}
	if cov != nil {
		s.unbias(cov)
	}
	tell(mostRounds)
	out.shift = s.at
	out.Fitted = s.left(&s.at)
	if cov == nil {
		return out, nil
	}
	for a, in := range s.priors {
		out.Estimates = append(out.Estimates, Estimate{in.Input, *s.at.of(in.Input), math.Hypot(1.96*math.Sqrt(cov.At(a, a)), coarse[in.Name]), in.half})
		row := make([]float64, len(s.priors))
		for b := range row {
			row[b] = cov.At(a, b) / math.Sqrt(cov.At(a, a)*cov.At(b, b))
		}
		out.Related = append(out.Related, row)
	}
	return out, nil
}

// seek looks for each stop where its corner travels, because a stop that is not reached
// as entered has no slope to follow; it says which gaps the log can speak of.
func (s *solver) seek() (seen [4]bool) {
	s.held = make([]moved, len(s.pieces))
	for k, p := range s.pieces {
		s.held[k] = *s.moved(p, &s.at)
	}
	for i, has := range s.build.stops() {
		if !has {
			continue
		}
		best, least := s.at.gap[i], math.Inf(1)
		look := func(gap float64) {
			if c := s.gapCost(i, gap); c < least {
				best, least = gap, c
			}
		}
		for gap := -gapNearer; gap <= gapFurther; gap += 2 * gapGrid {
			look(gap)
		}
		look(best - gapGrid)
		look(best + gapGrid)
		free := s.gapCost(i, known[StopGap])
		s.at.gap[i] = best
		in := 0.0
		for _, p := range s.pieces {
			for _, x := range p.travel[i] {
				if s.legs[i].start+x > s.legs[i].in.Stop.TouchTravel+best+1e-3 {
					in++
				}
			}
		}
		if seen[i] = in >= leastStroke && free-least > stopSeen; !seen[i] {
			s.at.gap[i] = 0
		}
	}
	return seen
}
