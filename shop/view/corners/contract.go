package corners

import (
	"trunnion/shop/jobfile"
	"trunnion/shop/view"
)

// Request is a job with changes, and the bend or braking that its builds
// are taken through.
type Request struct {
	view.TryRequest
	Direction string `json:"direction" enum:"left,right" doc:"of the turn"`
	Driving   string `json:"driving" enum:"cornering,both,braking"`
	Most      string `json:"most,omitempty" maxLength:"40" doc:"acceleration to go to, as typed; 1 g without"`
	Fastest   string `json:"fastest,omitempty" maxLength:"40" doc:"speed up to which steadiness is drawn, as typed; the car's top speed without"`
}

// View is what the builds do in a bend or under braking, and how steady they
// are at speed.
type View struct {
	Key       string            `json:"key" doc:"for the workings"`
	Ms        int               `json:"ms"`
	Full      bool              `json:"full"`
	Units     string            `json:"units" enum:"metric,imperial,mixed"`
	Load      string            `json:"load"`
	LoadName  string            `json:"loadName"`
	Direction string            `json:"direction" enum:"left,right"`
	Driving   string            `json:"driving" enum:"cornering,both,braking"`
	What      string            `json:"what" doc:"the driving in words"`
	Most      Most              `json:"most"`
	Unit      Units             `json:"unit"`
	Faults    []jobfile.Fault   `json:"faults"`
	Builds    []Build           `json:"builds" doc:"the worst first"`
	Frame     Frame             `json:"frame"`
	Charts    []view.ChartGroup `json:"charts"`
	Steady    Steadiness        `json:"steady"`
	Rests     []Rests           `json:"rests" doc:"what the answer rests on"`
	Notes     []string          `json:"notes"`
}

// Most is how far the sweep goes, and in what steps.
type Most struct {
	Value   float64       `json:"value"`
	Shown   string        `json:"shown"`
	Choices []view.Choice `json:"choices"`
}

// Units are the units of the plain numbers.
type Units struct {
	Acceleration string `json:"acceleration"`
	Angle        string `json:"angle"`
	Length       string `json:"length"`
	Load         string `json:"load"`
}

// Frame is the car's outline, for drawing, in the unit of length.
type Frame struct {
	Wheelbase float64   `json:"wheelbase"`
	Track     []float64 `json:"track" doc:"front and rear"`
	Radius    float64   `json:"radius" doc:"of the wheels"`
	Tyre      float64   `json:"tyre" doc:"width of a tyre"`
	Height    float64   `json:"height" doc:"of the roof"`
	Mass      *float64  `json:"mass" nullable:"true" doc:"height of the sprung mass"`
	Note      string    `json:"note"`
}

// Build is one build through the sweep.
type Build struct {
	Build     string   `json:"build"`
	Name      string   `json:"name"`
	Reference bool     `json:"reference"`
	Verdict   string   `json:"verdict" enum:"clear,close,over,no-limit,unknown"`
	Sentence  string   `json:"sentence"`
	Against   string   `json:"against" doc:"the baseline in the same, or nothing"`
	Reached   float64  `json:"reached" doc:"how far it was held"`
	Events    []Event  `json:"events"`
	Figures   []Figure `json:"figures"`
	Points    []Point  `json:"points"`
	Choices   []Choice `json:"choices"`
}

// Event is something that happens on the way.
type Event struct {
	Kind    string  `json:"kind" enum:"stop,rests,lift,droop,end"`
	Corner  string  `json:"corner,omitempty"`
	At      float64 `json:"at"`
	Text    string  `json:"text"`
	ValueID string  `json:"valueId,omitempty"`
}

// Figure is a figure of a build.
type Figure struct {
	Label string    `json:"label"`
	Cell  view.Cell `json:"cell"`
}

// Point is the car at one acceleration.
type Point struct {
	At      float64   `json:"at"`
	Shown   string    `json:"shown"`
	Roll    float64   `json:"roll" doc:"of the body against the ground, right side down positive"`
	Pitch   float64   `json:"pitch" doc:"nose down positive"`
	Lift    []float64 `json:"lift" doc:"of the middle of the body over the front and the rear axle against the car as it was weighed, up positive"`
	Centres []float64 `json:"centres" doc:"roll centres over the ground, front and rear"`
	Rolls   string    `json:"rolls" doc:"roll as text"`
	Dips    string    `json:"dips" doc:"pitch as text"`
	Share   string    `json:"share" doc:"front share of the lateral load transfer, as text"`
	Says    string    `json:"says"`
	Wheels  []Wheel   `json:"wheels"`
}

// Wheel is one wheel at one acceleration.
type Wheel struct {
	Load   float64 `json:"load"`
	Loaded string  `json:"loaded"`
	Gap    float64 `json:"gap" doc:"between tyre and ground; 0 on it"`
	Travel string  `json:"travel"`
	State  string  `json:"state" enum:"free,stop,droop,air"`
	Word   string  `json:"word"`
	Camber string  `json:"camber,omitempty" doc:"to the road"`
}

// Choice is something to choose on a build that changes how it corners.
type Choice struct {
	Path    string        `json:"path"`
	Label   string        `json:"label"`
	Value   string        `json:"value"`
	Choices []view.Choice `json:"choices"`
	Hint    string        `json:"hint"`

	// What each choice does, where that was computed for all.
	Title string   `json:"title,omitempty"`
	Heads []string `json:"heads,omitempty"`
	Rows  []Row    `json:"rows,omitempty"`
}

// Row is what one choice does.
type Row struct {
	Name  string   `json:"name"`
	Used  bool     `json:"used"`
	Cells []string `json:"cells"`
}

// Rests is an input that the answer rests on and that is not measured.
type Rests struct {
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
	Build    string   `json:"build"`
	Name     string   `json:"name"`
	Sentence string   `json:"sentence" doc:"against the reference"`
	Steering string   `json:"steering" doc:"under- or oversteer by the tyres"`
	Figures  []Figure `json:"figures"`
}
