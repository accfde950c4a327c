package main

import (
	"fmt"
	"io"
)

// Exit statuses.
const (
	exitAnswered = 0 // also where a verdict is over
	exitUsage    = 2
	exitFaults   = 3 // in the job
	exitNoAnswer = 4 // of some build
	exitBroken   = 5 // the program or the machine
	exitStopped  = 130
)

// streams are where a command reads and writes.
type streams struct {
	in       io.Reader
	out, err io.Writer
}

// status is an error with the exit status it leads to.
type status struct {
	code int
	err  error // nil when everything was said already
}

func (s *status) Error() string {
	if s.err == nil {
		return fmt.Sprintf("exit status %d", s.code)
	}
	return s.err.Error()
}

func (s *status) Unwrap() error { return s.err }

func usage(format string, args ...any) error {
	return &status{exitUsage, fmt.Errorf(format, args...)}
}
