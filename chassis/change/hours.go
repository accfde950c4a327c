package change

import "trunnion/chassis/finding"

// How long work takes: common practice, no source. [s]
const (
	strip     = 1.5 * 3600 // both units of an axle out and in
	exchange  = 0.3 * 3600 // a spring, stop or helper of one unit, out of the car
	collars   = 0.5 * 3600 // of an axle turned and locked
	alignment = 1.0 * 3600 // after any change of height
	turnClick = 0.1 * 3600
	barHole   = 0.3 * 3600
)

// Hours are those of the work that moves together take [s].
func Hours(moves []*Move) float64 {
	sum := 0.0
	out := [2]bool{}
	higher := false
	for _, m := range moves {
		switch m.Kind {
		case finding.Clicks:
			sum += turnClick
		case finding.Bar:
			sum += barHole
		case finding.Raise, finding.Spring, finding.Stop, finding.Helper, finding.Damper, finding.MadeToOrder, finding.Level:
			higher = higher || m.Turned() || m.Kind == finding.Raise || m.Kind == finding.Spring
			if m.Turned() {
				sum += collars
				break
			}
			sum += 2 * exchange
			if !out[m.Axle] {
				out[m.Axle] = true
				sum += strip
			}
		}
	}
	if higher {
		sum += alignment
	}
	return sum
}
