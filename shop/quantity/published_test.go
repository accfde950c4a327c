package quantity_test

import (
	"math"
	"testing"

	"trunnion/shop/quantity"
)

// Published conversions. "SP 811" is NIST Special Publication 811:2008,
// appendix B.8, from memory; the printed figure has seven digits unless it is
// exact. The tolerance is half of the last printed digit.
func TestPublishedConversions(t *testing.T) {
	t.Parallel()
	rows := []struct {
		source string
		text   string
		kind   quantity.Kind
		want   float64 // [SI]
		tol    float64 // [SI]
	}{
		{"common conversion tables, from memory: 1 lbf/in = 0.175126835 N/mm", "1 lbf/in", quantity.Stiffness, 175.126835, 0.5e-6},
		{"SP 811, pound-force per inch", "1 lbf/in", quantity.Stiffness, 1.751268e2, 0.5e-4},
		{"SP 811, pound-force per foot", "1 lbf/ft", quantity.Stiffness, 1.459390e1, 0.5e-5},
		{"SP 811, pound-force", "1 lbf", quantity.Force, 4.448222, 0.5e-6},
		{"SP 811, kilogram-force, exact", "1 kgf", quantity.Force, 9.80665, 0},
		{"SP 811, pound, exact", "1 lb", quantity.Mass, 0.45359237, 0},
		{"SP 811, inch, exact", "1 in", quantity.Length, 0.0254, 0},
		{"SP 811, foot, exact", "1 ft", quantity.Length, 0.3048, 0},
		{"SP 811, mile, exact", "1 mile", quantity.Distance, 1609.344, 0},
		{"SP 811, square inch, exact", "1 in²", quantity.Area, 6.4516e-4, 0},
		{"SP 811, cubic inch", "1 in³", quantity.Volume, 1.638706e-5, 0.5e-11},
		{"SP 811, gallon (US)", "1 US gal", quantity.Volume, 3.785412e-3, 0.5e-9},
		{"SP 811, gallon (Canadian and UK), exact", "1 imp gal", quantity.Volume, 4.54609e-3, 0},
		{"SP 811, pound per gallon (US)", "1 lb/US gal", quantity.Density, 1.198264e2, 0.5e-4},
		{"SP 811, pound per cubic foot", "1 lb/ft³", quantity.Density, 1.601846e1, 0.5e-5},
		{"SP 811, pound foot squared", "1 lb·ft²", quantity.Inertia, 4.214011e-2, 0.5e-8},
		{"SP 811, pound inch squared", "1 lb·in²", quantity.Inertia, 2.926397e-4, 0.5e-10},
		{"SP 811, psi", "1 psi", quantity.Pressure, 6.894757e3, 0.5e-3},
		{"SP 811, kilogram-force per square centimetre, exact", "1 kgf/cm²", quantity.Pressure, 9.80665e4, 0},
		{"SP 811, bar, exact", "1 bar", quantity.Pressure, 1e5, 0},
		{"SP 811, mile per hour, exact", "1 mph", quantity.SpeedRoad, 0.44704, 0},
		{"SP 811, kilometre per hour", "1 km/h", quantity.SpeedRoad, 2.777778e-1, 0.5e-7},
		{"SP 811, inch per second, exact", "1 in/s", quantity.SpeedDamper, 0.0254, 0},
		{"SP 811, foot per second squared, exact", "1 ft/s²", quantity.Acceleration, 0.3048, 0},
		{"SP 811, standard acceleration of free fall, exact", "1 g", quantity.Acceleration, 9.80665, 0},
		{"SP 811, degree", "1°", quantity.Angle, 1.745329e-2, 0.5e-8},
		{"SP 811, foot pound-force, torque", "1 lbf·ft", quantity.Torque, 1.355818, 0.5e-6},
		{"SP 811, inch pound-force, torque", "1 lbf·in", quantity.Torque, 1.129848e-1, 0.5e-7},
		{"SP 811, foot pound-force, energy", "1 ft·lbf", quantity.Energy, 1.355818, 0.5e-6},
		{"SP 811, horsepower (550 ft·lbf/s)", "1 hp", quantity.Power, 7.456999e2, 0.5e-4},
		{"SP 811, horsepower (metric)", "1 PS", quantity.Power, 7.354988e2, 0.5e-4},
		{"SP 811, degree Fahrenheit: (t - 32)/1.8, boiling water", "212 °F", quantity.Temperature, 100, 0},
		{"definition of the Celsius scale", "273.15 K", quantity.Temperature, 0, 0},
		{"slug as lbf·s²/ft: SP 811, 14.59390 kg, times 0.3048² m²", "1 slug·ft²", quantity.Inertia, 14.59390 * 0.09290304, 0.5e-5 * 0.09290304},
	}
	for _, row := range rows {
		got, err := quantity.Parse(row.text, row.kind)
		if err != nil {
			t.Errorf("%s: %q: %v", row.source, row.text, err)
			continue
		}
		// A rounding of the last bit is allowed where the printed figure is exact.
		if tol := row.tol + 1e-15*math.Abs(row.want); math.Abs(got.Value-row.want) > tol {
			t.Errorf("%s: %q is %.12g %s, printed is %.12g (within %.1g)", row.source, row.text, got.Value, row.kind.SI(), row.want, tol)
		}
	}
}

// 1 kgf/mm = 55.9974146 lbf/in: common conversion tables, from memory.
func TestKilogramForcePerMillimetreInPounds(t *testing.T) {
	t.Parallel()
	typed, err := quantity.Parse("1 kgf/mm", quantity.Stiffness)
	if err != nil {
		t.Fatal(err)
	}
	pounds, err := quantity.Find("lbf/in", quantity.Stiffness)
	if err != nil {
		t.Fatal(err)
	}
	if got := pounds.FromSI(typed.Value); math.Abs(got-55.9974146) > 0.5e-7 {
		t.Errorf("1 kgf/mm is %.9f lbf/in, printed is 55.9974146", got)
	}
}
