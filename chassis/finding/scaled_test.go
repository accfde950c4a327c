package finding

import (
	"math"
	"testing"

	"trunnion/chassis/brief"
	"trunnion/chassis/figure"
)

// What is a blow of a stop scales with what its corner carries: the same newtons for
// every build, twice as many under twice the load, and none of it where the workshop
// chose its own.
func TestBlowScalesWithTheCorner(t *testing.T) {
	i := -1
	for k := range roadRules {
		if roadRules[k].Code == "stop-blow" {
			i = k
		}
	}
	if i < 0 {
		t.Fatal("no such rule")
	}
	r := &roadRules[i]
	b := &brief.Brief{}
	light, heavy := &figure.Value{Value: 2000}, &figure.Value{Value: 4300}
	if l := r.limit(b, false, light); math.Abs(l.Value-1400) > 1e-9 || l.From != "default" {
		t.Errorf("under 2000 N: %+v", l)
	}
	if l := r.limit(b, false, heavy); math.Abs(l.Value-3010) > 1e-9 {
		t.Errorf("under 4300 N: %+v", l)
	}
	if l := r.limit(b, false, nil); l != nil {
		t.Errorf("of a corner whose load is not known: %+v", l)
	}
	b.Limits.StopForce = figure.Input{Value: 2500, Origin: figure.Chosen, Path: "brief.limits.stop_force"}
	if l := r.limit(b, false, heavy); l.Value != 2500 || l.From != "brief.limits.stop_force" {
		t.Errorf("the workshop's own: %+v", l)
	}
}

// A mount that wears much faster than the baseline's is no finding while its own rated
// range says that it hardly wears.
func TestWearThatMatters(t *testing.T) {
	for _, c := range []struct {
		ratio, low, high float64
		verdict          Verdict
	}{{2, 1, 4, Clear}, {40, 30, 53.3, Over}, {9, 3, 27, Close}} {
		v := &figure.Value{Code: "mount-damage-relative", Value: c.ratio, Low: c.low, High: c.high, HasBand: true}
		if got, p := bandVerdict(v, fixed(10, "1", true, practice)); got != c.verdict {
			t.Errorf("%g (%g to %g) is %s, %g", c.ratio, c.low, c.high, got, p)
		}
	}
}
