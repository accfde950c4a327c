package wording

import (
	"math"
	"strconv"
	"strings"

	"trunnion/chassis/figure"
	"trunnion/shop/quantity"
)

// shares are the pure numbers that people say in per cent.
var shares = map[string]bool{
	"front-share": true, "left-share": true, "cross-share-front-right-rear-left": true, "cross-off-half": true, "stop-share": true,
	"stop-time-share": true, "tyre-light-share": true, "tyre-load-variation": true, "bounce-left": true,
	"front-transfer-share": true, "front-roll-share": true, "bar-roll-share": true,
	"mount-damage-share": true, "mount-life-share": true,
	"tyre-load-share": true, "gearing-change": true, "speed-over-shown": true,
}

// kinds is the kind of quantity behind an SI unit as the physics writes it.
var kinds = map[string]quantity.Kind{
	"m": quantity.Length, "N": quantity.Force, "kg": quantity.Mass, "N/m": quantity.Stiffness, "m/s": quantity.SpeedDamper,
	"m/s^2": quantity.Acceleration, "rad/(m/s^2)": quantity.RollGradient, "rad": quantity.Angle, "Hz": quantity.Frequency,
	"N s/m": quantity.Damping, "N·s/m": quantity.Damping, "J": quantity.Energy, "W": quantity.Power, "s": quantity.Time,
	"1/m": quantity.PerLength, "Pa": quantity.Pressure, "1": quantity.Ratio, "-": quantity.Ratio, "kg m^2": quantity.Inertia,
	"kg·m^2": quantity.Inertia, "kg m2": quantity.Inertia, "N·m": quantity.Torque, "N m": quantity.Torque,
	"N·m/rad": quantity.RotStiffness, "N m/rad": quantity.RotStiffness, "N/rad": quantity.CorneringStiffness, "rad/N": quantity.AnglePerForce,
	"m/turn": quantity.ThreadPitch, "m^2": quantity.Area,
}

// unit is how figures of one SI unit are shown.
type unit struct {
	label  string
	digits int
	number func(v float64, digits int) string
}

// sideways are lateral accelerations at which something happens in a corner.
var sideways = map[string]bool{"stop-contact-acceleration": true, "wheel-lift-acceleration": true}

// unitOf is the unit a code's figures are shown in. code may be empty.
func unitOf(code, si string, system quantity.System) unit {
	kind, known := kinds[si]
	switch {
	case si == "1" && shares[code]:
		kind = quantity.Share
	case si == "1" && code == "mount-damage-relative":
		return unit{label: "times", digits: 2, number: func(v float64, _ int) string {
			if v > 0 && v < 0.005 {
				return "under 0.01"
			}
			step := math.Pow(10, math.Floor(math.Log10(math.Max(v, 0.1)))-1)
			return strconv.FormatFloat(math.Round(v/step)*step, 'f', int(math.Max(0, -math.Log10(step)+0.5)), 64)
		}}
	case si == "m/s^2" && sideways[code]:
		return unitOf("", si, quantity.Imperial) // sideways everybody counts in g
	case si == "m/s" && (code == "critical-speed" || code == "towing-critical-speed" || code == "towing-settling" || code == "weave-damping" || code == "weave-frequency" || code == "yaw-settling" || code == "yaw-damping" || code == "yaw-frequency"):
		kind = quantity.SpeedRoad
	case si == "1/m" && code == "stop-hits":
		kind = quantity.PerDistance
	case si == "m/s" && code == "road":
		kind = quantity.SpeedRoad
	case si == "Pa" && code == "strut-bending-stress" && system != quantity.Imperial:
		return unit{label: "N/mm²", digits: 3, number: func(v float64, digits int) string {
			return strconv.FormatFloat(v/quantity.Megapascal, 'g', max(digits, 1), 64)
		}}
	case si == "m/s^1.75":
		return doseUnit(system)
	case si == "1/s":
		return unit{label: si, digits: 2, number: func(v float64, digits int) string {
			return strconv.FormatFloat(v, 'g', max(digits, 1), 64)
		}}
	case si == "1/m^2" || si == "1/m^3":
		return perPower(int(si[len(si)-1]-'0'), system)
	case !known:
		return unit{label: si, digits: 4, number: func(v float64, digits int) string {
			return strconv.FormatFloat(v, 'g', max(digits, 1), 64)
		}}
	}
	u := quantity.Shown(kind, system)
	label := u.Label()
	if kind == quantity.PerDistance {
		label = "per " + strings.TrimPrefix(label, "/")
	}
	digits := u.Digits()
	if kind == quantity.Energy && label == "J" {
		digits = 1
	}
	return unit{label: label, digits: digits, number: u.Number}
}

// perPower is the unit of what is over a power of length, such as a coefficient of a
// fit.
func perPower(power int, system quantity.System) unit {
	u := quantity.Shown(quantity.PerLength, system)
	return unit{label: u.Label() + "^" + strconv.Itoa(power), digits: 4, number: func(v float64, digits int) string {
		for range power {
			v = u.FromSI(v)
		}
		return strconv.FormatFloat(v, 'g', max(digits, 1), 64)
	}}
}

// doseUnit is the unit of the fourth-power vibration dose. ISO 2631-1 knows it
// in SI only; read over the standard acceleration it is the same dose in g.
func doseUnit(system quantity.System) unit {
	if system != quantity.Imperial {
		u := quantity.Shown(quantity.VibrationDose, system)
		return unit{label: u.Label(), digits: u.Digits(), number: u.Number}
	}
	g := quantity.Shown(quantity.Acceleration, system)
	return unit{label: "g·s^0.25", digits: g.Digits(), number: g.Number}
}

func (u unit) format(v float64) string { return u.with(u.number(v, u.digits)) }

func (u unit) with(number string) string {
	if u.label == "" || number == quantity.Nothing {
		return number
	}
	return number + " " + u.label
}

// coarse is the number of decimals of the ends of a band: none where the figure
// has one and the band is wide enough to do without.
func (u unit) coarse(low, high float64) int {
	if u.digits == 1 && math.Abs(u.reading(high)-u.reading(low)) >= 4 {
		return 0
	}
	return u.digits
}

// reading is a figure in the shown unit, close enough to choose its decimals.
func (u unit) reading(v float64) float64 {
	x, err := strconv.ParseFloat(u.number(v, u.digits+3), 64)
	if err != nil {
		return 0
	}
	return x
}

// ends are the ends of a band in the shown unit, the lower one first.
func (u unit) ends(low, high float64) (string, string) {
	d := u.coarse(low, high)
	return u.number(low, d), u.number(high, d)
}

// band is " (4 to 16)", empty when there is none.
func (u unit) band(low, high float64, has bool) string {
	if !has || math.IsNaN(low) || math.IsNaN(high) {
		return ""
	}
	a, b := u.ends(low, high)
	if a == b && a == u.number(low, u.digits) && low == high {
		return ""
	}
	return " (" + a + " to " + b + ")"
}

// siOf is the SI unit of a code.
func siOf(code string) string {
	e, _ := figure.Look(code)
	return e.Unit
}
