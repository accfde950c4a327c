// Package equilibrium finds where a car sits: body heave, roll and pitch and
// four wheel travels on their tyres, with springs that can come loose or bind,
// stops, gas, bushes and bars, under any payload.
//
// It starts from the car as weighed. The scales fix the suspension force at
// each wheel and, with it, the sprung weight and its place in plan; the
// measured spring and damper lengths fix the geometry. A new build's height
// then follows from corner load, new spring and seat-to-seat length: what the
// old spring's rate or sag may have been drops out. What the readings and the
// old parts disagree by is kept with the old parts alone.
//
// In: a design, a draw of its inputs, payloads. Out: a State, or an error that
// says at which corner no rest was found. It does not move in time and knows
// no limits.
package equilibrium

// Gravity is the standard acceleration of free fall [m/s2]. Source: CGPM 1901.
const Gravity = 9.80665
