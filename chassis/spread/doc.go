// Package spread carries uncertainty: Latin hypercube draws, bands of what came
// out of them, and which input a band comes from. It knows no car: it takes
// numbers and gives numbers.
package spread
