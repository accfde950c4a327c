package ride

import (
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"trunnion/shop/view/viewtest"
)

// An obstacle is traced for all builds at the same time, and here for two who look at one trial: both see the same.
func TestTracedAtOnce(t *testing.T) {
	req, first := viewtest.Hatch(t), 0
	req.Event = &first
	trial, err := viewtest.Desk(t).Recent(t.Context(), &req, nil)
	if err != nil {
		t.Fatal(err)
	}
	var all sync.WaitGroup
	var seen [2]*View
	for k := range seen {
		all.Go(func() {
			v, err := Of(t.Context(), trial)
			if err != nil || v == nil || len(v.Charts) == 0 {
				t.Errorf("%+v: %v", v, err)
			}
			seen[k] = v
		})
	}
	all.Wait()
	if d := cmp.Diff(seen[0], seen[1], cmpopts.EquateNaNs()); d != "" {
		t.Errorf("two who look at one trial see different traces:\n%.2000s", d)
	}
}
