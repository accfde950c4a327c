// Package linkage answers where a wheel goes: from the hardpoints of a strut, a
// double wishbone, a five-link, a semi-trailing arm, a twist beam or a live axle
// to curves over wheel travel and steering, and to the forces in the links.
//
// In: points in car axes (x forward, y left, z up; left wheel) as the car stood
// when they were measured. Out: motion ratios of spring, damper and bar with
// their slopes, camber, toe, caster, half-track, roll centre, instant axes,
// jacking and anti-dive, scrub and trail; the travel at which the linkage locks;
// what a changed part does to all of it.
//
// Every body is rigid and every joint a point: no rubber, no clearance, no
// bending. A twist beam twists about a line through its shear centre and is
// rigid otherwise. Watt's linkages and leaf springs that locate an axle are not
// modelled. What a spring weighs or how the car stands is not asked here.
//
// Method: the links' lengths are equations in the position and rotation of the
// carrier; they are solved by damped Newton with the tangent as the first guess,
// and their first and second derivatives along the movement give every slope
// without differences. Derived here; instant axes, roll centre and support
// angles as in W. Matschinsky, Road Vehicle Suspensions, and J. Reimpell, H.
// Stoll, J. W. Betzler, The Automotive Chassis (from memory).
package linkage
