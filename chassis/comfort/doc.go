// Package comfort tells what a person feels of a vertical, lateral or angular
// acceleration: the frequency weightings of ISO 2631-1, the weighted root mean
// square, the vibration dose, the running maximum, and the reactions people
// are likely to have.
//
// In: an acceleration sampled at equal time steps, or one axis at a time of a
// car's answer to a road. Out: weighted figures, and how far they can be
// trusted. Weightings are available as the exact analogue response (for
// spectra) and as digital filters (for time histories).
//
// It does not know a car, a seat or a road, and it declares nothing fit for a
// person: the standard gives likely reactions, not limits.
package comfort
