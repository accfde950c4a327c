package screening

import "math"

// inverse is 1/z without the care for infinities that the language's own division takes.
func inverse(z complex128) complex128 {
	a, b := real(z), imag(z)
	s := 1 / (a*a + b*b)
	return complex(a*s, -b*s)
}

func square(z complex128) float64 { return real(z)*real(z) + imag(z)*imag(z) }

// pair is a 2×2 matrix of an axle: a b / c d.
type pair struct{ a, b, c, d complex128 }

func (p pair) times(q pair) pair {
	return pair{p.a*q.a + p.b*q.c, p.a*q.b + p.b*q.d, p.c*q.a + p.d*q.c, p.c*q.b + p.d*q.d}
}

func (p pair) minus(q pair) pair { return pair{p.a - q.a, p.b - q.b, p.c - q.c, p.d - q.d} }

func (p pair) inverted() pair {
	s := inverse(p.a*p.d - p.b*p.c)
	return pair{p.d * s, -p.b * s, -p.c * s, p.a * s}
}

func (p pair) of(x, y complex128) (complex128, complex128) { return p.a*x + p.b*y, p.c*x + p.d*y }

// car holds the linear car of one pass.
type car struct {
	mass, roll, pitch float64
	x, y, unsprung    [4]float64
	// What the weight takes off the stiffness of the body: see equilibrium.Lean. [N m/rad]
	leanRoll, leanPitch float64
	tyre, tyreDamping   [4]float64
	mount               [4]float64
	bar                 [2]float64
	stiffness           [4]float64 // equivalent, at the wheel [N/m]
	damping             [4]float64 // equivalent, at the damper [N s/m]
	ratio               [4]float64 // damper travel over wheel travel [-]
	points              int
	px, py              []float64
}

// strut is the dynamic stiffness of spring and damper with its mount: k + r²·jωc·k_m/(k_m + jωc), and the share of the
// damper's end-to-end speed that the valve sees.
func (c *car) strut(i int, omega float64) (stiffness, slip complex128) {
	d := complex(0, omega*c.damping[i])
	slip = 1
	if c.mount[i] > 0 {
		slip = complex(c.mount[i], 0) * inverse(complex(c.mount[i], 0)+d)
	}
	r2 := complex(c.ratio[i]*c.ratio[i], 0)
	return complex(c.stiffness[i], 0) + r2*d*slip, slip
}

// axle is one axle with its wheels eliminated: forces on the body are A·road − B·body.
//
//	N = diag(T − ω²·mu) + S,  T = k_t + jω·c_t,  S = diag(strut) + bar·[1 −1; −1 1]
//	wheels = N⁻¹·(T·road + S·body);  A = S·N⁻¹·T;  B = S − S·N⁻¹·S
type axle struct {
	ninv, s, a, b pair
	tl, tr        complex128
}

func (c *car) axle(k int, omega float64, sl, sr complex128) (x axle) {
	l, r := 2*k, 2*k+1
	bar := complex(c.bar[k], 0)
	x.s = pair{sl + bar, -bar, -bar, sr + bar}
	x.tl, x.tr = complex(c.tyre[l], omega*c.tyreDamping[l]), complex(c.tyre[r], omega*c.tyreDamping[r])
	n := x.s
	n.a += x.tl - complex(omega*omega*c.unsprung[l], 0)
	n.d += x.tr - complex(omega*omega*c.unsprung[r], 0)
	x.ninv = n.inverted()
	sn := x.s.times(x.ninv)
	x.a = pair{sn.a * x.tl, sn.b * x.tr, sn.c * x.tl, sn.d * x.tr}
	x.b = x.s.minus(sn.times(x.s))
	return x
}

// response is what one unit of road does: body heave, pitch, roll, then per corner relative travel and tyre deflection.
type response struct {
	body         [3]complex128
	travel, tyre [4]complex128
	slip         [4]complex128
}

// body3 eliminates a 3×3 complex system with n right sides, in place; no exchange of rows, as the diagonal is that of a
// mass on springs and dampers.
func body3(a *[3][3]complex128, b *[2][3]complex128) {
	i0 := inverse(a[0][0])
	f := a[1][0] * i0
	a[1][1] -= f * a[0][1]
	a[1][2] -= f * a[0][2]
	g := a[2][0] * i0
	a[2][1] -= g * a[0][1]
	a[2][2] -= g * a[0][2]
	i1 := inverse(a[1][1])
	e := a[2][1] * i1
	a[2][2] -= e * a[1][2]
	i2 := inverse(a[2][2])
	for k := range b {
		v := &b[k]
		v[1] -= f * v[0]
		v[2] -= g*v[0] + e*v[1]
		v[2] *= i2
		v[1] = (v[1] - a[1][2]*v[2]) * i1
		v[0] = (v[0] - a[0][1]*v[1] - a[0][2]*v[2]) * i0
	}
}

// waves are the heights under the four wheels on a line: both sides alike, and the sides against each other.
func (ln *line) waves() [2][4]complex128 {
	return [2][4]complex128{{1, 1, ln.delay, ln.delay}, {1, -1, ln.delay, -ln.delay}}
}

// general solves any car at one frequency for two sets of heights under the wheels.
func (c *car) general(omega float64, waves *[2][4]complex128, out *[2]response) {
	w2 := omega * omega
	var ax [2]axle
	var m [3][3]complex128
	var rhs [2][3]complex128
	m[0][0], m[1][1], m[2][2] = complex(-w2*c.mass, 0), complex(-w2*c.pitch-c.leanPitch, 0), complex(-w2*c.roll-c.leanRoll, 0)
	var slips [4]complex128
	for k := range ax {
		l, r := 2*k, 2*k+1
		sl, slipL := c.strut(l, omega)
		sr, slipR := c.strut(r, omega)
		slips[l], slips[r] = slipL, slipR
		ax[k] = c.axle(k, omega, sl, sr)
		x := &ax[k]
		hl := [3]complex128{1, complex(-c.x[l], 0), complex(c.y[l], 0)}
		hr := [3]complex128{1, complex(-c.x[r], 0), complex(c.y[r], 0)}
		for j := range 3 {
			bl, br := x.b.of(hl[j], hr[j])
			for i := range 3 {
				m[i][j] += hl[i]*bl + hr[i]*br
			}
		}
		for p := range waves {
			fl, fr := x.a.of(waves[p][l], waves[p][r])
			for i := range 3 {
				rhs[p][i] += hl[i]*fl + hr[i]*fr
			}
		}
	}
	body3(&m, &rhs)
	for p := range waves {
		o := &out[p]
		o.body = rhs[p]
		o.slip = slips
		u := &o.body
		for k := range ax {
			l, r := 2*k, 2*k+1
			x := &ax[k]
			wl, wr := waves[p][l], waves[p][r]
			bl := u[0] - complex(c.x[l], 0)*u[1] + complex(c.y[l], 0)*u[2]
			br := u[0] - complex(c.x[r], 0)*u[1] + complex(c.y[r], 0)*u[2]
			sl, sr := x.s.of(bl, br)
			zl, zr := x.ninv.of(x.tl*wl+sl, x.tr*wr+sr)
			o.travel[l], o.travel[r] = zl-bl, zr-br
			o.tyre[l], o.tyre[r] = wl-zl, wr-zr
		}
	}
}

// symmetric solves one line for a car that is its own mirror image: heave and pitch from both sides alike, roll from the
// sides against each other; only the left corners are filled.
func (c *car) symmetric(ln *line, out *[2]response) {
	w2 := ln.omega * ln.omega
	var a00, a01, a11, b0, b1 complex128
	rollA, rollB := complex(-w2*c.roll-c.leanRoll, 0), complex128(0)
	a00, a11 = complex(-w2*c.mass, 0), complex(-w2*c.pitch-c.leanPitch, 0)
	var s, sr, n, nr, t, wave [2]complex128
	for k := range s {
		i := 2 * k
		st, slip := c.strut(i, ln.omega)
		out[0].slip[i], out[1].slip[i] = slip, slip
		t[k] = complex(c.tyre[i], ln.omega*c.tyreDamping[i])
		ground := t[k] - complex(w2*c.unsprung[i], 0)
		s[k], sr[k] = st, st+complex(2*c.bar[k], 0)
		n[k], nr[k] = inverse(ground+s[k]), inverse(ground+sr[k])
		wave[k] = 1
		if k == 1 {
			wave[k] = ln.delay
		}
		f := 2 * s[k] * n[k]
		b := f * ground // 2·(S − S·N⁻¹·S) = 2·S·N⁻¹·(T − ω²mu)
		a := f * t[k] * wave[k]
		x, y := complex(c.x[i], 0), complex(c.y[i], 0)
		a00 += b
		a01 -= x * b
		a11 += x * x * b
		b0 += a
		b1 -= x * a
		g := 2 * y * sr[k] * nr[k]
		rollA += g * y * ground
		rollB += g * t[k] * wave[k]
	}
	det := inverse(a00*a11 - a01*a01)
	z, p := (a11*b0-a01*b1)*det, (a00*b1-a01*b0)*det
	r := rollB * inverse(rollA)
	out[0].body, out[1].body = [3]complex128{z, p, 0}, [3]complex128{0, 0, r}
	for k := range s {
		i := 2 * k
		body := z - complex(c.x[i], 0)*p
		wheel := n[k] * (t[k]*wave[k] + s[k]*body)
		out[0].travel[i], out[0].tyre[i] = wheel-body, wave[k]-wheel
		body = complex(c.y[i], 0) * r
		wheel = nr[k] * (t[k]*wave[k] + sr[k]*body)
		out[1].travel[i], out[1].tyre[i] = wheel-body, wave[k]-wheel
	}
}

// isMirrored tells whether left and right are the same in this pass, to the last bit or near it.
func (c *car) isMirrored() bool {
	same := func(a, b float64) bool { return math.Abs(a-b) <= 1e-12*(math.Abs(a)+math.Abs(b)) }
	for k := range 2 {
		l, r := 2*k, 2*k+1
		if !same(c.x[l], c.x[r]) || !same(c.y[l], -c.y[r]) || !same(c.unsprung[l], c.unsprung[r]) ||
			!same(c.tyre[l], c.tyre[r]) || !same(c.tyreDamping[l], c.tyreDamping[r]) || !same(c.mount[l], c.mount[r]) ||
			!same(c.stiffness[l], c.stiffness[r]) || !same(c.damping[l], c.damping[r]) || !same(c.ratio[l], c.ratio[r]) {
			return false
		}
	}
	return true
}

// sag returns how the four wheel travels change when the corners push by excess more than they must [N]: the static
// equilibrium of the linear car on flat ground.
//
//	f = P·(excess − S·H·u),  P = T·(T + S)⁻¹,  Hᵀ·f + W·d·u = 0 in roll and pitch,  travel = −f/T − H·u
func (c *car) sag(excess [4]float64) (travel [4]float64) {
	var m [3][3]complex128
	var rhs [2][3]complex128
	m[1][1], m[2][2] = complex(-c.leanPitch, 0), complex(-c.leanRoll, 0)
	var ps, p [2]pair
	for k := range ps {
		l, r := 2*k, 2*k+1
		bar := complex(c.bar[k], 0)
		s := pair{complex(c.stiffness[l], 0) + bar, -bar, -bar, complex(c.stiffness[r], 0) + bar}
		n := s
		n.a += complex(c.tyre[l], 0)
		n.d += complex(c.tyre[r], 0)
		inv := n.inverted()
		tl, tr := complex(c.tyre[l], 0), complex(c.tyre[r], 0)
		p[k] = pair{tl * inv.a, tl * inv.b, tr * inv.c, tr * inv.d}
		ps[k] = p[k].times(s)
		hl := [3]complex128{1, complex(-c.x[l], 0), complex(c.y[l], 0)}
		hr := [3]complex128{1, complex(-c.x[r], 0), complex(c.y[r], 0)}
		for j := range 3 {
			bl, br := ps[k].of(hl[j], hr[j])
			for i := range 3 {
				m[i][j] += hl[i]*bl + hr[i]*br
			}
		}
		fl, fr := p[k].of(complex(excess[l], 0), complex(excess[r], 0))
		for i := range 3 {
			rhs[0][i] += hl[i]*fl + hr[i]*fr
		}
	}
	body3(&m, &rhs)
	u := rhs[0]
	for k := range ps {
		l, r := 2*k, 2*k+1
		bl := u[0] - complex(c.x[l], 0)*u[1] + complex(c.y[l], 0)*u[2]
		br := u[0] - complex(c.x[r], 0)*u[1] + complex(c.y[r], 0)*u[2]
		fl, fr := p[k].of(complex(excess[l], 0), complex(excess[r], 0))
		gl, gr := ps[k].of(bl, br)
		travel[l] = -real(fl-gl)/c.tyre[l] - real(bl)
		travel[r] = -real(fr-gr)/c.tyre[r] - real(br)
	}
	return travel
}
