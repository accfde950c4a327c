// Package proof holds tests of the program as a whole and no code: that every
// input moves something, and that answers which must agree do agree.
package proof
