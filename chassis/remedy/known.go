package remedy

import (
	"context"
	"slices"
	"sync"

	"trunnion/chassis/car"
	"trunnion/chassis/change"
	"trunnion/chassis/finding"
)

// known are the moves of a build that were looked at, alone and together: every finding
// of an axle asks for the same ones, and so do the rounds of a plan. Findings are mended
// side by side.
type known struct {
	axle   [2][]*change.Move
	number map[*change.Move]rune
	lock   sync.Mutex
	rest   map[string]*resting
	roads  map[string]*roaming
	whole  map[string]*proven
}

// resting is a build with some moves at rest, without draws. Hundreds are kept, so only
// what is asked of them is: no answer hangs on one.
type resting struct {
	sync.Once
	rows   map[row]*finding.Finding // nil where it has no rest
	breaks []finding.Break
	rise   float64 // of its axles [m]
	err    error
}

// roaming is a build with some moves over drives and in corners, without draws.
type roaming struct {
	sync.Once
	rows map[row]*finding.Finding
	err  error
}

// proven is a build with some moves put through the study.
type proven struct {
	sync.Once
	made  *car.Build
	tried *tried
	err   error
}

func newKnown(b *change.Bench) *known {
	k := &known{
		axle:   [2][]*change.Move{b.Moves(0), b.Moves(1)},
		number: map[*change.Move]rune{},
		rest:   map[string]*resting{}, roads: map[string]*roaming{}, whole: map[string]*proven{},
	}
	for _, list := range k.axle {
		for _, m := range list {
			k.number[m] = rune(len(k.number))
		}
	}
	return k
}

// entry is that of some moves, in whichever order they are made, new where there is none.
func entry[T any](k *known, of map[string]*T, moves []*change.Move) *T {
	id := make([]rune, len(moves))
	for i, m := range moves {
		id[i] = k.number[m]
	}
	slices.Sort(id)
	k.lock.Lock()
	defer k.lock.Unlock()
	one := of[string(id)]
	if one == nil {
		one = new(T)
		of[string(id)] = one
	}
	return one
}

// atRest looks at a build with moves at rest, once.
func (r *review) atRest(ctx context.Context, moves ...*change.Move) *resting {
	one := entry(r.known, r.known.rest, moves)
	one.Do(func() {
		l, rise, err := r.rest(ctx, change.Made(r.build, moves))
		if one.rise, one.err = rise, err; l != nil {
			one.rows, one.breaks = cut(l.rows()), r.breaksAtRest(l)
		}
	})
	return one
}

// cut takes rows off the answers that they are of, which would stay in memory with them.
func cut(rows map[row]*finding.Finding) map[row]*finding.Finding {
	for k, f := range rows {
		g, v := *f, *f.Value
		g.Value = &v
		rows[k] = &g
	}
	return rows
}

// proof puts a build with one move through the study, once.
func (r *review) proof(ctx context.Context, m *change.Move) (*car.Build, *tried, error) {
	moves := []*change.Move{m}
	one := entry(r.known, r.known.whole, moves)
	one.Do(func() {
		one.made = change.Made(r.build, moves)
		one.tried, one.err = r.try(ctx, one.made, tryDraws, false)
	})
	return one.made, one.tried, one.err
}
