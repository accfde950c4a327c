package builds

import (
	"strings"
	"testing"

	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
	"trunnion/shop/view/viewtest"
)

// TestFiguresFilledInAreShownInTheirOwnUnit: the kind of an estimate is that of
// its key. It was guessed from the key's last word: a gain of scales read
// 1000.0 mm, a ratio ± 20.0.
func TestFiguresFilledInAreShownInTheirOwnUnit(t *testing.T) {
	d := viewtest.Desk(t)
	req := viewtest.Demo(t)
	req.Text = `trunnion: job/1
car:
  name: Borrowed estate
  wheelbase: 2650 mm
  track: [1510 mm, 1500 mm]
  weighed:
    build: now
    load: [412 kg, 398 kg, 305 kg, 311 kg]
    arch_height: [362 mm, 365 mm, 371 mm, 368 mm]
  front: {bar: {rate: 30 N/mm}}
  rear: {}
parts:
  springs: {f: {rate: 31 N/mm}, r: {rate: 28 N/mm}}
  stops: {s: {length: 60 mm}}
builds:
  now: {front: {spring: f, stop: s}, rear: {spring: r, stop: s}}
`
	for _, text := range []string{req.Text, viewtest.DemoText(t)} {
		req.Text = text
		v := tryOf(t, d, req)
		filled := 0
		for path, f := range v.Fields {
			if !f.Filled || f.Shown == "" {
				continue
			}
			filled++
			kind, ok := jobfile.KindAt(path)
			unit := quantity.Units(kind, quantity.Metric)
			if !ok || unit != "" && !strings.HasSuffix(f.Shown, " "+unit) || unit == "" && strings.Contains(f.Shown, " ") {
				t.Errorf("%s is shown as %q %s, and is a %v", path, f.Shown, f.Band, kind)
			}
		}
		if filled < 5 {
			t.Errorf("%d estimates shown", filled)
		}
		if got := v.Fields["car.weighed.scale_gain"]; got.Shown != "1.00" {
			t.Errorf("the gain of the scales is shown as %q %s, want 1.00", got.Shown, got.Band)
		}
	}
}
