package drives

import (
	"context"
	"errors"
	"fmt"

	"trunnion/chassis/ride"
	"trunnion/chassis/route"
	"trunnion/chassis/study"
)

// Trace is one obstacle in time, moment after moment, for a picture of it.
// Corners are in their usual order.
type Trace struct {
	Build, Load, Event string
	Step               float64      // between two moments [s]
	Speed              float64      // of the car [m/s]
	Wheelbase          float64      // [m]
	Road               [4][]float64 // height under each wheel [m]
	Wheel              [4][]float64 // hub above where it stands at rest on level ground [m]
	Body               [4][]float64 // body over each wheel above its rest [m]
	Travel             [4][]float64 // wheel travel, bump positive [m]
	Stop               [4][]float64 // force of the stop along the damper [N]
	TyreLoad           [4][]float64 // load of each tyre [N]
	Floor              []float64    // vertical acceleration of the floor under the first person of the usual load state [m/s^2]
	Rest               [4]float64   // wheel travel at rest [m]
}

// ErrNoEvent says that the brief has no obstacle of that number.
var ErrNoEvent = errors.New("drives: the brief has no such obstacle")

// Follow drives one build over one obstacle of the brief and keeps the moments,
// no more than most of them. The answer is only read.
func Follow(ctx context.Context, a *study.Answer, build string, event, most int) (*Trace, error) {
	if !a.Computed() {
		return nil, errNotComputed
	}
	events, err := route.Obstacles(&a.Job, nil)
	if err != nil {
		return nil, err
	}
	if event < 0 || event >= len(events) {
		return nil, ErrNoEvent
	}
	e := &events[event]
	b := -1
	for i, one := range a.Job.Builds {
		if one.ID == build {
			b = i
		}
	}
	if b < 0 {
		return nil, fmt.Errorf("drives: no build is called %q", build)
	}
	c := &a.Cases[b][e.Load]
	if c.Err != nil {
		return nil, c.Err
	}
	driven := rider(&a.Job, c, b, e.Load, nil)
	m, err := ride.Compile(driven)
	if err != nil {
		return nil, err
	}
	step := m.StepFor(true)
	wheelbase := a.Job.Car.Wheelbase.Value
	_, way, duration, err := e.Courses(wheelbase, step, true)
	if err != nil {
		return nil, err
	}
	every := 1 + int(duration/step)/max(2, most)
	t := &Trace{
		Build: build, Load: a.Job.Loads[e.Load].ID, Event: e.Name, Step: step * float64(every), Speed: e.Speed, Wheelbase: wheelbase, Rest: m.Rest().Travel,
	}
	var result ride.Result
	err = m.Simulate(ctx, ride.Run{
		Course: way, Duration: duration, Step: step, Event: true, Every: every,
		Each: func(now *ride.Moment) { t.keep(&driven, now) },
	}, &result)
	return t, err
}

// keep adds a moment.
func (t *Trace) keep(c *ride.Car, now *ride.Moment) {
	for i := range 4 {
		t.Road[i] = append(t.Road[i], now.Road[i])
		t.Body[i] = append(t.Body[i], now.Body[i])
		t.Wheel[i] = append(t.Wheel[i], now.Body[i]+now.Travel[i]-t.Rest[i])
		t.Travel[i] = append(t.Travel[i], now.Travel[i])
		t.Stop[i] = append(t.Stop[i], now.StopForce[i])
		t.TyreLoad[i] = append(t.TyreLoad[i], now.TyreLoad[i])
	}
	p := c.Points[0]
	t.Floor = append(t.Floor, now.Acceleration[0]-now.Acceleration[1]*(c.CGToFront+p.X)+now.Acceleration[2]*(p.Y-c.CGOffset))
}
