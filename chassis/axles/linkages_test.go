package axles

import (
	"context"
	"errors"
	"math"
	"testing"

	"trunnion/chassis/demo"
	"trunnion/chassis/study"

	"trunnion/chassis/car"
	"trunnion/chassis/geom"
	"trunnion/chassis/linkage"
)

// A measured table is used and laid beside the points row by row; where there is
// none, the points are.
func TestMotionTableBesideThePoints(t *testing.T) {
	a := pointed(t, true)
	m, err := MoveLinkage(a.Job.Car, UsualLinkageAsk(car.Front))
	if err != nil {
		t.Fatal(err)
	}
	if len(m.Motions) != 2 || len(m.Curves.Points) != 61 || !m.Steers {
		t.Fatalf("%d motions, %d points, steers %v", len(m.Motions), len(m.Curves.Points), m.Steers)
	}
	for _, table := range m.Motions {
		given := &a.Job.Car.Axle[car.Front].Spring
		if !table.Table || len(table.Rows) != len(given.Wheel) || table.Worst < 0 {
			t.Fatalf("%s: %+v", table.Part, table)
		}
		worst := table.Rows[table.Worst]
		for k, r := range table.Rows {
			if r.Travel != given.Wheel[k] || r.Measured != given.Part[k] {
				t.Errorf("%s, row %d: %+v", table.Part, k, r)
			}
			if math.Abs(r.Fitted-r.Measured) > 1e-3 {
				t.Errorf("%s at %.3f m: the curve has %.5f m, the reading %.5f m", table.Part, r.Travel, r.Fitted, r.Measured)
			}
			if math.Abs(r.Measured-r.Computed) > math.Abs(worst.Measured-worst.Computed) {
				t.Errorf("%s: row %d is worse than row %d", table.Part, k, table.Worst)
			}
		}
		if math.Abs(table.TableRatio-m.Home.Spring.Ratio) > 0.05 || table.PointsRatio != m.Home.Spring.Ratio {
			t.Errorf("%s: ratio %.4f by the table, %.4f by the points", table.Part, table.TableRatio, table.PointsRatio)
		}
	}
	none, err := MoveLinkage(pointed(t, false).Job.Car, UsualLinkageAsk(car.Front))
	if err != nil {
		t.Fatal(err)
	}
	for _, table := range none.Motions {
		if table.Table || len(table.Rows) != 0 || table.Worst != -1 || math.IsNaN(table.PointsRatio) {
			t.Errorf("without a table: %+v", table)
		}
	}
}

// Changes start from where a build stands, and the tie rod they ask for brings
// the toe back.
func TestLinkageChanges(t *testing.T) {
	a := pointed(t, false)
	ask := UsualLinkageAsk(car.Front)
	ask.Lower = 0.02
	m, err := MoveStanding(a, "kit", "driver", ask)
	if err != nil {
		t.Fatal(err)
	}
	k, err := a.CaseOf("kit", "driver")
	if err != nil {
		t.Fatal(err)
	}
	w := k.State.Travel
	if !m.Standing || math.Abs(m.Rest-0.5*(w[0]+w[1])) > 1e-12 {
		t.Errorf("the kit stands at %.5f m", m.Rest)
	}
	if m.Asked == nil || len(m.Tried) != 4 {
		t.Fatalf("%+v, %d tried", m.Asked, len(m.Tried))
	}
	for _, c := range append(m.Tried, *m.Asked) {
		if c.Err != nil {
			t.Fatal(c.Err)
		}
		if c.Was.Travel != m.Rest {
			t.Errorf("%s starts at %.5f m", c.Code, c.Was.Travel)
		}
		if math.IsNaN(c.Rod) {
			t.Errorf("%s asks for no tie rod", c.Code)
		}
	}
	lower := m.Tried[0]
	if lower.Code != LinkageLower || math.Abs(lower.Is.Travel-m.Rest-lower.By) > 1e-12 {
		t.Fatalf("%+v", lower)
	}
	// The rod's length as said gives the toe that was there.
	c := *a.Job.Car.Axle[car.Front].Hardpoints.Corner
	c.Rods = append([]linkage.Rod(nil), c.Rods...)
	in, out := c.Rods[0].Inner, c.Rods[0].Outer
	d := geom.Vec{X: out.X - in.X, Y: out.Y - in.Y, Z: out.Z - in.Z}
	c.Rods[0].Length = math.Sqrt(d.X*d.X+d.Y*d.Y+d.Z*d.Z) + lower.Rod
	longer, err := linkage.NewCorner(c)
	if err != nil {
		t.Fatal(err)
	}
	f, err := longer.Figures(linkage.Parallel, m.Rest+lower.By, 0)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(f.Toe-lower.Was.Toe) > 1e-8 {
		t.Errorf("toe %.8f rad with the rod %.6f m longer, %.8f before", f.Toe, lower.Rod, lower.Was.Toe)
	}
}

func TestLinkagesThatAreNone(t *testing.T) {
	a := pointed(t, false)
	if _, err := MoveLinkage(a.Job.Car, UsualLinkageAsk(car.Rear)); !errors.Is(err, ErrNoHardpoints) {
		t.Error(err)
	}
	beam := *a.Job.Car
	beam.Axle[car.Rear].Kind = "twist-beam"
	beam.Axle[car.Rear].Hardpoints = &linkage.Hardpoints{Beam: &linkage.Beam{
		Wheel: linkage.Wheel{Centre: at(-2650, 740, 305), Radius: 0.305}, Bush: at(-2210, 560, 330), Shear: at(-2330, 0, 368),
		Damper: &linkage.Element{Top: at(-2590, 590, 733), Low: at(-2648, 600, 257)},
	}}
	ask := UsualLinkageAsk(car.Rear)
	m, err := MoveLinkage(&beam, ask)
	if err != nil {
		t.Fatal(err)
	}
	if m.Steers || m.Home.HasSteer || len(m.Tried) != 1 || m.Tried[0].Code != LinkageLower {
		t.Errorf("a beam steers %v and takes %+v", m.Steers, m.Tried)
	}
	ask.Change.Offset = 0.01
	if _, err := MoveLinkage(&beam, ask); !errors.Is(err, ErrDependent) {
		t.Error(err)
	}
}

// BenchmarkMoveLinkage is an axle of 61 points with its changes. Goal: 1 ms for
// the points alone.
func BenchmarkMoveLinkage(b *testing.B) {
	c := pointed(b, true).Job.Car
	for b.Loop() {
		if _, err := MoveLinkage(c, UsualLinkageAsk(car.Front)); err != nil {
			b.Fatal(err)
		}
	}
}

// Links that lock before the damper is open are told, once a build and corner.
func TestLinksThatLock(t *testing.T) {
	job := study.Job(demo.Marl())
	ax := &job.Car.Axle[car.Front]
	corner := *pointed(t, true).Job.Car.Axle[car.Front].Hardpoints.Corner
	corner.Arms = []linkage.Arm{{Name: "lower arm", Front: at(-15, 620, 235), Rear: at(-310, 625, 245), Ball: at(5, 705, 220)}}
	ax.Hardpoints = &linkage.Hardpoints{Corner: &corner}
	opt := study.Defaults()
	opt.Samples, opt.NoWorkings, opt.NoModes, opt.NoCorners = 0, true, true, true
	a, err := study.Run(context.Background(), job, opt)
	if err != nil {
		t.Fatal(err)
	}
	l, err := ax.Hardpoints.New()
	if err != nil {
		t.Fatal(err)
	}
	told := map[string]int{}
	for _, w := range a.Warnings {
		if w.Code != "links-lock" {
			continue
		}
		told[w.Build]++
		if w.Corner > 1 {
			t.Errorf("corner %d has no points", w.Corner)
		}
		lock := l.Locked(linkage.Parallel, math.Copysign(0.16, w.Value), 0)
		if lock == nil || math.Abs(lock.Reached-w.Value) > 1e-3 {
			t.Errorf("%s locks at %.4f m: %v", w.Build, w.Value, lock)
		}
	}
	if len(told) == 0 {
		t.Error("nothing is told of links that lock")
	}
	for _, w := range pointed(t, true).Warnings {
		if w.Code == "links-lock" {
			t.Errorf("links that do not lock are said to: %+v", w)
		}
	}
}

// What the links steer is the difference of the toes over the bend, and a bend the
// other way steers as far.
func TestLinksSteer(t *testing.T) {
	a := pointed(t, true)
	opt := a.Options
	opt.NoCorners, opt.NoWorkings = false, false
	full, err := study.Run(context.Background(), a.Job, opt)
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for i := range full.Values {
		v := &full.Values[i]
		switch v.Code {
		case "links-steer":
			n++
			c, err := full.Cornering(v.Place.Build, v.Place.Load)
			if err != nil {
				t.Fatal(err)
			}
			p, err := c.At(study.SteerAt, 0, nil)
			if err != nil {
				t.Fatal(err)
			}
			if v.Place.Mode != "front" || math.Abs(v.Value+c.Steer(&p, 0)/study.SteerAt) > 1e-12 || v.Working == nil || math.Abs(v.Working.Result-v.Value) > 1e-9 {
				t.Errorf("%+v: %g", v.Place, v.Value)
			}
		case "camber-to-road":
			n++
			if v.Place.Corner > 1 || v.Working == nil || math.Abs(v.Working.Result-v.Value) > 1e-9 {
				t.Errorf("%+v: %g", v.Place, v.Value)
			}
		}
	}
	if n != 3*len(full.Job.Builds)*len(full.Job.Loads) {
		t.Errorf("%d values of links", n)
	}
}
