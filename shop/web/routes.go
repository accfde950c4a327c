package web

import (
	"context"
	"encoding/json"
	"net/http"
	"time"

	"github.com/danielgtaylor/huma/v2"
	"github.com/danielgtaylor/huma/v2/sse"

	"trunnion/shop/access"
	"trunnion/shop/desk"
	"trunnion/shop/jobfile"
	"trunnion/shop/store"
	"trunnion/shop/view"
	"trunnion/shop/view/builds"
	"trunnion/shop/view/ride"
	"trunnion/shop/view/working"
	"trunnion/shop/wording"
)

// route registers one operation behind the task it asks for.
func route[I, O any](s *Server, op huma.Operation, task access.Task, handle func(ctx context.Context, who store.Person, in *I) (*O, error)) {
	op.MaxBodyBytes = mostBody
	huma.Register(s.api, op, func(ctx context.Context, in *I) (*O, error) {
		var who store.Person
		if task != "" {
			var err error
			if who, err = s.guard.May(ctx, task); err != nil {
				return nil, s.problemOf(ctx, err)
			}
		}
		out, err := handle(ctx, who, in)
		if err != nil {
			return nil, s.problemOf(ctx, err)
		}
		return out, nil
	})
}

func get(id, path, what string) huma.Operation {
	return huma.Operation{OperationID: id, Method: http.MethodGet, Path: path, Summary: what}
}

func op(method, id, path, what string, status int) huma.Operation {
	return huma.Operation{OperationID: id, Method: method, Path: path, Summary: what, DefaultStatus: status}
}

type body[T any] struct{ Body T }

func answer[T any](v T) *body[T] { return &body[T]{v} }

type nothing struct{}

// JobPath names a job.
type JobPath struct {
	ID string `path:"id" maxLength:"100"`
}

func (s *Server) routes() {
	route(s, get("session", "/api/session", "Who is here, and what this server is"), "", s.session)
	route(s, op(http.MethodPost, "login", "/api/session", "Log in; on the machine itself choose a name", 200), "", s.login)
	route(s, op(http.MethodDelete, "logout", "/api/session", "Log out", 204), "", s.logout)
	route(s, get("people", "/api/people", "Everybody of the workshop"), access.Read, s.people)
	route(s, op(http.MethodPost, "save-person", "/api/people", "Add somebody, or change a role", 200), access.Overseer, s.savePerson)

	route(s, get("jobs", "/api/jobs", "Jobs, the last saved first"), access.Read, s.jobs)
	route(s, op(http.MethodPost, "create-job", "/api/jobs", "A new job: from twelve figures, from a file, or from another job", 201), access.Work, s.createJob)
	route(s, get("job", "/api/jobs/{id}", "A job as it was last saved"), access.Read, s.job)
	route(s, op(http.MethodPut, "save-job", "/api/jobs/{id}", "Save the next revision of a job", 200), access.Measure, s.saveJob)
	route(s, get("revisions", "/api/jobs/{id}/revisions", "All revisions, the newest first"), access.Read, s.revisions)
	route(s, get("revision", "/api/jobs/{id}/revisions/{n}", "The text of one revision"), access.Read, s.revision)
	route(s, get("draft", "/api/jobs/{id}/draft", "What the person typed and did not save"), access.Read, s.draft)
	route(s, op(http.MethodPut, "keep-draft", "/api/jobs/{id}/draft", "Keep a draft", 204), access.Read, s.keepDraft)
	route(s, op(http.MethodDelete, "drop-draft", "/api/jobs/{id}/draft", "Throw a draft away", 204), access.Read, s.dropDraft)
	route(s, get("job-order", "/api/jobs/{id}/order", "What each build costs and buys, for the owner"), access.Read, s.jobOrder)
	s.fileRoute()

	route(s, op(http.MethodPost, "try", "/api/try", "Try a job with edits, without saving", 200), access.Read, s.try)
	route(s, get("working", "/api/views/{key}/workings/{value}", "How a figure was reached"), access.Read, s.working)
	route(s, get("trace", "/api/views/{key}/trace", "An obstacle moment by moment"), access.Read, s.trace)

	route(s, op(http.MethodPost, "start-run", "/api/jobs/{id}/runs", "Judge a job fully, in the background", 202), access.Work, s.startRun)
	route(s, get("runs", "/api/jobs/{id}/runs", "Runs of a job, the newest first"), access.Read, s.jobRuns)
	route(s, get("run", "/api/runs/{id}", "A run, with its view when it is done"), access.Read, s.run)
	route(s, op(http.MethodDelete, "cancel-run", "/api/runs/{id}", "Stop a run", 204), access.Work, s.cancelRun)

	route(s, get("catalogue", "/api/catalogue", "Parts that the workshop stocks"), access.Read, s.catalogue)
	route(s, op(http.MethodPut, "save-part", "/api/catalogue", "Save the next revision of a part", 200), access.Work, s.savePart)
	route(s, get("presets", "/api/presets", "The workshop's own builds by type of car"), access.Read, s.presets)
	route(s, op(http.MethodPut, "save-preset", "/api/presets", "Save the next revision of a preset", 200), access.Work, s.savePreset)

	route(s, get("differences", "/api/jobs/{id}/differences", "Where a build of a job is not as a preset says"), access.Read, s.differences)

	s.keepRoutes()
	s.cornerRoutes()
	s.strutRoutes()
	s.scaleRoutes()
	s.handoverRoutes()
	s.askRoutes()
	s.supportRoutes()

	s.schemaRoute()
	sse.Register(s.api, huma.Operation{OperationID: "events", Method: http.MethodGet, Path: "/api/events", Summary: "What happens, one stream a tab", Middlewares: huma.Middlewares{s.readers}},
		map[string]any{"run": Run{}, "saved": Saved{}, "ping": Ping{}},
		func(ctx context.Context, _ *struct{}, send sse.Sender) { s.stream(ctx, send) })
	s.mux.HandleFunc("GET /api/openapi.json", func(w http.ResponseWriter, r *http.Request) {
		text, err := s.Description()
		if err != nil {
			writeProblem(w, problem(http.StatusInternalServerError, "the description cannot be written"))
			return
		}
		w.Header().Set("Content-Type", "application/vnd.oai.openapi+json;version=3.1")
		_, _ = w.Write(text)
	})
}

// readers lets those through who may read: a stream has no answer of its own to
// say no with.
func (s *Server) readers(ctx huma.Context, next func(huma.Context)) {
	_, err := s.guard.May(ctx.Context(), access.Read)
	if err == nil {
		next(ctx)
		return
	}
	var p *Problem
	if asProblem(s.problemOf(ctx.Context(), err), &p) {
		if err := huma.WriteErr(s.api, ctx, p.Status, p.Detail); err != nil {
			s.log.Debug("nobody to tell", "err", err)
		}
	}
}

// schemaRoute gives the format of a job file.
func (s *Server) schemaRoute() {
	s.mux.HandleFunc("GET /api/schema", func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Type", "application/schema+json")
		_, _ = w.Write(jobfile.Schema())
	})
}

// fileRoute gives a job as one file.
func (s *Server) fileRoute() {
	s.mux.HandleFunc("GET /api/jobs/{id}/file", func(w http.ResponseWriter, r *http.Request) {
		_, err := s.guard.May(r.Context(), access.Read)
		var name string
		var text []byte
		if err == nil {
			name, text, err = s.store.Export(r.Context(), r.PathValue("id"), 0)
		}
		if err != nil {
			var p *Problem
			if asProblem(s.problemOf(r.Context(), err), &p) {
				writeProblem(w, p)
			}
			return
		}
		w.Header().Set("Content-Type", "application/yaml")
		w.Header().Set("Content-Disposition", `attachment; filename="`+name+`"`)
		_, _ = w.Write(text)
	})
}

func asProblem(err error, p **Problem) bool {
	got, ok := err.(*Problem) //nolint:errorlint // problemOf gives nothing else
	*p = got
	return ok
}

// try

func (s *Server) try(ctx context.Context, _ store.Person, in *struct{ Body view.TryRequest }) (*body[*builds.View], error) {
	var full *desk.Result
	if in.Body.Run != "" {
		full = s.runs.judged(ctx, in.Body.Run, s.tries.TextOf(ctx, &in.Body))
		if full != nil && !desk.InBrief(full.Job, in.Body.Look()) {
			full = nil // another speed than the brief's: only a try has it
		}
	}
	v, err := s.compared(ctx, &in.Body, full)
	if err != nil {
		return nil, err
	}
	if len(in.Body.Edits) == 0 {
		s.worst.learn(in.Body.Text, v)
	}
	return answer(v), nil
}

// compared shows a job with edits, or the full judgement where there is one.
func (s *Server) compared(ctx context.Context, req *view.TryRequest, full *desk.Result) (*builds.View, error) {
	start := s.o.Now()
	t, err := s.tries.Compared(ctx, req, full)
	if err != nil {
		return nil, err
	}
	v, err := builds.Of(ctx, t)
	if v != nil {
		v.Ms = s.since(start)
	}
	return v, err
}

// since is how long ago something began [ms].
func (s *Server) since(start time.Time) int { return int(s.o.Now().Sub(start).Milliseconds()) }

// ViewPath names a view.
type ViewPath struct {
	Key string `path:"key" maxLength:"64"`
}

func (s *Server) working(ctx context.Context, _ store.Person, in *struct {
	ViewPath
	Value string `path:"value" maxLength:"400"`
	Units string `query:"units" enum:"metric,imperial,mixed"`
},
) (*body[*working.View], error) {
	v, err := s.tries.Opened(in.Key, in.Units)
	if err != nil {
		return nil, err
	}
	w, err := working.Of(ctx, v, in.Value)
	return answer(w), err
}

func (s *Server) trace(ctx context.Context, _ store.Person, in *struct {
	ViewPath
	Build     string `query:"build" required:"true" maxLength:"100"`
	MaxPoints int    `query:"maxPoints" minimum:"2" maximum:"20000" default:"1500"`
},
) (*body[*ride.Trace], error) {
	v, err := s.tries.Opened(in.Key, "")
	if err != nil {
		return nil, err
	}
	if v.Answer == nil {
		return nil, problem(http.StatusUnprocessableEntity, "the job has no answer to play")
	}
	t, err := ride.TraceOf(ctx, v, in.Build, in.MaxPoints)
	if err != nil && ctx.Err() == nil {
		return nil, problem(http.StatusUnprocessableEntity, err.Error())
	}
	return answer(t), err
}

// catalogue and presets

// Part is an entry of the catalogue.
type Part struct {
	ID       string `json:"id"`
	Kind     string `json:"kind"`
	Name     string `json:"name"`
	Line     string `json:"line"`
	Source   string `json:"source"`
	Date     string `json:"date"`
	Stock    string `json:"stock"`
	Text     string `json:"text"`
	Revision int    `json:"revision"`
	Price    string `json:"price,omitempty"`
	// Withdrawn: no longer offered; kept for the jobs that name it.
	Withdrawn bool   `json:"withdrawn"`
	Who       string `json:"who"`
	Why       string `json:"why"`
}

// Parts is a list of the catalogue.
type Parts struct {
	Parts []Part `json:"parts"`
}

func partOf(p store.Part) Part {
	return Part{
		ID: p.Kind + ":" + p.Slug, Kind: p.Kind, Name: p.Name, Line: partLine(p), Source: p.Source, Date: p.Dated, Stock: p.Stock, Text: p.Text, Revision: p.Revision,
		Withdrawn: p.Withdrawn, Who: p.Who, Why: p.Why,
	}
}

func (s *Server) catalogue(ctx context.Context, _ store.Person, in *struct {
	Kind   string `query:"kind" maxLength:"40"`
	Search string `query:"search" maxLength:"200"`
	All    bool   `query:"all" doc:"those too that are no longer offered"`
},
) (*body[Parts], error) {
	list, err := s.store.Parts(ctx, store.PartQuery{Kind: in.Kind, Text: in.Search, Withdrawn: in.All})
	out := Parts{Parts: []Part{}}
	for _, p := range list {
		out.Parts = append(out.Parts, partOf(p))
	}
	return answer(out), err
}

// PartRequest is a part to be saved.
type PartRequest struct {
	Kind      string `json:"kind" enum:"spring,damper,stop,mount,platform,tyre,wheel"`
	Slug      string `json:"slug" maxLength:"80"`
	Name      string `json:"name" maxLength:"200"`
	Text      string `json:"text" maxLength:"200000"`
	Source    string `json:"source" maxLength:"300"`
	Date      string `json:"date" maxLength:"10"`
	Stock     string `json:"stock" maxLength:"300"`
	Withdrawn bool   `json:"withdrawn,omitempty"`
	Revision  int    `json:"revision" minimum:"0"`
	Why       string `json:"why" maxLength:"300"`
	Who       string `json:"who,omitempty" maxLength:"100"`
}

func (s *Server) savePart(ctx context.Context, who store.Person, in *struct{ Body PartRequest }) (*body[Part], error) {
	b := in.Body
	p, err := s.store.SavePart(ctx, store.Part{
		Kind: b.Kind, Slug: b.Slug, Name: b.Name, Text: b.Text, Source: b.Source, Dated: b.Date, Stock: b.Stock, Withdrawn: b.Withdrawn,
		Revision: b.Revision, Who: s.nameOf(who, b.Who), Why: b.Why,
	})
	return answer(partOf(p)), err
}

// Preset is the workshop's own build for a type of car.
type Preset struct {
	ID       string `json:"id"`
	Car      string `json:"car"`
	Name     string `json:"name"`
	Text     string `json:"text"`
	Revision int    `json:"revision"`
	When     string `json:"when"`
	Who      string `json:"who"`
}

// Presets is a list of presets.
type Presets struct {
	Presets []Preset `json:"presets"`
}

func (s *Server) presetOf(p store.Preset) Preset {
	return Preset{ID: p.Slug, Car: p.Car, Name: p.Name, Text: p.Text, Revision: p.Revision, When: view.When(p.When), Who: p.Who}
}

func (s *Server) presets(ctx context.Context, _ store.Person, in *struct {
	Car string `query:"car" maxLength:"200"`
},
) (*body[Presets], error) {
	list, err := s.store.Presets(ctx, in.Car)
	out := Presets{Presets: []Preset{}}
	for _, p := range list {
		out.Presets = append(out.Presets, s.presetOf(p))
	}
	return answer(out), err
}

// PresetRequest is a preset to be saved.
type PresetRequest struct {
	ID        string `json:"id" maxLength:"80"`
	Car       string `json:"car" maxLength:"200"`
	Name      string `json:"name" maxLength:"200"`
	Text      string `json:"text" maxLength:"200000"`
	Withdrawn bool   `json:"withdrawn,omitempty"`
	Revision  int    `json:"revision" minimum:"0"`
	Why       string `json:"why" maxLength:"300"`
	Who       string `json:"who,omitempty" maxLength:"100"`
}

func (s *Server) savePreset(ctx context.Context, who store.Person, in *struct{ Body PresetRequest }) (*body[Preset], error) {
	b := in.Body
	p, err := s.store.SavePreset(ctx, store.Preset{
		Slug: b.ID, Car: b.Car, Name: b.Name, Text: b.Text, Withdrawn: b.Withdrawn, Revision: b.Revision, Who: s.nameOf(who, b.Who), Why: b.Why,
	})
	return answer(s.presetOf(p)), err
}

// Difference is one place at which a build is not as the preset says.
type Difference struct {
	Path   string `json:"path"`
	Label  string `json:"label"`
	Preset string `json:"preset"`
	Job    string `json:"job"`
}

// Differences are all of them; none where the build is as the preset says.
type Differences struct {
	Differences []Difference `json:"differences"`
}

func (s *Server) differences(ctx context.Context, _ store.Person, in *struct {
	JobPath
	Preset string `query:"preset" required:"true" maxLength:"100"`
	Build  string `query:"build" required:"true" maxLength:"100"`
},
) (*body[Differences], error) {
	p, err := s.store.Preset(ctx, in.Preset)
	if err != nil {
		return nil, err
	}
	r, err := s.store.Job(ctx, in.ID)
	if err != nil {
		return nil, err
	}
	list, err := store.Differs(p, r.Text, in.Build)
	out := Differences{Differences: []Difference{}}
	for _, d := range list {
		out.Differences = append(out.Differences, Difference{Path: d.Path, Label: wording.Label("builds." + in.Build + "." + d.Path), Preset: d.Preset, Job: d.Job})
	}
	return answer(out), err
}

// keptDraft is a draft as it is stored.
func keptDraft(d DraftBody) ([]byte, error) { return json.Marshal(d) }
