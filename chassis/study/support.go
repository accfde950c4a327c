package study

import (
	"math"

	"trunnion/chassis/car"
	"trunnion/chassis/linkage"
)

// Support is what an axle's links take off the springs when the car brakes or
// pulls, for a car as weighed.
type Support struct {
	Axle      int
	Height    float64 // of the whole centre of gravity over the ground [m]
	Wheelbase float64 // [m]
	// BrakeShare and DriveShare are the axle's share of braking and driving force
	// [-]; Estimated says that the first is an estimate, and DriveGiven that the
	// second was given: else it is 1, as if this axle alone drove.
	BrakeShare, DriveShare float64 // [-]
	Estimated, DriveGiven  bool
	// Reacted says that driving torque stays in the axle, as in a live one: its
	// force then works at the ground and not at the wheel centre.
	Reacted bool
}

// brakeAt is the deceleration over that of free fall for which an unknown brake
// share is taken as loading both axles alike: up to there the front must not be
// the one that locks last. Source: UN Regulation 13-H, annex 5, from memory;
// taking its end as the share is an estimate. [-]
const brakeAt = 0.8

// SupportOf makes it for an axle of a car.
//
//	h = (m_s·h_s + Σ m_u·h_u)/m,   share_f = b/L + z·h/L  where it is not given
func SupportOf(c *car.Car, axle int) Support {
	out := Support{Axle: axle, Wheelbase: c.Wheelbase.Value, Reacted: c.Axle[axle].Kind == string(linkage.LiveAxle)}
	whole, front, unsprung, moment := 0.0, 0.0, 0.0, 0.0
	for i, load := range c.EmptyLoads() {
		a := car.AxleOf(i)
		whole += load
		if a == car.Front {
			front += load
		}
		hub := usualHub
		if h := c.Axle[a].Hardpoints; h != nil {
			hub = h.Radius()
		}
		if h := &c.UnsprungHeight[a]; h.Known() {
			hub = h.Value
		}
		unsprung += c.Unsprung[a].Value
		moment += c.Unsprung[a].Value * hub
	}
	if whole <= 0 {
		out.Height = c.CGHeight.Value
	} else {
		out.Height = ((whole-unsprung)*c.CGHeight.Value + moment) / whole
	}
	brake := c.BrakeShare.Value
	if !c.BrakeShare.Known() {
		out.Estimated = true
		brake = math.Min(1, front/whole+brakeAt*out.Height/out.Wheelbase)
	}
	drive := c.DriveShare.Value
	out.DriveGiven = c.DriveShare.Known()
	if axle == car.Rear {
		brake, drive = 1-brake, 1-drive
	}
	if !out.DriveGiven {
		drive = 1
	}
	out.BrakeShare, out.DriveShare = brake, drive
	return out
}

// usualHub is the height of the masses that move with a wheel: common practice,
// no source. [m]
const usualHub = 0.31

// Brake is how much of the load that braking moves the links of the axle carry
// past the springs [-]: in front what is called anti-dive, behind anti-lift.
//
//	front: p·tan θ·L/h,   rear: −p·tan θ·L/h,   tan θ = dx/dz of the contact
//
// With p the axle's share of the braking force. Source: virtual work; the same as
// T. D. Gillespie, Fundamentals of Vehicle Dynamics, ch. 7 (from memory).
func (s *Support) Brake(f *linkage.Figures) float64 {
	return s.way() * s.BrakeShare * math.Tan(f.BrakeSupport) * s.Wheelbase / s.Height
}

// Drive is the same under power [-]: in front anti-lift, behind anti-squat. The
// force works at the wheel centre where shafts drive, at the ground where an axle
// keeps its own torque.
//
//	front: p·tan θ·L/h,   rear: −p·tan θ·L/h,   tan θ = dx/dz
func (s *Support) Drive(f *linkage.Figures) float64 {
	angle := f.DriveSupport
	if s.Reacted {
		angle = f.BrakeSupport
	}
	return s.way() * s.DriveShare * math.Tan(angle) * s.Wheelbase / s.Height
}

func (s *Support) way() float64 {
	if s.Axle == car.Rear {
		return -1
	}
	return 1
}
