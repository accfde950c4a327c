package store

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"sync"
	"testing"
	"time"
)

// handedOut begins a search of some pieces.
func handedOut(t *testing.T, s *Store, id, program string, pieces int) []Piece {
	t.Helper()
	if err := s.AskSearch(t.Context(), id, program, "Ada", []byte("inputs of "+id)); err != nil {
		t.Fatal(err)
	}
	list := make([]Piece, pieces)
	for k := range list {
		list[k] = Piece{ID: fmt.Sprint(id, " ", k), Search: id, Place: k, Body: []byte{byte(k), 0, '\'', 255}}
	}
	if err := s.PutPieces(t.Context(), list); err != nil {
		t.Fatal(err)
	}
	return list
}

// ended are the ends of all pieces, by id.
func ended(t *testing.T, s *Store, search string, list []Piece) map[string]PieceEnd {
	t.Helper()
	ids := make([]string, len(list))
	for k := range list {
		ids[k] = list[k].ID
	}
	out := map[string]PieceEnd{}
	for _, e := range must[[]PieceEnd](t)(s.PiecesEnded(t.Context(), search, ids)) {
		out[e.ID] = e
	}
	return out
}

const patient = time.Hour // with a worker that says nothing

func TestPieces(t *testing.T) {
	onBoth(t, func(t *testing.T, s *Store) {
		ctx := t.Context()
		absent(t, second(s.SearchInputs(ctx, "s")))
		list := handedOut(t, s, "s", "p1", 3)
		if got := must[[]byte](t)(s.SearchInputs(ctx, "s")); string(got) != "inputs of s" {
			t.Errorf("the inputs are %q", got)
		}
		// Another program, another search: nothing.
		absent(t, second(s.ClaimPiece(ctx, "p2", "", "w", patient)))
		absent(t, second(s.ClaimPiece(ctx, "p1", "other", "w", patient)))
		if others := must[[]string](t)(s.OtherPrograms(ctx, "p2", patient)); len(others) != 1 || others[0] != "p1" {
			t.Errorf("others that wait are %q", others)
		}
		one := must[Piece](t)(s.ClaimPiece(ctx, "p1", "", "w1", patient))
		if one.ID != list[0].ID || !bytes.Equal(one.Body, list[0].Body) {
			t.Fatalf("claimed %+v", one)
		}
		result := []byte(strings.Repeat("0123456789", 1000))
		if err := errors.Join(s.HoldPiece(ctx, &one, patient), s.FinishPiece(ctx, &one, result)); err != nil {
			t.Fatal(err)
		}
		if err := s.FinishPiece(ctx, &one, []byte("twice")); !errors.Is(err, ErrCancelled) {
			t.Errorf("finished twice: %v", err)
		}
		// It was there before: nothing is computed again.
		if err := s.PutPieces(ctx, list[:1]); err != nil {
			t.Fatal(err)
		}
		if got := ended(t, s, "s", list); len(got) != 1 || !bytes.Equal(got[one.ID].Result, result) {
			t.Errorf("ended are %d, with %d bytes", len(got), len(got[one.ID].Result))
		}
		// One that always fails is set aside with its reason, after the third time, and tried
		// again when it is asked for again.
		two := must[Piece](t)(s.ClaimPiece(ctx, "p1", "s", "w1", patient))
		if err := s.FailPiece(ctx, &two, "no rest\nposition"); err != nil {
			t.Fatal(err)
		}
		three := must[Piece](t)(s.ClaimPiece(ctx, "p1", "s", "w1", patient))
		if two.ID != list[1].ID || three.ID != list[2].ID {
			t.Errorf("claimed %s and %s: what failed comes after what was not tried", two.ID, three.ID)
		}
		if err := s.FinishPiece(ctx, &three, nil); err != nil {
			t.Fatal(err)
		}
		for range mostFailures - 1 {
			again := must[Piece](t)(s.ClaimPiece(ctx, "p1", "s", "w1", patient))
			if err := s.FailPiece(ctx, &again, "no rest\nposition"); err != nil {
				t.Fatal(err)
			}
		}
		if got := ended(t, s, "s", list)[list[1].ID]; got.Aside != "no rest position" || got.Result != nil {
			t.Errorf("set aside is %+v", got)
		}
		if err := s.PutPieces(ctx, list); err != nil {
			t.Fatal(err)
		}
		if got := ended(t, s, "s", list); len(got) != 2 {
			t.Errorf("%d have ended after it was asked for again", len(got))
		}
	})
}

// Whoever is not heard of loses the piece, and what they say afterwards counts for nothing;
// one after whom nobody asks is not handed out, and whoever has it is told.
func TestPiecesLostAndLeft(t *testing.T) {
	onBoth(t, func(t *testing.T, s *Store) {
		ctx := t.Context()
		list := handedOut(t, s, "s", "p1", 1)
		first := must[Piece](t)(s.ClaimPiece(ctx, "p1", "", "w1", patient))
		absent(t, second(s.ClaimPiece(ctx, "p1", "", "w2", patient)))
		const soon = 30 * time.Millisecond
		time.Sleep(2 * soon)
		if err := s.WantSearch(ctx, "s", "Ada"); err != nil {
			t.Fatal(err)
		}
		next := must[Piece](t)(s.ClaimPiece(ctx, "p1", "", "w1", soon)) // even under the same name
		for what, err := range map[string]error{
			"held": s.HoldPiece(ctx, &first, patient), "finished": s.FinishPiece(ctx, &first, []byte("late")),
			"failed": s.FailPiece(ctx, &first, "late"), "given back": s.ReturnPiece(ctx, &first),
		} {
			if !errors.Is(err, ErrCancelled) {
				t.Errorf("a lost piece was %s: %v", what, err)
			}
		}
		if err := errors.Join(s.WantSearch(ctx, "s", "Ben"), s.LeaveSearch(ctx, "s", "Ada"), s.HoldPiece(ctx, &next, patient)); err != nil {
			t.Errorf("one still waits: %v", err)
		}
		if err := s.LeaveSearch(ctx, "s", "Ben"); err != nil {
			t.Fatal(err)
		}
		if err := s.HoldPiece(ctx, &next, patient); !errors.Is(err, ErrCancelled) {
			t.Errorf("nobody waits, and whoever has the piece is told %v", err)
		}
		if err := s.ReturnPiece(ctx, &next); err != nil {
			t.Fatal(err)
		}
		absent(t, second(s.ClaimPiece(ctx, "p1", "", "w2", patient)))
		// Every worker dies of it: it is set aside in the end.
		if err := s.WantSearch(ctx, "s", "Ada"); err != nil {
			t.Fatal(err)
		}
		for range 10 * mostLost {
			if err := s.WantSearch(ctx, "s", "Ada"); err != nil {
				t.Fatal(err)
			}
			_, _ = s.ClaimPiece(ctx, "p1", "", "w", time.Millisecond)
			if len(ended(t, s, "s", list)) > 0 {
				break
			}
			time.Sleep(2 * time.Millisecond)
		}
		if got := ended(t, s, "s", list)[list[0].ID]; got.Aside != "20 workers were lost with it" {
			t.Errorf("set aside is %+v", got)
		}
	})
}

func TestPiecesClaimedAtOnce(t *testing.T) {
	onBoth(t, func(t *testing.T, s *Store) {
		list := handedOut(t, s, "s", "p1", 40)
		var mu sync.Mutex
		claimed := map[string]int{}
		var workers sync.WaitGroup
		for w := range 6 {
			workers.Go(func() {
				for {
					p, err := s.ClaimPiece(t.Context(), "p1", "", fmt.Sprint("w", w), patient)
					if errors.As(err, new(*NotFound)) {
						return
					}
					if err == nil {
						err = s.FinishPiece(t.Context(), &p, p.Body)
					}
					if err != nil {
						t.Error(err)
						return
					}
					mu.Lock()
					claimed[p.ID]++
					mu.Unlock()
				}
			})
		}
		workers.Wait()
		for k := range list {
			if claimed[list[k].ID] != 1 {
				t.Errorf("piece %d was claimed %d times", k, claimed[list[k].ID])
			}
		}
		for id, e := range ended(t, s, "s", list) {
			if len(e.Result) != 4 {
				t.Errorf("piece %s has %d bytes", id, len(e.Result))
			}
		}
	})
}

// What was computed goes a month after it was asked for last.
func TestOldSearchesGo(t *testing.T) {
	onBoth(t, func(t *testing.T, s *Store) {
		handedOut(t, s, "old", "p1", 2)
		handedOut(t, s, "kept", "p1", 2)
		for _, step := range []string{`UPDATE searches SET heard_at = heard_at - ` + fmt.Sprint((searchesKept + time.Hour).Microseconds()) + ` WHERE id = 'old'`} {
			if _, err := s.db.ExecContext(t.Context(), step); err != nil {
				t.Fatal(err)
			}
		}
		handedOut(t, s, "new", "p1", 1)
		absent(t, second(s.SearchInputs(t.Context(), "old")))
		must[[]byte](t)(s.SearchInputs(t.Context(), "kept"))
		var left int
		if err := s.db.QueryRowContext(t.Context(), `SELECT COUNT(*) FROM search_pieces`).Scan(&left); err != nil || left != 3 {
			t.Errorf("%d pieces are left, want 3: %v", left, err)
		}
	})
}
