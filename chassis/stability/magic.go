package stability

import "math"

// Magic is the curve of a tyre's force over slip, for tyres as parts (issue 12), which do not ask yet.
//
//	y = D·sin(C·atan(B·φ)),   φ = (1 − E)·x + (E/B)·atan(B·x)
//
// Source: E. Bakker, L. Nyborg, H. B. Pacejka, Tyre modelling for use in vehicle
// dynamics studies, SAE 870421, 1987.
type Magic struct {
	B float64 // stiffness factor, in one over the unit of slip [-]
	C float64 // shape [-]
	D float64 // greatest force [N]
	E float64 // curvature [-]
}

// Force returns the force [N] at a slip in the unit that B is given for [-].
func (m Magic) Force(x float64) float64 {
	phi := (1-m.E)*x + m.E/m.B*math.Atan(m.B*x)
	return m.D * math.Sin(m.C*math.Atan(m.B*phi))
}

// Slope is the slope at no slip, per unit of slip [N].
func (m Magic) Slope() float64 { return m.B * m.C * m.D }

// The source counts loads in thousands of newtons, angles in degrees and slip in
// hundredths.
const (
	perLoad  = 1e-3
	toSource = 180 / math.Pi
)

// Lateral1987 returns the lateral force curve of the source's tyre at a load [N],
// over slip angle in degrees, without camber.
//
// Source: as Magic, table of coefficients a_1 to a_8.
func Lateral1987(load float64) Magic {
	f := load * perLoad
	m := Magic{C: 1.30, D: (-22.1*f + 1011) * f, E: -0.354*f + 0.707} // a_6 is 0
	stiffness := 1078 * math.Sin(1.82*math.Atan(0.208*f))
	m.B = stiffness / (m.C * m.D)
	return m
}

// Longitudinal1987 returns the longitudinal force curve of that tyre at a load
// [N], over slip in hundredths.
//
// Source: as Magic, table of coefficients b_1 to b_8.
func Longitudinal1987(load float64) Magic {
	f := load * perLoad
	m := Magic{C: 1.65, D: (-21.3*f + 1144) * f, E: -0.006*f*f + 0.056*f + 0.486}
	stiffness := (49.6*f + 226) * f * math.Exp(-0.069*f)
	m.B = stiffness / (m.C * m.D)
	return m
}

// CorneringStiffness1987 is the cornering stiffness of that tyre at a load [N]:
// the slope of its lateral force at straight ahead [N/rad].
func CorneringStiffness1987(load float64) float64 {
	if load <= 0 {
		return 0
	}
	return 1078 * math.Sin(1.82*math.Atan(0.208*load*perLoad)) * toSource
}
