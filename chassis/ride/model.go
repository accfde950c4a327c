package ride

// Model is a compiled car standing at rest. It does not change and may be used by many goroutines.
type Model struct {
	car      Car
	gravity  float64
	mass     float64
	inertia  [2]float64 // roll, pitch
	invMass  float64
	invRoll  float64
	invPitch float64
	bars     [2]float64
	barFree  [2]float64
	arm      [2]float64 // centre over the axes of roll and pitch [m]
	corner   [4]cornerModel
	px, py   []float64 // floor points from the centre of gravity
	rest     Rest
	damped   bool // a tyre has damping
	narrow   narrow
	warnings []Warning
}

// cornerModel is one corner as the loop needs it.
type cornerModel struct {
	x, y     float64 // wheel from the centre of gravity [m]
	pitch    float64 // x/Iyy: pitch acceleration for a force [1/(kg m)]
	roll     float64 // y/Ixx [1/(kg m)]
	position *positionTable
	damper   *logTable
	inverse  *logTable // speed of the damper over its force, kN; only with a mount
	stop     *stopTable
	top      *topTable
	stopAt   float64 // wheel travel of first touch, +Inf without stop
	topAt    float64 // wheel travel of the open damper, −Inf without top-out

	mass, invMass float64
	// mobility is how fast the two ends of the corner give way per newton: 1/mu + 1/M + x²/Iyy + y²/Ixx [1/kg].
	mobility float64
	rate     float64 // tyre [N/m]
	damping  float64 // tyre [N s/m]
	rim      float64 // deflection at the rim, +Inf without [m]
	rimRate  float64 // added past the rim [N/m]
	mount    float64 // [N/m]
	datum    float64

	restTravel     float64
	restDeflection float64
	stopRest       stopState

	travel func(float64) (float64, float64, float64)
	input  Corner
}

// Rest is where the compiled car stands: the centre of the interval that friction leaves open.
type Rest struct {
	Travel      [4]float64 // wheel travel [m]
	Roll, Pitch float64    // how far the body leans, as Car.Roll and Car.Pitch count [rad]
	Deflection  [4]float64 // tyre [m]
	TyreLoad    [4]float64 // [N]
	Force       [4]float64 // suspension force at the wheel, bar included [N]
	StopForce   [4]float64 // static force of the stop at the damper [N]
	WheelRate   [4]float64 // tangent at the wheel, stop in, bar out [N/m]
	FrictionGap [4]float64 // half width of the interval in which friction holds the wheel, F_f·r/k_wheel [m]
}

// Rest returns where the car stands.
func (m *Model) Rest() Rest { return m.rest }

// Warnings returns the doubts found while compiling.
func (m *Model) Warnings() []Warning { return append([]Warning(nil), m.warnings...) }

func (m *Model) warn(code WarningCode, corner int, value float64) {
	m.warnings = append(m.warnings, Warning{code, corner, value})
}
