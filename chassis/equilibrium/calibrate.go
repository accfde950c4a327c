package equilibrium

import (
	"math"

	"trunnion/chassis/car"
	"trunnion/chassis/corner"
	"trunnion/chassis/figure"
	"trunnion/chassis/spread"
)

// Baseline is what the weighing says, whatever the old parts are: of the car with
// nobody aboard, whoever sat in it on the scales.
type Baseline struct {
	Travel [4]float64 // wheel travel [m]
	Tyre   [4]float64 // tyre deflection [m]
	Force  [4]float64 // suspension force at each wheel, bar and friction in [N]

	// Weighed is the load of each spring as it was on the scales, with all that was aboard. [N]
	Weighed [4]float64
	// Fitted is the mass that belongs to the build that was weighed, and is in Force.
	Fitted Weights
	// Emptied tells that something was aboard and was taken off.
	Emptied bool

	// Carried is the compression at which the old spring carries that load. [m]
	Carried [4]float64

	// Preload is what the readings and the parts that were fitted disagree by,
	// at the spring seat: positive when the old spring is longer or stiffer
	// than stated. It belongs to the old parts and stays with them. [m]
	Preload [4]float64
	// SeatLength is the spring stack's length in that state, measured or, where
	// it was not, inferred from load and old spring. [m]
	SeatLength [4]float64
	Inferred   [4]bool

	// Of that disagreement part is put down to the old spring's length (Longer)
	// and part to its rate (Stiffer, a factor): each in proportion to how far it
	// may be off.
	Longer  [4]float64 // at the spring seat [m]
	Stiffer [4]float64 // factor on the old spring's force [-]

	springs [4]*car.SpringSpec // that were on the car
	fitted  *corner.Design     // the build that was
}

// Carries reports whether a build has the very spring that was weighed at a
// corner: only then does their error go with it.
func (b *Baseline) Carries(ba *car.BuildCorner, corner int) bool {
	return ba.Spring != nil && ba.Spring == b.springs[corner]
}

// Hangup is the standardised friction at each corner, −1…1, in the state as
// weighed and in the state that is asked for.
type Hangup struct {
	Weighed, Rest [4]figure.Input
}

// NewHangup returns friction that holds each corner anywhere between its
// limits with equal chance.
func NewHangup() *Hangup {
	h := &Hangup{}
	for i := range 4 {
		h.Weighed[i] = figure.Input{Half: 1, Shape: figure.Limit, Origin: figure.Estimated, Path: "friction." + figure.CornerNames[i] + ".weighed"}
		h.Rest[i] = figure.Input{Half: 1, Shape: figure.Limit, Origin: figure.Estimated, Path: "friction." + figure.CornerNames[i] + ".rest"}
	}
	return h
}

// Calibrate reads the weighing: fitted is the design that was on the car.
//
//	S_i = g·(gain·L_i − m_u)      the suspension force at wheel i
//	e_i = x(F_needed) − x_stated  the old spring's error at its seat
//
// What was aboard is then taken off at its place, so that the baseline is the car's
// own; see unload.
//
// Source: own derivation.
func Calibrate(fitted *corner.Design, h *Hangup, d figure.Draw) Baseline {
	base := weigh(fitted, h, d, nil)
	if len(fitted.Car.Weighed.Aboard) > 0 {
		return unload(fitted, h, d, base)
	}
	return base
}

// weigh reads the scales with all that was aboard. Where the car stands without it
// is where bushes and bars are slack; nil means as weighed.
func weigh(fitted *corner.Design, h *Hangup, d figure.Draw, slack *slack) Baseline {
	c := fitted.Car
	base := Baseline{Fitted: Of(fitted.Build.Mass, d), fitted: fitted}
	for i := range 4 {
		base.springs[i] = fitted.Build.Corner[i].Spring
	}
	gain := c.Weighed.ScaleGain.At(d)
	for i := range 4 {
		load := gain * c.Weighed.Load[i].At(d) * Gravity
		m := fitted.Corner(i, d)
		w := m.MeasuredAt
		base.Travel[i] = w
		base.Tyre[i] = load / c.TyreRate(fitted.Build, i, d)
		base.Force[i] = load - c.UnsprungAt(fitted.Build, i, d)*Gravity
		m.BushZero = w
		if slack != nil {
			m.BushZero = slack.travel[i]
		}
		// What the spring must carry: everything the other parts do not.
		sh := m.At(w)
		others := sh.Gas + sh.Stop + sh.Metal + sh.Open + sh.Bush + h.Weighed[i].At(d)*m.Friction
		if slack != nil {
			others += slack.bar[i]
		}
		_, r, _ := m.SpringTravel.At(w)
		needed := (base.Force[i] - others) / r
		base.Weighed[i] = needed
		compression := m.Spring.Compression(needed)
		base.Carried[i] = compression
		s, _, _ := m.SpringTravel.At(w)
		base.Inferred[i] = !c.Weighed.SpringLength[i].Known()
		if base.Inferred[i] {
			base.SeatLength[i] = m.Spring.StackFree() - compression
		} else {
			base.SeatLength[i] = c.Weighed.SpringLength[i].At(d)
			base.Preload[i] = compression - (m.Compressed0 + s)
			base.Longer[i], base.Stiffer[i] = split(fitted, i, compression, base.Preload[i])
			continue
		}
		base.Stiffer[i] = 1
	}
	shareOutSeats(&base)
	return base
}

// sag is how much shorter than stated a spring in service may be, as a share
// of its free length, as a 95 % half-width: common practice, no source.
const sag = 0.01

// split shares what weighing and old spring disagree by between its length and
// its rate, in proportion to the variance each puts into the compression: the
// inverse-variance mean of the two ways to know it, F/k and free − seat.
//
//	α = var(F/k)/(var(F/k) + var(length)),   longer = (1 − α)·e,   stiffer = x_F/(x_F − α·e)
//
// A disagreement that neither is likely to explain is length: sag.
func split(fitted *corner.Design, i int, compression, e float64) (longer, stiffer float64) {
	sp := fitted.Build.Corner[i].Spring
	if sp == nil || !sp.Free.Known() || compression <= 0 {
		return e, 1
	}
	rate := rateOf(sp)
	byRate := 0.0
	if rate.Value > 0 && rate.Half > 0 {
		byRate = compression * deviation(rate) / rate.Value
	}
	length := &fitted.Car.Weighed.SpringLength[i]
	byLength := math.Hypot(math.Hypot(deviation(&sp.Free), deviation(length)), sag*sp.Free.Value/spread.Normal95)
	alpha := byRate * byRate / (byRate*byRate + byLength*byLength)
	// More than three standard deviations of both together is not scatter.
	if most := 3 * math.Hypot(byRate, byLength); math.Abs(e) > most {
		alpha *= most / math.Abs(e)
	}
	return (1 - alpha) * e, compression / (compression - alpha*e)
}

// rateOf is the input that a spring's rate rests on: its rate, or the factor on its
// table.
func rateOf(sp *car.SpringSpec) *figure.Input {
	if len(sp.Table) > 0 {
		return &sp.Scale
	}
	return &sp.Rate
}

// shareOutSeats splits the left-right difference of two inferred seat lengths
// between the seats, which belong to the car, and the old springs, which do
// not. Both are given the same prior scatter between sides, so half goes to
// each: common practice, no source.
func shareOutSeats(base *Baseline) {
	for a := range 2 {
		l, r := 2*a, 2*a+1
		if !base.Inferred[l] || !base.Inferred[r] {
			continue
		}
		quarter := (base.SeatLength[l] - base.SeatLength[r]) / 4
		base.SeatLength[l] -= quarter
		base.SeatLength[r] += quarter
		base.Preload[l] -= quarter
		base.Preload[r] += quarter
		base.Longer[l], base.Longer[r] = base.Preload[l], base.Preload[r]
	}
}
