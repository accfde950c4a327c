package screening

// Model is a compiled car standing at rest. Lengths are measured from the centre of gravity of the sprung mass.
type Model interface {
	Inertia() (mass, roll, pitch float64)            // sprung mass [kg], about x and y [kg m²]
	Lean() (roll, pitch float64)                     // what the weight takes off the stiffness in roll and pitch [N m/rad]
	Hub(corner int) (x, y, unsprung float64)         // [m], [m], [kg]
	Tyre(corner int) (rate, damping, load float64)   // [N/m], [N s/m], static load [N]
	Bar(axle int) float64                            // per relative wheel travel [N/m]
	Mount(corner int) float64                        // in series with the damper; 0 is rigid [N/m]
	Friction(corner int) float64                     // at the damper [N]
	Standing(corner int) float64                     // wheel travel at rest [m]
	Touch(corner int) (stop, open float64)           // wheel travels at which stop and top-out are touched, ±Inf without [m]
	Points() int                                     // floor points
	Point(k int) (name string, x, y float64)         // [m]
	Spring(corner int, w float64) (force, r float64) // without stop and top-out, at the wheel [N]; motion ratio of the damper [-]
	Stop(corner int, w float64) float64              // stop and metal, mean of loading and giving back, less top-out, at the wheel [N]
	Damper(corner int, v float64) float64            // friction in, at the damper [N], over damper speed [m/s]
}
