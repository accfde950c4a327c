package route

import (
	"math"

	"trunnion/chassis/car"
	"trunnion/chassis/ride"
	"trunnion/chassis/road"
)

// WheelRadius is the radius with which a tyre bridges a sharp edge: common
// practice, no source. [m]
const WheelRadius = car.UsualHubHeight

// eventStart is how far down the flat road an event begins. [m]
const eventStart = 2.0

// Rolled-over obstacles: how finely, a choice from a convergence study over the
// demo's obstacles. At a twentieth of a pothole's edge the stop's force is up to 1 %
// off, at a fortieth 0.3 %; 10 mm, whatever the edge, were 4.3 %.
const (
	edgeParts   = 40   // grid steps over an edge [-]
	finestGrid  = 5e-4 // [m]
	plainGrid   = 0.01 // of what has no edge [m]
	gridsInStep = 8    // no more grid steps than that in one time step: the wheel would not see them [-]
)

// Grid is how finely the obstacle is laid for drives of a time step [s]. [m]
func (c *Obstacle) Grid(step float64) float64 {
	g := plainGrid
	if e := c.Event.Edge(); e > 0 {
		g = math.Min(g, e/edgeParts)
	}
	g = math.Max(g, c.Speed*step/gridsInStep)
	return math.Min(math.Max(g, finestGrid), plainGrid)
}

// Lay puts an obstacle on a flat road, on a grid [m], as a rolling wheel follows it.
func (c *Obstacle) Lay(grid float64) (road.Profile, error) {
	flat := road.Profile{Step: 0.02, Left: make([]float64, 2), Right: make([]float64, 2), Interpolation: road.Linear}
	p := flat.With(c.Event, eventStart)
	_, to := p.Extent()
	laid, err := p.Laid(grid, 0, math.Max(to, eventStart)+3)
	if err != nil {
		return road.Profile{}, err
	}
	return laid.Enveloped(WheelRadius)
}

// Courses are the obstacle as driven at a time step [s], and laid twice as finely for
// the drive at half of it where that is asked for.
func (c *Obstacle) Courses(wheelbase, step float64, checked bool) (coarse, fine *ride.Course, duration float64, err error) {
	grid := c.Grid(step)
	for k, to := range []**ride.Course{&coarse, &fine} {
		if k == 1 && !checked {
			break
		}
		p, err := c.Lay(math.Max(grid/float64(1+k), finestGrid))
		if err != nil {
			return nil, nil, 0, err
		}
		if k == 0 {
			duration = c.Duration(&p, wheelbase)
		}
		if *to, err = Course(&p, wheelbase, c.Speed, duration, step/2); err != nil {
			return nil, nil, 0, err
		}
	}
	return coarse, fine, duration, nil
}

// Duration is long enough for both axles to pass and the body to settle [s].
func (c *Obstacle) Duration(p *road.Profile, wheelbase float64) float64 {
	_, to := p.Extent()
	return (to+wheelbase)/c.Speed + 2.5
}

// Course is a profile as both axles of a wheelbase [m] meet it at a speed [m/s], for a time and
// in steps of it [s].
func Course(p *road.Profile, wheelbase, speed, duration, step float64) (*ride.Course, error) {
	left, right := ride.Tracks(p)
	return ride.NewCourse(left, right, wheelbase, speed, duration, step)
}
