package corner

import (
	"trunnion/chassis/numeric"
	"trunnion/chassis/part"
)

// Model is one corner in plain numbers.
type Model struct {
	SpringTravel, DamperTravel numeric.Smooth

	Spring      part.Spring
	Compressed0 float64 // compression of the spring stack at w = 0 [m]
	MountRate   float64 // axial rate of a top mount under the spring; 0 is rigid [N/m]
	MountLoad0  float64 // spring load at which the mount's sag is in the measured lengths [N]

	HasDamper, HasStop bool
	Mounts0            float64 // damper mount-to-mount length at w = 0 [m]
	Open, Closed       float64 // damper lengths [m]
	Touch              float64 // damper length at which the stop is touched [m]
	Stop               part.BumpStop
	Gas                part.Gas
	Curve              part.DamperCurve
	CurveScale         float64 // [-]
	TopOut             *numeric.Curve

	BushRate float64 // at the wheel [N/m]
	BushZero float64 // wheel travel at which the bushes are slack [m]
	Friction float64 // at the wheel [N]

	MeasuredAt float64 // wheel travel in the state as weighed [m]
}

// Shares are the parts of the force at the wheel, each positive when it pushes
// the wheel down, with the tangent rate of each.
type Shares struct {
	Spring, Gas, Stop, Metal, Open, Bush                         float64 // [N]
	SpringRate, GasRate, StopRate, MetalRate, OpenRate, BushRate float64 // [N/m]

	SpringLoad   float64 // along the spring [N]
	SpringMotion float64 // ds/dw [-]
	DamperMotion float64 // dd/dw [-]
	StopForce    float64 // along the damper [N]
	StopCrush    float64 // [m]
	StopOutside  bool    // past the end of the stop's table
	Blocked      bool    // coils touching
	Loose        float64 // how far the spring is off its seat, 0 when it is seated [m]
}

// Force returns the suspension force at the wheel [N] and its tangent rate
// [N/m] at a wheel travel [m].
func (sh *Shares) Force() (force, rate float64) {
	return sh.Spring + sh.Gas + sh.Stop + sh.Metal + sh.Open + sh.Bush,
		sh.SpringRate + sh.GasRate + sh.StopRate + sh.MetalRate + sh.OpenRate + sh.BushRate
}

// Force returns the force at the wheel [N] and its tangent rate [N/m] at a
// wheel travel [m].
//
//	F = Σ F_j·r_j,   dF/dw = Σ (k_j·r_j² + F_j·dr_j/dw),   r_j = dx_j/dw
//
// with j over spring, gas, stop and metal ends, each with the motion ratio of
// its own place.
//
// Source: virtual work; own derivation.
func (m *Model) Force(w float64) (force, rate float64) { return m.push(w, true) }

// Suspended returns what springs, gas and bushes alone push with at the wheel
// [N] and its rate [N/m]: the force without stop, metal and open end, which
// behave otherwise in motion.
func (m *Model) Suspended(w float64) (force, rate float64) { return m.push(w, false) }

// push adds up the forces at the wheel, with or without the ends of travel.
func (m *Model) push(w float64, ends bool) (force, rate float64) {
	s, r, dr := m.SpringTravel.At(w)
	fs, ks := m.springForce(m.Compressed0 + s)
	force, rate = fs*r, ks*r*r+fs*dr
	if m.HasDamper {
		x, rd, drd := m.DamperTravel.At(w)
		f, k := m.Gas.At(x)
		if ends {
			fe, ke := m.ends(m.Mounts0 - x)
			f, k = f+fe, k+ke
		}
		force += f * rd
		rate += k*rd*rd + f*drd
	}
	return force + m.BushRate*(w-m.BushZero), rate + m.BushRate
}

// ends is what stop, metal and open end push the damper's mounts apart with at
// a length between them.
func (m *Model) ends(length float64) (force, rate float64) {
	if m.HasStop && length < m.Touch {
		force, rate, _ = m.Stop.Force(m.Touch - length)
	}
	if length < m.Closed {
		return force + part.SolidRate*(m.Closed-length), rate + part.SolidRate
	}
	if out := length - m.openLimit(); out > 0 {
		fo, ko := m.topOut(out)
		return force - fo, rate + ko
	}
	return force, rate
}

// EndKnown reports whether it is known where bump ends: at a stop, or, of a damper that has
// none, at its metal. Where it is not, nothing stops the wheel in the model, which is no
// reason to say that the stop is never met.
func (m *Model) EndKnown() bool { return m.HasStop || m.HasDamper && m.Stop.Table == nil }

// At returns the same force in its parts.
func (m *Model) At(w float64) Shares {
	var sh Shares
	s, r, dr := m.SpringTravel.At(w)
	c := m.Compressed0 + s
	fs, ks := m.springForce(c)
	sh.SpringLoad, sh.SpringMotion = fs, r
	sh.Spring, sh.SpringRate = fs*r, ks*r*r+fs*dr
	if c < 0 {
		sh.Loose = -c
	}
	sh.Blocked = c > m.Spring.Room()
	x, rd, drd := m.DamperTravel.At(w)
	sh.DamperMotion = rd
	if m.HasDamper {
		fg, kg := m.Gas.At(x)
		sh.Gas, sh.GasRate = fg*rd, kg*rd*rd+fg*drd
		length := m.Mounts0 - x
		if m.HasStop && length < m.Touch {
			sh.StopCrush = m.Touch - length
			fb, kb, outside := m.Stop.Force(sh.StopCrush)
			sh.StopForce, sh.StopOutside = fb, outside
			sh.Stop, sh.StopRate = fb*rd, kb*rd*rd+fb*drd
		}
		if length < m.Closed {
			f := part.SolidRate * (m.Closed - length)
			sh.Metal, sh.MetalRate = f*rd, part.SolidRate*rd*rd+f*drd
		} else if out := length - m.openLimit(); out > 0 {
			fo, ko := m.topOut(out)
			sh.Open, sh.OpenRate = -fo*rd, ko*rd*rd-fo*drd
		}
	}
	sh.Bush, sh.BushRate = m.BushRate*(w-m.BushZero), m.BushRate
	return sh
}

// openLimit is the length at which the damper stops extending freely.
func (m *Model) openLimit() float64 {
	if m.TopOut != nil {
		return m.Open - m.TopOut.Last()
	}
	return m.Open
}

func (m *Model) topOut(out float64) (force, rate float64) {
	if m.TopOut == nil {
		return part.SolidRate * out, part.SolidRate
	}
	force, rate = m.TopOut.At(out)
	if past := out - m.TopOut.Last(); past > 0 {
		force, rate = force+part.SolidRate*past, rate+part.SolidRate
	}
	return force, rate
}

// springForce is the stack's force with the mount's give in series: the mount
// moves the seat by (F − F₀)/K from where it stood when the length was
// measured.
func (m *Model) springForce(c float64) (force, rate float64) {
	if m.MountRate <= 0 {
		return m.Spring.Force(c)
	}
	// F = f(c − (F − F₀)/K), by Newton; f is convex enough for a few steps.
	force, rate = m.Spring.Force(c)
	for range 12 {
		f, k := m.Spring.Force(c - (force-m.MountLoad0)/m.MountRate)
		r := force - f
		force -= r / (1 + k/m.MountRate)
		rate = k
		if r < 1e-7 && r > -1e-7 {
			break
		}
	}
	return force, rate * m.MountRate / (rate + m.MountRate)
}

// DamperForce returns the damper's force at the damper [N] at a shaft speed
// [m/s], gas and friction left out.
func (m *Model) DamperForce(speed float64) (force float64, outside bool) {
	f, out := m.Curve.Force(speed)
	return m.CurveScale * f, out
}

// Secant returns the mean damper coefficient [N s/m] at the damper at a shaft
// speed [m/s].
func (m *Model) Secant(speed float64) float64 { return m.CurveScale * m.Curve.Secant(speed) }
