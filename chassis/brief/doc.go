// Package brief holds what a car is wanted for: uses, roads with their speeds
// and loads, events, the limits the workshop chose, and the build the others
// are compared with.
//
// In: what the job says. Out: plain values, each with the place it was typed.
// It does not compute anything and knows neither parts nor a car; load states
// and builds are named by their id.
package brief

import "trunnion/chassis/figure"

// Input is a number as given, with its band and origin.
type Input = figure.Input

// Brief is what the results are judged by.
type Brief struct {
	Reference string // id of the build that the others are compared with
	UsualLoad string // id of the load state of ordinary driving; the other ones count as laden
	Uses      []Use
	Roads     []Road
	Events    []Event
	Limits    Limits
}

// Use is a share of the car's life.
type Use struct {
	Name  string
	Share Input // of all driving [-]
}

// Road is a road driven at some speeds in one load state.
type Road struct {
	Name   string
	Speeds []Input // [m/s]
	Load   string  // id of the load state
}

// Event is one obstacle, passed at a speed in one load state.
type Event struct {
	Kind   string // pothole, round-hump, flat-hump, kerb, joint, crest, dip
	Depth  Input  // below the road, of what goes down [m]
	Height Input  // over the road, of what goes up [m]
	Length Input  // along the road [m]
	Speed  Input  // of the car [m/s]
	Load   string // id of the load state
}

// Limits are what the workshop wants kept. One that is not known was not
// chosen.
type Limits struct {
	BumpLeft      Input // at the wheel to the touch of the stop, in the usual load state [m]
	BumpLeftLaden Input // the same in every other load state [m]
	FirmLeft      Input // at the wheel until the stop carries half the static corner load [m]
	DroopLeft     Input // at the wheel until the damper is fully open [m]
	SpringLoose   Input // of the spring in its seats with the damper fully open, at the spring [m]
	BlockLeft     Input // at the spring until its coils touch, with the stop solid [m]
	StopForce     Input // of a stop over the events of the brief, along the damper [N]
	StopHit       Input // of a stop on a road, along the damper, from which a hit counts [N]
	ArchLeft      Input // at the wheel between the solid stop and the arch [m]
	CrossOff      Input // share of the weight that a diagonal may be off half [-]
	SideToSide    Input // how much lower one side of an axle may stand [m]
	Rake          Input // how far a build may be pitched from the baseline, either way [rad]
}
