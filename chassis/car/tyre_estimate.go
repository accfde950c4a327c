package car

import (
	"math"
	"strings"

	"trunnion/chassis/part"
)

// rolls keeps what stood on the road as the car was weighed.
func (f *filler) rolls() {
	for i := range 4 {
		f.car.Weighed.Rolls[i] = Rolling{}
		if f.fitted != nil {
			f.car.Weighed.Rolls[i] = f.fitted.onRoad(i)
		}
	}
}

// pressures estimates at what pressure the car's tyre rates hold, where a build sets
// another.
func (f *filler) pressures(builds []*Build) {
	for _, b := range builds {
		for i := range 4 {
			if b.Setup.Pressure[i].Known() {
				f.put(&f.car.Axle[AxleOf(i)].Tyre.Pressure, "car."+AxleNames[AxleOf(i)]+".tyre.pressure", usualPressure, 0.3e5, pressureBasis)
			}
		}
	}
}

// usualPressure of a car tyre, common practice, no source [Pa].
const usualPressure = 2.3e5

const pressureBasis = "2.3 ± 0.3 × 10⁵ Pa, an ordinary car: common practice, no source"

// Masses of a tyre per width and diameter, and of a cast wheel per rim width and
// diameter: common practice, no source. [kg/m2]
const tyreMass, wheelMass = 69, 124

// tyre fills what nobody said of a corner's tyre and wheel.
func (f *filler) tyre(p *BuildCorner) {
	t, w := p.Tyre, p.Wheel
	if w != nil {
		f.wheel(w, t)
	}
	if t == nil {
		return
	}
	path := partPath("tyres", t.ID) + "."
	if said := len(f.list); strings.HasPrefix(t.ID, "car.") {
		// It stands with the car by its sidewall alone: what is estimated of it has no key.
		defer func() { f.list = f.list[:said] }()
	}
	f.put(&t.Pressure, path+"pressure", usualPressure, 0.3e5, pressureBasis)
	sized := t.Width.Known() && t.Aspect.Known() && t.Rim.Known()
	if sized {
		width, aspect, rim := t.Width.Value, t.Aspect.Value, t.Rim.Value
		f.put(&t.Diameter, path+"diameter", part.TyreDiameter(width, aspect, rim), 0.02*2*width*aspect,
			"as marked: rim and two section heights, ± 2 % of these: UN Regulation 30, 6.1.2; it lets a new tyre be 3 % of them smaller or 4 % greater, the band is common practice, no source")
		rate := part.RadialRate(t.Pressure.Value, width, 100*aspect, rim)
		f.put(&t.Rate, path+"rate", rate, 0.15*rate,
			"from the sidewall and the pressure, ± 15 %: T. B. Rhyne, Tire Science and Technology 33 (2005), coefficients from memory")
		on, how := part.MeasuringRim(width, aspect), "the rim its size is measured on"
		if w != nil && w.Width.Known() {
			on, how = w.Width.Value, "its rim"
		}
		section := part.SectionOn(width, aspect, on)
		f.put(&t.Section, path+"section", section, 0.02*section,
			"as marked, on "+how+", ± 2 %: UN Regulation 30, 6.1.1; the band is common practice, no source")
	}
	f.put(&t.Rate, path+"rate", 220e3, 0.25*220e3, "an ordinary car tyre, ± 25 %: common practice, no source")
	if t.LoadedRadius.Known() {
		mean := 0.0
		for _, load := range f.car.EmptyLoads() {
			mean += load / 4
		}
		f.put(&t.LoadedAt, path+"loaded_at", mean, 0.15*mean, "the mean of the car's corners, ± 15 %: common practice, no source")
	}
	if d := &t.Diameter; d.Known() {
		f.put(&t.Circumference, path+"circumference", part.RollingCircumference(d.Value), 0.01*part.RollingCircumference(d.Value),
			"3.05 times the diameter, ± 1 %: ETRTO Standards Manual, from memory; the band is common practice, no source")
		if sized {
			mass := tyreMass * t.Width.Value * d.Value
			f.put(&t.Mass, path+"mass", mass, 0.2*mass, "69 kg per square metre of width times diameter, ± 20 %: common practice, no source")
		}
	}
}

func (f *filler) wheel(w *WheelSpec, t *TyreSpec) {
	path := partPath("wheels", w.ID) + "."
	if t != nil && t.Rim.Known() {
		f.put(&w.Diameter, path+"diameter", t.Rim.Value, 0, "the rim that stands on its tyre")
		if t.Width.Known() && t.Aspect.Known() {
			f.put(&w.Width, path+"width", part.MeasuringRim(t.Width.Value, t.Aspect.Value), 0.0127, "the rim its tyre's size is measured on, a step either way: ISO 4000-1, from memory")
		}
	}
	if w.Width.Known() && w.Diameter.Known() {
		mass := wheelMass * w.Width.Value * w.Diameter.Value
		f.put(&w.Mass, path+"mass", mass, 0.25*mass, "a cast wheel, 124 kg per square metre of width times diameter, ± 25 %: common practice, no source")
	}
}

// clearance fills the angle of full lock where something is judged by it.
func (f *filler) clearance(a int) {
	if k := &f.car.Axle[a].Clearance; k.Liner.Known() && a == Front {
		f.put(&k.Lock, "car."+AxleNames[a]+".clearance.lock", 35*math.Pi/180, 6*math.Pi/180, "0.61 ± 0.10 rad at full lock: common practice, no source")
	}
}

// speedometer estimates how much more it shows, where a build rolls farther in a turn.
func (f *filler) speedometer(builds []*Build) {
	for _, b := range builds {
		for i := range 4 {
			if f.car.Retyred(b, i) {
				f.put(&f.car.Speedometer, "car.speedometer", 0.035, 0.035,
					"0 to 7 % more than driven: UN Regulation 39 lets none show less, nor more than a tenth and a little over; the usual is common practice, no source")
				return
			}
		}
	}
}
