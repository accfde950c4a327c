package web

import "sync"

// Saved tells that somebody saved a job.
type Saved struct {
	Job      string `json:"job"`
	Revision int    `json:"revision"`
	Who      string `json:"who"`
}

// RoundKept tells that a round at the scales was kept, or taken back.
type RoundKept struct {
	Job   string `json:"job"`
	Build string `json:"build"`
}

// Ping keeps a stream open through proxies, and tells that it still is.
type Ping struct {
	At string `json:"at"`
}

// hub hands events to every open page. One that does not listen misses some and
// asks again by itself.
type hub struct {
	mu   sync.Mutex
	open map[chan any]bool
	shut bool
}

func newHub() *hub { return &hub{open: map[chan any]bool{}} }

func (h *hub) listen() (chan any, func()) {
	c := make(chan any, 32)
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.shut {
		close(c)
		return c, func() {}
	}
	h.open[c] = true
	return c, func() {
		h.mu.Lock()
		defer h.mu.Unlock()
		if h.open[c] {
			delete(h.open, c)
			close(c)
		}
	}
}

func (h *hub) tell(event any) {
	h.mu.Lock()
	defer h.mu.Unlock()
	for c := range h.open {
		select {
		case c <- event:
		default:
		}
	}
}

func (h *hub) close() {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.shut = true
	for c := range h.open {
		delete(h.open, c)
		close(c)
	}
}
