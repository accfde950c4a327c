package intake

import (
	"fmt"
	"math"
	"slices"

	"trunnion/chassis/roadtest"
	"trunnion/shop/quantity"
)

// A channel laid on equal steps, gaps and all, is at most this many times as long as what was read of it, and so much more.
const (
	longestGaps = 20
	longestGap  = 10_000
)

// times are those of the rows [s]; nil where they have to be asked for or are at fault.
func (l *logReader) times() []float64 {
	i := slices.IndexFunc(l.columns, func(c *logColumn) bool { return c.role == roleLogTime })
	if i >= 0 && l.columns[i].count*2 > l.out.Rows {
		c := l.columns[i]
		unit, given := answered(l.mapping.Units, c), true
		if unit == "" {
			unit, given = c.unit, false
		}
		if unit == "" && l.clocked {
			unit = "s" // written with colons
		}
		if unit == "" {
			l.ask(LogQuestion{Code: "unit", About: c.name, Choices: []string{"s", "ms"}, Seen: c.span()})
			return nil
		}
		u, err := quantity.Find(unit, quantity.Time)
		if err != nil {
			l.fault(l.headLine, fmt.Sprintf("has %q as the unit of time", cutShort(unit)), "it is s or ms")
			return nil
		}
		code := "unit"
		if given {
			code = "unit-given"
		}
		l.note(code, c.name, u.Label())
		out := make([]float64, len(c.values))
		for k, v := range c.values {
			out[k] = u.ToSI(v)
		}
		return out
	}
	if l.mapping.Rate == "" {
		l.ask(LogQuestion{Code: "rate", Choices: []string{"100 Hz", "200 Hz", "500 Hz"}, Seen: plain(float64(l.out.Rows)) + " rows"})
		return nil
	}
	v, err := quantity.Parse(l.mapping.Rate, quantity.Frequency)
	if err != nil || !(v.Value > 0) {
		l.fault(0, fmt.Sprintf("cannot be read with rate %q", cutShort(l.mapping.Rate)), "it is a frequency such as 200 Hz")
		return nil
	}
	out := make([]float64, l.out.Rows)
	for k := range out {
		out[k] = float64(k) / v.Value
	}
	return out
}

// build lays the channels on equal steps, in SI, with the signs of the program.
func (l *logReader) build(used []*logColumn, times []float64) {
	log := &l.out.Log
	start := math.NaN()
	for _, t := range times {
		if !math.IsNaN(t) {
			start = t
			break
		}
	}
	for i := range log.Events {
		log.Events[i].Time = times[min(int(log.Events[i].Time), len(times)-1)] - start
	}
	for _, c := range used {
		role, corner := splitRole(c.role)
		ch := roadtest.Channel{Name: c.name, Role: role, Corner: corner}
		if !l.lay(&ch, c, times, start) {
			return
		}
		l.towardsSI(&ch, c)
		c.values = nil
		log.Channels = append(log.Channels, ch)
	}
	log.AtWheel = l.mapping.Along == "wheel"
	log.Zero = roadtest.AtRest
	if l.mapping.Zero == "hanging" {
		log.Zero = roadtest.Hanging
	}
}

// towardsSI applies unit, gain, sign and zero.
func (l *logReader) towardsSI(ch *roadtest.Channel, c *logColumn) {
	scale := c.scale
	about := map[roadtest.Role]string{roadtest.Travel: "travel", roadtest.Lateral: "lateral", roadtest.Longitudinal: "longitudinal"}[ch.Role]
	if about == "" {
		about = "acceleration"
	}
	switch l.sign(about, c) {
	case "rebound", "down", "right", "backward":
		scale = -scale
	}
	zero := 0.0
	if ch.Role == roadtest.Travel && l.mapping.Zero == "start" {
		rest, err := quantity.Parse(l.mapping.Rest, quantity.Time)
		if err == nil {
			zero = meanOf(ch.Values[:min(len(ch.Values), max(1, int(rest.Value*ch.Rate)))])
		}
		l.note("zero", c.name, plain(zero))
	}
	if logKind(c.role) == quantity.Acceleration {
		// What stays for the whole log is gravity and the sensor's own zero.
		zero = meanOf(ch.Values)
	}
	if math.IsNaN(zero) {
		zero = 0
	}
	for k := range ch.Values {
		ch.Values[k] = (ch.Values[k] - zero) * scale
	}
}

func meanOf(values []float64) float64 {
	sum, n := 0.0, 0
	for _, v := range values {
		if !math.IsNaN(v) {
			sum += v
			n++
		}
	}
	return sum / float64(n)
}

// lay puts what stands in a column on a grid of equal steps: the median step, made
// exact by the whole length.
func (l *logReader) lay(ch *roadtest.Channel, c *logColumn, times []float64, start float64) bool {
	var at, values []float64
	for k, v := range c.values {
		if math.IsNaN(v) || math.IsNaN(times[k]) {
			continue
		}
		if n := len(at); n > 0 && times[k] <= at[n-1] {
			ch.Clock.Backwards++
			continue
		}
		at, values = append(at, times[k]), append(values, v)
	}
	if n := ch.Clock.Backwards; n > 0 && n*50 > len(at) {
		l.fault(0, fmt.Sprintf("has a clock that does not go forward in %d rows of %q", n, c.name), "export the log again, or say the sample rate and give the time the role ignore")
		return false
	}
	if len(at) < 16 {
		l.fault(0, fmt.Sprintf("has %d readings of %q", len(at), c.name), "give it the role ignore, or export a longer log")
		return false
	}
	steps := make([]float64, len(at)-1)
	for k := range steps {
		steps[k] = at[k+1] - at[k]
	}
	sorted := slices.Clone(steps)
	slices.Sort(sorted)
	usual := sorted[len(sorted)/2]
	longestGrid := longestGap + longestGaps*len(at)
	place := make([]int, len(at))
	for k, s := range steps {
		place[k+1] = place[k] + max(1, int(math.Round(math.Min(s/usual, float64(longestGrid)))))
		if place[k+1] > longestGrid {
			l.fault(0, fmt.Sprintf("stands still for too long in %q", c.name), "cut the log at the pause")
			return false
		}
	}
	last := place[len(place)-1]
	step := (at[len(at)-1] - at[0]) / float64(last)
	ch.Rate, ch.Start = 1/step, at[0]-start
	ch.Values = make([]float64, last+1)
	for k := range ch.Values {
		ch.Values[k] = math.NaN()
	}
	off := 0.0
	for k, p := range place {
		ch.Values[p] = values[k]
		d := at[k] - at[0] - float64(p)*step
		off += d * d
		if k > 0 && p > place[k-1]+1 {
			ch.Clock.Gaps++
			ch.Clock.Dropped += p - place[k-1] - 1
		}
	}
	ch.Clock.Jitter = math.Sqrt(off / float64(len(at)))
	return true
}
