package quantity_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	q "trunnion/shop/quantity"
)

func near(a, b float64) bool { return math.Abs(a-b) <= 1e-12*math.Max(math.Abs(a), math.Abs(b)) }

func TestParseAccepts(t *testing.T) {
	t.Parallel()
	const lbfPerIn = 0.45359237 * 9.80665 / 0.0254 // [N/m]
	rows := []struct {
		text        string
		kind        q.Kind
		value, half float64 // [SI]
		shape       q.Shape
		relative    bool
		decimals    int
		step        float64 // [SI]
		unit        string
	}{
		{"45 N/mm", q.Stiffness, 45000, 0, q.None, false, 0, 1000, "N/mm"},
		{"45N/mm", q.Stiffness, 45000, 0, q.None, false, 0, 1000, "N/mm"},
		{"  45 \u00a0 n/mm ", q.Stiffness, 45000, 0, q.None, false, 0, 1000, "N/mm"},
		{"257 lbf/in ± 3 %", q.Stiffness, 257 * lbfPerIn, 257 * lbfPerIn * 0.03, q.Normal95, true, 0, lbfPerIn, "lbf/in"},
		{"257 lb/in tol ± 3%", q.Stiffness, 257 * lbfPerIn, 257 * lbfPerIn * 0.03, q.Limit, true, 0, lbfPerIn, "lbf/in"},
		{"-257 lbf/in ± 3 %", q.Stiffness, -257 * lbfPerIn, 257 * lbfPerIn * 0.03, q.Normal95, true, 0, lbfPerIn, "lbf/in"},
		{"352 ± 1 mm", q.Length, 0.352, 0.001, q.Normal95, false, 0, 0.001, "mm"},
		{"352 mm ± 1 mm", q.Length, 0.352, 0.001, q.Normal95, false, 0, 0.001, "mm"},
		{"352.0 mm +- 1 mm", q.Length, 0.352, 0.001, q.Normal95, false, 1, 0.0001, "mm"},
		{"352mm+/-1mm", q.Length, 0.352, 0.001, q.Normal95, false, 0, 0.001, "mm"},
		{"352 mm +\u22121 mm", q.Length, 0.352, 0.001, q.Normal95, false, 0, 0.001, "mm"},
		{"352 mm ± 1/16 in", q.Length, 0.352, 0.0254 / 16, q.Normal95, false, 0, 0.001, "mm"},
		{"352 mm tolerance ± 0.5 mm", q.Length, 0.352, 0.0005, q.Limit, false, 0, 0.001, "mm"},
		{"13 7/8 in", q.Length, 13.875 * 0.0254, 0, q.None, false, 0, 0.0254 / 8, "in"},
		{"13⅞”", q.Length, 13.875 * 0.0254, 0, q.None, false, 0, 0.0254 / 8, "in"},
		{"-1 1/2 in", q.Length, -1.5 * 0.0254, 0, q.None, false, 0, 0.0254 / 2, "in"},
		{"7/16 in", q.Length, 7.0 / 16 * 0.0254, 0, q.None, false, 0, 0.0254 / 16, "in"},
		{"55,5 N/mm", q.Stiffness, 55500, 0, q.None, false, 1, 100, "N/mm"},
		{"0,123 mm", q.Length, 0.000123, 0, q.None, false, 3, 1e-6, "mm"},
		{"1234,567 mm", q.Length, 1.234567, 0, q.None, false, 3, 1e-6, "mm"},
		{"1,25 mm", q.Length, 0.00125, 0, q.None, false, 2, 1e-5, "mm"},
		{"1.2e3 N", q.Force, 1200, 0, q.None, false, 0, 100, "N"},
		{"1.25E-1 kN", q.Force, 125, 0, q.None, false, 3, 1, "kN"},
		{"64e-6 m3", q.RoadRoughness, 64e-6, 0, q.None, false, 6, 1e-6, "m³"},
		{"64 × 10⁻⁶ m³", q.RoadRoughness, 64e-6, 0, q.None, false, 6, 1e-6, "m³"},
		{"64x10^-6 m^3", q.RoadRoughness, 64e-6, 0, q.None, false, 6, 1e-6, "m³"},
		{"16 cm³", q.RoadRoughness, 16e-6, 0, q.None, false, 0, 1e-6, "cm³"},
		{"\u22128 mm", q.Length, -0.008, 0, q.None, false, 0, 0.001, "mm"},
		{"1800 N·s/m", q.Damping, 1800, 0, q.None, false, 0, 1, "N·s/m"},
		{"1800 Ns/m", q.Damping, 1800, 0, q.None, false, 0, 1, "N·s/m"},
		{"1800 N s / m", q.Damping, 1800, 0, q.None, false, 0, 1, "N·s/m"},
		{"1800 N-s/m", q.Damping, 1800, 0, q.None, false, 0, 1, "N·s/m"},
		{"10 lbf·s/in", q.Damping, 10 * lbfPerIn, 0, q.None, false, 0, lbfPerIn, "lbf·s/in"},
		{"10 lb-s/in", q.Damping, 10 * lbfPerIn, 0, q.None, false, 0, lbfPerIn, "lbf·s/in"},
		{"4 kgf/mm", q.Stiffness, 39226.6, 0, q.None, false, 0, 9806.65, "kgf/mm"},
		{"4 kg/mm", q.Stiffness, 39226.6, 0, q.None, false, 0, 9806.65, "kgf/mm"},
		{"0.95", q.Ratio, 0.95, 0, q.None, false, 2, 0.01, ""},
		{"95 %", q.Ratio, 0.95, 0, q.None, false, 0, 0.01, "%"},
		{"0.95 ± 0.02", q.Ratio, 0.95, 0.02, q.Normal95, false, 2, 0.01, ""},
		{"0.95 ± 2 %", q.Ratio, 0.95, 0.019, q.Normal95, true, 2, 0.01, ""},
		{"58.4 %", q.Share, 0.584, 0, q.None, false, 1, 0.001, "%"},
		{"50 ± 2 %", q.Share, 0.5, 0.02, q.Normal95, false, 0, 0.01, "%"},
		{"50 % ± 2 %", q.Share, 0.5, 0.02, q.Normal95, false, 0, 0.01, "%"},
		{"9", q.Count, 9, 0, q.None, false, 0, 1, ""},
		{"9 clicks", q.Count, 9, 0, q.None, false, 0, 1, "clicks"},
		{"1250.50 EUR", q.Price, 1250.5, 0, q.None, false, 2, 0.01, "EUR"},
		{"EUR 1250", q.Price, 1250, 0, q.None, false, 0, 1, "EUR"},
		{"1250 ± 50 EUR", q.Price, 1250, 50, q.Normal95, false, 0, 1, "EUR"},
		{"1250 EUR ± 10 %", q.Price, 1250, 125, q.Normal95, true, 0, 1, "EUR"},
		{"1.5 mm/turn", q.ThreadPitch, 0.0015, 0, q.None, false, 1, 0.0001, "mm/turn"},
		{"1.5 mm", q.ThreadPitch, 0.0015, 0, q.None, false, 1, 0.0001, "mm/turn"},
		{"20 turns/in ± 1 turns/in", q.ThreadPitch, 0.0254 / 20, 0.0254 / 20 / 20, q.Normal95, false, 0, 0.0254 / 20 / 20, "turns/in"},
		{"8e-4 per mm", q.PerLength, 0.8, 0, q.None, false, 4, 0.1, "1/mm"},
		{"8 1/m", q.PerLength, 8, 0, q.None, false, 0, 1, "1/m"},
		{"20 °C ± 9 °F", q.Temperature, 20, 5, q.Normal95, false, 0, 1, "°C"},
		{"2.5°", q.Angle, 2.5 * math.Pi / 180, 0, q.None, false, 1, 0.1 * math.Pi / 180, "deg"},
		{"4.8 deg/g", q.RollGradient, 4.8 * math.Pi / 180 / 9.80665, 0, q.None, false, 1, 0.1 * math.Pi / 180 / 9.80665, "deg/g"},
		{"60 km/h", q.SpeedRoad, 60 / 3.6, 0, q.None, false, 0, 1 / 3.6, "km/h"},
		{"2.3 barg", q.Pressure, 230000, 0, q.None, false, 1, 10000, "bar"},
		{"-0 mm", q.Length, 0, 0, q.None, false, 0, 0.001, "mm"},
	}
	for _, row := range rows {
		got, err := q.Parse(row.text, row.kind)
		if err != nil {
			t.Errorf("%q: %v", row.text, err)
			continue
		}
		if got.Text != row.text || got.Kind != row.kind {
			t.Errorf("%q: text %q and kind %v are not what went in", row.text, got.Text, got.Kind)
		}
		if !near(got.Value, row.value) || math.Signbit(got.Value) != math.Signbit(row.value) || !near(got.Half, row.half) || !near(got.Step, row.step) {
			t.Errorf("%q: got %.15g ± %.15g step %.15g %s, want %.15g ± %.15g step %.15g",
				row.text, got.Value, got.Half, got.Step, row.kind.SI(), row.value, row.half, row.step)
		}
		if got.Shape != row.shape || got.Relative != row.relative || got.Decimals != row.decimals || got.Unit != row.unit {
			t.Errorf("%q: got shape %v relative %v decimals %d unit %q, want %v %v %d %q", row.text,
				got.Shape, got.Relative, got.Decimals, got.Unit, row.shape, row.relative, row.decimals, row.unit)
		}
	}
}

func TestParseRefuses(t *testing.T) {
	t.Parallel()
	rows := []struct {
		text  string
		kind  q.Kind
		fault q.Fault
		says  string // part of the message
	}{
		{"", q.Length, q.NoText, "nothing stands here; enter a length"},
		{"  \u00a0", q.Length, q.NoText, "nothing"},
		{strings.Repeat("1", 201), q.Length, q.TooLong, "too long"},
		{"45 \xff", q.Length, q.BadText, "UTF-8"},
		{"45\x00mm", q.Length, q.BadText, "cannot be seen"},
		{"352\nmm", q.Length, q.BadText, "cannot be seen"},
		{"mm", q.Length, q.NoNumber, "does not start with a number"},
		{"NaN mm", q.Length, q.NoNumber, "NaN"},
		{"Inf N", q.Force, q.NoNumber, "Inf"},
		{"-inf N", q.Force, q.NoNumber, "inf"},
		{"1e400 N", q.Force, q.OutOfReach, "far beyond"},
		{"1e19 N", q.Force, q.OutOfReach, "far beyond"},
		{"1e-400 N", q.Force, q.OutOfReach, "far beyond"},
		{"0e99999999999999999999 N", q.Force, q.OutOfReach, "far beyond"},
		{"45", q.Stiffness, q.NoUnit, `"45" has no unit; enter a stiffness: 45 N/mm, 45 kgf/mm or 45 lbf/in`},
		{"0.5", q.Share, q.NoUnit, "enter a share: 0.5 %"},
		{"45 ± 3 %", q.Stiffness, q.NoUnit, "enter a stiffness"},
		{"45 mm", q.Stiffness, q.WrongKind, "mm is a length; enter a stiffness, such as 45 N/mm or 257 lbf/in"},
		{"45 kg", q.Force, q.WrongKind, "kg is a mass; enter a force: write kgf or lbf"},
		{"352 mm ± 1 kg", q.Length, q.WrongKind, "kg is a mass; enter a length"},
		{"45 N/m m", q.Stiffness, q.UnknownUnit, `"N/m m" is no unit known here; did you mean 45 N/mm?`},
		{"45 MM", q.Length, q.UnknownUnit, "did you mean 45 mm?"},
		{"2 mPa", q.Pressure, q.UnknownUnit, "did you mean 2 MPa?"},
		{"10 gal", q.Volume, q.UnknownUnit, "US or imperial"},
		{"30 psia", q.Pressure, q.UnknownUnit, "over the atmosphere"},
		{"2 mm/flat", q.ThreadPitch, q.UnknownUnit, "whole turn"},
		{"9 bananas", q.Length, q.UnknownUnit, "enter a length"},
		{"1,234 mm", q.Length, q.Ambiguous, `"1,234" can mean 1234 or 1.234; write 1234 or 1.234`},
		{"-12,345 mm", q.Length, q.Ambiguous, "-12345 or -12.345"},
		{"1,234.5 mm", q.Length, q.Ambiguous, "more than one"},
		{"1.234,5 mm", q.Length, q.Ambiguous, "more than one"},
		{"1,234,567 mm", q.Length, q.Ambiguous, ""},
		{"1.2.3 mm", q.Length, q.Ambiguous, "more than one"},
		{"1 480 kg", q.Mass, q.Ambiguous, "two numbers in a row"},
		{"13 9/8 in", q.Length, q.NoNumber, "no fraction"},
		{"1/0 in", q.Length, q.NoNumber, "no fraction"},
		{"13 7/8 mm", q.Length, q.NoNumber, "inches and feet only"},
		{"352 mm ± 1/16 mm", q.Length, q.BadBand, "inches and feet only"},
		{"13-7/8 in", q.Length, q.BadRange, "13 7/8 in"},
		{"25-38 N/mm", q.Stiffness, q.BadRange, "enter one value"},
		{"25 N/mm to 38 N/mm", q.Stiffness, q.BadRange, "looks like a range"},
		{"352 ± -1 mm", q.Length, q.BadBand, "sign of its own"},
		{"352 mm ±", q.Length, q.BadBand, "behind"},
		{"± 1 mm", q.Length, q.BadBand, "before"},
		{"352 ± 1 ± 2 mm", q.Length, q.BadBand, "more than one"},
		{"352 mm ± 1", q.Length, q.BadBand, "± 1 mm or ± 1 %"},
		{"0 mm ± 3 %", q.Length, q.BadBand, "nothing"},
		{"20 °C ± 3 %", q.Temperature, q.BadBand, "temperature"},
		{"20 turns/in ± 0.1 mm", q.ThreadPitch, q.BadBand, "same unit"},
		{"0 turns/in", q.ThreadPitch, q.OutOfReach, "no pitch"},
		{"9.5", q.Count, q.NotWhole, "whole"},
		{"1250", q.Price, q.NoUnit, "currency"},
		{"1250 €", q.Price, q.UnknownUnit, "1250 EUR"},
		{"1250 EUR ± 5 USD", q.Price, q.BadBand, "another currency"},
		{"1250 EUR ± EUR -5", q.Price, q.BadBand, "negative"},
		{"1250 eur", q.Price, q.UnknownUnit, "capital"},
		{"45 N/mm", q.Kind(250), q.NoKind, "no such kind"},
	}
	for _, row := range rows {
		got, err := q.Parse(row.text, row.kind)
		var fault *q.Error
		if !errors.As(err, &fault) {
			t.Errorf("%q as %v: accepted as %+v (error %v), want it refused as %s", row.text, row.kind, got, err, row.fault)
			continue
		}
		if fault.Fault != row.fault || !strings.Contains(err.Error(), row.says) {
			t.Errorf("%q as %v: refused as %s, %q; want %s with %q", row.text, row.kind, fault.Fault, err, row.fault, row.says)
		}
		if fault.Got == "" || fault.Want == "" || got != (q.Typed{}) {
			t.Errorf("%q: got %q, want %q, value %+v: both sentences are due and no value", row.text, fault.Got, fault.Want, got)
		}
	}
}

func TestParseRange(t *testing.T) {
	t.Parallel()
	rows := []struct {
		text      string
		kind      q.Kind
		low, high float64 // [SI]
	}{
		{"25-38 N/mm", q.Stiffness, 25000, 38000},
		{"25–38 N/mm", q.Stiffness, 25000, 38000},
		{"25..38 N/mm", q.Stiffness, 25000, 38000},
		{"25...38 N/mm", q.Stiffness, 25000, 38000},
		{"25.5..38.5N/mm", q.Stiffness, 25500, 38500},
		{"25 to 38 N/mm", q.Stiffness, 25000, 38000},
		{"25 N/mm - 38 N/mm", q.Stiffness, 25000, 38000},
		{"-10--5 mm", q.Length, -0.010, -0.005},
		{"-5..10 mm", q.Length, -0.005, 0.010},
		{"250 mm to 10 in", q.Length, 0.250, 0.254},
		{"13 1/4 to 13 1/2 in", q.Length, 13.25 * 0.0254, 13.5 * 0.0254},
		{"16e-6 - 64e-6 m3", q.RoadRoughness, 16e-6, 64e-6},
		{"0.9-0.95", q.Ratio, 0.9, 0.95},
		{"16-20 turns/in", q.ThreadPitch, 0.0254 / 20, 0.0254 / 16},
		{"1000-1250 EUR", q.Price, 1000, 1250},
		{"100 - 150 N-s/m", q.Damping, 100, 150},
	}
	for _, row := range rows {
		low, high, err := q.ParseRange(row.text, row.kind)
		if err != nil {
			t.Errorf("%q: %v", row.text, err)
			continue
		}
		if !near(low.Value, row.low) || !near(high.Value, row.high) || low.Text != row.text || high.Text != row.text {
			t.Errorf("%q: got %.12g to %.12g %s of %q and %q, want %.12g to %.12g", row.text, low.Value, high.Value, row.kind.SI(), low.Text, high.Text, row.low, row.high)
		}
	}
	for text, fault := range map[string]q.Fault{
		"38-25 N/mm":           q.BadRange,
		"25 N/mm":              q.BadRange,
		"25-38":                q.NoUnit,
		"25-38 mm":             q.WrongKind,
		"25-38-40 N/mm":        q.BadRange,
		"25-38 N/mm ± 3 %":     q.BadRange,
		"25 N/mm to":           q.BadRange,
		"25 mm to 38 N/mm":     q.WrongKind,
		"1,234-2 N/mm":         q.Ambiguous,
		"to 38 N/mm":           q.NoNumber,
		"25 N/mm - 38 N/mm - ": q.UnknownUnit,
	} {
		low, high, err := q.ParseRange(text, q.Stiffness)
		var got *q.Error
		if !errors.As(err, &got) || got.Fault != fault {
			t.Errorf("%q: %+v to %+v, error %v; want it refused as %s", text, low, high, err, fault)
		}
	}
}

func TestFind(t *testing.T) {
	t.Parallel()
	u, err := q.Find("In/s", q.SpeedDamper)
	if err != nil || u.Label() != "in/s" || u.Kind() != q.SpeedDamper || u.ToSI(10) != 0.254 {
		t.Errorf("In/s: got %q, 10 of them %g m/s, error %v; want in/s, 0.254 m/s", u.Label(), u.ToSI(10), err)
	}
	if _, err = q.Find("lbf", q.SpeedDamper); err == nil || err.Error() != "lbf is a force; enter a damper speed, such as 130 mm/s or 5.1 in/s" {
		t.Errorf("lbf as a damper speed: %v", err)
	}
	if _, err = q.Find("mm/ss", q.SpeedDamper); err == nil || !strings.Contains(err.Error(), "did you mean mm/s?") {
		t.Errorf("mm/ss as a damper speed: %v", err)
	}
}

// Every unit is found under its own label, and every example of an error
// message can be typed.
func TestTablesAreWhole(t *testing.T) {
	t.Parallel()
	if len(q.Kinds()) < 30 {
		t.Fatalf("%d kinds: the table was not read", len(q.Kinds()))
	}
	names := map[string]bool{}
	for _, kind := range q.Kinds() {
		if kind.String() == "" || names[kind.String()] || kind.SI() == "" {
			t.Errorf("kind %d has the name %q and the unit %q: both are due, and a name once only", kind, kind, kind.SI())
		}
		names[kind.String()] = true
		for _, label := range q.Accepted(kind) {
			u, err := q.Find(label, kind)
			if err != nil || u.Label() != label {
				t.Errorf("%v: %q is found as %q, error %v", kind, label, u.Label(), err)
			}
			if x := u.FromSI(u.ToSI(7.3)); !near(x, 7.3) {
				t.Errorf("%v: 7.3 %s there and back is %.17g", kind, label, x)
			}
		}
		_, err := q.Parse("bananas", kind)
		_, examples, ok := strings.Cut(err.Error(), "such as ")
		if !ok {
			t.Errorf("%v: no examples in %q", kind, err)
		}
		for example := range strings.SplitSeq(examples, " or ") {
			if _, err := q.Parse(example, kind); err != nil {
				t.Errorf("%v: the example %q is refused: %v", kind, example, err)
			}
		}
	}
}

func BenchmarkParse(b *testing.B) {
	for _, row := range []struct {
		name, text string
		kind       q.Kind
	}{
		{"plain", "45 N/mm", q.Stiffness},
		{"band", "257 lbf/in ± 3 %", q.Stiffness},
		{"fraction", "13 7/8 in", q.Length},
		{"refused", "45 N/m m", q.Stiffness},
	} {
		b.Run(row.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				_, _ = q.Parse(row.text, row.kind)
			}
		})
	}
}
