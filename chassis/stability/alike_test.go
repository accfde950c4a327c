package stability

import (
	"math"
	"testing"
)

// A car with more load moved across at the rear is as sharp as the even one at a lower
// speed, and there its answer is the other's by its own formula; a car is itself at the
// speed that is asked for, and one that oversteers does not swing.
func TestAlike(t *testing.T) {
	const at, top = 30.0, 70.0
	even, rear := loaded([2]float64{0.52}, [2]float64{500, 0}), loaded([2]float64{0.52}, [2]float64{500, 600})
	if n := even.Alike(&even, at, top); n.Sharp != at || n.Swings != at || n.Sooner() != at {
		t.Errorf("a car is itself at %g and %g m/s, asked at %g", n.Sharp, n.Swings, at)
	}
	n := rear.Alike(&even, at, top)
	sharp, swings := n.Sharp, n.Swings
	if !(sharp < at && swings > at && n.Sooner() == sharp) {
		t.Fatalf("the one that understeers less is as sharp at %g m/s, below, and swings as long at %g, above", sharp, swings)
	}
	// r/δ = v/(L + K·v²) of ISO 8855's understeer gradient, solved for the lower speed.
	own, aim := rear.At(0), even.At(0)
	gain := at / (aim.Wheelbase() + aim.Gradient()*at*at)
	k := own.Gradient()
	want := (1 - math.Sqrt(1-4*gain*gain*k*own.Wheelbase())) / (2 * gain * k)
	if math.Abs(sharp-want) > 0.02 {
		t.Errorf("as sharp at %.3f m/s, by the formula of the yaw gain at %.3f", sharp, want)
	}
	loose := loaded([2]float64{0.42}, [2]float64{0, 900})
	if n := loose.Alike(&even, at, top); !math.IsNaN(n.Swings) || n.Sooner() != n.Sharp {
		t.Errorf("an oversteering car swings as long at %g m/s", n.Swings)
	}
	if n := even.Alike(&loose, at, 31); !math.IsInf(n.Sharp, 1) {
		t.Errorf("up to 31 m/s the steady one is as sharp as the loose one at %g", n.Sharp)
	}
}
