package web

import (
	"context"
	"net/http"

	"github.com/danielgtaylor/huma/v2"
	"github.com/danielgtaylor/huma/v2/sse"

	"trunnion/shop/access"
	"trunnion/shop/jobfile"
)

func (s *Server) routes() {
	route(s, get("session", "/api/session", "Who is here, and what this server is"), "", s.session)
	route(s, op(http.MethodPost, "login", "/api/session", "Log in; on the machine itself choose a name", 200), "", s.login)
	route(s, op(http.MethodDelete, "logout", "/api/session", "Log out", 204), "", s.logout)
	route(s, get("people", "/api/people", "Everybody of the workshop"), access.Read, s.people)
	route(s, op(http.MethodPost, "save-person", "/api/people", "Add somebody, or change a role", 200), access.Overseer, s.savePerson)

	route(s, get("jobs", "/api/jobs", "Jobs, the last saved first"), access.Read, s.jobs)
	route(s, get("typical-cars", "/api/typical", "Kinds of car that a job can begin from"), access.Read, s.typicalCars)
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
	route(s, get("plan", "/api/views/{key}/plans/{build}", "What would make a build clear, as one plan"), access.Read, s.plan)
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
	s.partListRoutes()
	s.cornerRoutes()
	s.strutRoutes()
	s.damperRoutes()
	s.roadTestRoutes()
	s.findRoutes()
	s.measuringRoutes()
	s.scaleRoutes()
	s.handoverRoutes()
	s.askRoutes()
	s.supportRoutes()
	s.backupRoutes()

	s.schemaRoute()
	sse.Register(s.api, huma.Operation{OperationID: "events", Method: http.MethodGet, Path: "/api/events", Summary: "What happens, one stream a tab", Middlewares: huma.Middlewares{s.door(access.Read)}},
		map[string]any{"run": Run{}, "saved": Saved{}, "round": RoundKept{}, "search": SearchTold{}, "ping": Ping{}},
		func(ctx context.Context, _ *struct{}, send sse.Sender) { s.stream(ctx, send) })
	s.mux.HandleFunc("GET /api/openapi.json", func(w http.ResponseWriter, r *http.Request) {
		// On the machine itself to whoever asks; on the network it is nobody's business.
		if !s.o.Loopback {
			if _, err := s.guard.May(r.Context(), access.Read); err != nil {
				var p *Problem
				if asProblem(s.problemOf(r.Context(), err), &p) {
					writeProblem(w, p)
				}
				return
			}
		}
		text, err := s.Description()
		if err != nil {
			writeProblem(w, problem(http.StatusInternalServerError, "the description cannot be written"))
			return
		}
		w.Header().Set("Content-Type", "application/vnd.oai.openapi+json;version=3.1")
		_, _ = w.Write(text)
	})
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

// try

// catalogue and presets
