package ride

import (
	"context"
	"testing"
)

// A glance hears the first of the checked runs, moment for moment what the plain
// run at that step tells.
func TestGlanceHearsTheFirstRun(t *testing.T) {
	m, err := Compile(estate())
	if err != nil {
		t.Fatal(err)
	}
	run := Run{Left: newWavy(5, 256e-6, 50), Right: newWavy(6, 256e-6, 50), Speed: 20, Duration: 3, Settle: 1, Step: 1e-3}
	var plain, glanced []Moment
	own := run
	own.Each = func(o *Moment) { plain = append(plain, *o) }
	var res Result
	if err := m.Simulate(context.Background(), own, &res); err != nil {
		t.Fatal(err)
	}
	own = run
	own.Glance = func(o *Moment) { glanced = append(glanced, *o) }
	if err := m.SimulateChecked(context.Background(), own, 0, &res); err != nil {
		t.Fatal(err)
	}
	if len(plain) == 0 || len(plain) != len(glanced) {
		t.Fatalf("%d moments of the plain run, %d glanced", len(plain), len(glanced))
	}
	for i := range plain {
		if plain[i] != glanced[i] {
			t.Fatalf("moment %d is %+v, glanced %+v", i, plain[i], glanced[i])
		}
	}
}
