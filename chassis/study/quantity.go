package study

import (
	"math"

	"trunnion/chassis/car"
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/modes"
	"trunnion/chassis/travel"
)

// The numbers that are taken from every draw, per corner. Their order is the
// order of the columns.
const (
	qHeight = iota
	qLoad
	qToStop
	qToFirm
	qToHard
	qToSolid
	qToClosed
	qToArch
	qToBlock
	qToOpen
	qSolidBeforeArch
	qSolidBeforeBlock
	qGapOpen
	qStopShare
	qCatch
	qHangup
	qWheelRate
	qFrequency
	qFrequencyOnTyre
	qRatio
	qRise
	qSideLower
	perCorner
)

// cornerCodes are the register's codes of the numbers per corner.
var cornerCodes = [perCorner]string{
	"arch-height", "corner-load", "travel-to-stop", "travel-to-stop-firm", "travel-to-stop-hard",
	"travel-to-solid", "travel-to-closed", "travel-to-arch", "travel-to-block", "travel-to-open",
	"solid-before-arch", "solid-before-block", "spring-gap-open", "stop-share", "catch-speed", "hang-up",
	"wheel-rate", "corner-frequency", "corner-frequency-on-tyre", "damping-ratio", "body-height-change", "side-lower",
}

// The numbers taken from every draw for the car as a whole.
const (
	qSprung = iota
	qFront
	qLeft
	qCross
	qFrequencyRatio
	qRake
	qCrossOff
	perCar
)

var carCodes = [perCar]string{
	"sprung-mass", "front-share", "left-share", "cross-share-front-right-rear-left", "frequency-ratio", "rake-change", "cross-off-half",
}

// perCase is how many numbers one build in one load state gives.
const perCase = 4*perCorner + perCar

// measure takes all numbers of one case.
func (s *setup) measure(sys *equilibrium.System, st *equilibrium.State, arch *[4]float64, zero *[2]float64, into []float64) {
	var freq [2]float64
	onStop := false
	for i := range 4 {
		a := car.AxleOf(i)
		out := into[i*perCorner : (i+1)*perCorner]
		m := &sys.Corner[i]
		b := travel.New(sys, st, i)
		out[qHeight] = zero[a] - st.Travel[i]
		out[qLoad] = st.Load[i]
		out[qToStop] = b.ToStop
		out[qToFirm] = b.ToFirm
		out[qToHard] = b.ToHard
		out[qToSolid] = b.ToSolid
		out[qToClosed] = b.ToClosed
		out[qToArch] = arch[i] - st.Travel[i]
		out[qToBlock] = b.ToBlock
		out[qToOpen] = b.ToOpen
		out[qSolidBeforeArch] = arch[i] - b.Limits.Solid
		out[qSolidBeforeBlock] = b.Limits.Block - b.Limits.Solid
		out[qGapOpen] = b.GapOpen
		out[qStopShare] = b.StopShare
		out[qCatch] = b.CatchSpeed
		mass := sprungMass(sys, st, i)
		rate := st.Rate[i]
		out[qHangup] = m.Friction / rate
		out[qWheelRate] = rate
		if mass > 0 && rate > 0 {
			_, rd, _ := m.DamperTravel.At(st.Travel[i])
			out[qFrequency] = modes.Frequency(rate, mass)
			out[qFrequencyOnTyre] = modes.Frequency(modes.InSeries(rate, sys.TyreRate[i]), mass)
			out[qRatio] = modes.Ratio(m.Secant(s.opt.MainSpeed), rd, rate, mass)
			freq[a] += 0.5 * out[qFrequency]
		} else {
			out[qFrequency], out[qFrequencyOnTyre], out[qRatio] = math.NaN(), math.NaN(), math.NaN()
		}
		if m.Curve.Bump == nil {
			out[qRatio] = math.NaN()
		}
		out[qRise] = sys.RiseAt(st, i)
		out[qSideLower] = st.Travel[i] - st.Travel[i^1]
		onStop = onStop || b.StopShare > 0
	}
	out := into[4*perCorner:]
	total, front, left, cross, sprung := 0.0, 0.0, 0.0, 0.0, 0.0
	for i := range 4 {
		total += st.Load[i]
		sprung += st.Force[i]
		if i < 2 {
			front += st.Load[i]
		}
		if i&1 == 0 {
			left += st.Load[i]
		}
		if i == 1 || i == 2 {
			cross += st.Load[i]
		}
	}
	out[qRake] = st.Pitch
	out[qSprung] = sprung / equilibrium.Gravity
	out[qFront], out[qLeft], out[qCross] = front/total, left/total, cross/total
	out[qCrossOff] = math.Abs(cross/total - 0.5)
	out[qFrequencyRatio] = freq[1] / freq[0]
	if onStop {
		out[qFrequencyRatio] = math.NaN()
	}
}

// sprungMass is what a corner carries without what moves with the wheel [kg].
func sprungMass(sys *equilibrium.System, st *equilibrium.State, i int) float64 {
	return (st.Load[i] - sys.Unsprung[i]*equilibrium.Gravity) / equilibrium.Gravity
}

// SprungMass is what a corner carries at rest without what moves with the wheel [kg].
func (c *Case) SprungMass(i int) float64 { return sprungMass(&c.System, &c.State, i) }
