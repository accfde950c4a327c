package jobfile

import (
	"bytes"
	"fmt"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"

	"trunnion/examples"
)

// Texts that were taken apart lately are shared: many read and edit them at the same time, more of them than are kept,
// and each gets what it would get alone.
func TestReadAtOnce(t *testing.T) {
	text, err := examples.Jobs.ReadFile("marl-estate/job.yaml")
	if err != nil {
		t.Fatal(err)
	}
	const texts = lately + 2
	edited := func(k int) (string, error) {
		out, err := Put(fmt.Appendf(bytes.Clone(text), "# %d\n", k), "builds.kit.setup.click.front", fmt.Sprint(k+1))
		return string(out), err
	}
	var alone [texts]string
	for k := range alone {
		if alone[k], err = edited(k); err != nil {
			t.Fatal(err)
		}
	}
	whole, _ := ReadBytes(text, "job.yaml")
	var all sync.WaitGroup
	for w := range 2 {
		all.Go(func() {
			for k := range texts {
				k = (k + 5*w) % texts
				if got, err := edited(k); err != nil || got != alone[k] {
					t.Errorf("an edit beside others is another: %v", err)
				}
			}
			if got, _ := ReadBytes(text, "job.yaml"); got == nil || cmp.Diff(whole.Builds, got.Builds) != "" {
				t.Error("a job read beside others is another")
			}
		})
	}
	all.Wait()
}
