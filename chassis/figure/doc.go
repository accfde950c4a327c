// Package figure holds what a result is: the register of result codes with
// unit, sign, place, equation and source; a value with its band and state; the
// working it can be checked from; and the input a person typed, with its band
// and origin.
//
// It knows units and places but computes nothing about a car.
package figure
