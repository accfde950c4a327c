package car

// SpringSpec is a spring as its maker or a test describes it.
type SpringSpec struct {
	ID     string
	Rate   Input   // [N/m]; the softer end of a progressive spring
	RateTo Input   // the firmer end of a progressive spring, reached at block; unknown for a constant rate [N/m]
	Free   Input   // free length [m]; unknown when Drop is given instead
	Block  Input   // coils touching [m]
	Drop   Input   // how far it lowers the car in the state as weighed, when no length is known [m]
	Table  []Point // force over deflection from free; replaces Rate
	Scale  Input   // factor on Table's force, 1 as typed [-]
	Makers bool    // sold by a maker who states a rate
	Inside Input   // diameter at its ends, which has to fit the seats [m]
	Sold

	// Size of a spring whose rate nobody states.
	Wire         Input // diameter [m]
	MeanDiameter Input // of the coil, to the middle of the wire [m]
	ActiveCoils  Input // turns that work [-]
}

// Sold is what is known of buying a part.
type Sold struct {
	Price string // of one, with its currency, as typed

	// Of a part of the workshop's catalogue: its id there, "spring:rear-65", and
	// what people call it.
	Stocked, Called string
}

// Stock are the parts that the workshop can buy.
type Stock struct {
	Springs []*SpringSpec
	Dampers []*DamperSpec
	Stops   []*StopSpec
}

// Point is a pair of a table.
type Point struct {
	X float64 // travel [m] or speed [m/s]
	F float64 // force [N]
}

// DamperSpec is a damper as its maker, a bench or a dyno describes it.
type DamperSpec struct {
	ID           string
	Serial       string // as stamped, when one part stands for one piece
	Construction string // twin-tube, single-tube, single-tube-inverted
	Open         Input  // mount to mount [m]
	Closed       Input  // metal to metal [m]
	RodOpen      Input  // rod showing when open, seal to stop seat [m]
	Rod          Input  // diameter of the rod that displaces gas; inner rod of an inverted strut [m]
	Body         Input  // sliding body of an inverted strut, else the outer tube [m]
	Piston       Input  // diameter [m]
	Guide        Guide  // what holds it sideways, on a strut

	GasForce    Input // push-out where it was read [N]
	GasRate     Input // increase with damper travel [N/m]
	GasPressure Input // where it was read, used when GasForce is unknown [Pa]
	GasVolume   Input // where the others were read [m3]
	GasExponent Input // polytropic, of a charge given by pressure and volume [-]
	GasOpen     bool  // read with the damper fully open; else at travel zero
	GasAbsolute bool  // GasPressure is over nothing; else over the atmosphere

	ClickMost int // clicks from closed to open; 0: not adjustable
	Curves    []ClickCurve
	Scale     Input   // factor on all curve forces, 1 as typed [-]
	Guess     bool    // the curves are an estimate
	Swept     string  // what they were read from and when, in words
	Worn      bool    // has had its life: an estimate of its curves is lowered
	TopOut    []Point // top-out spring: force over its crush; empty: metal
	Sold
}

// ClickCurve is one dyno curve at one click.
type ClickCurve struct {
	Click   int     // counted from closed; meaningless when the damper has no clicks
	Bump    []Point // force [N] over speed [m/s], both positive, gas and friction removed
	Rebound []Point
}

// StopSpec is a bump stop.
type StopSpec struct {
	ID      string
	Kind    string  // one of the kinds of stop; empty: nobody says
	Length  Input   // free [m]
	Table   []Point // static force over crush
	Scale   Input   // factor on Table's force, 1 as typed [-]
	Loss    Input   // share of work that does not come back [-]
	Dynamic Input   // stiffening under quick loading [-]
	Sold
}

// PlatformSpec is a threaded spring seat or damper body.
type PlatformSpec struct {
	ID       string
	Kind     string // "seat": the platform sets height and preload; "body": the body length sets height
	Pitch    Input  // per turn [m]
	Up, Down Input  // usable range from the start mark [m]
	LeftHand bool   // thread
	Flats    int    // of the collar; 0: not said
	From     string // what the position is measured from, in the workshop's words

	// Thread in engagement at the start mark, and the least that has to stay: a
	// body that is screwed longer loses what it gains. [m]
	Engaged, LeastEngaged Input
}

// TyreSpec is a tyre as its sidewall, its maker or a bench describes it.
type TyreSpec struct {
	ID   string
	Size string // as marked on the sidewall, in one form: 205/55 R16 91V

	Width     Input  // of the section, as marked [m]
	Aspect    Input  // height of the section / Width, as marked [-]
	Rim       Input  // diameter, as marked [m]
	LoadIndex int    // 0: not said
	Speed     string // symbol; empty: not said
	ExtraLoad bool   // reinforced: carries the load of its index at a higher pressure

	Diameter      Input // outer, without load [m]
	LoadedRadius  Input // hub to ground under LoadedAt at Pressure; replaces what Diameter and Rate say [m]
	LoadedAt      Input // the load of LoadedRadius [kg]
	Rate          Input // vertical, at Pressure [N/m]
	Pressure      Input // over the atmosphere, cold, at which the others were read [Pa]
	Mass          Input // [kg]
	Section       Input // width on its rim, bulge in [m]
	Circumference Input // rolled in one turn [m]
	Cornering     Input // cornering stiffness at the car's load as weighed, at Pressure [N/rad]
}

// WheelSpec is a wheel without its tyre.
type WheelSpec struct {
	ID       string
	Width    Input // of the rim, between the beads [m]
	Diameter Input // of the rim [m]
	Offset   Input // of the mounting face outward of the rim's middle; a spacer counts as less [m]
	Mass     Input // [kg]
}
