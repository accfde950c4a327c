package ride

import (
	"math"

	"trunnion/chassis/road"
)

// Track is a road under one side of the car: heights with the contact filtering of the tyre already done.
type Track interface {
	// Sample fills dst with the heights [m] at x0, x0 + dx, … along the road [m].
	Sample(dst []float64, x0, dx float64)
}

// Course is a road sampled once for one speed, step and wheelbase, to be shared by the runs of many builds so that
// they are compared on the very same heights.
type Course struct {
	speed, step, wheelbase float64
	heights                [][4]float64
}

// NewCourse samples two tracks for a speed [m/s], a duration [s] and the shortest step that will be used [s]. The rear
// wheels meet what the front wheels met wheelbase/speed earlier. Nil tracks are flat.
func NewCourse(left, right Track, wheelbase, speed, duration, step float64) (*Course, error) {
	var faults []Fault
	for _, f := range []struct {
		name string
		v    float64
	}{{"wheelbase", wheelbase}, {"speed", speed}, {"duration", duration}, {"step", step}} {
		if !(f.v > 0) || math.IsInf(f.v, 0) {
			faults = append(faults, Fault{f.name, f.v, "must be greater than zero"})
		}
	}
	if len(faults) > 0 {
		return nil, &InputError{faults}
	}
	c := &Course{speed: speed, step: step, wheelbase: wheelbase}
	c.heights = make([][4]float64, int(math.Round(duration/step))+1)
	f := feed{left: left, right: right, speed: speed, step: step, wheelbase: wheelbase}
	f.fill(c.heights, 0)
	return c, nil
}

// feed hands the loop its heights, block by block.
type feed struct {
	left, right Track
	course      *Course
	stride      int
	speed, step float64
	wheelbase   float64
	fade        float64 // time over which heights grow from nothing [s]
	line        []float64
	rows        [][4]float64
	first       int // step at which rows starts
}

// feedSteps is how many steps are sampled at once.
const feedSteps = 8 * blockSteps

// fill samples rows from step n on.
func (f *feed) fill(rows [][4]float64, n int) {
	if cap(f.line) < len(rows) {
		f.line = make([]float64, len(rows))
	}
	line := f.line[:len(rows)]
	dx := f.speed * f.step
	for i := range 4 {
		track := f.left
		if i%2 == 1 {
			track = f.right
		}
		if track == nil {
			for k := range rows {
				rows[k][i] = 0
			}
			continue
		}
		x0 := float64(n) * dx
		if i >= RearLeft {
			x0 -= f.wheelbase
		}
		track.Sample(line, x0, dx)
		for k := range rows {
			rows[k][i] = line[k]
		}
	}
}

// at returns the heights of count ≤ blockSteps steps from step n on; n must not go back.
func (f *feed) at(n, count int) [][4]float64 {
	if f.course != nil && f.stride == 1 && float64(n)*f.step >= f.fade {
		return f.course.heights[n : n+count]
	}
	if n < f.first || n+count > f.first+len(f.rows) {
		if f.rows == nil {
			f.rows = make([][4]float64, feedSteps)
		}
		f.rows = f.rows[:feedSteps]
		f.first = n
		if f.course != nil {
			h := f.course.heights
			for k := range f.rows {
				f.rows[k] = h[min((n+k)*f.stride, len(h)-1)]
			}
		} else {
			f.fill(f.rows, n)
		}
		for k := range f.rows {
			t := float64(n+k) * f.step
			if t >= f.fade {
				break
			}
			s := t / f.fade
			s = s * s * (3 - 2*s)
			for i := range 4 {
				f.rows[k][i] *= s
			}
		}
	}
	return f.rows[n-f.first : n-f.first+count]
}

// side is one track of a profile.
type side struct {
	profile *road.Profile
	track   road.Track
}

func (s side) Sample(dst []float64, x0, dx float64) { s.profile.Sample(s.track, dst, x0, dx) }

// Tracks returns the two tracks of a profile.
func Tracks(p *road.Profile) (left, right Track) {
	return side{p, road.LeftTrack}, side{p, road.RightTrack}
}
