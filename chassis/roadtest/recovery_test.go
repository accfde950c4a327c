package roadtest

import (
	"context"
	"math"
	"math/rand/v2"
	"os"
	"runtime"
	"strconv"
	"sync"
	"testing"
)

// each does n drives on all cores.
func each(n int, do func(k int)) {
	var wg sync.WaitGroup
	turn := make(chan int)
	for range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			for k := range turn {
				do(k)
			}
		})
	}
	for k := range n {
		turn <- k
	}
	close(turn)
	wg.Wait()
}

// studies reports that studies are done in full.
var studies = os.Getenv("TRUNNION_STUDIES") == "1"

// drawnDrive is a drive of a car with drawn inputs over a drawn road, logged with drawn faults.
func drawnDrive(t testing.TB, k int, duration float64) (*Log, *shift, sensor) {
	r := rand.New(rand.NewPCG(uint64(k), 3))
	s := nuisance(r)
	for i := range 4 {
		s.spring[i] = 0.04 * r.NormFloat64()
		s.bump[i] = 0.1 * r.NormFloat64()
		s.rebound[i] = 0.1 * r.NormFloat64()
		s.friction[i] = 40 * (r.Float64() - 0.5)
		s.gap[i] = 0.004 * r.NormFloat64()
	}
	by := usualSensor()
	by.dropped = 0.002 * r.Float64()
	by.drift = 1e-3 * r.NormFloat64()
	by.noise = 0.03e-3 * r.Float64()
	for i := range 4 {
		by.gain[i] = 1 + 0.005*r.NormFloat64()
	}
	for i, c := range estate().Corners { // the car hangs in its friction when the zero is taken
		_, rate := c.Spring(0)
		_, ratio, _ := c.DamperTravel(0)
		by.zero[i] = (2*r.Float64() - 1) * (c.Friction + s.friction[i]) * ratio * ratio / rate
	}
	rough, v := 64e-6*math.Exp(r.NormFloat64()*0.7), 12+8*r.Float64()
	l := driven(t, with(estate(), &s), rough, v, duration, uint64(k), by)
	return l, &s, by
}

// Each input of the model is drawn, the car driven over a drawn road and logged with
// noise, quantisation, drift and dropped samples: what the log says of each input lies
// within its 95 % band so often.
func TestInputsAreRecoveredWithinTheirBands(t *testing.T) {
	t.Parallel()
	drives, duration := 1, 30.0
	if studies {
		drives, duration = 200, 60
		if v, err := strconv.Atoi(os.Getenv("DRIVES")); err == nil {
			drives = v
		}
	}
	n, in, squares, sum, half := map[Name]int{}, map[Name]int{}, map[Name]float64{}, map[Name]float64{}, map[Name]float64{}
	b := &Build{Car: estate(), Drawn: drawnEstates(200)}
	var lock sync.Mutex
	each(drives, func(k int) {
		l, truth, by := drawnDrive(t, k, duration)
		f, err := FitTo(context.Background(), l, b, 0, nil)
		lock.Lock()
		defer lock.Unlock()
		if err != nil {
			t.Error(err)
			return
		}
		for _, w := range f.Wrong {
			t.Errorf("drive %d: %+v is named, and the channels are right", k, w)
		}
		for _, e := range f.Estimates {
			want := *truth.of(e.Input)
			if e.Name == TravelGain {
				want = 1/by.gain[e.Corner] - 1
			} else if e.Name == TravelZero {
				want = -(by.zero[e.Corner] + by.drift/2)
			}
			if !(e.Half > 0) {
				t.Errorf("drive %d: %v has no band", k, e.Input)
			}
			z := (e.Value - want) / e.Half
			n[e.Name]++
			if math.Abs(z) <= 1 {
				in[e.Name]++
			}
			if math.Abs(z) > 3 {
				t.Logf("drive %d: %v is %.4f ± %.4f, %.4f is true", k, e.Input, e.Value, e.Half, want)
			}
			sum[e.Name] += z
			squares[e.Name] += z * z
			half[e.Name] += e.Half
		}
	})
	all, within := 0, 0
	for _, name := range append(append([]Name{}, Named...), TravelGain, TravelZero, TyreRate, UnsprungMass, SprungMass, Balance, RollInertia, PitchInertia) {
		k := float64(n[name])
		share := float64(in[name]) / k
		t.Logf("%-16s %4d of %4d within, %.1f %%; mean %+.2f, deviation %.2f of the half-width; half-width %.4f", name, in[name], n[name], 100*share, sum[name]/k, math.Sqrt(squares[name]/k), half[name]/k)
		all, within = all+n[name], within+in[name]
		if studies && (share < 0.90 || share > 0.995) {
			t.Errorf("%s lies within its 95 %% band in %.1f %% of the drives, wanted 90 to 99", name, 100*share)
		}
	}
	if share := float64(within) / float64(all); share < 0.85 {
		t.Errorf("%d of %d inputs lie within their bands", within, all)
	}
}

// planted is a log with one mistake, and what has to be said of it.
func planted(t testing.TB, k int, duration float64) (*Log, *Build, Wrong) {
	r := rand.New(rand.NewPCG(uint64(k), 41))
	b := &Build{Car: estate(), Drawn: drawnEstates(8)}
	l, _, _ := drawnDrive(t, 1000+k, duration)
	i := r.IntN(4)
	want := Wrong{Corner: i, Other: -1}
	c := &l.Channels[i]
	off := []float64{0.85, 1.15, 1.3, 0.7}[r.IntN(4)]
	switch k % 7 {
	case 0:
		want.Mistake = WrongSign
		scaleBy(c, -1)
	case 1:
		j := (i + 1 + r.IntN(3)) % 4
		l.Channels[i].Values, l.Channels[j].Values = l.Channels[j].Values, l.Channels[i].Values
		want = Wrong{Mistake: Swapped, Corner: min(i, j), Other: max(i, j)}
	case 2:
		want.Mistake = WrongGain
		scaleBy(c, off)
	case 3:
		want.Mistake = WrongZero
		for j := range c.Values {
			c.Values[j] += 0.012
		}
	case 4:
		want = Wrong{Mistake: WrongSign, Corner: -1}
		for j := range 4 {
			scaleBy(&l.Channels[j], -1)
		}
	case 5: // the motion ratio that was entered is off: a log cannot tell it from a gain
		want.Mistake = WrongGain
		travel := b.Car.Corners[i].DamperTravel
		b.Car.Corners[i].DamperTravel = func(w float64) (x, ratio, drdw float64) {
			x, ratio, drdw = travel(w)
			return x / off, ratio / off, drdw / off
		}
		b.Car.Corners[i].Stop.TouchTravel /= off
		b.Car.Corners[i].TopOut.OpenTravel /= off
		b.Car.Corners[i].MetalTravel /= off
		b.Car = stands(b.Car)
	case 6:
		want = Wrong{} // nothing is wrong
	}
	return l, b, want
}

// Channels that are not what they are said to be are named, each as what is wrong with it
// and nothing beside; where nothing is wrong, nothing is named.
func TestMistakesOfTheChannelsAreNamed(t *testing.T) {
	t.Parallel()
	drives, duration := 3, 18.0
	if studies {
		drives, duration = 140, 40
		if v, err := strconv.Atoi(os.Getenv("DRIVES")); err == nil {
			drives = v
		}
	}
	var named, told, beside [7]int
	var lock sync.Mutex
	each(drives, func(k int) {
		l, b, want := planted(t, k, duration)
		wrong, err := wrongOf(l, b, want.Mistake == WrongZero || want.Mistake == "")
		lock.Lock()
		defer lock.Unlock()
		if err != nil {
			t.Errorf("drive %d: %v", k, err)
			return
		}
		found, others := want.Mistake == "", 0
		for _, w := range wrong {
			if w.Mistake == want.Mistake && w.Corner == want.Corner && (want.Mistake != Swapped || w.Other == want.Other) {
				found = true
			} else {
				others++
			}
		}
		told[k%7]++
		if found {
			named[k%7]++
		}
		if others > 0 {
			beside[k%7]++
		}
		if !found || others > 0 {
			t.Logf("drive %d: %+v is named, %+v is wrong", k, wrong, want)
		}
	})
	all, good, alarms := 0, 0, 0
	for k, name := range []string{"sign of one", "exchanged", "gain", "zero", "sign of all", "motion ratio", "nothing wrong"} {
		t.Logf("%-13s %3d of %3d named, %d with something named beside", name, named[k], told[k], beside[k])
		if k < 6 {
			all, good = all+told[k], good+named[k]
		}
		alarms += beside[k]
	}
	if float64(good) < 0.95*float64(all) {
		t.Errorf("%d of %d mistakes are named, wanted 95 in 100", good, all)
	}
	if float64(alarms) > 0.05*float64(drives) {
		t.Errorf("in %d of %d drives something is named that is not wrong", alarms, drives)
	}
}

// wrongOf are the mistakes named; a zero shows only in what the build would have done.
func wrongOf(l *Log, b *Build, all bool) ([]Wrong, error) {
	if !all {
		f, err := FitTo(context.Background(), l, b, 0, nil)
		if err != nil {
			return nil, err
		}
		return f.Wrong, nil
	}
	o, err := Compare(context.Background(), l, b, 0, UsualMarks(), nil)
	if err != nil {
		return nil, err
	}
	return o.Wrong, nil
}

func scaleBy(c *Channel, by float64) {
	for j := range c.Values {
		c.Values[j] *= by
	}
}

// A car with four known faults gets those as corrections, and each brings figures inside.
func TestFaultsOfTheCarAreOffered(t *testing.T) {
	t.Parallel()
	var s shift
	s.rebound[0], s.gap[1], s.friction[2] = -0.15, -0.006, 60
	l := driven(t, with(estate(), &s), 64e-6, 16, 22, 3, usualSensor())
	o, err := Compare(context.Background(), l, &Build{Car: estate(), Drawn: drawnEstates(8)}, 0, UsualMarks(), nil)
	if err != nil {
		t.Fatal(err)
	}
	offered := map[Input]bool{}
	for _, x := range o.Offers {
		offered[x.Input] = true
		truth := *s.of(x.Input)
		if math.Abs(x.Value-truth) > 1.5*x.Half {
			t.Errorf("%v is offered as %.4f ± %.4f, %.4f is true", x.Input, x.Value, x.Half, truth)
		}
	}
	for _, in := range []Input{{ReboundDamping, 0}, {StopGap, 1}, {Friction, 2}} {
		if !offered[in] {
			t.Errorf("%v is not offered: %v", in, o.Offers)
		}
	}
	if len(o.Offers) > 4 {
		t.Errorf("%d corrections are offered, three are right", len(o.Offers))
	}
	outside := 0
	for _, f := range o.Figures {
		if f.Outside {
			outside++
		}
	}
	if outside == 0 || len(o.Offers[0].Explains) == 0 || o.Offers[0].Left >= outside {
		t.Errorf("%d figures outside, the first correction explains %d and leaves %d", outside, len(o.Offers[0].Explains), o.Offers[0].Left)
	}
	for _, st := range o.Stretches {
		if !(st.Low < 64e-6*1.5 && st.High > 64e-6) {
			t.Errorf("roughness %.3g (%.3g to %.3g) m³, the road has 64e-6 and two humps", st.Roughness, st.Low, st.High)
		}
	}
}
