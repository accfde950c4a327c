package jobfile

import (
	"strings"

	"trunnion/chassis/car"
	"trunnion/shop/quantity"
)

// kindOf is how an SI unit is shown in a fault.
var kindOf = map[string]quantity.Kind{
	"rad": quantity.Angle,
	"m":   quantity.Length, "N/m": quantity.Stiffness, "kg": quantity.Mass, "N": quantity.Force, "Pa": quantity.Pressure,
	"-": quantity.Ratio, "N/rad": quantity.CorneringStiffness, "rad/N": quantity.AnglePerForce, "m^2": quantity.Area, "road m/s": quantity.SpeedRoad, "road m": quantity.Distance, "m/s": quantity.SpeedDamper, "m/turn": quantity.ThreadPitch, "kg·m^2": quantity.Inertia, "share": quantity.Share,
}

// slips are the sentences of what probably happened.
var slips = map[car.Slip]string{
	car.Pounds:           "is it in lb?",
	car.PoundsOnScales:   "the scales seem to have shown lb",
	car.PoundsOrAxle:     "is this a load in lb, or of a whole axle?",
	car.WholeAxle:        "enter it for one wheel, not for the axle",
	car.KilogramForce:    "was it kgf? 1 kgf/mm is 9.81 N/mm",
	car.ImperialRate:     "was it lbf/in? 1 lbf/in is 0.175 N/mm",
	car.PoundsPressure:   "was it psi? 14.5 psi are 1 bar",
	car.PerFlat:          "was it mm per flat of the collar?",
	car.FromTheFloor:     "enter the hub-to-arch height, not floor to arch",
	car.LengthForStroke:  "was a length taken for the stroke?",
	car.LengthForRod:     "was a length taken for the rod that shows?",
	car.WheelRateForTyre: "was a wheel rate taken for the tyre's?",
	car.TurnedOver:       "it is part over wheel; was it entered the other way up?",
	car.StrutNearOne:     "a strut's is near 1; was it taken at the spring of another suspension?",
	car.PackerTakes:      "a packer takes room, it gives none",
	car.OtherUnit:        "was it mm/s or in/s?",
	car.MetresPerSecond:  "was it m/s?",
	car.Exchanged:        "were bump and rebound exchanged?",
	car.OtherForce:       "was it kgf or lbf? 1 kgf is 9.81 N, 1 lbf is 4.45 N",
}

// lineOf is the line of what stands at a path, or of the nearest thing it
// would stand in.
func (e *entry) lineOf(path string) int {
	line := 0
	for e != nil {
		line = e.line
		var next *entry
		best := 0
		for name, sub := range e.under {
			after, ok := strings.CutPrefix(path, name)
			if ok && len(name) > best && (after == "" || after[0] == '.' || after[0] == '[') {
				next, best = sub, len(name)
			}
		}
		path = strings.TrimPrefix(path[best:], ".")
		if index, rest, ok := cutIndex(path); ok && next != nil && index < len(next.items) {
			next, path = next.items[index], rest
		}
		e = next
	}
	return line
}

// problems words what the physics found, in trade units.
func (w *walker) problems(list []car.Problem, top *entry) {
	for _, p := range list {
		if at := top.lineOf(p.Path); at > 0 {
			p.Line = at
		}
		kind := Warn
		if p.Refuse {
			kind = Refuse
		}
		want := Phrase(p.Want)
		if sentence := slips[p.Slip]; sentence != "" {
			want += "; " + sentence
		}
		w.add(Fault{Line: p.Line, Path: p.Path, Got: Phrase(p.Got), Want: want, Kind: kind})
	}
}

// Phrase words what the physics found wrong, amounts as they were typed or in
// metric trade units.
func Phrase(p car.Phrase) string {
	out := p.Text
	for _, a := range p.Amounts {
		shown := a.Typed
		if shown == "" {
			shown = quantity.Format(a.Value, kindOf[a.Unit], quantity.Metric, quantity.Auto)
		}
		out = strings.Replace(out, "{}", short(shown), 1)
	}
	return out
}
