package store

import (
	"errors"
	"fmt"
	"os"
	"strconv"
	"sync"
	"testing"

	"trunnion/shop/store/storetest"
)

// BenchmarkPieces takes pieces and keeps their results, with nothing computed in between:
// what the queue itself can do, for docs/scale.md. A result of 58 kB is the mean of the
// demo's search.
func BenchmarkPieces(b *testing.B) {
	places := map[string]string{"sqlite": b.TempDir()}
	own, err := storetest.Start()
	if err == nil {
		defer own.Stop()
		places["postgres"] = own.Fresh(b)
	}
	result := make([]byte, 58<<10)
	random, err := os.Open(os.Args[0]) // packs about as badly as figures do
	if err != nil {
		b.Fatal(err)
	}
	if _, err := random.Read(result); err != nil {
		b.Fatal(err)
	}
	for name, where := range places {
		s, err := Open(bg, where, Options{})
		if err != nil {
			b.Fatal(err)
		}
		round := 0
		for _, workers := range []int{1, 10, 100} {
			b.Run(name+"/"+strconv.Itoa(workers), func(b *testing.B) {
				round++
				id := fmt.Sprint("s", round)
				if err := s.AskSearch(bg, id, "p", "Ada", []byte("inputs")); err != nil {
					b.Fatal(err)
				}
				list := make([]Piece, b.N)
				for k := range list {
					list[k] = Piece{ID: fmt.Sprint(id, " ", k), Search: id, Place: k, Body: result[:3500]}
				}
				if err := s.PutPieces(bg, list); err != nil {
					b.Fatal(err)
				}
				b.ResetTimer()
				var group sync.WaitGroup
				for w := range workers {
					group.Go(func() {
						for {
							p, err := s.ClaimPiece(bg, "p", id, fmt.Sprint("w", w), patient)
							if errors.As(err, new(*NotFound)) {
								return
							}
							if err == nil {
								err = s.FinishPiece(bg, &p, result)
							}
							if err != nil {
								b.Error(err)
								return
							}
						}
					})
				}
				group.Wait()
				b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "pieces/s")
			})
		}
		if err := s.Close(); err != nil {
			b.Error(err)
		}
	}
}
