package clicks

import (
	"math"

	"trunnion/chassis/dyno"
)

// Held is a click held out of its ladder and predicted by the others.
type Held struct {
	Setting dyno.Setting
	Stroke  dyno.Stroke
	Speed   float64 // where it is furthest off for its band [m/s]
	Off     float64 // predicted less measured [N]
	Share   float64 // of the measured force [-]
	Band    float64 // half-width of prediction and reading [N]
	Within  bool    // at every speed
}

// HoldOut predicts every click inside a ladder without its own readings.
func HoldOut(s *dyno.Set) []Held {
	var out []Held
	for _, l := range s.Ladders() {
		for k := 1; k < len(l.Curves)-1; k++ {
			out = append(out, without(s, &l, k)...)
		}
	}
	return out
}

// without predicts one click of a ladder by its others.
func without(s *dyno.Set, l *dyno.Ladder, k int) []Held {
	rest := dyno.Set{Adjusters: s.Adjusters}
	for i, c := range l.Curves {
		if i != k {
			rest.Curves = append(rest.Curves, *c)
		}
	}
	f, err := Of(&rest)
	if err != nil {
		return nil
	}
	made, err := f.Curve(l.Curves[k].Setting)
	if err != nil {
		return nil
	}
	var out []Held
	for _, stroke := range dyno.Strokes {
		worst := Held{Setting: l.Curves[k].Setting, Stroke: stroke, Within: true}
		b := l.Curves[k].Of(stroke)
		for i, v := range b.Speed {
			got, outside := made.Of(stroke).At(v)
			if outside {
				continue
			}
			off, half := got.Value-b.Force[i], math.Hypot(got.Half, b.Half[i])
			if worst.Band == 0 || math.Abs(off)*worst.Band > math.Abs(worst.Off)*half {
				worst.Speed, worst.Off, worst.Share, worst.Band = v, off, off/b.Force[i], half
			}
			worst.Within = worst.Within && math.Abs(off) <= half
		}
		out = append(out, worst)
	}
	return out
}
