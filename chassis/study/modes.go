package study

import (
	"math"

	"trunnion/chassis/equilibrium"
	"trunnion/chassis/figure"
	"trunnion/chassis/modes"
	"trunnion/chassis/spread"
)

// modeDraws is how many draws stand behind the band of a mode: the band is
// taken as ±1.96 standard deviations, which 48 draws give to a tenth.
const modeDraws = 48

// modeValues reports the seven complex modes of a case.
func (s *setup) modeValues(a *Answer, b, l int, place figure.Place) {
	c := &a.Cases[b][l]
	nominal, err := s.modesOf(c, b, l, nil)
	place.At = "body"
	if err != nil {
		a.Values = append(a.Values, figure.Value{Code: "mode-frequency", Place: place, Tier: figure.ModesTier, Value: math.NaN(), State: figure.Unknown, Reason: "the modes could not be found"})
		return
	}
	frequencies, ratios := s.modeSpread(a, b, l, len(nominal))
	for k := range nominal {
		m := &nominal[k]
		place.Mode = m.Name
		f := figure.Value{Code: "mode-frequency", Place: place, Tier: figure.ModesTier, Value: m.Frequency, State: figure.OK}
		z := figure.Value{Code: "mode-damping", Place: place, Tier: figure.ModesTier, Value: m.Ratio, State: figure.OK}
		if m.Real {
			f.Warnings = append(f.Warnings, "real-poles")
			z.Warnings = append(z.Warnings, "real-poles")
		}
		if frequencies != nil {
			f.Low, f.High, f.HasBand = around(m.Frequency, frequencies[k])
			z.Low, z.High, z.HasBand = around(m.Ratio, ratios[k])
		}
		if !s.opt.NoWorkings {
			f.Working, z.Working = modeWorkings(m, s.given(place.Build, place.Load))
		}
		a.Values = append(a.Values, f, z)
	}
}

const polesSource = "linear vibration of seven degrees of freedom; poles of M*q'' + C*q' + K*q = 0"

var (
	poleProduct     = figure.Law{Code: "pole-product", Equation: "p = a^2 + b^2", Unit: "1/s^2", Source: polesSource}
	poleSum         = figure.Law{Code: "pole-sum", Equation: "s = 2*a", Unit: "1/s", Source: polesSource}
	realPoleProduct = figure.Law{Code: "real-pole-product", Equation: "p = a*b", Unit: "1/s^2", Source: polesSource}
	realPoleSum     = figure.Law{Code: "real-pole-sum", Equation: "s = a + b", Unit: "1/s", Source: polesSource}
)

// modeWorkings are the workings of a mode's frequency and damping by its two poles.
func modeWorkings(m *modes.Mode, given []*figure.Input) (f, z *figure.Working) {
	a := figure.Among("a", "real part of the poles", "1/s", m.Pole[0])
	b := figure.Among("b", "imaginary part of the poles", "1/s", m.Pole[1])
	product, sum := &poleProduct, &poleSum
	if m.Real {
		a.Name, b.Name = "the slower of two real poles", "the faster of them"
		product, sum = &realPoleProduct, &realPoleSum
	}
	p := figure.As("p", "product of the two poles", solvedFrom(product.Of(a, b), given))
	s := figure.As("s", "sum of the two poles", solvedFrom(sum.Of(a, b), given))
	return result("mode-frequency", p), result("mode-damping", s, p)
}

func around(middle, half float64) (low, high float64, ok bool) {
	return middle - half, middle + half, !math.IsNaN(half)
}

// modesOf returns the named modes of a case.
func (s *setup) modesOf(c *Case, b, l int, d figure.Draw) ([]modes.Mode, error) {
	loads := &s.job.Loads[l]
	body := modes.BodyOf(&c.System, equilibrium.Of(loads.Items, d), s.job.Car.InertiaRoll.At(d), s.job.Car.InertiaPitch.At(d), loads.Items...)
	lin := modes.Linearise(&c.System, &c.State, body, s.opt.MainSpeed)
	return lin.Modes()
}

// modeSpread returns the 95 % half-widths of the modes' frequencies and
// ratios, from the first draws.
func (s *setup) modeSpread(a *Answer, b, l, n int) (frequency, ratio []float64) {
	if a.columns == nil {
		return nil, nil
	}
	draws := min(modeDraws, a.columns.samples)
	sum := make([][4]float64, n)
	count := 0
	for k := range draws {
		d := figure.DrawOf(a.columns.table.Draw(k))
		base := equilibrium.Calibrate(s.fitted, s.hangup, d)
		sys, err := equilibrium.NewSystem(s.designs[b], &base, s.hangup, d)
		if err != nil {
			continue
		}
		guess := a.Cases[b][l].State
		st, err := sys.Solve(equilibrium.Of(s.job.Loads[l].Items, d), &guess)
		if err != nil {
			continue
		}
		got, err := s.modesOf(&Case{System: sys, State: st}, b, l, d)
		if err != nil || len(got) != n {
			continue
		}
		count++
		for i := range got {
			f, z := got[i].Frequency, got[i].Ratio
			sum[i][0] += f
			sum[i][1] += f * f
			sum[i][2] += z
			sum[i][3] += z * z
		}
	}
	frequency, ratio = make([]float64, n), make([]float64, n)
	for i := range sum {
		frequency[i] = halfWidth(sum[i][0], sum[i][1], count)
		ratio[i] = halfWidth(sum[i][2], sum[i][3], count)
	}
	return frequency, ratio
}

func halfWidth(sum, squares float64, n int) float64 {
	if n < 20 {
		return math.NaN()
	}
	mean := sum / float64(n)
	return spread.Normal95 * math.Sqrt(math.Max(0, (squares-float64(n)*mean*mean)/float64(n-1)))
}
