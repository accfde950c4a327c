// Package viewtest gives the tests of pages the example jobs as a page sends them.
package viewtest

import (
	"slices"
	"testing"
	"time"

	"trunnion/examples"
	"trunnion/shop/jobfile"
	"trunnion/shop/view"
)

// Desk is a desk without a catalogue.
func Desk(tb testing.TB) *view.Desk {
	tb.Helper()
	return view.NewDesk(nil, "test", time.Now)
}

// Text is the text of an example by its folder.
func Text(tb testing.TB, example string) string {
	tb.Helper()
	text, err := examples.Jobs.ReadFile(example + "/job.yaml")
	if err != nil {
		tb.Fatal(err)
	}
	return string(text)
}

// DemoText is the demo job.
func DemoText(tb testing.TB) string {
	tb.Helper()
	return Text(tb, "marl-estate")
}

// Pointless is the demo job with the hardpoints of both axles taken out.
func Pointless(tb testing.TB) view.TryRequest {
	tb.Helper()
	return Demo(tb, jobfile.Edit{Path: "car.front.hardpoints"}, jobfile.Edit{Path: "car.rear.hardpoints"})
}

// Demo is the demo job with changes: hardpoints, struts of both kinds, four builds.
func Demo(tb testing.TB, edits ...jobfile.Edit) view.TryRequest {
	tb.Helper()
	return Try(DemoText(tb), edits...)
}

// Hatch is a job with hardpoints: struts in front, a twist beam at the rear.
func Hatch(tb testing.TB, edits ...jobfile.Edit) view.TryRequest {
	tb.Helper()
	return Try(Text(tb, "sedley-hatch"), edits...)
}

// Try is a text with changes, in metric units.
func Try(text string, edits ...jobfile.Edit) view.TryRequest {
	return view.TryRequest{Text: text, Edits: append([]jobfile.Edit{}, edits...), Units: "metric"}
}

// Set is a value to be written.
func Set(path, value string) jobfile.Edit { return jobfile.Edit{Path: path, Value: &value} }

// P95 is what 95 in 100 of a list take at most [ms].
func P95(list []time.Duration) float64 {
	slices.Sort(list)
	return float64(list[int(0.95*float64(len(list)))]) / float64(time.Millisecond)
}
