package web

import (
	"trunnion/shop/jobfile"
	"trunnion/shop/view"
)

// CornerRequest is a job with changes, and the bend or braking that its builds
// are taken through.
type CornerRequest struct {
	view.TryRequest
	Direction string `json:"direction" enum:"left,right" doc:"of the turn"`
	Driving   string `json:"driving" enum:"cornering,both,braking"`
	Most      string `json:"most,omitempty" maxLength:"40" doc:"acceleration to go to, as typed; 1 g without"`
	Fastest   string `json:"fastest,omitempty" maxLength:"40" doc:"speed up to which steadiness is drawn, as typed; the car's top speed without"`
}

// Corners is what the builds do in a bend or under braking, and how steady they
// are at speed.
type Corners struct {
	Key       string            `json:"key" doc:"for the workings"`
	Ms        int               `json:"ms"`
	Full      bool              `json:"full"`
	Units     string            `json:"units" enum:"metric,imperial,mixed"`
	Load      string            `json:"load"`
	LoadName  string            `json:"loadName"`
	Direction string            `json:"direction" enum:"left,right"`
	Driving   string            `json:"driving" enum:"cornering,both,braking"`
	What      string            `json:"what" doc:"the driving in words"`
	Most      CornerMost        `json:"most"`
	Unit      CornerUnits       `json:"unit"`
	Faults    []jobfile.Fault   `json:"faults"`
	Builds    []CornerBuild     `json:"builds" doc:"the worst first"`
	Frame     CornerFrame       `json:"frame"`
	Charts    []view.ChartGroup `json:"charts"`
	Steady    Steadiness        `json:"steady"`
	Rests     []CornerRests     `json:"rests" doc:"what the answer rests on"`
	Notes     []string          `json:"notes"`
}

// CornerMost is how far the sweep goes, and in what steps.
type CornerMost struct {
	Value   float64       `json:"value"`
	Shown   string        `json:"shown"`
	Choices []view.Choice `json:"choices"`
}

// CornerUnits are the units of the plain numbers.
type CornerUnits struct {
	Acceleration string `json:"acceleration"`
	Angle        string `json:"angle"`
	Length       string `json:"length"`
	Load         string `json:"load"`
}

// CornerFrame is the car's outline, for drawing, in the unit of length.
type CornerFrame struct {
	Wheelbase float64   `json:"wheelbase"`
	Track     []float64 `json:"track" doc:"front and rear"`
	Radius    float64   `json:"radius" doc:"of the wheels"`
	Tyre      float64   `json:"tyre" doc:"width of a tyre"`
	Height    float64   `json:"height" doc:"of the roof"`
	Mass      *float64  `json:"mass" nullable:"true" doc:"height of the sprung mass"`
	Note      string    `json:"note"`
}

// CornerBuild is one build through the sweep.
type CornerBuild struct {
	Build     string         `json:"build"`
	Name      string         `json:"name"`
	Reference bool           `json:"reference"`
	Verdict   string         `json:"verdict" enum:"clear,close,over,no-limit,unknown"`
	Sentence  string         `json:"sentence"`
	Against   string         `json:"against" doc:"the reference build in the same, or nothing"`
	Reached   float64        `json:"reached" doc:"how far it was held"`
	Events    []CornerEvent  `json:"events"`
	Figures   []CornerFigure `json:"figures"`
	Points    []CornerPoint  `json:"points"`
	Choices   []CornerChoice `json:"choices"`
}

// CornerEvent is something that happens on the way.
type CornerEvent struct {
	Kind    string  `json:"kind" enum:"stop,rests,lift,droop,end"`
	Corner  string  `json:"corner,omitempty"`
	At      float64 `json:"at"`
	Text    string  `json:"text"`
	ValueID string  `json:"valueId,omitempty"`
}

// CornerFigure is a figure of a build.
type CornerFigure struct {
	Label string    `json:"label"`
	Cell  view.Cell `json:"cell"`
}

// CornerPoint is the car at one acceleration.
type CornerPoint struct {
	At      float64       `json:"at"`
	Shown   string        `json:"shown"`
	Roll    float64       `json:"roll" doc:"of the body against the ground, right side down positive"`
	Pitch   float64       `json:"pitch" doc:"nose down positive"`
	Lift    []float64     `json:"lift" doc:"of the middle of the body over the front and the rear axle against the car as it was weighed, up positive"`
	Centres []float64     `json:"centres" doc:"roll centres over the ground, front and rear"`
	Rolls   string        `json:"rolls" doc:"roll as text"`
	Dips    string        `json:"dips" doc:"pitch as text"`
	Share   string        `json:"share" doc:"front share of what is moved across, as text"`
	Says    string        `json:"says"`
	Wheels  []CornerWheel `json:"wheels"`
}

// CornerWheel is one wheel at one acceleration.
type CornerWheel struct {
	Load   float64 `json:"load"`
	Loaded string  `json:"loaded"`
	Gap    float64 `json:"gap" doc:"between tyre and ground; 0 on it"`
	Travel string  `json:"travel"`
	State  string  `json:"state" enum:"free,stop,droop,air"`
	Word   string  `json:"word"`
	Camber string  `json:"camber,omitempty" doc:"to the road"`
}

// CornerChoice is something to choose on a build that changes how it corners.
type CornerChoice struct {
	Path    string        `json:"path"`
	Label   string        `json:"label"`
	Value   string        `json:"value"`
	Choices []view.Choice `json:"choices"`
	Hint    string        `json:"hint"`

	// What each choice does, where that was computed for all.
	Title string      `json:"title,omitempty"`
	Heads []string    `json:"heads,omitempty"`
	Rows  []CornerRow `json:"rows,omitempty"`
}

// CornerRow is what one choice does.
type CornerRow struct {
	Name  string   `json:"name"`
	Used  bool     `json:"used"`
	Cells []string `json:"cells"`
}

// CornerRests is an input that the answer rests on and that is not measured.
type CornerRests struct {
	Text string `json:"text"`
	Path string `json:"path"`
}

// Steadiness is how steady the builds are at speed.
type Steadiness struct {
	Speed  view.Speed        `json:"speed" doc:"the fastest of the brief: where builds are compared"`
	Top    view.Speed        `json:"top" doc:"up to which it is drawn"`
	Note   string            `json:"note"`
	Builds []SteadinessBuild `json:"builds" doc:"the least steady first"`
	Charts []view.Chart      `json:"charts"`
}

// SteadinessBuild is one build at speed.
type SteadinessBuild struct {
	Build    string         `json:"build"`
	Name     string         `json:"name"`
	Sentence string         `json:"sentence" doc:"against the reference"`
	Steering string         `json:"steering" doc:"under- or oversteer by the tyres"`
	Figures  []CornerFigure `json:"figures"`
}
