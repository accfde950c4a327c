package roadtest

import "math"

// When a mistake is named. Chosen, and held by the recovery study.
const (
	clearly   = 0.7  // nats a line: the power of what is not explained falls by half
	gainFar   = 1.5  // times what a sensor is usually right to, from which a wrong gain is looked for
	gainNamed = 0.04 // and named: a sensor set by two points may be off by less [-]
	zeroWorth = 5e-3 // [m]
	looked    = 60.0 // of the log [s]
	buildFar  = 0.15 // makers' springs are within 5 %, common practice [-]
)

// arrangement is which channel is taken for which corner, and with which sign.
type arrangement struct {
	channel [4]int
	sign    [4]float64
	wrong   Wrong
}

// arrangements are those that are tried, the log's own first.
func arrangements() []arrangement {
	plain := arrangement{channel: [4]int{0, 1, 2, 3}, sign: [4]float64{1, 1, 1, 1}}
	out := []arrangement{plain}
	all := plain
	all.sign, all.wrong = [4]float64{-1, -1, -1, -1}, Wrong{Mistake: WrongSign, Corner: -1}
	out = append(out, all)
	for i := range 4 {
		one := plain
		one.sign[i], one.wrong = -1, Wrong{Mistake: WrongSign, Corner: i}
		out = append(out, one)
		for j := range i {
			swap := plain
			swap.channel[i], swap.channel[j] = j, i
			swap.wrong = Wrong{Mistake: Swapped, Corner: j, Other: i}
			out = append(out, swap)
		}
	}
	return out
}

// misread finds channels that were taken for others or with the wrong sign: the rear
// wheels meet the front wheels' road only where each channel is what it is said to be.
func (s *solver) misread() *Wrong {
	least, plain, best := math.Inf(1), 0.0, arrangement{}
	for k, a := range arrangements() {
		m := s.mismatch(&a)
		if k == 0 {
			plain = m
		}
		if m < least {
			least, best = m, a
		}
	}
	if best.wrong.Mistake == "" || plain-least < clearly && best.wrong.Corner >= 0 || plain-least < clearly/10 {
		return nil
	}
	w := best.wrong
	return &w
}

// mismatch is the mean logarithm of how much of the road of both axles is not the same.
func (s *solver) mismatch(a *arrangement) float64 {
	sum, n, time := 0.0, 0, 0.0
	var at shift
	g := geometryOf(&s.build.Car, &at)
	for _, p := range s.pieces {
		if time > looked {
			break
		}
		time += float64(p.n) / p.rate
		q := *p
		q.bases = [4]*basis{}
		for i := range 4 {
			q.travel[i], q.rates[i] = turned(p.travel[a.channel[i]], a.sign[i]), turned(p.rates[a.channel[i]], a.sign[i])
		}
		r := q.recover(&g, s.moved(&q, &at))
		e := q.residuals(&r, &at)
		for side := range 2 {
			both := q.sizes(&r, side)
			for k := 0; k+smoothBins <= len(e[side]); k += smoothBins {
				left, road := 0.0, 0.0
				for j := k; j < k+smoothBins; j++ {
					left += real(e[side][j])*real(e[side][j]) + imag(e[side][j])*imag(e[side][j])
					road += both[j]
				}
				if road > 0 && left > 0 {
					sum += math.Log(left / road)
					n++
				}
			}
		}
	}
	return sum / float64(max(n, 1))
}

// sizes are the powers of both axles' roads, line by line, as residuals have them.
func (p *piece) sizes(r *recovered, side int) []float64 {
	out := make([]float64, p.to-p.from)
	work := make([]float64, p.inner[1]-p.inner[0])
	for _, i := range []int{side, 2 + side} {
		z := p.series(r.road[i])
		for k := range work {
			work[k] = z[p.inner[0]+k] * p.taper[k]
		}
		for k, v := range p.eft.Coefficients(nil, work)[p.from:p.to] {
			out[k] += real(v)*real(v) + imag(v)*imag(v)
		}
	}
	return out
}

func turned(values []float64, sign float64) []float64 {
	if sign > 0 {
		return values
	}
	out := make([]float64, len(values))
	for k, v := range values {
		out[k] = -v
	}
	return out
}

// gains are the travel channels that a fit moves further from the others than a sensor is
// off. All four together are held by what a sensor usually is: a log scaled as a whole
// is nearly that of the same car on a rougher road.
func (f *Fit) gains() (far [4]bool, any bool) {
	var all []float64
	for _, e := range f.Estimates {
		if e.Name == TravelGain {
			all = append(all, e.Value)
		}
	}
	middle := median(all)
	for _, e := range f.Estimates {
		if e.Name == TravelGain && math.Abs(e.Value-middle) > gainFar*known[TravelGain] {
			far[e.Corner], any = true, true
		}
	}
	return far, any
}

// otherBuild reports a log that is of another build: all four springs differ the same way
// by more than any spring is off.
func (f *Fit) otherBuild() *Wrong {
	sum, n, up := 0.0, 0, 0
	for _, e := range f.Estimates {
		if e.Name == SpringRate {
			sum += e.Value / 4
			n++
			if e.Value > 0 {
				up++
			}
		}
	}
	if n < 4 || math.Abs(sum) < buildFar || up != 0 && up != 4 {
		return nil
	}
	return &Wrong{Mistake: WrongBuild, Corner: -1, Other: -1, Value: sum}
}

// zeros names channels whose mean is not where the build drives.
func (o *Outcome) zeros() {
	for _, f := range o.Figures {
		if f.Code == MeanTravel && math.Abs(f.Measured-f.Refit) > zeroWorth {
			o.Wrong = append(o.Wrong, Wrong{Mistake: WrongZero, Corner: f.Corner, Other: -1, Value: f.Measured - f.Refit, Half: f.High - f.Predicted})
		}
	}
}
