package levelling_test

import (
	"encoding/json"
	"testing"

	"pgregory.net/rapid"

	"trunnion/chassis/scales"
	"trunnion/shop/intake"
	"trunnion/shop/levelling"
	"trunnion/shop/quantity"
	"trunnion/shop/wording"
)

// Whatever is typed, an answer comes or a reason why there is none, and the
// answer can be written.
func TestWhateverIsTyped(t *testing.T) {
	_, job, b := demo(t)
	rig := rigOf(t, job, b, nil)
	rapid.Check(t, func(t *rapid.T) {
		text := func(name string, usual ...string) string {
			odd := []string{"", "-", "abc", "0 kg", "0 mm", "-5 kg", "1e9 kg", "1e9 mm", "1e-300 kg", "950 lb", "14 in", "431.8", "NaN kg", "9999999999999999999999 mm", "1/0 in", "\x00", "٣ kg"}
			if rapid.IntRange(0, 15).Draw(t, name+", odd") == 0 {
				return rapid.SampledFrom(odd).Draw(t, name)
			}
			return rapid.SampledFrom(usual).Draw(t, name)
		}
		four := func(name string, usual ...string) (list []string) {
			for range rapid.SampledFrom([]int{4, 4, 4, 4, 4, 4, 4, 4, 4, 4, 3, 0}).Draw(t, name+", how many") {
				list = append(list, text(name, usual...))
			}
			return list
		}
		loads, heights := []string{"431.8 kg", "464.7 kg", "327.3 kg", "321.2 kg"}, []string{"350.1 mm", "345 mm", "357.9 mm", "355.1 mm"}
		var list []intake.Weighing
		for range rapid.IntRange(0, 3).Draw(t, "rounds") {
			r := intake.RoundTyped{
				Loads: four("load", loads...), Heights: four("height", heights...), Turned: four("turned", "", "1/8", "-1 1/8", "−2", "100"),
				PadLevels: four("pads", "0 mm", "3 mm"), Pressures: four("pressures", "2.3 bar"), PadErrors: four("errors", "0.2 kg"),
				Total: text("total", "", "1545 kg"), LastTotal: text("last", "", "1540 kg"), BarsOff: text("bars", "yes", "no"), Settled: text("settled", "yes", ""),
			}
			if rapid.Bool().Draw(t, "again") {
				r.Again = []intake.ReadingTyped{{Loads: four("load", loads...), Heights: four("height", heights...)}}
				r.Turned180 = &intake.ReadingTyped{Loads: four("load", loads...), Heights: four("height", heights...)}
				r.Pressed, r.Lifted = r.Turned180, &r.Again[0]
			}
			w, _ := r.Weigh()
			list = append(list, w)
		}
		target := scales.Race.Level(scales.FrontLeftRearRight)
		for _, name := range levelling.Wishes {
			_ = levelling.Wish(&target, name, text("wish", "350 mm", "none", "50 %", "0 mm"))
		}
		l, err := levelling.Work(b, "driver", rig, target, list)
		if err != nil {
			return
		}
		l.FindSuspects()
		teller := wording.New(nil, quantity.Imperial)
		if l.Says(teller) == "" {
			t.Fatal("nothing is said")
		}
		if _, err := json.Marshal(l.Document("test", teller)); err != nil {
			t.Fatal(err)
		}
	})
}
