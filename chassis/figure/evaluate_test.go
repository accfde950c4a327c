package figure_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"trunnion/chassis/figure"
)

func terms(values map[string]float64) []figure.Term {
	var out []figure.Term
	for symbol, v := range values {
		out = append(out, figure.Term{Symbol: symbol, Value: v})
	}
	return out
}

// Equations as they are printed, with answers by hand.
func TestEvaluate(t *testing.T) {
	given := map[string]float64{"a": 7, "b": 3, "k_w": 26.7e3, "m": 382.5, "x_1": -0.25}
	for equation, want := range map[string]float64{
		"s = a - b - 2":               2,
		"s = a - (b - 2)":             6,
		"s = a/b/2":                   7.0 / 6,
		"s = a*b^2":                   63,
		"s = -b^2":                    -9,
		"s = 2^3^2":                   512,
		"s = b^-1":                    1.0 / 3,
		"s = -(a - b)*2 + a":          -1,
		"f = sqrt(k_w/m)/(2*pi)":      math.Sqrt(26.7e3/382.5) / (2 * math.Pi),
		"s = abs(x_1) + min(a, b)":    3.25,
		"s = max(a*2, b) - 1.5":       12.5,
		"s = a*cos(pi/3)":             3.5,
		"s = -b*sin(-pi/6)":           1.5,
		"s = a*cos(0) - b*sin(0)":     7,
		"s = ( a+b )/( a - b )*0.125": 0.3125,
		"s = x_1":                     -0.25,
	} {
		w := figure.Working{Equation: equation, Terms: terms(given)}
		got, err := w.Evaluate()
		if err != nil || math.Abs(got-want) > 1e-15*math.Max(1, math.Abs(want)) {
			t.Errorf("%q gives %.17g (%v), by hand %.17g", equation, got, err, want)
		}
	}
}

// What is no equation of known terms is refused and not guessed at.
func TestEvaluateRefuses(t *testing.T) {
	given := map[string]float64{"a": 7}
	for _, equation := range []string{
		"", "a", "s =", "s = b", "s = (a", "s = a)", "s = a a", "s = a +", "s = *a", "s = sqrt(a", "s = sqrt(a, a)", "s = sin(a, a)", "s = cos()", "s = tan(a)", "s = 1.2.3", "s = a = a", "s = a;a",
	} {
		w := figure.Working{Equation: equation, Terms: terms(given)}
		if v, err := w.Evaluate(); err == nil {
			t.Errorf("%q is taken for %g", equation, v)
		}
	}
}

// Any text at all gives a number or an error, never a panic.
func TestEvaluateNeverPanics(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := figure.Working{
			Equation: "s =" + rapid.StringOfN(rapid.RuneFrom([]rune("ab12.+-*/^(), _pisqrtmncox")), 0, 40, -1).Draw(t, "text"),
			Terms:    []figure.Term{{Symbol: "a", Value: 2}, {Symbol: "b", Value: -3}},
		}
		_, _ = w.Evaluate()
	})
}

// A draw moves an input by its own half-width and shape alone.
func TestInputUnderADraw(t *testing.T) {
	d := figure.DrawOf([]figure.Variate{{Normal95: 9, Uniform: 9}, {Normal95: 0.4, Uniform: -0.7}})
	for _, r := range []struct {
		in   figure.Input
		want float64
	}{
		{figure.Input{Value: 5, Half: 2, Shape: figure.Normal95, Dim: 2}, 5.8},
		{figure.Input{Value: 5, Half: 2, Shape: figure.Limit, Dim: 2}, 3.6},
		{figure.Input{Value: 5, Half: 2, Shape: figure.Exact, Dim: 2}, 5},
		{figure.Input{Value: 5, Half: 2, Shape: figure.Limit}, 5},
	} {
		if got := r.in.At(d); math.Abs(got-r.want) > 1e-15 {
			t.Errorf("%+v is %g under the draw, want %g", r.in, got, r.want)
		}
		if got := r.in.At(nil); got != r.in.Value {
			t.Errorf("%+v is %g without a draw", r.in, got)
		}
	}
}

// Inputs that two builds share are numbered once, in the order of the fields,
// and numbering again changes nothing.
func TestNumber(t *testing.T) {
	type axle struct{ Rate, Friction figure.Input }
	type build struct {
		Name  string
		Axle  [2]axle
		Spare *figure.Input
		Same  *axle
		List  []figure.Input
	}
	band := func(path string) figure.Input { return figure.Input{Half: 1, Shape: figure.Limit, Path: path} }
	shared := &axle{Rate: band("shared")}
	spare := band("spare")
	root := []*build{
		{Axle: [2]axle{{Rate: band("a")}, {Friction: band("b")}}, Spare: &spare, Same: shared, List: []figure.Input{{Path: "exact"}, band("c")}},
		{Spare: &spare, Same: shared, Axle: [2]axle{{Rate: band("d")}}},
		nil,
	}
	for range 2 {
		got := figure.Number(&root, nil)
		want := []string{"a", "b", "spare", "shared", "c", "d"}
		if len(got) != len(want) {
			t.Fatalf("%d inputs with a band, want %d", len(got), len(want))
		}
		for i, in := range got {
			if in.Path != want[i] || in.Dim != i+1 {
				t.Errorf("place %d holds %q with column %d, want %q", i, in.Path, in.Dim, want[i])
			}
		}
	}
	if root[0].List[0].Dim != 0 {
		t.Error("an exact input has a column")
	}
}

// Every row of the register has all its cells, and no code comes twice.
func TestRegister(t *testing.T) {
	seen := map[string]bool{}
	for _, e := range figure.Register() {
		if e.Code == "" || e.Unit == "" || e.Per == "" || e.At == "" || e.Sign == "" || e.Meaning == "" || e.Equation == "" || e.Source == "" {
			t.Errorf("%q has an empty cell: %+v", e.Code, e)
		}
		if seen[e.Code] {
			t.Errorf("%q comes twice", e.Code)
		}
		seen[e.Code] = true
		if got, ok := figure.Look(e.Code); !ok || got != e {
			t.Errorf("%q is not found", e.Code)
		}
	}
}
