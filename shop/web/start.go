package web

import (
	"context"
	"log/slog"
	"net/http"
	"time"

	"github.com/danielgtaylor/huma/v2/adapters/humago"

	"trunnion/shop/jobfile"
	"trunnion/shop/view"
)

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
	s := &Server{o: o, store: o.Store, guard: o.Guard, log: o.Log, hub: newHub(), mux: http.NewServeMux(), stop: stop, living: background, found: searches{of: map[string]*searching{}}}
	var shelf jobfile.Shelf
	if o.Store != nil {
		shelf = o.Store
	}
	s.tries = view.NewDesk(shelf, o.Version, o.Now)
	s.runs = newRunner(o.Store, s.tries, s.hub, s.log, o.Now)
	s.worst = newSummaries(o.Store, s.tries)
	s.api = humago.New(s.mux, s.config())
	s.routes()
	s.mux.HandleFunc("/api/", s.noRoute)
	s.mux.Handle("/", s.page())
	if o.Store != nil {
		s.group.Go(func() { s.runs.work(background) })
		s.group.Go(func() { s.worst.work(background) })
		s.group.Go(func() { s.sweepSessions(background) })
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
