package equilibrium

import (
	"math"

	"trunnion/chassis/car"
	"trunnion/chassis/corner"
	"trunnion/chassis/figure"
	"trunnion/chassis/numeric"
	"trunnion/chassis/spread"
)

// seatScatter is how far a new build's seats may stand from where parts and
// lengths put them: what readings after fitting are weighed against. Common
// practice, no source. One standard deviation. [m]
const seatScatter = 5e-3

// unread is a standard deviation that gives a missing reading no weight. [m]
const unread = 1e3

// condition corrects each spring seat by what readings after fitting say: the
// most probable four corrections given heights and loads with their errors and
// the friction that may have held the car when they were taken.
//
//	min over e:  Σ ((H_i(e) − H_i)/σ_H)² + Σ ((L_i(e) − L_i)/σ_L)² + Σ (e_i/σ_e)²
//
// Source: linear least squares with a prior, e.g. A. Tarantola, Inverse Problem
// Theory, 2005 (from memory).
func (s *System) condition(ds *corner.Design, d figure.Draw) error {
	r := ds.Build.Readings
	free := *s
	if !r.BarsOn {
		free = s.WithoutBars()
	}
	for i := range 4 {
		free.Stuck[i] = 0
	}
	aboard := Of(r.Aboard, d)
	var e [4]float64
	var guess *State
	for range 4 {
		at, err := free.Solve(aboard, guess)
		if err != nil {
			return err
		}
		guess = &at
		var normal [7][7]float64
		var right [7]float64
		var slopes [4]State
		const h = 1e-4
		for j := range 4 {
			moved := free
			moved.Corner[j].Compressed0 += h
			if slopes[j], err = moved.Solve(aboard, guess); err != nil {
				return err
			}
			normal[j][j] = 1 / (seatScatter * seatScatter)
			right[j] = -e[j] / (seatScatter * seatScatter)
		}
		for i := range 4 {
			a := car.AxleOf(i)
			sd := math.Hypot(deviation(&r.Height[i]), free.Corner[i].Friction/at.Rate[i]/math.Sqrt(3))
			if !r.Height[i].Known() {
				sd = unread
			}
			miss := r.Height[i].At(d) - (ds.Car.ZeroHeight[a].At(d) - at.Travel[i])
			addRow(&normal, &right, func(j int) float64 { return -(slopes[j].Travel[i] - at.Travel[i]) / h }, miss, sd)
			if r.Load[i].Known() {
				miss := r.Load[i].At(d)*Gravity - at.Load[i]
				addRow(&normal, &right, func(j int) float64 { return (slopes[j].Load[i] - at.Load[i]) / h }, miss, math.Max(1, deviation(&r.Load[i])*Gravity))
			}
		}
		for k := 4; k < 7; k++ {
			normal[k][k] = 1
		}
		if !numeric.Solve7(&normal, &right) {
			break
		}
		most := 0.0
		for j := range 4 {
			e[j] += right[j]
			free.Corner[j].Compressed0 += right[j]
			s.Corner[j].Compressed0 += right[j]
			s.SeatRead[j] += right[j]
			most = math.Max(most, math.Abs(right[j]))
		}
		if most < 1e-6 {
			break
		}
	}
	return nil
}

// carryReadings moves the seats by what the readings corrected when they were taken,
// of seats that were turned since: the part is as it was found, wherever its seat is
// turned to. Heights that are wanted are then met by the car that was read.
func (s *System) carryReadings(ds *corner.Design, base *Baseline, h *Hangup, d figure.Draw) error {
	r := ds.Build.Readings
	if r == nil || r.Seats == nil {
		return nil
	}
	read := *ds
	read.Build = ds.Build.In(r.Seats)
	then, err := NewSystem(&read, base, h, d)
	if err != nil {
		return err
	}
	s.SeatRead = then.SeatRead
	for i := range 4 {
		s.Corner[i].Compressed0 += s.SeatRead[i]
	}
	return nil
}

func deviation(in *figure.Input) float64 {
	switch in.Shape {
	case figure.Normal95:
		return in.Half / spread.Normal95
	case figure.Limit:
		return in.Half / math.Sqrt(3)
	case figure.Exact:
	}
	return 1e-6
}

func addRow(normal *[7][7]float64, right *[7]float64, slope func(int) float64, miss, sd float64) {
	w := 1 / (sd * sd)
	for j := range 4 {
		right[j] += w * slope(j) * miss
		for k := range 4 {
			normal[j][k] += w * slope(j) * slope(k)
		}
	}
}
