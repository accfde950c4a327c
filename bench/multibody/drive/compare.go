package main

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"trunnion/chassis/geom"
	"trunnion/chassis/linkage"
)

// agreement is the worst difference of one suspension over its travel.
type agreement struct {
	name                          string
	from, to                      float64 // travel of the left wheel [m]
	centre, spring, damper        float64 // [m]
	camber, toe                   float64 // [rad]
	springForce, linkForce, joint float64 // [N]
	most                          float64 // greatest force compared [N]
	places, forces                int
}

// compareLinkages reads what the engine printed.
func compareLinkages(path string) ([]agreement, error) {
	text, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	var out []agreement
	for _, s := range suspensions() {
		l, err := s.hardpoints.New()
		if err != nil {
			return nil, fmt.Errorf("%s: %w", s.name, err)
		}
		a := agreement{name: s.name}
		home, err := l.Figures(linkage.Single, 0, 0)
		if err != nil {
			return nil, err
		}
		var length [2]float64 // of spring and damper at home, by the engine
		for line := range strings.SplitSeq(string(text), "\n") {
			f := strings.Fields(line)
			if len(f) < 5 || f[1] != s.name {
				continue
			}
			travel := number(f[2])
			a.from, a.to = math.Min(a.from, travel), math.Max(a.to, travel)
			switch f[0] {
			case "at":
				now, err := l.Figures(linkage.Single, travel, 0)
				if err != nil {
					return nil, fmt.Errorf("%s at %g: %w", s.name, travel, err)
				}
				a.place(f[4:], &now, &home, &length)
			case "force":
				load := s.loads[int(number(f[4]))]
				forces, err := l.Forces([2]float64{travel}, 0, [2]linkage.WheelForce{load})
				if err != nil {
					return nil, fmt.Errorf("%s at %g: %w", s.name, travel, err)
				}
				if err := a.force(f[5:], &forces); err != nil {
					return nil, fmt.Errorf("%s at %g: %w", s.name, travel, err)
				}
			}
		}
		if a.places < len(travels) || a.forces == 0 {
			return nil, fmt.Errorf("%s: the engine gave %d places and %d forces", s.name, a.places, a.forces)
		}
		out = append(out, a)
	}
	return out, nil
}

func number(s string) float64 {
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		return math.NaN()
	}
	return v
}

func vector(f []string) geom.Vec { return geom.Vec{X: number(f[0]), Y: number(f[1]), Z: number(f[2])} }

func worst(of *float64, off float64) {
	if math.IsNaN(off) || off > *of {
		*of = off
	}
}

func apart(a, b geom.Vec) float64 {
	return math.Max(math.Abs(a.X-b.X), math.Max(math.Abs(a.Y-b.Y), math.Abs(a.Z-b.Z)))
}

// place compares where the wheel is, how it stands and how far spring and damper have
// moved.
func (a *agreement) place(f []string, now, home *linkage.Figures, length *[2]float64) {
	centre, spin := vector(f), vector(f[3:])
	worst(&a.centre, apart(centre, now.Centre))
	worst(&a.camber, math.Abs(-math.Asin(spin.Z)-now.Camber))
	worst(&a.toe, math.Abs(math.Atan2(spin.X, spin.Y)-now.Toe))
	for i := 6; i+1 < len(f); i += 2 {
		v := number(f[i+1])
		if f[i] == "spring" {
			if now.Travel == 0 {
				length[0] = v
			}
			worst(&a.spring, math.Abs(length[0]-v-(now.Spring.Travel-home.Spring.Travel)))
		} else {
			if now.Travel == 0 {
				length[1] = v
			}
			worst(&a.damper, math.Abs(length[1]-v-(now.Damper.Travel-home.Damper.Travel)))
		}
	}
	a.places++
}

// force compares what springs, links and joints carry.
func (a *agreement) force(f []string, got *linkage.Forces) error {
	for i := 0; i < len(f); {
		switch f[i] {
		case "spring", "spring-right":
			k := 0
			if f[i] == "spring-right" {
				k = 1
			}
			// The engine counts a pull of its rod positive.
			v := -number(f[i+1])
			worst(&a.springForce, math.Abs(v-got.Spring[k]))
			worst(&a.most, math.Abs(v))
			i += 2
		default:
			v := vector(f[i+1:])
			found := false
			for _, m := range got.Members {
				if m.Name == f[i] {
					worst(&a.linkForce, apart(v, m.Force))
					found = true
				}
			}
			for _, j := range got.Joints {
				if j.Name == f[i]+" ball joint" || j.Name == f[i]+" outer" {
					worst(&a.joint, apart(v, j.Force))
					found = true
				}
			}
			if !found {
				return fmt.Errorf("the program has no force called %s", f[i])
			}
			worst(&a.most, math.Max(math.Abs(v.X), math.Max(math.Abs(v.Y), math.Abs(v.Z))))
			i += 4
		}
		a.forces++
	}
	return nil
}

// ran is a line of the car: the figures of one drive.
type ran struct {
	floor  [2]float64    // weighted, root mean square [m/s2]
	load   [4]float64    // deviation [N]
	travel [4][2]float64 // most, least [m]
	force  [4]float64    // greatest [N]
}

// lines reads those of one solver by drive.
func lines(dir, name, solver string) (map[string]ran, error) {
	text, err := os.ReadFile(filepath.Join(dir, name))
	if err != nil {
		return nil, err
	}
	out := map[string]ran{}
	for line := range strings.SplitSeq(string(text), "\n") {
		f := strings.Fields(line)
		if len(f) != 24 || f[0] != solver || f[1] != "rigid" {
			continue
		}
		var r ran
		v := f[6:]
		for i := range 2 {
			r.floor[i] = number(v[i])
		}
		for i := range 4 {
			r.load[i] = number(v[2+i])
			r.travel[i] = [2]float64{number(v[6+2*i]), number(v[7+2*i])}
			r.force[i] = number(v[14+i])
		}
		out[f[2]] = r
	}
	return out, nil
}

// differ are the worst differences of two runs: floor, loads and forces as shares,
// travel as a length [m].
func differ(a, b ran) (floor, load, travel, force float64) {
	for i := range 2 {
		worst(&floor, math.Abs(a.floor[i]/b.floor[i]-1))
	}
	for i := range 4 {
		worst(&load, math.Abs(a.load[i]/b.load[i]-1))
		worst(&force, math.Abs(a.force[i]/b.force[i]-1))
		for k := range 2 {
			worst(&travel, math.Abs(a.travel[i][k]-b.travel[i][k]))
		}
	}
	return floor, load, travel, force
}
