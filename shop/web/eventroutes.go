package web

import (
	"context"
	"time"

	"github.com/danielgtaylor/huma/v2/sse"
)

// pingEvery is well below the minute after which middle boxes cut a silent
// stream. Chosen.
const pingEvery = 20 * time.Second

// stream sends one page its events until it goes away.
func (s *Server) stream(ctx context.Context, send sse.Sender) {
	events, end := s.hub.listen()
	defer end()
	tick := time.NewTicker(pingEvery)
	defer tick.Stop()
	ping := func() error { return send.Data(Ping{At: s.o.Now().UTC().Format(time.RFC3339)}) }
	if ping() != nil {
		return
	}
	for {
		var err error
		select {
		case <-ctx.Done():
			return
		case <-tick.C:
			err = ping()
		case e, ok := <-events:
			if !ok {
				return
			}
			err = send.Data(e)
		}
		if err != nil {
			return
		}
	}
}
