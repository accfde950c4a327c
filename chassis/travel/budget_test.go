package travel_test

import (
	"math"
	"testing"

	"trunnion/chassis/corner"
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/numeric"
	"trunnion/chassis/part"
	"trunnion/chassis/travel"
)

// rear is a corner whose spring moves 0.64 and whose damper 0.905 of the
// wheel's travel, alone on a system: the budget asks for no more.
func rear(t testing.TB) (equilibrium.System, equilibrium.State) {
	t.Helper()
	foam, err := numeric.NewCurve([]float64{0, 0.010, 0.020, 0.030}, []float64{0, 300, 900, 3500})
	if err != nil {
		t.Fatal(err)
	}
	m := corner.Model{
		SpringTravel: numeric.Smooth{Poly: numeric.Poly{C: [5]float64{0.64}, N: 1}}, DamperTravel: numeric.Smooth{Poly: numeric.Poly{C: [5]float64{0.905}, N: 1}},
		Spring: part.Spring{Rate: 60e3, Free: 0.250, Block: 0.095}, Compressed0: 0.050,
		HasDamper: true, HasStop: true, Mounts0: 0.500, Open: 0.588, Closed: 0.410, Touch: 0.470,
		Stop: part.BumpStop{Table: &foam, End: 0.030, Scale: 1}, Gas: part.Gas{Force: 90, Rate: 400},
		BushRate: 3e3, BushZero: 0.004,
	}
	var s equilibrium.System
	s.Corner[3] = m
	s.TyreRate[3] = 225e3
	s.Unsprung[3] = 41
	var st equilibrium.State
	st.Travel[3] = 0.012
	force, _ := m.Force(0.012)
	st.Load[3] = force + 41*equilibrium.Gravity
	return s, st
}

// Each margin by hand. With the spring's ratio for the damper's, or the other
// way about, every figure here but the rest is another.
func TestBudgetBySpringAndDamperApart(t *testing.T) {
	s, st := rear(t)
	b := travel.New(&s, &st, 3)
	open := -0.088 / 0.905
	for _, r := range []struct {
		what      string
		got, want float64
	}{
		{"bump to the stop", b.ToStop, 0.030/0.905 - 0.012},
		{"bump to the end of its table", b.ToSolid, 0.060/0.905 - 0.012},
		{"bump to metal", b.ToClosed, 0.090/0.905 - 0.012},
		{"droop to open", b.ToOpen, 0.012 - open},
		{"bump to touching coils", b.ToBlock, (0.155-0.050)/0.64 - 0.012},
		{"looseness at full droop, at the spring", b.GapOpen, -(0.050 + 0.64*open)},
	} {
		if math.Abs(r.got-r.want) > 1e-10 {
			t.Errorf("%s is %.3f mm, by hand %.3f mm", r.what, r.got*1e3, r.want*1e3)
		}
	}
	if b.GapOpen < 0.012 || b.GapOpen > 0.0125 {
		t.Errorf("the spring is loose by %.2f mm at full droop; 12.2 mm by hand, 38 mm if damper travel stood for the spring's", b.GapOpen*1e3)
	}
	if b.StopShare != 0 {
		t.Errorf("off the stop it carries %.4f of the load", b.StopShare)
	}
}

// On the stop: margin below zero, share by hand.
func TestBudgetOnTheStop(t *testing.T) {
	s, st := rear(t)
	w := 0.040 / 0.905
	st.Travel[3] = w
	force, _ := s.Corner[3].Force(w)
	st.Load[3] = force + 41*equilibrium.Gravity
	b := travel.New(&s, &st, 3)
	if math.Abs(b.ToStop+0.010/0.905) > 1e-12 {
		t.Errorf("10 mm of crush at the damper is a margin of %.3f mm at the wheel", b.ToStop*1e3)
	}
	if want := 300 * 0.905 / st.Load[3]; math.Abs(b.StopShare-want) > 1e-12 {
		t.Errorf("the stop carries %.5f of the load, by hand %.5f", b.StopShare, want)
	}
}

// Catch speed: energy up to firm by many small steps.
func TestCatchSpeed(t *testing.T) {
	s, st := rear(t)
	m := &s.Corner[3]
	b := travel.New(&s, &st, 3)
	w, firm := st.Travel[3], b.Limits.Firm
	static, _ := m.Force(w)
	const n = 200000
	e, step := 0.0, (firm-w)/n
	for k := range n {
		f, _ := m.Force(w + (float64(k)+0.5)*step)
		e += (f - static) * step
	}
	// Five-point integration of a curve of cubic pieces: a few tenths of a per cent.
	if want := math.Sqrt(2 * e * equilibrium.Gravity / static); math.Abs(b.CatchSpeed-want) > 0.005*want {
		t.Errorf("catch speed %.5f m/s, by summing %.5f m/s", b.CatchSpeed, want)
	}
	st.Travel[3] = firm + 0.001
	if v := travel.New(&s, &st, 3).CatchSpeed; v != 0 {
		t.Errorf("past firm the catch speed is %.4f m/s", v)
	}
}

// Lowering by a seat moves the spring alone: the gap goes millimetre for
// millimetre, droop grows, the spring gets looser at full droop. By the body,
// with spring and damper on one line, gap and looseness stay and droop stays.
func TestLowerByHand(t *testing.T) {
	s, st := rear(t)
	s.Corner[3].SpringTravel = s.Corner[3].DamperTravel // a strut
	const by = 0.014
	seat := travel.Lower(&s, &st, 3, travel.BySeat, []float64{0, by})
	body := travel.Lower(&s, &st, 3, travel.ByBody, []float64{0, by})
	for _, r := range []struct {
		what      string
		got, want float64
	}{
		{"gap lost on the seat", seat[0].Budget.ToStop - seat[1].Budget.ToStop, by},
		{"droop won on the seat", seat[1].Budget.ToOpen - seat[0].Budget.ToOpen, by},
		{"gap lost by the body", body[0].Budget.ToStop - body[1].Budget.ToStop, 0},
		{"droop won by the body", body[1].Budget.ToOpen - body[0].Budget.ToOpen, 0},
		{"looseness won by the body", body[1].Budget.GapOpen - body[0].Budget.GapOpen, 0},
		{"catch speed lost by the body", body[0].Budget.CatchSpeed - body[1].Budget.CatchSpeed, 0},
		{"body's way", body[1].Moved, by * 0.905},
	} {
		if math.Abs(r.got-r.want) > 1e-7 {
			t.Errorf("%s is %.5f mm, by hand %.5f mm", r.what, r.got*1e3, r.want*1e3)
		}
	}
	// On a seat the rod goes further in, so gas carries more and the seat comes
	// down a little more than the wheel's way.
	gas := 400 * 0.905 * by / 60e3
	if want := by*0.905 + gas; math.Abs(seat[1].Moved-want) > 1e-9 {
		t.Errorf("the seat went %.5f mm, by hand %.5f mm", seat[1].Moved*1e3, want*1e3)
	}
	if won := seat[1].Budget.GapOpen - seat[0].Budget.GapOpen; math.Abs(won-seat[1].Moved) > 1e-9 {
		t.Errorf("the spring gets %.4f mm looser as its seat goes %.4f mm", won*1e3, seat[1].Moved*1e3)
	}
	// At no lowering nothing changes.
	b := travel.New(&s, &st, 3)
	for _, l := range []travel.Lowered{seat[0], body[0]} {
		if math.Abs(l.Budget.CatchSpeed-b.CatchSpeed) > 1e-9 || math.Abs(l.Moved) > 1e-9 {
			t.Errorf("lowered by nothing: moved %.3g m, catch speed %.6f m/s instead of %.6f m/s", l.Moved, l.Budget.CatchSpeed, b.CatchSpeed)
		}
	}
}

func BenchmarkBudget(b *testing.B) {
	s, st := rear(b)
	b.ReportAllocs()
	for b.Loop() {
		travel.New(&s, &st, 3)
	}
}
