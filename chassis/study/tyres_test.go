package study

import (
	"math"
	"testing"

	"trunnion/chassis/car"
	"trunnion/chassis/demo"
	"trunnion/chassis/figure"
	"trunnion/chassis/stability"
)

// tyreOf is a tyre of a radius without load and a rate [m, N/m], of no band.
func tyreOf(radius, rate float64) *car.TyreSpec {
	in := func(v float64) car.Input { return car.Input{Value: v, Origin: figure.Makers} }
	return &car.TyreSpec{ID: "tyre", Diameter: in(2 * radius), Rate: in(rate), Pressure: in(2.3e5), Section: in(0.2), Circumference: in(6.1 * radius)}
}

// onTyres is the demo, its first build again with other tyres and wheels: taller by so
// much at each corner, and farther out.
func onTyres(t *testing.T, taller, outward [4]float64, rate float64) Job {
	t.Helper()
	job := Job(demo.Marl())
	first := *job.Builds[0]
	first.ID = "rolling"
	was := tyreOf(0.316, 225e3)
	wheel := func(offset float64) *car.WheelSpec {
		return &car.WheelSpec{ID: "wheel", Offset: car.Input{Value: offset, Origin: figure.Makers}}
	}
	deep := wheel(0.050)
	for i := range 4 {
		job.Car.Axle[i/2].Tyre.Pressure = was.Pressure
		job.Builds[0].Corner[i].Tyre, job.Builds[0].Corner[i].Wheel = was, deep
		first.Corner[i].Tyre, first.Corner[i].Wheel = tyreOf(0.316+taller[i], rate), wheel(0.050-outward[i])
		job.Car.Weighed.Rolls[i] = car.Rolling{Tyre: was, Wheel: deep}
	}
	job.Builds = []*car.Build{job.Builds[0], &first}
	return job
}

// Tyres that are 8 mm taller all round lift the body by just that and change nothing else
// at rest: hub to arch is where it was.
func TestTallerTyresLiftTheBody(t *testing.T) {
	a := run(t, onTyres(t, [4]float64{0.008, 0.008, 0.008, 0.008}, [4]float64{}, 225e3), nil)
	for l := range a.Job.Loads {
		was, is := &a.Cases[0][l].State, &a.Cases[1][l].State
		if math.Abs(is.Heave-was.Heave-0.008) > 1e-9 || math.Abs(is.Roll-was.Roll) > 1e-9 || math.Abs(is.Pitch-was.Pitch) > 1e-9 {
			t.Errorf("lifted by %.6f m, rolled %.2g, pitched %.2g", is.Heave-was.Heave, is.Roll-was.Roll, is.Pitch-was.Pitch)
		}
		for i := range 4 {
			if math.Abs(is.Travel[i]-was.Travel[i]) > 1e-9 || math.Abs(is.Load[i]-was.Load[i]) > 1e-5 {
				t.Errorf("corner %d: travel %.6f against %.6f m", i, is.Travel[i], was.Travel[i])
			}
		}
	}
}

// Taller at the rear alone raises it by that: the pitch is that over the wheelbase. A
// softer tyre lets the body down by what it gives way more.
func TestRakeOfTyres(t *testing.T) {
	a := run(t, onTyres(t, [4]float64{0, 0, 0.010, 0.010}, [4]float64{}, 200e3), nil)
	was, is := &a.Cases[0][0].State, &a.Cases[1][0].State
	for i := range 4 {
		x := []float64{0, 0, 2.7, 2.7}[i]
		y := a.Cases[1][0].System.Left[i]
		rise := is.Heave - was.Heave + y*(is.Roll-was.Roll) + x*(is.Pitch-was.Pitch)
		want := -is.Load[i]/200e3 + was.Load[i]/225e3
		if i >= 2 {
			want += 0.010
		}
		want -= is.Travel[i] - was.Travel[i]
		if math.Abs(rise-want) > 1e-9 {
			t.Errorf("corner %d rises by %.6f m, want %.6f", i, rise, want)
		}
	}
}

// Wheels farther out widen the track and leave the weight where it is: the loads at
// rest hardly change, a mirrored change gives the mirrored answer.
func TestWheelsFartherOut(t *testing.T) {
	even := run(t, onTyres(t, [4]float64{}, [4]float64{0.020, 0.020, 0.020, 0.020}, 225e3), nil)
	sys := &even.Cases[1][0].System
	if math.Abs(sys.Left[0]-0.798) > 1e-12 || math.Abs(sys.Left[3]+0.792) > 1e-12 {
		t.Errorf("wheels at %v", sys.Left)
	}
	total := 0.0
	for i := range 4 {
		total += even.Cases[1][0].State.Load[i] - even.Cases[0][0].State.Load[i]
	}
	if math.Abs(total) > 1e-5 {
		t.Errorf("the car became %.6f N heavier", total)
	}
	if was := even.Cases[0][0].System.MomentLeft; sys.MomentLeft != was || was == 0 {
		t.Errorf("the weight's moment about the middle plane is %.3f N m, it was %.3f", sys.MomentLeft, was)
	}
}

// roll puts a job on known tyres and wheels, and two of its builds on others.
func roll(job *Job, taller, loaded *car.Build) {
	exact := func(v float64) figure.Input { return figure.Input{Value: v, Origin: figure.Chosen} }
	was, deep := tyreOf(0.316, 231e3), &car.WheelSpec{ID: "deep", Offset: exact(0.050), Mass: exact(9.1)}
	was.Mass = exact(8.9)
	for i := range 4 {
		for _, b := range job.Builds {
			b.Corner[i].Tyre, b.Corner[i].Wheel = was, deep
		}
		job.Car.Weighed.Rolls[i] = car.Rolling{Tyre: was, Wheel: deep}
	}
	more := tyreOf(0.324, 244e3)
	more.Mass = exact(10.2)
	read := *more
	read.LoadedRadius, read.LoadedAt = exact(0.299), exact(480)
	taller.Both(0, func(p *car.BuildCorner) {
		p.Tyre, p.Wheel = more, &car.WheelSpec{ID: "shallow", Offset: exact(0.030), Mass: exact(10.4)}
	})
	loaded.Both(1, func(p *car.BuildCorner) { p.Tyre = &read })
	loaded.Setup.Pressure = [4]figure.Input{exact(2.1e5), exact(2.1e5), exact(2.6e5), exact(2.5e5)}
	job.Car.Axle[0].Tyre.Pressure, job.Car.Axle[1].Tyre.Pressure = was.Pressure, was.Pressure
}

// A tyre made for more load has as many times the stiffness at as many times the load;
// more air takes some, by the published slope; a stiffness that was given holds at the
// load with nobody aboard.
func TestCorneringStiffnessOfOtherTyres(t *testing.T) {
	job := onTyres(t, [4]float64{}, [4]float64{}, 225e3)
	job.Builds[0].Corner[0].Tyre.LoadIndex = 91
	other := job.Builds[1]
	for i := range 4 {
		other.Corner[i].Tyre.LoadIndex = 91
	}
	other.Corner[0].Tyre.LoadIndex = 98 // 750 over 615 kg
	a := run(t, job, nil)
	s, base := a.ready, stability.Tyre{Scale: 1}
	tyre := func(i int) stability.Tyre { return s.tyreOf(other, i, base, nil, nil) }
	q := 750.0 / 615
	for _, load := range []float64{1500, 4000, 7000} {
		if got, want := tyre(0).Stiffness(load*q), q*base.Stiffness(load); math.Abs(got-want) > 1e-9*want {
			t.Errorf("%.1f N/rad at %.0f N, want %.1f", got, load*q, want)
		}
		if got, want := tyre(1).Stiffness(load), base.Stiffness(load); got != want {
			t.Errorf("a tyre of the same index has %.1f N/rad, not %.1f", got, want)
		}
	}
	other.Setup.Pressure[2] = car.Input{Value: 2.53e5, Origin: figure.Chosen}
	if got, want := tyre(2).Stiffness(3500)/base.Stiffness(3500), 1+UsualPressureSlope*0.1; math.Abs(got-want) > 1e-9 {
		t.Errorf("%.4f times as stiff with a tenth more air, want %.4f", got, want)
	}
	other.Corner[3].Tyre.Cornering = car.Input{Value: 61e3, Origin: figure.Makers}
	if got := tyre(3).Stiffness(s.emptyLoad(1)); math.Abs(got-61e3) > 1e-6 {
		t.Errorf("%.1f N/rad where 61000 were given", got)
	}
}
