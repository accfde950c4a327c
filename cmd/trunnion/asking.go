package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"sync"

	"trunnion/shop/desk"
	"trunnion/shop/jobfile"
	"trunnion/shop/levelling"
)

// asking is where every command puts its question: one desk for the program, which
// keeps its last answers.
var asking = sync.OnceValue(func() *desk.Desk { return desk.New(version) })

// unanswered is what a command ends with where the desk gave no answer.
func unanswered(ctx context.Context, err error) error {
	var ask *desk.AskError
	var rest *levelling.NoRest
	switch {
	case err == nil || ctx.Err() != nil:
		return err
	case errors.As(err, &ask) && ask.Field == "":
		return usage("%w", err)
	case errors.As(err, &ask):
		return usage("--%w", err)
	case errors.As(err, &rest):
		return &status{exitNoAnswer, err}
	}
	return &status{exitNoAnswer, fmt.Errorf("no answer: %w", err)}
}

// jobOrFaults reads a job or lists its faults; nothing says what was not done.
func jobOrFaults(path string, s streams, nothing string) (*jobfile.Job, []jobfile.Fault, error) {
	job, faults, err := readJob(path, s.in)
	if err != nil {
		return nil, nil, err
	}
	if job == nil {
		listFaults(s.err, nameOf(path), faults)
		return nil, nil, &status{exitFaults, fmt.Errorf("%s has %s; %s", nameOf(path), many(refused(faults), "fault", "faults"), nothing)}
	}
	return job, faults, nil
}

// readUpTo reads a file no larger than most bytes.
func readUpTo(path string, most int64) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close() //nolint:errcheck // it was only read
	return io.ReadAll(io.LimitReader(f, most))
}
