package screening

import "math"

// Linear is a car with its laws replaced by lines. It is for the transfer from road to body and back that a road test asks
// for (issue 16), which does not ask yet.
type Linear struct{ car car }

// Linearised returns the linear car for motions of given standard deviations of wheel travel [m] and damper speed [m/s]
// about rest, the same at all corners. For straight laws they do not matter.
func Linearised(m Model, travel, speed float64) (*Linear, error) {
	if !(travel > 0) || !(speed > 0) {
		return nil, &InputError{"travel and speed", math.Min(travel, speed), "must be greater than zero"}
	}
	s := newSolver(m)
	for i := range 4 {
		s.at.travel[i], s.at.speed[i] = travel, speed
	}
	s.linearise()
	return &Linear{s.car}, nil
}

// Response is the complex amplitude of every motion for given amplitudes of road height under the wheels.
type Response struct {
	Heave, Pitch, Roll complex128    // body [m], [rad]
	Travel             [4]complex128 // wheel travel, bump positive [m]
	Tyre               [4]complex128 // deflection: road less wheel [m]
}

// Response returns the motion at a frequency [Hz] for complex heights [m] under the four wheels, time factor e^{+jωt}.
func (l *Linear) Response(frequency float64, heights [4]complex128) Response {
	var out [2]response
	waves := [2][4]complex128{heights}
	l.car.general(2*math.Pi*frequency, &waves, &out)
	o := &out[0]
	return Response{o.body[0], o.body[1], o.body[2], o.travel, o.tyre}
}

// Body returns the height of the body over a corner in a response [m].
func (l *Linear) Body(r Response, corner int) complex128 {
	return r.Heave - complex(l.car.x[corner], 0)*r.Pitch + complex(l.car.y[corner], 0)*r.Roll
}
