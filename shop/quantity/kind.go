package quantity

// Kind is what a figure is a figure of. Two kinds may share a dimension when
// the trade writes them in different units: a damper's speed in mm/s, the
// road's in km/h.
type Kind uint8

// The kinds of quantity, with the unit their values are kept in.
const (
	Length             Kind = iota // [m], shown in mm
	Distance                       // along a road [m], shown in m
	Area                           // [m²]
	Volume                         // [m³]
	Mass                           // [kg]
	Density                        // [kg/m³]
	Inertia                        // [kg·m²]
	Force                          // [N]
	Torque                         // [N·m]
	Stiffness                      // [N/m]
	RotStiffness                   // [N·m/rad]
	CorneringStiffness             // side force per slip angle [N/rad]
	Damping                        // [N·s/m]
	Pressure                       // over the atmosphere [Pa]
	SpeedDamper                    // of a damper's rod or a wheel against the body [m/s]
	SpeedRoad                      // of the car [m/s]
	Acceleration                   // [m/s²]
	Angle                          // [rad]
	RollGradient                   // roll angle per lateral acceleration [rad/(m/s²)]
	AnglePerForce                  // [rad/N]
	Ratio                          // 0.95 or 95 % [-]
	Share                          // a part of a whole, typed in % [-]
	Time                           // [s]
	Frequency                      // [Hz]
	Temperature                    // [°C]
	Energy                         // [J]
	Power                          // [W]
	ThreadPitch                    // [m per turn]
	PerLength                      // [1/m], shown per mm
	PerDistance                    // events along a road [1/m], shown per km
	RoadRoughness                  // displacement density Gd(n0) of ISO 8608 [m³]
	VibrationDose                  // [m/s^1.75]
	Count                          // clicks, people, laps: whole numbers [-]
	Price                          // kept as typed, the currency's code in Typed.Unit [currency]

	kinds = int(Price) + 1
)

// about is what is said of a kind, and how it is shown.
type about struct {
	name     string    // "stiffness"
	article  string    // "a", "an"
	si       string    // unit of the kept value
	examples string    // as it may be typed
	offer    []string  // units proposed when one is missing
	shown    [3]string // unit by System: Metric, Imperial, Mixed
}

// Mixed is what a metric workshop with imported parts reads: springs in lbf/in
// and pressures in psi, all else metric (common practice, no source).
var abouts = [kinds]about{
	Length:             {"length", "a", "m", "352 mm or 13 7/8 in", []string{"mm", "in"}, [3]string{"mm", "in", "mm"}},
	Distance:           {"distance", "a", "m", "100 m or 330 ft", []string{"m", "ft"}, [3]string{"m", "ft", "m"}},
	Area:               {"area", "an", "m^2", "1257 mm² or 1.95 in²", []string{"mm²", "in²"}, [3]string{"mm²", "in²", "mm²"}},
	Volume:             {"volume", "a", "m^3", "55 L or 14.5 US gal", []string{"L", "cm³", "in³"}, [3]string{"L", "US gal", "L"}},
	Mass:               {"mass", "a", "kg", "426 kg or 939 lb", []string{"kg", "lb"}, [3]string{"kg", "lb", "kg"}},
	Density:            {"density", "a", "kg/m^3", "0.745 kg/L", []string{"kg/L", "kg/m³"}, [3]string{"kg/L", "lb/US gal", "kg/L"}},
	Inertia:            {"moment of inertia", "a", "kg·m^2", "470 kg·m² or 11200 lb·ft²", []string{"kg·m²", "lb·ft²"}, [3]string{"kg·m²", "lb·ft²", "kg·m²"}},
	Force:              {"force", "a", "N", "450 N or 101 lbf", []string{"N", "kgf", "lbf"}, [3]string{"N", "lbf", "N"}},
	Torque:             {"torque", "a", "N·m", "110 N·m or 81 lbf·ft", []string{"N·m", "lbf·ft"}, [3]string{"N·m", "lbf·ft", "N·m"}},
	Stiffness:          {"stiffness", "a", "N/m", "45 N/mm or 257 lbf/in", []string{"N/mm", "kgf/mm", "lbf/in"}, [3]string{"N/mm", "lbf/in", "lbf/in"}},
	RotStiffness:       {"stiffness in rotation", "a", "N·m/rad", "520 N·m/deg or 384 lbf·ft/deg", []string{"N·m/deg", "N·m/rad", "lbf·ft/deg"}, [3]string{"N·m/deg", "lbf·ft/deg", "N·m/deg"}},
	CorneringStiffness: {"cornering stiffness", "a", "N/rad", "1100 N/deg or 247 lbf/deg", []string{"N/deg", "N/rad", "lbf/deg"}, [3]string{"N/deg", "lbf/deg", "N/deg"}},
	Damping:            {"damping rate", "a", "N·s/m", "1800 N·s/m or 10.3 lbf·s/in", []string{"N·s/m", "lbf·s/in"}, [3]string{"N·s/m", "lbf·s/in", "N·s/m"}},
	Pressure:           {"pressure", "a", "Pa", "2.3 bar or 33 psi", []string{"bar", "kPa", "psi"}, [3]string{"bar", "psi", "psi"}},
	SpeedDamper:        {"damper speed", "a", "m/s", "130 mm/s or 5.1 in/s", []string{"mm/s", "m/s", "in/s"}, [3]string{"mm/s", "in/s", "mm/s"}},
	SpeedRoad:          {"road speed", "a", "m/s", "60 km/h or 37 mph", []string{"km/h", "mph"}, [3]string{"km/h", "mph", "km/h"}},
	Acceleration:       {"acceleration", "an", "m/s^2", "3.5 m/s² or 0.36 g", []string{"m/s²", "g"}, [3]string{"m/s²", "g", "m/s²"}},
	Angle:              {"angle", "an", "rad", "2.5 deg", []string{"deg", "rad"}, [3]string{"deg", "deg", "deg"}},
	RollGradient:       {"roll gradient", "a", "rad/(m/s^2)", "4.8 deg/g", []string{"deg/g"}, [3]string{"deg/g", "deg/g", "deg/g"}},
	AnglePerForce:      {"angle per force", "an", "rad/N", "0.06 deg/kN", []string{"deg/kN"}, [3]string{"deg/kN", "deg/(1000 lbf)", "deg/kN"}},
	Ratio:              {"ratio", "a", "1", "0.95 or 95 %", nil, [3]string{"", "", ""}},
	Share:              {"share", "a", "1", "58.4 %", []string{"%"}, [3]string{"%", "%", "%"}},
	Time:               {"time", "a", "s", "0.8 s or 15 min", []string{"s", "ms", "min"}, [3]string{"s", "s", "s"}},
	Frequency:          {"frequency", "a", "Hz", "1.42 Hz or 85 cycles/min", []string{"Hz", "cycles/min"}, [3]string{"Hz", "Hz", "Hz"}},
	Temperature:        {"temperature", "a", "degC", "20 °C or 68 °F", []string{"°C", "°F"}, [3]string{"°C", "°F", "°C"}},
	Energy:             {"energy", "an", "J", "85 J or 63 ft·lbf", []string{"J", "ft·lbf"}, [3]string{"J", "ft·lbf", "J"}},
	Power:              {"power", "a", "W", "120 W or 110 kW", []string{"W", "kW", "hp"}, [3]string{"W", "hp", "W"}},
	ThreadPitch:        {"thread pitch", "a", "m/turn", "1.5 mm/turn or 16 turns/in", []string{"mm/turn", "turns/in"}, [3]string{"mm/turn", "in/turn", "mm/turn"}},
	PerLength:          {"figure per length", "a", "1/m", "8e-4 1/mm", []string{"1/mm", "1/m", "1/in"}, [3]string{"1/mm", "1/in", "1/mm"}},
	PerDistance:        {"count per distance", "a", "1/m", "2.5 /km or 4 /mile", []string{"/km", "/mile"}, [3]string{"/km", "/mile", "/km"}},
	RoadRoughness:      {"road roughness", "a", "m^3", "64e-6 m³", []string{"m³", "cm³"}, [3]string{"×10⁻⁶ m³", "×10⁻⁶ m³", "×10⁻⁶ m³"}},
	VibrationDose:      {"vibration dose", "a", "m/s^1.75", "8.5 m/s^1.75", []string{"m/s^1.75"}, [3]string{"m/s^1.75", "m/s^1.75", "m/s^1.75"}},
	Count:              {"count", "a", "1", "9 or 9 clicks", nil, [3]string{"", "", ""}},
	Price:              {"price", "a", "currency", "1250 EUR", nil, [3]string{"", "", ""}},
}

func (k Kind) valid() bool { return int(k) < kinds }

func (k Kind) about() *about {
	if !k.valid() {
		return &about{name: "quantity", article: "a", si: "?", examples: "nothing"}
	}
	return &abouts[k]
}

// String is the kind's name in words: "stiffness".
func (k Kind) String() string { return k.about().name }

// SI is the unit values of this kind are kept in, in plain text: "N/m". For
// Temperature it is "degC", for Price "currency", for pure numbers "1".
func (k Kind) SI() string { return k.about().si }

// noun is the name with its article: "a stiffness".
func (k Kind) noun() string { return k.about().article + " " + k.about().name }
