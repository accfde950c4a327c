package drives

import (
	"context"
	"math"
	"testing"

	"trunnion/chassis/demo"
	"trunnion/chassis/study"

	"gonum.org/v1/gonum/mat"

	"trunnion/chassis/car"
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/figure"
	"trunnion/chassis/modes"
	"trunnion/chassis/numeric"
	"trunnion/chassis/part"
	"trunnion/chassis/ride"
	"trunnion/chassis/screening"
)

// lopsided is the demo with its builds a good deal heavier on one corner, so that the body leans both ways at rest.
func lopsided(t *testing.T) *study.Answer {
	t.Helper()
	job := study.Job(demo.Marl())
	in := func(v float64) car.Input { return car.Input{Value: v, Origin: figure.Measured} }
	for l := range job.Loads {
		job.Loads[l].Items = append(job.Loads[l].Items, car.Payload{Name: "tools", Mass: in(170), Behind: in(3.1), Left: in(-0.6)})
	}
	opt := study.Defaults()
	opt.Samples, opt.NoWorkings, opt.NoModes = 0, true, true
	a, err := study.Run(context.Background(), job, opt)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// TestDriveStartsWhereTheCarRests: statics and drive have one rest. A drive that left the weight's own moment out stood
// up to 1.5 mm and 63 N from it with these cars.
func TestDriveStartsWhereTheCarRests(t *testing.T) {
	a := lopsided(t)
	leaned := 0.0
	for b := range a.Cases {
		for l := range a.Cases[b] {
			c := &a.Cases[b][l]
			if c.Err != nil {
				t.Fatal(c.Err)
			}
			roll, pitch := c.System.Lean.Of(&c.State)
			leaned = math.Max(leaned, math.Min(math.Abs(roll), math.Abs(pitch)))
			m, err := ride.Compile(rider(&a.Job, c, b, l, nil))
			if err != nil {
				t.Fatal(err)
			}
			var far, wrong float64
			run := ride.Run{Speed: 20, Duration: 2, Event: true, Each: func(now *ride.Moment) {
				for i := range 4 {
					far = math.Max(far, math.Abs(now.Travel[i]-c.State.Travel[i]))
					wrong = math.Max(wrong, math.Abs(now.TyreLoad[i]-c.State.Load[i]))
					wrong = math.Max(wrong, math.Abs(now.CornerForce[i]-c.State.Force[i]))
				}
			}}
			var res ride.Result
			if err := m.Simulate(context.Background(), run, &res); err != nil {
				t.Fatal(err)
			}
			// What is left is that the drive's tables have rows a millimetre apart.
			if far > 3e-6 || wrong > 0.2 {
				t.Errorf("build %d, load %d: on a flat road the car goes %.4f mm and %.3f N from where it rests", b, l, far*1e3, wrong)
			}
		}
	}
	if leaned < 3e-3 {
		t.Fatalf("no case leans more than %.4f rad both ways: nothing was checked", leaned)
	}
}

// TestLinearTwinHasTheModes: the linear car of the spectrum, made from the drive's tables, moves as the matrices say from
// which the modes are taken, at every frequency. Dampers are lines, so that no choice of speed stands between them.
func TestLinearTwinHasTheModes(t *testing.T) {
	a := lopsided(t)
	line, err := numeric.NewCurve([]float64{0, 1}, []float64{0, 1700})
	if err != nil {
		t.Fatal(err)
	}
	checked := 0
	for b := range a.Cases {
		for l := range a.Cases[b] {
			c := a.Cases[b][l]
			for i := range 4 {
				m := &c.System.Corner[i]
				m.Curve = part.DamperCurve{Bump: &line, Rebound: &line, TopSpeed: 1}
				m.CurveScale, m.Friction = 1, 0
			}
			items := a.Job.Loads[l].Items
			body := modes.BodyOf(&c.System, equilibrium.Of(items, nil), a.Job.Car.InertiaRoll.Value, a.Job.Car.InertiaPitch.Value, items...)
			matrices := modes.Linearise(&c.System, &c.State, body, 0.13)
			driven := rider(&a.Job, &c, b, l, nil)
			for i := range driven.Corners {
				driven.Corners[i].MountStiffness = 0
			}
			m, err := ride.Compile(driven)
			if err != nil {
				t.Fatal(err)
			}
			if on := m.Rest().StopForce; on != [4]float64{} {
				continue // in motion a stop is stiffer than the static curve of the modes
			}
			checked++
			twin, err := screening.Linearised(m, 1e-6, 0.1)
			if err != nil {
				t.Fatal(err)
			}
			for _, f := range []float64{0.3, 1.1, 1.45, 2.2, 4, 9, 14} {
				heights := [4]complex128{1, 0.4i, -0.3 + 0.2i, 0.7}
				r := twin.Response(f, heights)
				want := response(t, &matrices, &c.System, 2*math.Pi*f, heights)
				got := [7]complex128{r.Heave, r.Roll, r.Pitch}
				scale := 0.0
				for k := range 3 {
					scale = math.Max(scale, abs(want[k]))
				}
				for k, name := range []string{"heave", "roll", "pitch"} {
					if d := abs(got[k] - want[k]); d > 2e-4*scale {
						t.Errorf("build %d, load %d, %.2f Hz: %s is %v by the spectrum, %v by the modes' matrices", b, l, f, name, got[k], want[k])
					}
				}
			}
		}
	}
	if checked < 4 {
		t.Fatalf("%d cases stand clear of their stops: too few were checked", checked)
	}
}

func abs(z complex128) float64 { return math.Hypot(real(z), imag(z)) }

// response solves (K + jωC − ω²M)·q = k_t·road as a real system of twice the size.
func response(t *testing.T, l *modes.Linear, sys *equilibrium.System, omega float64, road [4]complex128) (q [7]complex128) {
	t.Helper()
	a, rhs := mat.NewDense(14, 14, nil), mat.NewVecDense(14, nil)
	for i := range 7 {
		for j := range 7 {
			k := l.Stiffness[i][j] - omega*omega*l.Mass[i][j]
			a.Set(i, j, k)
			a.Set(7+i, 7+j, k)
			a.Set(i, 7+j, -omega*l.Damping[i][j])
			a.Set(7+i, j, omega*l.Damping[i][j])
		}
	}
	for i := range 4 {
		rhs.SetVec(modes.Wheel0+i, sys.TyreRate[i]*real(road[i]))
		rhs.SetVec(7+modes.Wheel0+i, sys.TyreRate[i]*imag(road[i]))
	}
	var x mat.VecDense
	if err := x.SolveVec(a, rhs); err != nil {
		t.Fatal(err)
	}
	for i := range q {
		q[i] = complex(x.AtVec(i), x.AtVec(7+i))
	}
	return q
}
