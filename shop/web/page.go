package web

import (
	"bytes"
	"errors"
	"io"
	"io/fs"
	"net/http"
	"path"
	"strings"
	"time"
)

const notBuilt = `<!doctype html><html lang="en-GB"><meta charset="utf-8"><title>Trunnion</title>
<h1>The page was not built into this program</h1>
<p>Build it first with <code>make build</code>, or run <code>make run</code>. The interface under <code>/api/</code> answers all the same.</p></html>
`

// page serves the built page. Addresses of the page itself, such as /jobs/…,
// give index.html; files with a fingerprint in their name are kept for good.
func (s *Server) page() http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.Method != http.MethodGet && r.Method != http.MethodHead {
			w.Header().Set("Allow", "GET, HEAD")
			writeProblem(w, problem(http.StatusMethodNotAllowed, "pages are read only"))
			return
		}
		name := strings.TrimPrefix(path.Clean("/"+r.URL.Path), "/")
		if name == "" || !strings.Contains(path.Base(name), ".") {
			name = "index.html"
		}
		data, err := s.file(name)
		switch {
		case err != nil && name == "index.html":
			w.Header().Set("Content-Type", "text/html; charset=utf-8")
			w.Header().Set("Cache-Control", "no-store")
			w.WriteHeader(http.StatusServiceUnavailable)
			_, _ = io.WriteString(w, notBuilt)
			return
		case err != nil:
			writeProblem(w, problem(http.StatusNotFound, "there is no such file"))
			return
		}
		if strings.HasPrefix(name, "assets/") {
			w.Header().Set("Cache-Control", "public, max-age=31536000, immutable")
		} else {
			w.Header().Set("Cache-Control", "no-cache")
		}
		http.ServeContent(w, r, name, time.Time{}, bytes.NewReader(data))
	})
}

// file reads a file of the page; a name that leads out of it is not there.
func (s *Server) file(name string) ([]byte, error) {
	if s.o.Page == nil || !fs.ValidPath(name) {
		return nil, fs.ErrNotExist
	}
	f, err := s.o.Page.Open(name)
	if err != nil {
		return nil, err
	}
	info, err := f.Stat()
	if err == nil && info.IsDir() {
		err = fs.ErrNotExist
	}
	if err != nil {
		return nil, errors.Join(err, f.Close())
	}
	data, err := io.ReadAll(f)
	return data, errors.Join(err, f.Close())
}
