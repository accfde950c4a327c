package dyno

import "math"

// PeakSpeed is the highest speed of a sine [m/s]: π·stroke·frequency, of a stroke
// from end to end [m] and turns in a second [Hz].
func PeakSpeed(stroke, frequency float64) float64 { return math.Pi * stroke * frequency }

// consistency holds the runs against themselves.
func (s *Set) consistency(runs []*Run, points []point) []Check {
	var out []Check
	add := func(c Check) {
		c.Failed = !(math.Abs(c.Off) <= MostOff)
		out = append(out, c)
	}
	by := map[string]*Loop{}
	for i := range s.Loops {
		by[s.Loops[i].From] = &s.Loops[i]
	}
	for _, r := range runs {
		l := by[r.From]
		if l == nil || l.Turn == 0 {
			continue
		}
		add(Check{Rule: WorkAndPower, From: r.From, Setting: r.Setting, Speed: l.Speed, Off: l.MeanPower*l.Turn/l.Work - 1})
		frequency := r.Frequency
		if frequency == 0 {
			frequency = 1 / l.Turn
		}
		add(Check{Rule: CrankSpeed, From: r.From, Setting: r.Setting, Speed: l.Speed, Off: l.Speed/PeakSpeed(l.Stroke, frequency) - 1})
	}
	for i := range points {
		for j := range points[:i] {
			p, q := &points[i], &points[j]
			if p.run == q.run || p.run.Setting != q.run.Setting || s.away(p.run) || s.away(q.run) || math.Abs(p.speed/q.speed-1) > sameSpeed {
				continue
			}
			bump, rebound := s.damping(p)
			wasBump, wasRebound := s.damping(q)
			add(Check{RepeatedSpeed, p.run.From, p.run.Setting, Bump, p.speed, bump.Value/wasBump.Value - 1, false})
			add(Check{RepeatedSpeed, p.run.From, p.run.Setting, Rebound, p.speed, rebound.Value/wasRebound.Value - 1, false})
		}
	}
	for i := range s.Curves {
		for _, stroke := range Strokes {
			b := s.Curves[i].Of(stroke)
			for k := 1; k < len(b.Speed); k++ {
				if fall := b.Force[k-1] - b.Force[k]; fall > math.Hypot(b.Half[k], b.Half[k-1]) {
					out = append(out, Check{Rising, "", s.Curves[i].Setting, stroke, b.Speed[k], -fall / b.Force[k-1], true})
				}
			}
			if len(b.Force) > 0 && b.Force[0] < -b.Half[0] {
				out = append(out, Check{Rising, "", s.Curves[i].Setting, stroke, b.Speed[0], -1, true})
			}
		}
	}
	return out
}
