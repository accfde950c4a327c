package road

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// wavy is a smooth profile with obstacles over it.
func wavy(t testing.TB, kind Interpolation) Profile {
	t.Helper()
	p := Profile{Start: -3.7, Step: 0.031, Interpolation: kind}
	for i := range 900 {
		x := p.Start + float64(i)*p.Step
		p.Left = append(p.Left, 0.01*math.Sin(1.7*x)+0.002*x)
		p.Right = append(p.Right, 0.008*math.Cos(2.3*x))
	}
	at := 1.0
	for _, e := range each(t) {
		p = p.With(e, at)
		at += 1.9
	}
	return p
}

// A cubic through readings of a parabola is that parabola, a line through
// those of a line that line, and both keep the end heights outside.
func TestSampleExact(t *testing.T) {
	parabola := func(x float64) float64 { return 0.3 - 0.2*x + 0.05*x*x }
	p := Profile{Start: 2.1, Step: 0.17}
	for i := range 40 {
		z := parabola(2.1 + 0.17*float64(i))
		p.Left, p.Right = append(p.Left, z), append(p.Right, -z)
	}
	for _, x := range []float64{2.3, 3.111, 5.9377, 8.3} {
		if got := p.Height(LeftTrack, x); math.Abs(got-parabola(x)) > 1e-13 {
			t.Errorf("cubic at %g m is %.15g; the parabola is %.15g", x, got, parabola(x))
		}
		if got := p.Slope(RightTrack, x); math.Abs(got+(-0.2+0.1*x)) > 1e-12 {
			t.Errorf("slope at %g m is %.15g; the parabola's is %.15g", x, got, 0.2-0.1*x)
		}
	}
	for _, r := range []struct{ x, want float64 }{
		{-100, p.Left[0]},
		{2.1, p.Left[0]},
		{math.NaN(), p.Left[0]},
		{1e300, p.Left[39]},
		{math.Inf(1), p.Left[39]},
		{math.Inf(-1), p.Left[0]},
	} {
		if got := p.Height(LeftTrack, r.x); got != r.want {
			t.Errorf("height at %g m is %g; want %g", r.x, got, r.want)
		}
		if got := p.Slope(LeftTrack, r.x); r.x != 2.1 && got != 0 {
			t.Errorf("slope at %g m is %g; want 0", r.x, got)
		}
	}
}

// Sampling a run gives what single heights give, whatever the start and step
// (the obstacles are only looked at where they can be).
func TestSampleRuns(t *testing.T) {
	for _, kind := range []Interpolation{Cubic, Linear} {
		p := wavy(t, kind)
		rapid.Check(t, func(t *rapid.T) {
			from := rapid.Float64Range(-20, 40).Draw(t, "from")
			by := rapid.Float64Range(-0.5, 3).Draw(t, "by")
			track := Track(rapid.IntRange(0, 1).Draw(t, "track"))
			dst := make([]float64, rapid.IntRange(0, 60).Draw(t, "n"))
			p.Sample(track, dst, from, by)
			for i, got := range dst {
				x := from + float64(i)*by
				want := p.Height(track, x)
				if math.Abs(got-want) > 1e-12 {
					t.Fatalf("sample %d at %g m is %g; alone it is %g", i, x, got, want)
				}
			}
		})
	}
}

// The slope is the derivative of the height, also across obstacles.
func TestSampleSlope(t *testing.T) {
	const h = 1e-6
	for _, kind := range []Interpolation{Cubic, Linear} {
		p := wavy(t, kind)
		for x := -3.6137; x < 23; x += 0.0773 {
			if u := (x - p.Start) / p.Step; math.Abs(u-math.Round(u)) < 1e-3 {
				continue // straight lines have two slopes at a grid point
			}
			for _, track := range []Track{LeftTrack, RightTrack} {
				ahead, behind := p.Height(track, x+h), p.Height(track, x-h)
				if math.Abs(ahead-behind) > 1e-3 {
					continue // a vertical edge has no slope
				}
				if got, want := p.Slope(track, x), (ahead-behind)/(2*h); math.Abs(got-want) > 2e-5 {
					t.Errorf("track %d at %g m: slope %.8f; heights give %.8f", track, x, got, want)
				}
			}
		}
	}
}

func TestWithLeavesTheReceiver(t *testing.T) {
	e, _ := Crest(0.08, 12)
	base := Profile{}.With(e, 5)
	one, two := base.With(e, 30), base.With(e, 60)
	if len(base.Events) != 1 || one.Events[1].At != 30 || two.Events[1].At != 60 {
		t.Errorf("profiles made from one share obstacles: %v %v %v", base.Events, one.Events, two.Events)
	}
	if from, to := two.Extent(); from != 5 || to != 72 {
		t.Errorf("extent %g to %g m; want 5 to 72", from, to)
	}
}

// Averaging over the contact keeps sin(πl/λ)/(πl/λ) of a wave and all of a
// slope, also when the length is no multiple of the step.
func TestAveraged(t *testing.T) {
	const wave, length, step = 0.83, 0.137, 0.001
	p := Profile{Step: step}
	for i := range 6000 {
		x := float64(i) * step
		p.Left, p.Right = append(p.Left, math.Sin(2*math.Pi*x/wave)), append(p.Right, 0.3+0.2*x)
	}
	a, err := p.Averaged(length)
	if err != nil {
		t.Fatal(err)
	}
	u := math.Pi * length / wave
	for _, x := range []float64{0.5, 1.237, 3.331, 5.7} {
		if got, want := a.Height(LeftTrack, x), math.Sin(u)/u*math.Sin(2*math.Pi*x/wave); math.Abs(got-want) > 1e-5 {
			t.Errorf("wave at %g m: %.7f; want %.7f", x, got, want)
		}
		if got, want := a.Height(RightTrack, x), 0.3+0.2*x; math.Abs(got-want) > 1e-12 {
			t.Errorf("slope at %g m: %.12f; want %.12f", x, got, want)
		}
	}
	same, err := p.Averaged(0)
	if err != nil || same.Left[777] != p.Left[777] {
		t.Errorf("no contact length changes the road: %v", err)
	}
}

// The path of a wheel against the definition on a grid twenty times finer.
func TestEnvelopedAgainstDefinition(t *testing.T) {
	const radius, step = 0.31, 0.02
	z := make([]float64, 200)
	for i := range z {
		z[i] = 0.01 * math.Sin(float64(i)*0.9) * math.Sin(float64(i)*0.13)
		if i > 80 && i < 90 {
			z[i] -= 0.2
		}
		if i > 140 {
			z[i] += 0.06
		}
	}
	p := Profile{Step: step, Left: z, Right: z, Interpolation: Linear}
	w, err := p.Enveloped(radius)
	if err != nil {
		t.Fatal(err)
	}
	for i, got := range w.Left {
		x := float64(i) * step
		want := math.Inf(-1)
		for s := -radius; s <= radius; s += step / 400 {
			want = math.Max(want, p.Height(LeftTrack, x+s)+math.Sqrt(radius*radius-s*s)-radius)
		}
		if math.Abs(got-want) > 1e-5 {
			t.Errorf("wheel at %g m stands at %.7f m; the definition says %.7f", x, got, want)
		}
		if got < z[i]-1e-15 {
			t.Errorf("wheel at %g m is %g m below the road", x, z[i]-got)
		}
	}
}

// A wheel on an even slope m stands r·(√(1 + m²) − 1) above it; a smaller
// wheel drops at least as far into everything.
func TestEnvelopedSlopeAndSize(t *testing.T) {
	p := Profile{Step: 0.013}
	for i := range 400 {
		p.Left = append(p.Left, 0.37*float64(i)*p.Step)
		p.Right = append(p.Right, 0.02*math.Sin(float64(i*i)*0.003))
	}
	big, err := p.Enveloped(0.33)
	if err != nil {
		t.Fatal(err)
	}
	small, err := p.Enveloped(0.12)
	if err != nil {
		t.Fatal(err)
	}
	lift := 0.33 * (math.Sqrt(1+0.37*0.37) - 1)
	for _, i := range []int{57, 201, 333} {
		if got := big.Left[i] - p.Left[i]; math.Abs(got-lift) > 1e-12 {
			t.Errorf("lift on a slope is %.12f m; want %.12f", got, lift)
		}
	}
	for i := range p.Right {
		if small.Right[i] > big.Right[i]+1e-12 {
			t.Errorf("point %d: the smaller wheel stands higher", i)
		}
	}
}

// Filters lay obstacles beyond the grid into it and keep the grid's points.
func TestFiltersTakeObstacles(t *testing.T) {
	hump, _ := RoundHump(0.1, 3.7)
	p := Profile{Start: 0, Step: 0.05, Left: make([]float64, 50), Right: make([]float64, 50)}.With(hump, 20)
	for _, filter := range []func() (Profile, error){
		func() (Profile, error) { return p.Averaged(0.15) },
		func() (Profile, error) { return p.Enveloped(0.3) },
	} {
		w, err := filter()
		if err != nil {
			t.Fatal(err)
		}
		if len(w.Events) != 0 {
			t.Error("obstacles are still there and would count twice")
		}
		if z := w.Height(LeftTrack, 21.85); math.Abs(z-0.1) > 2e-4 {
			t.Errorf("crest of the hump is %g m high", z)
		}
		if z := w.Height(RightTrack, 30); z != 0 {
			t.Errorf("the road after the hump is %g m high", z)
		}
	}
	if flat, err := (&Profile{}).Enveloped(0.3); err != nil || flat.Height(LeftTrack, 3) != 0 {
		t.Errorf("a flat road is not flat to a wheel: %v", err)
	}
}

func TestProfileRefusals(t *testing.T) {
	var bad *InputError
	nan := math.NaN()
	for i, p := range []Profile{
		{Step: 0.1, Left: []float64{0, 1}, Right: []float64{0}},
		{Step: 0, Left: []float64{0, 1}, Right: []float64{0, 1}},
		{Step: nan, Left: []float64{0, 1}, Right: []float64{0, 1}},
		{Step: 0.1, Left: []float64{0, nan}, Right: []float64{0, 1}},
		{Step: 0.1, Start: nan, Left: []float64{0, 0}, Right: []float64{0, 1}},
		{Events: []Placed{{At: nan}}},
	} {
		if _, err := p.Averaged(0.1); !errors.As(err, &bad) {
			t.Errorf("profile %d: got %v; want an *InputError", i, err)
		}
		if _, err := p.Enveloped(0.3); !errors.As(err, &bad) {
			t.Errorf("profile %d: got %v; want an *InputError", i, err)
		}
	}
	good := Profile{Step: 0.1, Left: make([]float64, 9), Right: make([]float64, 9)}
	for _, x := range []float64{nan, -1, math.Inf(1)} {
		if _, err := good.Averaged(x); !errors.As(err, &bad) {
			t.Errorf("contact length %g: got %v; want an *InputError", x, err)
		}
		if _, err := good.Enveloped(x); !errors.As(err, &bad) {
			t.Errorf("radius %g: got %v; want an *InputError", x, err)
		}
		if _, err := good.Laid(x, 0, 1); !errors.As(err, &bad) {
			t.Errorf("step %g: got %v; want an *InputError", x, err)
		}
	}
	if _, err := good.Laid(0.001, 0, 1e6); !errors.As(err, &bad) {
		t.Errorf("a thousand million points: got %v; want an *InputError", err)
	}
}

func TestSampleAllocatesNothing(t *testing.T) {
	p := wavy(t, Cubic)
	dst := make([]float64, 100)
	if n := testing.AllocsPerRun(100, func() {
		p.Sample(RightTrack, dst, 0.3, 0.033)
		p.SampleSlope(LeftTrack, dst, 0.3, 0.033)
	}); n != 0 {
		t.Errorf("sampling allocates %g times", n)
	}
}

func TestEased(t *testing.T) {
	p := wavy(t, Cubic)
	p.Events = nil
	e, err := p.Eased(5.03)
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range []struct{ x, share float64 }{{-3.7, 0}, {-3.7 + 5.03/2, 0.5}, {2.9, 1}, {20, 1}} {
		for _, track := range []Track{LeftTrack, RightTrack} {
			if got, want := e.Height(track, r.x), r.share*p.Height(track, r.x); math.Abs(got-want) > 1e-5 {
				t.Errorf("height at %g m is %.7f; want %.7f", r.x, got, want)
			}
		}
	}
	if p.Left[0] == 0 || e.Slope(LeftTrack, -3.69) > 1e-3 {
		t.Error("easing in changed the road itself, or begins with a slope")
	}
	var bad *InputError
	if _, err := p.Eased(math.NaN()); !errors.As(err, &bad) {
		t.Errorf("NaN: got %v; want an *InputError", err)
	}
}
