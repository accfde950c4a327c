package car

import (
	"math"
	"testing"
)

// sliced is the mean crush of slices one behind the other under one force, each by
// foam's curve for its own share of the area; at the end of the curve it gives no more.
func sliced(force float64, area func(z float64) float64) float64 {
	crush := func(f float64) float64 {
		for i := 1; i < len(foam); i++ {
			if a, b := foam[i-1], foam[i]; f <= b.F {
				return a.X + (b.X-a.X)*(f-a.F)/(b.F-a.F)
			}
		}
		return foam[len(foam)-1].X
	}
	const n = 2000
	sum := 0.0
	for i := range n {
		sum += crush(force / area((float64(i)+0.5)/n))
	}
	return sum / n
}

func TestCutFoamIsSlicesOfFoam(t *testing.T) {
	cone := func(z float64) float64 { d := 0.6 + 0.4*z; return d * d }
	necks := func(z float64) float64 {
		if z < 1.0/3 {
			return 0.75 * 0.75
		}
		return 1
	}
	for name, one := range map[string]struct {
		shape []Point
		area  func(float64) float64
	}{"tapered": {tapered, cone}, "grooved": {grooved, necks}} {
		for _, p := range one.shape {
			if want := sliced(p.F, one.area); math.Abs(p.X-want) > 2e-4 {
				t.Errorf("%s: %.0f N at a crush of %.4f, by slices %.4f", name, p.F, p.X, want)
			}
		}
	}
}

// What only the kind of a stop says: a table of its own, band, loss and quickness; a
// measured table stays as it is; nothing said is ordinary foam.
func TestStopByItsKind(t *testing.T) {
	fill := func(s *StopSpec) *StopSpec {
		c, builds := telephone()
		builds[0].Corner[0].Stop, builds[0].Corner[1].Stop = s, s
		Fill(c, builds)
		return s
	}
	long := typed(0.050, 0.001, "l")
	for kind, want := range map[string]float64{
		// Crushed by 20 mm of 50 mm, 0.4: foam's 750 N by 0.68 and 1.49; rubber's
		// 1256.6 mm² · 4.0557 N/mm² / 3 · (1/0.36 − 0.6) = 3699.7 N, by hand.
		"": 750, StopFoam: 750, StopSoftFoam: 510, StopFirmFoam: 1117.5, StopRubber: 3699.7,
		// Between the points of the shape: 450 N at 0.3841, 750 at 0.4718.
		StopTaperedFoam: 450 + 300*(0.4-0.3841)/(0.4718-0.3841),
		StopGroovedFoam: 450 + 300*(0.4-0.3361)/(0.4324-0.3361),
	} {
		s := fill(&StopSpec{ID: "s", Kind: kind, Length: long})
		if got := between(s.Table, 0.020); math.Abs(got-want) > 0.01 {
			t.Errorf("%q pushes %.1f N, not %.1f", kind, got, want)
		}
		if s.Scale.Half < 0.35 || s.Scale.Basis == "" {
			t.Errorf("%q: factor %+v; want at least ± 35 %% with its basis", kind, s.Scale)
		}
	}
	own := []Point{{0, 0}, {0.02, 900}}
	s := fill(&StopSpec{ID: "s", Kind: StopRubber, Length: long, Table: own, Scale: typed(1, 0.1, "k")})
	if len(s.Table) != 2 || s.Table[1].F != 900 || s.Scale.Half != 0.1 {
		t.Errorf("a measured table became %v ± %g", s.Table, s.Scale.Half)
	}
	if s.Loss.Value != 0.15 || s.Dynamic.Value != 1.2 {
		t.Errorf("a rubber stop with a table keeps %g of the work and is %g stiffer; want rubber's", s.Loss.Value, s.Dynamic.Value)
	}
}
