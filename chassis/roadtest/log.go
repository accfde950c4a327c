package roadtest

import "math"

// Role is what a channel measures.
type Role string

// Roles of channels. Vertical accelerations are positive upwards, with gravity taken off.
const (
	Travel       Role = "travel"       // of a damper or of a wheel, bump positive [m]
	Hub          Role = "hub"          // vertical, of a wheel carrier [m/s²]
	Body         Role = "body"         // vertical, of the body over a wheel [m/s²]
	Floor        Role = "floor"        // vertical, of the floor under the driver [m/s²]
	Lateral      Role = "lateral"      // left positive [m/s²]
	Longitudinal Role = "longitudinal" // forward positive [m/s²]
	Speed        Role = "speed"        // of the car [m/s]
)

// Zero is where the travel channels read zero.
type Zero string

// The zeros of travel.
const (
	AtRest  Zero = "rest"    // the car stands level with its usual load
	Hanging Zero = "hanging" // the wheels hang
)

// Channel is one quantity at equal time steps.
type Channel struct {
	Name   string
	Role   Role
	Corner int       // of a corner's channel, else -1
	Rate   float64   // of samples [Hz]
	Start  float64   // time of the first sample [s]
	Values []float64 // NaN where none was logged [SI]
	Clock  Clock
}

// Clock is how evenly a channel was sampled.
type Clock struct {
	Dropped   int     // samples that are missing between others
	Gaps      int     // places at which they are
	Jitter    float64 // standard deviation of the times from equal steps [s]
	Backwards int     // rows at which the clock did not go forward
}

// Event is something that was written into the log.
type Event struct {
	Time float64 // [s]
	Text string
}

// Log is what one drive recorded.
type Log struct {
	Channels []Channel
	Events   []Event
	AtWheel  bool // travel channels give wheel travel, not damper travel
	Zero     Zero
}

// Find returns the first channel of a role; corner -1 is that of the car.
func (l *Log) Find(role Role, corner int) *Channel {
	for i := range l.Channels {
		if c := &l.Channels[i]; c.Role == role && c.Corner == corner {
			return c
		}
	}
	return nil
}

// Duration is how long the channel ran [s].
func (c *Channel) Duration() float64 { return float64(len(c.Values)) / c.Rate }

// At returns the channel on an equal grid of n samples from start [s] at rate [Hz], by
// straight lines; a gap no longer than bridge [s] is bridged, a longer one stays NaN.
func (c *Channel) At(start, rate float64, n int, bridge float64) []float64 {
	full := bridged(c.Values, int(bridge*c.Rate))
	out := make([]float64, n)
	for k := range out {
		x := (start + float64(k)/rate - c.Start) * c.Rate
		i := int(math.Floor(x))
		switch {
		case x < 0 || i >= len(full):
			out[k] = math.NaN()
		case i == len(full)-1:
			out[k] = full[i]
		default:
			f := x - float64(i)
			out[k] = full[i]
			if f > 0 {
				out[k] += f * (full[i+1] - full[i])
			}
		}
	}
	return out
}

// bridged returns values with gaps of up to most samples filled by straight lines.
func bridged(values []float64, most int) []float64 {
	out := append([]float64(nil), values...)
	last := -1
	for i, v := range out {
		if math.IsNaN(v) {
			continue
		}
		if gap := i - last - 1; last >= 0 && gap > 0 && gap <= max(most, 1) {
			for k := 1; k <= gap; k++ {
				out[last+k] = out[last] + (v-out[last])*float64(k)/float64(gap+1)
			}
		}
		last = i
	}
	return out
}
