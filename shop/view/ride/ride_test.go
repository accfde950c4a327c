package ride

import (
	"math"
	"slices"
	"testing"

	"trunnion/shop/view"
)

// TestThinned: a needle of one moment stays, lines keep their moments in common,
// and a long line becomes a short one.
func TestThinned(t *testing.T) {
	const n = 5000
	c := view.Chart{Series: make([]view.Series, 2)}
	for k := range c.Series {
		for i := range n {
			c.Series[k].X = append(c.Series[k].X, float64(i)*1e-3)
			c.Series[k].Y = append(c.Series[k].Y, math.Sin(float64(i)/300+float64(k)))
		}
	}
	c.Series[1].Y[2718] = 1566
	c.Series[0].Y[314] = -9
	thinned(&c, 70)
	if got := slices.Max(c.Series[1].Y); got != 1566 {
		t.Errorf("the peak is drawn as %g, want 1566", got)
	}
	if got := slices.Min(c.Series[0].Y); got != -9 {
		t.Errorf("the trough is drawn as %g, want -9", got)
	}
	if !slices.Equal(c.Series[0].X, c.Series[1].X) || len(c.Series[0].X) > 4*70+10 || len(c.Series[0].X) < 70 {
		t.Errorf("%d and %d points", len(c.Series[0].X), len(c.Series[1].X))
	}
	if c.Series[0].X[0] != 0 || math.Abs(c.Series[0].X[len(c.Series[0].X)-1]-(n-1)*1e-3) > 1e-12 {
		t.Error("the ends are not drawn")
	}
	one := view.Chart{Series: []view.Series{{X: []float64{1}, Y: []float64{2}}, {}}}
	thinned(&one, 70)
	thinned(&view.Chart{}, 70)
	if len(one.Series[0].X) != 1 {
		t.Errorf("one point became %d", len(one.Series[0].X))
	}
}
