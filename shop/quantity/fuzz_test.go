package quantity_test

import (
	"errors"
	"math"
	"testing"

	q "trunnion/shop/quantity"
)

// FuzzParse: whatever is typed, nothing panics; a refusal has both sentences; what is
// accepted is finite, keeps its text, and reads again to the same value, also
// when it is written afresh from the parts that were read.
func FuzzParse(f *testing.F) {
	for _, text := range []string{
		"45 N/mm", "257 lbf/in ± 3 %", "352 mm tol +/- 1/16 in", "13⅞”", "55,5 N/mm", "1,234 mm", "64 × 10⁻⁶ m³",
		"25-38 N/mm", "25..38 N/mm", "EUR 1250 ± EUR 5", "20 turns/in", "-40 °F", "9", "0.95 ± 2 %", "\u22121.2e3 N", "1 480 kg",
	} {
		for _, kind := range []q.Kind{q.Length, q.Stiffness, q.RoadRoughness, q.Price, q.ThreadPitch, q.Temperature, q.Count, q.Ratio, q.Force} {
			f.Add(text, uint8(kind))
		}
	}
	f.Fuzz(func(t *testing.T, text string, k uint8) {
		kind := q.Kind(k)
		got, err := q.Parse(text, kind)
		checkFault(t, text, err)
		if err == nil {
			checkTyped(t, text, got)
			again, err := q.Parse(got.Text, kind)
			if err != nil || again != got {
				t.Fatalf("%q reads as %+v and again as %+v, error %v", text, got, again, err)
			}
			if u, err := q.Find(got.Unit, kind); err == nil {
				if back := u.ToSI(u.FromSI(got.Value)); math.Abs(back-got.Value) > 1e-12*math.Abs(got.Value)+1e-12 {
					t.Fatalf("%q: %g there and back in %s is %g", text, got.Value, got.Unit, back)
				}
			}
		}
		low, high, err := q.ParseRange(text, kind)
		checkFault(t, text, err)
		if err == nil {
			checkTyped(t, text, low)
			checkTyped(t, text, high)
			if low.Value > high.Value {
				t.Fatalf("%q goes down from %g to %g", text, low.Value, high.Value)
			}
		}
	})
}

func checkFault(t *testing.T, text string, err error) {
	t.Helper()
	var fault *q.Error
	if err != nil && (!errors.As(err, &fault) || fault.Fault == "" || fault.Got == "" || fault.Want == "") {
		t.Fatalf("%q: the error %#v does not say what stands there and what is due", text, err)
	}
}

func checkTyped(t *testing.T, text string, got q.Typed) {
	t.Helper()
	for _, x := range []float64{got.Value, got.Half, got.Step, got.Low(), got.High()} {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			t.Fatalf("%q: %+v is not finite", text, got)
		}
	}
	if got.Text != text || got.Half < 0 || got.Step <= 0 || got.Decimals < 0 || got.Shape == q.None && got.Half != 0 {
		t.Fatalf("%q: %+v does not hang together", text, got)
	}
}
