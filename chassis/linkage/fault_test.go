package linkage

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"
)

// Whatever is wrong with the points is a fault that names them.
func TestFaultsNameTheirPoints(t *testing.T) {
	strut := func(change func(*Corner)) func() (*Linkage, error) {
		return func() (*Linkage, error) { c := strutCorner(); change(&c); return NewCorner(c) }
	}
	for _, c := range []struct {
		what  string
		make  func() (*Linkage, error)
		code  Code
		point string
	}{
		{"a coordinate is no number", strut(func(c *Corner) { c.Rods[0].Inner.X = math.NaN() }), NotFinite, "tie rod inner"},
		{"the ball joint on the arm's axis", strut(func(c *Corner) { c.Arms[0].Ball = mm(-162.5, 370, 240) }), Collinear, "lower arm ball joint"},
		{"an arm without width", strut(func(c *Corner) { c.Arms[0].Rear = c.Arms[0].Front }), ZeroLength, "lower arm front pivot"},
		{"a tie rod without length", strut(func(c *Corner) { c.Rods[0].Outer = c.Rods[0].Inner }), ZeroLength, "tie rod outer"},
		{"the right side's top mount", strut(func(c *Corner) { c.Strut.Top.Y = -c.Strut.Top.Y }), OtherSide, "top mount"},
		{"the right side's wheel", strut(func(c *Corner) { c.Wheel.Centre.Y = -c.Wheel.Centre.Y }), OtherSide, "wheel centre"},
		{"metres for millimetres", strut(func(c *Corner) { c.Rods[0].Inner = mm(-130e3, 340e3, 300e3) }), MixedUnits, "tie rod inner"},
		{"inches for millimetres", strut(func(c *Corner) { c.Arms[0].Ball = mm(5/25.4, 700/25.4, 220/25.4) }), MixedUnits, "lower arm ball joint"},
		{"top mount below the wheel", strut(func(c *Corner) { c.Strut.Top.Z = 0.2 }), TopUnder, "top mount"},
		{"a rod far too short", strut(func(c *Corner) { c.Rods[0].Length = 0.030 }), NotClosed, "tie rod outer"},
		{"no tie rod", strut(func(c *Corner) { c.Rods = nil }), WrongCount, "links"},
		{"a strut without a strut", strut(func(c *Corner) { c.Strut = nil }), NotAPart, "strut"},
		{"a wheel of no size", strut(func(c *Corner) { c.Wheel.Radius = 0 }), BadRadius, "wheel"},
		{"a spring on an arm that is not there", strut(func(c *Corner) {
			c.Spring = &Element{Top: mm(0, 500, 700), Low: mm(0, 550, 300), On: "upper arm"}
		}), UnknownPart, "upper arm"},
		{"two rods in one line with the arm", func() (*Linkage, error) {
			c := fiveLinkCorner()
			c.Rods[1].Outer, c.Rods[1].Inner = c.Rods[0].Outer, c.Rods[0].Inner
			c.Spring.On = ""
			return NewCorner(c)
		}, Undetermined, "front lower"},
		{"a trailing arm without an axis", func() (*Linkage, error) {
			c := trailingCorner()
			c.Pivots.Outer = c.Pivots.Inner
			return NewCorner(c)
		}, ZeroLength, "inner pivot"},
		{"a beam whose shear centre is off the middle", func() (*Linkage, error) {
			c := twistBeam()
			c.Shear.Y = 0.1
			return NewBeam(c)
		}, NotInMiddle, "shear centre"},
		{"an axle on three links", func() (*Linkage, error) {
			c := liveAxle()
			c.Rods = c.Rods[:3]
			return NewAxle(c)
		}, WrongCount, "rods"},
	} {
		_, err := c.make()
		var f *FaultError
		if !errors.As(err, &f) {
			t.Errorf("%s: %v", c.what, err)
			continue
		}
		if !slices.ContainsFunc(f.Faults, func(f Fault) bool {
			return f.Code == c.code && slices.ContainsFunc(f.Points, func(p string) bool { return strings.Contains(p, c.point) })
		}) {
			t.Errorf("%s: %v; wanted %s at %s", c.what, err, c.code, c.point)
		}
	}
}

// A linkage ends where its links lie in line: the solver comes to it within the
// smallest step and names the links.
func TestLockIsFound(t *testing.T) {
	c := strutCorner()
	l, err := NewCorner(c)
	if err != nil {
		t.Fatal(err)
	}
	high := l.Locked(Parallel, 2, 0)
	low := l.Locked(Parallel, -2, 0)
	if high == nil || low == nil {
		t.Fatalf("a strut moves by 2 m: %v, %v", high, low)
	}
	for _, lock := range []*LockError{high, low} {
		if _, err := l.Figures(Parallel, lock.Reached, 0); err != nil {
			t.Errorf("the linkage has no position where it was said to end: %v", err)
		}
		var e *LockError
		past := lock.Reached + math.Copysign(1e-4, lock.Reached)
		if _, err := l.Figures(Parallel, past, 0); !errors.As(err, &e) {
			t.Errorf("0.1 mm past its end at %g m the linkage has a position", lock.Reached)
		}
		if len(lock.Points) == 0 {
			t.Error("the lock names no points")
		}
	}
	curves, err := l.Sweep(Parallel, Travels(-1.5, 1.5, 301), 0)
	if err != nil || curves.High == nil || curves.Low == nil || len(curves.Points) >= 301 {
		t.Errorf("a sweep past both ends: %d points, %v", len(curves.Points), err)
	}
	// A trailing arm of known length ends where it hangs straight down.
	straight := Corner{
		Kind:   TrailingArm,
		Wheel:  Wheel{Centre: mm(-400, 700, 300), Radius: 0.3},
		Pivots: &Pivots{Inner: mm(0, 300, 300), Outer: mm(0, 600, 300)},
	}
	arm, err := NewCorner(straight)
	if err != nil {
		t.Fatal(err)
	}
	lock := arm.Locked(Parallel, -0.6, 0)
	if lock == nil || math.Abs(lock.Reached+0.4) > 2e-6 {
		t.Errorf("an arm of 400 mm ends at %v", lock)
	}
}

func TestSteeringWithoutRack(t *testing.T) {
	l, err := NewCorner(trailingCorner())
	if err != nil {
		t.Fatal(err)
	}
	if _, err := l.Figures(Parallel, 0, 0.01); err == nil {
		t.Error("a trailing arm steers")
	}
	if _, err := l.Sweep(Parallel, []float64{0, math.NaN()}, 0); err == nil {
		t.Error("a travel that is no number is swept")
	}
}
