package linkage

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// Points read to three millimetres (95 %) give a roll centre to fifteen, as package
// car takes it.
func TestRollCentreOfReadPoints(t *testing.T) {
	const half, draws, most, least = 0.003, 2000, 0.015, 0.009
	for name, corner := range map[string]Corner{"strut": strutCorner(), "wishbone": wishboneCorner(), "five-link": fiveLinkCorner()} {
		random := rand.New(rand.NewPCG(1, 2))
		read := func(p vec) vec {
			off := func() float64 { return random.NormFloat64() * half / 1.96 }
			return vec{X: p.X + off(), Y: p.Y + off(), Z: p.Z + off()}
		}
		corner.Bar = nil
		sum, squares := 0.0, 0.0
		for range draws {
			c := corner
			c.Arms, c.Rods = slices.Clone(corner.Arms), slices.Clone(corner.Rods)
			for i := range c.Arms {
				a := &c.Arms[i]
				a.Front, a.Rear, a.Ball = read(a.Front), read(a.Rear), read(a.Ball)
			}
			for i := range c.Rods {
				c.Rods[i].Inner, c.Rods[i].Outer = read(c.Rods[i].Inner), read(c.Rods[i].Outer)
			}
			if c.Strut != nil {
				s := *c.Strut
				s.Top, s.Low = read(s.Top), read(s.Low)
				c.Strut = &s
			}
			l, err := NewCorner(c)
			if err != nil {
				t.Fatal(err)
			}
			f, err := l.Figures(Parallel, 0, 0)
			if err != nil {
				t.Fatal(err)
			}
			sum += f.RollCentre
			squares += f.RollCentre * f.RollCentre
		}
		mean := sum / draws
		if got := 1.96 * math.Sqrt(squares/draws-mean*mean); got > most || got < least {
			t.Errorf("%s: the roll centre is known to ± %.1f mm", name, got*1e3)
		}
	}
}
