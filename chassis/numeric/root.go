package numeric

import (
	"errors"
	"fmt"
	"math"
)

// ErrRoot is wrapped when Root cannot find a sign change or the function is not
// a number.
var ErrRoot = errors.New("no root")

// rootSteps is far more than the method needs: bisection alone halves any
// bracket of float64 away in about 1100, and Brent's bound is rarely half used.
const rootSteps = 1200

// Root returns an x between a and b, in their unit, at which f changes sign, to
// within tol plus four roundings of x. f(a) and f(b) must differ in sign; their
// order does not matter. Inverse quadratic and secant steps are taken while they
// shrink the bracket quickly, bisection otherwise, so that it never fails on a
// continuous f. At a jump it returns the place of the jump.
//
// Source: R. P. Brent, Algorithms for Minimization without Derivatives, 1973,
// chapter 4 (from memory).
func Root(f func(float64) float64, a, b, tol float64) (float64, error) {
	fa, fb := f(a), f(b)
	switch {
	case !finite(a) || !finite(b) || math.IsNaN(fa) || math.IsNaN(fb):
		return math.NaN(), fmt.Errorf("%w: f(%g) = %g, f(%g) = %g", ErrRoot, a, fa, b, fb)
	case fa == 0:
		return a, nil
	case fb == 0:
		return b, nil
	case (fa > 0) == (fb > 0):
		return math.NaN(), fmt.Errorf("%w: no change of sign between f(%g) = %g and f(%g) = %g", ErrRoot, a, fa, b, fb)
	}
	// b is the best guess, c holds the root together with b, a is the guess
	// before; d is the step about to be taken, e the one before it.
	c, fc := a, fa
	d := b - a
	e := d
	for range rootSteps {
		if math.Abs(fc) < math.Abs(fb) {
			a, b, c = b, c, b
			fa, fb, fc = fb, fc, fb
		}
		near := 2*0x1p-52*math.Abs(b) + 0.5*math.Abs(tol)
		half := 0.5 * (c - b)
		if math.Abs(half) <= near || fb == 0 {
			return b, nil
		}
		if math.Abs(e) < near || math.Abs(fa) <= math.Abs(fb) {
			d, e = half, half
		} else {
			p, q := interpolate(a, b, c, fa, fb, fc, half)
			// The step stays within three quarters of the bracket and at most
			// half of the step before last, or the bracket is halved.
			if 2*p < math.Min(3*half*q-math.Abs(near*q), math.Abs(e*q)) {
				d, e = p/q, d
			} else {
				d, e = half, half
			}
		}
		a, fa = b, fb
		if math.Abs(d) > near {
			b += d
		} else {
			b += math.Copysign(near, half)
		}
		fb = f(b)
		if math.IsNaN(fb) {
			return math.NaN(), fmt.Errorf("%w: f(%g) is not a number", ErrRoot, b)
		}
		if (fb > 0) == (fc > 0) {
			c, fc = a, fa
			d = b - a
			e = d
		}
	}
	return math.NaN(), fmt.Errorf("%w: not found in %d steps", ErrRoot, rootSteps)
}

// interpolate returns the step p/q from b: inverse quadratic through three
// points, or the secant when two of them are the same; p is not negative.
func interpolate(a, b, c, fa, fb, fc, half float64) (p, q float64) {
	s := fb / fa
	if a == c {
		p, q = 2*half*s, 1-s
	} else {
		u, v := fa/fc, fb/fc
		p = s * (2*half*u*(u-v) - (b-a)*(v-1))
		q = (u - 1) * (v - 1) * (s - 1)
	}
	if p > 0 {
		return p, -q
	}
	return -p, q
}
