package roadtest

import (
	"math"
	"math/cmplx"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// How the residual is looked at. Chosen.
const (
	smoothBins = 24   // lines either side over which the residual's spectrum is taken
	tapered    = 0.93 // of the information stays behind the taper
)

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
