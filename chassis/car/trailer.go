package car

import "math"

// CouplingShare is what a loaded trailer is taken to put on the coupling where
// nobody weighed it, as a share of its mass, with the half-width of its band:
// common practice, no source.
const CouplingShare, couplingShareHalf = 0.06, 0.03 // [-]

// towingSpeed is the speed at which a trailer is taken to be towed where nobody
// said: common practice, no source; what is allowed differs by country. [m/s]
const towingSpeed = 25.0

// gyration is a loaded trailer's radius of gyration in yaw over the length of its
// body: an even rod has 0.289, and what is heavy is stowed over the axle. Common
// practice, no source. [-]
const gyration = 0.28

// FillTrailers puts an estimate, marked as one, in the place of what is missing of
// the trailers.
func FillTrailers(loads []Load) []Filled {
	var f filler
	for i := range loads {
		t := loads[i].Trailer
		if t == nil || !t.Mass.Known() {
			continue
		}
		path := "loads." + loads[i].ID + ".trailer"
		m := t.Mass.Value
		f.put(&loads[i].Items[t.Nose].Mass, path+".coupling_load", CouplingShare*m, couplingShareHalf*m, "6 ± 3 % of the trailer's mass: common practice, no source")
		f.put(&t.Speed, path+".speed", towingSpeed, 0, "25 m/s: common practice, no source")
		if t.BodyLength.Known() {
			inertia := m * math.Pow(gyration*t.BodyLength.Value, 2)
			f.put(&t.YawInertia, path+".yaw_inertia", inertia, 0.3*inertia, "radius of gyration of 0.28 of the body's length, ± 30 % on the inertia: common practice, no source")
		}
	}
	return f.list
}
