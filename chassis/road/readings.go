package road

import (
	"math"
	"slices"
)

// Readings is a measured road as read: distances with the heights of one or
// two tracks beside them.
type Readings struct {
	Distance []float64 // along the road, rising [m]
	Left     []float64 // heights of the left track [m]; may be nil
	Right    []float64 // heights of the right track [m]; may be nil
}

// Limits on the spacing of readings. Common practice, no source.
const (
	ClosestSpacing  = 0.0005 // [m]; closer is refused
	CloseToTexture  = 0.005  // [m]; closer is warned of: texture, which a contact length averages away
	WideForWheelHop = 0.177  // [m]; wider cannot hold the 2.83 cycle/m up to which ISO 8608 fits
	WidestSpacing   = 1.0    // [m]; wider is refused
	LongestGap      = 5.0    // [m]; a longer gap is refused, a shorter one bridged
)

// A rise from one reading to the next that is steeper than StepSlope and higher
// than StepHeight counts as a step that a point contact would jump. Common
// practice, no source.
const (
	StepSlope  = 0.5   // [-]
	StepHeight = 0.005 // [m]
)

// FromReadings makes a profile of readings. Spacing that is uneven by more than
// 2 % of its median, and gaps, are laid on an even grid by straight lines; one
// track alone is used for both. Whatever is doubtful comes back as warnings.
// Readings that make no profile come back as Faults, all at once.
func FromReadings(r Readings) (Profile, []Warning, error) {
	var faults Faults
	add := func(kind FaultKind, first, count int, value float64, want string) {
		faults = append(faults, Fault{kind, first, count, value, want})
	}
	n := len(r.Distance)
	if n < 4 {
		add(TooFewReadings, 0, 1, float64(n), "at least 4 distances")
	}
	if len(r.Left) == 0 && len(r.Right) == 0 {
		add(NoHeights, 0, 1, 0, "heights of at least one track")
	}
	for _, z := range [][]float64{r.Left, r.Right} {
		if len(z) != 0 && len(z) != n {
			add(LengthsDiffer, min(len(z), n), 1, float64(len(z)), "as many heights as distances")
		}
	}
	scan := func(kind FaultKind, values []float64, want string, bad func(i int) bool) {
		first, count := 0, 0
		for i := range values {
			if bad(i) {
				if count == 0 {
					first = i
				}
				count++
			}
		}
		if count > 0 {
			add(kind, first, count, values[first], want)
		}
	}
	finite := func(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
	for _, values := range [][]float64{r.Distance, r.Left, r.Right} {
		scan(NotFinite, values, "a number", func(i int) bool { return !finite(values[i]) })
	}
	for _, values := range [][]float64{r.Left, r.Right} {
		scan(HeightTooGreat, values, "within 10000 m", func(i int) bool {
			return finite(values[i]) && math.Abs(values[i]) > HighestHeight
		})
	}
	scan(GoesBackwards, r.Distance, "distances that rise from reading to reading", func(i int) bool {
		return i > 0 && finite(r.Distance[i]) && finite(r.Distance[i-1]) && r.Distance[i] <= r.Distance[i-1]
	})
	if len(faults) > 0 {
		return Profile{}, nil, faults
	}

	gaps := make([]float64, n-1)
	for i := range gaps {
		gaps[i] = r.Distance[i+1] - r.Distance[i]
	}
	sorted := slices.Clone(gaps)
	slices.Sort(sorted)
	step := sorted[len(sorted)/2]
	if step < ClosestSpacing {
		add(SpacingTooClose, 0, n-1, step, "at least 0.0005 m")
	}
	if step > WidestSpacing {
		add(SpacingTooWide, 0, n-1, step, "at most 1 m")
	}
	bridged := math.Max(LongestGap, 2*step)
	scan(GapTooLong, gaps, "at most 5 m without readings", func(i int) bool { return gaps[i] > bridged })
	whole := r.Distance[n-1] - r.Distance[0]
	if whole/step > LongestGrid {
		add(TooLong, n-1, 1, whole, "at most 50 million grid points")
	}
	if !(math.Abs(r.Distance[0]) <= 1e7) || !(math.Abs(r.Distance[n-1]) <= 1e7) {
		add(TooLong, 0, 1, r.Distance[0], "distances within 1e7 m")
	}
	if len(faults) > 0 {
		return Profile{}, nil, faults
	}

	var warnings []Warning
	warn := func(kind WarningKind, value func(i int) float64, bad func(i int) bool) bool {
		w := Warning{Kind: kind}
		for i := range gaps {
			if !bad(i) {
				continue
			}
			if w.Count == 0 {
				w.At = r.Distance[i]
			}
			w.Count++
			w.Value = math.Max(w.Value, value(i))
		}
		if w.Count > 0 {
			warnings = append(warnings, w)
		}
		return w.Count > 0
	}
	gap := func(i int) float64 { return gaps[i] }
	left, right := r.Left, r.Right
	if len(left) == 0 || len(right) == 0 {
		if len(left) == 0 {
			left = right
		}
		right = left
		warnings = append(warnings, Warning{Kind: SingleTrack, At: r.Distance[0], Count: n})
	}
	if step < CloseToTexture {
		warnings = append(warnings, Warning{CloseSpacing, r.Distance[0], n - 1, step})
	}
	if step > WideForWheelHop {
		warnings = append(warnings, Warning{WideSpacing, r.Distance[0], n - 1, step})
	}
	wide := warn(GapBridged, gap, func(i int) bool { return gaps[i] > 2.5*step })
	uneven := warn(UnevenSpacing, gap, func(i int) bool {
		return gaps[i] <= 2.5*step && math.Abs(gaps[i]-step) > 0.02*step
	})
	tracks := [][]float64{left, right}
	rise := func(i int) float64 {
		return math.Max(math.Abs(left[i+1]-left[i]), math.Abs(right[i+1]-right[i]))
	}
	warn(VerticalStep, rise, func(i int) bool { return rise(i) > StepHeight && rise(i) > StepSlope*gaps[i] })
	square := 0.0
	for _, z := range tracks {
		for i, g := range gaps {
			s := (z[i+1] - z[i]) / g
			square += s * s / float64(2*len(gaps))
		}
	}
	// Class H has a slope of 0.7 in the band of the standard: a mean slope
	// above one half is most likely millimetres taken for metres.
	if mean := math.Sqrt(square); mean > 0.5 {
		warnings = append(warnings, Warning{HeightsDoubtful, r.Distance[0], n, mean})
	}

	p := Profile{Start: r.Distance[0]}
	if !wide && !uneven {
		// Rounding of the distances must not add up over a long road.
		p.Step = whole / float64(n-1)
		p.Left, p.Right = slices.Clone(left), slices.Clone(right)
		return p, warnings, nil
	}
	intervals := max(1, int(math.Round(whole/step)))
	p.Step = whole / float64(intervals)
	p.Left, p.Right = onGrid(r.Distance, left, p, intervals), onGrid(r.Distance, right, p, intervals)
	return p, warnings, nil
}

// onGrid joins readings by straight lines and reads them off at even steps.
func onGrid(distance, z []float64, p Profile, intervals int) []float64 {
	out := make([]float64, intervals+1)
	k := 0
	for i := range out {
		x := p.Start + float64(i)*p.Step
		for k < len(distance)-2 && distance[k+1] < x {
			k++
		}
		u := (x - distance[k]) / (distance[k+1] - distance[k])
		out[i] = z[k] + math.Min(math.Max(u, 0), 1)*(z[k+1]-z[k])
	}
	return out
}
