package search

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/optimize"
)

// Against what looks at random and against general optimisers, with as many builds looked
// at: on the small space, whose every pair is judged beforehand, so that what a rival asks
// for is looked up. A general optimiser knows one figure: it is started for several weights
// of the aims, and what does not hold is far away. The share is that of the volume of the
// true front, the mean of several seeds.
//
// In full (TRUNNION_STUDIES=1) the space is that of TestSearchFindsWhatExhaustionFinds.
func TestSearchIsAheadOfGeneralOnes(t *testing.T) {
	s := exhaustible(t)
	space, seeds := s.space, uint64(5)
	if studies() {
		seeds = 20
	}
	found, _, looked := searched(t, s)
	looked += space.Axle[0].static() + space.Axle[1].static() // at rest, axle by axle
	for axle := range 2 {
		looked += min(s.opt.Standing, space.Axle[axle].static()) * space.Axle[axle].Clicks() // over a road
	}
	points, choices := exhausted(t, s)
	at := map[[2]int][]float64{}
	for k, c := range choices {
		at[c] = points[k]
	}
	low, corner := ends(points), worst(points)
	whole := volume(points, corner)
	share := func(seen map[[2]int]bool) float64 {
		var list [][]float64
		for c := range seen {
			if p := at[c]; p != nil {
				list = append(list, p)
			}
		}
		return volume(list, corner) / whole
	}
	ours := volume(found, corner) / whole
	t.Logf("| looked at | share of the true front's volume |")
	t.Logf("| the search: %d of %.0f pairs and choices | %.4f |", looked, space.Size(), ours)
	for _, rival := range []struct {
		name string
		look func(random *rand.Rand, seen map[[2]int]bool, n int)
	}{
		{"at random", func(random *rand.Rand, seen map[[2]int]bool, n int) {
			for len(seen) < min(n, int(space.Size())) {
				seen[[2]int{random.IntN(space.Axle[0].Size()), random.IntN(space.Axle[1].Size())}] = true
			}
		}},
		{"evolution of a covariance (CMA-ES)", func(random *rand.Rand, seen map[[2]int]bool, n int) {
			optimised(space, random, seen, n, at, low, corner, func(src *rand.Rand) optimize.Method {
				return &optimize.CmaEsChol{InitStepSize: 0.3, Src: src}
			})
		}},
		{"simplex (Nelder and Mead), begun anew", func(random *rand.Rand, seen map[[2]int]bool, n int) {
			optimised(space, random, seen, n, at, low, corner, func(*rand.Rand) optimize.Method {
				return &optimize.NelderMead{SimplexSize: 0.3}
			})
		}},
	} {
		mean := 0.0
		for seed := range seeds {
			seen := map[[2]int]bool{}
			rival.look(rand.New(rand.NewPCG(seed, 7)), seen, looked)
			mean += share(seen) / float64(seeds)
		}
		t.Logf("| %s: as many | %.4f |", rival.name, mean)
		if !(ours > mean) && looked < int(space.Size())/2 {
			t.Errorf("%s finds %.4f of the volume, the search %.4f", rival.name, mean, ours)
		}
	}
}

// optimised looks at n builds by a general optimiser over the places of a choice in its
// lists, each from 0 to 1: for one weighting of the aims after the other.
func optimised(space *Space, random *rand.Rand, seen map[[2]int]bool, n int, at map[[2]int][]float64, low, corner []float64, method func(*rand.Rand) optimize.Method) {
	const runs = 8
	lists := func(axle int) [6]int {
		x := &space.Axle[axle]
		return [6]int{len(x.Springs), len(x.Heights), len(x.Stops), len(x.Packers), len(x.Holes), x.Clicks()}
	}
	asked := 0
	for run := range runs {
		weight := make([]float64, len(low))
		for k := range weight {
			weight[k] = random.ExpFloat64()
		}
		last := (run + 1) * n / runs
		f := func(u []float64) float64 {
			if asked >= last {
				return 0
			}
			asked++
			var choice [2]int
			for axle := range 2 {
				var p [6]int
				for k, size := range lists(axle) {
					p[k] = min(max(int(math.Floor(u[6*axle+k]*float64(size))), 0), size-1)
				}
				choice[axle] = space.Axle[axle].number(pick{spring: p[0], height: p[1], stop: p[2], packer: p[3], hole: p[4], click: p[5]})
			}
			seen[choice] = true
			point := at[choice]
			if point == nil {
				return 100
			}
			sum := 0.0
			for k := range point {
				sum += weight[k] * (point[k] - low[k]) / (corner[k] - low[k])
			}
			return sum
		}
		for asked < last {
			from := make([]float64, 12)
			for k := range from {
				from[k] = random.Float64()
			}
			was := asked
			_, _ = optimize.Minimize(optimize.Problem{Func: f}, from, &optimize.Settings{FuncEvaluations: last - asked, Concurrent: 1}, method(random)) // it stops at the last look, and that is all there is to it
			if asked == was {
				break
			}
		}
	}
}
