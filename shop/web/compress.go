package web

import (
	"net/http"
	"strings"

	"github.com/klauspost/compress/gzhttp"
)

// compressed are the kinds of answers that shrink: fonts, papers and tables for a
// spreadsheet are packed already, and a stream of events must not wait for a block to fill.
var compressed = []string{
	"application/json", "application/problem+json", "application/vnd.oai.openapi+json", "application/yaml",
	"text/html", "text/css", "text/javascript", "text/plain", "text/csv", "image/svg+xml",
}

// leastCompressed is the size below which packing saves no packet on the network. Chosen. [B]
const leastCompressed = 1200

// jitter is by how much the length of a packed answer is made to vary with its content. A page
// of another site that could make somebody's browser ask, and see how long the answers are,
// would otherwise learn from their lengths what stands in them (Gluck, Harris and Prado,
// "BREACH: reviving the CRIME attack", 2013). Such pages are refused at the door; what carries
// a session is not packed at all. [B]
const jitter = 64

// compress packs answers for a browser that can unpack them.
func compress(next http.Handler) http.Handler {
	wrap, err := gzhttp.NewWrapper(
		gzhttp.MinSize(leastCompressed), gzhttp.CompressionLevel(4), gzhttp.EnableZstd(false),
		gzhttp.ContentTypes(compressed), gzhttp.RandomJitter(jitter, 0, false),
	)
	if err != nil {
		panic("web: compression: " + err.Error()) // options that are constants
	}
	packed := wrap(next)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if strings.HasPrefix(r.URL.Path, "/api/session") || strings.HasPrefix(r.URL.Path, "/api/events") {
			next.ServeHTTP(w, r)
			return
		}
		packed.ServeHTTP(w, r)
	})
}
