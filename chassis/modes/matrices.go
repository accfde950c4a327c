package modes

import (
	"trunnion/chassis/car"
	"trunnion/chassis/equilibrium"
)

// Degrees of freedom of the linear car, in the order of the matrices.
const (
	Heave = iota
	Roll
	Pitch
	Wheel0 // front left; the other corners follow in their order
	dof    = 7
)

// Linear is a car made linear about rest: mass, damping and stiffness over
// heave of the sprung CG [m], roll [rad], pitch [rad] and the four wheels [m],
// all up positive.
type Linear struct {
	Mass, Damping, Stiffness [dof][dof]float64 // [SI unit of each pair of freedoms]
}

// Body is the sprung mass as the linear car needs it.
type Body struct {
	Mass         float64 // sprung, payload in [kg]
	Behind, Left float64 // place of its CG [m]
	InertiaRoll  float64 // about its CG [kg m2]
	InertiaPitch float64 // [kg m2]
	Lean         equilibrium.Lean
}

// Linearise returns the matrices of a system at rest, each damper made linear
// by its secant at a shaft speed [m/s].
//
//	v_i = z + y_i·φ + x_i·θ − u_i   compression speed of corner i is −v_i
//	K: k_i between body and wheel, k_t between wheel and ground, the bar
//	   between the two wheels of an axle, less W·d of the lean; C: c_i = C(v)·r_d²
//
// Source: own derivation.
func Linearise(sys *equilibrium.System, st *equilibrium.State, body Body, speed float64) Linear {
	var l Linear
	l.Mass[Heave][Heave] = body.Mass
	l.Mass[Roll][Roll] = body.InertiaRoll
	l.Mass[Pitch][Pitch] = body.InertiaPitch
	for i := range 4 {
		m := &sys.Corner[i]
		_, rd, _ := m.DamperTravel.At(st.Travel[i])
		l.Mass[Wheel0+i][Wheel0+i] = sys.Unsprung[i]
		across := acrossOf(sys, st, i, body)
		addSpring(&l.Stiffness, across, st.Rate[i])
		addSpring(&l.Damping, across, m.Secant(speed)*rd*rd)
		if st.Tyre[i] > 0 {
			l.Stiffness[Wheel0+i][Wheel0+i] += sys.TyreRate[i]
		}
	}
	for a := range 2 {
		var across [dof]float64
		left, right := acrossOf(sys, st, 2*a, body), acrossOf(sys, st, 2*a+1, body)
		for j := range dof {
			across[j] = left[j] - right[j]
		}
		_, rate := sys.Bar[a].WheelForce(0)
		addSpring(&l.Stiffness, across, rate)
	}
	weight := body.Mass * equilibrium.Gravity
	l.Stiffness[Roll][Roll] -= weight * body.Lean.RollArm
	l.Stiffness[Pitch][Pitch] -= weight * body.Lean.PitchArm
	return l
}

// addSpring adds k·a·aᵀ: a spring that feels the movement a·q.
func addSpring(to *[dof][dof]float64, a [dof]float64, k float64) {
	for i := range dof {
		for j := range dof {
			to[i][j] += k * a[i] * a[j]
		}
	}
}

// BodyOf returns the sprung mass of a system under extra payloads, with the
// car's own inertia and what the payloads add about the common centre.
func BodyOf(sys *equilibrium.System, extra equilibrium.Weights, inertiaRoll, inertiaPitch float64, items ...car.Payload) Body {
	w := sys.SprungWeight + extra.Down
	b := Body{
		Mass:   w / equilibrium.Gravity,
		Behind: (sys.MomentBehind + extra.Behind) / w,
		Left:   (sys.MomentLeft + extra.Left) / w,
		Lean:   sys.LeanWith(extra),
	}
	// The car alone sits a little off the common centre (Steiner), in height too where
	// something has one of its own.
	centre := sys.CentreHeight(extra)
	own := sys.SprungWeight / equilibrium.Gravity
	dx, dy := sys.MomentBehind/sys.SprungWeight-b.Behind, sys.MomentLeft/sys.SprungWeight-b.Left
	dz := sys.CGHeight - centre
	b.InertiaRoll = inertiaRoll + own*(dy*dy+dz*dz)
	b.InertiaPitch = inertiaPitch + own*(dx*dx+dz*dz)
	for i := range items {
		dx, dy := items[i].Behind.Value-b.Behind, items[i].Left.Value-b.Left
		dz := sys.CGHeight - centre
		if h := &items[i].Height; h.Known() {
			dz = h.Value - centre
		}
		b.InertiaRoll += items[i].Mass.Value * (dy*dy + dz*dz)
		b.InertiaPitch += items[i].Mass.Value * (dx*dx + dz*dz)
	}
	return b
}

// acrossOf returns the extension of corner i per unit of each freedom, about the CG
// where it stands with the lean at rest.
func acrossOf(sys *equilibrium.System, st *equilibrium.State, i int, body Body) [dof]float64 {
	roll, pitch := body.Lean.Of(st)
	var a [dof]float64
	a[Heave] = 1
	a[Roll] = sys.Left[i] - (body.Left - body.Lean.RollArm*roll)
	a[Pitch] = sys.Behind[i] - (body.Behind - body.Lean.PitchArm*pitch)
	a[Wheel0+i] = -1
	return a
}
