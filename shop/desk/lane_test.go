package desk

import (
	"context"
	"errors"
	"testing"
	"testing/synctest"
	"time"
)

// Whoever asks thirty questions at once does not keep another person's one waiting behind
// them; questions given up leave nothing behind.
func TestNobodyStandsInFrontOfEverybody(t *testing.T) {
	for _, most := range []int{1, 4} {
		synctest.Test(t, func(t *testing.T) {
			l := newLane(most)
			work := func(who string) {
				done, err := l.turn(For(t.Context(), who))
				if err != nil {
					t.Error(err)
					return
				}
				time.Sleep(time.Second)
				done()
			}
			for range 30 {
				go work("Ada")
			}
			synctest.Wait()
			began := time.Now()
			work("Bea")
			if waited := time.Since(began); waited > 2*time.Second {
				t.Errorf("%d at a time: answered after %v", most, waited)
			}
			gone, cancel := context.WithCancel(For(t.Context(), "Cid"))
			cancel()
			if _, err := l.turn(For(gone, "Ada")); !errors.Is(err, context.Canceled) {
				t.Errorf("a question that was given up: %v", err)
			}
			time.Sleep(time.Minute)
			if len(l.people) != 0 || len(l.all) != 0 {
				t.Errorf("%d people hold %d places after all was answered", len(l.people), len(l.all))
			}
		})
	}
}
