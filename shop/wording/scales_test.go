package wording

import (
	"math"
	"strings"
	"testing"

	"trunnion/chassis/scales"
	"trunnion/shop/quantity"
)

func TestTurns(t *testing.T) {
	for v, want := range map[float64]string{2.125: "2 1/8", -0.5: "1/2", 3: "3", 0.2: "0.20", -1.875: "1 7/8"} {
		if got := Turns(v); got != want {
			t.Errorf("%g turns are said %q, want %q", v, got, want)
		}
	}
}

func TestScalesTurn(t *testing.T) {
	tell := New(nil, quantity.Metric)
	c := scales.Collar{Move: -3.1875e-3, Turns: -2.125, Clockwise: true}
	if got, want := tell.ScalesTurn(&c), "2 1/8 turns down, clockwise from above (3.2 mm)"; got != want {
		t.Errorf("said %q, want %q", got, want)
	}
	inch := New(nil, quantity.Imperial)
	if got := inch.ScalesTurn(&c); !strings.Contains(got, "in)") {
		t.Errorf("in imperial units: %q", got)
	}
	c = scales.Collar{Move: 1.5e-3, Turns: 1, Held: "thread"}
	if got, want := tell.ScalesTurn(&c), "1 turn up, anticlockwise from above (1.5 mm); no further: the thread ends"; got != want {
		t.Errorf("said %q, want %q", got, want)
	}
}

// Every code has a sentence of its own, without a hole where a figure is due.
func TestScalesSentences(t *testing.T) {
	tell := New(nil, quantity.Metric)
	figures := []string{
		"readings-missing", "load", "load-expected", "factor", "total", "total-expected", "height", "height-expected", "front-share",
		"front-share-expected", "left-share", "left-share-expected", "pad-error", "misfit", "misfit-swapped", "cross-scatter", "level-scatter",
		"load-scatter", "height-scatter", "diagonal-scatter", "change-asked", "cross-floor-error", "cross-within", "cross-per-millimetre",
		"pad-span", "cross-shift", "pressure-difference", "friction", "cross-hang-up", "move-needed", "move-left",
	}
	for _, code := range []string{
		"readings-missing", "units-mixed", "units-other", "height-from-floor", "height-not-to-arch", "total", "front-share", "left-share",
		"pad-reads-wrong", "corners-swapped", "far-from-model", "read-once", "scatter", "not-turned-about", "floor-error", "pads-not-levelled",
		"pads", "pressures", "pressures-not-read", "state", "state-unsaid", "bars", "bars-unsaid", "clicks", "clicks-unsaid", "settled",
		"settled-unsaid", "hang-up", "hang-up-not-measured", "not-read", "target-outside-thread",
	} {
		c := scales.Check{Code: code, Verdict: scales.Stop, Corner: 1, Other: 2}
		for _, f := range figures {
			c.Figures = append(c.Figures, scales.Detail{Code: f, Value: 0.5, Corner: -1})
		}
		got := tell.ScalesCheck(&c)
		if got == upper(spaced(code))+"." || strings.Contains(got, quantity.Nothing+" ") || strings.Contains(got, "NaN") || !strings.HasSuffix(got, ".") {
			t.Errorf("%s is said %q", code, got)
		}
	}
	for _, code := range []string{"thread", "motion-ratio", "spring-rate", "loads-swapped", "heights-swapped", "collars-swapped", "turned-other-way", "not-turned", "bar-connected"} {
		s := scales.Suspect{Code: code, Axle: 0, Corner: 0, Other: 1, Odds: 500, Round: 1, Value: 2e-3, Stated: 1.5e-3}
		if got := tell.ScalesSuspect(&s); got == upper(spaced(code)) || !strings.Contains(got, "500 times") {
			t.Errorf("%s is said %q", code, got)
		}
	}
	for _, s := range scales.Order(nil) {
		if _, ok := steps[s.Code]; !ok {
			t.Errorf("the step %s has no name", s.Code)
		}
		for _, m := range s.Cautions {
			if _, ok := mind[m]; !ok {
				t.Errorf("the caution %s has no words", m)
			}
		}
	}
	p := scales.Plan{Price: []scales.Price{{CrossPerMetre: math.Inf(1), Cross: 0.529}, {Level: [2]float64{2e-3, -2e-3}, Cross: 0.5}}, Twist: 7.4}
	if got := tell.ScalesPrice(&p); !strings.Contains(got, "52.9 %") || !strings.Contains(got, "0.7 %") {
		t.Errorf("the price is said %q", got)
	}
}

func TestTurnsBy(t *testing.T) {
	for _, row := range []struct {
		turns, step float64
		want        string
	}{
		{-2.125, 1.0 / 8, "2 1/8"},
		{0.25, 1.0 / 8, "1/4"},
		{3 + 4.0/6, 1.0 / 6, "3 2/3"},
		{2.0 / 6, 1.0 / 6, "1/3"},
		{3, 1.0 / 6, "3"},
		{0, 1.0 / 6, "0"},
		{8.0 / 6, 1.0 / 6, "1 1/3"},
		{0.5, 1.0 / 6, "1/2"},
		{0.5, 0.25, "1/2"},
		{1.0 / 3, 1.0 / 8, "0.33"},
		{0.12345, 1.0 / 8, "0.12"},
		{2.5, 0, "2 1/2"},
		{-1.5, 0.3, "1 1/2"},
		{7.0 / 12, 1.0 / 12, "7/12"},
	} {
		if got := TurnsBy(row.turns, row.step); got != row.want {
			t.Errorf("%v by %v is %q, want %q", row.turns, row.step, got, row.want)
		}
	}
	if got := SignedTurns(-3-4.0/6, 1.0/6); got != "-3 2/3" {
		t.Errorf("signed %q", got)
	}
}
