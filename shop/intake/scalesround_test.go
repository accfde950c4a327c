package intake

import (
	"math"
	"strings"
	"testing"

	"trunnion/chassis/scales"
)

func TestTurns(t *testing.T) {
	for text, want := range map[string]float64{
		"1.5": 1.5, "-1/4": -0.25, "2+1/8": 2.125, "-2+1/8": -2.125, "-1 1/8": -1.125, "−1/2": -0.5, "+3": 3, "0": 0, "3 4/6": 3 + 4.0/6, "0,25": 0.25,
		"1/8 turn": 0.125, " 2 turns ": 2,
	} {
		if got, err := Turns(text); err != nil || math.Abs(got-want) > 1e-12 {
			t.Errorf("%q: %v, %v, want %v", text, got, err, want)
		}
	}
	for _, text := range []string{"", "-", "+", "a", "1/0", "0/0", "1 1", "1/8 1/8 1/8", "--1", "1e3", "0x1", "NaN", "101", "1/8 2", "1//8", strings.Repeat("1", 70)} {
		if got, err := Turns(text); err == nil {
			t.Errorf("%q is %v turns", text, got)
		}
	}
}

// Whatever a session can know can be typed.
func TestWeigh(t *testing.T) {
	four := func(list ...string) []string { return list }
	r := RoundTyped{
		Loads: four("431.8 kg", "464.7 kg", "", "321.2 kg"), Heights: four("350.1 mm", "13 5/8 in", "357.9 mm", "355.1 mm"),
		Again:  []ReadingTyped{{Loads: four("432 kg", "464 kg", "327 kg", "322 kg"), Heights: four("350 mm", "345 mm", "358 mm", "355 mm")}},
		Turned: four("1/8", "", "-2 1/4", "0"), Total: "1545 kg", LastTotal: "1544 kg",
		Turned180: &ReadingTyped{Loads: four("431 kg", "465 kg", "328 kg", "321 kg"), Heights: four("350 mm", "345 mm", "358 mm", "355 mm")},
		Pressed:   &ReadingTyped{Loads: four("433 kg", "463 kg", "326 kg", "322 kg"), Heights: four("348 mm", "343 mm", "356 mm", "353 mm")},
		Lifted:    &ReadingTyped{Loads: four("430 kg", "466 kg", "329 kg", "320 kg"), Heights: four("352 mm", "347 mm", "360 mm", "357 mm")},
		PadLevels: four("1 mm", "3 mm", "1 mm", "3 mm"), PadErrors: four("0.2 kg", "", "", "-0.4 kg"), Pressures: four("2.3 bar", "2.3 bar", "2.1 bar", "2.1 bar"),
		BarsOff: "yes", ClicksSoft: "no", Settled: "yes", AsStated: "yes",
	}
	w, faults := r.Weigh()
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	s := &w.Session
	if len(s.Settled) != 2 || len(s.Reversed) != 1 || !s.Pressed.Complete() || !s.Lifted.Complete() || s.Shown != 1545 || s.Total != 1544 || s.Mixed {
		t.Errorf("%+v", s)
	}
	if s.BarsOff != scales.Yes || s.Soft != scales.No || s.Rolled != scales.Yes || s.AsStated != scales.Yes {
		t.Errorf("ticks %+v", s)
	}
	if math.Abs(s.Pads[0]+1e-3) > 1e-12 || math.Abs(s.Pads[1]-1e-3) > 1e-12 || math.Abs(s.PadChange[3]+0.4) > 1e-12 || !math.IsNaN(s.PadChange[1]) || math.Abs(s.Pressures[2]-210e3) > 1e-6 {
		t.Errorf("pads and pressures %+v", s)
	}
	if got := s.Reading(); math.Abs(got.Load[2]-0.5*(327+328)) > 1e-9 || math.Abs(s.Settled[0].Height[1]-13.625*25.4e-3) > 1e-12 {
		t.Errorf("means %+v", got)
	}
	if w.Turned[0] != 0.125 || !math.IsNaN(w.Turned[1]) || w.Turned[2] != -2.25 || w.Turned[3] != 0 {
		t.Errorf("turned %v", w.Turned)
	}
	r.Loads[0], r.Again[0].Heights[3], r.Pressed.Loads[1], r.Turned[3], r.Total, r.BarsOff = "x kg", "355", "1 mm", "many", "a lot", "perhaps"
	_, faults = r.Weigh()
	var fields []string
	for _, f := range faults {
		fields = append(fields, f.Field)
	}
	if got, want := strings.Join(fields, " "), "loads.0 again.0.heights.3 pressed.loads.1 total barsOff turned.3"; got != want {
		t.Errorf("faults at %s, want %s", got, want)
	}
	mixed := RoundTyped{Loads: four("431.8 kg", "1024 lb", "327 kg", "321 kg"), Heights: r.Heights}
	if w, _ := mixed.Weigh(); !w.Session.Mixed {
		t.Error("kilograms and pounds in one reading pass")
	}
}
