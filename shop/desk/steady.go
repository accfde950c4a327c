package desk

import (
	"math"

	"trunnion/chassis/car"
	"trunnion/chassis/stability"
	"trunnion/shop/wording"
)

// Steadied is how steady the builds of an answered job are at speed, the car with two
// degrees of freedom.
type Steadied struct {
	At     float64 // where builds are compared: the fastest of the brief [m/s]
	Top    float64 // up to where it is looked at [m/s]
	Builds []SteadyBuild
}

// SteadyBuild is one build at speed, beside what it is compared with.
type SteadyBuild struct {
	Build    *car.Build
	Yaw      *stability.Car
	Pair     *stability.Pair // with the trailer it tows; nil for none
	Critical float64         // infinite where it is stable up to the top [m/s]

	// The other is the reference build in the same load state; for the reference
	// itself, that build in the load state of ordinary driving; nil where there is
	// none, and for a car that tows: a trailer has figures of its own.
	Other         *stability.Car
	OtherCritical float64          // as Critical [m/s]
	Nerves        stability.Nerves // against the other where builds are compared
	usual         string           // load state of the other, where it is the same build
	reference     string
}

// SteadyOf looks at the builds of an answered job at speed in a load state; fastest [m/s]
// goes further than the car's top speed, 0 for that. Builds that do not rest are left out.
func SteadyOf(r *Result, load string, fastest float64) Steadied {
	a := r.Answer
	speeds, top := a.YawSpeeds()
	if len(speeds) == 0 {
		return Steadied{}
	}
	if fastest > 0 {
		top = fastest
	}
	out := Steadied{At: speeds[len(speeds)-1]}
	out.Top = math.Max(top, out.At)
	reference, _ := a.Yaw(a.Reference, load)
	for _, b := range a.Job.Builds {
		yaw, err := a.Yaw(b.ID, load)
		if err != nil {
			continue
		}
		pair, err := a.Pair(b.ID, load)
		if err != nil {
			continue
		}
		one := SteadyBuild{Build: b, Yaw: yaw, Pair: pair, Critical: yaw.Critical(out.Top), Nerves: stability.Nerves{Sharp: math.NaN(), Swings: math.NaN()}, reference: a.Reference}
		switch usual := a.UsualLoad(); {
		case pair != nil:
		case b.ID != a.Reference:
			one.Other = reference
		case usual != load:
			if other, err := a.Yaw(b.ID, usual); err == nil {
				one.Other, one.usual = other, usual
			}
		}
		if one.Other != nil {
			one.OtherCritical = one.Other.Critical(out.Top)
			one.Nerves = yaw.Alike(one.Other, out.At, out.Top)
		}
		out.Builds = append(out.Builds, one)
	}
	return out
}

// Of is a build by its id; nil where it is not among them.
func (s *Steadied) Of(build string) *SteadyBuild {
	for i := range s.Builds {
		if s.Builds[i].Build.ID == build {
			return &s.Builds[i]
		}
	}
	return nil
}

// Says sets a build against the other in a sentence; empty where there is nothing to
// compare.
func (b *SteadyBuild) Says(t *wording.Teller, s *Steadied) string {
	switch stable := math.IsInf(b.Critical, 1) && math.IsInf(b.OtherCritical, 1); {
	case b.Other == nil:
		return ""
	case b.usual == "" && !stable:
		return t.Unsteady(b.reference, b.Critical, b.OtherCritical)
	case b.usual == "":
		return t.Nervous(t.AsBuild(b.reference), s.At, b.Nerves, s.Top)
	case stable:
		return t.Nervous(t.AsLoaded(b.usual), s.At, b.Nerves, s.Top)
	}
	return ""
}
