package web

import (
	"context"
	"net/http"
	"strings"
	"sync"
	"time"

	"trunnion/shop/access"
	"trunnion/shop/intake"
	"trunnion/shop/jobfile"
	"trunnion/shop/levelling"
	"trunnion/shop/store"
	"trunnion/shop/view"
	"trunnion/shop/view/scales"
	"trunnion/shop/wording"
)

// roundKeeper keeps the rounds on the scales, one at a time.
type roundKeeper struct {
	*Server
	keeping sync.Mutex // one round at a time: what was asked for is counted when it comes in
}

// scaleRoutes are what the page asks about the scales.
func (s *Server) scaleRoutes() {
	b := &roundKeeper{Server: s}
	route(s, get("scales", "/api/jobs/{id}/scales", "What to turn, from the saved job and the rounds kept"), access.Read, b.scales)
	route(s, op(http.MethodPost, "scales-next", "/api/jobs/{id}/scales/next", "The same with a round that is being typed, and not kept", 200), access.Read, b.scalesNext)
	route(s, op(http.MethodPost, "keep-round", "/api/jobs/{id}/scales/rounds", "Keep a round", 201), access.Measure, b.keepRound)
	route(s, op(http.MethodPost, "withdraw-round", "/api/jobs/{id}/scales/rounds/{round}/withdraw", "Take a round back; it stays kept, and is no longer counted", 200), access.Measure, b.withdrawRound)
	route(s, op(http.MethodPost, "read-scales", "/api/jobs/{id}/scales/read", "Read pasted readings", 200), access.Read, b.readScales)
	route(s, op(http.MethodPost, "scales-lift", "/api/jobs/{id}/scales/lift", "Height of the centre of gravity, from one axle lifted", 200), access.Read, b.scalesLift)
}

// ScalesQuery are the settings of a plain look.
type ScalesQuery struct {
	JobPath
	Build          string   `query:"build" maxLength:"100"`
	Load           string   `query:"load" maxLength:"100"`
	Preset         string   `query:"preset" maxLength:"20"`
	Diagonal       string   `query:"diagonal" maxLength:"40"`
	Price          string   `query:"price" maxLength:"60"`
	Step           string   `query:"step" maxLength:"20"`
	Flats          string   `query:"flats" maxLength:"10"`
	Only           []string `query:"only" maxItems:"4"`
	WantFront      string   `query:"want_front" maxLength:"60"`
	WantRear       string   `query:"want_rear" maxLength:"60"`
	WantRake       string   `query:"want_rake" maxLength:"60"`
	WantLevelFront string   `query:"want_level_front" maxLength:"60"`
	WantLevelRear  string   `query:"want_level_rear" maxLength:"60"`
	WantCross      string   `query:"want_cross" maxLength:"60"`
	WantFrontShare string   `query:"want_front_share" maxLength:"60"`
	WantLeftShare  string   `query:"want_left_share" maxLength:"60"`
	Units          string   `query:"units" maxLength:"10"`
}

func (b *roundKeeper) scales(ctx context.Context, _ store.Person, in *ScalesQuery) (*body[*scales.View], error) {
	v, err := b.look(ctx, in.ID, scales.Settings{
		Build: in.Build, Load: in.Load, Preset: in.Preset, Diagonal: in.Diagonal, Price: in.Price, Step: in.Step, Flats: in.Flats, Only: in.Only, Units: in.Units,
		Wishes: scales.Wishes{
			Front: in.WantFront, Rear: in.WantRear, Rake: in.WantRake, LevelFront: in.WantLevelFront, LevelRear: in.WantLevelRear, Cross: in.WantCross,
			FrontShare: in.WantFrontShare, LeftShare: in.WantLeftShare,
		},
	}, nil)
	return answer(v), err
}

func (b *roundKeeper) scalesNext(ctx context.Context, _ store.Person, in *struct {
	JobPath
	Body scales.Request
},
) (*body[*scales.View], error) {
	v, err := b.look(ctx, in.ID, in.Body.Settings, in.Body.Draft)
	return answer(v), err
}

// look answers what to turn.
func (b *roundKeeper) look(ctx context.Context, job string, settings scales.Settings, draft *intake.RoundTyped) (*scales.View, error) {
	start := b.o.Now()
	st, err := b.stand(ctx, job, settings, draft)
	if err != nil {
		return nil, err
	}
	v := st.Show()
	v.Ms = b.since(start)
	return v, nil
}

// stand puts a build of the saved job on the scales.
func (b *roundKeeper) stand(ctx context.Context, id string, settings scales.Settings, draft *intake.RoundTyped) (*scales.Session, error) {
	r, err := b.store.Job(ctx, id)
	if err != nil {
		return nil, err
	}
	if settings.Units == "" {
		settings.Units = b.o.Units
	}
	all, err := b.store.RoundsOf(ctx, id, "", levelling.Kind)
	if err != nil {
		return nil, err
	}
	return scales.Stand(b.tries.Desk, r.Text, all, settings, draft)
}

// entries are what was kept of a build at the scales, in the order in which it
// came in.
func (b *roundKeeper) entries(ctx context.Context, job, build string) ([]levelling.Entry, error) {
	list, err := b.store.RoundsOf(ctx, job, build, levelling.Kind)
	out := make([]levelling.Entry, len(list))
	for i, r := range list {
		out[i] = scales.EntryOf(&r)
	}
	return out, err
}

func (b *roundKeeper) keepRound(ctx context.Context, who store.Person, in *struct {
	JobPath
	Body scales.RoundRequest
},
) (*body[*scales.View], error) {
	req := &in.Body
	req.Settings.Build = req.Build
	err := b.keep(ctx, who, in.ID, req)
	if err != nil {
		return nil, err
	}
	v, err := b.look(ctx, in.ID, req.Settings, nil)
	return answer(v), err
}

// keep keeps a round with the turns that were made before it. It is kept even
// where its gate stops it: the reading was taken, and is not thrown away.
func (b *roundKeeper) keep(ctx context.Context, who store.Person, job string, req *scales.RoundRequest) error {
	b.keeping.Lock()
	defer b.keeping.Unlock()
	entries, err := b.entries(ctx, job, req.Build)
	if err != nil {
		return err
	}
	history := levelling.Read(entries)
	if _, there := history.Round(req.ID); there {
		return nil // it came twice
	}
	taken, err := time.Parse(time.RFC3339, req.Taken)
	if err != nil && req.Taken != "" {
		return problem(http.StatusUnprocessableEntity, "taken is a time such as 2026-03-01T10:42:00Z")
	}
	if req.Round.Empty() {
		return problem(http.StatusUnprocessableEntity, "nothing was read: enter loads and heights")
	}
	weighing, faults := req.Round.Weigh()
	if len(faults) > 0 {
		p := problem(http.StatusUnprocessableEntity, "the round has what cannot be read: "+faults[0].Field+": "+faults[0].Text)
		for _, f := range faults[:min(len(faults), mostPlaces)] {
			p.Errors = append(p.Errors, Misplaced{"round." + f.Field, view.Cut(f.Text, 300)})
		}
		return p
	}
	st, err := b.stand(ctx, job, req.Settings, nil)
	if err != nil {
		return err
	}
	text, err := st.RoundText(&req.Round, weighing.Turned, req.Seen)
	if err != nil {
		return err
	}
	_, err = b.store.AddRound(ctx, store.Round{ID: req.ID, Job: job, Build: req.Build, Kind: levelling.Kind, Taken: taken, Who: b.nameOf(who, req.Who), Text: text})
	if err == nil {
		b.hub.tell(RoundKept{Job: job, Build: req.Build})
	}
	return err
}

func (b *roundKeeper) withdrawRound(ctx context.Context, who store.Person, in *struct {
	JobPath
	Round string `path:"round" maxLength:"100"`
	Body  scales.WithdrawRequest
},
) (*body[*scales.View], error) {
	build, err := b.withdraw(ctx, who, in.ID, in.Round, &in.Body)
	if err != nil {
		return nil, err
	}
	in.Body.Settings.Build = build
	v, err := b.look(ctx, in.ID, in.Body.Settings, nil)
	return answer(v), err
}

// withdraw keeps that a round was withdrawn, once.
func (b *roundKeeper) withdraw(ctx context.Context, who store.Person, job, round string, req *scales.WithdrawRequest) (build string, err error) {
	b.keeping.Lock()
	defer b.keeping.Unlock()
	all, err := b.store.RoundsOf(ctx, job, "", levelling.Kind)
	if err != nil {
		return "", err
	}
	for _, r := range all {
		if r.ID == round {
			build = r.Build
		}
	}
	entries, err := b.entries(ctx, job, build)
	if err != nil {
		return "", err
	}
	p, there := levelling.Read(entries).Round(round)
	switch {
	case !there:
		return "", &store.NotFound{What: "round", ID: round}
	case p.Withdrawn != nil:
		return build, nil
	}
	text, err := levelling.WithdrawText(round, strings.TrimSpace(req.Why))
	if err != nil {
		return "", err
	}
	_, err = b.store.AddRound(ctx, store.Round{Job: job, Build: build, Kind: levelling.Kind, Who: b.nameOf(who, req.Who), Text: text})
	if err == nil {
		b.hub.tell(RoundKept{Job: job, Build: build})
	}
	return build, err
}

func (b *roundKeeper) readScales(_ context.Context, _ store.Person, in *struct {
	JobPath
	Body scales.Text
},
) (*body[scales.Read], error) {
	list, err := intake.ScalesTyped(strings.NewReader(in.Body.Text))
	out := scales.Read{Rounds: []intake.RoundTyped{}, Faults: []string{}}
	if err != nil {
		for line := range strings.Lines(err.Error()) {
			out.Faults = append(out.Faults, strings.TrimSuffix(line, "\n"))
		}
		return answer(out), nil
	}
	for i := range list {
		out.Rounds = append(out.Rounds, list[i].RoundTyped)
	}
	return answer(out), nil
}

func (b *roundKeeper) scalesLift(ctx context.Context, _ store.Person, in *struct {
	JobPath
	Body scales.LiftRequest
},
) (*body[*scales.Lift], error) {
	r, err := b.store.Job(ctx, in.ID)
	if err != nil {
		return nil, err
	}
	job, faults := jobfile.ReadBytes(r.Text, "job.yaml")
	if job == nil {
		return nil, jobfile.AsError("job", faults)
	}
	units := in.Body.Units
	if units == "" {
		units = b.o.Units
	}
	system, err := wording.System(units)
	if err != nil {
		return nil, problem(http.StatusUnprocessableEntity, err.Error())
	}
	v, err := scales.LiftOf(b.tries.Desk, job, &in.Body, system)
	return answer(v), err
}
