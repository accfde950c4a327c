package study

import (
	"context"
	"math"
	"slices"

	"trunnion/chassis/equilibrium"
	"trunnion/chassis/figure"
	"trunnion/chassis/part"
	"trunnion/chassis/spread"
)

// report turns solved cases and columns into values, curves and warnings. Each
// case fills a place of its own, so that the workers change nothing.
func (s *setup) report(a *Answer, base *equilibrium.Baseline) {
	loads := len(s.job.Loads)
	parts := make([]Answer, len(s.designs)*loads)
	scratch := make([][]float64, max(1, s.opt.Workers))
	each := func(worker, k int) {
		if scratch[worker] == nil {
			scratch[worker] = make([]float64, 0, s.opt.Samples)
		}
		parts[k].Cases, parts[k].columns = a.Cases, a.columns
		s.reportCase(&parts[k], base, k/loads, k%loads, scratch[worker])
	}
	if s.opt.Workers > 1 {
		// It cannot fail: nothing cancels it, and a case takes milliseconds.
		_ = spread.Each(context.Background(), len(parts), s.opt.Workers, each)
	} else {
		for k := range parts {
			each(0, k)
		}
	}
	values, curves := 0, 0
	for k := range parts {
		values, curves = values+len(parts[k].Values), curves+len(parts[k].Curves)
	}
	a.Values, a.Curves = slices.Grow(a.Values, values), slices.Grow(a.Curves, curves)
	for k := range parts {
		a.take(&parts[k])
	}
	if !s.again {
		s.preloads(a, base)
		s.jobWarnings(a, base)
	}
}

// reportCase reports one build in one load state.
func (s *setup) reportCase(a *Answer, base *equilibrium.Baseline, b, l int, scratch []float64) {
	if s.keeps(b) {
		s.keepCase(a, b, l)
		return
	}
	arch := s.arches(s.designs[b].Build, nil)
	var zero [2]float64
	for x := range 2 {
		zero[x] = s.job.Car.ZeroHeight[x].Value
	}
	var numbers [perCase]float64
	c := &a.Cases[b][l]
	place := figure.Place{Build: s.designs[b].Build.ID, Load: s.job.Loads[l].ID, Corner: figure.NoCorner}
	if c.Err != nil {
		s.unknownCase(a, place)
		return
	}
	s.measure(&c.System, &c.State, &arch, &zero, numbers[:])
	var terms *equilibrium.CaseTerms
	if !s.opt.NoWorkings {
		terms = s.caseTerms(base, b, l, c)
	}
	for i := range 4 {
		w := s.worker(terms, b, l, i, c)
		place.Corner = i
		for q := range perCorner {
			v := s.value(a, cornerCodes[q], place, numbers[i*perCorner+q], b, l, i*perCorner+q, scratch)
			if !s.opt.NoWorkings && v.State != figure.Unknown {
				v.Working = w.of(q)
			}
			if q == qRatio {
				s.ratios(a, w, v)
				continue
			}
			a.Values = append(a.Values, v)
		}
		s.limitValues(a, w, place, scratch)
		s.makersShare(a, w, place, scratch)
		s.tyreValues(a, w, place, scratch)
		s.cornerWarnings(a, w, place)
	}
	place.Corner = figure.NoCorner
	for q := range perCar {
		v := s.value(a, carCodes[q], place, numbers[4*perCorner+q], b, l, 4*perCorner+q, scratch)
		if !s.opt.NoWorkings && v.State != figure.Unknown {
			v.Working = carWorking(terms, q)
		}
		a.Values = append(a.Values, v)
	}
	s.gearing(a, s.designs[b].Build, place, scratch)
	if !s.opt.NoModes && (s.opt.ModesIn == "" || s.opt.ModesIn == place.Load) {
		s.modeValues(a, b, l, place)
	}
	if !s.opt.NoCorners {
		s.cornerValues(a, b, l, place)
	}
	if !s.opt.NoWorkings {
		s.curves(a, b, l, place)
	}
}

// unknownCase reports every number of a case without a rest position.
func (s *setup) unknownCase(a *Answer, place figure.Place) {
	const reason = "no rest position was found"
	for i := range 4 {
		place.Corner = i
		for q := range perCorner {
			e := figure.Must(cornerCodes[q])
			place.At = e.At
			a.Values = append(a.Values, figure.Value{Code: cornerCodes[q], Place: place, Tier: figure.Static, Value: math.NaN(), State: figure.Unknown, Reason: reason})
		}
	}
	place.Corner = figure.NoCorner
	for q := range perCar {
		e := figure.Must(carCodes[q])
		place.At = e.At
		a.Values = append(a.Values, figure.Value{Code: carCodes[q], Place: place, Tier: figure.Static, Value: math.NaN(), State: figure.Unknown, Reason: reason})
	}
}

// carWorking is the working of a number of the whole car.
func carWorking(t *equilibrium.CaseTerms, q int) *figure.Working {
	each := func(symbols [4]string, name string, of func(i int) *figure.Working) []figure.Term {
		out := make([]figure.Term, 0, 5)
		for i := range 4 {
			out = append(out, figure.As(symbols[i], name+" "+figure.CornerNames[i], of(i)))
		}
		return out
	}
	switch q {
	case qSprung:
		terms := each([4]string{"S_1", "S_2", "S_3", "S_4"}, "suspension force", func(i int) *figure.Working { return t.Suspension("S", i).Working })
		return result(carCodes[q], append(terms, t.Gravity())...)
	case qRake:
		return t.Rake()
	case qFrequencyRatio:
		return result(carCodes[q], each([4]string{"f_1", "f_2", "f_3", "f_4"}, "corner frequency", func(i int) *figure.Working {
			rate := result("wheel-rate", t.Corner(i).Rates(t.Rest(i))...)
			return result("corner-frequency", figure.As("k_w", "wheel rate, tangent", rate), t.Mass(i))
		})...)
	}
	return result(carCodes[q], each([4]string{"FL", "FR", "RL", "RR"}, "load of the tyre", t.Load)...)
}

// ratios reports damping ratios: the setting of the build with its band, then
// every measured click, direction and speed. Everything in a ratio but the
// force is common to a corner, so the band keeps its proportion.
func (s *setup) ratios(a *Answer, w *worker, main figure.Value) {
	ba := w.parts()
	if main.State == figure.Unknown || ba.Damper == nil {
		a.Values = append(a.Values, main)
		return
	}
	low, high := 1.0, 1.0
	if main.HasBand && main.Value > 0 {
		low, high = main.Low/main.Value, main.High/main.Value
	}
	m := &w.sys.Corner[w.i]
	settings, velocities, directions := clicksOf(ba.Damper, w.build(), w.i), s.opt.Velocities, []string{"mean", "bump", "rebound"}
	if s.again {
		// A change is judged by its own setting, as Get gives it.
		settings, velocities, directions = settings[:1], []float64{s.opt.MainSpeed}, directions[:1]
	}
	for k, cl := range settings {
		curve := m.Curve
		if cl.has && k > 0 {
			var err error
			if curve, err = curveAt(ba.Damper, cl.click); err != nil {
				continue
			}
		}
		for _, speed := range velocities {
			for _, direction := range directions {
				v := main
				v.Place.HasClick, v.Place.Click = cl.has, cl.click
				v.Place.Direction, v.Place.Velocity = direction, speed
				v.Warnings = nil
				v.Value = main.Value * m.CurveScale * coefficientOf(&curve, speed, direction) / m.Secant(s.opt.MainSpeed)
				v.Low, v.High = low*v.Value, high*v.Value
				v.Working = nil
				if !s.opt.NoWorkings {
					v.Working = w.ratioOf(speed, direction, curve.Bump, curve.Rebound)
				}
				if speed > curve.TopSpeed {
					v.State, v.Reason = figure.Outside, "faster than the damper was measured"
				}
				if curve.Between {
					v.Warnings = append(v.Warnings, "between-clicks")
				}
				a.Values = append(a.Values, v)
			}
		}
	}
}

// coefficientOf is a damper's coefficient at a damper speed, one way or the mean of
// both, by its curve [N s/m].
func coefficientOf(c *part.DamperCurve, speed float64, direction string) float64 {
	bump, _ := c.Force(speed)
	rebound, _ := c.Force(-speed)
	switch direction {
	case "bump":
		return bump / speed
	case "rebound":
		return -rebound / speed
	}
	return (bump - rebound) / (2 * speed)
}

// preloads reports what the weighing and the old parts disagree by.
func (s *setup) preloads(a *Answer, base *equilibrium.Baseline) {
	var drawn [4][]float64
	if a.columns != nil {
		for i := range drawn {
			drawn[i] = make([]float64, a.columns.samples)
		}
		// It cannot fail: nothing cancels it, and all draws take milliseconds.
		_ = spread.Each(context.Background(), a.columns.samples, s.opt.Workers, func(_, k int) {
			b := equilibrium.Calibrate(s.fitted, s.hangup, figure.DrawOf(a.columns.table.Draw(k)))
			for i := range drawn {
				drawn[i][k] = b.Preload[i]
			}
		})
	}
	var terms *equilibrium.Terms
	if !s.opt.NoWorkings {
		terms = s.weighedTerms(base)
	}
	for i := range 4 {
		place := figure.Place{Build: s.job.Car.Weighed.Build, Corner: i, At: "spring"}
		v := figure.Value{Code: "preload-error", Place: place, Tier: figure.Static, Value: base.Preload[i], State: figure.OK}
		if base.Inferred[i] {
			v.Warnings = append(v.Warnings, "seat-length-inferred")
		}
		if terms != nil {
			v.Working = terms.Preload(i)
		}
		if a.columns != nil {
			v.Low, v.High, v.HasBand = spread.Band(drawn[i], band, nil)
		}
		a.Values = append(a.Values, v)
	}
}

// weighedTerms are the terms of the weighing.
func (s *setup) weighedTerms(base *equilibrium.Baseline) *equilibrium.Terms {
	return equilibrium.NewTerms(s.fitted, s.fitted, base, s.hangup, &equilibrium.System{})
}

// cornerWarnings notes how a corner rests.
func (s *setup) cornerWarnings(a *Answer, w *worker, place figure.Place) {
	sh := w.sys.Corner[w.i].At(w.st.Travel[w.i])
	note := func(code string, value float64, unit string) {
		a.Warnings = append(a.Warnings, Warning{Code: code, Build: place.Build, Load: place.Load, Corner: place.Corner, Value: value, Unit: unit})
	}
	switch {
	case w.st.Tyre[w.i] <= 0:
		note("wheel-hangs", w.st.Travel[w.i], "m")
	case sh.Blocked:
		note("coils-touch-at-rest", w.st.Travel[w.i], "m")
	case sh.Metal > 0:
		note("rests-on-metal", sh.Metal, "N")
	case sh.StopOutside:
		note("rests-past-stop-table", sh.StopCrush, "m")
	case sh.StopCrush > 0:
		note("rests-on-stop", sh.StopCrush, "m")
	}
	if sh.Loose > 0 {
		note("spring-loose-at-rest", sh.Loose, "m")
	}
}

// jobWarnings notes what the readings cannot tell, once for the job.
func (s *setup) jobWarnings(a *Answer, base *equilibrium.Baseline) {
	c := s.job.Car
	note := func(code, path string) {
		a.Warnings = append(a.Warnings, Warning{Code: code, Corner: figure.NoCorner, Path: path})
	}
	note("one-weighing-rate-or-preload", "car.weighed")
	note("one-weighing-friction", "car.weighed")
	if c.Weighed.BarsOn {
		note("one-weighing-bars-on", "car.weighed.bars")
	}
	if !c.Weighed.Settled {
		note("not-settled", "car.weighed.settled")
	}
	for i := range 4 {
		if base.Inferred[i] {
			w := Warning{Code: "seat-length-inferred", Corner: i, Path: "car.weighed.spring_length"}
			if sp := s.fitted.Build.Corner[i].Spring; sp != nil && sp.Free.Known() {
				w.Value, w.Unit = base.SeatLength[i], "m"
			}
			a.Warnings = append(a.Warnings, w)
		}
	}
	for b, ds := range s.designs {
		for i := range 4 {
			d := ds.Build.Corner[i].Damper
			if d == nil || !d.Guess || i&1 == 1 && d == ds.Build.Corner[i-1].Damper {
				continue // of both sides it was said at the left one
			}
			a.Warnings = append(a.Warnings, Warning{Code: "damper-curve-estimated", Build: s.job.Builds[b].ID, Corner: i, Path: ds.Build.PlaceOf(i) + ".damper"})
		}
	}
	if a.columns != nil {
		for k, n := range a.columns.failed {
			if n > 0 {
				a.Warnings = append(a.Warnings, Warning{
					Code: "draws-without-rest", Build: s.job.Builds[k/a.columns.loads].ID, Load: s.job.Loads[k%a.columns.loads].ID,
					Corner: figure.NoCorner, Value: float64(n) / float64(a.columns.samples), Unit: "1",
				})
			}
		}
	}
}
