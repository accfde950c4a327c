package web

import (
	"context"
	"sync"
	"time"

	"trunnion/shop/desk"
	"trunnion/shop/view/find"
)

// searchesKept is how many searches are kept at hand: each holds some megabytes. Chosen.
const searchesKept = 4

// searching is a search that runs here, or has. It lasts as long as this server.
type searching struct {
	now    find.Search
	found  *desk.SearchFound
	cancel context.CancelFunc
	told   time.Time
}

// searches are those of this server, one under way a job.
type searches struct {
	mu    sync.Mutex
	of    map[string]*searching
	order []string // oldest first
}
