package dyno

import (
	"math"
	"slices"
)

// Fault is what is wrong with a step of an adjuster.
type Fault string

// The faults of a ladder of clicks.
const (
	Dead       Fault = "dead"        // a step worth less than a tenth of the ladder's median step
	Stuck      Fault = "stuck"       // several dead steps in a row
	Reversed   Fault = "reversed"    // closing makes it softer
	Uneven     Fault = "uneven"      // a step worth several of its neighbours'
	NotWorking Fault = "not-working" // less than 10 % over five clicks at every speed: to the owner it does nothing. Common practice, no source
)

// Limits of the faults. Common practice, no source, but for unevenSteps, which is
// chosen: needles change most near closed, where a step may well be twice the next.
const (
	unevenSteps  = 3.0  // times the median of the other steps [-]
	deadShare    = 0.10 // of the median step of the ladder [-]
	workingSpan  = 5    // clicks [-]
	workingShare = 0.10 // of the force [-]
)

// StepFault is a fault of an adjuster between two of its clicks, the others as Setting
// says.
type StepFault struct {
	Fault      Fault
	Adjuster   int
	Setting    Setting // of the softer end
	Soft, Hard int     // clicks from closed [-]
	Stroke     Stroke
	Speed      float64 // where it shows most [m/s]
	Change     Band    // of force from Soft to Hard, there [N]
}

// Ladder is the curves along one adjuster, the others held, from closed to open.
type Ladder struct {
	Adjuster int
	Clicks   []int
	Curves   []*Curve
}

// Ladders are all ladders of two and more clicks in a set.
func (s *Set) Ladders() []Ladder {
	var out []Ladder
	for a := range s.Adjusters {
		groups := map[Setting][]*Curve{}
		var order []Setting
		for i := range s.Curves {
			c := &s.Curves[i]
			key := c.Setting
			key[a] = 0
			if groups[key] == nil {
				order = append(order, key)
			}
			groups[key] = append(groups[key], c)
		}
		for _, key := range order {
			list := groups[key]
			if len(list) < 2 {
				continue
			}
			slices.SortFunc(list, func(p, q *Curve) int { return p.Setting[a] - q.Setting[a] })
			l := Ladder{Adjuster: a, Curves: list}
			for _, c := range list {
				l.Clicks = append(l.Clicks, c.Setting[a])
			}
			out = append(out, l)
		}
	}
	return out
}

// speeds are those at which all curves of a ladder were measured, of its first curve's.
func (l *Ladder) speeds(stroke Stroke) []float64 {
	var out []float64
	for _, v := range l.Curves[0].Of(stroke).Speed {
		all := true
		for _, c := range l.Curves {
			all = all && v <= c.Of(stroke).Top()*(1+sameSpeed)
		}
		if all {
			out = append(out, v)
		}
	}
	return out
}

// step is the change of force [N] from click k+1 to the harder click k at a speed
// [m/s]. The half-width is of the scatter only: gas and friction are the same in both.
func (l *Ladder) step(k int, stroke Stroke, speed float64) Band {
	hard, _ := l.Curves[k].Of(stroke).At(speed)
	soft, _ := l.Curves[k+1].Of(stroke).At(speed)
	return Band{hard.Value - soft.Value, math.Hypot(hard.Half, soft.Half)}
}

// Faults are the faults of an adjuster in each stroke it acts on.
func (s *Set) Faults() []StepFault {
	var out []StepFault
	for _, l := range s.Ladders() {
		for _, stroke := range Strokes {
			acts := s.Adjusters[l.Adjuster].Acts
			if acts != OnBoth && string(acts) != string(stroke) {
				continue
			}
			out = append(out, l.faults(stroke)...)
		}
	}
	return merged(out)
}

// stepOf is one step at the speed at which it shows most.
type stepOf struct {
	share  float64 // of the softer force, by click [-]
	change Band
	speed  float64
	span   int
}

func (l *Ladder) faults(stroke Stroke) []StepFault {
	speeds := l.speeds(stroke)
	if len(speeds) == 0 {
		return nil
	}
	steps := make([]stepOf, len(l.Curves)-1)
	var sizes []float64
	for k := range steps {
		best := stepOf{span: l.Clicks[k+1] - l.Clicks[k]}
		var shares []float64
		for _, v := range speeds {
			d := l.step(k, stroke, v)
			soft, _ := l.Curves[k+1].Of(stroke).At(v)
			share := d.Value / math.Max(soft.Value, 1) / float64(best.span)
			shares = append(shares, share)
			if math.Abs(share) >= math.Abs(best.share) {
				best.share, best.change, best.speed = share, d, v
			}
		}
		best.share = median(shares)
		steps[k] = best
		sizes = append(sizes, best.share)
	}
	typical := median(slices.Clone(sizes))
	at := func(f Fault, k, to int) StepFault {
		return StepFault{f, l.Adjuster, l.Curves[to].Setting, l.Clicks[to], l.Clicks[k], stroke, steps[k].speed, steps[k].change}
	}
	var out []StepFault
	if l.idle(stroke, speeds) {
		one := at(NotWorking, 0, len(steps))
		return append(out, one)
	}
	dead := func(k int) bool { return math.Abs(sizes[k]) < deadShare*math.Abs(typical) }
	for k := 0; k < len(steps); k++ {
		switch {
		case dead(k):
			to := k + 1
			for to < len(steps) && dead(to) {
				to++
			}
			f := Dead
			if to-k > 1 {
				f = Stuck
			}
			out = append(out, at(f, k, to))
			k = to - 1
		case steps[k].change.Value < -steps[k].change.Half && sizes[k] < 0:
			out = append(out, at(Reversed, k, k+1))
		case uneven(sizes, k):
			out = append(out, at(Uneven, k, k+1))
		}
	}
	return out
}

// uneven reports a step several times as large as both of its neighbours.
func uneven(sizes []float64, k int) bool {
	most := 0.0
	for _, j := range []int{k - 1, k + 1} {
		if j >= 0 && j < len(sizes) {
			most = math.Max(most, math.Abs(sizes[j]))
		}
	}
	others := slices.Delete(slices.Clone(sizes), k, k+1)
	return len(sizes) > 2 && math.Abs(sizes[k]) > unevenSteps*most && math.Abs(sizes[k]) > unevenSteps*math.Abs(median(others))
}

// idle reports an adjuster whose force changes by less than a tenth over five clicks,
// wherever they are taken.
func (l *Ladder) idle(stroke Stroke, speeds []float64) bool {
	looked := false
	for i := range l.Clicks {
		for j := i + 1; j < len(l.Clicks); j++ {
			if l.Clicks[j]-l.Clicks[i] < workingSpan {
				continue
			}
			looked = true
			for _, v := range speeds {
				hard, _ := l.Curves[i].Of(stroke).At(v)
				soft, _ := l.Curves[j].Of(stroke).At(v)
				if math.Abs(hard.Value-soft.Value) > workingShare*float64(l.Clicks[j]-l.Clicks[i])/workingSpan*math.Abs(soft.Value) {
					return false
				}
			}
			break
		}
	}
	return looked
}

// merged puts one fault of both strokes of a single knob together: it is said once,
// where it shows most.
func merged(list []StepFault) []StepFault {
	var out []StepFault
	for _, f := range list {
		i := slices.IndexFunc(out, func(g StepFault) bool {
			return g.Fault == f.Fault && g.Adjuster == f.Adjuster && g.Setting == f.Setting && g.Hard == f.Hard
		})
		switch {
		case i < 0:
			out = append(out, f)
		case math.Abs(f.Change.Value) > math.Abs(out[i].Change.Value):
			out[i] = f
		}
	}
	return out
}
