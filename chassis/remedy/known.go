package remedy

import (
	"context"
	"sync"

	"trunnion/chassis/car"
	"trunnion/chassis/change"
)

// known are the moves of a build that were looked at: every finding of an axle asks for
// the same ones, and so does the plan. Findings are mended side by side.
type known struct {
	axle  [2][]*change.Move
	lock  sync.Mutex
	rest  map[*change.Move]*resting
	whole map[*change.Move]*proven
}

// resting is a build with one move at rest, without draws.
type resting struct {
	sync.Once
	look look
	rise float64 // of its axles [m]
	err  error
}

// proven is a build with one move put through the study.
type proven struct {
	sync.Once
	made  *car.Build
	tried *tried
	err   error
}

func newKnown(b *change.Bench) *known {
	return &known{
		axle: [2][]*change.Move{b.Moves(0), b.Moves(1)},
		rest: map[*change.Move]*resting{}, whole: map[*change.Move]*proven{},
	}
}

// entry is that of a move, made where there is none.
func entry[T any](k *known, of map[*change.Move]*T, m *change.Move) *T {
	k.lock.Lock()
	defer k.lock.Unlock()
	one := of[m]
	if one == nil {
		one = new(T)
		of[m] = one
	}
	return one
}

// atRest looks at a build with moves at rest; one with a single move once.
func (r *review) atRest(ctx context.Context, moves ...*change.Move) (look, float64, error) {
	if len(moves) != 1 {
		return r.rest(ctx, change.Made(r.build, moves))
	}
	one := entry(r.known, r.known.rest, moves[0])
	one.Do(func() { one.look, one.rise, one.err = r.rest(ctx, change.Made(r.build, moves)) })
	return one.look, one.rise, one.err
}

// proof puts a build with one move through the study, once.
func (r *review) proof(ctx context.Context, m *change.Move) (*car.Build, *tried, error) {
	one := entry(r.known, r.known.whole, m)
	one.Do(func() {
		one.made = change.Made(r.build, []*change.Move{m})
		one.tried, one.err = r.try(ctx, one.made, tryDraws, false)
	})
	return one.made, one.tried, one.err
}
