package screening

import (
	"math"
	"testing"
)

// TestQuadrature: means of a standard Gaussian that are known exactly, Σ w·f(x) over both rules. Half moments:
// E[x^n; x > 0] = 2^{n/2}·Γ((n+1)/2)/(2√π).
func TestQuadrature(t *testing.T) {
	for n := range 19 {
		sum := 0.0
		for _, p := range half {
			sum += p.weight * math.Pow(p.x, float64(n))
		}
		want := math.Pow(2, float64(n)/2) * math.Gamma(float64(n+1)/2) / (2 * math.Sqrt(math.Pi))
		if math.Abs(sum/want-1) > 1e-10 {
			t.Errorf("half rule, power %d: %.12g; want %.12g", n, sum, want)
		}
	}
	for n := 0; n < 39; n += 2 {
		sum := 0.0
		for _, p := range whole {
			sum += p.weight * math.Pow(p.x, float64(n))
		}
		want := math.Pow(2, float64(n)/2) * math.Gamma(float64(n+1)/2) / math.Sqrt(math.Pi)
		if math.Abs(sum/want-1) > 1e-10 {
			t.Errorf("whole rule, power %d: %.12g; want %.12g", n, sum, want)
		}
	}
}

// plain is one car whose four corners have the given damper law.
type plain struct{ damper func(v float64) float64 }

func (plain) Inertia() (mass, roll, pitch float64) { return 1200, 400, 1700 }
func (plain) Hub(i int) (x, y, unsprung float64) {
	return []float64{1.2, 1.2, -1.4, -1.4}[i], []float64{0.7, -0.7, 0.7, -0.7}[i], 40
}
func (plain) Tyre(int) (rate, damping, load float64)     { return 200e3, 0, 3400 }
func (plain) Lean() (roll, pitch float64)                { return 0, 0 }
func (plain) Bar(int) float64                            { return 5000 }
func (plain) Mount(int) float64                          { return 0 }
func (plain) Friction(int) float64                       { return 0 }
func (plain) Standing(int) float64                       { return 0 }
func (plain) Touch(int) (stop, open float64)             { return math.Inf(1), math.Inf(-1) }
func (plain) Points() int                                { return 0 }
func (plain) Point(int) (name string, x, y float64)      { return "", 0, 0 }
func (plain) Spring(_ int, w float64) (force, r float64) { return 3000 + 25e3*w, 1 }
func (plain) Stop(int, float64) float64                  { return 0 }
func (p plain) Damper(_ int, v float64) float64          { return p.damper(v) }

// TestEquivalentDamping: for a Gaussian speed of deviation σ, Coulomb friction F is worth F·√(2/π)/σ, a quadratic law
// a·v·|v| is worth 2a·σ·√(2/π), a bilinear one the mean of its two rates (J.B. Roberts and P.D. Spanos, Random Vibration
// and Statistical Linearization, 1990, from memory; derived again here).
func TestEquivalentDamping(t *testing.T) {
	const sigma = 0.137
	for _, r := range []struct {
		name string
		law  func(v float64) float64
		want float64
	}{
		{"Coulomb", func(v float64) float64 { return math.Copysign(90, v) }, 90 * math.Sqrt(2/math.Pi) / sigma},
		{"quadratic", func(v float64) float64 { return 2000 * v * math.Abs(v) }, 2 * 2000 * sigma * math.Sqrt(2/math.Pi)},
		{"bilinear", func(v float64) float64 { return (1500 - math.Copysign(700, v)) * v }, 1500},
		{"cubic", func(v float64) float64 { return 4000 * v * v * v }, 3 * 4000 * sigma * sigma},
	} {
		l, err := Linearised(plain{r.law}, 0.01, sigma)
		if err != nil {
			t.Fatal(err)
		}
		if got := l.car.damping[0]; math.Abs(got/r.want-1) > 1e-9 {
			t.Errorf("%s: %.6f N s/m; want %.6f", r.name, got, r.want)
		}
	}
}

// TestSag: corners that push too much lift the car until they do not, and what they push together stays the weight.
func TestSag(t *testing.T) {
	l, err := Linearised(plain{func(v float64) float64 { return 1000 * v }}, 0.01, 0.1)
	if err != nil {
		t.Fatal(err)
	}
	excess := [4]float64{40, -25, 10, 60}
	travel := l.car.sag(excess)
	var sum, pitch, roll float64
	for i, w := range travel {
		other := travel[i^1]
		f := excess[i] + 25e3*w + 5000*(w-other)
		x, y, _ := plain{}.Hub(i)
		sum += f
		pitch += x * f
		roll += y * f
	}
	if math.Abs(sum) > 1e-6 || math.Abs(pitch) > 1e-6 || math.Abs(roll) > 1e-6 {
		t.Errorf("forces left over: %.3g N, %.3g N m, %.3g N m", sum, pitch, roll)
	}
	even := l.car.sag([4]float64{50, 50, 50, 50})
	for i, w := range even {
		if math.Abs(w+50/25e3) > 1e-9 {
			t.Errorf("corner %d goes %.6f mm for 50 N more on 25 N/mm; want −2", i, 1e3*w)
		}
	}
}
