package web

import (
	"context"
	"io/fs"
	"log/slog"
	"net/http"
	"sync"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"trunnion/shop/access"
	"trunnion/shop/desk"
	"trunnion/shop/store"
	"trunnion/shop/view"
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
	Hands    desk.Hands // that compute the pieces of searches; nil: they are computed in one go
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
	living context.Context //nolint:containedctx // of what runs in the background: it ends with the server
	found  searches
	group  sync.WaitGroup
	closed sync.Once
}

// mostBody is the largest body that is read: a job has at most 2 MiB, and its
// edits some more. [B]
const mostBody = 6 << 20

// mostSweeps is the same of files of sweeps: 48 MB of them, written in base64. Half a
// million readings are some 25 MB.
const mostSweeps = 64 << 20

// mostList is the same of a list of parts: 8 MB of it, written in base64.
const mostList = 12 << 20

// mostOf is the largest body that is read at a path.
func mostOf(path string) int64 {
	switch path {
	case "/api/ask/damper-read", "/api/ask/damper-pair", "/api/ask/damper-accept", "/api/dampers/sweeps", "/api/dampers/accept",
		"/api/ask/roadtest-read", "/api/ask/roadtest-compare", "/api/ask/roadtest-correct", "/api/roadtest", "/api/roadtest/log":
		return mostSweeps
	case "/api/ask/catalogue-read", "/api/catalogue/list":
		return mostList
	}
	return mostBody
}

// longest is how long a question is worked on before whoever asked is told to ask for less:
// shorter than an answer may take to be written. Chosen.
const longest = 110 * time.Second
