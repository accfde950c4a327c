package search

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/google/go-cmp/cmp"

	"trunnion/chassis/car"
	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
	"trunnion/chassis/study"
)

// What a choice is numbered as is what it is taken apart into, and its neighbours differ in
// one thing.
func TestChoicesAreNumbered(t *testing.T) {
	x := Axle{Springs: make([]Spring, 3), Heights: make([]float64, 2), Stops: make([]Stop, 2), Packers: make([]float64, 4), Holes: make([]string, 2), Dampers: []Damper{{Clicks: make([]int, 5)}, {Clicks: make([]int, 1)}, {Clicks: make([]int, 3)}}}
	choices := 0
	for n := range x.places() {
		if x.has(n) {
			choices++
		}
		if m := x.number(x.at(n)); m != n {
			t.Fatalf("choice %d comes back as %d", n, m)
		}
	}
	if want := 3 * 2 * 2 * 4 * 2 * (5 + 1 + 3); choices != want || x.Size() != want {
		t.Errorf("%d numbers are choices, and the size is %d; want %d", choices, x.Size(), want)
	}
	from := x.number(pick{spring: 1, height: 1, packer: 2, click: 3})
	for _, m := range x.neighbours(from) {
		p, q := x.at(from), x.at(m)
		if q.damper != p.damper { // its click is another's
			q.click = p.click
		}
		if !x.has(m) {
			t.Errorf("neighbour %d is no choice", m)
		}
		differ := 0
		for _, d := range []bool{p.spring != q.spring, p.height != q.height, p.stop != q.stop, p.packer != q.packer, p.hole != q.hole, p.damper != q.damper, p.click != q.click} {
			if d {
				differ++
			}
		}
		if differ != 1 {
			t.Errorf("neighbour %d of choice %d differs in %d things, want 1", m, from, differ)
		}
	}
	if got, want := len(x.neighbours(from)), 2+1+1+3+1+2+4; got != want {
		t.Errorf("%d neighbours, want %d", got, want)
	}
}

// A front holds what nothing beats, found here by comparing all with all; layers follow.
func TestFrontsAreWhatNothingBeats(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	list := make([]one, 300)
	for k := range list {
		list[k] = one{[]float64{random.Float64(), random.Float64(), math.Round(4 * random.Float64())}, math.Max(0, random.Float64()-0.7), k}
	}
	want := map[int]bool{}
	for i := range list {
		beaten := false
		for j := range list {
			beaten = beaten || list[j].beats(&list[i])
		}
		if !beaten {
			want[list[i].id] = true
		}
	}
	got := fronts(list, len(want))
	for _, o := range got {
		if !want[o.id] {
			t.Errorf("%d is in the first front and is beaten", o.id)
		}
	}
	if len(got) != len(want) || len(want) < 5 {
		t.Errorf("%d in the first front, want %d, and several", len(got), len(want))
	}
	if all := fronts(list, len(list)); len(all) != len(list) {
		t.Errorf("%d of %d in all layers together", len(all), len(list))
	}
}

// Thinned, a front keeps its ends.
func TestThinKeepsTheEnds(t *testing.T) {
	var list []one
	for k := range 50 {
		x := float64(k) / 49
		list = append(list, one{[]float64{x, (1 - x) * (1 - x)}, 0, k})
	}
	kept := ids(thin(list, 5))
	for _, end := range []int{0, 49} {
		found := false
		for _, id := range kept {
			found = found || id == end
		}
		if !found {
			t.Errorf("%v keeps no end %d", kept, end)
		}
	}
	if len(kept) != 5 {
		t.Errorf("%d kept, want 5", len(kept))
	}
}

// Collars are turned so that the car stands where it was asked to, with whatever spring:
// within half a step of the collar over the ratio, and what the other axle and the
// linkage's curve change of it.
func TestBuildsStandWhereAsked(t *testing.T) {
	a := adjustable(t, 0)
	space, err := Offer(a, "kit", Everything(), Shop{})
	if err != nil {
		t.Fatal(err)
	}
	b, err := newBench(a, &space)
	if err != nil {
		t.Fatal(err)
	}
	checked := 0
	for axle := range 2 {
		x := &space.Axle[axle]
		before := stance(a, a, "kit", axle)
		for _, p := range []pick{{spring: 3}, {height: 2}, {spring: 5, height: 3}, {spring: 8, height: 1}} {
			var choice [2]int
			choice[axle] = x.number(p)
			m := b.make(found, choice)
			got, err := a.Again(context.Background(), m.build, a.Job.Loads, 0)
			if err != nil || len(got.Failures) > 0 {
				t.Fatalf("%+v: %v %v", p, err, got)
			}
			higher := stance(got, a, found, axle) - before
			if want := x.Heights[p.height]; math.Abs(higher-want) > 1.2e-3 {
				t.Errorf("axle %d, %+v: stands %.2f mm higher, want %.1f", axle, p, higher*1e3, want*1e3)
			}
			checked++
		}
	}
	if checked != 8 {
		t.Fatalf("%d checked", checked)
	}
}

// A build that was read after fitting moves as far as one that was not: its readings keep
// where the seats stood, and those of other springs are left out.
func TestReadBuildsMoveToo(t *testing.T) {
	a := adjustable(t, 0)
	job := a.Job
	kit := *job.Builds[3]
	kit.Readings = &car.Readings{}
	for i := range 4 {
		v := a.Get("arch-height", "kit", "empty", i)
		kit.Readings.Height[i] = car.Input{Value: v.Value - 4e-3, Half: 1e-3, Shape: figure.Normal95, Origin: figure.Measured}
	}
	job.Builds = append(append([]*car.Build(nil), job.Builds[:3]...), &kit)
	read, err := study.Run(t.Context(), job, a.Options)
	if err != nil {
		t.Fatal(err)
	}
	space, err := Offer(read, "kit", Everything(), Shop{})
	if err != nil {
		t.Fatal(err)
	}
	b, err := newBench(read, &space)
	if err != nil {
		t.Fatal(err)
	}
	x := &space.Axle[0]
	m := b.make(found, [2]int{x.number(pick{height: 2}), 0})
	got, err := read.Again(t.Context(), m.build, job.Loads, 0)
	if err != nil || len(got.Failures) > 0 {
		t.Fatal(err, got)
	}
	if higher, want := stance(got, read, found, 0)-stance(read, read, "kit", 0), x.Heights[2]; math.Abs(higher-want) > 1.2e-3 {
		t.Errorf("a build that was read stands %.2f mm higher, want %.1f", higher*1e3, want*1e3)
	}
	if m := b.make(found, [2]int{x.number(pick{spring: 3}), 0}); m.build.Readings != nil {
		t.Error("readings of other springs are taken for those of the new ones")
	}
}

// The build as it is is judged as the study judges it.
func TestBaseIsJudgedAsItIs(t *testing.T) {
	a := adjustable(t, 100)
	space := small(t, a, 2, 1, 1, 1)
	must := UsualMust()
	s, err := newSeeker(a, &space, &must, quick(), nil)
	if err != nil {
		t.Fatal(err)
	}
	c := s.corner(context.Background(), [2]int{})
	want := map[string]bool{}
	for _, f := range finding.Every(a, a, "kit", s.bands.Of) {
		if s.must.breaks(&f) && f.Value.Place.Road == "" && f.Value.Place.Event == "" {
			want[f.Code] = true
		}
	}
	got := map[string]bool{}
	for i := range c.Short {
		got[c.Short[i].Code] = true
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("judged otherwise (-study +search):\n%s", d)
	}
	if len(want) == 0 {
		t.Error("the kit breaks nothing: there is nothing to compare")
	}
}

// The same seed finds the same builds with one worker, two and eight; a search that is
// cancelled ends with the context's error.
func TestSameAnswerForAnyWorkers(t *testing.T) {
	a := adjustable(t, 30)
	space := small(t, a, 3, 2, 1, 2)
	var want []Build
	counts := []int{1, 8}
	if studies() {
		counts = []int{1, 2, 3, 8}
	}
	for _, workers := range counts {
		opt := quick()
		opt.Workers = workers
		f, err := Find(context.Background(), a, space, UsualMust(), opt, nil)
		if err != nil {
			t.Fatal(err)
		}
		if want == nil {
			want = f.Builds
			if len(want) < 2 {
				t.Fatalf("%d builds found", len(want))
			}
			continue
		}
		if len(f.Builds) != len(want) {
			t.Fatalf("%d workers find %d builds, one finds %d", workers, len(f.Builds), len(want))
		}
		for k := range want {
			if d := cmp.Diff(plain(&want[k]), plain(&f.Builds[k])); d != "" {
				t.Errorf("%d workers, build %d:\n%s", workers, k, d)
			}
		}
	}
	ctx, cancel := context.WithCancel(context.Background())
	_, err := Find(ctx, a, space, UsualMust(), quick(), func(p Progress) {
		if p.Step == Spectrum {
			cancel()
		}
	})
	if !errors.Is(err, context.Canceled) {
		t.Errorf("a cancelled search ends with %v", err)
	}
}

// What goroutines share up to the drives in time, on a small case.
func TestSearchAtOnce(t *testing.T) {
	a := adjustable(t, 0)
	space := small(t, a, 2, 1, 1, 2)
	must := UsualMust()
	opt := quick()
	opt.Workers = 4
	s, err := newSeeker(a, &space, &must, opt, func(Progress) {})
	if err != nil {
		t.Fatal(err)
	}
	out := new(Found)
	stand, kept, err := s.axles(t.Context(), out)
	if err != nil {
		t.Fatal(err)
	}
	if list, err := s.pairs(t.Context(), stand, kept, out); err != nil || len(list) == 0 {
		t.Errorf("%d pairs, %v", len(list), err)
	}
}

// plain is what of a build is compared.
func plain(b *Build) [4]any {
	numbers := func(f Figures) (out [aims]uint64) {
		for k := range f {
			out[k] = math.Float64bits(f[k])
		}
		return out
	}
	return [4]any{b.choice, numbers(b.Figures), numbers(b.High), len(b.Short)}
}

// A stop out of a catalogue is looked at as the same stop fitted would be: with the usual
// loss and stiffening where its maker says none, by its kind where it has no table.
func TestStopsOfTheCatalogueAreWhole(t *testing.T) {
	mm := func(v float64) car.Input { return car.Input{Value: v, Origin: figure.Measured} }
	own := &car.StopSpec{ID: "own", Length: mm(0.05), Table: []car.Point{{}, {X: 0.03, F: 3000}}, Scale: mm(1)}
	b := &car.Build{ID: "b"}
	b.Both(0, func(c *car.BuildCorner) { c.Stop = own })
	shop := &Shop{Stock: car.Stock{Stops: []*car.StopSpec{
		{ID: "measured", Length: mm(0.04), Table: []car.Point{{}, {X: 0.02, F: 2000}}, Scale: mm(1)},
		{ID: "rubber", Kind: car.StopRubber, Length: mm(0.03)},
		{ID: "unknown", Length: mm(0.03)},
	}}}
	got := map[string]*car.StopSpec{}
	for _, s := range stops(&study.Answer{}, b, 0, shop) {
		got[s.Spec.ID] = s.Spec
	}
	if s := got["measured"]; s == nil || s.Loss.Value != 0.25 || s.Dynamic.Value != 1.3 || len(s.Table) != 2 {
		t.Errorf("a stop without a loss is looked at as %+v", s)
	}
	if s := got["rubber"]; s == nil || s.Loss.Value != 0.15 || len(s.Table) < 5 {
		t.Errorf("a block of rubber without a table is looked at as %+v", s)
	}
	if got["unknown"] != nil {
		t.Error("a stop of which nobody says what it is is offered")
	}
}
