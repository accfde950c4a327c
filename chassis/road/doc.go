// Package road gives the height of the road under the two tracks of a car:
// random roads with the spectrum of ISO 8608, measured profiles, single
// obstacles with their real shapes, and all three together.
//
// In: a spectrum and a seed, or readings of distance and height, or the
// dimensions of an obstacle. Out: a Profile, heights on an equally spaced grid
// [m] with the obstacles laid over them, sampled at any distance; the same
// after the tyre's contact length or a rolling wheel has passed over it; its
// spectrum, class and roughness index.
//
// It knows no car: the rear axle's delay, the speed and the tyre's spring are
// the business of those who ride over it. It reads no files.
package road
