package search

import (
	"context"
	"os"
	"testing"

	"trunnion/chassis/car"
	"trunnion/chassis/demo"
	"trunnion/chassis/drives"
	"trunnion/chassis/figure"
	"trunnion/chassis/study"
)

// studies reports whether what takes minutes is asked for.
func studies() bool { return os.Getenv("TRUNNION_STUDIES") != "" }

// adjustable is the demo with collars under the kit's springs, driven over its brief once.
func adjustable(tb testing.TB, draws int) *study.Answer {
	tb.Helper()
	job := study.Job(demo.Marl())
	mm := func(v float64) car.Input { return car.Input{Value: v * 1e-3, Origin: figure.Makers} }
	collar := &car.PlatformSpec{ID: "collar", Kind: "seat", Pitch: mm(1.5), Up: mm(18), Down: mm(18)}
	kit := job.Builds[3]
	for axle := range 2 {
		kit.Both(axle, func(p *car.BuildCorner) { p.Platform = collar })
	}
	opt := study.Defaults()
	opt.Samples, opt.NoWorkings, opt.NoModes, opt.Workers = draws, true, true, 2
	a, err := study.Run(context.Background(), job, opt)
	if err != nil {
		tb.Fatal(err)
	}
	ways := drives.Defaults()
	ways.Samples, ways.Duration, ways.Draws, ways.Unchecked, ways.Mounts = 1, 4, 0, true, false
	if err := drives.Ride(context.Background(), a, ways, nil); err != nil {
		tb.Fatal(err)
	}
	return a
}

// small is a part of what can be chosen about the kit: n springs an axle, some heights and
// clicks.
func small(tb testing.TB, a *study.Answer, springs, heights, packers, clicks int) Space {
	tb.Helper()
	space, err := Offer(a, "kit", Everything(), Shop{})
	if err != nil {
		tb.Fatal(err)
	}
	for x := range space.Axle {
		ax := &space.Axle[x]
		ax.Stops = ax.Stops[:1]
		ax.Springs = ax.Springs[:springs]
		ax.Heights = ax.Heights[:heights]
		ax.Packers = ax.Packers[:packers]
		ax.Dampers = ax.Dampers[:1]
		ax.Dampers[0].Clicks = spreadOut(ax.Dampers[0].Clicks, clicks)
	}
	return space
}

// spreadOut is n of a list, evenly, the first among them.
func spreadOut(list []int, n int) []int {
	var out []int
	for k := range n {
		out = append(out, list[k*(len(list)-1)/max(1, n-1)])
	}
	return out
}

// quick is a search of a second.
func quick() Options {
	opt := Usual()
	opt.Standing, opt.Kept, opt.Rested, opt.Driven, opt.Longer, opt.Finalists, opt.Draws, opt.Rounds = 6, 6, 12, 8, 4, 2, 20, 1
	return opt
}
