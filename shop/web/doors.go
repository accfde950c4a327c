package web

import (
	"net/http"
	"runtime/debug"
	"strings"

	"trunnion/shop/store"
	"trunnion/shop/view"
)

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
	h = s.limitBody(cross.Handler(h))
	return s.headers(s.knownHosts(compress(s.recoverPanics(h))))
}

// policy lets the page load from here alone.
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob: data:; font-src 'self'; connect-src 'self'; worker-src 'self'; manifest-src 'self'; " +
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

// knownHosts refuses requests that call the server by a name it does not have: a
// foreign page whose name was pointed at this machine.
func (s *Server) knownHosts(next http.Handler) http.Handler {
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

// limitBody bounds what is read of a request.
func (s *Server) limitBody(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		most := mostOf(r.URL.Path)
		if r.ContentLength > most {
			says := "what was sent is too large"
			switch most {
			case mostList:
				says = "this list is larger than 8 MB: export the parts alone, without pictures"
			case mostSweeps:
				says = "these files are together larger than 48 MB: send one damper at a time, or export fewer readings a turn; 1,000 are enough"
			}
			writeProblem(w, problem(http.StatusRequestEntityTooLarge, says))
			return
		}
		r.Body = http.MaxBytesReader(w, r.Body, most)
		next.ServeHTTP(w, r)
	})
}

// noRoute answers what no route does: another method at the same address, or nothing.
func (s *Server) noRoute(w http.ResponseWriter, r *http.Request) {
	var allowed []string
	for _, method := range []string{http.MethodGet, http.MethodPost, http.MethodPut, http.MethodDelete} {
		other := *r
		other.Method = method
		if _, pattern := s.mux.Handler(&other); strings.HasPrefix(pattern, method+" ") {
			allowed = append(allowed, method)
		}
	}
	if allowed != nil {
		w.Header().Set("Allow", strings.Join(allowed, ", "))
		writeProblem(w, problem(http.StatusMethodNotAllowed, "this address takes "+strings.Join(allowed, ", ")+", not "+view.Cut(r.Method, 20)))
		return
	}
	writeProblem(w, problem(http.StatusNotFound, "nothing is called "+view.Cut(r.Method+" "+r.URL.Path, 100)))
}

// recoverPanics keeps the server alive when an answer breaks.
func (s *Server) recoverPanics(next http.Handler) http.Handler {
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
