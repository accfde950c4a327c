package main

import (
	"cmp"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"
)

// allowed is the core error up to which a setting counts.
const allowed = 0.005

// metrics are the core metrics of one run, in the order of the lines.
type metrics struct {
	floor  [2]float64    // weighted acceleration [m/s²]
	load   [4]float64    // deviation of the tyre load [N]
	travel [4][2]float64 // most and least wheel travel [m]
	force  [4]float64    // peak force at the corner [N]
}

// line is one run.
type line struct {
	solver, car, road string
	setting, sample   float64
	cost              float64 // [us/s]
	metrics           metrics
}

func read(dir string) ([]line, error) {
	files, err := filepath.Glob(filepath.Join(dir, "*.lines"))
	if err != nil {
		return nil, err
	}
	var out []line
	seen := map[string]int{}
	for _, name := range files {
		text, err := os.ReadFile(name)
		if err != nil {
			return nil, err
		}
		for row := range strings.Lines(string(text)) {
			w := strings.Fields(row)
			if len(w) != 6+18 {
				return nil, fmt.Errorf("%s: a line of %d words: %s", filepath.Base(name), len(w), row)
			}
			var n [21]float64
			for i := range n {
				if n[i], err = strconv.ParseFloat(w[i+3], 64); err != nil {
					return nil, err
				}
			}
			l := line{solver: w[0], car: w[1], road: w[2], setting: n[0], sample: n[1], cost: n[2]}
			m := &l.metrics
			copy(m.floor[:], n[3:])
			copy(m.load[:], n[5:])
			for i := range m.travel {
				m.travel[i] = [2]float64{n[9+2*i], n[10+2*i]}
			}
			copy(m.force[:], n[17:])
			key := fmt.Sprintf("%s %s %s %g %g", l.solver, l.car, l.road, l.setting, l.sample)
			if at, ok := seen[key]; ok {
				// Another round: the quicker one counts.
				out[at].cost = math.Min(out[at].cost, l.cost)
				continue
			}
			seen[key] = len(out)
			out = append(out, l)
		}
	}
	return out, nil
}

// miss is the core error of m against ref: weighted acceleration, load deviation and peak force by their own size, a
// travel extreme by the travel used.
func (m *metrics) miss(ref *metrics) float64 {
	worst := 0.0
	take := func(got, want, size float64) {
		if e := math.Abs(got-want) / math.Abs(size); !(e <= worst) {
			worst = e
		}
	}
	for k := range m.floor {
		take(m.floor[k], ref.floor[k], ref.floor[k])
	}
	for i := range m.load {
		used := ref.travel[i][0] - ref.travel[i][1]
		take(m.load[i], ref.load[i], ref.load[i])
		take(m.travel[i][0], ref.travel[i][0], used)
		take(m.travel[i][1], ref.travel[i][1], used)
		take(m.force[i], ref.force[i], ref.force[i])
	}
	return worst
}

// try is one solver at one setting over one group of cases.
type try struct {
	setting, sample float64
	cases           int
	cost            float64 // mean [us/s]
	miss            float64 // worst
	sound           bool    // within the allowed error, and not by luck
}

// group is roads or obstacles.
type group int

const (
	roads group = iota
	obstacles
)

// best is the cheapest setting of a solver within the allowed error; where there is none, the most accurate one. A setting
// counts only if every finer one tried is within too: a coarse step may meet a peak by luck. With lucky true it counts all
// the same.
func best(lines []line, refs map[[2]string]*metrics, cases []drive, solver, car string, g group, lucky bool) (try, bool) {
	found := map[[2]float64]*try{}
	want := 0
	for i := range cases {
		if cases[i].event != (g == obstacles) {
			continue
		}
		want++
		for j := range lines {
			l := &lines[j]
			if l.solver != solver || l.car != car || l.road != cases[i].name {
				continue
			}
			key := [2]float64{l.setting, l.sample}
			t := found[key]
			if t == nil {
				t = &try{setting: l.setting, sample: l.sample}
				found[key] = t
			}
			t.cases++
			t.cost += l.cost
			t.miss = math.Max(t.miss, l.metrics.miss(refs[[2]string{car, l.road}]))
		}
	}
	var all []try
	for _, t := range found {
		if t.cases == want {
			t.cost /= float64(want)
			all = append(all, *t)
		}
	}
	slices.SortFunc(all, func(a, b try) int { return cmp.Compare(a.setting, b.setting) })
	failed := map[float64]bool{}
	for i := range all {
		t := &all[i]
		failed[t.sample] = failed[t.sample] || t.miss > allowed
		t.sound = t.miss <= allowed && (lucky || !failed[t.sample])
	}
	slices.SortFunc(all, func(a, b try) int { return cmp.Compare(a.cost, b.cost) })
	for _, t := range all {
		if t.sound {
			return t, true
		}
	}
	slices.SortFunc(all, func(a, b try) int { return cmp.Compare(a.miss, b.miss) })
	if len(all) == 0 {
		return try{}, false
	}
	return all[0], false
}

var solvers = []struct{ name, title string }{
	{"cvode-bdf", "SUNDIALS CVODE, BDF, dense"},
	{"cvode-adams", "SUNDIALS CVODE, Adams"},
	{"gsl-rkf45", "GSL odeiv2, rkf45"},
	{"odeint-dopri5", "Boost odeint, dopri5 dense output"},
	{"odeint-rk4", "Boost odeint, RK4 fixed step"},
	{"rk4", "RK4 fixed step, written by hand"},
	{"engine", "**this engine, Go, all results**"},
	{"engine-rule", "the same by its own rule for the step"},
	{"twin-core", "its algorithm in C, core metrics, for this machine"},
	{"twin-full", "its algorithm in C, all results, for this machine"},
	{"twin-portable-core", "its algorithm in C, core metrics, for any amd64"},
	{"twin-portable-full", "its algorithm in C, all results, for any amd64"},
}

// head says what was measured and how.
const head = `# The ride engine beside general solvers, %s

Written by ` + "`make peers`" + `. Machine: %d cores, %s/%s; Go %s. µs/s is microseconds of one core for one second of driving,
the quickest of several runs, by the processor's clock for the process; other work on the machine can still move a figure by
some per cent.

- One car with everything nonlinear in it (digressive dampers, friction, stops with a metal end, top-outs, changing motion
  ratios, bars, a mass to one side; invented numbers), compiled once; every solver reads the same tables and computes the
  same forces. The stops give back all they take here, because a general solver has no place for a force that remembers.
- Roads: ISO 8608 class C at 10, 20, 30 and 50 m/s, 30 s each. Obstacles: a pothole 70 mm deep under the right wheels and a
  hump 100 mm high, both at 60 km/h, 3 s each. Averages are over the roads and over the obstacles.
- Error: the worst over the cases, against Runge-Kutta at 20 µs looked at every step, of the weighted acceleration at two
  points of the floor, the deviation of four tyre loads, four peak forces (each by its own size) and eight travel extremes
  (by the travel used). For each solver the cheapest setting within %g %% is shown, one for roads and one for obstacles. A
  setting counts only if every finer one tried is within too: a coarse step may happen to meet a peak.
- The peers, compiled for this very machine, take those core metrics and nothing else. The engine, compiled for any amd64,
  takes all it reports on every run: doses and running maxima, histograms, shares, hits, the energy account. Two rows of its
  algorithm in C tell the language from the extra work.
- Fixed steps read the road from samples made before, as the engine does; the others read it at any time by a cubic, and pay.

`

// table writes the page.
func table(w *strings.Builder, dir, version string) error {
	lines, err := read(dir)
	if err != nil {
		return err
	}
	cases, err := drives()
	if err != nil {
		return err
	}
	refs := map[[2]string]*metrics{}
	for i := range lines {
		if l := &lines[i]; l.solver == "reference" {
			refs[[2]string{l.car, l.road}] = &l.metrics
		}
	}
	for i := range cases {
		for _, car := range []string{"rigid", "mount"} {
			if refs[[2]string{car, cases[i].name}] == nil {
				return fmt.Errorf("no reference for %s, %s", car, cases[i].name)
			}
		}
	}
	fmt.Fprintf(w, head, version, runtime.NumCPU(), runtime.GOOS, runtime.GOARCH, strings.TrimPrefix(runtime.Version(), "go"), 100*allowed)
	costs, lucky := map[[2]string][2]float64{}, map[[2]string][2]float64{}
	for _, car := range []struct{ name, title string }{{"rigid", "Dampers bolted rigidly"}, {"mount", "Dampers in rubber mounts"}} {
		fmt.Fprintf(w, "## %s\n\n", car.title)
		fmt.Fprintln(w, "| | roads, µs/s | at | error | obstacles, µs/s | at | error | over the engine, roads | obstacles |")
		fmt.Fprintln(w, "| --- | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: |")
		var ours [2]try
		ours[roads], _ = best(lines, refs, cases, "engine", car.name, roads, false)
		ours[obstacles], _ = best(lines, refs, cases, "engine", car.name, obstacles, false)
		for _, s := range solvers {
			fmt.Fprintf(w, "| %s |", s.title)
			var ratios string
			var cost, luck [2]float64
			for _, g := range []group{roads, obstacles} {
				t, ok := best(lines, refs, cases, s.name, car.name, g, false)
				if t.cases == 0 {
					fmt.Fprint(w, " did not get through | | |")
					ratios += " |"
					continue
				}
				mark := ""
				if !ok {
					mark = " (over the bound)"
				}
				at := fmt.Sprintf("%g ms", t.setting*1e3)
				if strings.HasPrefix(s.name, "cvode") || strings.HasPrefix(s.name, "gsl") || s.name == "odeint-dopri5" {
					at = fmt.Sprintf("tol %g, every %g ms", t.setting, t.sample*1e3)
				}
				fmt.Fprintf(w, " %.0f | %s | %.2f %%%s |", t.cost, at, 100*t.miss, mark)
				ratios += fmt.Sprintf(" %.2f |", t.cost/ours[g].cost)
				cost[g] = t.cost
				t, _ = best(lines, refs, cases, s.name, car.name, g, true)
				luck[g] = t.cost
			}
			costs[[2]string{car.name, s.name}], lucky[[2]string{car.name, s.name}] = cost, luck
			fmt.Fprintln(w, ratios)
		}
		fmt.Fprintln(w)
	}
	writeRatios(w, lines, costs, lucky)
	return nil
}

// writeRatios sets the goals' ratios.
func writeRatios(w *strings.Builder, lines []line, costs, lucky map[[2]string][2]float64) {
	fmt.Fprint(w, "## Ratios\n\n| | goal | rigid, roads | rigid, obstacles | mounts, roads | mounts, obstacles |\n| --- | ---: | ---: | ---: | ---: | ---: |\n")
	row := func(title, goal string, f func(car string, g group) float64) {
		fmt.Fprintf(w, "| %s | %s |", title, goal)
		for _, car := range []string{"rigid", "mount"} {
			for _, g := range []group{roads, obstacles} {
				if r := f(car, g); r > 0 && !math.IsInf(r, 0) {
					fmt.Fprintf(w, " %.2f |", r)
				} else {
					fmt.Fprint(w, " - |")
				}
			}
		}
		fmt.Fprintln(w)
	}
	over := func(name string) func(string, group) float64 {
		return func(car string, g group) float64 {
			return costs[[2]string{car, name}][g] / costs[[2]string{car, "engine"}][g]
		}
	}
	row("CVODE BDF over the engine", "40", over("cvode-bdf"))
	row("CVODE Adams over the engine", "25", over("cvode-adams"))
	row("best fixed-step peer over the engine", "2.2", func(car string, g group) float64 {
		return math.Min(over("odeint-rk4")(car, g), over("rk4")(car, g))
	})
	row("the same, lucky settings of both let in", "", func(car string, g group) float64 {
		peer := math.Min(lucky[[2]string{car, "odeint-rk4"}][g], lucky[[2]string{car, "rk4"}][g])
		return peer / lucky[[2]string{car, "engine"}][g]
	})
	row("best general peer of all over the engine", "", func(car string, g group) float64 {
		least := math.Inf(1)
		for _, s := range solvers[:6] {
			if r := over(s.name)(car, g); r > 0 {
				least = math.Min(least, r)
			}
		}
		return least
	})
	row("best fixed-step peer over its algorithm in C, core metrics alone in both", "", func(car string, g group) float64 {
		peer := math.Min(costs[[2]string{car, "odeint-rk4"}][g], costs[[2]string{car, "rk4"}][g])
		return peer / costs[[2]string{car, "twin-core"}][g]
	})
	for _, c := range []struct{ name, title string }{
		{"twin-portable-full", "Go over C, same algorithm and results, both for any amd64, 1 ms"},
		{"twin-full", "the same, C compiled for this machine"},
	} {
		row(c.title, "1.15, mounts 1.10", func(car string, g group) float64 { return sameStep(lines, "engine", c.name, car, g) })
	}
	row("times real time on one core, thousands", "15", func(car string, g group) float64 { return 1e3 / costs[[2]string{car, "engine"}][g] })
}

// sameStep is the ratio of costs of two solvers at 1 ms.
func sameStep(lines []line, a, b, car string, g group) float64 {
	sum := func(name string) (s float64) {
		for i := range lines {
			l := &lines[i]
			event := strings.HasPrefix(l.road, "pothole") || strings.HasPrefix(l.road, "hump")
			if l.solver == name && l.car == car && l.setting == 1e-3 && event == (g == obstacles) {
				s += l.cost
			}
		}
		return s
	}
	return sum(a) / sum(b)
}
