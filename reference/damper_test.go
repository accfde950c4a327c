package reference

import (
	"math"
	"testing"

	"trunnion/chassis/modes"
	"trunnion/chassis/numeric"
	"trunnion/chassis/part"
	"trunnion/reference/validation"
)

// From the damper to the wheel and to the ratio. Derived here, 1e-8.
func TestDamperAtTheWheel(t *testing.T) {
	validation.Against(t, "Damper force and ratio at the wheel", validation.Derived, "closed form", "damping-ratio")
	// A ratio of 1 is the critical coefficient: 2·√(k·m).
	critical := 2500 / modes.Ratio(2500, 1, 40e3, 350)
	nearly(t, "critical coefficient of 350 kg on 40 N/mm", critical, 7483.31477, 1e-8, "N s/m")
	nearly(t, "ratio of 2500 N s/m there", modes.Ratio(2500, 1, 40e3, 350), 0.334076553, 1e-8, "-")
	nearly(t, "2800 N s/m through a motion ratio of 0.95", modes.Ratio(2800, 0.95, 40e3, 350)*critical, 2527, 1e-8, "N s/m")
}

// curveOf makes a damper curve of a force law on a fine table.
func curveOf(t *testing.T, bump, rebound func(v float64) float64) part.DamperCurve {
	t.Helper()
	table := func(f func(float64) float64) *numeric.Curve {
		var x, y []float64
		for i := range 1001 {
			v := float64(i) * 1e-3
			x, y = append(x, v), append(y, f(v))
		}
		c, err := numeric.NewCurve(x, y)
		if err != nil {
			t.Fatal(err)
		}
		return &c
	}
	return part.DamperCurve{Bump: table(bump), Rebound: table(rebound), TopSpeed: 1}
}

// energy is what a damper takes in one cycle of a sine, by the midpoint rule,
// which converges quickly on a whole period.
func energy(c *part.DamperCurve, frequency, amplitude float64) float64 {
	const n = 20000
	omega, sum := 2*math.Pi*frequency, 0.0
	for i := range n {
		v := omega * amplitude * math.Cos(2*math.Pi*(float64(i)+0.5)/n)
		f, _ := c.Force(v)
		sum += f * v
	}
	return sum / n / frequency
}

// The viscous damper that takes as much energy from a sine: quadratic
// 8·a·ω·X/(3π), from bump and rebound of their own slopes (c_b + c_r)/2; linear
// π·c·ω·X² a cycle. Derived here; the table of 1 mm/s is read to 1e-6, the
// linear ones exactly.
func TestEquivalentDamping(t *testing.T) {
	validation.Against(t, "Equivalent viscous damping", validation.Derived, "energy of a cycle in closed form", "damping-ratio", "mode-damping")
	linear := func(c float64) func(float64) float64 { return func(v float64) float64 { return c * v } }
	c := curveOf(t, linear(2000), linear(2000))
	nearly(t, "energy of 2000 N s/m a cycle at 100 a minute, 25 mm", energy(&c, 5.0/3, 0.025), 41.1233517, 1e-8, "J")

	uneven := curveOf(t, linear(1800), linear(4200))
	nearly(t, "secant of 1800 and 4200 N s/m", uneven.Secant(0.137), 3000, 1e-8, "N s/m")
	x, omega := 0.025, 2*math.Pi*1.5
	nearly(t, "the viscous damper of equal energy", energy(&uneven, 1.5, x)/(math.Pi*omega*x*x), uneven.Secant(0.3), 1e-8, "N s/m")

	square := func(v float64) float64 { return 2000 * v * v }
	q := curveOf(t, square, square)
	x = 0.030
	nearly(t, "the viscous damper of a quadratic one at 1.5 Hz, 30 mm", energy(&q, 1.5, x)/(math.Pi*omega*x*x), 480, 1e-6, "N s/m")
}
