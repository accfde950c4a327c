package scales

import (
	"math"

	"trunnion/chassis/spread"
)

// Band is a figure with its 95 % half-width.
type Band struct {
	Value, Half float64 // [m], [kg] or [-] as the field says
}

// Forecast is what scales and tape will show, each with the band of one settled
// reading: model, friction and instruments in.
type Forecast struct {
	Load   [4]Band // [kg]
	Height [4]Band // [m]
	Level  [2]Band // left over right [m]
	Mean   [2]Band // of an axle [m]
	Rake   Band    // [m]
	Cross  Band    // [-]
}

// Forecast predicts the reading after a move from where the car stands [m].
func (m *Model) Forecast(d Diagonal, move [4]float64) (Forecast, error) {
	for i := range 4 {
		move[i] += m.Moved[i]
	}
	at, err := m.stand(move, &m.z, nil)
	if err != nil {
		return Forecast{}, err
	}
	return m.forecast(d, move, &at)
}

func (m *Model) forecast(d Diagonal, total [4]float64, at *Stand) (Forecast, error) {
	j, err := m.byUnknown(total, &m.z, at)
	if err != nil {
		return Forecast{}, err
	}
	r, err := m.scatter(at, &m.z)
	if err != nil {
		return Forecast{}, err
	}
	return bands(d, &at.Reading, func(g *[outputs]float64) float64 {
		v := spreadOf(&r, g)
		var b vector
		for p := range params {
			for o := range outputs {
				b[p] += g[o] * j[o][p]
			}
		}
		m.inverse.forward(&b, params)
		for p := range params {
			v += b[p] * b[p]
		}
		return v
	}), nil
}

// Scatter is the band of one settled reading alone, whatever the model: the
// friction that may hold the car and the instruments. Nothing is levelled to
// less than this.
func (m *Model) Scatter(d Diagonal) (Forecast, error) {
	at, err := m.stand(m.Moved, &m.z, nil)
	if err != nil {
		return Forecast{}, err
	}
	r, err := m.scatter(&at, &m.z)
	if err != nil {
		return Forecast{}, err
	}
	return bands(d, &at.Reading, func(g *[outputs]float64) float64 { return spreadOf(&r, g) }), nil
}

func spreadOf(r *[outputs][outputs]float64, g *[outputs]float64) (v float64) {
	for o := range outputs {
		for q := range outputs {
			v += g[o] * r[o][q] * g[q]
		}
	}
	return v
}

// bands puts half-widths on a reading and on what follows from it, given the
// variance of any sum of loads and heights.
func bands(d Diagonal, r *Reading, variance func(*[outputs]float64) float64) Forecast {
	band := func(value float64, g [outputs]float64) Band {
		return Band{Value: value, Half: spread.Normal95 * math.Sqrt(variance(&g))}
	}
	var f Forecast
	total, cross := r.Total(), r.Cross(d)
	var g [outputs]float64
	for i := range 4 {
		var one, other [outputs]float64
		one[i], other[4+i] = 1, 1
		f.Load[i], f.Height[i] = band(r.Load[i], one), band(r.Height[i], other)
		g[i] = (0.5*(1+d.sign(i)) - cross) / total
	}
	f.Cross = band(cross, g)
	for a := range 2 {
		var level, mean [outputs]float64
		level[4+2*a], level[5+2*a] = 1, -1
		mean[4+2*a], mean[5+2*a] = 0.5, 0.5
		f.Level[a], f.Mean[a] = band(r.Level(a), level), band(r.Mean(a), mean)
	}
	f.Rake = band(r.Rake(), [outputs]float64{4: -0.5, 5: -0.5, 6: 0.5, 7: 0.5})
	return f
}
