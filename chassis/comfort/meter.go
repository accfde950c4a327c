package comfort

import "math"

// RunningTime is the integration time [s] of the running root mean square.
//
// Source: ISO 2631-1:1997 clause 6.3.1 (recommended 1 s).
const RunningTime = 1.0

// Meter weights an acceleration sample by sample and keeps what is needed for
// the figures of ISO 2631-1. Add allocates nothing. A Meter must not be copied
// while in use, and belongs to one goroutine.
type Meter struct {
	filter Filter
	step   float64

	count  int
	bad    int
	sum2   float64
	sum4   float64
	peak   float64
	raw2   float64
	rawTop float64

	// The linear window: squares of the last second. fresh is the sum since
	// the ring last turned; it replaces window at every turn, so rounding of
	// the running sum never grows.
	ring   []float64
	at     int
	window float64
	fresh  float64
	linear float64

	decay    float64
	slow     float64
	slowMost float64
}

// NewMeter makes a meter for a weighting and a time step [s]; limits and errors
// are those of NewFilter.
func NewMeter(w Weighting, step float64) (*Meter, error) {
	f, err := NewFilter(w, step)
	if err != nil {
		return nil, err
	}
	return &Meter{
		filter: f,
		step:   step,
		ring:   make([]float64, int(math.Round(RunningTime/step))),
		decay:  -math.Expm1(-step / RunningTime),
	}, nil
}

// Add takes the next acceleration [m/s²] (or [rad/s²] for We) and returns the
// weighted one. A value that is not finite is counted, left out, and makes
// Result fail.
func (m *Meter) Add(acceleration float64) float64 {
	if math.IsNaN(acceleration) || math.IsInf(acceleration, 0) {
		m.bad++
		return 0
	}
	a := m.filter.Next(acceleration)
	m.count++
	m.raw2 += acceleration * acceleration
	if r := math.Abs(acceleration); r > m.rawTop {
		m.rawTop = r
	}
	square := a * a
	m.sum2 += square
	m.sum4 += square * square
	if r := math.Abs(a); r > m.peak {
		m.peak = r
	}

	m.window += square - m.ring[m.at]
	m.ring[m.at] = square
	m.fresh += square
	m.at++
	if m.at == len(m.ring) {
		m.at = 0
		m.window, m.fresh = m.fresh, 0
	}
	if m.window > m.linear {
		m.linear = m.window
	}

	m.slow += (square - m.slow) * m.decay
	if m.slow > m.slowMost {
		m.slowMost = m.slow
	}
	return a
}

// Begin forgets the figures taken so far but keeps the filter and the running
// windows going, so that a run-in can be left out of the result.
func (m *Meter) Begin() {
	m.count, m.bad = 0, 0
	m.sum2, m.sum4, m.peak, m.raw2, m.rawTop = 0, 0, 0, 0, 0
	m.linear, m.slowMost = m.window, m.slow
}

// Reset puts the meter back to rest.
func (m *Meter) Reset() {
	m.filter.Reset()
	clear(m.ring)
	m.at, m.window, m.fresh, m.slow = 0, 0, 0, 0
	m.Begin()
}

// Filter returns a copy of the meter's filter, for its step and error.
func (m *Meter) Filter() Filter { return m.filter }

// Summary holds the figures of one axis over one stretch of time.
//
// Source of the definitions: ISO 2631-1:1997 clauses 6.1 to 6.3.
type Summary struct {
	Duration float64 // T, time measured [s]
	RMS      float64 // a_w = √(1/T·∫a_w²dt), weighted root mean square [m/s²]
	Peak     float64 // greatest magnitude of the weighted acceleration [m/s²]
	VDV      float64 // (∫a_w⁴dt)^¼, fourth-power vibration dose value [m/s^1.75]
	MTVV     float64 // greatest running root mean square over 1 s, linear window; time before the start counts as rest [m/s²]
	MTVVSlow float64 // the same with an exponential window of 1 s time constant [m/s²]
	RawRMS   float64 // root mean square before weighting [m/s²]
	RawPeak  float64 // greatest magnitude before weighting [m/s²]
}

// Result returns the figures since the start or the last Begin. It fails with
// an *InputError when nothing was added or some samples were not finite.
func (m *Meter) Result() (Summary, error) {
	if m.bad > 0 {
		return Summary{}, &InputError{"number of samples that are not finite", float64(m.bad), "0"}
	}
	if m.count == 0 {
		return Summary{}, &InputError{"number of samples", 0, "at least 1"}
	}
	sums := Sums{m.count, m.sum2, m.sum4, m.peak, m.raw2, m.rawTop, m.linear, m.slowMost}
	return sums.Summary(m.step)
}

// Sums is what a stretch of time adds up to, for who runs the filter on their own.
type Sums struct {
	Count          int     // samples [-]
	Sum2, Sum4     float64 // squares and fourth powers of the weighted acceleration [SI]
	Peak           float64 // greatest magnitude of it [m/s²]
	Raw2, RawTop   float64 // the same before weighting [SI]
	Window, Spread float64 // greatest sum of squares over RunningTime, and greatest exponential mean of squares [SI]
}

// Summary turns the sums of samples a time step [s] apart into figures.
func (m Sums) Summary(step float64) (Summary, error) {
	n := float64(m.Count)
	s := Summary{
		Duration: n * step,
		RMS:      math.Sqrt(m.Sum2 / n),
		Peak:     m.Peak,
		VDV:      math.Pow(m.Sum4*step, 0.25),
		MTVV:     math.Sqrt(m.Window / math.Round(RunningTime/step)),
		MTVVSlow: math.Sqrt(m.Spread),
		RawRMS:   math.Sqrt(m.Raw2 / n),
		RawPeak:  m.RawTop,
	}
	for _, v := range []float64{s.RMS, s.VDV, s.RawRMS} {
		if math.IsInf(v, 0) || math.IsNaN(v) {
			return Summary{}, &InputError{"weighted acceleration", v, "small enough to be squared"}
		}
	}
	return s, nil
}

// CrestFactor returns peak over root mean square of the weighted acceleration
// [-], zero at rest.
//
// Source: ISO 2631-1:1997 clause 6.2.1.
func (s Summary) CrestFactor() float64 {
	if s.RMS == 0 {
		return 0
	}
	return s.Peak / s.RMS
}

// EstimatedVDV returns 1.4·a_w·T^¼ [m/s^1.75], the dose estimated from the root
// mean square, meant for crest factors below 6.
//
// Source: BS 6841:1987, from memory.
func (s Summary) EstimatedVDV() float64 {
	return 1.4 * s.RMS * math.Sqrt(math.Sqrt(s.Duration))
}

// MTVVRatio returns MTVV over the root mean square [-], zero at rest.
func (s Summary) MTVVRatio() float64 {
	if s.RMS == 0 {
		return 0
	}
	return s.MTVV / s.RMS
}

// VDVRatio returns VDV/(a_w·T^¼) [-], zero at rest.
func (s Summary) VDVRatio() float64 {
	if s.RMS == 0 {
		return 0
	}
	return s.VDV / (s.RMS * math.Sqrt(math.Sqrt(s.Duration)))
}

// Doubt is a reason not to rest on the root mean square alone.
type Doubt int

// The reasons of ISO 2631-1:1997 clauses 6.2.2 and 6.3.3 (the ratios of 6.3.3
// from memory).
const (
	CrestOverNine Doubt = iota // crest factor above 9
	MTVVOver                   // MTVV more than 1.5 times the root mean square
	VDVOver                    // VDV more than 1.75 times a_w·T^¼
)

func (d Doubt) String() string {
	switch d {
	case CrestOverNine:
		return "crest factor above 9"
	case MTVVOver:
		return "running maximum above 1.5 times the mean"
	case VDVOver:
		return "dose above 1.75 times the mean"
	default:
		return "unknown doubt"
	}
}

// Doubts returns the reasons why the root mean square alone understates this
// stretch, so that the dose and the running maximum are to be read too.
//
// Source: ISO 2631-1:1997 clauses 6.2.2 and 6.3.3.
func (s Summary) Doubts() []Doubt {
	var out []Doubt
	if s.CrestFactor() > 9 {
		out = append(out, CrestOverNine)
	}
	if s.MTVVRatio() > 1.5 {
		out = append(out, MTVVOver)
	}
	if s.VDVRatio() > 1.75 {
		out = append(out, VDVOver)
	}
	return out
}
