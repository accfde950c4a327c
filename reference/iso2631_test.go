package reference

import (
	"math"
	"math/cmplx"
	"testing"

	"trunnion/chassis/comfort"
	"trunnion/reference/validation"
)

// relative returns |got/want − 1|.
func relative(got, want float64) float64 { return math.Abs(got/want - 1) }

// ISO 8041-1:2017 annex B, tables B.3 (Wk) and B.8 (Wd): magnitude at the exact
// third-octave centres 10^(k/10) Hz, four figures printed. The computed columns
// and the phase are our own evaluation of ISO 2631-1:1997 table A.1; the phase
// at 15.85 Hz, −61.84°, is also printed.
func TestWeightingTablesISO8041(t *testing.T) {
	validation.Against(t, "Frequency weightings Wk and Wd", validation.Printed, "ISO 8041-1:2017, tables B.3 and B.8", "floor-acceleration", "seat-acceleration", "vibration-dose")
	rows := []struct {
		k                     int
		wk, wkComputed, phase float64
		wd, wdComputed        float64
	}{
		{-10, 0.03121, 0.031210, 159.77, 0.06242, 0.062415},
		{-7, 0.1207, 0.120689, 137.67, 0.2420, 0.242017},
		{-4, 0.3504, 0.350424, 92.20, 0.7097, 0.709733},
		{-3, 0.4188, 0.418806, 74.54, 0.8540, 0.854033},
		{-2, 0.4588, 0.458847, 59.44, 0.9443, 0.944291},
		{-1, 0.4767, 0.476665, 47.96, 0.9914, 0.991361},
		{0, 0.4825, 0.482473, 40.06, 1.011, 1.011017},
		{1, 0.4846, 0.484646, 35.55, 1.007, 1.007054},
		{2, 0.4935, 0.493487, 34.48, 0.9707, 0.970744},
		{3, 0.5308, 0.530753, 36.45, 0.8913, 0.891289},
		{4, 0.6335, 0.633484, 37.98, 0.7733, 0.773267},
		{5, 0.8071, 0.807102, 32.73, 0.6398, 0.639772},
		{6, 0.9648, 0.964784, 20.35, 0.5143, 0.514310},
		{7, 1.039, 1.039220, 6.31, 0.4081, 0.408150},
		{8, 1.054, 1.054359, -6.84, 0.3226, 0.322620},
		{9, 1.037, 1.037353, -19.73, 0.2550, 0.254969},
		{10, 0.9884, 0.988406, -33.30, 0.2017, 0.201706},
		{11, 0.8989, 0.898934, -47.62, 0.1597, 0.159743},
		{12, 0.7743, 0.774282, -61.84, 0.1266, 0.126613},
		{13, 0.6373, 0.637310, -75.03, 0.1004, 0.100393},
		{14, 0.5103, 0.510287, -87.02, 0.07958, 0.079582},
		{15, 0.4031, 0.403115, -98.35, 0.06299, 0.062991},
		{16, 0.3160, 0.316008, -109.90, 0.04965, 0.049648},
		{17, 0.2451, 0.245127, -122.66, 0.03872, 0.038718},
		{18, 0.1857, 0.185718, -137.59, 0.02946, 0.029457},
		{19, 0.1339, 0.133874, -155.20, 0.02130, 0.021297},
		{20, 0.08873, 0.088726, -174.79, 0.01414, 0.014143},
		{23, 0.01528, 0.015278, -223.98, 0.002442, 0.002442},
		{26, 0.001978, 0.001978, -247.94, 0.0003164, 0.000316},
	}
	for _, r := range rows {
		f := math.Pow(10, float64(r.k)/10)
		wk, wd := comfort.Wk.Gain(f), comfort.Wd.Gain(f)
		if validation.Share(t, wk, r.wk, 1e-3) {
			t.Errorf("Wk at %.4g Hz is %.6g; ISO 8041-1 prints %.4g", f, wk, r.wk)
		}
		if validation.Share(t, wd, r.wd, 1e-3) {
			t.Errorf("Wd at %.4g Hz is %.6g; ISO 8041-1 prints %.4g", f, wd, r.wd)
		}
		// The computed column carries six decimals.
		if validation.Off(t, wk, r.wkComputed, math.Max(0.51e-6, 1e-5*wk)) {
			t.Errorf("Wk at %.4g Hz is %.8g; evaluated elsewhere as %.6g", f, wk, r.wkComputed)
		}
		if validation.Off(t, wd, r.wdComputed, math.Max(0.51e-6, 1e-5*wd)) {
			t.Errorf("Wd at %.4g Hz is %.8g; evaluated elsewhere as %.6g", f, wd, r.wdComputed)
		}
		if got := comfort.Wk.Phase(f) * 180 / math.Pi; validation.Off(t, got, r.phase, 0.0051) {
			t.Errorf("phase of Wk at %.4g Hz is %.3f°; want %.2f°", f, got, r.phase)
		}
	}
}

// ISO 2631-1:1997 table 3, factors in thousandths at nominal frequencies,
// within one of the last digit. The cell Wd at 10 Hz is printed as 212; the
// standard's own filter and ISO 8041-1:2017 give 201.7, which is tested here.
func TestWeightingTableISO2631(t *testing.T) {
	validation.Against(t, "Frequency weightings in thousandths", validation.Printed, "ISO 2631-1:1997, table 3", "floor-acceleration")
	for _, r := range []struct{ f, wk, wd, wdLast float64 }{
		{0.5, 418, 853, 1},
		{0.63, 459, 944, 1},
		{0.8, 477, 992, 1},
		{1, 482, 1011, 1},
		{1.25, 484, 1008, 1},
		{1.6, 494, 968, 1},
		{2, 531, 890, 1},
		{2.5, 631, 776, 1},
		{3.15, 804, 642, 1},
		{4, 967, 512, 1},
		{5, 1039, 409, 1},
		{6.3, 1054, 323, 1},
		{8, 1036, 253, 1},
		{10, 988, 201.7, 0.1},
		{12.5, 902, 161, 1},
		{16, 768, 125, 1},
		{20, 636, 100, 1},
		{25, 513, 80.0, 0.1},
		{31.5, 405, 63.2, 0.1},
		{40, 314, 49.4, 0.1},
		{50, 246, 38.8, 0.1},
		{63, 186, 29.5, 0.1},
		{80, 132, 21.1, 0.1},
	} {
		if got := 1000 * comfort.Wk.Gain(r.f); validation.Off(t, got, r.wk, 1) {
			t.Errorf("Wk at %g Hz is %.2f thousandths; the table says %g", r.f, got, r.wk)
		}
		if got := 1000 * comfort.Wd.Gain(r.f); validation.Off(t, got, r.wd, r.wdLast) {
			t.Errorf("Wd at %g Hz is %.2f thousandths; the table says %g", r.f, got, r.wd)
		}
	}
}

// ISO 8041-1:2017 table 1: indication at 100 rad/s for 1 m/s²; more digits
// derived here.
func TestWeightingReferenceFrequency(t *testing.T) {
	validation.Against(t, "Weightings at the reference frequency", validation.Printed, "ISO 8041-1:2017, table 1", "floor-acceleration")
	f := 100 / (2 * math.Pi)
	for _, r := range []struct {
		w                 comfort.Weighting
		printed, computed float64
	}{
		{comfort.Wk, 0.7718, 0.771818104},
		{comfort.Wd, 0.1261, 0.126079604},
		{comfort.Wc, 0.5145, 0.514451971},
	} {
		got := r.w.Gain(f)
		if validation.Off(t, got, r.printed, 0.5e-4) || validation.Share(t, got, r.computed, 1e-8) {
			t.Errorf("%s at 100 rad/s is %.9f; printed %.4f, derived %.9f", r.w.Name, got, r.printed, r.computed)
		}
	}
}

// Single values derived here from ISO 2631-1:1997 table A.1 by quadrature.
func TestWeightingIntegrals(t *testing.T) {
	validation.Against(t, "Integrals of the weightings", validation.Derived, "quadrature of ISO 2631-1:1997, table A.1", "floor-acceleration")
	power := func(w comfort.Weighting, from, to float64) float64 {
		// Simpson's rule on a logarithmic axis.
		const n = 20000
		step := math.Log(to/from) / n
		sum := 0.0
		for i := range n + 1 {
			f := from * math.Exp(float64(i)*step)
			g := w.Gain(f)
			c := 2.0
			switch {
			case i == 0 || i == n:
				c = 1
			case i%2 == 1:
				c = 4
			}
			sum += c * g * g * f
		}
		return sum * step / 3
	}
	for _, r := range []struct {
		name      string
		got, want float64
	}{
		{"∫|Wk|² 0.5–80 Hz", power(comfort.Wk, 0.5, 80), 20.4451690},
		{"∫|Wk|² all", power(comfort.Wk, 1e-4, 1e5), 20.9238440},
		{"∫|Wd|² 0.5–80 Hz", power(comfort.Wd, 0.5, 80), 3.33794660},
		{"a_w of 0.01 (m/s²)²/Hz", math.Sqrt(0.01 * power(comfort.Wk, 0.5, 80)), 0.452163344},
		{"sine of 1 m/s² at 5 Hz", comfort.Wk.Gain(5) / math.Sqrt2, 0.734560663},
		{
			"its dose over 60 s", math.Pow(1.5, 0.25) * comfort.Wk.Gain(5) / math.Sqrt2 * math.Pow(60, 0.25),
			2.26249847,
		},
	} {
		if validation.Share(t, r.got, r.want, 1e-5) {
			t.Errorf("%s is %.9g; want %.9g", r.name, r.got, r.want)
		}
	}
	top, at := 0.0, 0.0
	for f := 5.0; f < 8; f += 1e-4 {
		if g := comfort.Wk.Gain(f); g > top {
			top, at = g, f
		}
	}
	if validation.Off(t, top, 1.054499, 0.51e-6) || validation.Off(t, at, 6.171, 1e-3) {
		t.Errorf("greatest Wk is %.6f at %.3f Hz; want 1.054499 at 6.171 Hz", top, at)
	}
}

// sawtooth is the test signal of ISO 8041-1:2017 clause 5.9, table 6 for whole
// body vibration: 1 m/s² zero to peak, rising, 100 rad/s, bursts beginning and
// ending at an upward zero crossing, the first at 1 s, one every 10 s; cycles
// of 0 fills the whole time.
func sawtooth(at float64, cycles int) float64 {
	const period = 2 * math.Pi / 100
	if cycles > 0 {
		at = math.Mod(at-1+10, 10)
		if at >= float64(cycles)*period {
			return 0
		}
	}
	part := at / period
	part -= math.Floor(part)
	if part < 0.5 {
		return 2 * part
	}
	return 2*part - 2
}

// measure runs a weighting over 60 s of the saw-tooth. The sample is the mean
// over its step, so that a burst keeps its zero area: a vertical fall that lands
// between two point samples would leave a spurious push, which Wd feels.
func measure(t testing.TB, w comfort.Weighting, cycles int, step float64) comfort.Summary {
	t.Helper()
	m, err := comfort.NewMeter(w, step)
	if err != nil {
		t.Fatal(err)
	}
	const inner = 16
	for i := range int(math.Round(60 / step)) {
		sum := 0.0
		for j := range inner {
			sum += sawtooth((float64(i)+(float64(j)+0.5)/inner)*step, cycles)
		}
		m.Add(sum / inner)
	}
	s, err := m.Result()
	if err != nil {
		t.Fatal(err)
	}
	return s
}

type burst struct {
	w                    comfort.Weighting
	cycles               int
	rms, vdv, mtvv, slow float64
}

// bursts is ISO 8041-1:2017 table 8, whole body rows.
var bursts = []burst{
	{comfort.BandLimit, 1, 0.0433, 0.498, 0.137, 0.135},
	{comfort.BandLimit, 4, 0.0865, 0.705, 0.274, 0.258},
	{comfort.BandLimit, 16, 0.173, 0.996, 0.547, 0.437},
	{comfort.BandLimit, 0, 0.546, 1.77, 0.547, 0.549},
	{comfort.Wk, 1, 0.0299, 0.323, 0.0944, 0.0922},
	{comfort.Wk, 2, 0.0411, 0.380, 0.130, 0.125},
	{comfort.Wk, 4, 0.0577, 0.455, 0.182, 0.171},
	{comfort.Wk, 8, 0.0814, 0.543, 0.257, 0.228},
	{comfort.Wk, 16, 0.115, 0.648, 0.363, 0.289},
	{comfort.Wk, 0, 0.362, 1.15, 0.364, 0.363},
	{comfort.Wd, 1, 0.00669, 0.0779, 0.0212, 0.0197},
	{comfort.Wd, 4, 0.0116, 0.0923, 0.0366, 0.0330},
	{comfort.Wd, 16, 0.0197, 0.115, 0.0611, 0.0481},
	{comfort.Wd, 0, 0.0590, 0.197, 0.0611, 0.0594},
}

// ISO 8041-1:2017 table 8, saw-tooth bursts. The standard allows 10 % (12 % for
// the dose); the demand here is 1.5 % at 1 kHz and above.
func TestSawtoothBursts(t *testing.T) {
	validation.Against(t, "Weighting filters in time: saw-tooth bursts", validation.Printed, "ISO 8041-1:2017, table 8", "floor-acceleration", "vibration-dose")
	for _, step := range []float64{1.0 / 1000, 1.0 / 2000, 1.0 / 5000} {
		for _, b := range bursts {
			s := measure(t, b.w, b.cycles, step)
			for _, r := range []struct {
				name      string
				got, want float64
			}{
				{"root mean square", s.RMS, b.rms},
				{"dose", s.VDV, b.vdv},
				{"running maximum, linear", s.MTVV, b.mtvv},
				{"running maximum, exponential", s.MTVVSlow, b.slow},
			} {
				if validation.Share(t, r.got, r.want, 0.015) {
					t.Errorf("%s, %d cycles, step %.2g s: %s is %.5g; table 8 prints %.3g (%+.2f %%)",
						b.w.Name, b.cycles, step, r.name, r.got, r.want, 100*(r.got/r.want-1))
				}
			}
		}
	}
}

// The same bursts, our own run at 20 kHz in another language (derived, no
// publication): five figures, 0.1 %.
func TestSawtoothBurstsFine(t *testing.T) {
	validation.Against(t, "Weighting filters in time, finer", validation.Engine, "an independent run in another language", "floor-acceleration", "vibration-dose")
	for _, b := range []burst{
		{comfort.Wk, 4, 0.057747, 0.45597, 0.18261, 0.17123},
		{comfort.Wk, 0, 0.36194, 1.1528, 0.36405, 0.36319},
		{comfort.BandLimit, 1, 0.043232, 0.49809, 0.13671, 0.13482},
		{comfort.Wd, 1, 0.0066894, 0.077196, 0.021153, 0.019748},
	} {
		s := measure(t, b.w, b.cycles, 1.0/20000)
		got := []float64{s.RMS, s.VDV, s.MTVV, s.MTVVSlow}
		for i, want := range []float64{b.rms, b.vdv, b.mtvv, b.slow} {
			if validation.Share(t, got[i], want, 1e-3) {
				t.Errorf("%s, %d cycles: figure %d is %.6g; the other run gave %.5g", b.w.Name, b.cycles, i, got[i], want)
			}
		}
	}
}

// At 2 ms, a long step for a ride simulation, the printed tolerances of ISO
// 8041-1:2017 (10 %, dose 12 %) must still hold; what is measured is logged.
func TestSawtoothBurstsAtLongStep(t *testing.T) {
	validation.Against(t, "Weighting filters at a step of 2 ms", validation.Printed, "tolerances of ISO 8041-1:2017", "floor-acceleration", "vibration-dose")
	worst := map[string]float64{}
	for _, b := range bursts {
		s := measure(t, b.w, b.cycles, 2e-3)
		for _, r := range []struct {
			name            string
			got, want, most float64
		}{
			{"rms", s.RMS, b.rms, 0.1},
			{"vdv", s.VDV, b.vdv, 0.12},
			{"mtvv", s.MTVV, b.mtvv, 0.1},
			{"mtvv slow", s.MTVVSlow, b.slow, 0.1},
		} {
			e := relative(r.got, r.want)
			worst[r.name] = math.Max(worst[r.name], e)
			if validation.Off(t, e, 0, r.most) {
				t.Errorf("%s, %d cycles at 2 ms: %s off by %.2f %%", b.w.Name, b.cycles, r.name, 100*e)
			}
		}
	}
	t.Logf("worst at 2 ms: %v", worst)
}

// ISO 8041-1:2017 tables 4 and 5: tolerance of a weighting's magnitude, +12/−11
// % between 10^−0.2 and 10^1.8 Hz, +26/−21 % between 10^−0.6 and 10^2.2 Hz,
// +26/−100 % outside; ±4 % at the reference frequency. The digital filters must
// keep it at every step they are made for.
func TestWeightingTolerance(t *testing.T) {
	validation.Against(t, "Digital weighting filters at every step", validation.Printed, "tolerances of ISO 8041-1:2017, tables 4 and 5", "floor-acceleration")
	for _, step := range []float64{comfort.LongestStep, 2e-3, 1.5e-3, 1e-3, 5e-4, 1e-4, comfort.ShortestStep} {
		for _, w := range []comfort.Weighting{comfort.Wk, comfort.Wd, comfort.Wc, comfort.We} {
			f, err := comfort.NewFilter(w, step)
			if err != nil {
				t.Fatal(err)
			}
			for e := -1.0; e < math.Min(2.6, math.Log10(0.499/step)); e += 0.01 {
				at := math.Pow(10, e)
				d := cmplx.Abs(f.Response(at))/w.Gain(at) - 1
				up, down := 0.26, -1.0
				switch {
				case e >= -0.2 && e <= 1.8:
					up, down = 0.12, -0.11
				case e >= -0.6 && e <= 2.2:
					up, down = 0.26, -0.21
				}
				if validation.Off(t, d, 0.5*(up+down), 0.5*(up-down)) {
					t.Errorf("%s at %.4g Hz, step %.3g s: %+.1f %% off", w.Name, at, step, 100*d)
				}
			}
			at := 100 / (2 * math.Pi)
			if d := cmplx.Abs(f.Response(at))/w.Gain(at) - 1; validation.Off(t, d, 0, 0.04) {
				t.Errorf("%s at the reference frequency, step %.3g s: %+.1f %% off", w.Name, step, 100*d)
			}
		}
	}
}

// ISO 2631-1:1997 annex C.2.3 (the last two bands from memory): the bands
// overlap, so 0.55 m/s² has two answers.
func TestReactions(t *testing.T) {
	validation.Against(t, "What people say to a vibration total", validation.Printed, "ISO 2631-1:1997, annex C.2.3")
	for _, r := range []struct {
		total float64
		want  []comfort.Reaction
	}{
		{0.2, []comfort.Reaction{comfort.NotUncomfortable}},
		{0.315, []comfort.Reaction{comfort.ALittleUncomfortable}},
		{0.4, []comfort.Reaction{comfort.ALittleUncomfortable}},
		{0.55, []comfort.Reaction{comfort.ALittleUncomfortable, comfort.FairlyUncomfortable}},
		{0.7, []comfort.Reaction{comfort.FairlyUncomfortable}},
		{0.9, []comfort.Reaction{comfort.FairlyUncomfortable, comfort.Uncomfortable}},
		{1.4, []comfort.Reaction{comfort.Uncomfortable, comfort.VeryUncomfortable}},
		{2.2, []comfort.Reaction{comfort.VeryUncomfortable, comfort.ExtremelyUncomfortable}},
		{3, []comfort.Reaction{comfort.ExtremelyUncomfortable}},
	} {
		got := comfort.Reactions(r.total)
		same := len(got) == len(r.want)
		for i := 0; same && i < len(got); i++ {
			same = got[i] == r.want[i]
		}
		if !validation.Same(t, same, true) {
			t.Errorf("%g m/s² is %v; the standard's bands say %v", r.total, got, r.want)
		}
	}
}

// Dose factors derived here: sine (3/2)^¼ = 1.10668192, Gaussian 3^¼ =
// 1.31607401; estimated dose 1.4·a·T^¼ (BS 6841:1987, from memory).
func TestDoseFactors(t *testing.T) {
	validation.Against(t, "Vibration dose against root mean square", validation.Derived, "closed form; BS 6841:1987 for the estimate (from memory)", "vibration-dose")
	m, err := comfort.NewMeter(comfort.Unweighted, 1e-3)
	if err != nil {
		t.Fatal(err)
	}
	for i := range 60000 {
		m.Add(math.Sin(2 * math.Pi * 5 * float64(i) * 1e-3))
	}
	s, err := m.Result()
	if err != nil {
		t.Fatal(err)
	}
	if got := s.VDVRatio(); validation.Share(t, got, 1.10668192, 1e-8) {
		t.Errorf("dose factor of a sine is %.9f; want 1.10668192", got)
	}
	if got, want := s.EstimatedVDV(), 1.4*math.Sqrt(0.5)*math.Pow(60, 0.25); validation.Share(t, got, want, 1e-9) {
		t.Errorf("estimated dose is %.9f; want %.9f", got, want)
	}
	if got := s.CrestFactor(); validation.Share(t, got, math.Sqrt2, 1e-9) {
		t.Errorf("crest factor of a sine is %.9f; want √2", got)
	}

	m.Reset()
	// A Gaussian by its quantiles: equal areas, so no random scatter.
	const n = 200000
	for i := range n {
		p := (float64(i) + 0.5) / n
		m.Add(math.Sqrt2 * math.Erfinv(2*p-1))
	}
	if s, err = m.Result(); err != nil {
		t.Fatal(err)
	}
	if got := s.VDVRatio(); validation.Share(t, got, 1.31607401, 1e-4) {
		t.Errorf("dose factor of a Gaussian is %.6f; want 1.31607401", got)
	}
}

// ISO 2631-1:1997 clause 8.2.2.1 (from memory): weighting and multiplying factor
// of the twelve axes of a seated person.
func TestSeatedAxes(t *testing.T) {
	validation.Against(t, "Weighting and factor of each axis of a seated person", validation.Printed, "ISO 2631-1:1997, 8.2.2.1 (from memory)", "seat-acceleration")
	want := map[string]struct {
		weighting  string
		multiplier float64
	}{
		"seat x": {"Wd", 1}, "seat y": {"Wd", 1}, "seat z": {"Wk", 1},
		"back x": {"Wc", 0.8}, "back y": {"Wd", 0.5}, "back z": {"Wd", 0.4},
		"feet x": {"Wk", 0.25}, "feet y": {"Wk", 0.25}, "feet z": {"Wk", 0.4},
		"seat roll": {"We", 0.63}, "seat pitch": {"We", 0.4}, "seat yaw": {"We", 0.2},
	}
	axes := comfort.Seated()
	if len(axes) != len(want) {
		t.Fatalf("%d axes; want %d", len(axes), len(want))
	}
	for _, a := range axes {
		w, ok := want[a.Name]
		if !ok || !validation.Same(t, a.Weighting.Name, w.weighting) || !validation.Same(t, a.Multiplier, w.multiplier) {
			t.Errorf("%s: %s times %g; want %+v", a.Name, a.Weighting.Name, a.Multiplier, w)
		}
	}
}

// ISO 2631-1:1997 clauses 6.2.2 and 6.3.3 (the ratios from memory): the root
// mean square alone is adequate up to a crest factor of 9, MTVV/a_w of 1.5 and
// VDV/(a_w·T^¼) of 1.75.
func TestBasicMethodLimits(t *testing.T) {
	validation.Against(t, "Where the root mean square alone is not enough", validation.Printed, "ISO 2631-1:1997, 6.2.2 and 6.3.3", "floor-acceleration")
	for _, r := range []struct {
		s    comfort.Summary
		want int
	}{
		{comfort.Summary{Duration: 16, RMS: 1, Peak: 9, MTVV: 1.5, VDV: 3.5}, 0},
		{comfort.Summary{Duration: 16, RMS: 1, Peak: 9.01, MTVV: 1.5, VDV: 3.5}, 1},
		{comfort.Summary{Duration: 16, RMS: 1, Peak: 9, MTVV: 1.51, VDV: 3.5}, 1},
		{comfort.Summary{Duration: 16, RMS: 1, Peak: 9, MTVV: 1.5, VDV: 3.51}, 1},
		{comfort.Summary{Duration: 16, RMS: 1, Peak: 10, MTVV: 2, VDV: 4}, 3},
		{comfort.Summary{Duration: 16}, 0},
	} {
		if got := r.s.Doubts(); !validation.Same(t, len(got), r.want) {
			t.Errorf("%+v raises %v; want %d doubts", r.s, got, r.want)
		}
	}
}
