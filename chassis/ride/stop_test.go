package ride

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func straight(w float64) (x, r, drdw float64) { return w, 1, 0 }

// TestStopKeepsItsShare: a complete hit of any depth keeps exactly the stated share of the energy, on any curve, with any
// dynamic factor; the energies are summed up along the way in small steps.
func TestStopKeepsItsShare(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		scale := rapid.Float64Range(50, 400).Draw(t, "scale")
		bend := rapid.Float64Range(0.006, 0.03).Draw(t, "bend")
		loss := rapid.Float64Range(0.01, 0.75).Draw(t, "loss")
		dynamic := rapid.Float64Range(1, 2).Draw(t, "dynamic")
		depth := rapid.Float64Range(0.003, 0.045).Draw(t, "depth")
		c := Corner{Stop: Stop{TouchTravel: 0.0173, Loss: loss, Dynamic: dynamic, Force: func(x float64) (float64, float64) {
			e := math.Exp(x / bend)
			return scale * (e - 1), scale / bend * e
		}}}
		table := c.buildStop(straight, 0)
		var s stopState
		in, out, last, lastW := 0.0, 0.0, 0.0, table.touch
		const parts = 20000
		for n := 1; n <= 2*parts; n++ {
			w := table.touch + depth*float64(min(n, 2*parts-n))/parts
			f := 0.0
			if w > table.touch {
				f, _ = table.advance(w, &s)
			}
			if f < 0 {
				t.Fatalf("the stop pulls with %.3f N", f)
			}
			dw := (f + last) / 2 * (w - lastW)
			if n <= parts {
				in += dw
			} else {
				out -= dw
			}
			last, lastW = f, w
		}
		if got := 1 - out/in; math.Abs(got-loss) > 1e-4 {
			t.Errorf("keeps %.5f of the energy; want %.5f", got, loss)
		}
	})
}

// TestStopNeverGives: whatever the motion, a round trip to the same crush takes energy or nothing; and a small motion
// about rest takes some too and has the static force in its middle.
func TestStopNeverGives(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rest := rapid.Float64Range(0, 600).Draw(t, "rest")
		c := Corner{Stop: Stop{TouchTravel: 0, Loss: 0.25, Force: func(x float64) (float64, float64) {
			e := math.Exp(x / 0.011)
			return 150 * (e - 1), 150 / 0.011 * e
		}}}
		table := c.buildStop(straight, rest)
		var s stopState
		w, turns, work, last := 0.0, rapid.IntRange(2, 12).Draw(t, "turns"), 0.0, 0.0
		to := func(target float64) {
			const parts = 2000
			from := w
			for n := 1; n <= parts; n++ {
				next := from + (target-from)*float64(n)/parts
				f := 0.0
				if next > 0 {
					f, _ = table.advance(next, &s)
				} else {
					s = stopState{}
				}
				if f < 0 {
					t.Fatalf("the stop pulls with %.3f N at %.3f mm, φ %.3f", f, 1e3*next, s.phi)
				}
				work += (f + last) / 2 * (next - w)
				w, last = next, f
			}
		}
		for range turns {
			to(rapid.Float64Range(-0.002, 0.04).Draw(t, "turn"))
		}
		to(-0.001)
		if work < -1e-6 {
			t.Errorf("the stop gave %.6f J", -work)
		}
	})
	c := Corner{Stop: Stop{TouchTravel: 0, Loss: 0.25, Force: func(x float64) (float64, float64) { return 30e3 * x, 30e3 }}}
	table := c.buildStop(straight, 300) // rests at 10 mm
	if f, _ := table.frozen(0.010, 0.5); math.Abs(f-300) > 1e-4 {
		t.Errorf("carries %.6f N at rest; want 300", f)
	}
	s := stopState{phi: 0.5}
	_, _ = table.advance(0.010, &s)
	s.phi = 0.5
	var sum, area, last, lastW float64
	const loops, parts = 20, 400
	for n := range loops * parts {
		w := 0.010 + 0.0005*math.Sin(2*math.Pi*float64(n)/parts)
		f, _ := table.advance(w, &s)
		if n > (loops-1)*parts {
			sum += f / parts
			area += (f + last) / 2 * (w - lastW)
		}
		last, lastW = f, w
	}
	if math.Abs(sum/300-1) > 0.01 {
		t.Errorf("a small motion about rest is carried by %.1f N in the mean; want about 300", sum)
	}
	if !(area > 0) {
		t.Errorf("a small motion takes %.6f J", area)
	}
}

// TestTablesFollowTheirLaws at uneven points, force and slope, on both sides of every kink.
func TestTablesFollowTheirLaws(t *testing.T) {
	car := estate()
	for _, i := range []int{FrontLeft, RearRight} {
		c := &car.Corners[i]
		p := buildPosition(c.Spring, c.DamperTravel)
		for w := -0.1193; w < 0.12; w += 0.00731 {
			f, d, r := p.at(w)
			wf, wd := c.Spring(w)
			_, wr, _ := c.DamperTravel(w)
			if math.Abs(f/wf-1) > 1e-7 || math.Abs(d/wd-1) > 1e-4 || math.Abs(r-wr) > 1e-7 {
				t.Errorf("corner %d at %.2f mm: %.4f N, %.1f N/m, %.6f; law %.4f, %.1f, %.6f", i, 1e3*w, f, d, r, wf, wd, wr)
			}
			if e := (p.energy(w+1e-4) - p.energy(w-1e-4)) / 2e-4; math.Abs(e/f-1) > 1e-6 {
				t.Errorf("corner %d at %.2f mm: energy rises by %.4f N, force is %.4f N", i, 1e3*w, e, f)
			}
		}
		law := c.damperLaw()
		table := buildLog(law)
		for v := -3.1; v < 3.2; v += 0.0173 {
			f, g := table.at(v)
			wf, wg := law(v, 1)
			if math.Abs(f-wf) > 1e-5*math.Abs(wf)+0.02 || math.Abs(g-wg) > 0.01*wg+10 {
				t.Errorf("corner %d at %.4f m/s: %.4f N, %.1f N s/m; law %.4f, %.1f", i, v, f, g, wf, wg)
			}
			back, _ := buildInverseOnce(table).at(f / forceUnit)
			if math.Abs(back-v) > 1e-3*math.Abs(v)+2e-4 {
				t.Errorf("corner %d: %.2f N comes from %.5f m/s; the inverse says %.5f", i, f, v, back)
			}
		}
		top := c.buildTop(c.DamperTravel)
		for w := top.touch - 0.0137; w < top.touch; w += 0.00131 {
			x, r, _ := c.DamperTravel(w)
			f, _ := top.at(w)
			if want := r * 400e3 * (c.TopOut.OpenTravel - x); math.Abs(f-want) > 1e-4*want+1e-3 {
				t.Errorf("corner %d: top-out pulls %.3f N at %.2f mm; want %.3f", i, f, 1e3*w, want)
			}
			d := (top.energy(w-1e-5) - top.energy(w+1e-5)) / 2e-5
			if w < top.touch-1e-4 && math.Abs(d/f-1) > 1e-4 {
				t.Errorf("corner %d: top-out energy rises by %.3f N, pull is %.3f N", i, d, f)
			}
		}
	}
}

var inverses = map[*logTable]*logTable{}

func buildInverseOnce(t *logTable) *logTable {
	if inverses[t] == nil {
		inverses[t] = buildInverse(t)
	}
	return inverses[t]
}

// TestHitsAndMarks: hits are counted by force, not by touch; past the end of the curve is marked; top-outs have speed
// and force.
func TestHitsAndMarks(t *testing.T) {
	car := estate()
	m := compile(t, car)
	hole := pit{5, 1.0, 0.075}
	res := simulate(t, m, Run{Left: hole, Right: hole, Speed: 14, Duration: 3, Event: true, StopForces: []float64{0, 1000, 1e6}, Step: 0.2e-3})
	c := &res.Corners[FrontLeft]
	if c.StopHits[0].Count == 0 || c.StopHits[1].Count == 0 || c.StopHits[2].Count != 0 {
		t.Errorf("hits %+v with a peak of %.0f N", c.StopHits, c.StopPeak)
	}
	if c.StopHits[0].Count < c.StopHits[1].Count || c.StopHits[0].Share <= c.StopHits[1].Share {
		t.Errorf("more above 1 kN than touches: %+v", c.StopHits)
	}
	if !(c.Outside > 0) {
		t.Errorf("crush of %.1f mm is past the end of the curve at 40 mm and is not marked", 1e3*(c.TravelMax*0.97-0.044))
	}
	if !res.Event.StopHit[FrontLeft] || !(res.Event.Force[FrontLeft] > m.Rest().Force[FrontLeft]) {
		t.Errorf("event %+v", res.Event)
	}
	for i := range car.Corners {
		car.Corners[i].TopOut.OpenTravel = -0.02
	}
	res = simulate(t, compile(t, car), Run{Left: hole, Right: hole, Speed: 14, Duration: 3, Event: true, Step: 0.2e-3})
	c = &res.Corners[FrontLeft]
	if c.TopOuts == 0 || !(c.TopOutSpeed > 0.05) || !(c.TopOutForce > 100) {
		t.Errorf("%d top-outs at %.3f m/s and %.0f N", c.TopOuts, c.TopOutSpeed, c.TopOutForce)
	}
}

// TestPacking: a damper that is stronger in rebound pulls the body down on a rough road; one stronger in bump lifts it.
func TestPacking(t *testing.T) {
	for _, side := range []float64{1, -1} {
		car := setC.car()
		for i := range car.Corners {
			car.Corners[i].Damper = func(v float64) float64 {
				if v*side < 0 {
					return 4000 * v
				}
				return 1000 * v
			}
			car.Corners[i].DamperSlope = nil
		}
		road := newWavy(2, 64e-6, 50)
		res := simulate(t, compile(t, car), Run{Left: road, Right: road, Speed: 20, Duration: 20, Settle: 3})
		if got := res.Corners[0].TravelMean * side; !(got > 0.0005) || !(res.Sink*side > 0.0005) {
			t.Errorf("side %+g: mean travel %.2f mm, sink %.2f mm", side, 1e3*res.Corners[0].TravelMean, 1e3*res.Sink)
		}
	}
}

// TestGivenRest: a car that is said to stand where it does stands there; one that does not, says so.
func TestGivenRest(t *testing.T) {
	car := estate()
	car.BarFree = [2]float64{0.001, 0}
	free := compile(t, car).Rest()
	car.Rest, car.Roll, car.Pitch = &free.Travel, free.Roll, free.Pitch
	m := compile(t, car)
	for i, w := range m.Rest().Travel {
		if math.Abs(w-free.Travel[i]) > 1e-8 {
			t.Errorf("corner %d rests at %.6f mm; was said to at %.6f", i, 1e3*w, 1e3*free.Travel[i])
		}
	}
	for _, w := range m.Warnings() {
		if w.Code == RestMoved {
			t.Errorf("warned of a move of %g m", w.Value)
		}
	}
	wrong := free.Travel
	wrong[0] += 0.004
	wrong[1] += 0.004
	car.Rest = &wrong
	found := false
	for _, w := range compile(t, car).Warnings() {
		found = found || w.Code == RestMoved && w.Value > 0.002
	}
	if !found {
		t.Error("a rest 4 mm off is not noticed")
	}
}

// TestPercentiles against the sorted travels themselves.
func TestPercentiles(t *testing.T) {
	var all []float64
	run := Run{Left: newWavy(5, 64e-6, 40), Speed: 20, Duration: 12, Settle: 2, Each: func(o *Moment) {
		if o.Time > 2-1e-9 {
			all = append(all, o.Travel[RearLeft])
		}
	}}
	res := simulate(t, compile(t, estate()), run)
	c := &res.Corners[RearLeft]
	for _, share := range []float64{0.01, 0.05, 0.5, 0.95, 0.99} {
		below, at := 0, c.TravelAt(share)
		for _, w := range all {
			if w < at {
				below++
			}
		}
		if got := float64(below) / float64(len(all)); math.Abs(got-share) > 0.01 {
			t.Errorf("%.3f of the travels lie below %.2f mm; said to be %.2f", got, 1e3*at, share)
		}
	}
	sum := 0.0
	for _, s := range c.DamperShares {
		sum += s
	}
	if math.Abs(sum-1) > 1e-9 {
		t.Errorf("shares of damper speed add up to %g", sum)
	}
}

// TestLosslessStop: a stop said to keep nothing gives all back; no loss is a loss of 0 and not one left open.
func TestLosslessStop(t *testing.T) {
	lost := func(loss float64) float64 {
		car := estate()
		for i := range car.Corners {
			car.Corners[i].Stop.Loss = loss
		}
		hump := pit{5, 3.7, -0.09}
		res := simulate(t, compile(t, car), Run{Left: hump, Right: hump, Speed: 9, Duration: 3, Event: true, Step: 0.2e-3})
		if !(res.Corners[RearLeft].StopPeak > 1000) {
			t.Fatalf("the stop takes %.0f N only", res.Corners[RearLeft].StopPeak)
		}
		return res.Energy.Stops
	}
	none, usual := lost(0), lost(0.25)
	if math.Abs(none) > 0.02*usual || usual < 1 {
		t.Errorf("a lossless stop keeps %.2f J, one that keeps a quarter %.2f J", none, usual)
	}
}
