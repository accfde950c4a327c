package struts

import (
	"trunnion/shop/jobfile"
	"trunnion/shop/view"
)

// Request is a job with changes, an axle of it, and what its struts are put
// under.
type Request struct {
	view.TryRequest
	Axle    string `json:"axle" enum:"front,rear"`
	Case    string `json:"case,omitempty" maxLength:"80" doc:"whose forces are drawn; standing without"`
	Offset  string `json:"offset,omitempty" maxLength:"40" doc:"wheel further out by, as typed"`
	Longer  string `json:"longer,omitempty" maxLength:"40" doc:"arm longer by, as typed"`
	Lower   string `json:"lower,omitempty" maxLength:"40" doc:"car lower by, as typed"`
	Heavier string `json:"heavier,omitempty" maxLength:"40" doc:"loads higher by, as typed in %"`
	Lateral string `json:"lateral,omitempty" maxLength:"40" doc:"acceleration in the bend, as typed"`
	Braking string `json:"braking,omitempty" maxLength:"40" doc:"deceleration, as typed"`
}

// View are the struts of an axle, build by build, at every travel of the wheel.
type View struct {
	Key      string          `json:"key" doc:"for the workings"`
	Ms       int             `json:"ms"`
	Full     bool            `json:"full"`
	Units    string          `json:"units" enum:"metric,imperial,mixed"`
	Axle     string          `json:"axle" enum:"front,rear"`
	Kind     string          `json:"kind" doc:"of the suspension"`
	Load     string          `json:"load"`
	LoadName string          `json:"loadName"`
	Loaded   string          `json:"loaded" doc:"left or right: the side whose figures stand for both, the struts of every build being alike; empty where a build has two"`
	Unit     Units           `json:"unit"`
	Faults   []jobfile.Fault `json:"faults"`
	Missing  []view.Missing  `json:"missing" doc:"what has to be measured first"`
	Sliders  []view.Slider   `json:"sliders"`
	Cases    []view.Choice   `json:"cases"`
	Case     string          `json:"case"`
	CaseName string          `json:"caseName"`
	CaseNote string          `json:"caseNote"`
	Points   []string        `json:"points" doc:"names of the places of a frame"`
	Forces   []Force         `json:"forces"`
	Heads    []string        `json:"heads" doc:"names of the figures of a frame"`
	Most     float64         `json:"most" doc:"greatest force of all, for the arrows"`
	Wheel    Wheel           `json:"wheel"`
	Frames   []Frame         `json:"frames"`
	Builds   []Build         `json:"builds"`
	Figures  []Figure        `json:"figures"`
	Charts   []view.Chart    `json:"charts"`
	Drawn    string          `json:"drawn" doc:"what is to scale and what is a sketch"`
	Costs    string          `json:"costs,omitempty" doc:"of inversion, where a build has it"`
	Notes    []string        `json:"notes"`
	Mounts   Mounts          `json:"mounts"`
}

// Units are the units of the plain numbers.
type Units struct {
	Length string `json:"length"`
	Force  string `json:"force"`
}

// Force is a force and the place it acts at: one of the points, or the guide
// or lower bearing of the build.
type Force struct {
	ID    string `json:"id" enum:"contact,spring,top,guide,lower,ball,tie"`
	Place string `json:"place"`
}

// Wheel is the wheel and tyre, in the unit of length.
type Wheel struct {
	Radius float64 `json:"radius"`
	Width  float64 `json:"width"`
}

// Frame is where everything stands at one wheel travel, drawn as on the left: x forward,
// y to the left, z up, in the unit of length.
type Frame struct {
	Travel float64     `json:"travel"`
	Shown  string      `json:"shown"`
	At     [][]float64 `json:"at"`
}

// Build is one build's strut.
type Build struct {
	Build     string            `json:"build"`
	Name      string            `json:"name"`
	Reference bool              `json:"reference"`
	Inverted  bool              `json:"inverted"`
	How       string            `json:"how" doc:"its construction in words"`
	Forces    []string          `json:"forces" doc:"names of the forces"`
	Says      []string          `json:"says" doc:"what gives out first"`
	Marks     []view.TravelMark `json:"marks"`
	Loaded    string            `json:"loaded,omitempty" doc:"what the road presses the wheel with in the case"`
	Frame     int               `json:"frame" doc:"where the wheel stands in the case"`
	Section   Section           `json:"section"`
	Now       []Now             `json:"now" doc:"frame by frame"`
	Changes   []Change          `json:"changes"`
	Straight  string            `json:"straight,omitempty" doc:"how a spring would leave no side load"`
}

// Section are a strut's diameters and lengths, in the unit of length.
type Section struct {
	Sliding     float64 `json:"sliding" doc:"diameter of rod or inverted body"`
	Bore        float64 `json:"bore"`
	Lower       float64 `json:"lower" doc:"diameter of piston or lower bush"`
	Guide       float64 `json:"guide" doc:"length of guide or upper bush"`
	LowerLength float64 `json:"lowerLength"`
	Tube        float64 `json:"tube" doc:"outer diameter of the outer tube"`
	Rod         float64 `json:"rod" doc:"inner rod of an inverted strut"`
	BodyEnd     float64 `json:"bodyEnd" doc:"end of an inverted body, from the top mount"`
	Coil        float64 `json:"coil" doc:"outer diameter of the spring"`
	Below       float64 `json:"below" doc:"of the outer tube under the place at the carrier"`
	Shown       string  `json:"shown" doc:"all of it in words"`
}

// Now is one build's strut at one frame. Distances are along its axis from
// the top mount.
type Now struct {
	OK      bool        `json:"ok"`
	Why     string      `json:"why,omitempty"`
	Guide   []float64   `json:"guide" doc:"place of the guide"`
	Lower   []float64   `json:"lower" doc:"place of the lower bearing"`
	Over    float64     `json:"over"`
	To      float64     `json:"to"`
	Axis    float64     `json:"axis" doc:"to the carrier"`
	Seat    *float64    `json:"seat" nullable:"true" doc:"lower end of the spring"`
	Stop    []float64   `json:"stop" doc:"from and to; empty for none"`
	Forces  [][]float64 `json:"forces"`
	Shown   []string    `json:"shown"`
	Figures []string    `json:"figures"`
}

// Figure is one figure over all cases and builds.
type Figure struct {
	ID    string   `json:"id"`
	Label string   `json:"label"`
	Cases [][]Cell `json:"cases" doc:"case by case, in the order of the cases that a build has, build by build"`
}

// Cell is a figure of one build in one case.
type Cell struct {
	Text    string `json:"text"`
	Band    string `json:"band,omitempty" doc:"95 % of the draws, in brackets"`
	Against string `json:"against" doc:"the reference"`
	Was     string `json:"was" doc:"what it is as it stands, where something was moved"`
	Limit   string `json:"limit"`
	Why     string `json:"why,omitempty" doc:"there is none"`
}

// Change is a change that workshops make, tried.
type Change struct {
	Case  string   `json:"case"`
	Label string   `json:"label"`
	Cells []string `json:"cells" doc:"by StrutMounts' heads"`
}

// Mounts are what passes through the upper mounts.
type Mounts struct {
	Heads []string   `json:"heads" doc:"of the changes"`
	Kinds []string   `json:"kinds" doc:"what mount each build has"`
	Names []string   `json:"names" doc:"of the builds"`
	Rows  []MountRow `json:"rows"`
	Notes []string   `json:"notes"`
}

// MountRow is a figure of the mounts, build by build.
type MountRow struct {
	Label string      `json:"label"`
	Where string      `json:"where"`
	Cells []view.Cell `json:"cells"`
}
