package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"time"

	"github.com/uptrace/bun"
	"github.com/uptrace/bun/dialect"
)

// Piece is a piece of a search, as it is handed to a worker. The store does not look into
// its body. It belongs to the worker that took it until it is finished, failed or given
// back, or until the worker was not heard of for too long.
type Piece struct {
	ID     string // fingerprint of what it is computed from
	Search string
	Place  int // in its step, for the order in which pieces are taken
	Body   []byte

	worker string
	taken  int64 // how often it was taken, this time among them
}

// PieceEnd is what became of a piece: a result, or why it was set aside.
type PieceEnd struct {
	ID     string
	Result []byte
	Aside  string // why no result comes; empty where one came
}

// States of a piece.
const (
	pieceWaits = "waiting"
	pieceTaken = "taken"
	pieceDone  = "done"
	pieceAside = "aside"
)

// When a piece is set aside: after so many failures, and after so many workers were lost
// with it, which may be power cuts. Chosen.
const (
	mostFailures = 3
	mostLost     = 20
)

// searchesKept is how long what was computed for a search is kept after it was last asked
// for. Chosen.
const searchesKept = 30 * 24 * time.Hour

// clock is the time of the database [µs since 1970]: machines whose clocks differ agree on
// it.
func (s *Store) clock() string {
	if s.lite {
		return `CAST(unixepoch('subsec') * 1000000 AS INTEGER)`
	}
	return `CAST(extract(epoch FROM clock_timestamp()) * 1000000 AS BIGINT)`
}

// SearchInputs returns what a search was made ready of.
func (s *Store) SearchInputs(ctx context.Context, id string) ([]byte, error) {
	var row struct {
		Size   int
		Inputs []byte
	}
	if err := s.db.NewRaw(`SELECT size, inputs FROM searches WHERE id = ?`, id).Scan(ctx, &row); err != nil {
		return nil, s.one(err, "search", id)
	}
	inputs, err := unpack(row.Inputs, row.Size)
	if err != nil {
		return nil, s.advise(&Trouble{Kind: Damaged, Where: s.where, Got: "is damaged: the inputs of a search are not as they were saved", Err: err})
	}
	return inputs, nil
}

// AskSearch keeps what a search is made ready of, for workers of one program, and says who
// waits for it. What nobody asked for in a month goes.
func (s *Store) AskSearch(ctx context.Context, id, program, asker string, inputs []byte) error {
	packed, err := pack(inputs)
	if err != nil {
		return err
	}
	return s.write(ctx, func(ctx context.Context, tx bun.Tx) error {
		old := fmt.Sprintf(`SELECT id FROM searches WHERE heard_at < %s - %d AND id <> ?`, s.clock(), searchesKept.Microseconds())
		for _, table := range []string{"search_pieces", "search_askers"} {
			if _, err := tx.NewRaw(`DELETE FROM `+table+` WHERE search_id IN (`+old+`)`, id).Exec(ctx); err != nil {
				return err
			}
		}
		if _, err := tx.NewRaw(`DELETE FROM searches WHERE id IN (`+old+`)`, id).Exec(ctx); err != nil {
			return err
		}
		if _, err := tx.NewRaw(`INSERT INTO searches (id, program, heard_at, size, inputs) VALUES (?, ?, `+s.clock()+`, ?, ?)
			ON CONFLICT (id) DO UPDATE SET heard_at = excluded.heard_at`, id, program, len(inputs), packed).Exec(ctx); err != nil {
			return err
		}
		return s.want(ctx, tx, id, asker)
	})
}

// WantSearch says that somebody still waits for a search: its pieces are handed out as long
// as that is heard.
func (s *Store) WantSearch(ctx context.Context, id, asker string) error {
	return s.write(ctx, func(ctx context.Context, tx bun.Tx) error { return s.want(ctx, tx, id, asker) })
}

func (s *Store) want(ctx context.Context, tx bun.Tx, id, asker string) error {
	_, err := tx.NewRaw(`INSERT INTO search_askers (search_id, asker, heard_at) VALUES (?, ?, `+s.clock()+`)
		ON CONFLICT (search_id, asker) DO UPDATE SET heard_at = excluded.heard_at`, id, asker).Exec(ctx)
	return err
}

// LeaveSearch says that somebody waits no longer. Where nobody else does, nothing more of
// the search is handed out, and whoever computes a piece of it is told to stop.
func (s *Store) LeaveSearch(ctx context.Context, id, asker string) error {
	return s.write(ctx, func(ctx context.Context, tx bun.Tx) error {
		_, err := tx.NewRaw(`DELETE FROM search_askers WHERE search_id = ? AND asker = ?`, id, asker).Exec(ctx)
		return err
	})
}

// PutPieces hands out pieces. One that is there already is not computed again; one that was
// set aside is tried again.
func (s *Store) PutPieces(ctx context.Context, list []Piece) error {
	return s.write(ctx, func(ctx context.Context, tx bun.Tx) error {
		for i := range list {
			p := &list[i]
			if _, err := tx.NewRaw(`INSERT INTO search_pieces (id, search_id, place, state, worker, asked_at, heard_at, taken, failed, fault, piece, size, result)
				VALUES (?, ?, ?, ?, '', `+s.clock()+`, 0, 0, 0, '', ?, 0, ?)
				ON CONFLICT (id) DO UPDATE SET state = excluded.state, taken = 0, failed = 0, fault = '' WHERE search_pieces.state = ?`,
				p.ID, p.Search, p.Place, pieceWaits, p.Body, []byte{}, pieceAside).Exec(ctx); err != nil {
				return err
			}
		}
		return nil
	})
}

// heardOf is the condition that a time of the database is no longer ago than so much.
func (s *Store) heardOf(column string, lost time.Duration) string {
	return fmt.Sprintf(`%s >= %s - %d`, column, s.clock(), lost.Microseconds())
}

// ClaimPiece gives a worker of a program a piece that waits, or one whose worker was not
// heard of for a time; a *NotFound when there is none. Only pieces of searches that
// somebody waits for are given, and only of one search where one is named. No two workers
// have the same one.
func (s *Store) ClaimPiece(ctx context.Context, program, search, worker string, lost time.Duration) (Piece, error) {
	if err := wantName("the worker", worker); err != nil {
		return Piece{}, err
	}
	// Looking needs no turn among the writers. One search at a time: an index holds its
	// pieces in their order, however many wait.
	find := `SELECT q.id FROM searches q WHERE q.program = ?
		AND EXISTS (SELECT 1 FROM search_askers a WHERE a.search_id = q.id AND ` + s.heardOf("a.heard_at", lost) + `)
		AND EXISTS (SELECT 1 FROM search_pieces p WHERE p.search_id = q.id AND (p.state = ? OR p.state = ? AND NOT ` + s.heardOf("p.heard_at", lost) + `))`
	args := []any{program, pieceWaits, pieceTaken}
	if search != "" {
		find, args = find+` AND q.id = ?`, append(args, search)
	}
	var searches []string
	if err := s.db.NewRaw(find+` ORDER BY q.heard_at, q.id`, args...).Scan(ctx, &searches); err != nil {
		return Piece{}, s.trouble(err)
	}
	for _, id := range searches {
		p, err := s.claimOf(ctx, id, worker, lost)
		if err != nil || p.ID != "" {
			return p, err
		}
	}
	return Piece{}, &NotFound{"piece that waits", "waiting"}
}

// claimOf gives a worker a piece of a search: one that waits, else one that was lost; none
// where others have them all.
func (s *Store) claimOf(ctx context.Context, search, worker string, lost time.Duration) (Piece, error) {
	skip := ""
	if s.db.Dialect().Name() == dialect.PG {
		skip = " FOR UPDATE SKIP LOCKED"
	}
	gone := ` AND NOT ` + s.heardOf("p.heard_at", lost)
	var row pieceRow
	err := s.write(ctx, func(ctx context.Context, tx bun.Tx) error {
		take := func(state, more string) error {
			err := tx.NewRaw(`UPDATE search_pieces SET state = ?, worker = ?, heard_at = `+s.clock()+`, taken = taken + 1
				WHERE id = (SELECT p.id FROM search_pieces p WHERE p.search_id = ? AND p.state = ?`+more+` ORDER BY p.taken, p.asked_at, p.place LIMIT 1`+skip+`)
				RETURNING id, search_id, place, worker, taken, piece`, pieceTaken, worker, search, state).Scan(ctx, &row)
			if errors.Is(err, sql.ErrNoRows) {
				return nil
			}
			return err
		}
		if err := take(pieceWaits, ""); err != nil || row.ID != "" {
			return err
		}
		if _, err := tx.NewRaw(`UPDATE search_pieces AS p SET state = ?, fault = ? WHERE p.search_id = ? AND p.state = ? AND p.taken - p.failed >= ?`+gone,
			pieceAside, fmt.Sprintf("%d workers were lost with it", mostLost), search, pieceTaken, mostLost).Exec(ctx); err != nil {
			return err
		}
		return take(pieceTaken, gone)
	})
	return Piece{ID: row.ID, Search: row.SearchID, Place: row.Place, Body: row.Piece, worker: row.Worker, taken: row.Taken}, err
}

// HoldPiece says that a piece is still being computed. It returns ErrCancelled when it
// should be no longer: it was given to somebody else, or nobody waits for its search.
func (s *Store) HoldPiece(ctx context.Context, p *Piece, lost time.Duration) error {
	return s.write(ctx, func(ctx context.Context, tx bun.Tx) error {
		return s.ofWorker(ctx, tx, p, `heard_at = `+s.clock(),
			`EXISTS (SELECT 1 FROM search_askers a WHERE a.search_id = p.search_id AND `+s.heardOf("a.heard_at", lost)+`)`)
	})
}

// ofWorker changes a piece that is still the worker's.
func (s *Store) ofWorker(ctx context.Context, tx bun.Tx, p *Piece, set, where string, args ...any) error {
	if where != "" {
		where = " AND " + where
	}
	n, err := affected(tx.NewRaw(`UPDATE search_pieces AS p SET `+set+` WHERE p.id = ? AND p.worker = ? AND p.taken = ? AND p.state = ?`+where,
		append(args, p.ID, p.worker, p.taken, pieceTaken)...).Exec(ctx))
	if err == nil && n == 0 {
		err = ErrCancelled
	}
	return err
}

// FinishPiece keeps a result, and with it the end of the piece. It returns ErrCancelled,
// and keeps nothing, when the piece is no longer the worker's.
func (s *Store) FinishPiece(ctx context.Context, p *Piece, result []byte) error {
	if len(result) > mostRun {
		return &Refused{"the result", "has " + itoa(len(result)) + " bytes", "at most " + itoa(mostRun) + " are kept"}
	}
	packed, err := pack(result)
	if err != nil {
		return err
	}
	return s.write(ctx, func(ctx context.Context, tx bun.Tx) error {
		return s.ofWorker(ctx, tx, p, `state = ?, size = ?, result = ?`, "", pieceDone, len(result), packed)
	})
}

// FailPiece says why a piece could not be computed: it waits for another try, and after
// the third it is set aside.
func (s *Store) FailPiece(ctx context.Context, p *Piece, fault string) error {
	return s.write(ctx, func(ctx context.Context, tx bun.Tx) error {
		return s.ofWorker(ctx, tx, p, `state = CASE WHEN failed + 1 >= ? THEN ? ELSE ? END, failed = failed + 1, fault = ?`, "",
			mostFailures, pieceAside, pieceWaits, cut(oneLine(fault), mostWhy))
	})
}

// ReturnPiece gives back a piece that was not computed to its end: no try is used up.
func (s *Store) ReturnPiece(ctx context.Context, p *Piece) error {
	return s.write(ctx, func(ctx context.Context, tx bun.Tx) error {
		return s.ofWorker(ctx, tx, p, `state = ?, taken = taken - 1`, "", pieceWaits)
	})
}

// PiecesEnded returns those of some pieces of a search that have come to an end.
func (s *Store) PiecesEnded(ctx context.Context, search string, ids []string) ([]PieceEnd, error) {
	if len(ids) == 0 {
		return nil, nil
	}
	var rows []pieceRow
	if err := s.db.NewRaw(`SELECT id, state, fault, size, result FROM search_pieces WHERE search_id = ? AND state IN (?, ?) AND id IN (?)`,
		search, pieceDone, pieceAside, bun.List(ids)).Scan(ctx, &rows); err != nil {
		return nil, s.trouble(err)
	}
	out := make([]PieceEnd, len(rows))
	for i := range rows {
		r := &rows[i]
		out[i].ID = r.ID
		if r.State == pieceAside {
			out[i].Aside = r.Fault
			continue
		}
		var err error
		if out[i].Result, err = unpack(r.Result, r.Size); err != nil {
			return nil, s.advise(&Trouble{Kind: Damaged, Where: s.where, Got: "is damaged: a result of a search is not as it was saved", Err: err})
		}
	}
	return out, nil
}

// OtherPrograms are the programs other than one whose searches somebody waits for.
func (s *Store) OtherPrograms(ctx context.Context, program string, lost time.Duration) ([]string, error) {
	var out []string
	err := s.db.NewRaw(`SELECT DISTINCT q.program FROM searches q JOIN search_askers a ON a.search_id = q.id
		WHERE q.program <> ? AND `+s.heardOf("a.heard_at", lost)+` ORDER BY q.program`, program).Scan(ctx, &out)
	return out, s.trouble(err)
}

type pieceRow struct {
	bun.BaseModel `bun:"table:search_pieces,alias:p"`

	ID       string `bun:"id,pk"`
	SearchID string `bun:"search_id"`
	Place    int    `bun:"place"`
	State    string `bun:"state"`
	Worker   string `bun:"worker"`
	Taken    int64  `bun:"taken"`
	Fault    string `bun:"fault"`
	Piece    []byte `bun:"piece"`
	Size     int    `bun:"size"`
	Result   []byte `bun:"result"`
}
