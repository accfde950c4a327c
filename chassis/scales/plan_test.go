package scales_test

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"trunnion/chassis/car"
	"trunnion/chassis/scales"
)

func roadWish() scales.Target { return scales.Road.Level(scales.FrontRightRearLeft) }

func planOf(t testing.TB, m *scales.Model, wish scales.Target) *scales.Plan {
	t.Helper()
	p, err := m.Plan(wish)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// No small turn of any collar makes the move better: it is the least of what is
// wanted, wherever the car starts.
func TestMoveIsTheBest(t *testing.T) {
	base := kit(t)
	rapid.Check(t, func(t *rapid.T) {
		r := *base
		for i := range 4 {
			r.System.Corner[i].Compressed0 += rapid.Float64Range(-8e-3, 8e-3).Draw(t, "collar")
		}
		wish := roadWish()
		wish.CrossPerMetre = rapid.Float64Range(0.2, 8).Draw(t, "price")
		wish.Mean = [2]float64{rapid.Float64Range(0.34, 0.355).Draw(t, "front"), rapid.Float64Range(0.35, 0.365).Draw(t, "rear")}
		m := model(&r)
		p, err := m.Plan(wish)
		if err != nil {
			t.Fatal(err)
		}
		cost := func(move [4]float64) float64 {
			st, err := m.Stand(move)
			if err != nil {
				t.Fatal(err)
			}
			g := &st.Reading
			sum := 0.0
			for a := range 2 {
				sum += sq(g.Level(a)) + sq(g.Mean(a)-wish.Mean[a])
			}
			return sum + sq((g.Cross(wish.Diagonal)-0.5)/wish.CrossPerMetre)
		}
		best := cost(p.Exact)
		for i := range 4 {
			for _, d := range []float64{-3e-4, 3e-4} {
				other := p.Exact
				other[i] += d
				if p.Collar[i].Held == "" && cost(other) < best-1e-12 {
					t.Fatalf("corner %d by %.1f mm more costs %.4g less", i, d*1e3, best-cost(other))
				}
			}
		}
		for i, c := range p.Collar {
			steps := c.Turns * 8
			if math.Abs(steps-math.Round(steps)) > 1e-9 {
				t.Fatalf("corner %d: %.4f turns are no whole eighths", i, c.Turns)
			}
			if math.Abs(c.Move-p.Exact[i]) > 1.5e-3/8+1e-9 {
				t.Fatalf("corner %d: rounded by %.3f mm", i, (c.Move-p.Exact[i])*1e3)
			}
		}
	})
}

func sq(v float64) float64 { return v * v }

// The car seen in a mirror gets the mirrored move.
func TestMirroredCar(t *testing.T) {
	r := kit(t)
	swap := func(v [4]float64) [4]float64 { return [4]float64{v[1], v[0], v[3], v[2]} }
	mirrored := *r
	s := &mirrored.System
	for i := range 4 {
		s.Corner[i], s.TyreRate[i], s.Unsprung[i] = r.System.Corner[i^1], r.System.TyreRate[i^1], r.System.Unsprung[i^1]
		mirrored.Zero[i] = r.Zero[i^1]
	}
	s.Base.Travel, s.Base.Tyre, s.Base.Force = swap(s.Base.Travel), swap(s.Base.Tyre), swap(s.Base.Force)
	s.MomentLeft = -s.MomentLeft
	mirrored.Aboard.Left = -mirrored.Aboard.Left
	wish := roadWish()
	want := planOf(t, model(r), wish).Exact
	wish.Diagonal = scales.FrontLeftRearRight
	got := planOf(t, model(&mirrored), wish).Exact
	for i := range 4 {
		near(t, "mirrored move", got[i]*1e3, want[i^1]*1e3, 1e-5, "mm")
	}
}

// Cross is named by the user's convention: both ask for the same car.
func TestEitherDiagonal(t *testing.T) {
	r := kit(t)
	one := roadWish()
	one.Cross = 0.51
	other := one
	other.Diagonal, other.Cross = scales.FrontLeftRearRight, 0.49
	a, b := planOf(t, model(r), one), planOf(t, model(r), other)
	for i := range 4 {
		near(t, "move by the other convention", b.Exact[i]*1e3, a.Exact[i]*1e3, 1e-6, "mm")
	}
	near(t, "both crosses", a.After.Cross.Value+b.After.Cross.Value, 1, 1e-12, "-")
}

// Past the thread a wish is cut off, and said to be, with what it would need.
func TestThreadEnds(t *testing.T) {
	r := kit(t)
	wish := roadWish()
	wish.Mean = [2]float64{0.315, math.NaN()}
	p := planOf(t, model(r), wish)
	for i := range 2 {
		if c := p.Collar[i]; c.Held != "thread" || c.Move < -18e-3-1e-9 {
			t.Errorf("front collar %d goes %.2f mm, held by %q; want at most 18 mm down, held by the thread", i, c.Move*1e3, c.Held)
		}
	}
	if !slices.ContainsFunc(p.Missed, func(m scales.Missed) bool { return m.Code == "mean" && m.Axle == 0 && m.Why == "thread" }) {
		t.Errorf("missed wishes are %+v, want the front height, for the thread", p.Missed)
	}
	if len(p.Beyond) == 0 || p.Beyond[0].Value > -25e-3 {
		t.Errorf("beyond the thread: %+v, want 25 mm or more down", p.Beyond)
	}
	if bad := model(r).Check([4]float64{-20e-3, 0, 0, 0}); len(bad) != 1 || bad[0].Code != "thread" || bad[0].Corner != 0 {
		t.Errorf("20 mm down on 18 mm of thread is answered by %+v", bad)
	}
}

// A spring is not opened at droop and a gap not eaten: the range ends there.
func TestGuards(t *testing.T) {
	r := kit(t)
	r.Guards = []scales.Guard{{Load: "driver", Aboard: r.Aboard, StopLeast: 35e-3, LooseMost: math.NaN()}}
	wish := roadWish()
	wish.Mean = [2]float64{0.338, math.NaN()}
	p := planOf(t, model(r), wish)
	if p.Collar[1].Held != "stop-gap" {
		t.Errorf("front right is held by %q, want the gap to the stop", p.Collar[1].Held)
	}
	st := mustStand(t, r, moveOf(p))
	for i := range 4 {
		c := &st.System.Corner[i]
		if gap := c.Limits(st.State.Load[i]).Touch - st.State.Travel[i]; gap < 35e-3-3e-5 {
			t.Errorf("corner %d is left with %.2f mm to the stop, want 35 mm", i, gap*1e3)
		}
	}
	if bad := model(r).Check([4]float64{-8e-3, -8e-3, 0, 0}); len(bad) == 0 || bad[0].Code != "stop-gap" {
		t.Errorf("8 mm down is answered by %+v, want the gap to the stop", bad)
	}

	r = kit(t) // the rear springs are seated by about 5 mm at droop
	r.Guards = []scales.Guard{{Load: "driver", Aboard: r.Aboard, StopLeast: math.NaN(), LooseMost: scales.Loose}}
	wish = roadWish()
	wish.Mean = [2]float64{math.NaN(), 0.345}
	p = planOf(t, model(r), wish)
	loose := false
	for i := 2; i < 4; i++ {
		loose = loose || p.Collar[i].Held == "spring-loose"
		if p.Collar[i].Move < -11e-3 {
			t.Errorf("rear collar goes %.1f mm: its spring comes loose at droop", p.Collar[i].Move*1e3)
		}
	}
	if !loose {
		t.Errorf("nothing holds the rear collars: %+v", p.Collar)
	}
	if bad := model(r).Check([4]float64{0, 0, -12e-3, 0}); len(bad) == 0 || bad[0].Code != "spring-loose" || bad[0].Corner != 2 {
		t.Errorf("12 mm down at the rear left is answered by %+v, want a loose spring", bad)
	}
}

func moveOf(p *scales.Plan) (move [4]float64) {
	for i := range 4 {
		move[i] = p.Collar[i].Move
	}
	return move
}

// Collars on one axle only: the other stays, and what it would have done is
// missed.
func TestCollarsOnOneAxle(t *testing.T) {
	d, b := job(t)
	b.Both(0, func(p *car.BuildCorner) { p.Platform = nil })
	r := rigOf(t, d, b, d.Loads[1].Items)
	wish := roadWish()
	wish.Level, wish.LevelWithin = [2]float64{0, 0}, [2]float64{1e-3, 1e-3}
	wish.Cross = math.NaN()
	p := planOf(t, model(r), wish)
	for i := range 2 {
		if c := p.Collar[i]; c.Turns != 0 || c.Held != "no-collar" {
			t.Errorf("front corner %d without a collar is to be turned %.2f, held by %q", i, c.Turns, c.Held)
		}
	}
	if p.Collar[2].Turns == 0 && p.Collar[3].Turns == 0 {
		t.Error("nothing is turned at the rear")
	}
}

// A body that is screwed longer lifts the car and leaves preload at droop and
// the gap's length alone; on a seat the spring is pressed. Both stand the car
// as high, because the load is the same.
func TestBothKindsOfAdjuster(t *testing.T) {
	d, b := job(t)
	seat := rigOf(t, d, b, nil)
	screwed := *b.Corner[0].Platform
	screwed.Kind = "body"
	b.Both(0, func(p *car.BuildCorner) { p.Platform = &screwed })
	body := rigOf(t, d, b, nil)
	if body.Adjuster[0].Kind != scales.Body || body.Adjuster[2].Kind != scales.Seat {
		t.Fatalf("adjusters are %+v", body.Adjuster)
	}
	move := [4]float64{5e-3, 5e-3, 0, 0}
	one, two := mustStand(t, seat, move), mustStand(t, body, move)
	for i := range 2 {
		// The gas pushes a little more where the rod goes further in.
		near(t, "height on either", two.Reading.Height[i]*1e3, one.Reading.Height[i]*1e3, 0.3, "mm")
		open := two.System.Corner[i].Open - body.System.Corner[i].Open
		near(t, "the open length grows", open*1e3, 5, 1e-9, "mm")
		near(t, "the seat leaves it", (one.System.Corner[i].Open-seat.System.Corner[i].Open)*1e3, 0, 1e-9, "mm")
	}
	for i := range 2 {
		body.Adjuster[i].Engaged, body.Adjuster[i].LeastEngaged = 30e-3, 26e-3
	}
	wish := roadWish()
	wish.Mean = [2]float64{0.375, math.NaN()}
	if c := planOf(t, model(body), wish).Collar[0]; c.Held != "engagement" || c.Move > 4e-3+1e-9 {
		t.Errorf("the body goes up %.2f mm, held by %q; want 4 mm, held by its engagement", c.Move*1e3, c.Held)
	}
}

// Collars never move the front or the left share: the answer says so.
func TestSharesAreRefused(t *testing.T) {
	wish := roadWish()
	wish.FrontShare, wish.LeftShare = 0.55, 0.5
	p := planOf(t, model(kit(t)), wish)
	n := 0
	for _, m := range p.Missed {
		if m.Why == "collars-never-move-it" {
			n++
		}
	}
	if n != 2 {
		t.Errorf("missed wishes are %+v, want front and left share", p.Missed)
	}
}

// A move within the scatter of a reading is not made where every wish is met; one
// that can be seen, or that a wish asks for, is.
func TestUnseenMove(t *testing.T) {
	r := kit(t)
	wish := roadWish()
	for _, row := range []struct {
		name   string
		from   [4]float64 // off the best move [m]
		unseen bool
	}{
		{"an eighth off", [4]float64{1.5e-3 / 8, -1.5e-3 / 8, 1.5e-3 / 8, 1.5e-3 / 8}, true},
		{"three turns off", [4]float64{4.5e-3, -4.5e-3, 0, 0}, false},
	} {
		best := planOf(t, model(r), wish)
		var move [4]float64
		for i := range 4 {
			move[i] = best.Collar[i].Move + row.from[i]
		}
		p := planOf(t, model(r).Turn(move), wish)
		if p.Unseen() != row.unseen || !p.Turn {
			t.Errorf("%s: unseen %v, turn %v, met %v", row.name, p.Unseen(), p.Turn, p.Met)
		}
		at, room := p.Collar[0].At-p.Collar[0].Move, p.Collar[0].RoomUp+p.Collar[0].RoomDown
		p.Stay()
		if c := p.Collar[0]; c.Turns != 0 || c.Move != 0 || math.Abs(c.At-at) > 1e-12 || math.Abs(c.RoomUp+c.RoomDown-room) > 1e-12 || math.Abs(c.At-move[0]) > 1e-12 {
			t.Errorf("%s: it stays as %+v", row.name, c)
		}
		if p.Turn || p.After != p.Now || p.Meets != p.Met {
			t.Errorf("%s: a plan to stay turns", row.name)
		}
	}
	tight := scales.Race.Level(scales.FrontRightRearLeft)
	if p := planOf(t, model(r), tight); p.Met || p.Unseen() {
		t.Error("a wish that is not met is passed over")
	}
}

// A race car levelled to the millimetre with its cross at the half: the twist
// cannot be had away, cross wins, and that is said.
func TestTwistIsNamed(t *testing.T) {
	p := planOf(t, model(kit(t)), scales.Race.Level(scales.FrontRightRearLeft))
	near(t, "cross of the race car", p.After.Cross.Value*100, 50, 0.2, "%")
	if len(p.Missed) == 0 || p.Missed[0].Why != "twist" {
		t.Errorf("missed wishes are %+v, want the twist", p.Missed)
	}
	// 2.93 points of cross for 1.96 + 1.98 mm.
	near(t, "price of the twist", p.Twist*0.1, 0.743, 0.01, "% per mm")
	for k := 1; k < len(p.Price); k++ {
		a, b := p.Price[k-1], p.Price[k]
		if math.Abs(b.Cross-0.5) > math.Abs(a.Cross-0.5)+1e-9 {
			t.Errorf("along the price curve cross goes from %.4f to %.4f", a.Cross, b.Cross)
		}
	}
	if p.Scatter.Level[0].Half < 1e-3 {
		t.Errorf("120 N of friction leave ±%.2f mm of level", p.Scatter.Level[0].Half*1e3)
	}
}

// A collar's hand decides which way it turns.
func TestWhichWay(t *testing.T) {
	right, left := scales.Adjuster{}, scales.Adjuster{LeftHand: true}
	if right.Clockwise(true) || !right.Clockwise(false) || !left.Clockwise(true) || left.Clockwise(false) {
		t.Error("a right-hand collar comes up anticlockwise seen from above, a left-hand one clockwise")
	}
}

// Order of work: where it stands, and what a change of height opens again.
func TestOrder(t *testing.T) {
	m := model(kit(t))
	wish := roadWish()
	wish.Mean = [2]float64{0.340, 0.352}
	p := planOf(t, m, wish)
	now := ""
	for _, s := range scales.Order(p) {
		if s.Now {
			now = s.Code
		}
		if s.Code == "alignment" && !s.Again {
			t.Error("alignment is not opened again by 7 mm of height")
		}
	}
	if now != "heights" {
		t.Errorf("the work stands at %q, want heights", now)
	}
	if again := scales.Reopened(p); !slices.Contains(again, "lamps") || !slices.Contains(again, "stop-gap") || !slices.Contains(again, "bushes") {
		t.Errorf("opened again: %v", again)
	}
	still := planOf(t, m, scales.Target{
		Diagonal: scales.FrontRightRearLeft, Level: [2]float64{math.NaN(), math.NaN()}, Mean: [2]float64{math.NaN(), math.NaN()},
		Rake: math.NaN(), Cross: math.NaN(), FrontShare: math.NaN(), LeftShare: math.NaN(),
	})
	if still.Turn || !still.Met {
		t.Errorf("nothing is wanted, and %+v is turned", still.Collar)
	}
	if len(scales.Order(nil)) != 13 {
		t.Error("the order of work has thirteen steps")
	}
}
