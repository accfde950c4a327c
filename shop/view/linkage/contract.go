package linkage

import (
	"trunnion/shop/jobfile"
	"trunnion/shop/view"
)

// Request is a job with changes, an axle of it, and how it is moved.
type Request struct {
	view.TryRequest
	Axle   string `json:"axle" enum:"front,rear"`
	Mode   string `json:"mode,omitempty" enum:"parallel,opposite,single" doc:"how the other wheel moves; with this one without"`
	Build  string `json:"build,omitempty" maxLength:"100" doc:"whose ends of travel are marked; the reference without"`
	Rack   string `json:"rack,omitempty" maxLength:"40" doc:"rack moved to the left by, as typed"`
	Lower  string `json:"lower,omitempty" maxLength:"40" doc:"car lower by, as typed"`
	Offset string `json:"offset,omitempty" maxLength:"40" doc:"wheel further out by, as typed"`
	Plate  string `json:"plate,omitempty" maxLength:"40" doc:"top mount inward by, as typed"`
	Longer string `json:"longer,omitempty" maxLength:"40" doc:"arm longer by, as typed"`
}

// View is an axle's linkage at every travel of its wheel.
type View struct {
	Ms      int               `json:"ms"`
	Units   string            `json:"units" enum:"metric,imperial,mixed"`
	Axle    string            `json:"axle" enum:"front,rear"`
	Kind    string            `json:"kind"`
	Mode    string            `json:"mode" enum:"parallel,opposite,single"`
	Steers  bool              `json:"steers"`
	Unit    Units             `json:"unit"`
	Faults  []jobfile.Fault   `json:"faults"`
	Missing []view.Missing    `json:"missing" doc:"what has to be measured first, and what is wrong with the points"`
	Sliders []view.Slider     `json:"sliders"`
	Build   string            `json:"build"`
	Builds  []view.Choice     `json:"builds"`
	Marks   []view.TravelMark `json:"marks"`
	Points  []string          `json:"points" doc:"names of the places of a frame"`
	Lines   []Line            `json:"lines"`
	Wheels  []Wheel           `json:"wheels"`
	Heads   []string          `json:"heads" doc:"names of the figures of a frame"`
	Start   int               `json:"start" doc:"frame at which the build stands, else travel 0"`
	Frames  []Frame           `json:"frames"`
	Charts  []view.ChartGroup `json:"charts"`
	Says    []string          `json:"says"`
	Effects []Effect          `json:"effects"`
	From    string            `json:"from" doc:"where the changes start from"`
	Motions []Motion          `json:"motions"`
	Notes   []string          `json:"notes"`
}

// Units are the units of the plain numbers.
type Units struct {
	Length string `json:"length"`
	Angle  string `json:"angle"`
}

// Line joins two places of a frame.
type Line struct {
	From int    `json:"from"`
	To   int    `json:"to"`
	Kind string `json:"kind" enum:"arm,rod,strut,spring,damper,carrier"`
	Name string `json:"name"`
}

// Wheel is a wheel by its places in a frame.
type Wheel struct {
	Hub     int     `json:"hub"`
	Contact int     `json:"contact"`
	Radius  float64 `json:"radius"`
	Width   float64 `json:"width"`
}

// Frame is where everything stands at one wheel travel: x forward, y to the
// left, z up, in the unit of length.
type Frame struct {
	Travel float64     `json:"travel"`
	Shown  string      `json:"shown"`
	At     [][]float64 `json:"at"`
	Roll   *float64    `json:"roll" nullable:"true" doc:"height of the roll centre, from where z is counted"`
	Values []string    `json:"values" doc:"by the heads"`
	Says   string      `json:"says"`
}

// Effect is what a change does to the wheel where it stands.
type Effect struct {
	Label string   `json:"label"`
	Asked bool     `json:"asked" doc:"it is what was moved"`
	Cells []string `json:"cells" doc:"camber, toe, half-track, roll centre, tie rod"`
	Why   string   `json:"why,omitempty"`
}

// Motion is how spring or damper move by the table and by the points.
type Motion struct {
	Part  string     `json:"part"`
	Text  string     `json:"text"`
	Heads []string   `json:"heads"`
	Rows  [][]string `json:"rows"`
}
