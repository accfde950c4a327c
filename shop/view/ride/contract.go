package ride

import "trunnion/shop/view"

// Floor is what a place on the floor feels.
type Floor struct {
	Name    string `json:"name"`
	Shown   string `json:"shown"`
	Band    string `json:"band"`
	Word    string `json:"word"`
	ValueID string `json:"valueId,omitempty"`
}

// Corner is what a corner does on a road or over an obstacle.
type Corner struct {
	Corner string `json:"corner" enum:"front-left,front-right,rear-left,rear-right"`
	Stop   string `json:"stop"`
	Travel string `json:"travel"`
	Load   string `json:"load"`
}

// Side is one build on a road or over an obstacle.
type Side struct {
	Build   string   `json:"build"`
	Floors  []Floor  `json:"floors"`
	Corners []Corner `json:"corners"`
}

// View is a road or an obstacle, all builds side by side.
type View struct {
	Kind   string       `json:"kind" enum:"road,event"`
	Name   string       `json:"name"`
	Speed  view.Speed   `json:"speed"`
	Speeds []view.Speed `json:"speeds"`
	Load   string       `json:"load"`
	Tier   string       `json:"tier" enum:"static,modes,screening,time"`
	Note   string       `json:"note"`
	State  string       `json:"state" enum:"ok,estimated,outside,unknown"`
	Sides  []Side       `json:"sides"`
	Charts []view.Chart `json:"charts"`
	Trace  bool         `json:"trace"`
}

// TraceUnits are the units of a trace.
type TraceUnits struct {
	Travel string `json:"travel"`
	Stop   string `json:"stop"`
	Seat   string `json:"seat"`
}

// TraceRoad is the road under the wheels of one side.
type TraceRoad struct {
	Front []float64 `json:"front"`
	Rear  []float64 `json:"rear"`
}

// TraceLimits are the ends of a corner's travel.
type TraceLimits struct {
	Open  *float64 `json:"open" nullable:"true"`
	Touch *float64 `json:"touch" nullable:"true"`
	Solid *float64 `json:"solid" nullable:"true"`
	Rest  float64  `json:"rest"`
}

// Trace is one obstacle in time, for the side view. Road, wheel, body, travel,
// wheelbase and speed are in the unit of travel, and that per second.
type Trace struct {
	Dt        float64       `json:"dt" doc:"seconds"`
	Build     string        `json:"build"`
	Side      string        `json:"side" enum:"left,right"`
	Unit      TraceUnits    `json:"unit"`
	Wheelbase float64       `json:"wheelbase"`
	Speed     float64       `json:"speed"`
	Road      TraceRoad     `json:"road"`
	Wheel     [][]float64   `json:"wheel"`
	Body      [][]float64   `json:"body"`
	Travel    [][]float64   `json:"travel"`
	Stop      [][]float64   `json:"stop"`
	Seat      []float64     `json:"seat"`
	Limits    []TraceLimits `json:"limits"`
}
