package quantity_test

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	q "trunnion/shop/quantity"
)

var systems = []q.System{q.Metric, q.Imperial, q.Mixed}

func TestFormat(t *testing.T) {
	t.Parallel()
	rows := []struct {
		value  float64 // [SI]
		kind   q.Kind
		system q.System
		digits int
		want   string
	}{
		{45000, q.Stiffness, q.Metric, q.Auto, "45.0 N/mm"},
		{45000, q.Stiffness, q.Imperial, q.Auto, "257 lbf/in"},
		{45000, q.Stiffness, q.Mixed, q.Auto, "257 lbf/in"},
		{0.014, q.Length, q.Metric, q.Auto, "14.0 mm"},
		{0.014, q.Length, q.Imperial, q.Auto, "0.55 in"},
		{0.014, q.Length, q.Mixed, 3, "14.000 mm"},
		{-0.00004, q.Length, q.Metric, q.Auto, "0.0 mm"},
		{math.Copysign(0, -1), q.Length, q.Metric, 0, "0 mm"},
		{-0.00006, q.Length, q.Metric, q.Auto, "-0.1 mm"},
		{450, q.Force, q.Metric, q.Auto, "450 N"},
		{450, q.Force, q.Imperial, q.Auto, "101 lbf"},
		{230000, q.Pressure, q.Metric, q.Auto, "2.30 bar"},
		{230000, q.Pressure, q.Mixed, q.Auto, "33.4 psi"},
		{426, q.Mass, q.Imperial, q.Auto, "939 lb"},
		{0.130, q.SpeedDamper, q.Imperial, q.Auto, "5.1 in/s"},
		{60 / 3.6, q.SpeedRoad, q.Metric, q.Auto, "60 km/h"},
		{60 / 3.6, q.SpeedRoad, q.Imperial, q.Auto, "37 mph"},
		{1.42, q.Frequency, q.Metric, q.Auto, "1.42 Hz"},
		{0.95, q.Ratio, q.Metric, q.Auto, "0.95"},
		{0.584, q.Share, q.Metric, q.Auto, "58.4 %"},
		{64e-6, q.RoadRoughness, q.Metric, q.Auto, "64.0 ×10⁻⁶ m³"},
		{20, q.Temperature, q.Imperial, q.Auto, "68 °F"},
		{2.5, q.Mass, q.Metric, 0, "2 kg"}, // halfway goes to the even digit
		{3.5, q.Mass, q.Metric, 0, "4 kg"},
		{math.NaN(), q.Mass, q.Metric, 0, q.Nothing},
		{math.Inf(1), q.Mass, q.Metric, 0, q.Nothing},
		{9, q.Count, q.Metric, q.Auto, "9"},
		{1, q.Kind(250), q.Metric, 1, "1.0"},
		{1, q.Mass, q.System(9), 1, "1.0"},
	}
	for _, row := range rows {
		if got := q.Format(row.value, row.kind, row.system, row.digits); got != row.want {
			t.Errorf("%g %s of %v in system %d with %d digits is shown as %q, want %q",
				row.value, row.kind.SI(), row.kind, row.system, row.digits, got, row.want)
		}
	}
	for got, want := range map[string]string{
		q.FormatPrice(1250, "EUR", q.Auto):              "1250.00 EUR",
		q.FormatPrice(math.NaN(), "EUR", q.Auto):        q.Nothing,
		q.Units(q.Stiffness, q.Imperial):                "lbf/in",
		fmt.Sprint(q.Shown(q.Force, q.Metric).Digits()): "0",
	} {
		if got != want {
			t.Errorf("shown as %q, want %q", got, want)
		}
	}
}

// What is shown can be typed, and is the same value within half of its last digit.
func TestShownCanBeTyped(t *testing.T) {
	t.Parallel()
	for _, kind := range q.Kinds() {
		for _, system := range systems {
			unit := q.Shown(kind, system)
			if unit.Kind() != kind {
				t.Errorf("%v has no unit in system %d", kind, system)
				continue
			}
			rapid.Check(t, func(t *rapid.T) {
				reading := rapid.Float64Range(-1e6, 1e6).Draw(t, "reading")
				digits := rapid.IntRange(-1, 6).Draw(t, "digits")
				if kind == q.Count {
					reading, digits = math.Round(reading), 0
				}
				value := unit.ToSI(reading)
				text := q.Format(value, kind, system, digits)
				if kind == q.Price {
					text = q.FormatPrice(value, "EUR", digits)
				}
				if strings.HasPrefix(text, "-0") && !strings.ContainsAny(text[:strings.IndexFunc(text+" ", func(r rune) bool { return r == ' ' })], "123456789") {
					t.Fatalf("%v: %q shows a sign on zero", kind, text)
				}
				typed, err := q.Parse(text, kind)
				if err != nil {
					t.Fatalf("%v: what is shown, %q, is refused: %v", kind, text, err)
				}
				if digits < 0 {
					digits = unit.Digits()
				}
				back := unit.FromSI(typed.Value)
				if tol := 0.5*math.Pow10(-digits) + 1e-12*math.Abs(reading) + 1e-9*math.Pow10(-digits); math.Abs(back-reading) > tol {
					t.Fatalf("%v: %.12g %s is shown as %q and read as %.12g, off by more than %g", kind, reading, unit.Label(), text, back, tol)
				}
				if typed.Text != text {
					t.Fatalf("%q came back as %q", text, typed.Text)
				}
			})
		}
	}
}

// Every accepted unit carries its band the way it carries a small change of its value.
func TestBandIsADifference(t *testing.T) {
	t.Parallel()
	for _, kind := range q.Kinds() {
		for _, label := range q.Accepted(kind) {
			if label == "turns/in" || strings.HasPrefix(label, "×") {
				continue // the first is not linear, the second is only shown
			}
			rapid.Check(t, func(t *rapid.T) {
				value := rapid.IntRange(-5000, 5000).Draw(t, "value")
				half := rapid.IntRange(0, 500).Draw(t, "half")
				join := rapid.SampledFrom([]string{" ", ""}).Draw(t, "join")
				sign := rapid.SampledFrom([]string{"±", " +- ", " +/- ", " tol ± "}).Draw(t, "sign")
				if strings.HasPrefix(label, "1/") {
					join = " " // 7 1/mm is not 71/mm
				}
				unit := join + label
				text := strconv.Itoa(value) + unit + sign + strconv.Itoa(half) + unit
				got, err := q.Parse(text, kind)
				if err != nil {
					t.Fatalf("%q: %v", text, err)
				}
				top, err := q.Parse(strconv.Itoa(value+half)+unit, kind)
				if err != nil {
					t.Fatalf("top of %q: %v", text, err)
				}
				if math.Abs(got.High()-top.Value) > 1e-11*(math.Abs(got.Value)+got.Half+math.Abs(top.Value)) {
					t.Fatalf("%q reaches %.15g, typed alone that is %.15g", text, got.High(), top.Value)
				}
				if got.Low() > got.High() {
					t.Fatalf("%q: %g to %g", text, got.Low(), got.High())
				}
			})
		}
	}
}

func BenchmarkFormat(b *testing.B) {
	b.Run("value", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			_ = q.Format(45012.3, q.Stiffness, q.Imperial, q.Auto)
		}
	})
}
