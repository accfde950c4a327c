package ride

import "math"

// Flight is what leaves the ground over an obstacle.
type Flight struct {
	Off    [4]float64 // longest time that a tyre is off the ground [s]
	Time   float64    // longest time that all four are [s]
	Height float64    // greatest height of the lowest tyre over the road in that time [m]
	// What the landing asks of a corner: the greatest within half a second of the first tyre's touch, 0 without a flight.
	Load [4]float64 // of the tyre [N]
	Stop [4]float64 // of the bump stop, at the damper [N]
}

// landing is the time after touching down in which the blows are looked for: a cycle of the body is longer, one of a
// wheel's hop is over. A choice of the engine. [s]
const landing = 0.5

// airborne follows the tyres through a run.
type airborne struct {
	result Flight
	off    [4]int  // steps that each tyre has been off for [-]
	all    int     // steps that all have been [-]
	height float64 // of the flight in the air [m]
	down   int     // steps since the last flight ended; −1 before the first [-]
	best   int     // steps of the longest flight [-]
}

// follow looks at a block of steps of length h.
func (f *airborne) follow(m *Model, b *block, road [][4]float64, h float64) {
	for n := range road {
		lowest := math.Inf(1)
		for i := range m.corner {
			if b.load[i][n] > 0 {
				f.off[i] = 0
				lowest = 0
				continue
			}
			f.off[i]++
			f.result.Off[i] = math.Max(f.result.Off[i], float64(f.off[i])*h)
			lowest = math.Min(lowest, m.clear(b, i, n, road[n][i]))
		}
		if lowest > 0 {
			f.all++
			f.height = math.Max(f.height, lowest)
			continue
		}
		if f.all > 0 {
			if f.all > f.best {
				f.best, f.down = f.all, 0
				f.result.Time, f.result.Height = float64(f.all)*h, f.height
				f.result.Load, f.result.Stop = [4]float64{}, [4]float64{}
			}
			f.all, f.height = 0, 0
		}
		if f.best == 0 || float64(f.down)*h > landing {
			continue
		}
		f.down++
		for i := range m.corner {
			f.result.Load[i] = math.Max(f.result.Load[i], b.load[i][n])
			if b.touched[i] {
				_, ratio, _ := m.corner[i].travel(b.travel[i][n])
				f.result.Stop[i] = math.Max(f.result.Stop[i], b.stop[i][n]/ratio)
			}
		}
	}
}

// clear is how far a tyre without load is above the road [m].
//
//	z_i = w − w_0 + z + S − x·θ + y·φ   the wheel over where it stands at rest;   gap = z_i − road − δ_0
func (m *Model) clear(b *block, i, n int, road float64) float64 {
	c := &m.corner[i]
	return math.Max(b.travel[i][n]-c.restTravel+m.over(b, i, n)-road-c.restDeflection, 0)
}

// over is how far the body over a wheel is above its rest at a step of a block [m].
func (m *Model) over(b *block, i, n int) float64 {
	c := &m.corner[i]
	p, r := b.bodyP[n], b.bodyR[n]
	return b.bodyZ[n] + m.sunk(r, p) - c.x*p + c.y*r
}
