package dyno

import "math"

// leastApart is how far apart two temperatures must be to say anything [K]. Chosen.
const leastApart = 8

// fade takes each two runs of one setting and speed that differ in temperature:
//
//	s = ln(F₂/F₁)/(T₂ − T₁)
//
// Source: derived here, from a force that falls by the same share each kelvin.
func (s *Set) fade(points []point) Fade {
	var f Fade
	var list []Band
	f.Coldest, f.Hottest = math.Inf(1), math.Inf(-1)
	for i := range points {
		for j := range points[:i] {
			p, q := &points[i], &points[j]
			apart := p.run.Temperature - q.run.Temperature
			if p.run.Setting != q.run.Setting || math.Abs(p.speed/q.speed-1) > sameSpeed || !(math.Abs(apart) >= leastApart) {
				continue
			}
			f.Coldest = math.Min(f.Coldest, math.Min(p.run.Temperature, q.run.Temperature))
			f.Hottest = math.Max(f.Hottest, math.Max(p.run.Temperature, q.run.Temperature))
			bump, rebound := s.damping(p)
			wasBump, wasRebound := s.damping(q)
			for _, two := range [2][2]Band{{bump, wasBump}, {rebound, wasRebound}} {
				if two[0].Value > 0 && two[1].Value > 0 {
					h := math.Hypot(two[0].Half/two[0].Value, two[1].Half/two[1].Value) / math.Abs(apart)
					list = append(list, Band{math.Log(two[0].Value/two[1].Value) / apart, h})
				}
			}
		}
	}
	if len(list) == 0 {
		return Fade{}
	}
	f.Share, f.Pairs = pooled(list), len(list)
	return f
}
