package reference

import (
	"math"
	"testing"

	"trunnion/reference/validation"
)

// near fails when a figure is further from what is printed than the printed
// digits leave open.
func near(t *testing.T, what string, got, want, tol float64, unit string) {
	t.Helper()
	if validation.Off(t, got, want, tol) {
		t.Errorf("%s is %.10g %s; %.10g %s is wanted, %.2g off where %.2g is allowed", what, got, unit, want, unit, got-want, tol)
	}
}

// nearly is near with the tolerance as a share of what is wanted.
func nearly(t *testing.T, what string, got, want, share float64, unit string) {
	t.Helper()
	near(t, what, got, want, share*math.Abs(want), unit)
}
