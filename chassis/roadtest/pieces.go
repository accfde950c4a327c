package roadtest

import (
	"errors"
	"math"
)

// LevelAcceleration is the lateral or longitudinal acceleration up to which a car counts as going straight on: chosen,
// a body of usual roll stiffness leans by less than half a degree. [m/s²]
const LevelAcceleration = 1.0

// What a piece has to be. Chosen.
const (
	slowest    = 3.0   // [m/s]
	evenSpeed  = 0.10  // of the mean [-]
	shortest   = 12.0  // [s]
	longestRun = 60.0  // then another piece begins [s]
	bridging   = 0.05  // a gap up to it is bridged [s]
	most       = 300.0 // [s]
	fastest    = 500.0 // a log sampled faster is thinned [Hz]
)

// Errors of a log that gives no prediction.
var (
	ErrNoTravel = errors.New("travel of all four corners is needed to take the road out of a log")
	ErrNoSpeed  = errors.New("the log has no speed")
	ErrNoPiece  = errors.New("no part of the log is straight, at one speed and without gaps for twelve seconds")
	ErrZero     = errors.New("travel has its zero with the wheels hanging, and the build says no rebound end")
)

// drive is a log on equal steps, as the model takes it.
type drive struct {
	start, rate float64
	n           int
	travel      [4][]float64 // of the damper from rest [m]
	speed       []float64    // [m/s]
	level       []bool       // straight on
	lost        [4][]bool    // samples that were not logged
	more        []sensed
	legs        [4]leg
}

// driveOf lays the channels of a log on equal steps; a speed given stands in for a
// channel of it.
func driveOf(l *Log, b *Build, speed float64) (*drive, error) {
	d := &drive{rate: fastest}
	end := math.Inf(1)
	rest := b.Car.Rest
	for i := range 4 {
		c := l.Find(Travel, i)
		if c == nil || rest == nil {
			return nil, ErrNoTravel
		}
		d.rate = math.Min(d.rate, c.Rate)
		d.start, end = math.Max(d.start, c.Start), math.Min(end, c.Start+c.Duration())
		d.legs[i] = newLeg(&b.Car.Corners[i], rest[i])
	}
	v := l.Find(Speed, -1)
	if v == nil && !(speed > 0) {
		return nil, ErrNoSpeed
	}
	d.n = max(int((end-d.start)*d.rate), 0)
	for i := range 4 {
		c := *l.Find(Travel, i)
		c.Values = unspiked(c.Values)
		values := c.At(d.start, d.rate, d.n, bridging)
		d.lost[i] = make([]bool, d.n)
		for k, v := range c.At(d.start, d.rate, d.n, 0) {
			d.lost[i][k] = math.IsNaN(v)
		}
		if err := d.legs[i].fromRest(values, l); err != nil {
			return nil, err
		}
		d.travel[i] = values
	}
	if v != nil {
		d.speed = v.At(d.start, d.rate, d.n, 3)
	} else {
		d.speed = make([]float64, d.n)
		for k := range d.speed {
			d.speed[k] = speed
		}
	}
	d.level = make([]bool, d.n)
	for k := range d.level {
		d.level[k] = true
	}
	for _, role := range []Role{Lateral, Longitudinal} {
		if c := l.Find(role, -1); c != nil {
			for k, a := range meaned(c.At(d.start, d.rate, d.n, 3), int(d.rate/2)) {
				d.level[k] = d.level[k] && !(math.Abs(a) > LevelAcceleration)
			}
		}
	}
	for _, role := range []Role{Hub, Body} {
		for i := range 4 {
			if c := l.Find(role, i); c != nil && GradeOf(c).Mark != NotUsed && c.Rate >= d.rate*0.99 {
				one := *c
				one.Values = unspiked(c.Values)
				d.more = append(d.more, sensed{role, i, one.At(d.start, d.rate, d.n, bridging)})
			}
		}
	}
	return d, nil
}

// fromRest turns logged travel into that of the damper from rest, in place.
func (l *leg) fromRest(values []float64, log *Log) error {
	zero := 0.0
	if log.Zero == Hanging {
		if !(l.in.TopOut.Stiffness > 0 || l.in.TopOut.Force != nil) {
			return ErrZero
		}
		zero = l.in.TopOut.OpenTravel - l.start
		if log.AtWheel {
			zero = l.wheel(l.in.TopOut.OpenTravel) - l.rest
		}
	}
	for k, v := range values {
		v += zero
		if log.AtWheel && !math.IsNaN(v) {
			x, _, _ := l.travel(l.rest + v)
			v = x - l.start
		}
		values[k] = v
	}
	return nil
}

// ends reports travel past the rebound end or onto metal: forces there are too steep for
// any log, and what follows is left to the next piece.
func (l *leg) ends(travel float64) bool {
	x := l.start + travel
	return l.topOut(x) > 0 && x < l.in.TopOut.OpenTravel-1e-3 || l.in.MetalStiffness > 0 && x > l.in.MetalTravel
}

// unspiked returns values with spikes taken back to their neighbours.
func unspiked(values []float64) []float64 {
	out := append([]float64(nil), values...)
	for _, i := range spikes(values) {
		out[i] = (values[i-1] + values[i+1]) / 2
	}
	return out
}

// meaned is the running mean over 2·half + 1 samples.
func meaned(values []float64, half int) []float64 {
	out := make([]float64, len(values))
	sum, n := 0.0, 0
	put := func(k int, by float64) {
		if k >= 0 && k < len(values) && !math.IsNaN(values[k]) {
			sum += by * values[k]
			n += int(by)
		}
	}
	for k := -half; k < len(values); k++ {
		put(k+half, 1)
		put(k-half-1, -1)
		if k >= 0 {
			out[k] = sum / float64(max(n, 1))
		}
	}
	return out
}

// finer takes a series to a whole multiple of its rate, and everything over smoothAt out
// of it, without lag: a sinc under a Hann window of twelve samples either side.
func finer(values []float64, rate float64, times int) []float64 {
	const reach = 12
	cut := math.Min(smoothAt/rate, 0.5)
	out := make([]float64, len(values)*times)
	for phase := range times {
		f := float64(phase) / float64(times)
		var w [2*reach + 2]float64
		sum := 0.0
		for j := range w {
			x := float64(j-reach) - f
			if math.Abs(x) < reach+1 {
				w[j] = 0.5 + 0.5*math.Cos(math.Pi*x/(reach+1))
				if x != 0 {
					w[j] *= math.Sin(2*math.Pi*cut*x) / (2 * math.Pi * cut * x)
				}
			}
			sum += w[j]
		}
		for k := range values {
			total := 0.0
			for j := range w {
				total += w[j] * values[min(max(k+j-reach, 0), len(values)-1)]
			}
			out[k*times+phase] = total / sum
		}
	}
	return out
}

// slopes are the derivatives of a series by five points.
func slopes(values []float64, rate float64) []float64 {
	out := make([]float64, len(values))
	for k := 2; k+2 < len(values); k++ {
		out[k] = (8*(values[k+1]-values[k-1]) - (values[k+2] - values[k-2])) / 12 * rate
	}
	return out
}

// pieces cuts a drive where something is missing, where it turns, brakes or changes speed.
func (d *drive) pieces(wheelbase float64) []*piece {
	var out []*piece
	from, sum := 0, 0.0
	total := 0.0
	end := func(to int) {
		if float64(to-from)/d.rate >= shortest && total < most {
			if p := d.piece(from, to, wheelbase); p.long() {
				out = append(out, p)
				total += float64(to-from) / d.rate
			}
		}
		from, sum = to, 0
	}
	for k := range d.n {
		v := d.speed[k]
		bad := !(v > slowest) || !d.level[k]
		for i := range 4 {
			bad = bad || math.IsNaN(d.travel[i][k]) || d.legs[i].ends(d.travel[i][k])
		}
		for _, c := range d.more {
			bad = bad || math.IsNaN(c.values[k])
		}
		if bad {
			end(k)
			from = k + 1
			continue
		}
		if n := float64(k - from); n > 0 && math.Abs(v-sum/n) > evenSpeed*sum/n || n >= longestRun*d.rate {
			end(k)
		}
		sum += v
	}
	end(d.n)
	return out
}

func (d *drive) piece(from, to int, wheelbase float64) *piece {
	times := int(math.Ceil(fineRate/d.rate - 1e-6))
	p := &piece{start: d.start + float64(from)/d.rate, rate: d.rate * float64(times), n: (to - from) * times}
	p.logged = d.rate
	p.speed = finer(d.speed[from:to], d.rate, times)
	for i := range 4 {
		p.raw[i], p.lost[i] = d.travel[i][from:to], d.lost[i][from:to]
		p.travel[i] = finer(p.raw[i], d.rate, times)
		p.rates[i] = slopes(p.travel[i], p.rate)
	}
	for _, c := range d.more {
		p.more = append(p.more, sensed{c.role, c.corner, finer(c.values[from:to], d.rate, times)})
	}
	p.ready(wheelbase)
	return p
}

// stops reports which corners have a bump stop.
func (b *Build) stops() (out [4]bool) {
	for i := range b.Car.Corners {
		out[i] = b.Car.Corners[i].Stop.Force != nil
	}
	return out
}
