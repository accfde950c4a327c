package quantity

// Units that the rest of the shop may multiply and divide by, where a figure is
// rounded to them, or chosen in them; each is one of it in SI.
const (
	Millimetre          = 1e-3                     // [m]
	Percent             = 1e-2                     // [-]
	KilometrePerHour    = 1000.0 / 3600            // [m/s]
	Minute              = 60                       // [s]
	Hour                = 3600                     // [s]
	Degree              = degree                   // [rad]
	NewtonPerMillimetre = 1e3                      // [N/m]
	Megapascal          = 1e6                      // [Pa]
	StandardGravity     = standardGravity          // [m/s²]
	DegreePerGravity    = degree / standardGravity // [rad/(m/s²)]
)
