package quantity

import "math"

// The factors everything else is made of. Go keeps untyped constants exact, so
// a product of these is rounded once, when it becomes a float64.
const (
	// 1 yard = 0.9144 m and 1 pound = 0.45359237 kg, exactly: international
	// yard and pound agreement, 1959.
	inch  = 0.9144 / 36
	foot  = 0.9144 / 3
	mile  = 1760 * 0.9144
	pound = 0.45359237

	// standardGravity [m/s²]: exact, 3rd General Conference on Weights and Measures, 1901.
	standardGravity = 9.80665

	// Derived from the above by definition.
	poundForce    = pound * standardGravity  // [N]
	kilogramForce = standardGravity          // [N]
	psi           = poundForce / inch / inch // [Pa]
	horsepower    = 550 * foot * poundForce  // [W], 550 ft·lbf/s
	metricPower   = 75 * kilogramForce       // [W], 75 kgf·m/s
	degree        = math.Pi / 180            // [rad]

	// Exact: 231 in³, NIST Handbook 44 appendix C; and 4.54609 L, United
	// Kingdom Units of Measurement Regulations 1995. Both from memory.
	gallonUS       = 231 * inch * inch * inch // [m³]
	gallonImperial = 4.54609e-3               // [m³]
)
