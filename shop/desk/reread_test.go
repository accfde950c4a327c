package desk

import (
	"math"
	"testing"

	"trunnion/chassis/figure"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
)

// A build that was read after fitting and is then turned, raised or pulled moves as one
// that was not read: the readings say where it stood, and hold it back no longer. What
// they found of its seats stays found.
func TestSeatsTurnedAfterAReadingMoveTheCar(t *testing.T) {
	read := demo(t)
	edit := func(text []byte, list ...jobfile.Edit) []byte {
		ed := &jobfile.Editor{Text: text, System: quantity.Metric}
		for _, e := range list {
			ed.Apply(t.Context(), e)
		}
		if len(ed.Faults) > 0 {
			t.Fatal(ed.Faults)
		}
		return ed.Text
	}
	d := New("test")
	heights := func(text []byte) (out [4]float64) {
		tr, err := d.Try(t.Context(), Typed{Text: text}, Look{Load: "driver"}, quantity.Metric)
		if err != nil || tr.Answer == nil {
			t.Fatal(err, tr.Faults)
		}
		for i := range out {
			out[i] = tr.Answer.Get("arch-height", "kit", "driver", i).Value
		}
		return out
	}
	plain := heights(read.Text)
	// Read with every corner 4 mm lower than the parts say, the driver aboard.
	low := make([]string, 4)
	for i := range low {
		low[i] = quantity.Format(plain[i]-4e-3, quantity.Length, quantity.Metric, 2)
	}
	kept := "{state: driver, bars: on, arch_height: [" + low[0] + ", " + low[1] + ", " + low[2] + ", " + low[3] + "]}"
	was := edit(read.Text, jobfile.Edit{Path: "builds.kit.readings", Value: &kept})
	before := heights(was)
	if off := plain[figure.RearLeft] - before[figure.RearLeft]; off < 1e-3 {
		t.Fatalf("the readings lower the car by %.1f mm only", 1e3*off)
	}
	for _, row := range []struct{ path, value string }{
		{"builds.kit.setup.platform.front_left", "9 mm"}, {"builds.kit.setup.platform.front_right", "9 mm"},
	} {
		e := jobfile.Edit{Path: row.path, Value: &row.value}
		after, unread, bare := heights(edit(was, e)), heights(edit(read.Text, e)), plain
		for i := range after {
			// The same turn does the same to a car that was read and to one that was not, but
			// for the little by which their springs, stops and bushes are elsewhere.
			if got, want := after[i]-before[i], unread[i]-bare[i]; math.Abs(got-want) > 0.6e-3 {
				t.Errorf("%s: corner %d moves %.2f mm, unread it moves %.2f mm", row.path, i, 1e3*got, 1e3*want)
			}
		}
		if most := math.Max(math.Abs(after[0]-before[0]), math.Abs(after[1]-before[1])); most < 2e-3 {
			t.Errorf("%s: the corner moves by %.2f mm", row.path, 1e3*most)
		}
	}
	// A height that is wanted now is met, whatever was read before.
	level := "[352 mm, 352 mm, 356 mm, 356 mm]"
	tr, err := d.Try(t.Context(), Typed{Text: edit(was, jobfile.Edit{Path: "builds.kit.setup.heights", Value: &level})}, Look{Load: "empty"}, quantity.Metric)
	if err != nil || tr.Answer == nil {
		t.Fatal(err, tr.Faults)
	}
	for i, want := range [4]float64{0.352, 0.352, 0.356, 0.356} {
		if got := tr.Answer.Get("arch-height", "kit", "empty", i).Value; math.Abs(got-want) > 0.5e-3 {
			t.Errorf("corner %d stands at %.1f mm, %.0f mm is wanted", i, 1e3*got, 1e3*want)
		}
	}
}
