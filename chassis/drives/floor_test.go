package drives

import (
	"testing"

	"trunnion/chassis/demo"
	"trunnion/chassis/study"

	"trunnion/chassis/brief"
	"trunnion/chassis/car"
	"trunnion/chassis/figure"
)

// TestFloorIsThatOfTheLoadDriven: the floor that is judged is under whoever sits in the load state that is driven. Which load
// state is the usual one changes nothing where another was asked for.
func TestFloorIsThatOfTheLoadDriven(t *testing.T) {
	in := func(v float64) car.Input { return car.Input{Value: v, Origin: figure.Chosen} }
	floor := func(usual string) float64 {
		job := study.Job(demo.Marl())
		job.Loads = append(job.Loads, car.Load{ID: "passenger-only", Items: []car.Payload{{Name: "passenger", Mass: in(70), Behind: in(2.2), Left: in(0.4)}}})
		asked := *job.Brief
		asked.UsualLoad, asked.Roads = usual, nil
		asked.Events = []brief.Event{{Kind: "round-hump", Height: in(0.06), Length: in(3.7), Speed: in(8), Load: "driver"}}
		job.Brief = &asked
		opt := study.Defaults()
		opt.Samples, opt.NoWorkings, opt.NoModes, opt.NoCorners = 0, true, true, true
		a, err := study.Run(t.Context(), job, opt)
		if err != nil {
			t.Fatal(err)
		}
		ride := Defaults()
		ride.EventsOnly, ride.Unchecked = true, true
		if err := Ride(t.Context(), a, ride, nil); err != nil {
			t.Fatal(err)
		}
		for i := range a.Values {
			if v := &a.Values[i]; v.Code == "body-acceleration-peak" && v.Place.Build == "kit" && v.Place.Load == "driver" {
				return v.Value
			}
		}
		t.Fatal("no acceleration of the floor")
		return 0
	}
	if a, b := floor("driver"), floor("passenger-only"); a != b {
		t.Errorf("driven with the driver, the floor takes %.4f m/s², and %.4f where the passenger alone is usual", a, b)
	}
}
