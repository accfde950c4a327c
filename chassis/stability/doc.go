// Package stability says how steady a car is on its course: how much it
// understeers, from what speed it would be unstable, how fast it answers and how
// well its yaw is damped, at every speed.
//
// In: mass, yaw inertia, place of the centre of gravity, the loads of the four
// tyres, what a tyre's cornering stiffness is at a load, and aerodynamic lift
// where it is known. Out: the car with two degrees of freedom, slip angle and yaw
// rate, and what follows from it.
//
// Small angles, constant speed, tyres in their linear range. Compliance and steer
// of the axles, camber, driver and steering system are left out: two builds of one
// car can be compared, two cars cannot. It knows no springs; what a build does to
// the loads comes from elsewhere.
package stability
