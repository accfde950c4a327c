package study

import "trunnion/chassis/figure"

// LoadDraws are the first draws of the car, at most n, with what a corner carries at rest
// in each with a build in a load state [N], NaN where the car has no rest; nothing without
// draws.
func (a *Answer) LoadDraws(build, load string, corner, n int) (draws []figure.Draw, loads []float64) {
	b, l, err := a.Find(build, load)
	if err != nil || a.columns == nil {
		return nil, nil
	}
	n = min(n, a.columns.samples)
	loads = a.columns.of(b, l, corner*perCorner+qLoad)[:n]
	for k := range n {
		draws = append(draws, figure.DrawOf(a.columns.table.Draw(k)))
	}
	return draws, loads
}
