package linkage

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"trunnion/chassis/geom"
)

// Points from anywhere end in figures or in a fault, never in a panic, and what
// is called a figure is a number and keeps the links' lengths.
func TestWildPoints(t *testing.T) {
	answered := 0
	rapid.Check(t, func(t *rapid.T) {
		off := func(p *geom.Vec) {
			for _, x := range []*float64{&p.X, &p.Y, &p.Z} {
				*x += rapid.Float64Range(-0.25, 0.25).Draw(t, "off")
			}
		}
		specs := []Corner{strutCorner(), wishboneCorner(), fiveLinkCorner(), integralCorner(), trailingCorner()}
		c := specs[rapid.IntRange(0, len(specs)-1).Draw(t, "kind")]
		points := []*geom.Vec{&c.Wheel.Centre}
		for i := range c.Arms {
			points = append(points, &c.Arms[i].Front, &c.Arms[i].Rear, &c.Arms[i].Ball)
		}
		for i := range c.Rods {
			points = append(points, &c.Rods[i].Inner, &c.Rods[i].Outer)
		}
		if c.Strut != nil {
			points = append(points, &c.Strut.Top, &c.Strut.Low)
		}
		if c.Pivots != nil {
			points = append(points, &c.Pivots.Inner, &c.Pivots.Outer)
		}
		if c.Spring != nil {
			points = append(points, &c.Spring.Top, &c.Spring.Low)
		}
		for range rapid.IntRange(1, 4).Draw(t, "moved") {
			off(points[rapid.IntRange(0, len(points)-1).Draw(t, "point")])
		}
		l, err := NewCorner(c)
		if err != nil {
			return
		}
		curves, err := l.Sweep(Parallel, Travels(-0.25, 0.25, 21), 0)
		if err != nil {
			t.Fatalf("a sweep of a linkage that was made: %v", err)
		}
		for i := range curves.Points {
			p := &curves.Points[i]
			for _, x := range []float64{p.Camber, p.Toe, p.Spring.Travel, p.Spring.Ratio, p.Contact.Y} {
				if math.IsNaN(x) {
					t.Fatalf("at %g m a figure is no number: %+v", p.Travel, p)
				}
			}
			if d := p.Centre.Z - c.Wheel.Centre.Z - p.Travel; math.Abs(d) > 1e-9 {
				t.Fatalf("the wheel is %g m off its travel", d)
			}
		}
		answered += len(curves.Points)
	})
	if answered < 100 {
		t.Errorf("only %d points were looked at", answered)
	}
}
