package wording_test

import (
	"context"
	"errors"
	"math"
	"testing"

	"trunnion/chassis/axles"

	"trunnion/chassis/equilibrium"
	"trunnion/chassis/figure"
	"trunnion/chassis/study"
	"trunnion/examples"
	"trunnion/shop/jobfile"
)

// hatchStruts is a read job's answer: what is tested is of chassis/study, which may
// not read one.
func hatchStruts(t *testing.T, share float64) (*study.Answer, *axles.Struts) {
	t.Helper()
	text, err := examples.Jobs.ReadFile("sedley-hatch/job.yaml")
	if err != nil {
		t.Fatal(err)
	}
	job, faults := jobfile.ReadBytes(text, "job.yaml")
	if job == nil {
		t.Fatal(faults)
	}
	if !math.IsNaN(share) {
		job.Car.DriveShare.Value, job.Car.DriveShare.Origin = share, figure.Measured
	}
	for _, b := range job.Builds {
		b.Setup.BarsOff = true
	}
	opt := study.Defaults()
	opt.Samples, opt.NoModes, opt.NoWorkings, opt.NoCorners = 0, true, true, true
	a, err := study.Run(context.Background(), study.Job{Car: job.Car, Builds: job.Builds, Loads: job.Loads, Brief: &job.Brief}, opt)
	if err != nil {
		t.Fatal(err)
	}
	ask := axles.UsualStrutAsk(0)
	ask.NoEvents = true
	all, err := axles.LoadStruts(context.Background(), a, ask)
	if err != nil {
		t.Fatal(err)
	}
	return a, all
}

// At rest, bars off, what spring, gas and stop carry is what the wheel carries.
func TestStrutCarriedAtRest(t *testing.T) {
	a, all := hatchStruts(t, math.NaN())
	for i := range all.Builds {
		one := &all.Builds[i]
		carried, rest, err := axles.StrutCarried(a, one.Build.ID, all.Ask.Load, 0, one.Side)
		if err != nil {
			t.Fatal(err)
		}
		got, want := carried(rest), one.Cases[0].Load
		if math.Abs(got.Contact.Z-want.Contact.Z) > 1 || math.Abs(got.Damper-want.Damper) > 1e-6 {
			t.Errorf("%s at rest: %g N and %g N carried, %g N and %g N stand there", one.Build.Name, got.Contact.Z, got.Damper, want.Contact.Z, want.Damper)
		}
		if up := carried(rest + 0.02); up.Contact.Z <= got.Contact.Z {
			t.Errorf("%s 20 mm further up carries %g N, at rest %g N", one.Build.Name, up.Contact.Z, got.Contact.Z)
		}
	}
	if _, _, err := axles.StrutCarried(a, "no such", all.Ask.Load, 0, 0); err == nil {
		t.Error("a build that is not there")
	}
}

// Newton for the whole car: with all of the force in front its two wheels make the
// car's mass accelerate; with half of it, half.
func TestStrutUnderPower(t *testing.T) {
	const accel = 0.3 * equilibrium.Gravity
	forces := [2]float64{}
	for k, share := range []float64{1, 0.5} {
		a, all := hatchStruts(t, share)
		one := &all.Builds[0]
		got, err := axles.StrutUnderPower(a, all, one, accel)
		if err != nil || got.Err != nil {
			t.Fatal(err, got.Err)
		}
		forces[k] = got.Road.X
		if got.Load.Contact.X > 0.1*got.Road.X || got.Moment.Forces.Across == one.Cases[0].Moment.Forces.Across {
			t.Errorf("the drive acts at the ground: %+v", got.Load)
		}
		if got.Factor >= 1 {
			t.Errorf("the front carries %g of its load at rest under power", got.Factor)
		}
		// Nothing driven, nothing to say.
		none, err := axles.StrutUnderPower(a, all, one, 0)
		if err != nil || math.Abs(none.Moment.Forces.Across-one.Cases[0].Moment.Forces.Across) > 2 {
			t.Errorf("without power: side load %g N, standing %g N, %v", none.Moment.Forces.Across, one.Cases[0].Moment.Forces.Across, err)
		}
	}
	// Weighed 1070 kg and a driver of 75 kg: 1145 kg at 0.3 g, half of it a wheel.
	if want := 0.5 * 1145 * accel; math.Abs(forces[0]-want) > 0.5 {
		t.Errorf("a front wheel pulls with %g N, half of mass times acceleration is %g N", forces[0], want)
	}
	if math.Abs(forces[1]/forces[0]-0.5) > 1e-9 {
		t.Errorf("with half of the force %g N, with all %g N", forces[1], forces[0])
	}
	a, all := hatchStruts(t, math.NaN())
	if _, err := axles.StrutUnderPower(a, all, &all.Builds[0], accel); !errors.Is(err, axles.ErrNotDriven) {
		t.Errorf("not known what drives: %v", err)
	}
}
