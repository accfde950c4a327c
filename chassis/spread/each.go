package spread

import (
	"context"
	"sync"
	"sync/atomic"
)

// Each calls do(worker, i) for every i below n on a number of goroutines and
// returns when all are done or the context is. Every i must write to its own
// place, so that the number of workers changes nothing.
func Each(ctx context.Context, n, workers int, do func(worker, i int)) error {
	workers = max(1, min(workers, n))
	chunk := 1 + min(15, n/(8*workers))
	var next atomic.Int64
	var group sync.WaitGroup
	for w := range workers {
		group.Go(func() {
			for ctx.Err() == nil {
				from := int(next.Add(int64(chunk))) - chunk
				if from >= n {
					return
				}
				for i := from; i < min(from+chunk, n) && ctx.Err() == nil; i++ {
					do(w, i)
				}
			}
		})
	}
	group.Wait()
	return ctx.Err()
}
