package levelling_test

import (
	"strings"
	"testing"

	"trunnion/chassis/car"
	"trunnion/chassis/scales"
	"trunnion/shop/intake"
	"trunnion/shop/levelling"
	"trunnion/shop/quantity"
	"trunnion/shop/wording"
)

// Nobody is told to turn anything before a reading has passed: not by a collar, not by
// a price, not in a sentence.
func TestNoTurnBeforeAReading(t *testing.T) {
	_, job, b := demo(t)
	tell := wording.New(nil, quantity.Metric)
	incomplete := typed(scales.Reading{Load: [4]float64{432, 465, 327, 321}, Height: [4]float64{0.35, 0.345, 0.358, 0.355}})
	incomplete.Loads[2] = ""
	for name, rounds := range map[string][]*intake.RoundTyped{"nothing read": nil, "one load missing": {incomplete}} {
		l := work(t, rigOf(t, job, b, nil), b, rounds)
		if !l.Stopped || l.Now() != "Weigh the car" {
			t.Errorf("%s: stopped %v, to do now %q", name, l.Stopped, l.Now())
		}
		if says := l.Says(tell); strings.Contains(says, " up") || strings.Contains(says, " down") {
			t.Errorf("%s: it says %q", name, says)
		}
		d := l.Document("test", tell)
		if len(d.Collars)+len(d.Prices) > 0 || d.Single != nil || d.After != nil {
			t.Errorf("%s: the document holds a move: %+v, %+v", name, d.Collars, d.Prices)
		}
	}
}

// An odd reading stops the plan, is named by its corner and by the slip that would
// explain it; read again and found right, it passes.
func TestOddReadingIsNamed(t *testing.T) {
	_, job, b := demo(t)
	rig := rigOf(t, job, b, nil)
	m := scales.NewModel(rig, scales.Priors(), scales.Noises([4]float64{}))
	stand, err := m.Stand([4]float64{})
	if err != nil {
		t.Fatal(err)
	}
	right := typed(stand.Reading)
	if l := work(t, rig, b, []*intake.RoundTyped{right}); l.Stopped {
		t.Fatalf("readings as predicted are stopped: %s", l.Says(wording.New(nil, quantity.Metric)))
	}
	for _, row := range []struct {
		name   string
		slip   func(*intake.RoundTyped)
		code   string
		corner int
		cause  string
		text   string
	}{
		{"a point slipped", func(r *intake.RoundTyped) { r.Loads[1] = strings.Replace(r.Loads[1], ".", "", 1) }, "odd-reading", 1, "point-moved", right.Loads[1]},
		{"two digits of a height transposed", func(r *intake.RoundTyped) { r.Heights[0] = swapped(r.Heights[0]) }, "odd-reading", 0, "digits-transposed", right.Heights[0]},
		{"a height 20 mm off", func(r *intake.RoundTyped) { r.Heights[3] = plus(t, r.Heights[3], 0.020) }, "odd-reading", 3, "digit-misread", right.Heights[3]},
		{"a load in pounds with its unit forgotten", func(r *intake.RoundTyped) { r.Loads[2] = pounds(t, r.Loads[2]) }, "units-mixed", 2, "", ""},
		{"front loads the wrong way about", func(r *intake.RoundTyped) { r.Loads[0], r.Loads[1] = r.Loads[1], r.Loads[0] }, "corners-swapped", 0, "loads-swapped", ""},
		{"heights of front left and rear left the wrong way about", func(r *intake.RoundTyped) { r.Heights[0], r.Heights[2] = plus(t, r.Heights[2], 0.03), r.Heights[0] }, "", -1, "", ""},
	} {
		round := typed(stand.Reading)
		row.slip(round)
		l := work(t, rig, b, []*intake.RoundTyped{round})
		if row.code == "" {
			if !l.Stopped {
				t.Errorf("%s: it is not stopped", row.name)
			}
			continue
		}
		var got *scales.Check
		for k := range l.Gates[0].Checks {
			if c := &l.Gates[0].Checks[k]; c.Code == row.code && c.Verdict == scales.Stop {
				got = c
			}
		}
		if !l.Stopped || got == nil || got.Corner != row.corner {
			t.Errorf("%s: stopped %v by %+v, want %s at corner %d", row.name, l.Stopped, l.Gates[0].Checks, row.code, row.corner)
			continue
		}
		named := row.cause == ""
		for _, c := range got.Causes {
			named = named || c.Code == row.cause && (row.text == "" || same(t, c.Text, row.text))
		}
		if !named {
			t.Errorf("%s: explained by %+v, want %s %s", row.name, got.Causes, row.cause, row.text)
		}
		if !strings.HasPrefix(l.Now(), "Read ") {
			t.Errorf("%s: to do now is %q", row.name, l.Now())
		}
		round.Confirmed = "yes"
		if again := work(t, rig, b, []*intake.RoundTyped{round}); got.Doubt() == again.Stopped && row.code == "odd-reading" && !strings.Contains(row.name, "point") {
			t.Errorf("%s: read again and right, it is still stopped: %s", row.name, again.Says(wording.New(nil, quantity.Metric)))
		}
	}
}

func work(t *testing.T, rig *scales.Rig, b *car.Build, rounds []*intake.RoundTyped) *levelling.Result {
	t.Helper()
	var list []intake.Weighing
	for k, r := range rounds {
		w, faults := r.Weigh()
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		if k == 0 {
			w.Turned = [4]float64{}
		}
		list = append(list, w)
	}
	l, err := levelling.Work(b, "driver", rig, scales.Road.Level(scales.FrontRightRearLeft), list)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// swapped is a figure with its second and third digit the other way about.
func swapped(text string) string {
	return text[:1] + text[2:3] + text[1:2] + text[3:]
}

func plus(t *testing.T, text string, by float64) string {
	t.Helper()
	v, err := quantity.Parse(text, quantity.Length)
	if err != nil {
		t.Fatal(err)
	}
	return quantity.Format(v.Value+by, quantity.Length, quantity.Metric, 1)
}

// pounds is a mass whose pounds were written down as kilograms.
func pounds(t *testing.T, text string) string {
	t.Helper()
	v, err := quantity.Parse(text, quantity.Mass)
	if err != nil {
		t.Fatal(err)
	}
	return strings.TrimSuffix(quantity.Format(v.Value, quantity.Mass, quantity.Imperial, 1), " lb") + " kg"
}

func same(t *testing.T, a, b string) bool {
	t.Helper()
	for _, kind := range []quantity.Kind{quantity.Mass, quantity.Length} {
		x, errA := quantity.Parse(a, kind)
		y, errB := quantity.Parse(b, kind)
		if errA == nil && errB == nil {
			return x.Value == y.Value
		}
	}
	return false
}
