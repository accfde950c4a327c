package levelling_test

import (
	"math"
	"strings"
	"testing"

	"trunnion/chassis/scales"
	"trunnion/shop/intake"
)

// Every slip of a pencil that makes a figure no such car has is stopped, and the slip itself is the first explanation:
// any two corners taken for each other, the point a place off, the first digits transposed, pounds for kilograms, a
// minus.
func TestEverySlipIsNamedFirst(t *testing.T) {
	_, job, b := demo(t)
	rig := rigOf(t, job, b, nil)
	m := scales.NewModel(rig, scales.Priors(), scales.Noises([4]float64{}))
	stand, err := m.Stand([4]float64{})
	if err != nil {
		t.Fatal(err)
	}
	tried := 0
	first := func(name string, round *intake.RoundTyped, code string, corner, other int, text string) {
		t.Helper()
		tried++
		l := work(t, rig, b, []*intake.RoundTyped{round})
		if !l.Stopped {
			t.Errorf("%s: it is not stopped", name)
			return
		}
		for k := range l.Gates[0].Checks {
			c := &l.Gates[0].Checks[k]
			if c.Verdict != scales.Stop || len(c.Causes) == 0 {
				continue
			}
			if x := &c.Causes[0]; x.Code != code || x.Corner != corner || x.Other != other || text != "" && !same(t, x.Text, text) {
				t.Errorf("%s: %s is explained first by %+v, want %s %s", name, c.Code, *x, code, text)
			}
			return
		}
		t.Errorf("%s: nothing explains it: %+v", name, l.Gates[0].Checks)
	}
	// Loads that differ by less are no slip that a first weighing could tell: the car may be so.
	const apart = 50.0 // [kg]
	for one := range 4 {
		for two := one + 1; two < 4; two++ {
			if math.Abs(stand.Reading.Load[one]-stand.Reading.Load[two]) < apart {
				continue
			}
			round := typed(stand.Reading)
			round.Loads[one], round.Loads[two] = round.Loads[two], round.Loads[one]
			first("loads swapped", round, "loads-swapped", one, two, "")
		}
	}
	right := typed(stand.Reading)
	for i := range 4 {
		for _, height := range []bool{false, true} {
			slip := func(change func(string) string, code, text string) {
				t.Helper()
				round := typed(stand.Reading)
				at := &round.Loads[i]
				if height {
					at = &round.Heights[i]
				}
				*at = change(*at)
				first(*at, round, code, i, -1, text)
			}
			was := right.Loads[i]
			if height {
				was = right.Heights[i]
			}
			slip(func(s string) string { return strings.Replace(s, ".", "", 1) }, "point-moved", was)
			slip(func(s string) string { return s[:2] + "." + s[2:3] + s[4:] }, "point-moved", "")
			slip(func(s string) string { return "-" + s }, "sign-slipped", was)
			if was[0] != was[1] && math.Abs(float64(was[0])-float64(was[1])) > 1 {
				slip(func(s string) string { return s[1:2] + s[:1] + s[2:] }, "digits-transposed", was)
			}
		}
		round := typed(stand.Reading)
		round.Loads[i] = pounds(t, round.Loads[i])
		first(round.Loads[i], round, "other-unit", i, -1, "")
	}
	if tried < 30 {
		t.Errorf("%d slips tried", tried)
	}
}
