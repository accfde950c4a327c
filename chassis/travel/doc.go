// Package travel is the travel budget: on one axis at each wheel, how far it is
// from where the car rests to everything that ends or changes its movement,
// what comes first, and what lowering the car does to each of these margins.
//
// In: a solved rest state. Out: margins at the wheel [m], the looseness of the
// spring at full droop at the spring [m], the speed a bump may throw the wheel
// with before the stop is firm [m/s]. It judges nothing.
package travel
