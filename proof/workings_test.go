package proof

import (
	"context"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"trunnion/chassis/drives"

	"trunnion/chassis/car"
	"trunnion/chassis/figure"
	"trunnion/chassis/study"
	"trunnion/shop/jobfile"
)

// worked are the examples, the jobs of the other tests, and one typed for these.
func worked(t testing.TB) map[string][]byte {
	out := jobs(t)
	out["oddments.yaml"] = readText(t, "testdata/oddments.yaml")
	return out
}

// studied answers a job with workings and without bands.
func studied(ctx context.Context, job *jobfile.Job, drive bool) (*study.Answer, error) {
	opt := study.Defaults()
	opt.Samples, opt.Workers, opt.NoRemedies, opt.Lowering = 0, 1, true, nil
	a, err := study.Run(ctx, study.Job{Car: job.Car, Builds: job.Builds, Loads: job.Loads, Brief: &job.Brief}, opt)
	if err != nil || !drive {
		return a, err
	}
	ride := drives.Defaults()
	ride.Samples, ride.Duration, ride.Settle, ride.Unchecked = 2, 3, 1, true
	return a, drives.Ride(ctx, a, ride, nil)
}

func read(t testing.TB, text []byte) *jobfile.Job {
	t.Helper()
	job, faults := jobfile.ReadBytes(text, "job.yaml")
	if job == nil {
		t.Fatal(&refusedError{faults})
	}
	return job
}

// lawOf names the equation of a working: its code, or what stands before the sign.
func lawOf(w *figure.Working) string {
	if w.Law != "" {
		return w.Law
	}
	left, _, _ := strings.Cut(w.Equation, "=")
	return strings.TrimSpace(left)
}

// visit goes through a working and those behind it, each once.
func visit(w *figure.Working, seen map[*figure.Working]bool, call func(w *figure.Working)) {
	if w == nil || seen[w] {
		return
	}
	seen[w] = true
	call(w)
	for i := range w.Terms {
		visit(w.Terms[i].Working, seen, call)
	}
}

// close reports that two numbers are one, but for rounding.
func closeTo(a, b float64) bool {
	return a == b || math.Abs(a-b) <= 1e-8*math.Max(math.Abs(a), math.Abs(b))+1e-11
}

// TestOneEquationPerCode wants every working of every job to evaluate the equation
// that the register has for its code to the value, and an equation that is no
// result's to be one of its code alone.
func TestOneEquationPerCode(t *testing.T) {
	wrong, open := map[string]string{}, map[string]string{}
	equations := map[string]string{}
	seen, count := map[*figure.Working]bool{}, 0
	for name, text := range worked(t) {
		a, err := studied(t.Context(), read(t, text), true)
		if err != nil {
			t.Fatal(err)
		}
		for i := range a.Values {
			v := &a.Values[i]
			if v.Working == nil {
				continue
			}
			if e := figure.Must(v.Code); v.Working.Law != v.Code || v.Working.Equation != e.Equation || v.Working.Unit != e.Unit || v.Working.Source != e.Source {
				wrong[v.Code] = fmt.Sprintf("%s: the register has %q, the working %q", name, e.Equation, v.Working.Equation)
			}
			if !closeTo(v.Value, v.Working.Result) {
				open[v.Code] = fmt.Sprintf("%s %s: the working gives %.12g, the value is %.12g", name, placeOf(&v.Place), v.Working.Result, v.Value)
			}
			visit(v.Working, seen, func(w *figure.Working) {
				count++
				got, err := w.Evaluate()
				if err != nil || !closeTo(got, w.Result) {
					open[lawOf(w)] = fmt.Sprintf("%s %s %s: %q gives %.12g (%v), it says %.12g", name, v.Code, placeOf(&v.Place), w.Equation, got, err, w.Result)
				}
				key := lawOf(w)
				if e, ok := equations[key]; ok && e != w.Equation+w.Unit+w.Source {
					wrong[key] = fmt.Sprintf("%s: %q and %q", name, e, w.Equation+w.Unit+w.Source)
				}
				equations[key] = w.Equation + w.Unit + w.Source
				if w.Law == "" {
					wrong[key] = fmt.Sprintf("%s: %q has no code", name, w.Equation)
				}
			})
		}
	}
	if count < 5000 {
		t.Errorf("%d workings were looked at", count)
	}
	shrink(t, open, nil, "")
	shrink(t, wrong, twoEquations, "has one equation now")
}

// shrink compares faults with the list of those that are known: a new one fails, and
// one that is gone fails until it is taken off the list.
func shrink(t *testing.T, faults map[string]string, known []string, gone string) {
	t.Helper()
	for _, key := range slices.Sorted(maps.Keys(faults)) {
		if !slices.Contains(known, key) {
			t.Errorf("%s: %s", key, faults[key])
		}
	}
	for _, key := range known {
		if _, there := faults[key]; !there {
			t.Errorf("%s %s: take it off the list", key, gone)
		}
	}
}

// walk goes through a working and those behind it, each once, and tells whether it
// stands under one that says what its solution was given.
func walk(w *figure.Working, under bool, seen map[*figure.Working]bool, call func(w *figure.Working, under bool)) {
	if w == nil || seen[w] {
		return
	}
	seen[w] = true
	call(w, under || len(w.Given) > 0)
	for i := range w.Terms {
		walk(w.Terms[i].Working, under || w.Solves != "", seen, call)
	}
}

// leaf says what is wrong with a term that has no working; empty for nothing.
func leaf(w *figure.Working, x *figure.Term, basis map[string]string, under bool) string {
	switch x.Origin {
	case figure.Measured, figure.Makers, figure.Chosen:
		if x.Path != "" || w.Solves != "" {
			return ""
		}
		return "is " + string(x.Origin) + " and does not say where"
	case figure.Estimated:
		if x.Basis != "" || basis[x.Path] != "" || x.Line > 0 {
			return ""
		}
		return "is an estimate without a basis"
	case figure.Constant:
		if x.Path != "" {
			return ""
		}
		return "is a constant without a source"
	case figure.Solved:
		if under || x.Symbol == w.Solves {
			return ""
		}
		return "is solved and nothing says from what"
	case figure.Computed:
		if x.Line > 0 {
			return "" // from points or a table that are typed there
		}
		return "is computed and nothing says how"
	case "":
		if x.Value == 0 {
			return "" // not given, taken as none
		}
	}
	return "has no origin"
}

// TestWorkingsReachTheJob walks from every figure down to where it comes from: a
// leaf is typed, estimated with its basis, a constant with its source, or solved
// together with others from inputs that are listed.
func TestWorkingsReachTheJob(t *testing.T) {
	faults := map[string]string{}
	for name, text := range worked(t) {
		job := read(t, text)
		a, err := studied(t.Context(), job, true)
		if err != nil {
			t.Fatal(err)
		}
		basis := map[string]string{}
		for i := range job.Filled {
			basis[job.Filled[i].Path] = job.Filled[i].Basis
		}
		seen := map[*figure.Working]bool{}
		for i := range a.Values {
			v := &a.Values[i]
			if v.Working == nil {
				if v.State != figure.Unknown {
					faults[v.Code] = "it has no working"
				}
				continue
			}
			walk(v.Working, false, seen, func(w *figure.Working, under bool) {
				for k := range w.Terms {
					x := &w.Terms[k]
					if x.Working != nil {
						continue
					}
					if what := leaf(w, x, basis, under); what != "" {
						faults[lawOf(w)+"."+x.Symbol] = fmt.Sprintf("%s %s: %s %s", name, v.Code, x.Name, what)
					}
				}
			})
		}
	}
	shrink(t, faults, loose, "is known now")
}

// turned is a number of a job that is changed by a little.
type turned struct {
	path   string
	change func()
	back   func()
}

// numbers are all numbers of a job that its study computes with.
func numbers(job *jobfile.Job) []turned {
	var out []turned
	places := map[string]int{}
	add := func(in *figure.Input) {
		if !in.Known() {
			return
		}
		// What was said once of two sides stands in both: it is one number.
		if k, ok := places[in.Path]; ok {
			first, was := out[k], in.Value
			out[k].change = func() { first.change(); in.Value = bumped(was) }
			out[k].back = func() { first.back(); in.Value = was }
			return
		}
		was := in.Value
		places[in.Path] = len(out)
		out = append(out, turned{in.Path, func() { in.Value = bumped(was) }, func() { in.Value = was }})
	}
	figure.Walk(&struct {
		Car    *car.Car
		Builds []*car.Build
		Loads  []car.Load
	}{job.Car, job.Builds, job.Loads}, add)
	for a := range 2 {
		for _, m := range []*car.Motion{&job.Car.Axle[a].Spring, &job.Car.Axle[a].Damper} {
			if m.Curve != nil {
				continue // from points, which are no numbers of the study's own
			}
			was := slices.Clone(m.Part)
			path := m.Path
			delete(places, path)
			out = slices.DeleteFunc(out, func(x turned) bool { return x.path == path })
			set := func(q float64) {
				for k := range was {
					m.Part[k] = q * was[k]
				}
				z := m.Z
				if m.FitTable() != nil {
					panic("a table that was one is none")
				}
				m.Z = z
			}
			out = append(out, turned{path, func() { set(1 + little) }, func() { set(1) }})
		}
	}
	return out
}

const little = 1e-4

func bumped(v float64) float64 {
	if v == 0 {
		return 1e-5
	}
	return v * (1 + little)
}

// reach is where a working leads: the inputs of its equations, and those that a
// solution behind it was given.
type reach struct{ exact, given map[string]bool }

func (r *reach) of(w *figure.Working, seen map[*figure.Working]*reach) *reach {
	if got, ok := seen[w]; ok {
		return got
	}
	out := &reach{map[string]bool{}, map[string]bool{}}
	seen[w] = out
	for _, in := range w.Given {
		out.given[in.Path] = true
	}
	for i := range w.Terms {
		x := &w.Terms[i]
		if x.Path != "" {
			out.exact[x.Path] = true
		}
		if x.Working == nil {
			continue
		}
		under := r.of(x.Working, seen)
		maps.Copy(out.exact, under.exact)
		maps.Copy(out.given, under.given)
	}
	return out
}

// TestWorkingsLeadToWhatMoves changes each number of a job by a little and wants
// exactly the figures, and the terms of their workings, to move that lead to it.
// What a solution was given may move it or not; nothing else may.
func TestWorkingsLeadToWhatMoves(t *testing.T) {
	faults, idle := map[string]string{}, map[string]string{}
	all := worked(t)
	for _, name := range slices.Sorted(maps.Keys(all)) {
		if !full() && !slices.Contains([]string{"oddments.yaml", "table.yaml", "wend-roadster/measured.yaml"}, name) {
			continue
		}
		job := read(t, all[name])
		before, err := studied(t.Context(), job, false)
		if err != nil {
			t.Fatal(err)
		}
		seen := map[*figure.Working]*reach{}
		for n, one := range numbers(job) {
			if !full() && name == "table.yaml" && n%3 != 0 {
				continue
			}
			one.change()
			after, err := studied(t.Context(), job, false)
			one.back()
			if err != nil {
				t.Fatal(err)
			}
			if len(after.Values) != len(before.Values) {
				continue // a row that is there or not
			}
			pairs := map[*figure.Working]bool{}
			for i := range before.Values {
				compareWorkings(before.Values[i].Working, after.Values[i].Working, one.path, false, seen, pairs, func(w *figure.Working, moved bool) {
					where := fmt.Sprintf("%s, %s of %s", name, one.path, placeOf(&before.Values[i].Place))
					if moved {
						faults[lawOf(w)] = "moves with " + where + ", and its working does not lead there"
					} else if !stands(job, before.Values[i].Place.Build, one.path) {
						idle[lawOf(w)] = "stands still, though its working leads to " + where
					}
				})
			}
		}
	}
	shrink(t, faults, astray, "leads to all that moves it now")
	shrink(t, idle, nil, "")
}

// compareWorkings holds two workings of one figure against each other, before and
// after a change of one number, and those behind them.
func compareWorkings(a, b *figure.Working, path string, led bool, seen map[*figure.Working]*reach, pairs map[*figure.Working]bool, wrong func(w *figure.Working, moved bool)) {
	if a == nil || b == nil || pairs[a] || a.Law != b.Law || len(a.Terms) != len(b.Terms) {
		return
	}
	pairs[a] = true
	r := (&reach{}).of(a, seen)
	// What is solved for moves with all that the solution was given.
	within := led
	led = led || r.exact[path] || r.given[path]
	off := math.Abs(a.Result - b.Result)
	size := math.Abs(a.Result)
	for i := range a.Terms {
		if a.Terms[i].Unit == a.Unit {
			size = math.Max(size, math.Abs(a.Terms[i].Value))
		}
	}
	switch {
	case off > 3e-8*size && !led:
		wrong(a, true)
	case a.Result == 0 && b.Result == 0: // a share of nothing stays nothing
	case off <= 1e-13*size && r.exact[path] && !r.given[path] && a.Solves == "":
		wrong(a, false)
	}
	for i := range a.Terms {
		if a.Terms[i].Symbol == b.Terms[i].Symbol {
			compareWorkings(a.Terms[i].Working, b.Terms[i].Working, path, led && (within || a.Solves != ""), seen, pairs, wrong)
		}
	}
}

// standing are the terms that may stand still though their working leads to an
// input, each with the reason.
var standing = []struct {
	why string
	of  func(job *jobfile.Job, build *car.Build, path string) bool
}{
	{
		"the build that was weighed predicts its own weighing, whatever its parts are said to be",
		func(job *jobfile.Job, build *car.Build, _ string) bool { return build.ID == job.Car.Weighed.Build },
	},
	{
		"seats that are moved until the car meets wanted heights make up for every length between them",
		func(_ *jobfile.Job, build *car.Build, _ string) bool {
			for i := range 4 {
				if build.Setup.WantedHeight[i].Known() {
					return true
				}
			}
			return false
		},
	},
	{
		"a spring that is sold by its drop lowers the car by it, whatever else is said",
		func(_ *jobfile.Job, build *car.Build, _ string) bool {
			for i := range 4 {
				if s := build.Corner[i].Spring; s != nil && s.Drop.Known() {
					return true
				}
			}
			return false
		},
	},
	{
		"the factor on a table that is an estimate stands at the key of the table, and does not move its rows",
		func(_ *jobfile.Job, _ *car.Build, path string) bool {
			return strings.HasPrefix(path, "parts.") && (strings.HasSuffix(path, ".force") || strings.HasSuffix(path, ".curves"))
		},
	},
	{
		"a wheel that was weighed at zero travel stands where a table of motion says zero, whatever its slope",
		func(job *jobfile.Job, _ *car.Build, path string) bool {
			for i := range 4 {
				if strings.Contains(path, ".motion.") && job.Car.Weighed.Height[i].Value == job.Car.ZeroHeight[car.AxleOf(i)].Value {
					return true
				}
			}
			return false
		},
	},
	{
		"where the coils touch, the free length is in the room and in the compression",
		func(_ *jobfile.Job, _ *car.Build, path string) bool {
			return strings.HasPrefix(path, "parts.springs.") && strings.HasSuffix(path, ".free")
		},
	},
}

// stands reports whether a term of a build may stand still as an input is changed.
func stands(job *jobfile.Job, id, path string) bool {
	for _, b := range job.Builds {
		if b.ID != id {
			continue
		}
		for _, one := range standing {
			if one.of(job, b, path) {
				return true
			}
		}
	}
	return false
}
