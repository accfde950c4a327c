package desk

import (
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	made "trunnion/chassis/demo"
	"trunnion/examples"
	"trunnion/shop/quantity"
)

// Many hands on one desk: the same text and another are tried at the same time, and their workings opened; each has
// the answer it would have alone.
func TestTriedAtOnce(t *testing.T) {
	text, err := examples.Jobs.ReadFile("wend-roadster/job.yaml")
	if err != nil {
		t.Fatal(err)
	}
	other := append(append([]byte{}, text...), "# another\n"...)
	try := func(d *Desk, text []byte) *Trial {
		trial, err := d.Try(t.Context(), Typed{Text: text}, Look{}, quantity.Metric)
		if err != nil || trial.Answer == nil {
			t.Errorf("%v: %v", err, trial.Faults)
			return nil
		}
		return trial
	}
	alone := try(New("test"), text)
	d := New("test")
	var all sync.WaitGroup
	for k := range 4 {
		all.Go(func() {
			one := text
			if k%2 == 1 {
				one = other
			}
			got := try(d, one)
			if got == nil {
				return
			}
			if diff := cmp.Diff(alone.Answer.Values, got.Answer.Values, cmpopts.EquateNaNs(), cmp.Comparer(made.SameWorkings())); diff != "" {
				t.Errorf("beside others the answer is another: %.2000s", diff)
			}
			kept, err := d.Kept(got.Key)
			if err != nil {
				t.Error(err)
				return
			}
			for i := range min(2, len(kept.Findings)) {
				if _, err := kept.Finding(t.Context(), i); err != nil {
					t.Error(err)
				}
			}
		})
	}
	all.Wait()
}
