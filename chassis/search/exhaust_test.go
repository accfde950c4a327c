package search

import (
	"math"
	"sort"
	"testing"

	"trunnion/chassis/spread"
)

// On a space small enough to judge every pair of choices, the pairs that a search hands on
// to be driven are as good as the best there are: in every aim within one part in a hundred,
// and 0.99 of the volume that the true front holds. Judged is what is judged before a drive,
// pair by pair: at rest in every load state, and the brief's roads by spectrum.
//
// In full (TRUNNION_STUDIES=1) there are 20,736 pairs.
func TestSearchFindsWhatExhaustionFinds(t *testing.T) {
	s := exhaustible(t)
	found, stand, looked := searched(t, s)
	all, choices := exhausted(t, s)
	for _, c := range choices {
		for axle := range 2 {
			if st := stand[axle][c[axle]/s.space.Axle[axle].Clicks()]; st.dead || len(st.short) > 0 {
				t.Errorf("pair %v holds, and its choice %d was dropped for %+v", c, axle, st.short)
			}
		}
	}
	if len(all) < 20 {
		t.Fatalf("%d pairs hold everything: too few to choose from", len(all))
	}
	best, got := ends(all), ends(found)
	for k, aim := range s.sought {
		if d := got[k] - best[k]; d > 0.01*math.Abs(best[k]) {
			t.Errorf("%s: the best found is %.4g, of all it is %.4g", Aims[aim], got[k], best[k])
		}
	}
	corner := worst(all)
	whole, part := volume(all, corner), volume(found, corner)
	if !(part >= 0.99*whole) {
		t.Errorf("what was found holds %.4f of the volume of the true front, want 0.99", part/whole)
	}
	t.Logf("%d of %.0f pairs hold everything; found with %d looked at: %.4f of the volume; best %.4v, found %.4v", len(all), s.space.Size(), looked, part/whole, best, got)
}

// exhaustible is a search of a space small enough that every pair of choices can be judged.
func exhaustible(t *testing.T) *seeker {
	t.Helper()
	a := adjustable(t, 60)
	opt := Usual()
	opt.Workers = 2
	space := small(t, a, 3, 2, 1, 3)
	opt.Standing, opt.Kept, opt.Rested, opt.Rounds = 6, 9, 60, 1
	if studies() {
		space = small(t, a, 6, 4, 2, 3)
		opt.Standing, opt.Kept, opt.Rested, opt.Rounds = 48, 40, 240, 2
	}
	must := UsualMust()
	// The brief's strictest limits go, so that something is left to choose from.
	must.Without = []string{"tyre-meets-arch-first", "coils-touch-first"}
	s, err := newSeeker(a, &space, &must, opt, nil)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// searched are the pairs that a search hands on and that hold everything.
func searched(t *testing.T, s *seeker) (points [][]float64, stand [2][]stood, looked int) {
	t.Helper()
	out := new(Found)
	stand, kept, err := s.axles(t.Context(), out)
	if err != nil {
		t.Fatal(err)
	}
	list, err := s.pairs(t.Context(), stand, kept, out)
	if err != nil {
		t.Fatal(err)
	}
	points, _ = s.holdingOf(t, list)
	return points, stand, out.Steps[1].Looked
}

// exhausted are all pairs of a space that hold everything.
func exhausted(t *testing.T, s *seeker) (points [][]float64, choices [][2]int) {
	t.Helper()
	var list []candidate
	for f := range s.space.Axle[0].Size() {
		for r := range s.space.Axle[1].Size() {
			list = append(list, candidate{choice: [2]int{f, r}})
		}
	}
	err := spread.Each(t.Context(), len(list), s.opt.Workers, func(_, k int) {
		w := s.screen(list[k].choice, s.roads)
		list[k].figures, list[k].dead = w.Figures, w.Dead
	})
	if err != nil {
		t.Fatal(err)
	}
	return s.holdingOf(t, list)
}

// holdingOf judges pairs at rest, each as it is, and keeps those that hold everything.
func (s *seeker) holdingOf(t *testing.T, list []candidate) (points [][]float64, choices [][2]int) {
	t.Helper()
	holds := make([]bool, len(list))
	err := spread.Each(t.Context(), len(list), s.opt.Workers, func(_, k int) {
		for _, loads := range s.loads {
			short, ok, err := s.rested(t.Context(), list[k].choice, loads)
			if holds[k] = err == nil && ok && len(short) == 0 && !list[k].dead; !holds[k] {
				return
			}
		}
	})
	if err != nil {
		t.Fatal(err)
	}
	for k := range list {
		if holds[k] {
			points, choices = append(points, list[k].figures.sought(s.sought, s.bench.dear(list[k].choice))), append(choices, list[k].choice)
		}
	}
	return points, choices
}

func ends(list [][]float64) []float64 {
	out := append([]float64(nil), list[0]...)
	for _, p := range list {
		for k := range p {
			out[k] = math.Min(out[k], p[k])
		}
	}
	return out
}

// worst is the corner that volumes are measured to: a little past the worst of every aim.
func worst(list [][]float64) []float64 {
	low, out := ends(list), append([]float64(nil), list[0]...)
	for _, p := range list {
		for k := range p {
			out[k] = math.Max(out[k], p[k])
		}
	}
	for k := range out {
		out[k] += 0.01*(out[k]-low[k]) + 1e-12
	}
	return out
}

// volume is what points hold of the box up to a corner, slice by slice along the last aim.
//
// Source: E. Zitzler, L. Thiele, Multiobjective optimization using evolutionary algorithms,
// PPSN V (1998), the measure; slicing derived here.
func volume(points [][]float64, corner []float64) float64 {
	m := len(corner)
	var inside [][]float64
	for _, p := range points {
		ok := true
		for k := range m {
			ok = ok && p[k] < corner[k]
		}
		if ok {
			inside = append(inside, p)
		}
	}
	if len(inside) == 0 {
		return 0
	}
	if m == 1 {
		return corner[0] - ends(inside)[0]
	}
	sort.Slice(inside, func(i, j int) bool { return inside[i][m-1] < inside[j][m-1] })
	sum := 0.0
	var slice [][]float64
	for k, p := range inside {
		slice = front(append(slice, p[:m-1]))
		end := corner[m-1]
		if k+1 < len(inside) {
			end = inside[k+1][m-1]
		}
		if end > p[m-1] {
			sum += volume(slice, corner[:m-1]) * (end - p[m-1])
		}
	}
	return sum
}

// front drops what others beat.
func front(list [][]float64) [][]float64 {
	var ones []one
	for k, p := range list {
		ones = append(ones, one{p, 0, k})
	}
	var out [][]float64
	for i := range ones {
		beaten := false
		for j := range ones {
			beaten = beaten || ones[j].beats(&ones[i])
		}
		if !beaten {
			out = append(out, list[i])
		}
	}
	return out
}

// The measure itself, on shapes whose volume is known: one point, and steps.
func TestVolume(t *testing.T) {
	for _, row := range []struct {
		points [][]float64
		corner []float64
		want   float64
	}{
		{[][]float64{{0.5, 0.5}}, []float64{1, 1}, 0.25},
		{[][]float64{{0, 0.75}, {0.25, 0.5}, {0.5, 0}}, []float64{1, 1}, 0.25*0.25 + 0.25*0.5 + 0.5*1},
		{[][]float64{{0, 0, 0.5}, {0.5, 0.5, 0}}, []float64{1, 1, 1}, 0.5 + 0.25*0.5},
		{[][]float64{{0.2, 0.2, 0.2, 0.2}, {0.2, 0.2, 0.2, 0.9}}, []float64{1, 1, 1, 1}, 0.8 * 0.8 * 0.8 * 0.8},
	} {
		if got := volume(row.points, row.corner); math.Abs(got-row.want) > 1e-12 {
			t.Errorf("%v: %v, want %v", row.points, got, row.want)
		}
	}
}
