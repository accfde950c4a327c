package jobfile

import (
	"fmt"

	"trunnion/chassis/figure"
	"trunnion/shop/quantity"
)

// Bands where none is typed. All are common practice, no source, but where
// said: a scale of ±0.1 to 0.2 % read to the kilogram, a tape read to the
// millimetre with care, purchasing practice for makers' lengths of ±1 to 2 mm
// and rates of ±2 to 5 %.
var (
	scaleReading  = read(quantity.Mass, "± 1 kg", "tol ± 2 %", "± 4 %")
	archHeight    = read(quantity.Length, "± 2 mm", "tol ± 10 mm", "± 10 mm")
	seatLength    = read(quantity.Length, "± 2 mm", "tol ± 3 mm", "± 6 mm")
	lengthOnCar   = read(quantity.Length, "± 1 mm", "tol ± 2 mm", "± 5 mm")
	springRate    = read(quantity.Stiffness, "± 2 %", "tol ± 5 %", "± 15 %")
	freeLength    = read(quantity.Length, "± 1 mm", "tol ± 3 mm", "± 10 mm")
	blockLength   = read(quantity.Length, "± 3 mm", "tol ± 3 mm", "± 12 %")
	dropLength    = read(quantity.Length, "± 8 mm", "± 8 mm", "± 10 mm")
	damperLength  = read(quantity.Length, "± 1 mm", "tol ± 2 mm", "± 10 mm")
	diameter      = read(quantity.Length, "± 0.1 mm", "tol ± 0.1 mm", "± 2 mm")
	gasForce      = read(quantity.Force, "± 10 %", "tol ± 20 %", "± 40 %")
	gasRate       = read(quantity.Stiffness, "± 20 %", "tol ± 20 %", "± 60 %")
	gasPressure   = read(quantity.Pressure, "± 5 %", "tol ± 10 %", "± 50 %")
	gasVolume     = read(quantity.Volume, "± 5 %", "tol ± 10 %", "± 30 %")
	gasExponent   = read(quantity.Ratio, "± 0.05", "tol ± 0.05", "± 0.15")
	stopLength    = read(quantity.Length, "± 1 mm", "tol ± 1 mm", "± 5 mm")
	packerLength  = read(quantity.Length, "± 0.5 mm", "tol ± 0.5 mm", "± 2 mm")
	tyreRate      = read(quantity.Stiffness, "± 12 %", "tol ± 10 %", "± 15 %")
	cornering     = read(quantity.CorneringStiffness, "± 10 %", "tol ± 10 %", "± 20 %")
	compliance    = read(quantity.AnglePerForce, "± 20 %", "tol ± 20 %", "± 60 %")
	liftArea      = read(quantity.Area, "± 10 %", "tol ± 10 %", "± 50 %")
	roadSpeed     = read(quantity.SpeedRoad, "± 2 %", "tol ± 2 %", "± 5 %")
	bushRate      = read(quantity.Stiffness, "± 20 %", "tol ± 20 %", "± 60 %")
	barRate       = read(quantity.Stiffness, "± 5 %", "tol ± 5 %", "± 15 %")
	linkRatio     = read(quantity.Ratio, "± 4 %", "tol ± 4 %", "± 15 %")
	endOfTravel   = read(quantity.Length, "± 3 mm", "tol ± 5 mm", "± 10 mm")
	planLength    = read(quantity.Length, "± 3 mm", "tol ± 5 mm", "± 20 mm")
	tapeLength    = read(quantity.Length, "± 5 %", "tol ± 2 %", "± 10 %")
	unsprungMass  = read(quantity.Mass, "± 5 kg", "tol ± 5 %", "± 35 %")
	hubHeight     = read(quantity.Length, "± 10 mm", "tol ± 10 mm", "± 20 mm")
	heightOver    = read(quantity.Length, "± 20 mm", "tol ± 20 mm", "± 40 mm")
	inertiaOf     = read(quantity.Inertia, "± 5 %", "tol ± 5 %", "± 20 %")
	kerbMass      = read(quantity.Mass, "± 1 %", "tol ± 3 %", "± 5 %")
	frontShare    = read(quantity.Share, "± 0.5 %", "tol ± 1 %", "± 1.5 %")
	forceShare    = read(quantity.Share, "± 2 %", "tol ± 5 %", "± 7 %")
	fittedCloser  = read(quantity.Length, "± 1 mm", "tol ± 2 mm", "± 5 mm")
	frictionForce = read(quantity.Force, "± 50 %", "tol ± 50 %", "± 60 %")
	mountRate     = read(quantity.Stiffness, "± 15 %", "tol ± 20 %", "± 40 %")
	mountRated    = read(quantity.Force, "± 20 %", "tol ± 20 %", "± 50 %")
	mountSlope    = read(quantity.Ratio, "± 20 %", "tol ± 20 %", "± 30 %")
	addedMass     = read(quantity.Mass, "± 1 kg", "tol ± 5 %", "± 20 %")
	stopLoss      = read(quantity.Share, "± 5 %", "tol ± 5 %", "± 10 %")
	stopDynamic   = read(quantity.Ratio, "± 15 %", "tol ± 15 %", "± 25 %")
	sectionWidth  = read(quantity.Length, "± 2 %", "tol ± 2 %", "± 4 %")
	tyrePressure  = read(quantity.Pressure, "± 0.05 bar", "tol ± 0.1 bar", "± 0.3 bar")
	tyreDiameter  = read(quantity.Length, "± 2 mm", "tol ± 3 mm", "± 8 mm")
	loadedRadius  = read(quantity.Length, "± 2 mm", "tol ± 3 mm", "± 6 mm")
	circumference = read(quantity.Length, "± 5 mm", "tol ± 1 %", "± 2 %")
	rollingMass   = read(quantity.Mass, "± 0.2 kg", "tol ± 5 %", "± 20 %")
	wheelOffset   = read(quantity.Length, "± 1 mm", "tol ± 1 mm", "± 5 mm")
	roomRound     = read(quantity.Length, "± 2 mm", "tol ± 3 mm", "± 5 mm")
	lockAngle     = read(quantity.Angle, "± 1 deg", "tol ± 1 deg", "± 6 deg")
	readsMore     = read(quantity.Share, "± 0.5 %", "tol ± 1 %", "± 3 %")
	turnsOfCoil   = read(quantity.Ratio, "± 5 %", "tol ± 3 %", "± 10 %")
	wireDiameter  = read(quantity.Length, "± 0.1 mm", "tol ± 0.1 mm", "± 0.3 mm")
	coilDiameter  = read(quantity.Length, "± 1 mm", "tol ± 1 mm", "± 3 mm")
	tableScale    = read(quantity.Ratio, "± 3 %", "tol ± 5 %", "± 35 %")
	readingBand   = &shape{form: value, kind: quantity.Length, band: true}
)

// read is a value that somebody measured unless it says otherwise, with the
// bands it gets when none is typed: measured, maker's, estimated.
func read(kind quantity.Kind, measured, makers, estimated string) *shape {
	s := &shape{form: value, kind: kind, origin: figure.Measured, bands: map[string]string{
		string(figure.Measured): measured, string(figure.Makers): makers, string(figure.Estimated): estimated,
	}}
	for _, b := range s.bands {
		if _, _, err := defaultBand(b, 1, kind); err != nil {
			panic(fmt.Sprintf("jobfile: the table of keys has the band %q: %v", b, err))
		}
	}
	return s
}

// chosen is a value that the workshop decides: it has no band unless one is
// typed.
func chosen(kind quantity.Kind) *shape {
	return &shape{form: value, kind: kind, origin: figure.Chosen}
}
