package jobfile

import (
	"fmt"
	"strings"

	"trunnion/shop/quantity"
)

// Typical is a car of a kind, for a job that begins before anything is known of the car.
type Typical struct {
	ID   string
	Name string // in plain words
	Says string // what its figures rest on

	wheelbase, track ranged // [m]
	mass             ranged // empty, half a tank [kg]
	front            float64
	arch             [2]ranged // hub to arch, front and rear [m]
	spring           [2]ranged // at the spring [N/m]
}

// ranged is a middle and how far 95 of 100 such cars lie from it [SI].
type ranged struct{ middle, half float64 }

// typicals are the kinds, in the order in which they are offered. Middles and ranges are
// common practice, no source: what a tape, scales and spring tester show on such cars.
var typicals = []Typical{
	kind("small-hatchback", "Small hatchback, front engine, front drive", mm(2500, 80), mm(1470, 40), ranged{1080, 130}, 0.62, mm(350, 20), mm(355, 20), perMM(21, 5), perMM(20, 6)),
	kind("family-hatchback", "Family hatchback, front engine, front drive", mm(2640, 70), mm(1540, 40), ranged{1320, 130}, 0.60, mm(360, 20), mm(362, 20), perMM(25, 6), perMM(26, 8)),
	kind("estate", "Estate, front engine, front drive", mm(2720, 80), mm(1560, 40), ranged{1480, 150}, 0.58, mm(362, 20), mm(368, 20), perMM(27, 6), perMM(36, 12)),
	kind("saloon-rear-drive", "Saloon, front engine, rear drive", mm(2800, 90), mm(1550, 40), ranged{1560, 160}, 0.52, mm(358, 20), mm(362, 20), perMM(30, 8), perMM(50, 18)),
	kind("roadster", "Roadster, front engine, rear drive", mm(2320, 70), mm(1440, 40), ranged{1080, 120}, 0.515, mm(330, 20), mm(335, 20), perMM(26, 7), perMM(22, 7)),
	kind("mid-engine", "Two-seater, engine before the rear axle", mm(2450, 80), mm(1500, 50), ranged{1330, 150}, 0.42, mm(335, 20), mm(345, 20), perMM(32, 8), perMM(45, 14)),
	kind("rear-engine", "Coupe, engine behind the rear axle", mm(2380, 70), mm(1470, 50), ranged{1350, 150}, 0.39, mm(340, 20), mm(350, 20), perMM(28, 8), perMM(55, 18)),
	kind("small-van", "Small van, front engine, front drive, empty", mm(2750, 100), mm(1520, 40), ranged{1350, 160}, 0.60, mm(375, 25), mm(390, 25), perMM(27, 7), perMM(40, 14)),
	kind("four-wheel-drive", "High car, front engine, four-wheel drive", mm(2680, 100), mm(1570, 40), ranged{1750, 200}, 0.54, mm(430, 30), mm(440, 30), perMM(35, 9), perMM(45, 15)),
}

func mm(middle, half float64) ranged {
	return ranged{middle * quantity.Millimetre, half * quantity.Millimetre}
}

// perMM is a rate in newtons per millimetre.
func perMM(middle, half float64) ranged {
	return ranged{middle / quantity.Millimetre, half / quantity.Millimetre}
}

func kind(id, name string, wheelbase, track, mass ranged, front float64, archFront, archRear, springFront, springRear ranged) Typical {
	return Typical{
		ID: id, Name: name, Says: typicalBasis, wheelbase: wheelbase, track: track, mass: mass, front: front,
		arch: [2]ranged{archFront, archRear}, spring: [2]ranged{springFront, springRear},
	}
}

// Typicals are the kinds of car that a job can begin from.
func Typicals() []Typical { return append([]Typical(nil), typicals...) }

// FindTypical is the kind of an id.
func FindTypical(id string) (Typical, error) {
	var ids []string
	for _, t := range typicals {
		if t.ID == id {
			return t, nil
		}
		ids = append(ids, t.ID)
	}
	return Typical{}, fmt.Errorf("“%s” is no kind of car: %s", id, strings.Join(ids, ", "))
}

// Told are its figures, each as an estimate with its range, as they are typed.
func (t *Typical) Told() Told {
	text := func(r ranged, kind quantity.Kind, digits int) string {
		u := quantity.Shown(kind, quantity.Metric)
		return "est " + u.Format(r.middle, digits) + " ± " + u.Format(r.half, digits)
	}
	corner := func(share float64) string {
		return text(ranged{0.5 * share * t.mass.middle, 0.5 * share * t.mass.half}, quantity.Mass, 0)
	}
	return Told{
		Car: t.Name, Wheelbase: text(t.wheelbase, quantity.Length, 0), Track: text(t.track, quantity.Length, 0),
		LoadFrontLeft: corner(t.front), LoadFrontRight: corner(t.front), LoadRearLeft: corner(1 - t.front), LoadRearRight: corner(1 - t.front),
		ArchFront: text(t.arch[0], quantity.Length, 0), ArchRear: text(t.arch[1], quantity.Length, 0),
		SpringFront: text(t.spring[0], quantity.Stiffness, 0), SpringRear: text(t.spring[1], quantity.Stiffness, 0),
	}
}

// Fill puts a typical car's figures where nothing was told. The typical car is named in
// the job, so that nobody takes its figures for the car's own.
func (f *Told) Fill(t *Typical) {
	from := t.Told()
	for _, one := range []struct{ to, from *string }{
		{&f.Car, &from.Car},
		{&f.Wheelbase, &from.Wheelbase},
		{&f.Track, &from.Track},
		{&f.LoadFrontLeft, &from.LoadFrontLeft},
		{&f.LoadFrontRight, &from.LoadFrontRight},
		{&f.LoadRearLeft, &from.LoadRearLeft},
		{&f.LoadRearRight, &from.LoadRearRight},
		{&f.ArchFront, &from.ArchFront},
		{&f.ArchRear, &from.ArchRear},
		{&f.SpringFront, &from.SpringFront},
		{&f.SpringRear, &from.SpringRear},
	} {
		if strings.TrimSpace(*one.to) == "" {
			*one.to = *one.from
		}
	}
	f.Typical = t.Name
}
