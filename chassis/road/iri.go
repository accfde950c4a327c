package road

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// The quarter car of the International Roughness Index, each per sprung mass.
//
// Source: M.W. Sayers, T.D. Gillespie, W.D.O. Paterson, World Bank Technical
// Paper 46 (1986); M.W. Sayers, "On the calculation of IRI from longitudinal
// road profile", Transportation Research Record 1501 (1995); ASTM E1926.
const (
	indexTyre    = 653.0    // k1 = kt/ms [1/s²]
	indexSpring  = 63.3     // k2 = ks/ms [1/s²]
	indexWheel   = 0.15     // mu/ms [-]
	indexDamper  = 6.0      // c = cs/ms [1/s]
	indexSpeed   = 80 / 3.6 // [m/s]
	indexBase    = 0.25     // moving average before the filter [m]
	indexRunIn   = 11.0     // length of the first slope [m], half a second
	indexLongest = 0.6      // longest step [m]; ASTM E1926 from memory
)

// indexSystem is the quarter car's z' = A·z + B·slope in time, with z = (body
// slope, its rate, wheel slope, its rate).
func indexSystem() (a [4][4]float64, b [4]float64) {
	const k1, k2, mu, c = indexTyre, indexSpring, indexWheel, indexDamper
	return [4][4]float64{
		{0, 1, 0, 0},
		{-k2, -c, k2, c},
		{0, 0, 0, 1},
		{k2 / mu, c / mu, -(k1 + k2) / mu, -c / mu},
	}, [4]float64{0, 0, 0, k1 / mu}
}

// IndexTransition returns the state transition of the roughness index's quarter
// car over a step [m] at 80 km/h, and its response to a slope held over the
// step. State: body slope, its rate [1/s], wheel slope, its rate [1/s].
//
//	ST = exp(A·dx/V),  PR = A⁻¹·(ST − I)·B
//
// Both come out of one exponential of the matrix with B as a further column.
//
// Source: World Bank Technical Paper 46 (1986).
func IndexTransition(step float64) (st [4][4]float64, pr [4]float64, err error) {
	if err := need("grid step", step, 1e-3, indexLongest, "m"); err != nil {
		return st, pr, err
	}
	a, b := indexSystem()
	time := step / indexSpeed
	system := mat.NewDense(5, 5, nil)
	for i := range 4 {
		for j := range 4 {
			system.Set(i, j, a[i][j]*time)
		}
		system.Set(i, 4, b[i]*time)
	}
	var e mat.Dense
	e.Exp(system)
	for i := range 4 {
		for j := range 4 {
			st[i][j] = e.At(i, j)
		}
		pr[i] = e.At(i, 4)
	}
	return st, pr, nil
}

// Index returns the International Roughness Index of one track: the mean
// suspension stroke of the index's quarter car per distance [-]; times 1000 it
// is in m/km. smooth takes the moving average over 0.25 m first, as the index
// asks of profiles finer than that; without it only theory is compared.
//
//	IRI = mean |z_s' − z_u'|
//
// Heights are equally spaced [m], step is their distance [m], at most 0.6 m.
// The profile must be longer than the first slope, 11 m.
//
// Source: Sayers, Transportation Research Record 1501 (1995); ASTM E1926.
func Index(heights []float64, step float64, smooth bool) (float64, error) {
	st, pr, err := IndexTransition(step)
	if err != nil {
		return 0, err
	}
	for _, z := range heights {
		if !(math.Abs(z) <= HighestHeight) {
			return 0, &InputError{"height", z, "between -10000 and 10000 m"}
		}
	}
	// base is the number of heights the moving average takes in, and the
	// distance in steps over which the slope is taken stays one step.
	base := 1
	if smooth {
		base = max(1, int(math.Round(indexBase/step)))
	}
	runIn := int(math.Round(indexRunIn / step))
	if len(heights)-base <= runIn {
		return 0, &InputError{"length of the profile", float64(len(heights)) * step, "longer than 11 m"}
	}
	first := (heights[runIn] - heights[0]) / (float64(runIn) * step)
	state := [4]float64{first, 0, first, 0}
	sum := 0.0
	count := len(heights) - base
	for i := range count {
		// The slope of a moving average is a difference of two heights.
		slope := (heights[i+base] - heights[i]) / (float64(base) * step)
		var next [4]float64
		for r := range 4 {
			next[r] = st[r][0]*state[0] + st[r][1]*state[1] + st[r][2]*state[2] + st[r][3]*state[3] + pr[r]*slope
		}
		state = next
		sum += math.Abs(state[0] - state[2])
	}
	return sum / float64(count), nil
}

// IndexGain returns the ratio of suspension stroke to profile height [-] of the
// index's quarter car over a sine of a wave length [m], without the moving
// average; zero for no wave length.
//
// Source: frequency response of World Bank Technical Paper 46's equations,
// derived here.
func IndexGain(wave float64) float64 {
	if !(wave > 0) {
		return 0
	}
	w := 2 * math.Pi * indexSpeed / wave
	s := complex(0, w)
	ground := complex(indexTyre, 0)
	link := complex(indexSpring, indexDamper*w)
	// Body: (s² + link)·zs = link·zu; wheel: (mu·s² + link + k1)·zu = link·zs + k1·zr.
	body := link / (s*s + link)
	wheel := ground / (complex(indexWheel, 0)*s*s + link + ground - link*body)
	stroke := (body - 1) * wheel
	return math.Hypot(real(stroke), imag(stroke))
}

// ExpectedIndex returns the expected roughness index [-] of a Gaussian road
// with a spectrum of waviness 2 and a roughness Gd(n0) [m³], without the moving
// average; zero for no roughness.
//
//	E[IRI] = √(k1·(2·π·n0)²·Gd(n0)/(2·π·c·V))
//
// Source: derived here from E[(z_s' − z_u')²] = kt·W/(2·cs) for white road
// velocity; the factor 2.21 it leads to is that of P. Johannesson and I.
// Rychlik, "Modelling of road profiles using roughness indicators" (2012).
func ExpectedIndex(roughness float64) float64 {
	if !(roughness > 0) {
		return 0
	}
	w := 2 * math.Pi * ReferenceWaveNumber
	return math.Sqrt(indexTyre * w * w * roughness / (2 * math.Pi * indexDamper * indexSpeed))
}
