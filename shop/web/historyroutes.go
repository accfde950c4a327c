package web

import (
	"cmp"
	"context"
	"net/http"

	"trunnion/shop/jobfile"
	"trunnion/shop/pastjobs"
	"trunnion/shop/store"
	"trunnion/shop/view"
	"trunnion/shop/view/history"
	"trunnion/shop/wording"
)

func (s *Server) history(ctx context.Context, _ store.Person, in *JobPath) (*body[*history.View], error) {
	steps, err := s.store.Steps(ctx, in.ID)
	if err != nil {
		return nil, err
	}
	notes, err := s.store.FindNotes(ctx, store.NoteQuery{Job: in.ID})
	if err != nil {
		return nil, err
	}
	return answer(history.Of(steps, notes)), nil
}

func (s *Server) way(ctx context.Context, _ store.Person, in *struct {
	JobPath
	Body history.WayRequest
},
) (*body[*history.WayBack], error) {
	b := in.Body
	system, err := wording.System(b.Units)
	if err != nil {
		return nil, err
	}
	then, err := s.store.Revision(ctx, in.ID, b.To)
	if err != nil {
		return nil, err
	}
	to, name := history.RevisionName(&then), "the trial"
	var now []byte
	if b.From == 0 {
		if b.Text == "" {
			return nil, problem(http.StatusUnprocessableEntity, "send the trial, or a revision to start from")
		}
		now = s.tries.TextOf(ctx, &view.TryRequest{Text: b.Text, Edits: b.Edits, Units: b.Units})
	} else {
		from, err := s.store.Revision(ctx, in.ID, b.From)
		if err != nil {
			return nil, err
		}
		now, name = from.Text, history.RevisionName(&from)
	}
	out, err := history.WayOf(ctx, s.tries, now, then.Text, system, b.Builds)
	if err != nil {
		return nil, problem(http.StatusUnprocessableEntity, err.Error())
	}
	out.From, out.To = name, to
	return answer(out), nil
}

func (s *Server) remeasure(ctx context.Context, _ store.Person, in *struct {
	JobPath
	Body history.RemeasureRequest
},
) (*body[*history.Remeasured], error) {
	b := in.Body
	seen, err := s.tries.Ask(ctx, &b.TryRequest, s.tries.Full)
	if err != nil {
		return nil, err
	}
	if seen.Job == nil {
		p := problem(http.StatusUnprocessableEntity, "the job cannot be read")
		p.Faults = seen.Faults
		return nil, p
	}
	record, err := pastjobs.RecordOf(seen.Job, b.Build, seen.Answer)
	if err != nil {
		return nil, problem(http.StatusUnprocessableEntity, err.Error())
	}
	return answer(history.RemeasuredOf(seen, &b, record)), nil
}

func (s *Server) nearest(ctx context.Context, _ store.Person, in *struct {
	JobPath
	Units string `query:"units" enum:"metric,imperial,mixed"`
},
) (*body[*history.NearestJobs], error) {
	kept, err := s.store.Job(ctx, in.ID)
	if err != nil {
		return nil, err
	}
	system, err := wording.System(cmp.Or(in.Units, s.o.Units))
	if err != nil {
		return nil, err
	}
	found, err := s.tries.Nearest(ctx, s.store, kept.Text, in.ID, nil, system)
	if err != nil {
		if job, _ := jobfile.ReadBytes(kept.Text, "job.yaml"); job == nil && ctx.Err() == nil {
			return answer(&history.NearestJobs{Jobs: []history.NearJob{}, Doubt: "This job cannot be compared: it is not whole yet."}), nil
		}
		return nil, err
	}
	return answer(history.NearestOf(found)), nil
}

func (s *Server) records(ctx context.Context, _ store.Person, in *JobPath) (*body[*history.Records], error) {
	kept, err := s.store.Job(ctx, in.ID)
	if err != nil {
		return nil, err
	}
	back, err := s.store.FindNotes(ctx, store.NoteQuery{Kind: store.ComeBackNote})
	if err != nil {
		return nil, err
	}
	served, err := s.store.FindNotes(ctx, store.NoteQuery{Kind: store.ServiceNote})
	if err != nil {
		return nil, err
	}
	page, err := s.store.Find(ctx, store.Query{Limit: 1})
	if err != nil {
		return nil, err
	}
	return answer(history.RecordsOf(in.ID, kept.Text, back, served, page.Total, s.o.Now())), nil
}
