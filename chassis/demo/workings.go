package demo

import (
	"math"

	"trunnion/chassis/figure"
)

// SameWorkings returns a comparison of workings that looks at each pair once, however
// many figures lead to it. Numbers that are both not known are the same.
func SameWorkings() func(a, b *figure.Working) bool {
	seen := map[[2]*figure.Working]bool{}
	var same func(a, b *figure.Working) bool
	same = func(a, b *figure.Working) bool {
		if a == nil || b == nil || seen[[2]*figure.Working{a, b}] {
			return (a == nil) == (b == nil)
		}
		seen[[2]*figure.Working{a, b}] = true
		if a.Law != b.Law || a.Equation != b.Equation || a.Note != b.Note || !sameNumber(a.Result, b.Result) ||
			len(a.Terms) != len(b.Terms) || len(a.Given) != len(b.Given) {
			return false
		}
		for i := range a.Given {
			if a.Given[i].Path != b.Given[i].Path {
				return false
			}
		}
		for i := range a.Terms {
			x, y := a.Terms[i], b.Terms[i]
			if !sameNumber(x.Value, y.Value) || !same(x.Working, y.Working) {
				return false
			}
			x.Value, x.Working, y.Value, y.Working = 0, nil, 0, nil
			if x != y {
				return false
			}
		}
		return true
	}
	return same
}

func sameNumber(a, b float64) bool { return a == b || math.IsNaN(a) && math.IsNaN(b) }
