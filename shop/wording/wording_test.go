package wording_test

import (
	"context"
	"errors"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"trunnion/chassis/drives"

	"trunnion/chassis/demo"
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
	"trunnion/chassis/remedy"
	"trunnion/chassis/ride"
	"trunnion/chassis/study"
	"trunnion/shop/quantity"
	"trunnion/shop/wording"
)

var systems = map[string]quantity.System{"metric": quantity.Metric, "imperial": quantity.Imperial, "mixed": quantity.Mixed}

func answered(t testing.TB, samples int) (*study.Answer, []finding.Finding) {
	t.Helper()
	job := demo.Marl()
	opt := study.Defaults()
	opt.Samples = samples
	a, err := study.Run(context.Background(), study.Job(job), opt)
	if err != nil {
		t.Fatal(err)
	}
	list := finding.Judge(a)
	if _, err := remedy.Judge(context.Background(), a, list); err != nil {
		t.Fatal(err)
	}
	return a, list
}

// Units that belong to one system only, behind a figure or by themselves.
var (
	metricUnit   = regexp.MustCompile(`\d ?(mm|cm|m|km|kg|N|kN|bar|kPa|MPa|J|W|L)\b|\b(mm|km/h|N/mm|mm/s|N·m|kg·m²|N·s/m)(\W|$)|m/s|\b(kg|kN)\b`)
	imperialUnit = regexp.MustCompile(`\b(lbf|lb|psi|mph|hp)\b|\d ?(in|ft)\b[^a-z]|\bin/s|per mile`)
)

// sentences is all a teller says of an answer, workings included.
func sentences(a *study.Answer, list []finding.Finding, system quantity.System) []string {
	t := wording.New(a, system)
	var out []string
	for i := range list {
		s := t.Finding(&list[i])
		out = append(out, s.What, s.Why, s.Limit, s.Also, s.Text())
		out = append(out, s.Remedies...)
		if list[i].Narrow != nil {
			out = append(out, t.Measure(list[i].Value, list[i].Narrow))
		}
	}
	for i := range a.Warnings {
		out = append(out, t.Warning(&a.Warnings[i]))
	}
	for i := range a.Values {
		v := &a.Values[i]
		out = append(out, t.Place(v.Place)+": "+t.Value(v)+" "+t.Doubt(v))
		if v.Working != nil {
			for _, l := range t.Working(v.Code, v.Working) {
				out = append(out, l.Symbol+" | "+l.Figure+" | "+l.Name+" | "+l.Origin+" | "+l.Note)
			}
		}
	}
	return append(out, wording.Cautions()...)
}

func TestEachSystemSpeaksItsOwnUnits(t *testing.T) {
	a, list := answered(t, 60)
	if err := drives.Ride(context.Background(), a, drives.Options{Samples: 1, Duration: 3, Settle: 1, StopForces: []float64{1000}, Tolerance: 0.1, Seed: 1}, nil); err != nil {
		t.Fatal(err)
	}
	checked := 0
	for name, wrong := range map[string]*regexp.Regexp{"metric": imperialUnit, "imperial": metricUnit} {
		faults := 0
		for _, s := range sentences(a, list, systems[name]) {
			checked++
			if at := wrong.FindString(strings.ReplaceAll(s, " in 100", "")); at != "" && faults < 10 {
				faults++
				t.Errorf("%s text has %q: %s", name, at, s)
			}
		}
	}
	if checked < 1000 {
		t.Fatalf("only %d sentences were looked at", checked)
	}
	// The expressions themselves must see what they are for.
	for _, s := range []string{"9.8 mm left", "at 60 km/h", "45.0 N/mm", "1000 N", "2.30 bar", "1.2 m/s²"} {
		if !metricUnit.MatchString(s) {
			t.Errorf("%q is not seen as metric", s)
		}
	}
	for _, s := range []string{"0.39 in left", "at 37 mph", "257 lbf/in", "224 lbf", "33.4 psi"} {
		if !imperialUnit.MatchString(s) {
			t.Errorf("%q is not seen as imperial", s)
		}
	}
}

func TestMixedIsMetricButForSpringsAndPressures(t *testing.T) {
	teller := wording.New(nil, quantity.Mixed)
	for _, row := range []struct {
		code, unit string
		value      float64
		want       string
	}{
		{"wheel-rate", "N/m", 45e3, "257 lbf/in"},
		{"travel-to-stop", "m", 0.0098, "9.8 mm"},
		{"", "Pa", 2.3e5, "33.4 psi"},
		{"road", "m/s", 60 / 3.6, "60 km/h"},
	} {
		if got := teller.Amount(row.code, row.unit, row.value); got != row.want {
			t.Errorf("%s of %g %s: got %q, want %q", row.code, row.value, row.unit, got, row.want)
		}
	}
}

// The factors are those of shop/quantity, checked there against their sources;
// here, that each code is shown in the unit the trade says it in.
func TestAmount(t *testing.T) {
	for _, row := range []struct {
		code, unit       string
		value            float64
		metric, imperial string
	}{
		{"travel-to-stop", "m", -0.0103, "-10.3 mm", "-0.41 in"},
		{"wheel-rate", "N/m", 26700, "26.7 N/mm", "152 lbf/in"},
		{"corner-load", "N", 4200, "4200 N", "944 lbf"},
		{"sprung-mass", "kg", 1293, "1293.0 kg", "2851 lb"},
		{"stop-share", "1", 0.091, "9.1 %", "9.1 %"},
		{"damping-ratio", "1", 0.205, "0.20", "0.20"},
		{"catch-speed", "m/s", 0.559, "559 mm/s", "22.0 in/s"},
		{"stop-hits", "1/m", 0.0412, "41.2 per km", "66.3 per mile"},
		{"wheel-rate", "1/m", 0.4, "0.00040 1/mm", "0.0102 1/in"},
		{"corner-frequency", "Hz", 1.28, "1.28 Hz", "1.28 Hz"},
		{"floor-acceleration", "m/s^2", 0.4903325, "0.49 m/s²", "0.050 g"},
		{"vibration-dose", "m/s^1.75", 9.80665, "9.8 m/s^1.75", "1.000 g·s^0.25"},
		{"roll-gradient", "rad/(m/s^2)", 0.00978834, "5.5 deg/g", "5.5 deg/g"},
		{"", "J", 100, "100.0 J", "74 ft·lbf"},
		{"damper-power", "W", 85, "85 W", "0.114 hp"},
	} {
		for name, want := range map[string]string{"metric": row.metric, "imperial": row.imperial} {
			if got := wording.New(nil, systems[name]).Amount(row.code, row.unit, row.value); got != want {
				t.Errorf("%s, %s: %g %s is shown as %q, want %q", row.code, name, row.value, row.unit, got, want)
			}
		}
	}
}

func TestEveryUnitOfTheRegisterAndOfTheWorkingsIsKnown(t *testing.T) {
	a, _ := answered(t, 0)
	units := map[string]bool{}
	for _, e := range figure.Register() {
		units[e.Unit] = true
	}
	var walk func(w *figure.Working)
	seen := map[*figure.Working]bool{}
	walk = func(w *figure.Working) {
		if w == nil || seen[w] {
			return
		}
		seen[w] = true
		units[w.Unit] = true
		for i := range w.Terms {
			units[w.Terms[i].Unit] = true
			walk(w.Terms[i].Working)
		}
	}
	for i := range a.Values {
		walk(a.Values[i].Working)
	}
	if len(units) < 10 {
		t.Fatalf("only %d units were found", len(units))
	}
	teller := wording.New(nil, quantity.Imperial)
	for u := range units {
		// 1/s of a pole, and its square, is the same in every system; a pure number has no unit.
		if got := teller.Amount("", u, 1.5); strings.HasSuffix(got, " "+u) && u != "1/s" && u != "1/s^2" && u != "Hz" && u != "s" {
			t.Errorf("unit %q is shown as it stands, %q: no conversion is known", u, got)
		}
	}
}

// Every finding code, verdict and sign makes whole sentences.
func TestEveryFindingMakesSentences(t *testing.T) {
	rules := append(append([]finding.Rule{}, finding.Rules()...), finding.RoadRules()...)
	told := 0
	for i := range rules {
		r := &rules[i]
		entry, ok := figure.Look(r.Judges)
		if !ok {
			t.Fatalf("%s judges %q, which is no result code", r.Code, r.Judges)
		}
		generic := wording.Name(r.Judges)
		for _, value := range []float64{-0.0121, 0.0121, 0} {
			for _, system := range systems {
				v := &figure.Value{
					Code: r.Judges, Value: value, Low: value - 0.004, High: value + 0.005, HasBand: true, State: figure.OK,
					Place: figure.Place{Build: "kit", Load: "four-aboard", Corner: figure.RearLeft, At: entry.At, Road: "village-lane", Speed: 16, Mode: "hose", Threshold: 1000},
				}
				if entry.Per == "car" || entry.Per == "axle" {
					v.Place.Corner, v.Place.Mode = figure.NoCorner, "rear"
				}
				f := &finding.Finding{Code: r.Code, Verdict: finding.Over, Value: v, Limit: r.DefaultLimit()}
				for _, s := range []string{wording.New(nil, system).Finding(f).What, wording.New(nil, system).Finding(f).Text()} {
					told++
					if !whole(s) {
						t.Errorf("%s at %g: not a sentence: %q", r.Code, value, s)
					}
					if strings.HasPrefix(strings.ToLower(s), generic+" at ") {
						t.Errorf("%s has no sentence of its own: %q", r.Code, s)
					}
				}
			}
		}
	}
	if told < 100 {
		t.Fatalf("only %d sentences were told", told)
	}
}

// whole reports a text that starts like a sentence, ends like one and has no
// hole in it.
func whole(s string) bool {
	return s != "" && strings.HasSuffix(s, ".") && !strings.ContainsAny(s, "{}[]") && !strings.Contains(s, "  ") &&
		!strings.Contains(s, "NaN") && !strings.Contains(s, "..") && !strings.Contains(s, " .") && !strings.Contains(s, "--")
}

func TestWarningsAreSentences(t *testing.T) {
	a, _ := answered(t, 0)
	for name, system := range systems {
		teller := wording.New(a, system)
		for _, code := range wording.WarningCodes() {
			for _, w := range []study.Warning{
				{Code: code, Corner: figure.NoCorner},
				{Code: code, Build: "kit", Load: "holiday", Corner: figure.RearRight, Value: 0.0123, Unit: "m"},
				{Code: code, Corner: figure.NoCorner, Value: math.NaN(), Unit: "m"},
			} {
				if s := teller.Warning(&w); !whole(s) {
					t.Errorf("%s in %s: not a sentence: %q", code, name, s)
				}
			}
			if s := wording.Note(code); !whole(s) {
				t.Errorf("%s: not a sentence: %q", code, s)
			}
		}
		for i := range a.Warnings {
			if !slices.Contains(wording.WarningCodes(), a.Warnings[i].Code) {
				t.Errorf("warning %s of the demo has no sentence", a.Warnings[i].Code)
			}
		}
	}
}

func TestNobodyIsToldThatACarIsLegalOrSafe(t *testing.T) {
	a, list := answered(t, 60)
	verdict := regexp.MustCompile(`(?i)\b(legal|legally|safe|safely|safety|roadworthy|approved|certified|permitted)\b`)
	for _, s := range sentences(a, list, quantity.Metric) {
		if at := verdict.FindString(s); at != "" {
			t.Errorf("says %q: %s", at, s)
		}
	}
	all := strings.Join(wording.Cautions(), " ")
	for _, must := range []string{"spring", "Gas", "Stands", "hoses", "alignment", "headlamp", "local code", "licensed"} {
		if !strings.Contains(all, must) {
			t.Errorf("the cautions do not speak of %q", must)
		}
	}
}

// The finding a specialist looks for first, as it is told.
func TestRestsOnTheRearStops(t *testing.T) {
	a, list := answered(t, 400)
	teller := wording.New(a, quantity.Metric)
	for i := range list {
		f := &list[i]
		if f.Code != "rests-on-bump-stop" || f.Value.Place.Build != "lower-old" || f.Value.Place.Corner != figure.RearLeft {
			continue
		}
		s := teller.Finding(f)
		form := regexp.MustCompile(`^The rear left corner rests [0-9.]+ mm into its stop.* \([0-9]+ to [0-9]+\)\. The stop carries [0-9.]+ % of the tyre's load\.$`)
		if !form.MatchString(s.What) {
			t.Errorf("got %q", s.What)
		}
		if !strings.Contains(s.Why, "lower than") {
			t.Errorf("it is not said why: %q", s.Why)
		}
		longer := slices.IndexFunc(s.Remedies, func(r string) bool { return strings.Contains(r, "longer, of the same rate (60 N/mm, 270 mm free)") })
		if longer < 0 || !strings.Contains(s.Remedies[longer], "stands") {
			t.Errorf("the trade's first answer is not told: %q", s.Remedies)
		}
		return
	}
	t.Fatal("the demo has no such finding")
}

func TestBandsSayBothSigns(t *testing.T) {
	v := func(value, low, high float64) *finding.Finding {
		return &finding.Finding{Code: "rests-on-bump-stop", Verdict: finding.Close, Value: &figure.Value{
			Code: "travel-to-stop", Value: value, Low: low, High: high, HasBand: true, State: figure.OK,
			Place: figure.Place{Build: "kit", Load: "holiday", Corner: figure.RearLeft, At: "wheel"},
		}}
	}
	teller := wording.New(nil, quantity.Metric)
	for _, row := range []struct {
		f    *finding.Finding
		want string
	}{
		{v(-0.0103, -0.016, -0.004), "The rear left corner rests 10.3 mm into its stop, loaded as “holiday” (4 to 16)."},
		{v(-0.0038, -0.0106, 0.0059), "3.8 mm into its stop, loaded as “holiday” (11 into it to 6 clear)."},
		{v(0.0098, 0.001, 0.018), "The rear left stop is 9.8 mm clear, loaded as “holiday” (1 to 18)."},
		{v(0.0024, -0.005, 0.0101), "(5 into it to 10 clear)."},
	} {
		if got := teller.Finding(row.f).What; !strings.Contains(got, row.want) {
			t.Errorf("got %q, want in it %q", got, row.want)
		}
	}
}

// What a remedy turns over is said in words, not left to a minus sign.
func TestRemedySaysWhatItTurnsOver(t *testing.T) {
	place := figure.Place{Build: "kit", Load: "driver", Corner: figure.RearLeft}
	effect := func(code string, before, after float64) finding.Effect {
		return finding.Effect{Code: code, Place: place, Before: before, After: after, Unit: "m"}
	}
	f := &finding.Finding{Code: "rests-on-bump-stop", Verdict: finding.Over, Value: &figure.Value{Code: "travel-to-stop", Value: -0.01, State: figure.OK, Place: place}}
	r := &finding.Remedy{Code: "shorter-damper", Axle: 1, Side: figure.RearLeft, Change: -0.015, Unit: "m", After: 0.0047, VerdictNow: finding.Clear, Worsens: []finding.Effect{
		effect("solid-before-arch", 0.0114, -0.0048), effect("spring-gap-open", -0.0123, 0.0031), effect("travel-to-open", 0.1046, 0.0876),
	}}
	want := "Rear left: dampers made to order, 15 mm shorter open and closed. It gives 4.7 mm clear of the stop: clear. It costs: the tyre then meets the arch 4.8 mm before the stop is solid, " +
		"the spring is then 3.1 mm loose at full droop, rebound travel left from 104.6 to 87.6 mm."
	if got := wording.New(nil, quantity.Metric).Remedy(f, r); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	r.Worsens, r.Code, r.Side = nil, "packer", figure.NoCorner
	r.Sizes = []finding.Size{{Code: "packer", Is: 0.015, Unit: "m", Corner: figure.NoCorner}}
	if got := wording.New(nil, quantity.Imperial).Remedy(f, r); got != "Rear: a packer of 0.59 in. It gives 0.19 in clear of the stop: clear. Nothing else that is judged gets worse." {
		t.Errorf("got %s", got)
	}
}

func TestFailures(t *testing.T) {
	a, _ := answered(t, 0)
	rest := &equilibrium.NoRest{Corner: figure.RearLeft, Residual: 2000}
	rest.Last.Travel[figure.RearLeft] = 0.11
	for _, row := range []struct {
		err          error
		metric, inch string
	}{
		{rest, "2000 N is left over at rear left with the wheel 110.0 mm into bump", "450 lbf is left over at rear left with the wheel 4.33 in into bump"},
		{&equilibrium.NoRest{Corner: figure.FrontLeft, Residual: 0.2}, "the car does not stand on its wheels", "the car does not stand on its wheels"},
		{fmt.Errorf("village: %w", &ride.RestError{Corner: 1, Miss: 500}), "500 N is missing at front right", "112 lbf is missing at front right"},
		{&ride.DivergedError{}, "grew without bound", "grew without bound"},
		{errors.New("the table is short"), "The table is short.", "The table is short."},
	} {
		for name, want := range map[string]string{"metric": row.metric, "imperial": row.inch} {
			got := wording.New(a, systems[name]).Failure(&study.Failure{Build: "kit", Load: "holiday", Err: row.err})
			if !strings.Contains(got, want) {
				t.Errorf("got %q, want in it %q", got, want)
			}
		}
	}
}

func TestWorkingRunsToItsInputs(t *testing.T) {
	a, _ := answered(t, 0)
	v := a.Get("travel-to-stop", "lower-old", "four-aboard", figure.RearLeft)
	if v == nil || v.Working == nil {
		t.Fatal("the demo has no such working")
	}
	lines := wording.New(a, quantity.Metric).Working(v.Code, v.Working)
	var origins []string
	for _, l := range lines {
		if l.Symbol != "" && (l.Figure == "" || l.Name == "" || l.Origin == "") {
			t.Errorf("a term without figure, name or origin: %+v", l)
		}
		origins = append(origins, l.Origin)
	}
	all := strings.Join(origins, " ")
	if lines[0].Equation == "" || !strings.Contains(all, "measured") || !strings.Contains(all, "computed") {
		t.Errorf("the working does not run to measured inputs: %+v", lines)
	}
}

func TestTypedIsShownInItsOwnSystemOnly(t *testing.T) {
	w := &figure.Working{Equation: "F = k*x", Unit: "N", Result: 4500, Terms: []figure.Term{
		{Symbol: "k", Name: "rate", Value: 45e3, Unit: "N/m", Origin: figure.Makers, Typed: "45 N/mm", Line: 12},
		{Symbol: "x", Name: "compression", Value: 0.1, Unit: "m", Origin: figure.Measured, Typed: "3.94 in", Line: 13},
	}}
	metric := wording.New(nil, quantity.Metric).Working("", w)
	imperial := wording.New(nil, quantity.Imperial).Working("", w)
	if metric[1].Origin != "maker's, line 12, typed “45 N/mm”" || metric[2].Origin != "measured, line 13" {
		t.Errorf("metric: %q, %q", metric[1].Origin, metric[2].Origin)
	}
	if imperial[1].Origin != "maker's, line 12" || imperial[2].Origin != "measured, line 13, typed “3.94 in”" {
		t.Errorf("imperial: %q, %q", imperial[1].Origin, imperial[2].Origin)
	}
}

func TestInputs(t *testing.T) {
	for _, row := range [][2]string{
		{"parts.springs.rear-60.free", "spring rear-60: free length"},
		{"car.rear.bush_rate", "bushes' rate, rear"},
		{"car.weighed.arch_height.rear_left", "hub-to-arch height, rear left"},
		{"car.rear.motion.spring", "spring's motion table, rear"},
		{"car.inertia.roll", "roll inertia"},
		{"friction", "friction at rest"},
		{"builds.kit.rear.packer", "kit rear: packer"},
	} {
		if got := wording.Input(row[0]); got != row[1] {
			t.Errorf("%s: got %q, want %q", row[0], got, row[1])
		}
	}
	got := strings.Join(wording.Inputs([]string{"parts.stops.a.loss", "parts.stops.b.loss", "car.zero_height.front", "car.zero_height.rear", "parts.stops.a.dynamic"}), "; ")
	if want := "stops a, b: loss; datum height front, rear; stop a: dynamic"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

func TestSystem(t *testing.T) {
	for name, want := range systems {
		if got, err := wording.System(name); err != nil || got != want {
			t.Errorf("%s: got %v, %v", name, got, err)
		}
	}
	if _, err := wording.System("furlongs"); err == nil {
		t.Error("furlongs are taken for a system of units")
	}
}
