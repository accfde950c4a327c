package quantity

import (
	"math"
	"strings"
	"unicode"
)

// Unit is one way to write a kind of quantity. The zero Unit is the bare
// number of a ratio.
type Unit struct {
	kind    Kind
	label   string
	names   string // more spellings, separated by "|"
	mul     float64
	div     float64 // kept apart from mul so that 352 mm is 352/1000, rounded once
	digits  int     // decimals shown when nobody asks for others
	zero    float64 // reading of the unit at zero of the kept value
	inverse bool    // reading is per value: turns/in against m per turn
	parts   bool    // fractions are written in it: 13 7/8 in
}

// Label is the unit as shown.
func (u Unit) Label() string { return u.label }

// Digits is the usual number of decimals in this unit [-].
func (u Unit) Digits() int { return u.digits }

// ToSI converts a reading x in the unit to the kept value [SI].
//
//	value = (x − zero)·mul/div, or mul/div/x for an inverse unit
//
// An inverse unit at zero gives an infinity.
func (u Unit) ToSI(x float64) float64 {
	if u.inverse {
		return u.mul / u.div / x
	}
	return (x - u.zero) * u.mul / u.div
}

// FromSI converts a kept value [SI] to a reading in the unit: the inverse of ToSI.
func (u Unit) FromSI(value float64) float64 {
	if u.inverse {
		return u.mul / u.div / value
	}
	return value*u.div/u.mul + u.zero
}

// differenceToSI converts a difference of readings, to which the zero of the
// scale does not matter.
func (u Unit) differenceToSI(x float64) float64 { return x * u.mul / u.div }

// units is the table of everything that may be typed. "·" in a spelling may
// also be typed as ".", "-", " " or left out. The first unit that bears a name
// within a kind wins. Decimals are common practice, no source: about a
// hundredth to a thousandth of an ordinary reading.
//
// A bar is 1e5 Pa, a litre 1 dm³ (12th General Conference on Weights and
// Measures, 1964) and 0 °C is 273.15 K, all exact.
var units = []Unit{
	{kind: Length, label: "mm", names: "millimetre|millimetres|millimeter|millimeters", mul: 1, div: 1000, digits: 1},
	{kind: Length, label: "in", names: "\"|inch|inches|in.", mul: 254, div: 1e4, digits: 2, parts: true},
	{kind: Length, label: "m", names: "metre|metres|meter|meters", mul: 1, div: 1, digits: 3},
	{kind: Length, label: "cm", mul: 1, div: 100, digits: 1},
	{kind: Length, label: "ft", names: "foot|feet", mul: 3048, div: 1e4, digits: 2, parts: true},
	{kind: Length, label: "µm", names: "um|micron|microns", mul: 1, div: 1e6, digits: 0},
	{kind: Length, label: "thou", mul: 254, div: 1e7, digits: 0},

	{kind: Distance, label: "m", names: "metre|metres|meter|meters", mul: 1, div: 1, digits: 1},
	{kind: Distance, label: "ft", names: "foot|feet", mul: 3048, div: 1e4, digits: 0, parts: true},
	{kind: Distance, label: "km", mul: 1000, div: 1, digits: 2},
	{kind: Distance, label: "mile", names: "miles|mi", mul: mile, div: 1, digits: 2},
	{kind: Distance, label: "yd", mul: 9144, div: 1e4, digits: 0},
	{kind: Distance, label: "mm", mul: 1, div: 1000, digits: 0},
	{kind: Distance, label: "cm", mul: 1, div: 100, digits: 0},
	{kind: Distance, label: "in", names: "\"|inch|inches", mul: 254, div: 1e4, digits: 0, parts: true},

	{kind: Area, label: "mm²", names: "sq mm", mul: 1, div: 1e6, digits: 0},
	{kind: Area, label: "cm²", names: "sq cm", mul: 1, div: 1e4, digits: 2},
	{kind: Area, label: "m²", names: "sq m", mul: 1, div: 1, digits: 2},
	{kind: Area, label: "in²", names: "sq in", mul: 64516, div: 1e8, digits: 2},

	{kind: Volume, label: "L", names: "l|litre|litres|liter|liters|dm³", mul: 1, div: 1000, digits: 1},
	{kind: Volume, label: "cm³", names: "cc|mL|ml", mul: 1, div: 1e6, digits: 0},
	{kind: Volume, label: "m³", mul: 1, div: 1, digits: 4},
	{kind: Volume, label: "in³", names: "cu in", mul: inch * inch * inch, div: 1, digits: 1},
	{kind: Volume, label: "US gal", names: "gal US|gal (US)", mul: gallonUS, div: 1, digits: 1},
	{kind: Volume, label: "imp gal", names: "gal imp|gal (imp)|UK gal|gal UK", mul: gallonImperial, div: 1, digits: 1},

	{kind: Mass, label: "kg", mul: 1, div: 1, digits: 1},
	{kind: Mass, label: "lb", names: "lbs|lbm", mul: 45359237, div: 1e8, digits: 0},
	{kind: Mass, label: "g", mul: 1, div: 1000, digits: 0},
	{kind: Mass, label: "t", names: "tonne|tonnes", mul: 1000, div: 1, digits: 3},

	{kind: Density, label: "kg/L", names: "kg/l|kg/dm³|g/cm³|g/mL", mul: 1000, div: 1, digits: 3},
	{kind: Density, label: "kg/m³", mul: 1, div: 1, digits: 0},
	{kind: Density, label: "lb/US gal", names: "lb/gal US", mul: pound / gallonUS, div: 1, digits: 2},
	{kind: Density, label: "lb/ft³", mul: pound / (foot * foot * foot), div: 1, digits: 1},

	{kind: Inertia, label: "kg·m²", mul: 1, div: 1, digits: 0},
	{kind: Inertia, label: "lb·ft²", mul: pound * foot * foot, div: 1, digits: 0},
	{kind: Inertia, label: "lb·in²", mul: pound * inch * inch, div: 1, digits: 0},
	{kind: Inertia, label: "slug·ft²", names: "lbf·ft·s²", mul: poundForce * foot, div: 1, digits: 0},

	{kind: Force, label: "N", names: "newton|newtons", mul: 1, div: 1, digits: 0},
	{kind: Force, label: "lbf", mul: poundForce, div: 1, digits: 0},
	{kind: Force, label: "kN", mul: 1000, div: 1, digits: 1},
	{kind: Force, label: "daN", mul: 10, div: 1, digits: 1},
	{kind: Force, label: "kgf", names: "kp", mul: kilogramForce, div: 1, digits: 1},

	{kind: Torque, label: "N·m", mul: 1, div: 1, digits: 0},
	{kind: Torque, label: "kN·m", mul: 1000, div: 1, digits: 2},
	{kind: Torque, label: "lbf·ft", names: "lb·ft|ft·lbf|ft·lb", mul: poundForce * foot, div: 1, digits: 0},
	{kind: Torque, label: "lbf·in", names: "lb·in|in·lbf|in·lb", mul: poundForce * inch, div: 1, digits: 0},
	{kind: Torque, label: "kgf·m", names: "kg·m", mul: kilogramForce, div: 1, digits: 1},

	// A mass per length can only be meant as its weight where a stiffness is
	// due, so lb/in is lbf/in and kg/mm is kgf/mm.
	{kind: Stiffness, label: "N/mm", names: "kN/m", mul: 1000, div: 1, digits: 1},
	{kind: Stiffness, label: "lbf/in", names: "lb/in|lbs/in|lbf/inch|lb/inch|lbs/inch", mul: poundForce / inch, div: 1, digits: 0},
	{kind: Stiffness, label: "N/m", mul: 1, div: 1, digits: 0},
	{kind: Stiffness, label: "N/cm", mul: 100, div: 1, digits: 0},
	{kind: Stiffness, label: "daN/mm", mul: 1e4, div: 1, digits: 2},
	{kind: Stiffness, label: "daN/cm", mul: 1000, div: 1, digits: 1},
	{kind: Stiffness, label: "kgf/mm", names: "kg/mm|kp/mm", mul: kilogramForce * 1000, div: 1, digits: 2},
	{kind: Stiffness, label: "kgf/cm", names: "kg/cm|kp/cm", mul: kilogramForce * 100, div: 1, digits: 1},
	{kind: Stiffness, label: "lbf/ft", names: "lb/ft|lbs/ft", mul: poundForce / foot, div: 1, digits: 0},

	{kind: RotStiffness, label: "N·m/deg", names: "N·m/°", mul: 1 / degree, div: 1, digits: 0},
	{kind: RotStiffness, label: "N·m/rad", mul: 1, div: 1, digits: 0},
	{kind: RotStiffness, label: "kN·m/rad", mul: 1000, div: 1, digits: 1},
	{kind: RotStiffness, label: "kN·m/deg", names: "kN·m/°", mul: 1000 / degree, div: 1, digits: 2},
	{kind: RotStiffness, label: "lbf·ft/deg", names: "lb·ft/deg|ft·lbf/deg|ft·lb/deg|lbf·ft/°", mul: poundForce * foot / degree, div: 1, digits: 0},
	{kind: RotStiffness, label: "lbf·in/deg", names: "lb·in/deg|in·lbf/deg|in·lb/deg", mul: poundForce * inch / degree, div: 1, digits: 0},

	{kind: CorneringStiffness, label: "N/deg", names: "N/°", mul: 1 / degree, div: 1, digits: 0},
	{kind: CorneringStiffness, label: "N/rad", mul: 1, div: 1, digits: 0},
	{kind: CorneringStiffness, label: "kN/rad", mul: 1000, div: 1, digits: 1},
	{kind: CorneringStiffness, label: "kN/deg", names: "kN/°", mul: 1000 / degree, div: 1, digits: 2},
	{kind: CorneringStiffness, label: "lbf/deg", names: "lb/deg|lbf/°", mul: poundForce / degree, div: 1, digits: 0},

	{kind: Damping, label: "N·s/m", names: "N/(m/s)", mul: 1, div: 1, digits: 0},
	{kind: Damping, label: "N·s/mm", names: "kN·s/m|N/(mm/s)", mul: 1000, div: 1, digits: 2},
	{kind: Damping, label: "kgf·s/mm", names: "kg·s/mm", mul: kilogramForce * 1000, div: 1, digits: 3},
	{kind: Damping, label: "kgf·s/m", names: "kg·s/m", mul: kilogramForce, div: 1, digits: 0},
	{kind: Damping, label: "lbf·s/in", names: "lb·s/in|lbs·s/in|lbf/(in/s)", mul: poundForce / inch, div: 1, digits: 1},
	{kind: Damping, label: "lbf·s/ft", names: "lb·s/ft", mul: poundForce / foot, div: 1, digits: 0},

	{kind: Pressure, label: "bar", names: "barg|bar g|bar(g)", mul: 1e5, div: 1, digits: 2},
	{kind: Pressure, label: "psi", names: "psig|psi g|psi(g)|lbf/in²", mul: psi, div: 1, digits: 1},
	{kind: Pressure, label: "kPa", mul: 1000, div: 1, digits: 0},
	{kind: Pressure, label: "Pa", mul: 1, div: 1, digits: 0},
	{kind: Pressure, label: "MPa", names: "N/mm²", mul: 1e6, div: 1, digits: 3},
	{kind: Pressure, label: "mbar", names: "hPa", mul: 100, div: 1, digits: 0},
	{kind: Pressure, label: "kgf/cm²", names: "kg/cm²", mul: kilogramForce * 1e4, div: 1, digits: 2},

	{kind: SpeedDamper, label: "mm/s", mul: 1, div: 1000, digits: 0},
	{kind: SpeedDamper, label: "m/s", mul: 1, div: 1, digits: 3},
	{kind: SpeedDamper, label: "in/s", names: "ips|inch/s", mul: 254, div: 1e4, digits: 1},
	{kind: SpeedDamper, label: "cm/s", mul: 1, div: 100, digits: 1},
	{kind: SpeedDamper, label: "ft/s", mul: 3048, div: 1e4, digits: 2},

	{kind: SpeedRoad, label: "km/h", names: "kph|kmh|kmph", mul: 1000, div: 3600, digits: 0},
	{kind: SpeedRoad, label: "mph", names: "mile/h|miles/h|mi/h", mul: 44704, div: 1e5, digits: 0},
	{kind: SpeedRoad, label: "m/s", mul: 1, div: 1, digits: 1},

	{kind: Acceleration, label: "m/s²", names: "m/s/s", mul: 1, div: 1, digits: 2},
	{kind: Acceleration, label: "g", names: "gn|g's", mul: 980665, div: 1e5, digits: 3},
	{kind: Acceleration, label: "ft/s²", mul: 3048, div: 1e4, digits: 1},

	{kind: Angle, label: "deg", names: "°|degree|degrees", mul: degree, div: 1, digits: 2},
	{kind: Angle, label: "rad", mul: 1, div: 1, digits: 4},
	{kind: Angle, label: "mrad", mul: 1, div: 1000, digits: 1},

	{kind: RollGradient, label: "deg/g", names: "°/g", mul: degree / standardGravity, div: 1, digits: 1},
	{kind: RollGradient, label: "rad/(m/s²)", mul: 1, div: 1, digits: 5},
	{kind: RollGradient, label: "deg/(m/s²)", names: "°/(m/s²)", mul: degree, div: 1, digits: 3},

	{kind: AnglePerForce, label: "deg/kN", names: "°/kN", mul: degree, div: 1000, digits: 3},
	{kind: AnglePerForce, label: "rad/N", mul: 1, div: 1, digits: 8},
	{kind: AnglePerForce, label: "deg/(1000 lbf)", names: "°/(1000 lbf)|deg/(1000 lb)", mul: degree, div: 1000 * poundForce, digits: 3},

	{kind: Ratio, label: "", mul: 1, div: 1, digits: 2},
	{kind: Ratio, label: "%", names: "percent|per cent", mul: 1, div: 100, digits: 0},

	{kind: Share, label: "%", names: "percent|per cent", mul: 1, div: 100, digits: 1},

	{kind: Time, label: "s", names: "sec|second|seconds", mul: 1, div: 1, digits: 2},
	{kind: Time, label: "ms", mul: 1, div: 1000, digits: 0},
	{kind: Time, label: "min", names: "minute|minutes", mul: 60, div: 1, digits: 0},
	{kind: Time, label: "h", names: "hour|hours", mul: 3600, div: 1, digits: 1},

	{kind: Frequency, label: "Hz", names: "1/s", mul: 1, div: 1, digits: 2},
	{kind: Frequency, label: "cycles/min", names: "cpm|1/min|rpm", mul: 1, div: 60, digits: 0},

	{kind: Temperature, label: "°C", names: "degC|deg C|C", mul: 1, div: 1, digits: 0},
	{kind: Temperature, label: "°F", names: "degF|deg F|F", mul: 5, div: 9, zero: 32, digits: 0},
	{kind: Temperature, label: "K", mul: 1, div: 1, zero: 273.15, digits: 0},

	{kind: Energy, label: "J", mul: 1, div: 1, digits: 0},
	{kind: Energy, label: "kJ", mul: 1000, div: 1, digits: 2},
	{kind: Energy, label: "ft·lbf", names: "ft·lb|lbf·ft", mul: poundForce * foot, div: 1, digits: 0},
	{kind: Energy, label: "in·lbf", names: "in·lb|lbf·in", mul: poundForce * inch, div: 1, digits: 0},

	{kind: Power, label: "W", mul: 1, div: 1, digits: 0},
	{kind: Power, label: "kW", mul: 1000, div: 1, digits: 1},
	{kind: Power, label: "hp", names: "bhp", mul: horsepower, div: 1, digits: 3},
	{kind: Power, label: "PS", names: "metric hp", mul: metricPower, div: 1, digits: 1},

	{kind: ThreadPitch, label: "mm/turn", names: "mm/rev|mm", mul: 1, div: 1000, digits: 2},
	{kind: ThreadPitch, label: "in/turn", names: "in/rev", mul: 254, div: 1e4, digits: 4, parts: true},
	{kind: ThreadPitch, label: "turns/in", names: "turns/inch|tpi|threads/in", mul: 254, div: 1e4, digits: 1, inverse: true},

	{kind: PerLength, label: "1/mm", names: "/mm|per mm", mul: 1000, div: 1, digits: 5},
	{kind: PerLength, label: "1/m", names: "/m|per m|cycles/m", mul: 1, div: 1, digits: 3},
	{kind: PerLength, label: "1/in", names: "/in|per in", mul: 1e4, div: 254, digits: 4},

	{kind: PerDistance, label: "/km", names: "1/km|per km", mul: 1, div: 1000, digits: 1},
	{kind: PerDistance, label: "/mile", names: "1/mile|per mile|/mi|1/mi", mul: 1 / mile, div: 1, digits: 1},
	{kind: PerDistance, label: "/m", names: "1/m|per m", mul: 1, div: 1, digits: 4},

	{kind: RoadRoughness, label: "m³", names: "m²/(1/m)|m²/(cycle/m)", mul: 1, div: 1, digits: 7},
	{kind: RoadRoughness, label: "cm³", mul: 1, div: 1e6, digits: 1},
	{kind: RoadRoughness, label: "×10⁻⁶ m³", mul: 1, div: 1e6, digits: 1},

	{kind: VibrationDose, label: "m/s^1.75", mul: 1, div: 1, digits: 1},

	{kind: Count, label: "", mul: 1, div: 1, digits: 0},
	{kind: Count, label: "clicks", names: "click", mul: 1, div: 1, digits: 0},

	{kind: Price, label: "", mul: 1, div: 1, digits: 2},
}

// index finds a unit by kind and by the spelling that spell gives.
var index, folded = buildIndex()

func buildIndex() (exact, folded [kinds]map[string]*Unit) {
	for k := range kinds {
		exact[k], folded[k] = map[string]*Unit{}, map[string]*Unit{}
	}
	for i := range units {
		u := &units[i]
		for _, name := range u.spellings() {
			if _, taken := exact[u.kind][name]; !taken {
				exact[u.kind][name] = u
			}
			if f := fold(name); folded[u.kind][f] == nil {
				folded[u.kind][f] = u
			}
		}
	}
	return exact, folded
}

// spellings lists every way the unit may be typed, in the form spell gives.
func (u *Unit) spellings() []string {
	var out []string
	for name := range strings.SplitSeq(u.label+"|"+u.names, "|") {
		if name == "" {
			continue
		}
		name = spell(clean(name))
		out = append(out, name)
		if strings.Contains(name, "·") {
			for _, joint := range []string{"", ".", " ", "-", "*"} {
				out = append(out, strings.ReplaceAll(name, "·", joint))
			}
		}
	}
	return out
}

// spell brings a cleaned unit to the form it is looked up in: no blanks round
// signs, and powers without a sign, "m^3" as "m3".
func spell(unit string) string {
	if !strings.ContainsAny(unit, "/·*^()") {
		return unit
	}
	for _, sign := range []string{"/", "·", "*", "^", "(", ")"} {
		unit = strings.ReplaceAll(unit, " "+sign, sign)
		if sign != ")" {
			unit = strings.ReplaceAll(unit, sign+" ", sign)
		}
	}
	return strings.ReplaceAll(unit, "^", "")
}

// fold is lower case but for the letters m and M, which are a million or a
// thousandth in front of a unit.
func fold(unit string) string {
	return strings.Map(func(r rune) rune {
		if r == 'M' {
			return r
		}
		return unicode.ToLower(r)
	}, unit)
}

// find looks a unit up within a kind; the bare number has the name "".
func find(unit string, kind Kind) (*Unit, bool) {
	if unit == "" {
		for i := range units {
			if units[i].kind == kind && units[i].label == "" {
				return &units[i], true
			}
		}
		return nil, false
	}
	name := spell(unit)
	if u, ok := index[kind][name]; ok {
		return u, true
	}
	u, ok := folded[kind][fold(name)]
	return u, ok
}

// Find returns the unit of a kind that is typed so, for a reader that meets the
// unit apart from its figures, such as in the head of a column. The error is
// an *Error.
func Find(unit string, kind Kind) (Unit, error) {
	if !kind.valid() {
		return Unit{}, &Error{Fault: NoKind, Text: unit, Got: "no such kind of quantity", Want: "enter a kind of this package"}
	}
	text, fault := prepare(unit)
	if fault != nil {
		return Unit{}, fault
	}
	u, ok := find(text, kind)
	if !ok {
		return Unit{}, wrongUnit(unit, text, kind, math.NaN())
	}
	return *u, nil
}
