package roadtest

import (
	"math"
	"math/cmplx"
	"slices"
	"sync"

	"gonum.org/v1/gonum/dsp/fourier"
	"gonum.org/v1/gonum/mat"
)

// How the residual is looked at. Chosen.
const (
	smoothBins = 24  // lines either side over which the residual's spectrum is taken
	blockTime  = 1.0 // of a block by which the scatter of the score is taken [s]
)

// solver is a fit under way.
type solver struct {
	build  *Build
	legs   [4]leg
	pieces []*piece
	priors []prior
	at     shift
	centre shift   // of what was known before
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
		if in.Name == TravelGain || in.Name == TravelZero || slices.Contains(Named, in.Name) {
			if in.Name == TravelGain || in.Name == TravelZero {
				moved.travel[in.Corner], moved.force[in.Corner] = p.spectra(&s.legs, &at, in.Corner, false)
			} else {
				moved.force[in.Corner] = p.forces(&s.legs, &at, in.Corner)
			}
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

// rootsOf are the roots of the residual's own spectrum, line by line, channel against
// channel, smoothed over neighbouring lines.
func rootsOf(base [][]complex128) [][]complex128 {
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
	out := make([][]complex128, n)
	for k := range n {
		root := make([]complex128, m*m)
		lo, hi := max(k-smoothBins, 0), min(k+smoothBins+1, n)
		for a := range m {
			for b := range m {
				root[a*m+b] = (prefix[a*m+b][hi] - prefix[a*m+b][lo]) / complex(float64(hi-lo), 0)
			}
			root[a*m+a] *= 1 + 1e-9
		}
		cholesky(root, m)
		out[k] = root
	}
	return out
}

// whitened divides errors or slopes by the roots: what stays of errors has unit size.
func whitened(roots, e [][]complex128) {
	m := len(e)
	for k, l := range roots {
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

// variances are the covariance of an answer in two parts.
type variances struct {
	log, known *mat.SymDense // what the log leaves open; what was known before does
}

// of is the variance of one input.
func (c *variances) of(a int) float64 { return c.log.At(a, a) + c.known.At(a, a) }

// round is one step of Gauss and Newton with what was known before as a prior:
//
//	I = 2·Re ΣJᴴJ,  H = I + P⁻¹,   H·Δ = −2·Re ΣJᴴe − P⁻¹·θ
//
// The covariance is H⁻¹·I·H⁻¹ + H⁻¹·P⁻¹·H⁻¹ where the residual is stationary and its lines
// are free of each other; a hump, a part of the model that is not the car's, are neither.
// So the score is summed block by block of time, g_b, and H⁻¹·(Σ g_b·g_bᵀ)·H⁻¹ is held
// against the first part: the wider counts, input by input. Sources: P. Whittle's
// likelihood of a stationary residual; H. White, Maximum likelihood estimation of
// misspecified models, Econometrica 50 (1982), 1–25, for the blocks.
func (s *solver) round() (step []float64, cov *variances, ok bool) {
	n := len(s.priors)
	info, right, blocks, before := mat.NewSymDense(n, nil), mat.NewVecDense(n, nil), mat.NewSymDense(n, nil), mat.NewSymDense(n, nil)
	s.eachPiece(func(_ int, p *piece) {
		g := geometryOf(&s.build.Car, &s.at)
		m := s.moved(p, &s.at)
		r := p.recover(&g, m)
		base := p.residuals(&r, &s.at)
		roots := rootsOf(base)
		p.slopes = s.slopes(p, base, m)
		for _, j := range p.slopes {
			whitened(roots, j)
		}
		whitened(roots, base)
		p.errors = base
	})
	for _, p := range s.pieces {
		base, j, kept := p.errors, p.slopes, p.kept()
		p.scores(base, j, kept, blocks)
		for a := range n {
			sum := 0.0
			for c := range base {
				for i, e := range base[c] {
					sum += real(cmplx.Conj(j[a][c][i]) * e)
				}
			}
			right.SetVec(a, right.AtVec(a)-2*kept*sum)
			for b := a; b < n; b++ {
				sum := 0.0
				for c := range base {
					ja, jb := j[a][c], j[b][c]
					for i := range ja {
						sum += real(ja[i])*real(jb[i]) + imag(ja[i])*imag(jb[i])
					}
				}
				info.SetSym(a, b, info.At(a, b)+2*kept*sum)
			}
		}
	}
	for a, in := range s.priors {
		w := 1.96 / in.half
		before.SetSym(a, a, w*w)
		right.SetVec(a, right.AtVec(a)-w*w*(*s.at.of(in.Input)-*s.centre.of(in.Input)))
	}
	var root mat.Cholesky
	var whole, inverse mat.SymDense
	whole.AddSym(info, before)
	if !root.Factorize(&whole) || root.InverseTo(&inverse) != nil {
		return nil, nil, false
	}
	x := mat.NewVecDense(n, nil)
	if root.SolveVecTo(x, right) != nil {
		return nil, nil, false
	}
	cov = &variances{between(&inverse, info), between(&inverse, before)}
	widened(cov.log, between(&inverse, blocks))
	return x.RawVector().Data, cov, true
}

// between is A·B·A.
func between(a, b *mat.SymDense) *mat.SymDense {
	n := a.SymmetricDim()
	var half, whole mat.Dense
	half.Mul(a, b)
	whole.Mul(&half, a)
	out := mat.NewSymDense(n, nil)
	for i := range n {
		for k := i; k < n; k++ {
			out.SetSym(i, k, whole.At(i, k))
		}
	}
	return out
}

// eachPiece does the pieces on all cores.
func (s *solver) eachPiece(do func(k int, p *piece)) {
	var all sync.WaitGroup
	for k, p := range s.pieces {
		all.Go(func() { do(k, p) })
	}
	all.Wait()
}

// step moves every input, none by more than half its band at once, and returns the
// steps made.
func (s *solver) step(by []float64) []float64 {
	out := make([]float64, len(by))
	for a, in := range s.priors {
		limit := math.Max(in.half/2, 1e-9)
		out[a] = math.Max(-limit, math.Min(limit, by[a]))
		*s.at.of(in.Input) += out[a]
	}
	return out
}

// scores adds the outer products of a piece's score, block by block of time.
func (p *piece) scores(e [][]complex128, j [][][]complex128, kept float64, meat *mat.SymDense) {
	size := smooth5(4 * p.to)
	fft := fourier.NewFFT(size)
	lines := make([]complex128, size/2+1)
	time := func(of []complex128) []float64 {
		clear(lines)
		copy(lines[p.from:], of)
		return fft.Sequence(nil, lines)
	}
	blocks := max(int(float64(p.inner[1]-p.inner[0])/p.coarse/blockTime), 2)
	sums := make([][]float64, blocks)
	for b := range sums {
		sums[b] = make([]float64, len(j))
	}
	for c := range e {
		et := time(e[c])
		for a := range j {
			for t, v := range time(j[a][c]) {
				sums[t*blocks/size][a] += v * et[t] * kept / float64(size)
			}
		}
	}
	scale := float64(blocks) / float64(blocks-1)
	for _, g := range sums {
		meat.SymRankOne(meat, scale, mat.NewVecDense(len(g), g))
	}
}

// widened takes a covariance to another where that is wider; what goes with what stays.
func widened(cov, other *mat.SymDense) {
	n := cov.SymmetricDim()
	by := make([]float64, n)
	for a := range by {
		by[a] = 1
		if v := cov.At(a, a); v > 0 { // the log moves it
			by[a] = math.Sqrt(math.Max(other.At(a, a)/v, 1))
		}
	}
	for a := range n {
		for b := a; b < n; b++ {
			cov.SetSym(a, b, cov.At(a, b)*by[a]*by[b])
		}
	}
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
