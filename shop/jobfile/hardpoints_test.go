package jobfile

import (
	"strings"
	"testing"

	"trunnion/examples"
)

// withPoints puts other hardpoints onto the demo's front axle.
func withPoints(t *testing.T, points string) string {
	t.Helper()
	text, err := examples.Jobs.ReadFile("marl-estate/job.yaml")
	if err != nil {
		t.Fatal(err)
	}
	front, rest, ok := strings.Cut(string(text), "    hardpoints:")
	_, rest, there := strings.Cut(rest, "\n    tyre_rate:")
	if !ok || !there {
		t.Fatal("the demo's front hardpoints are not where they were")
	}
	return front + points + "    tyre_rate:" + rest
}

const strutPoints = `    hardpoints:
      wheel_centre: [0, 750, 310 mm]
      wheel_radius: 310 mm
      arms: {lower-arm: {front_pivot: [-15, 360, 235 mm], rear_pivot: [-310, 380, 245 mm], ball_joint: [5, 700, 220 mm]}}
      rods: {tie-rod: {inner: [-130, 340, 300 mm], outer: [-135, 690, 290 mm], steered: yes}}
      strut: {top: [-45, 580, 820 mm], low: [-14, 655, 420 mm]}
`

// Every fault of the points is told with its line, the points and what to do.
func TestPointFaults(t *testing.T) {
	for _, c := range []struct{ what, from, to, want string }{
		{"two numbers", "[0, 750, 310 mm]", "[0, 750 mm]", "3 to"},
		{"right side", "ball_joint: [5, 700, 220 mm]", "ball_joint: [5, -700, 220 mm]", "lower-arm ball joint"},
		{"metres", "inner: [-130, 340, 300 mm]", "inner: [-130, 340, 300 m]", "tie-rod inner"},
		{"on one line", "rear_pivot: [-310, 380, 245 mm]", "rear_pivot: [-15, 360, 235 mm]", "lower-arm rear pivot"},
		{"upside down", "top: [-45, 580, 820 mm]", "top: [-45, 580, 120 mm]", "top mount"},
		{"too long a rod", "steered: yes", "steered: yes, length: 900 mm", "tie-rod outer"},
		{"no rod", "      rods: {tie-rod: {inner: [-130, 340, 300 mm], outer: [-135, 690, 290 mm], steered: yes}}\n", "", "links"},
		{"pivots on a strut", "      strut:", "      pivots: {inner: [-100, 300, 300 mm], outer: [0, 600, 300 mm]}\n      strut:", "strut"},
	} {
		if !strings.Contains(strutPoints, c.from) {
			t.Fatalf("%s: %q is not in the points", c.what, c.from)
		}
		job, faults := Read(strings.NewReader(withPoints(t, strings.Replace(strutPoints, c.from, c.to, 1))), "job.yaml")
		if job != nil {
			t.Errorf("%s: the job is taken", c.what)
		}
		found := false
		for _, f := range faults {
			found = found || f.Kind == Refuse && f.Line > 0 && strings.Contains(f.Path, "hardpoints") && strings.Contains(f.Got+f.Want, c.want)
		}
		if !found {
			t.Errorf("%s: %v; wanted %q", c.what, faults, c.want)
		}
	}
}

// A table that was measured is used; that the points say something else is a
// warning. Without a table the points give one.
func TestPointsAndTable(t *testing.T) {
	both := withPoints(t, strutPoints)
	job, faults := Read(strings.NewReader(both), "job.yaml")
	if job == nil {
		t.Fatal(faults)
	}
	if job.Car.Axle[0].Hardpoints == nil || len(job.Car.Axle[0].Spring.Wheel) != 7 || job.Car.Axle[0].Spring.Origin != "measured" {
		t.Errorf("the table is %+v", job.Car.Axle[0].Spring)
	}
	other := strings.Replace(both, "[-84.5, -56.5, -28.5, 0, 29, 58, 87.5 mm]", "[-94.5, -62.5, -31.5, 0, 32, 64, 97.5 mm]", 1)
	if other == both {
		t.Fatal("the demo's front table is not where it was")
	}
	job, faults = Read(strings.NewReader(other), "job.yaml")
	warned := false
	for _, f := range faults {
		warned = warned || f.Kind == Warn && strings.Contains(f.Got, "differs from the hardpoints")
	}
	if job == nil || !warned {
		t.Errorf("a table 10 %% off is not told of: %v", faults)
	}
	front := strings.Index(both, "    motion:")
	rest := strings.Index(both[front:], "\n    hardpoints")
	if front < 0 || rest < 0 {
		t.Fatal("the demo's motion table is not where it was")
	}
	job, faults = Read(strings.NewReader(both[:front]+both[front+rest+1:]), "job.yaml")
	if job == nil {
		t.Fatal(faults)
	}
	m := &job.Car.Axle[0].Spring
	if !m.Known() || m.Origin != "computed" || len(m.Wheel) != 33 {
		t.Errorf("points give the table %+v", m)
	}
	p := m.At(nil)
	if _, r, _ := p.At(0); r < 0.94 || r > 0.96 {
		t.Errorf("the points' motion ratio is %g", r)
	}
}
