package car

import (
	"math"

	"trunnion/chassis/figure"
	"trunnion/chassis/part"
)

// usualExponent is the polytropic exponent of a damper's charge between what a slow
// movement and a quick one make of it, 1 and 1.4 of a gas of two atoms, as nitrogen
// and air are. Source: the ideal gas, isothermal and adiabatic; the middle is common
// practice, no source. [-]
const usualExponent, usualExponentHalf = 1.25, 0.15

// GaugePressure is the charge over the atmosphere under a draw [Pa].
func (d *DamperSpec) GaugePressure(draw figure.Draw) float64 {
	p := d.GasPressure.At(draw)
	if d.GasAbsolute {
		p -= part.AtmospherePressure
	}
	return p
}

// gas is the push-out law under a draw, its travel counted from where the charge was
// read; zero where nothing is known.
func (d *DamperSpec) gas(draw figure.Draw) part.Gas {
	if d.GasForce.Known() {
		return part.Gas{Force: d.GasForce.At(draw), Rate: d.GasRate.At(draw)}
	}
	if d.GasPressure.Known() && d.Rod.Known() && d.GasVolume.Known() {
		r := d.Rod.At(draw)
		n := usualExponent
		if d.GasExponent.Known() {
			n = d.GasExponent.At(draw)
		}
		return part.Gas{Pressure: d.GaugePressure(draw) + part.AtmospherePressure, Volume: d.GasVolume.At(draw), Area: math.Pi / 4 * r * r, Exponent: n}
	}
	return part.Gas{}
}

// GasOn is the push-out law on the car under a draw, its travel counted as the
// corner's: mounts is their distance at travel 0, and body how much longer than at its
// start mark the body was screwed [m].
//
// What was read with the damper fully open is of a rod that goes in by open + body −
// mounts until travel 0; without an open length it counts as read there.
func (d *DamperSpec) GasOn(mounts, body float64, draw figure.Draw) part.Gas {
	g := d.gas(draw)
	if d.ReadOpen() && d.Open.Known() {
		return g.Pushed(d.Open.At(draw) + body - mounts)
	}
	return g.Pushed(body)
}

// ReadOpen reports a charge that somebody read with the damper fully open.
func (d *DamperSpec) ReadOpen() bool {
	return d.GasOpen && (d.GasForce.Typed != "" || d.GasPressure.Typed != "")
}
