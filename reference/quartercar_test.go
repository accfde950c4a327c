package reference

import (
	"context"
	"math"
	"math/cmplx"
	"testing"

	"trunnion/chassis/ride"
	"trunnion/chassis/road"
	"trunnion/chassis/screening"
	"trunnion/reference/validation"
)

// quarterCar is a quarter car of the textbooks: sprung and unsprung mass [kg], spring, damper and tyre rate at the wheel
// [N/m, N s/m, N/m].
//
// A whole car becomes two independent quarter cars, front and rear, when its four corners are equal, the pitch radius is
// half the wheelbase and both sides meet the same road.
type quarterCar struct{ ms, mu, ks, kt, c float64 }

// Set A is the example of R. Rajamani, Vehicle Dynamics and Control, ch. 10 (from memory); set B the one of Türkay and
// Akçay and of Hac-type papers (from memory); set C a lowered car, own numbers.
var (
	quarterA = quarterCar{250, 45, 16000, 160000, 1000}
	quarterB = quarterCar{240, 36, 16000, 160000, 980}
	quarterC = quarterCar{350, 40, 40000, 220000, 2500}
)

const (
	quarterBase    = 2.6
	quarterTrack   = 1.5
	quarterGravity = 9.80665
)

func (q quarterCar) car() ride.Car {
	car := ride.Car{
		SprungMass: 4 * q.ms, InertiaPitch: q.ms * quarterBase * quarterBase, InertiaRoll: q.ms * quarterTrack * quarterTrack,
		CGToFront: quarterBase / 2, Wheelbase: quarterBase, TrackFront: quarterTrack, TrackRear: quarterTrack,
		Points: []ride.FloorPoint{{Name: "over the front axle"}},
	}
	for i := range car.Corners {
		car.Corners[i] = ride.Corner{
			UnsprungMass: q.mu,
			Spring:       func(w float64) (float64, float64) { return q.ms*quarterGravity + q.ks*w, q.ks },
			Damper:       func(v float64) float64 { return q.c * v },
			DamperSlope:  func(float64) float64 { return q.c },
			Tyre:         ride.Tyre{Rate: q.kt},
		}
	}
	return car
}

func compiled(t *testing.T, car ride.Car) *ride.Model {
	t.Helper()
	m, err := ride.Compile(car)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// gains returns |Zs/Zr|, |(Zs−Zu)/Zr| and |(Zu−Zr)/Zr| at a frequency.
func (q quarterCar) gains(t *testing.T, frequency float64) (body, stroke, tyre float64) {
	t.Helper()
	l, err := screening.Linearised(compiled(t, q.car()), 0.01, 0.1)
	if err != nil {
		t.Fatal(err)
	}
	r := l.Response(frequency, [4]complex128{1, 1, 1, 1})
	return cmplx.Abs(l.Body(r, 0)), cmplx.Abs(r.Travel[0]), cmplx.Abs(r.Tyre[0])
}

// Invariant points: from ms·zs″ + mu·zu″ = kt·(zr − zu), at ω² = kt/mu the body gain is mu/ms, at ω² = kt/M the stroke
// gain is M/ms, whatever spring and damper are.
//
// Source: J.K. Hedrick and T. Butsuen, "Invariant properties of automotive suspensions", Proc. IMechE 204 (1990); Rajamani
// ch. 10 (both from memory). Numbers derived here.
func TestQuarterCarInvariantPoints(t *testing.T) {
	validation.Against(t, "Ride by spectrum: invariant points", validation.Derived, "J. K. Hedrick, T. Butsuen, Proc. IMechE 204, 1990", "floor-acceleration")
	for _, r := range []struct {
		name           string
		q              quarterCar
		f1, body, gain float64 // gain: body acceleration per road velocity [1/s]
		f2, stroke     float64
	}{
		{"A", quarterA, 9.490167246, 0.18, 10.73312629, 3.706543616, 1.18},
		{"B", quarterB, 10.61032954, 0.15, 10, 3.832000719, 1.15},
		{"C", quarterC, 11.80324648, 0.114285714, math.NaN(), 3.780064136, 1.114285714},
	} {
		m := r.q.ms + r.q.mu
		f1, f2 := math.Sqrt(r.q.kt/r.q.mu)/(2*math.Pi), math.Sqrt(r.q.kt/m)/(2*math.Pi)
		if validation.Share(t, f1, r.f1, 1e-9) || validation.Share(t, f2, r.f2, 1e-9) {
			t.Errorf("%s: invariant frequencies %.9f and %.9f Hz; want %.9f and %.9f", r.name, f1, f2, r.f1, r.f2)
		}
		for _, change := range []struct{ c, ks float64 }{{1, 1}, {0.5, 1}, {2, 1}, {1, 1.7}} {
			q := r.q
			q.c *= change.c
			q.ks *= change.ks
			body, _, _ := q.gains(t, f1)
			_, stroke, _ := q.gains(t, f2)
			if validation.Share(t, body, r.q.mu/r.q.ms, 1e-12) || validation.Share(t, body, r.body, 5e-9) {
				t.Errorf("%s, %+v: body gain %.12f at %.4f Hz; want %.9f", r.name, change, body, f1, r.body)
			}
			if validation.Share(t, stroke, m/r.q.ms, 1e-12) || validation.Share(t, stroke, r.stroke, 5e-10) {
				t.Errorf("%s, %+v: stroke gain %.12f at %.4f Hz; want %.9f", r.name, change, stroke, f2, r.stroke)
			}
			if gain := body * 2 * math.Pi * f1; !math.IsNaN(r.gain) && validation.Share(t, gain, r.gain, 5e-10) {
				t.Errorf("%s, %+v: acceleration gain %.10f 1/s; want %.10f", r.name, change, gain, r.gain)
			}
		}
	}
}

// Damped modes, seen in time: a body thrown upwards moves as a sum of exponentials e^{λt}, so its heights at equal
// intervals obey the recurrence whose roots are e^{λΔ}. λ from |λ|/2π and ζ as derived by an eigenvalue solver. What is
// left over, against the bounce, must be below the engine's own error at its step (0.05 ms).
func TestQuarterCarDampedModes(t *testing.T) {
	validation.Against(t, "Ride engine: damped modes in time", validation.Derived, "eigenvalues of the quarter car", "bounce-left", "settling-time")
	for _, r := range []struct {
		name string
		q    quarterCar
		f    [2]float64
		zeta [2]float64
	}{
		{"A", quarterA, [2]float64{1.22530452, 9.86143119}, [2]float64{0.21765628, 0.18455769}},
		{"B", quarterB, [2]float64{1.25065358, 11.0246889}, [2]float64{0.21782312, 0.20125699}},
		{"C", quarterC, [2]float64{1.60625188, 12.5027035}, [2]float64{0.26277677, 0.40950478}},
	} {
		const h, every = 5e-5, 500
		var z []float64
		var res ride.Result
		run := ride.Run{
			Speed: 10, Duration: 2, Step: h, HeaveSpeed: 0.1, Event: true, Every: every,
			Each: func(o *ride.Moment) { z = append(z, o.Heave) },
		}
		if err := compiled(t, r.q.car()).Simulate(context.Background(), run, &res); err != nil {
			t.Fatal(err)
		}
		residual := func(stretch float64) float64 {
			// Polynomial with the four roots.
			p := []float64{1}
			for k := range r.f {
				w := 2 * math.Pi * r.f[k] * stretch
				e := math.Exp(-r.zeta[k] * w * every * h)
				c := math.Cos(w * math.Sqrt(1-r.zeta[k]*r.zeta[k]) * every * h)
				next := make([]float64, len(p)+2)
				for i, a := range p {
					next[i] += a
					next[i+1] -= 2 * e * c * a
					next[i+2] += e * e * a
				}
				p = next
			}
			worst, most := 0.0, 0.0
			for n := 4; n < len(z); n++ {
				s := 0.0
				for k, a := range p {
					s += a * z[n-k]
				}
				worst, most = math.Max(worst, math.Abs(s)), math.Max(most, math.Abs(z[n]))
			}
			return worst / most
		}
		if len(z) < 79 {
			t.Fatalf("%s: only %d heights", r.name, len(z))
		}
		if got := residual(1); validation.Off(t, got, 0, 1e-7) {
			t.Errorf("%s: heights miss the printed modes by %.2g of the bounce", r.name, got)
		}
		if got := residual(1.001); got < 1e-5 {
			t.Errorf("%s: the test would not see a frequency 0.1 %% wrong (%.2g)", r.name, got)
		}
	}
}

// Transfer function values, derived here and printed to 6 decimals: by spectrum to half the last digit.
var transferRows = []struct{ f, aBody, aStroke, aTyre, cBody, cStroke, cTyre float64 }{
	{0.5, 1.198704, 0.181392, 0.021319, 1.111546, 0.094194, 0.019282},
	{1, 2.224726, 1.277360, 0.148823, 1.553887, 0.499625, 0.105418},
	{1.5, 1.625259, 1.943589, 0.225687, 2.310266, 1.547148, 0.342492},
	{2, 0.730604, 1.417709, 0.167770, 1.512547, 1.643622, 0.387405},
	{5, 0.182587, 1.277853, 0.359502, 0.276372, 1.083162, 0.431610},
	{10, 0.164310, 2.501162, 2.739252, 0.143017, 1.219134, 1.155543},
	{12, 0.077067, 1.421030, 2.247833, 0.110962, 1.145772, 1.450241},
	{20, 0.009313, 0.290223, 1.283233, 0.025219, 0.440117, 1.367420},
}

func TestQuarterCarTransfer(t *testing.T) {
	validation.Against(t, "Ride by spectrum: gains", validation.Derived, "closed form of the quarter car", "floor-acceleration", "tyre-load-variation")
	const half = 5.01e-7
	for _, r := range transferRows {
		for _, s := range []struct {
			name               string
			q                  quarterCar
			body, stroke, tyre float64
		}{{"A", quarterA, r.aBody, r.aStroke, r.aTyre}, {"C", quarterC, r.cBody, r.cStroke, r.cTyre}} {
			body, stroke, tyre := s.q.gains(t, r.f)
			if validation.Off(t, body, s.body, half) || validation.Off(t, stroke, s.stroke, half) || validation.Off(t, tyre, s.tyre, half) {
				t.Errorf("%s at %g Hz: %.6f, %.6f, %.6f; want %.6f, %.6f, %.6f", s.name, r.f, body, stroke, tyre, s.body, s.stroke, s.tyre)
			}
		}
	}
}

// sine is a road of one wave.
type sine struct{ amplitude, wave float64 }

func (s sine) Sample(dst []float64, x0, dx float64) {
	for k := range dst {
		dst[k] = s.amplitude * math.Sin(2*math.Pi/s.wave*(x0+float64(k)*dx))
	}
}

// The same values in time: amplitudes by Fourier sums over whole periods after the start has died away. The road is 1 mm
// high so that tyres stay down. Tolerance 2e-5 of the greatest gain of the row: the engine's error at a step of 0.25 ms.
func TestQuarterCarTransferInTime(t *testing.T) {
	validation.Against(t, "Ride engine: gains in time", validation.Derived, "closed form of the quarter car", "floor-acceleration", "tyre-load-variation")
	for _, r := range transferRows {
		for _, s := range []struct {
			name               string
			q                  quarterCar
			body, stroke, tyre float64
		}{{"A", quarterA, r.aBody, r.aStroke, r.aTyre}, {"C", quarterC, r.cBody, r.cStroke, r.cTyre}} {
			const amplitude, speed, h, fade, settle = 0.001, 20.0, 0.25e-3, 1.0, 12.0
			periods := math.Ceil(2 * r.f)
			var sums [3]complex128
			m := compiled(t, s.q.car())
			rest := m.Rest()
			steps := math.Round(periods / r.f / h)
			n := 0.0
			var res ride.Result
			wave := sine{amplitude, speed / r.f}
			run := ride.Run{
				Left: wave, Right: wave, Speed: speed, Step: h, Settle: fade, Duration: settle + steps*h,
				Each: func(o *ride.Moment) {
					if o.Time < settle-h/2 || n >= steps {
						return
					}
					n++
					turn := cmplx.Exp(complex(0, -2*math.Pi*r.f*o.Time))
					for k, v := range [3]float64{
						o.Heave + quarterBase/2*-o.Pitch, o.Travel[0] - rest.Travel[0],
						o.TyreLoad[0] - rest.TyreLoad[0],
					} {
						sums[k] += complex(v, 0) * turn
					}
				},
			}
			if err := m.Simulate(context.Background(), run, &res); err != nil {
				t.Fatal(err)
			}
			scale := 2 / (n * amplitude)
			body, stroke, tyre := cmplx.Abs(sums[0])*scale, cmplx.Abs(sums[1])*scale, cmplx.Abs(sums[2])*scale/s.q.kt
			tol := 2e-5 * math.Max(s.body, math.Max(s.stroke, s.tyre))
			if validation.Off(t, body, s.body, tol) || validation.Off(t, stroke, s.stroke, tol) || validation.Off(t, tyre, s.tyre, tol) {
				t.Errorf("%s at %g Hz in time: %.6f, %.6f, %.6f; want %.6f, %.6f, %.6f", s.name, r.f, body, stroke, tyre, s.body, s.stroke, s.tyre)
			}
		}
	}
}

// Closed-form root mean squares on a road of white velocity (ISO 8608 class B, Gd(n0) = 64e-6 m³, waviness 2, 20 m/s):
//
//	E[zs″²] = W/2·(kt·c/ms² + M·ks²/(c·ms²)),  E[(zs−zu)²] = W·M/(2c),  E[(zs′−zu′)²] = W·kt/(2c),  P = W·kt/2
//
// Derived here (Lyapunov equation by computer algebra); same structure in A. Hac, and in S. Türkay and H. Akçay, J. Sound
// Vib. (2005), from memory; power as in L. Zuo and P.-S. Zhang, J. Vib. Acoust. (2013).
var whiteRows = []struct {
	name                                                  string
	q                                                     quarterCar
	acc, stroke, deflection, rate, power, load, variation float64
	weighted, weighted80, weightedBand, rawBand           float64
}{
	{"A", quarterA, 0.689967676, 6.10472163e-3, 2.44163203e-3, 0.142172254, 20.2129498, 390.661126, 0.135038469, 0.588042500, 0.587942113, 0.588039383, 0.689823650},
	{"B", quarterB, 0.708540331, 5.96480652e-3, 2.25104687e-3, 0.143615664, 20.2129498, 360.167499, 0.133068347, 0.591274307, 0.591175437, 0.591269585, 0.708343564},
	{"C", quarterC, 0.908078108, 4.43932721e-3, 1.94772990e-3, 0.105437766, 27.7928060, 428.500577, 0.112038202, 0.737030637, 0.736957226, 0.737014685, 0.907510280},
}

func whiteGrid(t *testing.T, low, high float64, lines int) *screening.Grid {
	t.Helper()
	g, err := screening.NewGrid(screening.Road{
		Spectrum: road.ClassB.Spectrum(), Speed: 20, Wheelbase: quarterBase, Track: quarterTrack, Coherent: true,
		Low: low, High: high, Lines: lines,
	})
	if err != nil {
		t.Fatal(err)
	}
	return g
}

func TestQuarterCarWhiteRoadBySpectrum(t *testing.T) {
	validation.Against(t, "Ride by spectrum on white velocity", validation.Derived, "closed-form variances", "floor-acceleration", "tyre-load-variation", "damper-speed-share")
	all := whiteGrid(t, 1e-4, 1e7, 40000)
	to80 := whiteGrid(t, 1e-4, 80, 20000)
	wide := whiteGrid(t, 0.5, 80, 20000)
	band := whiteGrid(t, 0.011*20, 2.83*20, 20000)
	usual := whiteGrid(t, 0, 0, 0)
	for _, r := range whiteRows {
		m := compiled(t, r.q.car())
		solve := func(g *screening.Grid) (screening.Floor, screening.Corner) {
			res, err := screening.Solve(m, g)
			if err != nil {
				t.Fatal(err)
			}
			return res.Floor[0], res.Corners[0]
		}
		check := func(what string, got, want, tol float64) {
			t.Helper()
			if validation.Share(t, got, want, tol) {
				t.Errorf("%s: %s %.9g; want %.9g (off by %.2g)", r.name, what, got, want, relative(got, want))
			}
		}
		f, c := solve(all)
		check("acceleration", f.Raw, r.acc, 1e-6)
		check("stroke", c.Travel, r.stroke, 1e-6)
		check("stroke rate", c.DamperSpeed, r.rate, 1e-6)
		check("power", c.Power, r.power, 1e-6)
		check("tyre load", c.LoadDeviation, r.load, 1e-6)
		check("tyre load over static", c.LoadVariation, r.variation, 1e-6)
		check("tyre deflection", c.LoadDeviation/r.q.kt, r.deflection, 1e-6)
		check("weighted", f.Weighted, r.weighted, 1e-5)
		f, c = solve(to80)
		check("acceleration to 80 Hz", f.Raw, r.acc, 5e-3)
		// Not the tyre: 1.4 to 2.2 % of its load on a road of white velocity lies above 80 Hz.
		check("stroke rate to 80 Hz", c.DamperSpeed, r.rate, 5e-3)
		f, _ = solve(wide)
		check("weighted 0.5-80 Hz", f.Weighted, r.weighted80, 1e-5)
		f, _ = solve(band)
		check("weighted, 0.011-2.83 cycle/m", f.Weighted, r.weightedBand, 1e-5)
		check("unweighted, 0.011-2.83 cycle/m", f.Raw, r.rawBand, 1e-5)
		f, c = solve(usual)
		check("weighted, usual lines", f.Weighted, r.weighted, 5e-3)
		check("power, usual lines", c.Power, r.power, 1e-2)
	}
}

// whiteRoad is five minutes of the class B road between the wave numbers of the standard.
func whiteRoad(t *testing.T, seconds float64) (left ride.Track) {
	t.Helper()
	random := road.UsualRoad(road.ClassB.Spectrum(), 20*seconds)
	random.TrackDistance = 0
	random.Longest, random.Shortest = 0.011, 2.83
	g, err := road.NewGenerator(random)
	if err != nil {
		t.Fatal(err)
	}
	p := g.Generate(11)
	left, _ = ride.Tracks(&p)
	return left
}

// One run of five minutes: 5 % (statistical; acceleration and tyre load are well conditioned, stroke is not and gets the
// same). Histogram of a Gaussian damper speed: share below v = erf(v/(σ√2)), set C: 0.364652253 below 50 mm/s,
// 0.845159505 below 150 mm/s (derived here).
func TestQuarterCarWhiteRoadInTime(t *testing.T) {
	validation.Against(t, "Ride engine on white velocity", validation.Derived, "closed-form variances", "floor-acceleration", "tyre-load-variation", "damper-speed-share")
	z := whiteRoad(t, 310)
	for _, r := range whiteRows {
		m := compiled(t, r.q.car())
		var res ride.Result
		run := ride.Run{Left: z, Right: z, Speed: 20, Duration: 305, Settle: 5, DamperBounds: []float64{0.05, 0.15}}
		if err := m.Simulate(context.Background(), run, &res); err != nil {
			t.Fatal(err)
		}
		check := func(what string, got, want, tol float64) {
			t.Helper()
			if validation.Share(t, got, want, tol) {
				t.Errorf("%s: %s %.6g in time; want %.6g (off by %.2g)", r.name, what, got, want, relative(got, want))
			}
		}
		c := &res.Corners[0]
		check("acceleration", res.Floor[0].Comfort.RawRMS, r.rawBand, 0.05)
		check("weighted", res.Floor[0].Comfort.RMS, r.weightedBand, 0.05)
		check("tyre load", c.LoadDeviation, r.load, 0.05)
		check("stroke", c.TravelDeviation, r.stroke, 0.05)
		check("stroke rate", c.DamperDeviation, r.rate, 0.05)
		check("power", c.Power, r.power, 0.05)
		for i := range res.Corners {
			check("power, each corner", res.Corners[i].Power, r.power, 0.05)
		}
		if r.name == "C" {
			check("share below 50 mm/s", c.DamperShares[0], 0.364652253, 0.05)
			check("share below 150 mm/s", c.DamperShares[0]+c.DamperShares[1], 0.845159505, 0.05)
		}
	}
}

// Strike rate of a stop in a linear Gaussian motion, S.O. Rice 1945 and D.E. Newland, Random Vibrations (from memory),
// numbers derived here: set A passes 20 mm 0.0173096987 times a second, 0.865484937 a kilometre; 30 mm 2.11319708e-5;
// set C 20 mm 1.47953169e-4. Formula 1e-6; the deviations it starts from are those of the spectrum.
func TestStrikeRate(t *testing.T) {
	validation.Against(t, "Strike rate of a bump stop", validation.Derived, "S. O. Rice, 1945; D. E. Newland, Random Vibrations", "stop-hits")
	g := whiteGrid(t, 1e-4, 1e6, 200000)
	for _, r := range []struct {
		q         quarterCar
		gap, rate float64
	}{{quarterA, 0.020, 0.0173096987}, {quarterA, 0.030, 2.11319708e-5}, {quarterC, 0.020, 1.47953169e-4}} {
		res, err := screening.Solve(compiled(t, r.q.car()), g)
		if err != nil {
			t.Fatal(err)
		}
		if got := res.Corners[0].Crossings(r.gap); validation.Share(t, got, r.rate, 1e-6) {
			t.Errorf("gap %g m: %.9g a second; want %.9g (off by %.2g)", r.gap, got, r.rate, relative(got, r.rate))
		}
	}
	// Counted: a stop with no force to speak of at 12 mm; more than 200 hits, 15 %.
	car := quarterA.car()
	for i := range car.Corners {
		car.Corners[i].Stop = ride.Stop{TouchTravel: 0.012, Loss: 0.25, Force: func(x float64) (float64, float64) { return 1e-6 * x, 1e-6 }}
	}
	z := whiteRoad(t, 620)
	var res ride.Result
	run := ride.Run{Left: z, Right: z, Speed: 20, Duration: 605, Settle: 5, StopForces: []float64{0}}
	if err := compiled(t, car).Simulate(context.Background(), run, &res); err != nil {
		t.Fatal(err)
	}
	spectrum, err := screening.Solve(compiled(t, quarterA.car()), whiteGrid(t, 0.22, 56.6, 20000))
	if err != nil {
		t.Fatal(err)
	}
	hits := res.Corners[0].StopHits[0]
	if hits.Count < 200 {
		t.Errorf("only %d hits: the count says nothing", hits.Count)
	}
	want := spectrum.Corners[0].Crossings(0.012)
	if got := float64(hits.Count) / res.Time; validation.Share(t, got, want, 0.15) {
		t.Errorf("12 mm: %.4f hits a second counted, %.4f by Rice", got, want)
	}
	if got := hits.PerMetre; validation.Share(t, got, float64(hits.Count)/res.Distance, 1e-12) {
		t.Errorf("%.4f hits a kilometre from %d in %.0f m", got, hits.Count, res.Distance)
	}
}

// cosinePit is z = −half·(1 − cos(2πx/length)) over one length from start.
type cosinePit struct{ start, length, half float64 }

func (p cosinePit) Sample(dst []float64, x0, dx float64) {
	for k := range dst {
		dst[k] = 0
		if x := (x0 + float64(k)*dx - p.start) / p.length; x > 0 && x < 1 {
			dst[k] = -p.half * (1 - math.Cos(2*math.Pi*x))
		}
	}
}

// A pothole over a nonlinear car: set C with a damper of 1800 N s/m in bump and 4200 in rebound, a stop from 25 mm with
// F = 200 N·(e^{x/10 mm} − 1), a tyre that cannot pull; z = −30 mm·(1 − cos(2πx/1.2 m)) at 40 km/h, point contact.
//
// A regression reference, not a published value: made with an independent DOP853 at rtol 1e-10. Forces and strokes 0.1 %,
// time off the ground 1 %.
func TestQuarterCarPothole(t *testing.T) {
	validation.Against(t, "Ride engine: a pothole over a nonlinear car", validation.Engine, "DOP853 at 1e-10", "stop-force-peak", "travel-peak-bump", "travel-peak-droop", "wheel-off-time")
	car := quarterC.car()
	for i := range car.Corners {
		c := &car.Corners[i]
		c.Damper = func(v float64) float64 {
			if v < 0 {
				return 4200 * v
			}
			return 1800 * v
		}
		c.DamperSlope = func(v float64) float64 {
			if v < 0 {
				return 4200
			}
			return 1800
		}
		c.Stop = ride.Stop{TouchTravel: 0.025, Loss: 0, Dynamic: 1, Force: func(x float64) (float64, float64) {
			e := math.Exp(x / 0.010)
			return 200 * (e - 1), 200 / 0.010 * e
		}}
	}
	m := compiled(t, car)
	pit := cosinePit{2, 1.2, 0.030}
	acc := [2]float64{math.Inf(-1), math.Inf(1)}
	var res ride.Result
	run := ride.Run{Left: pit, Right: pit, Speed: 40 / 3.6, Duration: 2.5, Step: 0.1e-3, Event: true, Each: func(o *ride.Moment) {
		a := o.Acceleration[0] - quarterBase/2*o.Acceleration[1]
		acc[0], acc[1] = math.Max(acc[0], a), math.Min(acc[1], a)
	}}
	if err := m.Simulate(context.Background(), run, &res); err != nil {
		t.Fatal(err)
	}
	c := &res.Corners[0]
	for _, r := range []struct {
		what           string
		got, want, tol float64
	}{
		{"upward acceleration, m/s²", acc[0], 13.26802, 1e-3},
		{"downward acceleration, m/s²", acc[1], -10.37977, 1e-3},
		{"compression, mm", 1e3 * c.Bump, 41.2856, 1e-3},
		{"extension, mm", 1e3 * c.Droop, 33.4819, 1e-3},
		{"greatest dynamic tyre force, N", c.LoadMax - m.Rest().TyreLoad[0], 6552.76, 1e-3},
		{"stop force, N", c.StopPeak, 819.31, 1e-3},
		{"time off the ground, s", c.LiftOff * res.Time, 0.0418, 1e-2},
		{"damper speed in bump, m/s", c.DamperMax, 2.3495, 1e-3},
		{"damper speed in rebound, m/s", c.DamperMin, -0.6879, 1e-3},
		{"static tyre load, N", m.Rest().TyreLoad[0], 3824.59, 2e-6},
	} {
		if validation.Share(t, r.got, r.want, r.tol) {
			t.Errorf("%s: %.6g; want %.6g", r.what, r.got, r.want)
		}
	}
	if math.Abs(res.Energy.Share) > 1e-3 {
		t.Errorf("energy gap is %.3g of what went in", res.Energy.Share)
	}
}
