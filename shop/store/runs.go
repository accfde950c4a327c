package store

import (
	"bytes"
	"compress/gzip"
	"context"
	"database/sql"
	"errors"
	"io"
	"time"

	"github.com/uptrace/bun"
	"github.com/uptrace/bun/dialect"
)

// State is how far a run has come.
type State string

// The states. The last three are final.
const (
	Queued    State = "queued"
	Running   State = "running"
	Done      State = "done"
	Cancelled State = "cancelled"
	Failed    State = "failed"
)

// Final reports that nothing more will happen to a run.
func (s State) Final() bool { return s == Done || s == Cancelled || s == Failed }

// Run is a long piece of work on one revision of a job. Its answer belongs to
// that revision for good.
type Run struct {
	ID       string
	Job      string
	Revision int
	Kind     string // what is worked out: an id
	State    State
	Progress float64 // done, 0 to 1 [-]
	Stage    string  // what it is at, for people
	Fault    string  // why it failed
	Worker   string
	Who      string // asked for it
	Created  time.Time
	Heard    time.Time // from its worker, last
	Finished time.Time
}

// AskRun queues work on a revision of a job.
func (s *Store) AskRun(ctx context.Context, job string, revision int, kind, who string) (Run, error) {
	if err := errors.Join(wantID("the job's id", job), wantID("the kind of run", kind), wantName("who", who)); err != nil {
		return Run{}, err
	}
	row := runRow{ID: NewID(), JobID: job, Revision: revision, Kind: kind, State: string(Queued), AskedBy: who, CreatedAt: s.stamp(0)}
	err := s.write(ctx, func(ctx context.Context, tx bun.Tx) error {
		_, err := tx.NewInsert().Model(&row).Exec(ctx)
		return err
	})
	if isForeign(err) {
		return Run{}, &NotFound{"revision of job " + job, itoa(revision)}
	}
	if err != nil {
		return Run{}, err
	}
	return row.run(), nil
}

// ClaimRun gives the run that has waited longest to a worker; a *NotFound when
// none waits. No two workers get the same one.
func (s *Store) ClaimRun(ctx context.Context, worker string) (Run, error) {
	if err := wantName("the worker", worker); err != nil {
		return Run{}, err
	}
	skip := ""
	if s.db.Dialect().Name() == dialect.PG {
		skip = " FOR UPDATE SKIP LOCKED"
	}
	var row runRow
	err := s.write(ctx, func(ctx context.Context, tx bun.Tx) error {
		err := tx.NewRaw(`UPDATE runs SET state = ?, worker = ?, heard_at = ?, progress = 0, stage = ''
			WHERE id = (SELECT id FROM runs WHERE state = ? ORDER BY created_at, id LIMIT 1`+skip+`) RETURNING *`,
			string(Running), worker, s.stamp(0), string(Queued)).Scan(ctx, &row)
		if errors.Is(err, sql.ErrNoRows) {
			return &NotFound{"run that waits", "queued"}
		}
		return err
	})
	if err != nil {
		return Run{}, err
	}
	return row.run(), nil
}

// Progress tells how far a worker has come with its run [0 to 1]. It returns
// ErrCancelled when the worker should stop.
func (s *Store) Progress(ctx context.Context, id, worker string, done float64, stage string) error {
	if !(done >= 0 && done <= 1) {
		return &Refused{"the progress", "is not between 0 and 1", "it must be"}
	}
	return s.write(ctx, func(ctx context.Context, tx bun.Tx) error {
		return s.still(ctx, tx, id, `progress = ?, stage = ?, heard_at = ?`, worker, done, cut(oneLine(stage), mostName), s.stamp(0))
	})
}

// still changes a run that is still the worker's.
func (s *Store) still(ctx context.Context, tx bun.Tx, id, set, worker string, args ...any) error {
	n, err := affected(tx.NewRaw(`UPDATE runs SET `+set+` WHERE id = ? AND worker = ? AND state = ?`,
		append(args, id, worker, string(Running))...).Exec(ctx))
	if err == nil && n == 0 {
		err = ErrCancelled
	}
	return err
}

// FinishRun keeps a worker's answer, and with it the end of the run. It returns
// ErrCancelled, and keeps nothing, when the run is no longer the worker's.
func (s *Store) FinishRun(ctx context.Context, id, worker string, answer []byte) error {
	if len(answer) > mostRun {
		return &Refused{"the answer", "has " + itoa(len(answer)) + " bytes", "at most " + itoa(mostRun) + " are kept"}
	}
	packed, err := pack(answer)
	if err != nil {
		return err
	}
	return s.write(ctx, func(ctx context.Context, tx bun.Tx) error {
		now := s.stamp(0)
		if err := s.still(ctx, tx, id, `state = ?, progress = 1, heard_at = ?, finished_at = ?`, worker, string(Done), now, now); err != nil {
			return err
		}
		_, err := tx.NewInsert().Model(&answerRow{RunID: id, Size: len(answer), Answer: packed}).Exec(ctx)
		return err
	})
}

// FailRun ends a run without an answer and says why.
func (s *Store) FailRun(ctx context.Context, id, worker, fault string) error {
	return s.write(ctx, func(ctx context.Context, tx bun.Tx) error {
		now := s.stamp(0)
		return s.still(ctx, tx, id, `state = ?, fault = ?, heard_at = ?, finished_at = ?`, worker, string(Failed), cut(oneLine(fault), mostWhy), now, now)
	})
}

// CancelRun ends a run that waits or runs; one that has ended stays as it is.
// Its worker is told by its next Progress.
func (s *Store) CancelRun(ctx context.Context, id string) (Run, error) {
	err := s.write(ctx, func(ctx context.Context, tx bun.Tx) error {
		_, err := tx.NewRaw(`UPDATE runs SET state = ?, finished_at = ? WHERE id = ? AND state IN (?, ?)`,
			string(Cancelled), s.stamp(0), id, string(Queued), string(Running)).Exec(ctx)
		return err
	})
	if err != nil {
		return Run{}, err
	}
	return s.Run(ctx, id)
}

// RequeueRuns lets runs wait again whose worker was not heard of since a time,
// and returns how many.
func (s *Store) RequeueRuns(ctx context.Context, before time.Time) (int, error) {
	var n int64
	err := s.write(ctx, func(ctx context.Context, tx bun.Tx) (err error) {
		n, err = affected(tx.NewRaw(`UPDATE runs SET state = ?, worker = '', progress = 0, stage = '' WHERE state = ? AND heard_at < ?`,
			string(Queued), string(Running), before.UnixMicro()).Exec(ctx))
		return err
	})
	return int(n), err
}

// takeUpRuns lets every run wait again that a former program left running: this
// one has the folder to itself.
func (s *Store) takeUpRuns(ctx context.Context) error {
	var left int
	err := s.db.NewRaw(`SELECT COUNT(*) FROM runs WHERE state = ?`, string(Running)).Scan(ctx, &left)
	if err != nil || left == 0 {
		return err
	}
	n, err := s.RequeueRuns(ctx, time.UnixMicro(1<<62))
	if n > 0 {
		s.notes = append(s.notes, itoa(n)+" unfinished runs were taken up again")
	}
	return err
}

// Run returns a run as it stands now.
func (s *Store) Run(ctx context.Context, id string) (Run, error) {
	var row runRow
	if err := s.db.NewSelect().Model(&row).Where("id = ?", id).Scan(ctx); err != nil {
		return Run{}, s.one(err, "run", id)
	}
	return row.run(), nil
}

// Runs returns the runs of a job, the newest first; of one revision when it is
// not 0.
func (s *Store) Runs(ctx context.Context, job string, revision int) ([]Run, error) {
	var rows []runRow
	sel := s.db.NewSelect().Model(&rows).Where("job_id = ?", job)
	if revision != 0 {
		sel = sel.Where("revision = ?", revision)
	}
	if err := sel.OrderExpr("created_at DESC, id").Scan(ctx); err != nil {
		return nil, s.trouble(err)
	}
	out := make([]Run, len(rows))
	for i := range rows {
		out[i] = rows[i].run()
	}
	return out, nil
}

// Answer returns the answer of a run that is done.
func (s *Store) Answer(ctx context.Context, id string) ([]byte, error) {
	var row answerRow
	if err := s.db.NewSelect().Model(&row).Where("run_id = ?", id).Scan(ctx); err != nil {
		return nil, s.one(err, "answer of run", id)
	}
	answer, err := unpack(row.Answer, row.Size)
	if err != nil {
		return nil, s.advise(&Trouble{Kind: Damaged, Where: s.where, Got: "is damaged: the answer of run " + id + " is not as it was saved", Err: err})
	}
	return answer, nil
}

func pack(data []byte) ([]byte, error) {
	var b bytes.Buffer
	w, err := gzip.NewWriterLevel(&b, gzip.BestSpeed)
	if err != nil {
		return nil, err
	}
	if _, err := w.Write(data); err != nil {
		return nil, err
	}
	if err := w.Close(); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

func unpack(packed []byte, size int) ([]byte, error) {
	r, err := gzip.NewReader(bytes.NewReader(packed))
	if err != nil {
		return nil, err
	}
	data, err := io.ReadAll(io.LimitReader(r, int64(size)+1))
	if err == nil && len(data) != size {
		err = io.ErrUnexpectedEOF
	}
	return data, err
}

func (r *runRow) run() Run {
	return Run{
		ID: r.ID, Job: r.JobID, Revision: r.Revision, Kind: r.Kind, State: State(r.State), Progress: r.Progress, Stage: r.Stage,
		Fault: r.Fault, Worker: r.Worker, Who: r.AskedBy, Created: at(r.CreatedAt), Heard: at(r.HeardAt), Finished: at(r.FinishedAt),
	}
}
