package study

import "math"

// hitShare is the force from which a hit on a stop counts, over the mean corner load of
// the car: common practice, no source [-]. hitStep keeps it a round one [N].
const hitShare, hitStep = 0.25, 250

// StopForces are the forces from which a hit on a stop counts, and counts as a great one:
// as the brief says and twice that, or by the weight of the baseline in the usual load
// state. The same for all builds and corners, so that hits can be compared. [N]
func (a *Answer) StopForces() []float64 {
	if b := a.Job.Brief; b != nil && b.Limits.StopHit.Known() {
		return []float64{b.Limits.StopHit.Value, 2 * b.Limits.StopHit.Value}
	}
	sum := 0.0
	for corner := range 4 {
		v := a.Get("corner-load", a.Reference, a.UsualLoad(), corner)
		if v == nil || !(v.Value > 0) {
			return []float64{1000, 2000}
		}
		sum += v.Value / 4
	}
	f := hitStep * math.Max(1, math.Round(hitShare*sum/hitStep))
	return []float64{f, 2 * f}
}
