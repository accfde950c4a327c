package main

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"

	"trunnion/chassis/comfort"
	"trunnion/chassis/ride"
)

// Shapes of the engine's tables. The rows are read back through the model's own functions, four values to a cubic, so
// that what is written is what the engine computes with.
const (
	positionRows = 512
	positionStep = 1.0 / 1024
	logPerSign   = 128
	logOffset    = 1.0 / 128
	stopRows     = 192
	forceUnit    = 1000.0
	gravity      = 9.80665 // what the engine takes where the car says nothing [m/s²]
)

func export(dir string) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	for name, mount := range map[string]float64{"rigid": 0, "mount": mountRate} {
		if err := exportCar(filepath.Join(dir, "car-"+name+".txt"), mount); err != nil {
			return err
		}
	}
	cases, err := drives()
	if err != nil {
		return err
	}
	var list strings.Builder
	for i := range cases {
		d := &cases[i]
		rows := d.heights(estate(0).Wheelbase)
		event := 0
		if d.event {
			event = 1
		}
		fmt.Fprintf(&list, "%s %d %g %g %g %d\n", d.name, event, d.duration, d.settle, gridTime, len(rows))
		var bin bytes.Buffer
		if err := binary.Write(&bin, binary.LittleEndian, rows); err != nil {
			return err
		}
		if err := os.WriteFile(filepath.Join(dir, "road-"+d.name+".bin"), bin.Bytes(), 0o644); err != nil {
			return err
		}
	}
	return os.WriteFile(filepath.Join(dir, "roads.txt"), []byte(list.String()), 0o644)
}

// cubic returns c0..c3 over t = 0..1 from the values at t = 0, 1/3, 2/3, 1.
func cubic(at func(t float64) float64) [4]float64 {
	f0, f1, f2, f3 := at(0), at(1.0/3), at(2.0/3), at(1)
	return [4]float64{
		f0,
		-5.5*f0 + 9*f1 - 4.5*f2 + f3,
		9*f0 - 22.5*f1 + 18*f2 - 4.5*f3,
		-4.5*f0 + 13.5*f1 - 13.5*f2 + 4.5*f3,
	}
}

// logTable reads a table with logarithmic rows back.
func logTable(law func(v float64) float64) []float64 {
	knot := func(k int) float64 {
		const first = (1023 - 7) << 3
		return math.Float64frombits(uint64(k+first)<<(52-3)) - logOffset
	}
	var out []float64
	for sign := range 2 {
		side := 1 - 2*float64(sign)
		for k := range logPerSign {
			v0, v1 := side*knot(k), side*knot(k+1)
			h := v1 - v0
			c := cubic(func(t float64) float64 {
				// The knot itself belongs to the next row, which starts with the same value.
				return law(v0 + t*h)
			})
			out = append(out, v0, c[0], c[1]/h, c[2]/(h*h), c[3]/(h*h*h))
		}
	}
	return out
}

func exportCar(path string, mount float64) error {
	car := estate(mount)
	m, err := ride.Compile(car)
	if err != nil {
		return err
	}
	w := new(strings.Builder)
	mass, roll, pitch := m.Inertia()
	_, px0, py0 := m.Point(0)
	_, px1, py1 := m.Point(1)
	block(w, "body", gravity, mass, roll, pitch, m.Bar(0), m.Bar(1), 0, 0, px0, py0, px1, py1, car.RollArm, car.PitchArm)
	k := comfort.Wk
	block(w, "weighting", k.HighPass, k.LowPass, k.Transition, k.Zero, k.QuTrans, k.StepLow, k.StepHigh, k.QuStepLow, k.QuStepHigh)
	rest := m.Rest()
	for i := range 4 {
		x, y, unsprung := m.Hub(i)
		in := &car.Corners[i]
		stop, open := m.Touch(i)
		// The engine takes ten times the tyre's rate past the rim where none is given.
		block(w, "corner", x, y, unsprung, in.Tyre.Rate, in.Tyre.RimTravel, 9*in.Tyre.Rate, mount,
			rest.Travel[i], rest.Deflection[i], rest.TyreLoad[i], stop, open, in.DynoMin, in.DynoMax)
		var rows []float64
		for r := range positionRows {
			at := func(t float64) float64 { return (float64(r) + t - positionRows/2) * positionStep }
			c := cubic(func(t float64) float64 { f, _ := m.Spring(i, at(t)); return f })
			_, r0 := m.Spring(i, at(0))
			_, r1 := m.Spring(i, at(1))
			rows = append(rows, c[0], c[1], c[2], c[3], r0, r1-r0)
		}
		block(w, "position", rows...)
		block(w, "damper", logTable(func(v float64) float64 { return m.Damper(i, v) })...)
		if mount > 0 {
			block(w, "inverse", logTable(func(f float64) float64 { return m.DamperSpeed(i, f*forceUnit) })...)
		}
		rows = rows[:0]
		for r := range stopRows {
			c := cubic(func(t float64) float64 { return m.Stop(i, stop+(float64(r)+t)*positionStep) })
			rows = append(rows, c[:]...)
		}
		block(w, "stop", rows...)
		rows = rows[:0]
		for r := range stopRows {
			c := cubic(func(t float64) float64 { return -m.Stop(i, open-(float64(r)+t)*positionStep) })
			rows = append(rows, c[:]...)
		}
		block(w, "top", rows...)
	}
	return os.WriteFile(path, []byte(w.String()), 0o644)
}

func block(w *strings.Builder, name string, values ...float64) {
	fmt.Fprintf(w, "%s %d", name, len(values))
	for _, v := range values {
		fmt.Fprintf(w, " %.17g", v)
	}
	fmt.Fprintln(w)
}
