package strut_test

import (
	"testing"

	"trunnion/chassis/geom"
	"trunnion/chassis/strut"
)

// TestHeavierAxle: the road's force grows with the axle's weight, the damper's and
// the shaft's do not.
func TestHeavierAxle(t *testing.T) {
	load := strut.Load{Contact: geom.Vec{X: -300, Y: 800, Z: 4100}, Hub: geom.Vec{X: 200}, Damper: 350}
	want := strut.Load{Contact: geom.Vec{X: -375, Y: 1000, Z: 5125}, Hub: geom.Vec{X: 200}, Damper: 350}
	if got := load.Heavier(0.25); got != want {
		t.Errorf("a quarter heavier is %+v, want %+v", got, want)
	}
	if got := load.Heavier(0); got != load {
		t.Errorf("as heavy as before is %+v", got)
	}
}
