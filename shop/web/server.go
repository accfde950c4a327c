package web

import (
	"context"
	"encoding/json"
	"io/fs"
	"log/slog"
	"net/http"
	"reflect"
	"runtime/debug"
	"strings"
	"sync"
	"time"

	"github.com/danielgtaylor/huma/v2"
	"github.com/danielgtaylor/huma/v2/adapters/humago"

	"trunnion/shop/access"
	"trunnion/shop/jobfile"
	"trunnion/shop/sheet"
	"trunnion/shop/store"
	"trunnion/shop/view"
	"trunnion/shop/view/corners"
	"trunnion/shop/view/history"
	"trunnion/shop/view/linkage"
	"trunnion/shop/view/order"
	"trunnion/shop/view/ride"
	"trunnion/shop/view/scales"
	"trunnion/shop/view/struts"
	"trunnion/shop/view/support"
	"trunnion/shop/view/working"
)

// Options are what a server stands on.
type Options struct {
	Store    *store.Store
	Guard    *access.Guard
	Page     fs.FS // the built page, index.html at its root
	Version  string
	Units    string   // that the page begins with; metric when empty
	Hosts    []string // names and addresses by which requests may call this server
	Loopback bool
	TLS      bool
	Workshop string
	Now      func() time.Time
	Log      *slog.Logger
}

// Server answers requests.
type Server struct {
	o      Options
	store  *store.Store
	guard  *access.Guard
	tries  *view.Desk
	runs   *runner
	hub    *hub
	worst  *summaries
	log    *slog.Logger
	api    huma.API
	mux    *http.ServeMux
	stop   context.CancelFunc
	group  sync.WaitGroup
	closed sync.Once
}

// mostBody is the largest body that is read: a job has at most 2 MiB, and its
// edits some more. [B]
const mostBody = 6 << 20

// New makes a server and begins with what is left to do.
func New(ctx context.Context, o Options) *Server {
	if o.Now == nil {
		o.Now = time.Now
	}
	if o.Log == nil {
		o.Log = slog.New(slog.DiscardHandler)
	}
	if o.Units == "" {
		o.Units = "metric"
	}
	background, stop := context.WithCancel(context.WithoutCancel(ctx))
	s := &Server{o: o, store: o.Store, guard: o.Guard, log: o.Log, hub: newHub(), mux: http.NewServeMux(), stop: stop}
	var shelf jobfile.Shelf
	if o.Store != nil {
		shelf = o.Store
	}
	s.tries = view.NewDesk(shelf, o.Version, o.Now)
	s.runs = newRunner(s)
	s.worst = newSummaries(s)
	s.api = humago.New(s.mux, s.config())
	s.routes()
	s.mux.HandleFunc("/api/", func(w http.ResponseWriter, r *http.Request) {
		writeProblem(w, problem(http.StatusNotFound, "nothing is called "+view.Cut(r.Method+" "+r.URL.Path, 100)))
	})
	s.mux.Handle("/", s.page())
	if o.Store != nil {
		s.group.Go(func() { s.runs.work(background) })
		s.group.Go(func() { s.worst.work(background) })
	}
	return s
}

// Close ends what runs in the background.
func (s *Server) Close() {
	s.closed.Do(func() {
		s.stop()
		s.hub.close()
		s.group.Wait()
	})
}

func (s *Server) config() huma.Config {
	c := huma.DefaultConfig("Trunnion", s.o.Version)
	c.Info.Description = "A workshop's jobs, tries and runs. Texts and figures are ready to show; plain numbers are for drawing, in the unit named beside them."
	c.OpenAPIPath, c.DocsPath, c.SchemasPath = "", "", ""
	c.CreateHooks = nil // no links to schemas in answers
	c.Components.Schemas = huma.NewMapRegistry("#/components/schemas/", schemaName)
	return c
}

// lent are packages whose own types stand in answers, by what their names begin
// with there: the page calls others the same, a part, a strip, a change.
var lent = map[string]string{
	reflect.TypeFor[sheet.Sheet]().PkgPath(): "Sheet",
	reflect.TypeFor[store.Store]().PkgPath(): "Kept",
}

// pages are the packages of the pages: what the whole of a page is called in the
// description, and what the names of its pieces begin with there.
var pages = map[string]struct{ whole, pieces string }{
	reflect.TypeFor[linkage.View]().PkgPath(): {"Linkage", "Linkage"},
	reflect.TypeFor[struts.View]().PkgPath():  {"Struts", "Strut"},
	reflect.TypeFor[corners.View]().PkgPath(): {"Corners", "Corner"},
	reflect.TypeFor[history.View]().PkgPath(): {"History", ""},
	reflect.TypeFor[support.View]().PkgPath(): {"Support", "Support"},
	reflect.TypeFor[scales.View]().PkgPath():  {"Scales", "Scales"},
	reflect.TypeFor[working.View]().PkgPath(): {"Working", ""},
	reflect.TypeFor[ride.View]().PkgPath():    {"Ride", "Ride"},
	reflect.TypeFor[order.View]().PkgPath():   {"Order", "Order"},
}

// schemaNames are the names in the description of types that the program calls
// otherwise: a name there stays what it is.
var schemaNames = map[reflect.Type]string{
	reflect.TypeFor[history.Line]():            "HistoryLine",
	reflect.TypeFor[history.Entry]():           "HistoryEntry",
	reflect.TypeFor[history.Note]():            "NoteShown",
	reflect.TypeFor[support.SymptomRow]():      "SymptomRow",
	reflect.TypeFor[support.SymptomRows]():     "SymptomRows",
	reflect.TypeFor[view.ChartGroup]():         "CornerGroup",
	reflect.TypeFor[view.Missing]():            "StrutMissing",
	reflect.TypeFor[view.Slider]():             "StrutSlider",
	reflect.TypeFor[view.TravelMark]():         "StrutMark",
	reflect.TypeFor[corners.Steadiness]():      "Steadiness",
	reflect.TypeFor[corners.SteadinessBuild](): "SteadinessBuild",
	reflect.TypeFor[struts.MountRow]():         "MountRow",
	reflect.TypeFor[working.Remedy]():          "RemedyLine",
	reflect.TypeFor[working.Limit]():           "LimitText",
	reflect.TypeFor[working.Narrow]():          "NarrowText",
	reflect.TypeFor[ride.Trace]():              "Trace",
	reflect.TypeFor[ride.TraceUnits]():         "TraceUnits",
	reflect.TypeFor[ride.TraceRoad]():          "TraceRoad",
	reflect.TypeFor[ride.TraceLimits]():        "TraceLimits",
	reflect.TypeFor[order.Bought]():            "Bought",
}

// schemaName names a type in the description.
func schemaName(t reflect.Type, hint string) string {
	name := huma.DefaultSchemaNamer(t, hint)
	for t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	if said := schemaNames[t]; said != "" {
		return said
	}
	if page, ok := pages[t.PkgPath()]; ok {
		if name == "View" {
			return page.whole
		}
		return page.pieces + name
	}
	if prefix := lent[t.PkgPath()]; !strings.HasPrefix(name, prefix) {
		return prefix + name
	}
	return name
}

// Description is the interface in OpenAPI 3.1.
func (s *Server) Description() ([]byte, error) {
	return json.MarshalIndent(s.api.OpenAPI(), "", "  ")
}

// Handler is the whole server, its doors in their order.
func (s *Server) Handler() http.Handler {
	cross := http.NewCrossOriginProtection()
	cross.SetDenyHandler(http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) {
		writeProblem(w, problem(http.StatusForbidden, "a page of another site may not do that"))
	}))
	var h http.Handler = s.mux
	if s.guard != nil {
		h = s.guard.Handler(h)
	}
	h = s.doors(cross.Handler(h))
	return s.headers(s.hosts(s.caught(h)))
}

// policy lets the page load from here alone.
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob: data:; font-src 'self'; connect-src 'self'; " +
	"form-action 'self'; base-uri 'none'; frame-ancestors 'none'"

// headers are those of every answer.
func (s *Server) headers(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", policy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("X-Frame-Options", "DENY")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Permissions-Policy", "camera=(), microphone=(), geolocation=(), payment=(), usb=()")
		if s.o.TLS {
			h.Set("Strict-Transport-Security", "max-age=31536000")
		}
		if strings.HasPrefix(r.URL.Path, "/api/") {
			h.Set("Cache-Control", "no-store")
		}
		next.ServeHTTP(w, r)
	})
}

// hosts refuses requests that call the server by a name it does not have: a
// foreign page whose name was pointed at this machine.
func (s *Server) hosts(next http.Handler) http.Handler {
	known := map[string]bool{}
	for _, h := range s.o.Hosts {
		known[strings.ToLower(h)] = true
	}
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if !known[strings.ToLower(hostOf(r.Host))] {
			writeProblem(w, problem(http.StatusMisdirectedRequest, "this server is not called that; use the address it printed when it started"))
			return
		}
		next.ServeHTTP(w, r)
	})
}

// hostOf is a Host header without its port and brackets.
func hostOf(host string) string {
	if rest, ok := strings.CutPrefix(host, "["); ok {
		inside, _, _ := strings.Cut(rest, "]")
		return inside
	}
	name, _, _ := strings.Cut(host, ":")
	return name
}

// doors bounds what is read of a request.
func (s *Server) doors(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.ContentLength > mostBody {
			writeProblem(w, problem(http.StatusRequestEntityTooLarge, "what was sent is too large"))
			return
		}
		r.Body = http.MaxBytesReader(w, r.Body, mostBody)
		next.ServeHTTP(w, r)
	})
}

// caught keeps the server alive when an answer breaks.
func (s *Server) caught(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		defer func() {
			broken := recover()
			if broken == nil {
				return
			}
			if broken == http.ErrAbortHandler { //nolint:errorlint // recover gives the value itself
				panic(broken)
			}
			id := store.NewID()[:8]
			s.log.Error("broken", "id", id, "at", r.Method+" "+r.URL.Path, "what", broken, "stack", string(debug.Stack()))
			writeProblem(w, problem(http.StatusInternalServerError, "the program is broken here; nothing that was saved is lost. Tell the number "+id))
		}()
		next.ServeHTTP(w, r)
	})
}
