package modes

import (
	"math"
	"math/cmplx"

	"gonum.org/v1/gonum/mat"

	"trunnion/chassis/numeric"
)

// Mode is one of the seven movements of a car.
type Mode struct {
	Name      string
	Frequency float64      // |λ|/2π [Hz]
	Ratio     float64      // damping ratio; 1 or more for two real poles [-]
	Real      bool         // two real poles instead of an oscillation
	Pole      [2]float64   // real and imaginary part, or two real poles [1/s]
	Shares    [dof]float64 // of the kinetic energy, in the order of Movements [-]
}

// Movements are the names of the pure movements a mode is made of, in the
// order of Mode.Shares. An axle's wheels move together in hop and against
// each other in tramp.
var Movements = [dof]string{"heave", "roll", "pitch", "front-hop", "front-tramp", "rear-hop", "rear-tramp"}

// Modes returns the seven modes in the order of Movements, each named after
// the movement that holds most of its kinetic energy.
func (l *Linear) Modes() ([]Mode, error) {
	got, err := numeric.Modes(dense(&l.Mass), dense(&l.Damping), dense(&l.Stiffness))
	if err != nil {
		return nil, err
	}
	out := make([]Mode, 0, len(got))
	for i := range got {
		g := &got[i]
		m := Mode{Frequency: g.Frequency(), Ratio: g.Ratio(), Real: g.Real}
		m.Pole = [2]float64{real(g.Pole), imag(g.Pole)}
		if g.Real {
			m.Pole = [2]float64{real(g.Pole), real(g.Other)}
		}
		m.Shares = l.shares(g.Shape)
		out = append(out, m)
	}
	return named(out), nil
}

// shares splits the kinetic energy of a shape over the pure movements.
func (l *Linear) shares(shape []complex128) [dof]float64 {
	var s [dof]float64
	total := 0.0
	for j := range Wheel0 {
		a := cmplx.Abs(shape[j])
		s[j] = l.Mass[j][j] * a * a
		total += s[j]
	}
	for axle := range 2 {
		left, right := shape[Wheel0+2*axle], shape[Wheel0+2*axle+1]
		m := 0.5 * (l.Mass[Wheel0+2*axle][Wheel0+2*axle] + l.Mass[Wheel0+2*axle+1][Wheel0+2*axle+1])
		together, against := cmplx.Abs(left+right), cmplx.Abs(left-right)
		s[Wheel0+2*axle] = 0.5 * m * together * together
		s[Wheel0+2*axle+1] = 0.5 * m * against * against
		total += s[Wheel0+2*axle] + s[Wheel0+2*axle+1]
	}
	for j := range s {
		s[j] /= total
	}
	return s
}

// named gives each movement's name to the mode that has the greatest share of
// it still free, greatest shares first, and puts the modes in that order.
func named(modes []Mode) []Mode {
	taken := make([]bool, len(modes))
	at := [dof]int{-1, -1, -1, -1, -1, -1, -1}
	for range min(dof, len(modes)) {
		best, mode, move := math.Inf(-1), -1, -1
		for i := range modes {
			if taken[i] {
				continue
			}
			for j := range dof {
				if at[j] < 0 && modes[i].Shares[j] > best {
					best, mode, move = modes[i].Shares[j], i, j
				}
			}
		}
		taken[mode], at[move] = true, mode
		modes[mode].Name = Movements[move]
	}
	var out []Mode
	for j := range dof {
		if at[j] >= 0 {
			out = append(out, modes[at[j]])
		}
	}
	return out
}

func dense(a *[dof][dof]float64) *mat.Dense {
	d := mat.NewDense(dof, dof, nil)
	for i := range dof {
		for j := range dof {
			d.Set(i, j, a[i][j])
		}
	}
	return d
}
