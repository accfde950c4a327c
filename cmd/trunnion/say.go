package main

import (
	"fmt"
	"io"
)

// paper is an output that remembers the first failure to write to it, so that
// nobody has to look after every line: run does, once, at the end.
type paper struct {
	to  io.Writer
	err error
}

// Write writes until a write has failed.
func (p *paper) Write(b []byte) (int, error) {
	if p.err != nil {
		return 0, p.err
	}
	n, err := p.to.Write(b)
	p.err = err
	return n, err
}

// say prints to an output whose failures are kept or do not matter: paper, or a
// stream of messages.
func say(w io.Writer, format string, args ...any) {
	_, _ = fmt.Fprintf(w, format, args...)
}
