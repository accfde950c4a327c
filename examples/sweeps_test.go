package examples_test

import (
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"trunnion/chassis/demo"
	"trunnion/chassis/dyno"
)

var update = flag.Bool("update", false, "write the example sweeps anew")

// cold is the skin temperature of the invented sweeps [K].
const cold = 313.15

// sweeps are the example files: the four shapes in which a dyno writes, of the invented
// kit's dampers. Each is written as another machine would.
func sweeps() map[string]string {
	kit := demo.KitDampers()
	draw := rand.New(rand.NewPCG(14, 2026))
	machine := demo.Machine{Stroke: 0.05, Samples: 120, Noise: 1.5}
	comma := func(v float64, digits int) string {
		return strings.ReplaceAll(strconv.FormatFloat(v, 'f', digits, 64), ".", ",")
	}
	out := map[string]string{}

	// Peaks of all clicks, gas and friction still in, decimal commas; the right one has a
	// hot run at the end.
	for side, name := range []string{"front-left", "front-right"} {
		d := kit[side]
		gas, _ := d.Gas.At(0)
		var b strings.Builder
		fmt.Fprintf(&b, "Damper;%s\nDate;2026-11-03\nTotal clicks;15\n", name)
		block := func(click int, kelvin float64) {
			fmt.Fprintf(&b, "\nClicks out from closed;%d\nTemperature;%s °C\nVelocity;Compression;Rebound\nmm/s;N;N\n", click, comma(kelvin-273.15, 0))
			most := 0.0
			for _, v := range demo.SweepSpeeds {
				bump := d.Force(dyno.Bump, v, click, kelvin) + gas + d.Friction + draw.NormFloat64()
				rebound := gas - d.Friction - d.Force(dyno.Rebound, v, click, kelvin) + draw.NormFloat64()
				fmt.Fprintf(&b, "%s;%s;%s\n", comma(1000*v, 0), comma(bump, 1), comma(rebound, 1))
				most = math.Max(most, bump)
			}
			fmt.Fprintf(&b, "Max;%s\n", comma(most, 1))
		}
		for click := range 16 {
			block(click, cold)
		}
		if side == 1 {
			block(4, cold+31)
		}
		out["peaks-"+name+".csv"] = b.String()
	}

	// An averaged curve of three clicks, gas and friction taken off, in pounds and inches.
	var b strings.Builder
	b.WriteString("click\tvelocity (in/s)\tbump (lbf)\trebound (lbf)\n")
	for _, click := range []int{0, 7, 15} {
		for i := 1; i <= 40; i++ {
			v := 0.026 * float64(i)
			fmt.Fprintf(&b, "%d\t%.2f\t%.2f\t%.2f\n", click, v/0.0254, kit[1].Force(dyno.Bump, v, click, cold)/4.4482216152605, kit[1].Force(dyno.Rebound, v, click, cold)/4.4482216152605)
		}
	}
	out["averaged-front-right.txt"] = b.String()

	// Full loops of the rear pair, rebound up.
	b.Reset()
	for side, name := range []string{"rear-left", "rear-right"} {
		for _, click := range []int{0, 7, 15} {
			for _, v := range demo.SweepSpeeds[:6] {
				r := kit[2+side].Loop(machine, v, click, cold, draw)
				fmt.Fprintf(&b, "Damper,%s\nClick,%d\nTemperature,%.0f °C\n\"Time, s\",\"Position, mm\",\"Velocity, mm/s\",\"Force, N\"\n", name, click, r.Temperature-273.15)
				for i := range r.Force {
					fmt.Fprintf(&b, "%.4f,%.2f,%.1f,%.1f\n", r.Time[i]-r.Time[0], r.Position[i]*1000, -r.Velocity[i]*1000, -r.Force[i])
				}
				b.WriteString("\n")
			}
		}
	}
	out["loops-rear.csv"] = b.String()

	// Slow run and gas run of the front right, blanks between the columns.
	b.Reset()
	slow := kit[1].SlowRun(machine, 0.003, 15, cold, draw)
	b.WriteString("Damper: front-right\nSlow run\nClick: 15\nTemperature: 40 °C\n\ntime_s position_mm velocity_mm/s force_N\n")
	for i := range slow.Force {
		fmt.Fprintf(&b, "%.2f %.2f %.2f %.1f\n", slow.Time[i], slow.Position[i]*1000, slow.Velocity[i]*1000, slow.Force[i])
	}
	still := kit[1].GasRun(machine, draw)
	b.WriteString("\nGas run\nposition_mm force_N\n")
	for i := range still.Force {
		fmt.Fprintf(&b, "%.1f %.1f\n", still.Position[i]*1000, still.Force[i])
	}
	out["slow-and-gas-front-right.dat"] = b.String()
	return out
}

// The files are what the invented kit gives; -update writes them.
func TestExampleSweepsAreTheInventedKit(t *testing.T) {
	for name, want := range sweeps() {
		path := filepath.Join("sweeps", name)
		if *update {
			if err := os.WriteFile(path, []byte(want), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		got, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if off := differs(string(got), want); off != "" {
			t.Errorf("%s is not what the kit gives: %s", path, off)
		}
	}
}

// differs compares two texts cell by cell; a last digit may have been rounded the other
// way on another machine.
func differs(got, want string) string {
	cells := func(text string) []string {
		return strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(" ;\t\n", r) })
	}
	a, b := cells(got), cells(want)
	if len(a) != len(b) {
		return fmt.Sprintf("%d cells, %d wanted", len(a), len(b))
	}
	for i := range a {
		if a[i] == b[i] {
			continue
		}
		for k, one := range strings.Split(a[i], ",") {
			x, err := strconv.ParseFloat(one, 64)
			other := strings.Split(b[i], ",")
			if k >= len(other) {
				return a[i] + " for " + b[i]
			}
			y, err2 := strconv.ParseFloat(other[k], 64)
			if err != nil || err2 != nil || math.Abs(x-y) > 1.01 {
				return a[i] + " for " + b[i]
			}
		}
	}
	return ""
}
