package dyno

import (
	"math"

	"trunnion/chassis/spread"
)

// Static is what a damper pushes with apart from its damping, and what it was found
// from.
type Static struct {
	Gas      Band // push-out in the middle of the stroke [N]
	Rate     Band // its increase with travel [N/m]
	Friction Band // of the seals, against the motion [N]

	GasFrom, FrictionFrom Found
	RateKnown             bool // from a slow or a gas run; a loop's own holds its hysteresis too
	Spikes                int  // readings left out because they stand far from the others
}

// Found says where a force came from.
type Found string

// Where gas and friction come from.
const (
	FoundNowhere Found = "unknown"  // nothing in the runs shows it, nobody said it
	FoundGiven   Found = "given"    // by whoever read the file
	FoundTaken   Found = "removed"  // whoever wrote the file took it off already
	FoundLeft    Found = "left-in"  // it stays in the curves
	FoundGasRun  Found = "gas-run"  // held still at each position
	FoundSlowRun Found = "slow-run" // moved slowly
	FoundLoops   Found = "loops"    // where the slowest loops reverse
)

// low is the share of a loop's peak speed below which its readings say what gas and
// friction are, and end the share below which the direction is not certain. Chosen.
const low, end = 0.6, 0.02

// bare fits gas and friction to the slow part of a loop:
//
//	F = g + k·x + f·sgn(v) + a_b·v₊ + b_b·v₊² + a_r·v₋ + b_r·v₋²
//
// x from the middle of the stroke, v₊ and v₋ the speed in bump and in rebound. What
// hysteresis there is has the phase of x and goes into k. The half-widths hold the
// scatter, and how far the answer moves when cubic terms are added: a damper whose
// force rises within the first millimetres per second is not told from friction.
//
// Source: derived here.
func bare(r *Run) (gas, rate, friction Band, spikes int, ok bool) {
	up, down := extremes(r.Velocity)
	high, deep := extremes(r.Position)
	middle := 0.5 * (high + deep)
	peak := math.Min(up, -down)
	var rows, wider [][]float64
	var y []float64
	for i, v := range r.Velocity {
		if a := math.Abs(v); a > low*peak || a < end*peak {
			continue
		}
		b, c := math.Max(v, 0)/peak, math.Max(-v, 0)/peak
		row := []float64{1, r.Position[i] - middle, math.Copysign(1, v), b, b * b, c, c * c}
		rows = append(rows, row)
		wider = append(wider, append(row[:len(row):len(row)], b*b*b, c*c*c))
		y = append(y, r.Force[i])
	}
	if len(rows) < leastSamples {
		return gas, rate, friction, 0, false
	}
	fit, ok := regress(rows, y)
	if !ok {
		return gas, rate, friction, 0, false
	}
	band := func(j int) Band { return Band{fit.coefficients[j], fit.half[j]} }
	gas, rate, friction = band(0), band(1), band(2)
	bend := bent(gas.Value, rate.Value, rows)
	gas = Band{gas.Value - bend, math.Hypot(gas.Half, bend)}
	if cubic, ok := regress(wider, y); ok {
		gas.Half = math.Hypot(gas.Half, cubic.coefficients[0]-gas.Value)
		friction.Half = math.Hypot(friction.Half, cubic.coefficients[2]-friction.Value)
	}
	return gas, rate, friction, fit.dropped, true
}

// bent is how much more the gas pushes where a slow loop is read, near the ends of the
// stroke, than a straight line has it in the middle [N]:
//
//	½·F"·x²,   F" = (n + 1)/n·k²/F   of the polytropic law, with the gauge pressure for the absolute, n = 1.25
//
// The band takes all of it in, because pressure and exponent are not known. rows hold
// x in their second column.
//
// Source: derived here.
func bent(gas, rate float64, rows [][]float64) float64 {
	if gas <= 0 || rate <= 0 {
		return 0
	}
	squares := 0.0
	for _, row := range rows {
		squares += row[1] * row[1] / float64(len(rows))
	}
	return math.Min(0.5*1.8*rate*rate/gas*squares, 0.1*gas)
}

// still fits gas, its rate and, where the damper moves, what changes sign with the
// motion.
func still(r *Run) (gas, rate, reversal Band, speed float64, spikes int, ok bool) {
	high, deep := extremes(r.Position)
	middle := 0.5 * (high + deep)
	var rows [][]float64
	var y, speeds []float64
	up, down := 0.0, 0.0
	if len(r.Velocity) > 0 {
		up, down = extremes(r.Velocity)
	}
	both := !r.Gas && up > 0 && down < 0
	for i := range r.Force {
		row := []float64{1}
		if x := r.Position[i] - middle; high > deep {
			row = append(row, x, x*x)
		}
		if both {
			v := r.Velocity[i]
			if math.Abs(v) < 0.2*math.Min(up, -down) {
				continue // reversing
			}
			speeds = append(speeds, math.Abs(v))
			row = append(row, math.Copysign(1, v))
		}
		rows, y = append(rows, row), append(y, r.Force[i])
	}
	fit, ok := regress(rows, y)
	if !ok {
		return gas, rate, reversal, 0, 0, false
	}
	at := func(j int) Band { return Band{fit.coefficients[j], fit.half[j]} }
	gas = at(0)
	if high > deep {
		rate = at(1)
	}
	if both {
		reversal = at(len(fit.coefficients) - 1)
	}
	return gas, rate, reversal, median(speeds), fit.dropped, true
}

// pooled is the mean of independent figures by the inverse of their variance. Where
// they lie further apart than their bands say, the band is widened in proportion.
//
// Source: the ratio of R. T. Birge, Phys. Rev. 40 (1932) 207.
func pooled(list []Band) Band {
	if len(list) == 1 {
		return list[0]
	}
	sum, weight := 0.0, 0.0
	for _, b := range list {
		w := 1 / math.Max(b.Half*b.Half, 1e-12)
		sum, weight = sum+w*b.Value, weight+w
	}
	mean := sum / weight
	chi := 0.0
	for _, b := range list {
		d := (b.Value - mean) * spread.Normal95
		chi += d * d / math.Max(b.Half*b.Half, 1e-12)
	}
	return Band{mean, math.Sqrt(math.Max(1, chi/float64(len(list)-1)) / weight)}
}
