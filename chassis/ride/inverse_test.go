package ride

import (
	"math"
	"testing"
)

// TestDamperSpeedUndoesDamper: the table of the inverse law leads back to the force it was asked for, where the two rows
// meet and between.
func TestDamperSpeedUndoesDamper(t *testing.T) {
	m, err := Compile(mounted())
	if err != nil {
		t.Fatal(err)
	}
	for i := range 4 {
		for _, f := range []float64{-3000, -900, -250.5, -40, -1, 0, 1, 40, 250.5, 900, 1800} {
			if got := m.Damper(i, m.DamperSpeed(i, f)); !(math.Abs(got-f) <= 1e-3*math.Max(math.Abs(f), 10)) {
				t.Errorf("corner %d: %g N asked for, %g N at the speed given", i, f, got)
			}
		}
	}
	rigid, err := Compile(estate())
	if err != nil {
		t.Fatal(err)
	}
	if v := rigid.DamperSpeed(0, 500); v != 0 {
		t.Errorf("without a mount: %g m/s, want 0", v)
	}
}
