package scales_test

import (
	"math"
	"testing"

	"trunnion/chassis/scales"
)

// good is a session in which all was done as it should be.
func good(t testing.TB, r *scales.Rig) scales.Session {
	t.Helper()
	st := mustStand(t, r, [4]float64{}).Reading
	s := scales.NewSession()
	second := st
	second.Load[0], second.Load[1] = second.Load[0]+0.5, second.Load[1]-0.5
	s.Settled = []scales.Reading{st, second}
	s.Reversed = []scales.Reading{st}
	s.Pressed, s.Lifted = st, st
	s.Pads, s.PadChange = [4]float64{}, [4]float64{}
	s.Pressures = [4]float64{230e3, 230e3, 230e3, 230e3}
	s.AsStated, s.BarsOff, s.Soft, s.Rolled = scales.Yes, scales.Yes, scales.Yes, scales.Yes
	return s
}

func TestGate(t *testing.T) {
	for _, row := range []struct {
		name   string
		spoil  func(*scales.Session)
		code   string
		want   scales.Verdict
		corner int
	}{
		{"nothing wrong", func(*scales.Session) {}, "readings-missing", scales.Pass, -1},
		{"three loads", func(s *scales.Session) {
			for k := range s.Settled {
				s.Settled[k].Load[2] = math.NaN()
			}
			s.Reversed = nil
		}, "readings-missing", scales.Stop, 2},
		{"one load in pounds", func(s *scales.Session) {
			s.Settled, s.Reversed = one(s, func(r *scales.Reading) { r.Load[3] *= 2.2046 }), nil
		}, "units-mixed", scales.Stop, 3},
		{"all in pounds", func(s *scales.Session) {
			s.Settled, s.Reversed = one(s, func(r *scales.Reading) {
				for i := range 4 {
					r.Load[i] *= 2.2046
				}
			}), nil
		}, "units-other", scales.Stop, -1},
		{"units said to be mixed", func(s *scales.Session) { s.Mixed = true }, "units-mixed", scales.Stop, -1},
		{"front loads the wrong way about", func(s *scales.Session) {
			s.Settled, s.Reversed = one(s, func(r *scales.Reading) { r.Load[0], r.Load[1] = r.Load[1]+60, r.Load[0]-60 }), nil
		}, "left-share", scales.Stop, -1},
		{"the total off by 40 kg", func(s *scales.Session) { s.Total = s.Settled[0].Total() + 40 }, "total", scales.Stop, -1},
		{"the total off by 12 kg", func(s *scales.Session) { s.Total = s.Settled[0].Total() - 12 }, "total", scales.Caution, -1},
		{"heights to the floor", func(s *scales.Session) {
			s.Settled, s.Reversed = one(s, func(r *scales.Reading) {
				for i := range 4 {
					r.Height[i] += 0.31
				}
			}), nil
		}, "height-from-floor", scales.Stop, 0},
		{"a pad 3 kg out", func(s *scales.Session) { s.PadChange[1] = 3 }, "pad-reads-wrong", scales.Stop, 1},
		{"readings 20 kg apart", func(s *scales.Session) { s.Settled[1].Load[0] += 20; s.Settled[1].Load[1] -= 20 }, "scatter", scales.Stop, 0},
		{"read once", func(s *scales.Session) { s.Settled = s.Settled[:1] }, "read-once", scales.Caution, -1},
		{"a floor that lies", func(s *scales.Session) {
			s.Reversed[0].Load[0] += 30
			s.Reversed[0].Load[1] -= 30
		}, "floor-error", scales.Caution, -1},
		{"not turned about", func(s *scales.Session) { s.Reversed = nil }, "not-turned-about", scales.Caution, -1},
		{"a pad 8 mm high", func(s *scales.Session) { s.Pads = [4]float64{6e-3, -2e-3, -2e-3, -2e-3} }, "pads", scales.Caution, -1},
		{"a pad 16 mm high, not turned about", func(s *scales.Session) { s.Pads, s.Reversed = [4]float64{12e-3, -4e-3, -4e-3, -4e-3}, nil }, "pads", scales.Stop, -1},
		{"pads not levelled", func(s *scales.Session) { s.Pads[2] = math.NaN() }, "pads-not-levelled", scales.Caution, -1},
		{"pressures 0.5 bar apart", func(s *scales.Session) { s.Pressures[2] = 180e3 }, "pressures", scales.Stop, 2},
		{"pressures not read", func(s *scales.Session) { s.Pressures[0] = math.NaN() }, "pressures-not-read", scales.Caution, -1},
		{"bars on", func(s *scales.Session) { s.BarsOff = scales.No }, "bars", scales.Stop, -1},
		{"bars not said", func(s *scales.Session) { s.BarsOff = scales.Unsaid }, "bars-unsaid", scales.Caution, -1},
		{"clicks hard", func(s *scales.Session) { s.Soft = scales.No }, "clicks", scales.Caution, -1},
		{"not settled", func(s *scales.Session) { s.Rolled = scales.No }, "settled", scales.Stop, -1},
		{"nobody aboard", func(s *scales.Session) { s.AsStated = scales.No }, "state", scales.Stop, -1},
	} {
		t.Run(row.name, func(t *testing.T) {
			r := kit(t)
			s := good(t, r)
			row.spoil(&s)
			wish := roadWish()
			g, err := scales.Judge(quiet(r), &s, &wish)
			if err != nil {
				t.Fatal(err)
			}
			for _, c := range g.Checks {
				if c.Code != row.code {
					continue
				}
				if c.Verdict != row.want || c.Corner != row.corner {
					t.Errorf("%s is %s at corner %d, want %s at %d: %+v", c.Code, c.Verdict, c.Corner, row.want, row.corner, c.Figures)
				}
				if row.want == scales.Stop && g.Verdict != scales.Stop || row.want == scales.Caution && g.Verdict == scales.Pass {
					t.Errorf("the gate says %s with %s at %s", g.Verdict, c.Code, c.Verdict)
				}
				if row.name == "nothing wrong" && g.Verdict != scales.Pass {
					t.Errorf("a good session is %s: %+v", g.Verdict, g.Checks)
				}
				return
			}
			t.Errorf("no check %s among %+v", row.code, g.Checks)
		})
	}
}

// one is a single reading, spoilt.
func one(s *scales.Session, spoil func(*scales.Reading)) []scales.Reading {
	r := s.Settled[0]
	spoil(&r)
	return []scales.Reading{r, r}
}

// Two corners typed for each other after the car was read once are found.
func TestGateFindsSwappedCorners(t *testing.T) {
	r := kit(t)
	h := newHands(r, 3)
	m, err := quiet(r).Learn([]scales.Round{{Got: h.read(t, [4]float64{})}})
	if err != nil {
		t.Fatal(err)
	}
	s := good(t, r)
	got := h.read(t, [4]float64{})
	wish := roadWish()
	s.Settled, s.Reversed = []scales.Reading{got, got}, nil
	if g, err := scales.Judge(m, &s, &wish); err != nil || verdictOf(g, "corners-swapped") != scales.Pass {
		t.Errorf("a sound reading is taken for swapped: %+v, %v", g, err)
	}
	got.Load[0], got.Load[1] = got.Load[1], got.Load[0]
	s.Settled = []scales.Reading{got, got}
	g, err := scales.Judge(m, &s, &wish)
	if err != nil {
		t.Fatal(err)
	}
	found := false
	for _, c := range g.Checks {
		if c.Code == "corners-swapped" && c.Verdict == scales.Stop && c.Corner == 0 && c.Other == 1 {
			found = true
		}
	}
	if !found && verdictOf(g, "left-share") != scales.Stop {
		t.Errorf("swapped front loads pass: %+v", g.Checks)
	}
}

func verdictOf(g *scales.Gate, code string) scales.Verdict {
	for _, c := range g.Checks {
		if c.Code == code {
			return c.Verdict
		}
	}
	return ""
}
