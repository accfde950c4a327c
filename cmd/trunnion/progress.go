package main

import (
	"io"
	"os"

	"github.com/schollz/progressbar/v3"
	"golang.org/x/term"
)

// terminal reports whether somebody watches a stream.
func terminal(w io.Writer) bool {
	if p, ok := w.(*paper); ok {
		w = p.to
	}
	f, ok := w.(*os.File)
	return ok && term.IsTerminal(int(f.Fd()))
}

// coloured reports whether a stream may carry colour: a terminal that can, and
// nobody who said no. See no-color.org.
func coloured(w io.Writer) bool {
	return terminal(w) && os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb"
}

// progress shows how far the drives are, on a terminal only.
func progress(w io.Writer) (show func(done, total int), end func()) {
	if !terminal(w) {
		return nil, func() {}
	}
	bar := progressbar.NewOptions(1,
		progressbar.OptionSetWriter(w), progressbar.OptionSetDescription("driving"), progressbar.OptionClearOnFinish(),
		progressbar.OptionSetWidth(30), progressbar.OptionSetPredictTime(false), progressbar.OptionEnableColorCodes(false),
	)
	return func(done, total int) {
			bar.ChangeMax(total)
			_ = bar.Set(done) // a bar that cannot be drawn stops nothing
		}, func() {
			_ = bar.Finish()
		}
}
