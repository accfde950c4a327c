package ride

import (
	"context"
	"fmt"
	"math"
	"reflect"
	"testing"
)

// laneTolerance is how far a figure of a drive in lanes may be from the same drive alone, by its size.
const laneTolerance = 1e-3

// fleet are unlike cars of one step: a bench car and what draws make of it.
func fleet(base Car, n int) (cars []Car) {
	for k := range n {
		c := base
		c.SprungMass *= 1 + 0.02*float64(k)
		c.CGOffset += 0.004 * float64(k)
		c.CGToFront += 0.01 * float64(k)
		for i := range c.Corners {
			o := &c.Corners[i]
			damper, stiffer := o.Damper, 1+0.03*float64((k+i)%5)
			o.Damper = func(v float64) float64 { return stiffer * damper(v) }
			o.Friction *= 1 + 0.1*float64(k%3)
			o.Stop.TouchTravel -= 0.001 * float64(k)
			o.Tyre.Rate *= 1 + 0.01*float64(k)
		}
		cars = append(cars, c)
	}
	return cars
}

// laneCases are the roads and obstacles of the peers' table.
func laneCases() map[string]Run {
	return map[string]Run{
		"class C, 10 m/s": {Left: newWavy(5, 256e-6, 50), Right: newWavy(6, 256e-6, 50), Speed: 10, Duration: 6, Settle: 1},
		"class C, 20 m/s": {Left: newWavy(7, 256e-6, 50), Right: newWavy(8, 256e-6, 50), Speed: 20, Duration: 6, Settle: 1},
		"class C, 30 m/s": {Left: newWavy(3, 256e-6, 50), Right: newWavy(9, 256e-6, 50), Speed: 30, Duration: 6, Settle: 1},
		"class C, 50 m/s": {Left: newWavy(2, 256e-6, 50), Right: newWavy(1, 256e-6, 50), Speed: 50, Duration: 6, Settle: 1},
		"hump":            {Left: pit{5, 3.7, -0.09}, Right: pit{5, 3.7, -0.09}, Speed: 9, Duration: 3, Event: true},
		"pothole":         {Right: pit{5, 1.0, 0.07}, Speed: 60 / 3.6, Duration: 3, Event: true},
		"crest":           {Left: crest(5, 24, 0.3), Right: crest(5, 24, 0.3), Speed: 26, Duration: 3, Event: true},
	}
}

// TestLanesAgree: every figure of every car in lanes is that of the car alone, to 0.1 % of its size; with lanes switched
// off, or on a processor that has none, to the last bit.
func TestLanesAgree(t *testing.T) {
	low, oneSide := lowEstate(), estate()
	oneSide.Corners[1].MountStiffness, oneSide.Corners[2].MountStiffness = 300e3, 400e3
	for name, base := range map[string]Car{"rigid": estate(), "mounted": mounted(), "mounted on one side": oneSide, "low": low} {
		cars := fleet(base, 9)
		var models []*Model
		for _, c := range cars {
			models = append(models, compile(t, c))
		}
		for road, run := range laneCases() {
			run.Step = 1e-3
			want := make([]*Result, len(models))
			for k, m := range models {
				want[k] = simulate(t, m, run)
			}
			for _, lanes := range []Lanes{Alone, Four, Eight} {
				runs, got := make([]Run, len(models)), make([]*Result, len(models))
				for k := range models {
					runs[k], got[k] = run, new(Result)
				}
				for k, err := range SimulateEach(context.Background(), lanes, models, runs, got) {
					if err != nil {
						t.Fatalf("%s, %s, %d lanes, car %d: %v", name, road, lanes, k, err)
					}
				}
				tolerance := laneTolerance
				if lanes > Most() || lanes == Alone {
					tolerance = 0
				}
				for k := range models {
					alike(t, fmt.Sprintf("%s, %s, %d lanes, car %d", name, road, lanes, k), got[k], want[k], tolerance)
				}
			}
		}
	}
}

// alike holds all numbers of a result against another's. What is a difference of large ones is held by their size: travel
// by the travel used, energy by what went through, a share of time by a thousandth of the time.
func alike(t *testing.T, name string, got, want *Result, tolerance float64) {
	t.Helper()
	near := func(what string, a, b, size float64) {
		t.Helper()
		if d := math.Abs(a - b); !(d <= tolerance*math.Max(math.Abs(b), size)) {
			t.Errorf("%s: %s is %.9g, alone %.9g", name, what, a, b)
		}
	}
	if len(got.Floor) != len(want.Floor) {
		t.Fatalf("%s: %d floor points", name, len(got.Floor))
	}
	for k := range want.Floor {
		a, b := reflect.ValueOf(got.Floor[k].Comfort), reflect.ValueOf(want.Floor[k].Comfort)
		for f := range a.NumField() {
			near("floor "+a.Type().Field(f).Name, a.Field(f).Float(), b.Field(f).Float(), 0)
		}
	}
	for i := range want.Corners {
		a, b := &got.Corners[i], &want.Corners[i]
		used := b.TravelMax - b.TravelMin
		sizes := map[string]float64{
			"TravelMax": used, "TravelMin": used, "TravelMean": used, "Bump": used, "Droop": used, "LoadMin": b.LoadMean,
			"StopPeak": b.LoadMean, "StopEnergy": 10, "StopLost": math.Max(10, b.Power*want.Time), "ForceMin": b.ForceMax, "OilRise": 1,
			"LowLoad": 1, "LiftOff": 1, "StopTime": 1, "Outside": 1, "Metal": 1, "RimTime": 1, "OutsideDyno": 1, "TopOutForce": b.LoadMean,
			"TopOutSpeed": b.DamperMax - b.DamperMin, "DamperMin": b.DamperMax - b.DamperMin, "DamperMax": b.DamperMax - b.DamperMin,
		}
		va, vb := reflect.ValueOf(*a), reflect.ValueOf(*b)
		for f := range va.NumField() {
			field := va.Type().Field(f)
			if field.Type.Kind() == reflect.Float64 {
				near(fmt.Sprintf("corner %d %s", i, field.Name), va.Field(f).Float(), vb.Field(f).Float(), sizes[field.Name])
			}
		}
		for k := range b.DamperShares {
			near("damper share", a.DamperShares[k], b.DamperShares[k], 1)
		}
		for _, share := range []float64{0.01, 0.2, 0.5, 0.9, 0.99} {
			near("travel distribution", a.TravelAt(share), b.TravelAt(share), used)
			near("speed distribution", a.SpeedAt(share), b.SpeedAt(share), b.DamperMax-b.DamperMin)
		}
		for k := range b.StopHits {
			near("share over a stop force", a.StopHits[k].Share, b.StopHits[k].Share, 1)
			if d := a.StopHits[k].Count - b.StopHits[k].Count; d != 0 && tolerance == 0 || d > 1 || d < -1 {
				t.Errorf("%s: corner %d, %d hits over %.0f N, alone %d", name, i, a.StopHits[k].Count, b.StopHits[k].Force, b.StopHits[k].Count)
			}
		}
	}
	through := math.Abs(want.Energy.FromRoad) + want.Energy.Damper + 10
	near("energy from the road", got.Energy.FromRoad, want.Energy.FromRoad, through)
	near("energy taken", got.Energy.Damper, want.Energy.Damper, through)
	near("sink", got.Sink, want.Sink, 0.01)
	e, o := &got.Event, &want.Event
	near("peak acceleration", e.Acceleration, o.Acceleration, 0)
	near("flight", e.Flight.Time, o.Flight.Time, 2) // within two steps
	for k := range o.Decay {
		if e.Decay[k].Excited != o.Decay[k].Excited {
			t.Errorf("%s: bounce %d: excited %v, alone %v", name, k, e.Decay[k].Excited, o.Decay[k].Excited)
		}
		near("bounce", e.Decay[k].Bounce, o.Decay[k].Bounce, 0.01)
		near("second bounce", e.Decay[k].Second, o.Decay[k].Second, 1)
		near("settling time", e.Decay[k].Settling, o.Decay[k].Settling, 2)
	}
}
