package roadtest

import (
	"math"

	"trunnion/chassis/ride"
)

// Alone is what a travel channel says without any model.
type Alone struct {
	Corner                int
	Bump, Rebound         float64 // most, from the log's zero [m]
	Below, AboveB, AboveR float64 // shares of time slower than the low mark, faster than the high in bump and in rebound [-]
	Speed                 float64 // root mean square of velocity [m/s]
	Mean                  float64 // [m]
	BodyRate              float64 // frequency of most travel [Hz]
	Spectrum              Spectrum
	Floor                 float64 // of velocity [m/s]
}

// AloneOf are the figures of a travel channel while the car drives; moving says at which
// times it does, nil always. Velocity is that of travel below 60 Hz.
func AloneOf(c *Channel, marks Marks, moving func(time float64) bool) Alone {
	out := Alone{Corner: c.Corner}
	full := unspiked(bridged(c.Values, int(bridging*c.Rate)))
	for k, v := range full {
		if math.IsNaN(v) {
			full[k] = 0
		}
	}
	smooth := finer(full, c.Rate, 1)
	speed := slopes(smooth, c.Rate)
	var tally counted
	var travel, rates []float64
	for k, v := range c.Values {
		if math.IsNaN(v) || moving != nil && !moving(c.Start+float64(k)/c.Rate) {
			continue
		}
		travel, rates = append(travel, smooth[k]), append(rates, speed[k])
	}
	if len(travel) < 16 {
		return out
	}
	none := leg{in: nothing}
	tally.add(&none, c.Corner, &watched{travel, rates, c.Rate, c.Start}, 0, marks)
	f := tally.figures(1)
	out.Bump, out.Rebound, out.Below, out.AboveB, out.AboveR = f[BumpUsed], f[ReboundUsed], f[Below], f[AboveBump], f[AboveReb]
	out.Speed, out.Mean, out.BodyRate = f[Speeds], f[MeanTravel], f[BodyRate]
	out.Spectrum, out.Floor = Welch(travel, c.Rate, int(8*c.Rate)&^1), GradeOf(c).Floor
	return out
}

// nothing is a corner without a stop or a rebound end.
var nothing = &ride.Corner{TopOut: ride.TopOut{OpenTravel: math.Inf(-1)}}
