package search

import (
	"context"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"

	"trunnion/chassis/study"
)

// others compute pieces as another machine does: made ready anew for each, several at once,
// the last first. Pieces of a step named in lost come to nothing.
type others struct {
	a     *study.Answer
	space Space
	opt   Options
	lost  string

	mu     sync.Mutex
	pieces map[string]int
}

func (o *others) Compute(ctx context.Context, pieces []Piece, done func(int)) ([]Result, error) {
	out, errs := make([]Result, len(pieces)), make([]error, len(pieces))
	var group sync.WaitGroup
	for k := len(pieces) - 1; k >= 0; k-- {
		group.Go(func() {
			o.mu.Lock()
			o.pieces[pieces[k].Step]++
			o.mu.Unlock()
			if pieces[k].Step == o.lost {
				out[k] = Result{Aside: "it fails"}
				return
			}
			ready, err := NewReady(o.a, o.space, UsualMust(), o.opt)
			if err == nil {
				p := Piece{pieces[k].Step, pieces[k].Axle, slices.Clone(pieces[k].Choices), pieces[k].From}
				out[k], err = ready.Compute(ctx, &p)
			}
			errs[k] = err
			done(k)
		})
	}
	group.Wait()
	return out, first(errs, ctx.Err())
}

// A search whose pieces are computed by others finds the same, bit for bit; what is set
// aside is said, and the search goes on.
func TestOthersFindTheSame(t *testing.T) {
	a := adjustable(t, 30)
	space := small(t, a, 3, 2, 1, 2)
	opt := quick()
	want, err := Find(t.Context(), a, space, UsualMust(), opt, nil)
	if err != nil {
		t.Fatal(err)
	}
	crew := &others{a: a, space: space, opt: opt, pieces: map[string]int{}}
	got, err := FindBy(t.Context(), crew, a, space, UsualMust(), opt, nil)
	if err != nil {
		t.Fatal(err)
	}
	same(t, want, got)
	for _, step := range []string{AtRest, OverRoad, Spectrum, InCorners, InTime, Longer, Drawn} {
		if crew.pieces[step] == 0 {
			t.Errorf("no piece of the step %s was handed out", step)
		}
	}
	for _, step := range []string{InCorners, Drawn} {
		crew := &others{a: a, space: space, opt: opt, lost: step, pieces: map[string]int{}}
		got, err := FindBy(t.Context(), crew, a, space, UsualMust(), opt, nil)
		if err != nil {
			t.Fatalf("without %s: %v", step, err)
		}
		if len(got.Aside) == 0 || got.Aside[0].Step != step || got.Aside[0].Reason != "it fails" || got.Aside[0].Choices == 0 {
			t.Errorf("without %s: %+v was set aside", step, got.Aside)
		}
	}
}

// What is cut is whole, in its order, and where it is cut changes nothing that is driven
// side by side.
func TestPiecesAreWhole(t *testing.T) {
	for step := range cost {
		for _, n := range []int{1, 7, 8, 97, 5000, 100_000} {
			choices := make([][2]int, n)
			for k := range choices {
				choices[k] = [2]int{k, -k}
			}
			var back [][2]int
			pieces := cut(step, 1, choices)
			for k := range pieces {
				if k < len(pieces)-1 && len(pieces[k].Choices)%together != 0 {
					t.Errorf("%s: a piece of %d tears apart what is driven together", step, len(pieces[k].Choices))
				}
				if took := float64(len(pieces[k].Choices)) * cost[step]; took > longestPiece+together*cost[step] {
					t.Errorf("%s: a piece of %.1f s", step, took)
				}
				back = append(back, pieces[k].Choices...)
			}
			if !slices.Equal(back, choices) {
				t.Errorf("%s: %d choices came back as %d, or in another order", step, n, len(back))
			}
		}
	}
}

func TestUnknownPiecesAreRefused(t *testing.T) {
	a := adjustable(t, 0)
	space := small(t, a, 2, 1, 1, 1)
	r, err := NewReady(a, space, UsualMust(), quick())
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range []Piece{{Step: "sideways", Choices: [][2]int{{0, 0}}}, {Step: Spectrum, Choices: [][2]int{{0, 99}}}, {Step: AtRest, Choices: [][2]int{{-1, 0}}}} {
		if _, err := r.Compute(t.Context(), &p); err == nil || !strings.HasPrefix(err.Error(), "search: there is no ") {
			t.Errorf("%+v: %v", p, err)
		}
	}
}

// same fails the test where two searches found otherwise.
func same(t *testing.T, want, got *Found) {
	t.Helper()
	if len(got.Builds) != len(want.Builds) || len(want.Builds) < 2 {
		t.Fatalf("%d builds found, want %d", len(got.Builds), len(want.Builds))
	}
	for k := range want.Builds {
		if d := cmp.Diff(plain(&want.Builds[k]), plain(&got.Builds[k])); d != "" {
			t.Errorf("build %d:\n%s", k, d)
		}
	}
	if d := cmp.Diff(want.Steps, got.Steps); d != "" {
		t.Errorf("steps:\n%s", d)
	}
	if d := cmp.Diff(want.Plans, got.Plans); d != "" {
		t.Errorf("plans:\n%s", d)
	}
	if len(got.Aside) > 0 {
		t.Errorf("%+v was set aside", got.Aside)
	}
}
