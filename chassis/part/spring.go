package part

import (
	"errors"
	"math"

	"trunnion/chassis/numeric"
)

// SolidRate is the stiffness put in the place of coils or metal that touch: high
// enough that the travel past contact is a few hundredths of a millimetre,
// low enough for a Newton iteration to stay well conditioned [N/m].
const SolidRate = 2e7

// Spring is a coil spring, alone or with a second spring stacked on it.
//
// It carries no tension: past its free length it is loose and its force is 0.
type Spring struct {
	Free  float64 // free length of the main spring [m]
	Block float64 // length with its coils touching; 0 when it is not known: it then never binds [m]

	// Rate is the main spring's rate, used when Table is nil. [N/m]
	Rate float64
	// Growth is the increase of rate with deflection of a progressive spring
	// known by its two end rates: k = Rate + Growth·x. [N/m2]
	Growth float64
	// Table is force over deflection for a spring with a measured curve; it
	// replaces Rate and Growth.
	Table      *numeric.Curve
	TableScale float64 // factor on the table's force, 1 as typed [-]

	// A helper or tender stacked on the main spring; HelperRate 0 means none.
	HelperRate  float64 // [N/m]
	HelperFree  float64 // [m]
	HelperBlock float64 // [m]
}

// StackFree returns the free length of everything in the stack. [m]
func (s *Spring) StackFree() float64 {
	if s.HelperRate > 0 {
		return s.Free + s.HelperFree
	}
	return s.Free
}

// StackBlock returns the length of the stack with every coil touching. [m]
func (s *Spring) StackBlock() float64 {
	if s.HelperRate > 0 {
		return s.Block + s.HelperBlock
	}
	return s.Block
}

// Room returns how far the stack can be compressed from its free length until
// every coil touches; infinite when the block length is not known. [m]
func (s *Spring) Room() float64 {
	if s.Block <= 0 {
		return math.Inf(1)
	}
	return s.StackFree() - s.StackBlock()
}

// Force returns the force [N] and tangent rate [N/m] of the stack at a
// compression [m] from its free length. Below 0 it is loose: both are 0.
//
//	series:  k = k_m·k_h/(k_m + k_h)   until the helper is flat at F = k_h·(free − block)
//	then:    k = k_m
//
// At block length the coils touch and the rate becomes SolidRate.
//
// Source: springs in series; own derivation.
func (s *Spring) Force(compression float64) (force, rate float64) {
	if compression <= 0 {
		return 0, 0
	}
	if room := s.Room(); compression > room {
		force, _ = s.soft(room)
		return force + SolidRate*(compression-room), SolidRate
	}
	return s.soft(compression)
}

// soft is the law between loose and block.
func (s *Spring) soft(x float64) (force, rate float64) {
	if s.HelperRate <= 0 {
		return s.main(x)
	}
	travel := s.HelperFree - s.HelperBlock
	flat := s.HelperRate * travel
	mainAtFlat := s.mainDeflection(flat)
	if x >= travel+mainAtFlat {
		return s.main(x - travel)
	}
	// Both share one force: find it on the main spring's deflection, between
	// none and all of it, by Newton where that stays inside.
	low, high := 0.0, x
	y := x * s.HelperRate / (s.HelperRate + s.startRate())
	for range 80 {
		f, k := s.main(y)
		r := f - s.HelperRate*(x-y)
		if r > 0 {
			high = y
		} else {
			low = y
		}
		if r < 1e-9 && r > -1e-9 || high-low < 1e-15 {
			break
		}
		y -= r / (k + s.HelperRate)
		if y <= low || y >= high {
			y = 0.5 * (low + high)
		}
	}
	f, k := s.main(y)
	return f, k * s.HelperRate / (k + s.HelperRate)
}

func (s *Spring) startRate() float64 {
	_, k := s.main(0)
	return k
}

func (s *Spring) main(x float64) (force, rate float64) {
	if s.Table != nil {
		f, k := s.Table.At(x)
		return s.TableScale * f, s.TableScale * k
	}
	return (s.Rate + 0.5*s.Growth*x) * x, s.Rate + s.Growth*x
}

// mainDeflection inverts the main spring's law. A measured curve may bend both
// ways, where Newton from afar can miss: its own inverse is used.
func (s *Spring) mainDeflection(force float64) float64 {
	if s.Table != nil && s.TableScale > 0 {
		if x, ok := s.Table.Inverse(force / s.TableScale); ok {
			return x
		}
	}
	_, k := s.main(0)
	if k <= 0 {
		k = 1
	}
	x := force / k
	for range 30 {
		f, k := s.main(x)
		if k <= 0 {
			break
		}
		d := (f - force) / k
		x -= d
		if d < 1e-12 && d > -1e-12 {
			break
		}
	}
	return x
}

// Stiffen multiplies the main spring's force by a factor.
func (s *Spring) Stiffen(factor float64) {
	s.Rate *= factor
	s.Growth *= factor
	s.TableScale *= factor
}

// Compression returns the compression from free length [m] at which the stack
// carries a force [N]. A force of 0 or less gives 0.
func (s *Spring) Compression(force float64) float64 {
	if force <= 0 {
		return 0
	}
	if s.HelperRate <= 0 {
		return s.mainDeflection(force)
	}
	travel := s.HelperFree - s.HelperBlock
	if force >= s.HelperRate*travel {
		return travel + s.mainDeflection(force)
	}
	return force/s.HelperRate + s.mainDeflection(force)
}

// Check returns what makes the spring impossible.
func (s *Spring) Check() error {
	switch {
	case s.Table == nil && s.Rate <= 0:
		return errors.New("a spring's rate must be more than 0")
	case s.Block > 0 && s.Block >= s.Free:
		return errors.New("a spring's block length must be less than its free length")
	case s.HelperRate > 0 && s.HelperBlock >= s.HelperFree:
		return errors.New("a helper's block length must be less than its free length")
	}
	return nil
}
