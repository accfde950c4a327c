package car

import "math"

var (
	tyreWidths     = span{0.1, 0.135, 0.335, 0.45, "m", none, none}
	tyreAspects    = span{0.2, 0.3, 0.85, 1.05, "share", none, none}
	rimDiameters   = span{0.2, 0.3, 0.585, 0.7, "m", none, none}
	rimWidths      = span{0.07, 0.1, 0.32, 0.45, "m", none, none}
	tyreDiameters  = span{0.35, 0.48, 0.82, 1.1, "m", none, none}
	loadedRadii    = span{0.17, 0.23, 0.4, 0.55, "m", none, none}
	circumferences = span{1.05, 1.45, 2.5, 3.4, "m", none, none}
	tyrePressures  = span{0.5e5, 1.3e5, 3.6e5, 6e5, "Pa", none, PoundsPressure}
	rollingMasses  = span{2, 4, 22, 45, "kg", none, Pounds}
	wheelOffsets   = span{-0.15, -0.05, 0.075, 0.15, "m", none, none}
	clearances     = span{-0.05, 0, 0.08, 0.25, "m", none, none}
	lockAngles     = span{0, 0, 0.85, 1.2, "rad", none, none}
	speedReadings  = span{-0.2, -0.02, 0.12, 0.3, "share", none, none}
)

// rolling judges a corner's tyre and wheel.
func (k *checker) rolling(p *BuildCorner) {
	t, w := p.Tyre, p.Wheel
	if t != nil && k.once(t) {
		k.within(&t.Width, tyreWidths)
		k.within(&t.Aspect, tyreAspects)
		k.within(&t.Rim, rimDiameters)
		k.within(&t.Diameter, tyreDiameters)
		k.within(&t.LoadedRadius, loadedRadii)
		k.within(&t.LoadedAt, cornerLoads)
		k.within(&t.Rate, tyreRates)
		k.within(&t.Pressure, tyrePressures)
		k.within(&t.Mass, rollingMasses)
		k.within(&t.Section, tyreWidths)
		k.within(&t.Circumference, circumferences)
		k.within(&t.Cornering, cornerings)
		if r, d := &t.LoadedRadius, &t.Diameter; r.Known() && d.Known() && r.Value >= 0.5*d.Value {
			k.at(true, r, "m", say("it must be less than half the diameter, {}: it is hub to ground with the car's weight on it", of(d, "m")))
		}
	}
	if w != nil && k.once(w) {
		k.within(&w.Width, rimWidths)
		k.within(&w.Diameter, rimDiameters)
		k.within(&w.Offset, wheelOffsets)
		k.within(&w.Mass, rollingMasses)
	}
	// Seats of one nominal diameter differ by less than a millimetre.
	if t != nil && w != nil && t.Rim.Known() && w.Diameter.Known() && math.Abs(t.Rim.Value-w.Diameter.Value) > 0.005 {
		k.at(true, &w.Diameter, "m", say("its tyre is made for a rim of {}", si(t.Rim.Value, "m")))
	}
}

// roomRound looks at the room measured round an axle's tyres.
func (k *checker) roomRound(a int) {
	c := &k.car.Axle[a].Clearance
	k.within(&c.Lip, clearances)
	k.within(&c.Strut, clearances)
	k.within(&c.Liner, clearances)
	k.within(&c.Lock, lockAngles)
}
